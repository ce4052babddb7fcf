// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/swing/clearance.h"

namespace lidwright {

/// What is required of a hinge. Each has one meaning, one place where it is judged (certify for all
/// gaps, by the rows of gap_rules.h; the makers of parts for the rest) and one name, which report
/// gives it. Required and not met means that the hinge does not do.
enum class Requirement {
  // The lid alone.
  kOpeningAngle,  ///< the motion reaches the angle wanted
  kFirstMotion,   ///< contacts part at once, nothing comes nearer than when shut (R4)
  kLidToCase,     ///< swing gap, from gap_from on
  kLidToRoom,     ///< wall behind and ceiling
  kLidToBench,
  kLidToContents,
  kPose,             ///< a pose wished for is passed
  kOpenLidForemost,  ///< the open lid stays behind a line (R2)
  kMouthFree,        ///< share of the mouth left free (R2)
  // Pivots and arms.
  kPlateReaches,  ///< a lid plate can reach this pivot
  kPinInWood,     ///< enough wood round a pin without a plate
  kArmRouted,     ///< an arm was found at all
  kArmToCase,
  kArmToLid,
  kArmToAround,  ///< contents, wall, ceiling, bench
  kArmToArm,     ///< both on one layer
  kArmToPins,    ///< the inner arm to the pins of the outer one
  kLayersInBay,
  kArmRoundHoles,  ///< a given arm has material all round its holes
  // Parts.
  kPartToBox,    ///< a member of the hinge to case, lid and surroundings
  kPartToParts,  ///< a member to the other members
  kStopMeets,    ///< the stop meets its part when open
  kStopFree,     ///< and not before
  kStayTaut,     ///< a stay is taut at the open lid, and not before
  kStayFree,     ///< and touches nothing then
  kLidRests,     ///< shut, the lid lies on the rim and on nothing else
  kPartMade,     ///< a part could be made
  kHoldsInUse,   ///< every part bears a hand that moves the lid, as many times as is wanted
  kHoldsLeaned,  ///< and somebody who leans on the open lid
};

/// The members of a hinge, and what stands around it. A pin goes with its spacers and heads, a
/// plate with its packing and screws.
enum class Member {
  kNone,
  kCase,
  kLid,
  kAround,
  kArmA,
  kArmB,
  kCasePinA,
  kCasePinB,
  kLidPinA,
  kLidPinB,
  kCasePlate,
  kLidPlate,
  kStop,
  kStay,
  kJig,
};

enum class Unit { kMm, kDegrees, kShare, kMmPerRadian, kTimes };

/// Why something is not clear, where the numbers alone do not say it.
enum class Why {
  kNumbers,           ///< they do
  kMeet,              ///< two parts touch or cross
  kNotProven,         ///< the walk ended undecided
  kStopped,           ///< the caller stopped the walk
  kNoRates,           ///< arms come too near to parallel for the motion to be bounded
  kParallelWhenShut,  ///< the arms are parallel when shut, or have no length
  kArmsParallel,      ///< the arms come parallel at `why_value` [rad] and the lid turns back there
  kArmsBalance,       ///< they do, on arms and plates that balance: how it goes on there is open
  kNoParting,         ///< a contact does not part: the instant centre is on its wrong side
  kCloserThanShut,    ///< the lid comes closer than when shut before `why_value` [rad]
  kNoWay,             ///< no way was found through the room that is free over the swing
  kNoPlateWay,        ///< no plate reaches from the lid to this pivot past the case
  kOpenEye,           ///< an arm does not reach round its pin
  kPinAtEdge,         ///< a pin of diameter `why_value` sits too near the wood's edge
  kPinTooShallow,     ///< a pin of diameter `why_value` would not go in deep enough
};

/// One requirement on a hinge, and how it came out. Lengths in mm, shares as plain numbers, angles
/// in degrees.
struct Verdict {
  Requirement what = Requirement::kOpeningAngle;
  Member of = Member::kNone;  ///< whose: which arm, pin or plate
  int number = -1;            ///< which of several of a kind (poses), from 0
  Outcome outcome = Outcome::kUndecided;
  bool sampled = false;  ///< only looked at at samples, not proven
  bool at_most = false;  ///< `found` may be at most `required`, not at least
  Unit unit = Unit::kMm;
  std::optional<double> required;
  double slack = 0.0;               ///< this much of it may be owed to the model's error
  std::optional<double> found;      ///< for gaps the proven bound
  std::optional<double> seen;       ///< for gaps what was seen: the truth is between the two
  std::optional<double> angle_rad;  ///< lid angle where it is tightest, if there is one
  std::optional<Nearness> nearest;  ///< the tightest spot, for gaps
  std::string first, second;        ///< names of the parts there
  Why why = Why::kNumbers;
  std::optional<double> why_value;
  std::string detail;  ///< of a part that could not be made: what its maker says

  bool met() const { return outcome == Outcome::kClear; }
};

using Verdicts = std::vector<Verdict>;

bool AllMet(const Verdicts& verdicts);

/// The first verdict on a requirement (and member), or none.
const Verdict* Find(const Verdicts& verdicts, Requirement what, Member of = Member::kNone);

/// The verdict on something reckoned exactly: clear if `found` is at least (or at most) `required`.
Verdict Reckoned(Requirement what, Unit unit, double required, double found, bool at_most = false);

}  // namespace lidwright
