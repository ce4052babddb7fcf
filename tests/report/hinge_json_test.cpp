// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/hinge_json.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "certify/verdicts.h"
#include "design/examples.h"
#include "drawing/made_up_design.h"
#include "lidwright/design/make_design.h"
#include "lidwright/job/read_pivots.h"
#include "report/plain_words.h"

namespace lidwright {
namespace {

using nlohmann::json;

void CheckSameArm(const std::optional<GivenArm>& read, const std::optional<Arm>& written) {
  REQUIRE(read.has_value() == written.has_value());
  if (!written) return;
  CHECK(read->layer == written->layer);
  CHECK(read->hole_mm == 2.0 * written->case_hole.radius_mm);
  REQUIRE(read->outline.vertices.size() == written->outline.vertices.size());
  for (std::size_t i = 0; i < written->outline.vertices.size(); ++i) {
    const OutlineVertex &r = read->outline.vertices[i], &w = written->outline.vertices[i];
    CHECK(r.point == w.point);  // to the last bit
    CHECK(r.bulge == w.bulge);
  }
  // The middle line too, without which a bent arm would be taken for a straight one.
  REQUIRE(read->centreline.size() == written->centreline.size());
  for (std::size_t i = 0; i < written->centreline.size(); ++i) {
    CHECK(read->centreline[i].point == written->centreline[i].point);
    CHECK(read->centreline[i].bulge == written->centreline[i].bulge);
  }
}

void CheckReadsBack(const Design& design) {
  const PivotReading reading = ReadPivots(WriteHingeJson(design), "hinge.json");
  for (const Problem& problem : reading.problems) UNSCOPED_INFO(Describe(problem));
  REQUIRE(reading.hinge);
  const Hinge& best = design.hinges.front();
  CHECK(reading.hinge->case_a == best.pivots.case_a);
  CHECK(reading.hinge->case_b == best.pivots.case_b);
  CHECK(reading.hinge->lid_a == best.pivots.lid_a);
  CHECK(reading.hinge->lid_b == best.pivots.lid_b);
  CheckSameArm(reading.hinge->arm_a, best.arm_a);
  CheckSameArm(reading.hinge->arm_b, best.arm_b);
}

Design WithOddNumbers() {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  Hinge& hinge = design.hinges.front();
  hinge.pivots.case_a = {1.0 / 3.0, -std::sqrt(2.0)};
  hinge.pivots.lid_b = {96.0 + 1e-13, -51.5};
  hinge.arm_a->outline.vertices[0].bulge = 0.1 + 0.2;
  return design;
}

}  // namespace

TEST_CASE("a written hinge reads back to the last bit", "[report]") {
  for (const testing::Example& example : testing::Examples()) {
    INFO(example.name);
    CheckReadsBack(testing::MakeDesign(example));
  }
  CheckReadsBack(WithOddNumbers());
  Design bare = WithOddNumbers();
  bare.hinges.front().arm_b.reset();
  CheckReadsBack(bare);
  bare.hinges.front().arm_a.reset();
  CheckReadsBack(bare);
}

TEST_CASE("the file for what was built has the pivots and the sizes that were cut", "[report]") {
  for (const testing::Example& example : testing::Examples()) {
    INFO(example.name);
    Design design = testing::MakeDesign(example);
    design.job.arms.width_mm += 1.0;  // a size that nobody would choose
    const PivotReading reading = ReadPivots(WriteBuiltJson(design), "built.json");
    for (const Problem& problem : reading.problems) UNSCOPED_INFO(Describe(problem));
    REQUIRE(reading.hinge);
    const Pivots& pivots = design.hinges.front().pivots;
    CHECK((reading.hinge->case_a - pivots.case_a).norm() < 1e-9);
    CHECK((reading.hinge->case_b - pivots.case_b).norm() < 1e-9);
    CHECK((reading.hinge->lid_a - pivots.lid_a).norm() < 1e-9);
    CHECK((reading.hinge->lid_b - pivots.lid_b).norm() < 1e-9);
    CHECK_FALSE(reading.hinge->arm_a);  // measured pivots want other arms
    REQUIRE(reading.sizes);
    CHECK(reading.sizes->arms.width_mm == Approx(design.job.arms.width_mm));
    CHECK(reading.sizes->arms.thickness_mm == Approx(design.job.arms.thickness_mm));
    CHECK(json::parse(WriteBuiltJson(design))["units"] == (design.job.inches ? "in" : "mm"));
  }
}

TEST_CASE("every result of a found design stands in the file", "[report]") {
  const BoxModel box(testing::ExampleJob("jewellery_casket"));
  const Design design = MakeDesign(box);
  REQUIRE_FALSE(design.hinges.empty());
  CheckReadsBack(design);
  const std::string text = WriteHingeJson(design);
  CHECK(text == WriteHingeJson(design));
  const json file = json::parse(text);
  CHECK(file["format"] == "lidwright hinge 2");
  CHECK(file["units"] == "mm");
  CHECK(file["job"]["units"] == "in");
  CHECK(file["job"]["case"]["width"] == 9.0);
  REQUIRE(file["hinges"].size() == design.hinges.size());
  std::size_t spots = 0;
  for (std::size_t i = 0; i < design.hinges.size(); ++i) {
    const Hinge& hinge = design.hinges[i];
    const json& written = file["hinges"][i];
    CHECK(written["character"] == hinge.character);
    CHECK(written["traits"]["least_gap"] == hinge.traits.least_gap_mm);
    CHECK(written["traits"]["play_factor"] == hinge.traits.play_factor);
    CHECK(written["traits"]["lift_factor"] == hinge.traits.lift_factor);
    CHECK(written["traits"]["mouth_free"] == hinge.traits.mouth_free);
    CHECK(written["pivots"]["lid_a"][0] == hinge.pivots.lid_a.x());
    CHECK(written["arms"]["a"]["layer"] == hinge.arm_a->layer);
    CHECK(written["arms"]["a"]["z"][1] == hinge.arm_a->z_max_mm);
    CHECK(written["arms"]["b"]["holes"][1]["at"][1] == hinge.pivots.lid_b.y());
    CHECK(written["arms"]["b"]["hole_mm"] == 2.0 * hinge.arm_b->case_hole.radius_mm);
    if (!written["arms"]["b"]["drilled_mm"].is_null()) {  // what is drilled for the bushing
      CHECK(written["arms"]["b"]["holes"][0]["diameter"].get<double>() ==
            Approx(written["arms"]["b"]["drilled_mm"].get<double>()));
    }
    REQUIRE(written["verdicts"].size() == hinge.verdicts.size());
    for (std::size_t k = 0; k < hinge.verdicts.size(); ++k) {
      const Verdict& v = hinge.verdicts[k];
      const json& w = written["verdicts"][k];
      CHECK(w["what"] == NameOf(v));
      CHECK(w["met"] == v.met());
      CHECK(w["proven"] == (!v.sampled && v.outcome != Outcome::kUndecided));
      const json& asked = w[v.at_most ? "at_most" : "required"];
      CHECK((v.required ? asked == *v.required : asked.is_null()));
      CHECK((v.found ? w["found"] == *v.found : w["found"].is_null()));
      if (!v.nearest) continue;
      ++spots;
      CHECK(w["spot"]["first"][0] == v.nearest->on_first.x());
      CHECK(w["spot"]["second"][1] == v.nearest->on_second.y());
      CHECK(w["spot"]["z"] == v.nearest->z_mm);
      CHECK(w["parts"] == v.first + " / " + v.second);
      CHECK(w["angle_deg"].get<double>() * kRadPerDeg ==
            Approx(v.angle_rad.value()).epsilon(1e-14));
    }
  }
  CHECK(spots >= 4 * design.hinges.size());
  CHECK(file["plain_hinge"]["why"] == PlainSentence(design.plain, design.job.inches));
  REQUIRE(file["plain_hinge"]["map"]["rows"].size() == static_cast<std::size_t>(design.plain.rows));
  CHECK(file["search"]["armed"] == design.search.armed);
  CHECK(file["model"]["stations"] == design.solid.stations.size());
}

TEST_CASE("numbers nobody knows are null, and no hinge is a result too", "[report]") {
  Design design = testing::MakeDesign(testing::Examples()[1]);
  design.hinges.front().verdicts.push_back({});
  const json unknown = json::parse(WriteHingeJson(design))["hinges"][0];
  CHECK(unknown["traits"]["least_gap"].is_null());
  CHECK(unknown["verdicts"].back()["found"].is_null());
  CHECK(unknown["verdicts"].back()["angle_deg"].is_null());
  CHECK_FALSE(unknown["verdicts"].back().contains("spot"));

  design.hinges.clear();
  design.none = NoHinge{"room behind", 14.5, "mm", "", false, {}, {{"a thinner rim", {}}}, {}};
  const json none = json::parse(WriteHingeJson(design));
  CHECK_FALSE(none.contains("pivots"));
  CHECK(none["hinges"].empty());
  CHECK(none["none"]["failing"] == "room behind");
  CHECK(none["none"]["missed_by"] == 14.5);
  CHECK(none["none"]["remedies"][0] == "a thinner rim");
  // Fed back it is refused with a reason, not taken for a hinge.
  const PivotReading reading = ReadPivots(WriteHingeJson(design), "hinge.json");
  CHECK_FALSE(reading.hinge);
  CHECK_FALSE(reading.problems.empty());
}

TEST_CASE("a name that is not UTF-8 does not stop the report", "[report]") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  design.job.name = "ch\xffst";
  CHECK(json::parse(WriteHingeJson(design))["job"]["name"] == "ch\xEF\xBF\xBDst");
}

}  // namespace lidwright
