// SPDX-License-Identifier: Apache-2.0
#include "fuzz.h"
#include "lidwright/job/file_format.h"
#include "lidwright/job/json_lines.h"
#include "lidwright/job/read_pivots.h"

using namespace lidwright;

namespace {

nlohmann::json At(const Vec2& p) {
  return {p.x(), p.y()};
}

nlohmann::json ArmOf(const GivenArm& arm) {
  nlohmann::json points = nlohmann::json::array();
  for (const OutlineVertex& v : arm.outline.vertices)
    points.push_back({v.point.x(), v.point.y(), v.bulge});
  nlohmann::json json{{"layer", arm.layer}, {"outline", points}};
  if (!std::isnan(arm.hole_mm)) json["hole_mm"] = arm.hole_mm;
  return json;
}

std::string Written(const GivenHinge& hinge) {
  nlohmann::json json{{"units", "mm"}};
  json["pivots"] = {{"case_a", At(hinge.case_a)},
                    {"case_b", At(hinge.case_b)},
                    {"lid_a", At(hinge.lid_a)},
                    {"lid_b", At(hinge.lid_b)}};
  if (hinge.arm_a) json["arms"]["a"] = ArmOf(*hinge.arm_a);
  if (hinge.arm_b) json["arms"]["b"] = ArmOf(*hinge.arm_b);
  return json.dump();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const PivotReading reading = ReadPivots(text, "hinge.json");
  fuzz::Law(reading.hinge.has_value() == reading.problems.empty(),
            "a hinge, or what is wrong with it");
  fuzz::LawOfProblems(reading.problems);
  if (!reading.hinge) return 0;
  const GivenHinge& hinge = *reading.hinge;
  for (const Vec2& p : {hinge.case_a, hinge.case_b, hinge.lid_a, hinge.lid_b}) {
    fuzz::Law(p.allFinite(), "pivots stand somewhere");
  }
  const std::string written = Written(hinge);
  const PivotReading back = ReadPivots(written, "back.json");
  fuzz::Law(back.hinge.has_value(), "what was read can be read again: " +
                                        (back.problems.empty() ? "" : Describe(back.problems[0])));
  fuzz::Law(Written(*back.hinge) == written, "read, written and read it is the same");
  return 0;
}
