// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/cutting/cutter_check.h"
#include "lidwright/design/correction.h"
#include "lidwright/design/design.h"

namespace lidwright {

/// What a design came to, for a terminal and for summary.txt: the plain hinge's verdict, what
/// clears and where it is tightest, the hinges with their trade-offs, pivots, arms, cautions; or
/// why there is no hinge and what would let one in. Lengths in the job's unit.
std::string SummaryText(const Design& design, const std::vector<CutFault>& cut_faults = {});

/// Beside the report, the job with the way out of that number, from 1 on: "remedy_1.json".
std::string RemedyFile(int number);

/// That all requirements are met; or which are not, with what was found and where.
std::string UnmetText(const Hinge& hinge, const Job& job);
/// One requirement that is not met: what, how much is asked and found, and where.
std::string UnmetLine(const Verdict& verdict, bool inches);

/// The verdicts on one hinge as a table: what is asked, what was found, where, pass or FAIL by
/// word; then UnmetText.
std::string VerdictTable(const Hinge& hinge, const Job& job);

/// Which pivot to move where, or that none is known, as a sentence.
std::string CorrectionText(const CorrectionSearch& sought, const Job& job);

}  // namespace lidwright
