// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/design/make_design.h"

namespace lidwright {

/// The work on a job whose arms' sizes are left open as far as the job does not fix them.
///
/// First with thin aluminium straps. If the first hinge's parts do not bear a hand that moves the
/// lid and somebody who leans on it, sheet, width, bushing and plates are chosen from what shops
/// sell, metric or inch as the job is: from what the parts bear the arms that would hold are
/// foretold (bent, a strap's strength goes with thickness × width²; buckling, with thickness³ ×
/// width), and the lightest of them are tried on the same pivots, with all their parts,
/// certificates and forces, until one holds; failing that, one that holds in use; failing that,
/// the narrowest foretold. The search is then made anew with those sizes, as they change where
/// pivots can be, and if its first hinge does not hold the ladder goes on from there. Where the
/// first hinge holds, but one that would be clearly better is too weak, sizes for that one are
/// tried in the same way and taken if they give a better hinge. Each search begins with the lids of
/// the one before, as what lids clear does not hang on sizes. Deterministic.
///
/// The design's job has the sizes that were taken; Design::sizes and sizes_why tell of them.
Design MakeSizedDesign(const Job& job, const DesignOptions& options = {});

/// The job with sizes for a hinge somebody has: where the job leaves them open those it was made
/// with, else chosen as above on its pivots. Arms that are given tell their width and eye by their
/// shape and, if they say their holes, the bushing.
Job SizedFor(const Job& job, const GivenHinge& given, const std::optional<MadeSizes>& made);

/// What SizedFor took where the job leaves it open: "arms of 2 mm aluminium, arms 10 mm wide,
/// bushings of 5 mm"; empty if it leaves nothing open.
std::string SizesTaken(const Job& job, const Job& taken);

/// How far the weakest part holds in use, or when leaned on: strength over load over what is
/// wanted; infinity where nothing is loaded so. 1 is just enough.
double HoldsTimes(const HingeForces& forces, bool leaning);

}  // namespace lidwright
