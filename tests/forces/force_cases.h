// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "arms/hinge_cases.h"
#include "lidwright/forces/hinge_forces.h"
#include "synthesis/lid_models.h"

namespace lidwright::testing {

/// Any linkage that moves over a radian, with bodies of any mass hung on it.
struct ForceCase {
  LidMotion motion;
  LoadCase load;
  Vec2 front;
};
inline std::vector<ForceCase> RandomForceCases(int count, unsigned seed) {
  Draw draw(seed);
  std::vector<ForceCase> cases;
  while (static_cast<int>(cases.size()) < count) {
    const auto at = [&] { return Vec2(draw(-50, 250), draw(-120, 60)); };
    const auto motion = LidMotion::Make({at(), at(), at(), at()});
    if (!motion || motion->Range().high_rad < 1.0) continue;
    LoadCase load;
    load.lid = {draw(0.2, 5.0), at(), 0.0, draw(500, 20000)};
    load.arm_a = {draw(0.0, 0.3), at(), 0.0, draw(10, 200)};
    load.arm_b = {draw(0.0, 0.3), at(), 0.0, draw(10, 200)};
    for (PinSeat& pin : load.pins) pin.diameter_mm = draw(1.0, 6.0);
    load.friction = draw(0.0, 0.4);
    cases.push_back({*motion, load, at()});
  }
  return cases;
}

/// A lid on its arms as the program found them: the first of the sample chest's linkages.
struct Chest {
  explicit Chest(std::size_t which = 0)
      : hinge(ExampleLinkages()[which].job, ExampleLinkages()[which].pivots),
        front(hinge.box.task.front_edge),
        open(hinge.box.job.swing.open_rad),
        load(UsualLoadCase(hinge.box.job, hinge.box.solid, *hinge.arms.arm_a, *hinge.arms.arm_b)) {}
  const LidMotion& motion() const { return hinge.motion; }
  HingeForces Forces() const {
    return ForcesOf(hinge.box.job, hinge.box.solid, motion(), front, *hinge.arms.arm_a,
                    *hinge.arms.arm_b, load);
  }

  HingeCase hinge;
  Vec2 front;
  double open;
  LoadCase load;
};

}  // namespace lidwright::testing
