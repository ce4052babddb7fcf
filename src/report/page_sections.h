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

/// How the lid will feel and whether it holds; how exactly it must be made: pass or warn, by word.
std::string FeelPart(const Design& design);
std::string AccuracyPart(const Design& design);

/// Where people can be hurt by a hinge; nothing without one.
std::string WatchPart(const Design& design);

/// What stands in the way of a hinge, with its number where it has one. Requires `none`.
std::string InTheWay(const Design& design);

/// The first screen: does it clear, in a sentence; the swing; how heavy, what room, which hinge,
/// each with its exact figure a tap away; at most kMostRisks risks (RisksOf), each with its remedy.
/// Of every hinge, those that are not chosen hidden; without one, why and what would let one in.
std::string HeadPart(const Design& design);

/// The swing's figure with its slider, which the page's script fills; without a hinge the nearest
/// linkage found swings there. And what belongs to it: hinge and slice to choose, the legend.
std::string SeePart(const Design& design);
std::string MorePart(const Design& design);

/// Curves by angle and the solid, with the slider once more.
std::string LookPart(const Design& design);

/// What the nearest linkage misses, where there is no hinge.
std::string MissedPart(const Design& design);

/// One requirement as an item of a list of class "proofs": word, what, asked, found, where, and a
/// button that shows it in the swing where it is one of the hinge's own, by its index there.
std::string VerdictRow(const Verdict& verdict, std::optional<std::size_t> index, bool inches);

/// Every requirement (RequirementsOf): what is asked, what was found, where.
std::string ProofPart(const Design& design);

/// The hinges side by side: pictures, what each is best at, the figures that decide between them,
/// the command that has it drawn, for the job in `job_file` (empty: whatever it is called).
std::string ChoicePart(const Design& design, const std::string& job_file);

/// What a hinge is best at, in a sentence or two; nothing if it is at nothing.
std::string PraiseOf(const Design& design, std::size_t number);

/// Would a plain hinge do: the lid on one beside the hidden hinge, and the map of its pins.
std::string PlainPart(const Design& design);

/// The order of work (WorkSteps) with a box to tick at each step, and what to measure there.
std::string BenchPart(const Design& design, const PartsFound& found);

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
