// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/forces/holding.h"
#include "lidwright/forces/screws.h"
#include "lidwright/forces/statics.h"
#include "lidwright/forces/strength.h"
#include "lidwright/forces/tipping.h"

namespace lidwright {

enum class LoadedPart { kArm, kPin, kScrews, kStop, kStay };

/// Which size has to grow for a part to bear more.
enum class HangsOn {
  kStrap,      ///< an arm's section, bent in its plane
  kStiffness,  ///< an arm's thickness, against buckling out of it
  kPin,        ///< the rod of pins and stop
  kSeat,       ///< thickness of what holds a pin
  kScrew,
  kStay,  ///< what was bought for it
  kPad    ///< its length
};

/// One way a part can fail, and how far it is from it.
struct Strength {
  LoadedPart kind = LoadedPart::kArm;
  std::string part;          ///< "arm A", "lid pin of arm B", "screws of the case plate" …
  std::string how;           ///< "bending", "torn out at an eye", "pressure on the bushing" …
  bool leaning = false;      ///< while somebody leans on the open lid; else while it is held
  double load = kUnset;      ///< N on the part
  double acts = kUnset;      ///< stress or force that acts …
  double bears = kUnset;     ///< … and what the part bears
  std::string unit = "MPa";  ///< or "N"
  double wanted = kUnset;    ///< safety factor asked for
  std::string source;        ///< of `bears`
  HangsOn hangs_on = HangsOn::kStrap;
  Member of = Member::kNone;  ///< of screws: which plate's
  double Factor() const { return acts > 0.0 ? bears / acts : 1e9; }
};

/// The weaker arm's strength over its load over the factor wanted, least while a hand at the front
/// edge moves the lid, loads as in UsualLoadCase: what linkages are compared by before their other
/// parts are known. 1 is just enough. Requires that both eyes of both arms are closed.
double ArmsSafety(const Job& job, const Solid& solid, const LidMotion& motion,
                  const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b);

/// What the forces do to a finished hinge.
struct HingeForces {
  LoadCase load;                  ///< what was reckoned with
  double density_kg_m3 = kUnset;  ///< of the wood, at 12 % moisture
  double hardware_kg = 0.0;       ///< of the lid's weight; nothing if the lid was weighed
  Feel feel;
  Holdings holdings;
  double load_n = kUnset;        ///< on one pin: the larger of the lid's own and somebody leaning
  ArmStress arm_a, arm_b;        ///< the largest of each stress over all loads
  PinStress pin;                 ///< of the pin with the largest bending
  double pin_reach_mm = kUnset;  ///< of that pin
  Tipping tipping;
  std::vector<Strength> strengths;  ///< all of them, weakest (factor over factor wanted) first
  double safety = kUnset;           ///< the weakest's factor
  double safety_wanted = kUnset;
  std::string weakest;       ///< "arm A in bending"
  bool stay_fitted = false;  ///< the maker's own stay takes what leans on the open lid
};

/// Works out everything. Loads: the lid held by a hand at the front edge over the whole swing, and
/// somebody leaning on the open lid in any of 360 directions (with the stop's force on the arm that
/// it stops). One end bears half of the weight and the case's share of the hand.
///
/// Held against: arms in bending, shear, at the eyes (mean for metals; peak with
/// HoleConcentration for wood and acrylic), torn out, crushed by the bushing, buckling; pins in
/// bending and shear, pressure on the bushing (25 MPa while it moves, 90 at rest: a maker's page on
/// bronze bushings, READ), pressure on what holds the pin (wood: 114.5 G^1.84 MPa, the American
/// code's dowel bearing under 1/4 in, from memory); screws drawn out and across, the stop's rod in
/// bending and shear, a pad pressed into the rim, where the case has them.
/// Requires arms on the motion's pivots and a motion that goes beyond the job's opening angle.
HingeForces ForcesOf(const Job& job, const Solid& solid, const LidMotion& motion,
                     const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b,
                     const LoadCase& load);

/// The same with UsualLoadCase; with a hinge's own parts, take LoadCaseOf.
HingeForces ForcesOf(const Job& job, const Solid& solid, const LidMotion& motion,
                     const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b,
                     const std::vector<PieceMass>& hardware = {});

/// The weakest part (factor over factor wanted) in use, or while somebody leans on the open lid;
/// null where nothing was judged.
const Strength* Weakest(const HingeForces& forces, bool leaning);

/// Is the hinge asked to bear it? Not leaning where a stay takes that.
bool IsAsked(const HingeForces& forces, bool leaning);

/// The weakest of what the hinge is asked to bear.
const Strength* WeakestAsked(const HingeForces& forces, bool leaning);

}  // namespace lidwright
