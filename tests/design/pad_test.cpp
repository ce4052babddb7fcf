// SPDX-License-Identifier: Apache-2.0
// A pad that stops the lid: where it comes down by a four-bar solved apart and the question about a
// point of the box, what presses on it by virtual work with differences of that four-bar's poses.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/cutting/work_steps.h"
#include "lidwright/design/make_design.h"
#include "lidwright/job/read_job.h"
#include "places.h"
#include "solid/box_truth.h"
#include "swing/loop_oracle.h"

namespace lidwright {
namespace {

using testing::BoxTruth;
using testing::LoopOracle;

constexpr double kOpenCash_rad = 95.0 * kRadPerDeg;

Job CashBox() {
  const auto reading = ReadJob(
      R"({"units":"mm","name":"The tea merchant's cash","case":{"width":280,"depth":200,
      "height":100,"wall":9,"back_bow":12},"lid":{"rim":14,"crown":28},"room":{"behind":60},
      "arms":{"material":"aluminium","thickness":2,"width":10,"bushing":6,"eye":10},
      "plates":{"case_thickness":3,"lid_thickness":3},"bay":{"width":30,"lid_drop":45.5}})",
      "cash.json");
  REQUIRE(reading.job);
  return *reading.job;
}
const Pivots kOfCash{{132.0, -44.5}, {169.5, -6.0}, {20.5, -45.5}, {22.0, -15.5}};

struct Padded {
  Padded()
      : box(CashBox()), hinge(JudgeHinge(box, kOfCash, {}, {})), truth(box.job), oracle(kOfCash) {
    REQUIRE(hinge.parts);
    REQUIRE(hinge.parts->pad);
    REQUIRE(oracle.Follow(kOpenCash_rad + 2.0 * kRadPerDeg) > kOpenCash_rad + kRadPerDeg);
  }
  const Pad& pad() const { return *hinge.parts->pad; }

  // Points all over the pad's side view, `beyond` past its face.
  std::vector<Vec2> Points(double beyond_mm) const {
    const auto& v = pad().outline.vertices;  // foot, foot, face, face
    const Vec2 out = (v[3].point + v[2].point - v[0].point - v[1].point).normalized();
    std::vector<Vec2> points;
    for (int i = 0; i <= 60; ++i) {
      const Vec2 foot = v[1].point + (v[0].point - v[1].point) * i / 60.0;
      const Vec2 face = v[2].point + (v[3].point - v[2].point) * i / 60.0 + beyond_mm * out;
      for (int k = 0; k <= 20; ++k) points.push_back(foot + (face - foot) * k / 20.0);
    }
    return points;
  }
  bool MeetsCase(double theta, double beyond_mm) {
    const auto place = oracle.Place(Body::kLid, theta);
    const LayerSpan& span = pad().span;
    for (const Vec2& p : Points(beyond_mm)) {
      const Vec2 at = place(p);
      for (int i = 0; i <= 8; ++i) {
        const double z = span.z_min_mm + (span.z_max_mm - span.z_min_mm) * i / 8.0;
        if (truth.CaseAt(at.x(), at.y(), z)) return true;
      }
    }
    return false;
  }

  BoxModel box;
  Hinge hinge;
  BoxTruth truth;
  LoopOracle oracle;
};

}  // namespace

TEST_CASE("where no post stops the lid a pad comes down on the case when it is open, not before") {
  Padded padded;
  CHECK_FALSE(padded.hinge.parts->stop);
  CHECK(padded.hinge.parts->complete);
  for (double theta = 0.0; theta < kOpenCash_rad - kStopFree_rad; theta += 0.5 * kRadPerDeg) {
    CAPTURE(theta);
    CHECK_FALSE(padded.MeetsCase(theta, 0.0));
  }
  CHECK_FALSE(padded.MeetsCase(kOpenCash_rad, 0.0));
  CHECK(padded.MeetsCase(kOpenCash_rad, 0.02));  // by so little it is free
  CHECK(padded.MeetsCase(kOpenCash_rad + 0.25 * kRadPerDeg, 0.0));
}

TEST_CASE("a pad's foot is on the lid's back all over, its bevel counted in") {
  Padded padded;
  const Pad& pad = padded.pad();
  const auto& v = pad.outline.vertices;
  for (int i = 0; i <= 20; ++i) {
    const Vec2 on = v[1].point + (v[0].point - v[1].point) * i / 20.0;
    const Vec2 in = (v[0].point + v[1].point - v[2].point - v[3].point).normalized();
    for (const double z : {pad.span.z_min_mm + 0.5, pad.span.z_max_mm - 0.5}) {
      // The outline's foot lies as deep as the bowed back is anywhere over the pad's length.
      const Vec2 deep = on + 0.05 * in, shallow = on - 3.5 * in;
      CHECK(padded.truth.LidAt(deep.x(), deep.y(), z));
      CHECK_FALSE(padded.truth.LidAt(shallow.x(), shallow.y(), z));
    }
  }
}

TEST_CASE("what presses on a pad is what virtual work says, and the rim bears it") {
  Padded padded;
  const HingeForces& forces = *padded.hinge.forces;
  const Pad& pad = padded.pad();
  const double step = 1e-4;
  const auto way = [&](const Vec2& shut) -> Vec2 {
    return (padded.oracle.Place(Body::kLid, kOpenCash_rad + step)(shut) -
            padded.oracle.Place(Body::kLid, kOpenCash_rad - step)(shut)) /
           (2.0 * step);
  };
  const Vec2 shut = padded.oracle.Place(Body::kLid, kOpenCash_rad).Inverse()(pad.contact);
  const double comes = way(shut).dot(pad.normal);
  CHECK(pad.approach_mm == Approx(comes).epsilon(1e-4));
  const double weight = -forces.load.lid.mass_kg * 9.80665 * way(forces.load.lid.centre).y() / 2.0;
  const double hand =
      forces.load.lean_n * forces.load.lean_share * way(padded.box.task.front_edge).norm();
  const auto pressed = std::find_if(forces.strengths.begin(), forces.strengths.end(),
                                    [](const Strength& s) { return s.leaning && s.part == "pad"; });
  REQUIRE(pressed != forces.strengths.end());
  // The arms' own weight is left out here.
  CHECK(pressed->load == Approx((weight + hand) / comes).epsilon(0.03));
  CHECK(pressed->acts == Approx(pressed->load / (pad.Length_mm() * std::max(3.0, pad.bears_mm))));
  CHECK(pressed->Factor() >= pressed->wanted);
}

TEST_CASE("a pad is in the list and in the order of work, with one thickness") {
  Padded padded;
  const HingeSet& set = *padded.hinge.parts;
  const PartsList list = MakePartsList(set.pieces, set.buy, false, nullptr);
  REQUIRE(ItemOf(list, "pad") > 0);
  const PartsRow& row = list.parts[static_cast<std::size_t>(ItemOf(list, "pad") - 1)];
  CHECK(row.count == 2);
  CHECK(row.material == "hardwood");
  const std::vector<WorkStep> steps = WorkSteps(padded.box.job, set);
  const auto step = std::find_if(steps.begin(), steps.end(),
                                 [](const WorkStep& s) { return s.title == "Fit the pads"; });
  REQUIRE(step != steps.end());
  CHECK(step->pieces == std::vector<std::string>{"pad"});
  const Pad& pad = padded.pad();
  for (const double mm : {pad.outer_end.lower_mm, pad.outer_end.upper_mm, pad.inner_end.lower_mm,
                          pad.inner_end.upper_mm}) {
    const std::string planed = BenchLength(std::round(10.0 * mm) / 10.0, false);
    INFO(planed);
    CHECK(row.size.find(planed) != std::string::npos);
    CHECK(step->text.find(planed) != std::string::npos);
  }
}

TEST_CASE("a pad may touch the case and nothing else that stands with it") {
  const auto shape = [](Body body) {
    return std::make_shared<const PartTree>(
        MakePrism("", body, 0.0, 1.0, {{{0.0, 0.0}, {1.0, 0.0}, {0.0, 1.0}}}));
  };
  const Assembly::Registered pad{PartKind::kPiece, Member::kStop, Body::kCase, false,
                                 shape(Body::kLid)};
  for (const PartKind kind : {PartKind::kCase, PartKind::kWall, PartKind::kBench,
                              PartKind::kContents, PartKind::kPiece}) {
    const Assembly::Registered other{kind, Member::kNone, {}, false, shape(Body::kCase)};
    CHECK(MayTouch(pad, other) == (kind == PartKind::kCase));
    CHECK(MayTouch(other, pad) == (kind == PartKind::kCase));
  }
}

}  // namespace lidwright
