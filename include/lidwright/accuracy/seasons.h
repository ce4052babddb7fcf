// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/accuracy/builds.h"
#include "lidwright/job/wood_movement.h"

namespace lidwright {

/// Lid and case as a moisture leaves them: every section swollen or shrunk by its wood's strain
/// (StrainOf, boards of the usual box, lid and case of the job's wood) about the anchors, pivots
/// where they are. The least gap is certified as CertifyLid certifies it.
/// Nothing for a wood whose movement is not known. Requires a motion that reaches the opening
/// angle.
std::optional<SeasonFit> FitAt(double percent, const Job& job, const Assembly& box,
                               const Limits& limits, const LidMotion& motion,
                               const SeasonAnchors& anchors);

/// Fills an accuracy's dry and damp for Seasons' moistures.
void AddSeasons(const Job& job, const Assembly& box, const Limits& limits, const LidMotion& motion,
                const SeasonAnchors& anchors, Accuracy& accuracy);

}  // namespace lidwright
