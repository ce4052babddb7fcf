// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/design/design.h"
#include "lidwright/report/html.h"
#include "lidwright/report/remarks.h"

// The parts of the report's page, in the order in which they stand there. Each returns markup, or
// nothing where the design has nothing to say.
namespace lidwright {

/// Does it clear, by how much and where, how exact the holes, what to buy; or why there is no hinge
/// and what would let one in.
std::string AnswerPart(const Design& design, const PartsFound& found);

/// The rest in short, by word: how the lid feels, does it stay and hold, what about the making is
/// to be looked at again. What is behind each remark stands in the parts that follow.
std::string GlancePart(const Design& design);

/// How the lid will feel and whether it holds; how exactly it must be made: pass or warn, by word.
std::string FeelPart(const Design& design);
std::string AccuracyPart(const Design& design);

/// Where people can be hurt by a hinge; nothing without one.
std::string WatchPart(const Design& design);

/// The frame for the swing: figures, slider, buttons; the page's script fills it. Without a hinge
/// the nearest linkage found swings there, with what it misses.
std::string SwingPart(const Design& design);

/// One requirement as an item of a list of class "proofs": word, what, asked, found, where, and a
/// button that shows it in the swing where it is one of the hinge's own, by its index there.
std::string VerdictRow(const Verdict& verdict, std::optional<std::size_t> index, bool inches);

/// Every requirement (RequirementsOf): what is asked, what was found, where.
std::string ProofPart(const Design& design);

/// The hinges side by side.
std::string ChoicePart(const Design& design);

/// Would a plain hinge do, with its map.
std::string PlainPart(const Design& design);

/// The hinge's parts: do they all go, the list, what to saw and what to have at hand.
std::string PartsPart(const Design& design, const PartsFound& found);

/// Remarks as a list, what stands before as a paragraph.
std::string MarkedList(const Remarks& remarks);

/// Where the pivots go and what the arms are.
std::string MarkingPart(const Design& design);

/// The files beside the report; the job and the version.
std::string FilesPart(const ReportLinks& links);
std::string JobPart(const Design& design, const ReportLinks& links);

}  // namespace lidwright
