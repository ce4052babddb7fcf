// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/requirements.h"

#include <algorithm>
#include <array>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr std::array kTable{
    Wanted{
        Situation::kInUse, Stressed::kSolidWood, 4.0, Against::kFailure,
        "boards differ by half, a load that lasts takes a third, and wood breaks without a word"},
    Wanted{Situation::kInUse, Stressed::kPlywood, 4.0, Against::kFailure,
           "as wood: sheets differ from maker to maker, and it breaks without a word"},
    Wanted{Situation::kInUse, Stressed::kPlastic, 4.0, Against::kFailure,
           "cracks start at cut edges and holes and grow with time"},
    Wanted{Situation::kInUse, Stressed::kMetal, 2.0, Against::kFailure,
           "held against yielding, which bends before it breaks"},
    Wanted{Situation::kInUse, Stressed::kWoodUnderPin, 4.0, Against::kFailure,
           "a hole that is crushed oval rattles ever after"},
    Wanted{Situation::kInUse, Stressed::kScrew, 1.5, Against::kAllowed,
           "the timber code's load is a fifth of what tears out; small screws in thin walls are "
           "below its sizes"},
    Wanted{Situation::kInUse, Stressed::kGlue, 4.0, Against::kFailure,
           "as wood: the bond is as good as the day it was made"},
    Wanted{Situation::kInUse, Stressed::kStay, 1.0, Against::kAllowed,
           "a maker's working load, a quarter of the breaking load (READ for one chain)"},
    Wanted{Situation::kInUse, Stressed::kBushing, 1.0, Against::kAllowed,
           "a maker's pressure for bushings that turn"},
    Wanted{Situation::kLeaning, Stressed::kSolidWood, 2.0, Against::kFailure,
           "seldom and short, but the same boards"},
    Wanted{Situation::kLeaning, Stressed::kPlywood, 2.0, Against::kFailure,
           "seldom and short, but the same sheets"},
    Wanted{Situation::kLeaning, Stressed::kPlastic, 2.0, Against::kFailure,
           "seldom and short, but the same edges"},
    Wanted{Situation::kLeaning, Stressed::kMetal, 1.5, Against::kFailure,
           "held against yielding, seldom and short"},
    Wanted{Situation::kLeaning, Stressed::kWoodUnderPin, 2.0, Against::kFailure,
           "seldom and short"},
    Wanted{Situation::kLeaning, Stressed::kScrew, 1.0, Against::kAllowed,
           "the timber code allows 1.6 times its load for ten minutes, which is left as margin"},
    Wanted{Situation::kLeaning, Stressed::kGlue, 2.0, Against::kFailure, "seldom and short"},
    Wanted{Situation::kLeaning, Stressed::kStay, 1.0, Against::kAllowed,
           "a maker's working load must never be passed"},
    Wanted{Situation::kLeaning, Stressed::kBushing, 1.0, Against::kAllowed,
           "a maker's pressure for bushings at rest"},
};

}  // namespace

const Wanted& WantedFor(Situation situation, Stressed stressed) {
  const auto* found = std::find_if(kTable.begin(), kTable.end(), [&](const Wanted& wanted) {
    return wanted.situation == situation && wanted.stressed == stressed;
  });
  LW_REQUIRE(found != kTable.end(), "stressed=" << static_cast<int>(stressed));
  return *found;
}

LeanForce LeanForceOf(double hand_n, double tips_full_n, BoxStands stands) {
  LW_REQUIRE(hand_n >= 0.0 && tips_full_n >= 0.0, "hand=" << hand_n << " tips=" << tips_full_n);
  const double tips = kTipMargin * tips_full_n;
  if (stands != BoxStands::kFree || tips >= hand_n) return {hand_n, false};
  return {tips, true};
}

}  // namespace lidwright
