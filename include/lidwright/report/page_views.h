// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/certify/assembly.h"
#include "lidwright/design/design.h"
#include "lidwright/job/json_lines.h"

// The report's page in pieces, for the mock-up, which shows the same views while they change: one
// source, one look.
namespace lidwright {

/// Style of the page.
std::string PageStyle();

/// The page's scripts with `more` at their end, in the same scope: it may use what they declare
/// (takeData, state, section, curves, solid …). They find their data in the element "data".
std::string PageScript(const std::string& more);

/// What the scripts know before there are hinges: units, rules of rounding, box, looks.
Json PageData(const Job& job, const Solid& solid);

/// What they know of one hinge: see page_data.h. Poses and curves `step_rad` apart. `box` is the
/// box's assembly, made once (BoxAssembly); its gaps are those of the certifier. Lengths in mm,
/// angles in rad.
Json HingeData(const Job& job, const Solid& solid, const Assembly& box, const Hinge& hinge,
               double step_rad);

/// The swing's frame with all of its controls, whether there is a hinge yet or not, and `below`
/// under the section.
std::string SwingFrame(const std::string& below);

/// One requirement an item of a list of class "proofs", as the report has them.
std::string VerdictList(const Verdicts& verdicts, bool inches);

/// The report's parts on a design as markup: its answer, what was asked and found, how the lid
/// feels, where it can hurt; the hinges side by side. Empty where there is nothing to say.
struct DesignMarkup {
  std::string answer, proofs, feel, watch, choices;
};
DesignMarkup MarkupOf(const Design& design);

/// What the design's first hinge misses first, or what stands in the way of one, with its number:
/// a clause without capital and full stop; empty where the hinge does.
std::string WhatFails(const Design& design);

/// What stands before all else where a plain hinge does, whether a hidden one was found or not;
/// empty where none does, or where none was looked for.
std::string PlainHingeFirst(const Design& design);

/// "clear", "violated", "undecided".
std::string OutcomeWord(Outcome outcome);

}  // namespace lidwright
