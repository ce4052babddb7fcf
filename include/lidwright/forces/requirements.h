// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace lidwright {

/// What happens to the hinge.
enum class Situation {
  kInUse,   ///< a hand at the front edge moves the lid, anywhere in the swing
  kLeaning  ///< somebody leans on the open lid
};

/// What gives way.
enum class Stressed {
  kSolidWood,
  kPlywood,
  kPlastic,
  kMetal,
  kWoodUnderPin,  ///< crushed by a pin, dowel or bushing
  kScrew,         ///< drawn out of wood or pushed across it
  kGlue,
  kStay,     ///< chain, ribbon, folding stay
  kBushing,  ///< pressure between pin and bushing
};

/// What the figure is that a load is held against.
enum class Against {
  kFailure,  ///< breaks or yields there
  kAllowed   ///< a code or a maker allows that much: its own margin is in it
};

/// How many times over something must hold, and why.
struct Wanted {
  Situation situation;
  Stressed stressed;
  double factor;
  Against against;
  const char* reason;
};

/// The one table of safety factors. All of it is common practice without a source but where a
/// reason names one.
const Wanted& WantedFor(Situation situation, Stressed stressed);

/// How the box stands.
enum class BoxStands { kFree, kAgainstWall, kFixed };

/// The force somebody who leans on the open lid can put on its edge.
struct LeanForce {
  double force_n = 0.0;
  bool tips_first = false;  ///< limited by the box that would tip
};

/// A box that stands free tips before more than kTipMargin times the force that tips it full can
/// act: the smaller of that and `hand_n`. Against a wall or fixed it cannot: all of `hand_n`.
/// `tips_full_n` is Tipping::pull_full_n.
LeanForce LeanForceOf(double hand_n, double tips_full_n, BoxStands stands);

/// [1] A push that begins slowly tips the box at once; a quick one is resisted by its mass too.
inline constexpr double kTipMargin = 1.5;

}  // namespace lidwright
