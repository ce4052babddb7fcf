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
/// moves [mm] for 1 mm in each of case a x, y, case b x, y, lid a x, y, lid b x, y (as placed
/// with the lid shut). The lid's angle is kept: a translation says it all.
///
/// kInJig: the arms' lengths follow the pivots; differentiate |A − A0|² = |A_shut − A0|² and the
/// same for B. kByMeasure: the lengths stay.
std::array<Vec2, 8> LidShift(const LidMotion& motion, double theta_rad, Fixing fixing);

/// The same for 1 mm more from hole to hole of arm A and of arm B, pivots as designed.
std::array<Vec2, 2> LidShiftOfArms(const LidMotion& motion, double theta_rad);

/// How far the shut lid is off its place [mm] where `shift` is its shift with its angle kept: it
/// goes on turning about its instant centre until the first end of its flat rim touches (x from
/// `rim_back_mm` to `rim_front_mm` at y = 0); the larger movement of the two ends. Near-parallel
/// arms make the shift large and the turning that takes most of it back small.
/// An instant centre between the rim's ends: the angle is kept.
///
/// To first order, which holds while the turning is small. The back end, b = rim_back − the instant
/// centre's x before it, rises by b t + κ t²/2 in a turn t: for a shift that lets it down by s the
/// turn is s / b, and what is left out is small only if |κ s| ≪ 2 b². A bowed back takes b to
/// little: at b = 2 mm and κ = −100 mm a hundredth of a millimetre holds, a tenth does not. Beyond,
/// and for whether the lid shuts at all, see ShutOf.
double SeamMisfit_mm(const LidMotion& motion, const Vec2& shift, double rim_back_mm,
                     double rim_front_mm);

/// One lid in twenty shuts farther off than this (SeamMisfit_mm) when all holes, two to an arm and
/// four pivots, are off by `drill_error_mm` each way (standard deviation) and nothing is set right
/// with the lid shut. The misfit grows in proportion along every direction of the shift, so its
/// distribution is a mean over directions of Rayleigh's; to first order, as that (see
/// SeamOffOneInTwenty).
double SeamOffToFirstOrder_mm(const LidMotion& motion, double drill_error_mm, double rim_back_mm,
                              double rim_front_mm);

/// Where a plate's place moves its two pivots: derivatives of the eight pivot numbers by its shift
/// forward and up [mm/mm] and by its turning, counter-clockwise about the middle of its pivots
/// [mm/rad].
std::array<std::array<double, 8>, 3> PlateMoves(const Pivots& pivots, bool lid_plate);

/// The lid's front edge, at one angle, is free by this much per mm that each arm's length is free:
/// held against moving along its path, what it moves square to it. By the velocities that the two
/// arms' lengths and the held path allow (three equations).
/// Requires arms that are not parallel at this angle and an edge off the instant centre.
double EdgePerArmPlay(const LidMotion& motion, double theta_rad, const Vec2& front_edge);

}  // namespace lidwright
