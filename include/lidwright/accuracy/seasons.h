// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/accuracy/builds.h"
#include "lidwright/job/wood_movement.h"

namespace lidwright {

/// Lid and case as a moisture leaves them: every section swollen or shrunk by its wood's strain
/// (StrainOf, boards of the usual box, lid and case of the job's wood) about the anchors. Pivots on
/// a plate stay where they are; where the job wants no plate (plates.on_case, plates.on_lid) they
/// move with the end wall's wood, and arms keep their lengths, so that the lid is held a little off
/// its place: the seam is told with that, and the swing is another one.
///
/// Certified at this one moisture is the least gap of lid to case from gap_from on, as CertifyLid
/// certifies it; 0 where the lid rubs or does not open all the way. Arms, plates and what stands
/// around are not looked at. The seam stays unset where the arms do not reach a lid turned as when
/// shut.
/// Nothing for a wood whose movement is not known (StrainOf). Requires a motion that reaches the
/// opening angle; anchors: of a body without a plate its first pivot.
std::optional<SeasonFit> FitAt(double percent, const Job& job, const Assembly& box,
                               const Limits& limits, const LidMotion& motion,
                               const SeasonAnchors& anchors);

/// Fills an accuracy's dry and damp for Seasons' moistures.
void AddSeasons(const Job& job, const Assembly& box, const Limits& limits, const LidMotion& motion,
                const SeasonAnchors& anchors, Accuracy& accuracy);

}  // namespace lidwright
