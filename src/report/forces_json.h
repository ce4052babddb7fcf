// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "json.h"
#include "lidwright/accuracy/builds.h"
#include "lidwright/forces/hinge_forces.h"

namespace lidwright {

/// What forces and accuracy found, as they stand in hinge.json: mm, N, N mm, degrees, MPa.
Json ForcesJson(const HingeForces& forces);
Json AccuracyJson(const Accuracy& accuracy);

Json Degrees(double rad);
Json Numbers(const std::vector<double>& values, double scale = 1.0);

}  // namespace lidwright
