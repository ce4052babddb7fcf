// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "lidwright/base/units.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// A hinge as it was built: its pivots where they came to sit (the lid's as placed with the lid
/// shut) and its arms from hole to hole, which need not fit them.
struct BuiltHinge {
  Pivots pivots;
  double arm_a_mm = 0.0;
  double arm_b_mm = 0.0;
};

/// Pivots and arms as designed.
BuiltHinge AsDesigned(const LidMotion& motion);

/// The case's flat rim at y = 0, as far as it reaches at mid-width, and how far the lid opens.
struct FlatRim {
  double back_mm = 0.0;
  double front_mm = 0.0;
  double open_rad = 0.0;
};

/// Where a lid comes to rest.
struct ShutLid {
  double theta_rad = 0.0;  ///< its angle there
  double off_mm = 0.0;     ///< the larger way of its rim's two ends from their places
};

/// The built lid let down on its rim: it follows its own linkage, whose poses are a closed form in
/// its angle as those of LidMotion (the circles of the arms' built lengths about the built case
/// pivots), on the designed branch, until the first end of its rim is level with the case's.
///
/// Nothing if it cannot be shut: no pose up to `open_rad` has both ends at the rim's height or over
/// it (the back end jams behind or in the case), or the arms come parallel and hold the lid up. The
/// rest nearest to shut is taken: between it and open the ends may pass the rim's height behind the
/// case. Exact but for rounding.
/// Requires four pivots and rim.front_mm > rim.back_mm.
std::optional<ShutLid> ShutOf(const LidMotion& designed, const BuiltHinge& built,
                              const FlatRim& rim);

/// How far lids shut off their place when every hole, two to an arm and four pivots, is off by a
/// drill error each way (its standard deviation) and nothing is set right with the lid shut.
struct SeamOff {
  double off_mm = kUnset;    ///< one lid in twenty shuts farther off; kUnset: so many cannot shut
  double stuck_share = 0.0;  ///< of lids that cannot be shut
  double first_order_mm = kUnset;  ///< what off_mm tends to with finer drilling, in proportion
};

/// To first order (SeamMisfit_mm) the misfit grows in proportion along every direction of the shift
/// and its distribution is a mean over directions of Rayleigh's. That is returned where following
/// the lid (ShutOf) finds the same within kFirstOrderHolds of the largest, in every direction at
/// the error that one lid in twenty exceeds. Elsewhere the lid is followed for growing errors in
/// every direction, each shift by its most likely errors; accuracy some hundredths.
SeamOff SeamOffOneInTwenty(const LidMotion& motion, double drill_error_mm, const FlatRim& rim);

}  // namespace lidwright
