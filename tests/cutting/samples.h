// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "../geometry/random_outline.h"
#include "lidwright/cutting/cut_part.h"

namespace lidwright::testing {

/// A drawing to be written and read back.
struct Sample {
  std::string name;
  std::vector<CutPart> parts;
};

/// An arm as a bench would cut it: eyes of some 9 mm round two holes, and between them two hollow
/// arcs of different radius, so that an arm drawn upside down is not the same arm.
inline CutPart SampleArm() {
  const double b_eye = std::tan(0.8 * kPi / 4), b_hollow = -0.12;
  return {"arm A",
          {{{{-3, -8.4853}, b_hollow},
            {{93, -2.4853}, b_eye},
            {{93, 14.4853}, -0.05},
            {{-3, 8.4853}, 1.1}}},
          {{{0, 0}, 2.45}, {{95, 6}, 2.45}},
          {}};
}

inline CutPart SamplePlate(const Vec2& at) {
  const double b = std::tan(kPi / 8);
  Outline outline = {{{{4, 0}, 0},
                      {{60, 0}, b},
                      {{64, 4}, 0},
                      {{64, 20}, -b},
                      {{54, 30}, 0},
                      {{0, 30}, 0},
                      {{0, 4}, b}}};
  CutPart plate = {"plate, \"left\" & <case>",
                   Moved(outline, Pose::Make(0.0, at)),
                   {{at + Vec2(10, 8), 3.175}, {at + Vec2(40, 15.123456789), 1.5}},
                   {{at + Vec2(20, 22), 1.25}, {at + Vec2(50, 6), 1.25}}};
  return plate;
}

inline std::vector<Sample> Samples() {
  std::vector<Sample> samples;
  samples.push_back({"arm", {SampleArm()}});
  samples.push_back({"sheet", {SamplePlate({0, 0}), SamplePlate({70, -55.5}), SampleArm()}});
  samples.back().parts[2].outline = Moved(SampleArm().outline, Pose::Make(0, {-20, 60}));
  for (Circle& hole : samples.back().parts[2].holes) hole.centre += Vec2(-20, 60);
  samples.push_back(
      {"inch_square",
       {{"scale", {{{{0, 0}, 0}, {{25.4, 0}, 0}, {{25.4, 25.4}, 0}, {{0, 25.4}, 0}}}, {}, {}}}});
  samples.push_back(
      {"washer", {{"washer", AsOutline({{-40, 12.5}, 9.525}), {{{-40, 12.5}, 2.5}}, {}}}});
  // Most of a disc: an arc of 330°, and a notch of 300° the other way in its middle.
  samples.push_back({"long_arcs",
                     {{"disc",
                       {{{{20, -5}, std::tan(330 * kRadPerDeg / 4)}, {{19, -7}, 0}}},
                       {},
                       {{{15.8, -4.1}, 1}}},
                      {"keyhole",
                       {{{{-90, -30}, 0},
                         {{-30, -30}, 0},
                         {{-30, 30}, 0},
                         {{-57, 30}, 0},
                         {{-57, 15}, -std::tan(300 * kRadPerDeg / 4)},
                         {{-63, 15}, 0},
                         {{-63, 30}, 0},
                         {{-90, 30}, 0}}},
                       {},
                       {}}}});
  Dice dice(42);
  for (int i = 0; i < 24; ++i) {
    CutPart part;
    part.name = "random " + std::to_string(i);
    const Vec2 centre(dice.Uniform(-2e3, 2e3), dice.Uniform(-2e3, 2e3));
    part.outline = RandomOutline(dice, centre);
    part.holes.push_back(
        {centre + Vec2(dice.Uniform(-3, 3), dice.Uniform(-3, 3)), dice.Uniform(0.3, 3.0)});
    if (i % 2) part.drill_marks.push_back({centre + Vec2(0, 8.5), dice.Uniform(0.5, 1.5)});
    samples.push_back({"random_" + std::to_string(i), {part}});
  }
  return samples;
}

}  // namespace lidwright::testing
