// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// How the plates are fixed.
enum class Fixing {
  /// With the lid shut and the arms on their pins, in a jig: wherever the pivots end up, the arms
  /// fit them and the lid still shuts. A pivot's error is then a slightly different linkage.
  kInJig,
  /// Each plate by measuring: the arms have the lengths that were designed, so the lid has to shift
  /// to let them reach the pivots.
  kByMeasure,
};

/// What errors of the pivots do to the lid at one angle, to first order: how far the lid's frame
/// moves [mm] for 1 mm in each of ground a x, y, ground b x, y, lid a x, y, lid b x, y (as placed
/// with the lid shut). The lid's angle is kept: a translation says it all.
///
/// kInJig: the arms' lengths follow the pivots; differentiate |A − A0|² = |A_shut − A0|² and the
/// same for B. kByMeasure: the lengths stay.
std::array<Vec2, 8> LidShift(const LidMotion& motion, double theta_rad, Fixing fixing);

}  // namespace lidwright
