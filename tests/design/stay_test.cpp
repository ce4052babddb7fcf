// SPDX-License-Identifier: Apache-2.0
// A stay that is chosen: its length and slack by a four-bar solved apart, its pull by virtual work
// with differences of that four-bar's poses, its place by the question about a point of the box.
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/arms/hinge_set.h"
#include "lidwright/base/bench.h"
#include "lidwright/cutting/work_steps.h"
#include "lidwright/design/risks.h"
#include "lidwright/design/stay_choice.h"
#include "lidwright/job/read_job.h"
#include "places.h"
#include "solid/box_truth.h"

namespace lidwright {
namespace {

constexpr double kOpen = 95.0;

Job Tray(const std::string& more = "") {
  const auto reading = ReadJob(
      R"({"units":"mm","name":"A tea merchant's tray","case":{"width":400,"depth":300,"height":60,
      "wall":6,"back_bow":5},"lid":{"rim":16,"crown":25},"arms":{"material":"aluminium",
      "thickness":2,"width":10,"bushing":5,"eye":10},"plates":{"case_thickness":3,
      "lid_thickness":3})" +
          more + "}",
      "tray.json");
  REQUIRE(reading.job);
  return *reading.job;
}
const Pivots kPivots{{12.0, -31.0}, {14.0, -6.0}, {104.5, -19.5}, {38.5, -1.5}};

// Where a point of the lid is at an angle: the lid's origin by meeting circles about the case
// pivots, by bisection on the second arm's length along the first arm's circle, from shut onwards.
class LidApart {
 public:
  Vec2 At(const Vec2& p, double degrees) const {
    double turn = 0.0;  // of arm A
    for (double at = 0.0; at < degrees - 1e-9;) {
      at = std::min(degrees, at + 0.25);
      turn = Solved(at * kRadPerDeg, turn);
    }
    return Placed(p, degrees * kRadPerDeg, turn);
  }

 private:
  static Vec2 Turned(const Vec2& v, double angle) {
    return {std::cos(angle) * v.x() - std::sin(angle) * v.y(),
            std::sin(angle) * v.x() + std::cos(angle) * v.y()};
  }
  static Vec2 Placed(const Vec2& p, double theta, double turn) {
    const Vec2 a = kPivots.case_a + Turned(Vec2(kPivots.lid_a - kPivots.case_a), turn);
    return a + Turned(Vec2(p - kPivots.lid_a), theta);
  }
  static double Off(double theta, double turn) {
    return (Placed(kPivots.lid_b, theta, turn) - kPivots.case_b).norm() -
           (kPivots.lid_b - kPivots.case_b).norm();
  }
  static double Solved(double theta, double near) {
    double low = near, high = near;
    for (double reach = 1e-4; reach < 0.2; reach *= 1.3) {
      low = near - reach;
      high = near + reach;
      if (Off(theta, low) * Off(theta, near) <= 0.0) {
        high = near;
        break;
      }
      if (Off(theta, high) * Off(theta, near) <= 0.0) {
        low = near;
        break;
      }
    }
    REQUIRE(Off(theta, low) * Off(theta, high) <= 0.0);
    for (int i = 0; i < 60; ++i) {
      const double middle = (low + high) / 2.0;
      (Off(theta, low) * Off(theta, middle) <= 0.0 ? high : low) = middle;
    }
    return (low + high) / 2.0;
  }
};

}  // namespace

TEST_CASE("where no post stops the lid a stay does, taut when it is open and slack before") {
  const BoxModel box(Tray());
  Hinge hinge = JudgeHinge(box, kPivots, {}, {});
  REQUIRE(hinge.parts);
  REQUIRE_FALSE(Does(hinge));
  REQUIRE_FALSE(hinge.parts->stop);
  AddStayWhereNeeded(box, hinge);
  CHECK(Does(hinge));
  REQUIRE(hinge.parts->stay);
  const Stay& stay = *hinge.parts->stay;

  const LidApart lid;
  const auto apart = [&](double degrees) {
    return (lid.At(stay.on_lid, degrees) - stay.on_case).norm();
  };
  CHECK(apart(kOpen) == Approx(stay.length_mm).margin(1e-6));
  for (double at = 0.0; at <= kOpen - 0.5; at += 1.0) {
    CAPTURE(at);
    CHECK(apart(at) < stay.length_mm);
  }

  // Its ends are in the wood of the end walls and its middle line is in none, beside the bay.
  const testing::BoxTruth truth(box.job);
  const double in_wall = box.solid.bay.z_max_mm + 1.0, in_bay = box.solid.bay.z_max_mm - 1.0;
  CHECK(truth.CaseAt(stay.on_case.x(), stay.on_case.y(), in_wall));
  CHECK(truth.LidAt(stay.on_lid.x(), stay.on_lid.y(), in_wall));
  const Vec2 end = lid.At(stay.on_lid, kOpen);
  for (int i = 0; i <= 100; ++i) {
    const Vec2 p = stay.on_case + (end - stay.on_case) * i / 100.0;
    const double c = std::cos(kOpen * kRadPerDeg), s = std::sin(kOpen * kRadPerDeg);
    const Vec2 origin = lid.At(Vec2::Zero(), kOpen), off = p - origin;
    CHECK_FALSE(truth.CaseAt(p.x(), p.y(), in_bay));
    CHECK_FALSE(truth.LidAt(c * off.x() + s * off.y(), -s * off.x() + c * off.y(), in_bay));
  }

  // Virtual work at the open lid: what the lid's weight and a hand at its edge do for a small turn,
  // the stays do against it. The most over all directions of the hand.
  const HingeForces& forces = *hinge.forces;
  const double step = 0.01;
  const auto way = [&](const Vec2& p) -> Vec2 {
    return (lid.At(p, kOpen) - lid.At(p, kOpen - step)) / step;
  };
  const double stretch = (apart(kOpen) - apart(kOpen - step)) / step;
  const double weight =
      -forces.load.lid.mass_kg * 9.80665 * way(forces.load.lid.centre).y() / stretch / 2.0;
  const double hand =
      forces.load.lean_n * forces.load.lean_share * way(box.task.front_edge).norm() / stretch;
  const Strength* pulled = nullptr;
  for (const Strength& s : forces.strengths) {
    if (s.leaning && s.part == "stay") pulled = &s;
  }
  REQUIRE(pulled);
  // The arms' own weight is left out here, and the last quarter of a degree is not the last point.
  CHECK(pulled->acts == Approx(weight + hand).epsilon(0.03));
  CHECK(pulled->bears >= pulled->acts);
}

TEST_CASE(
    "a stay's step says what holds it: hole, size and length, and that a bolt shows outside") {
  const BoxModel box(Tray());
  Hinge hinge = JudgeHinge(box, kPivots, {}, {});
  AddStayWhereNeeded(box, hinge);
  REQUIRE(hinge.parts->stay);
  const auto told = [&](bool bolted) {
    hinge.parts->stay->fixing.bolted = bolted;
    for (const WorkStep& step : WorkSteps(box.job, *hinge.parts)) {
      if (step.title == "Fit the stays") return step.text + " " + step.tool;
    }
    return std::string();
  };
  const auto warned = [&] {
    Design design;
    design.job = box.job;
    Hinge without_forces = hinge;  // whose risks are worse
    without_forces.forces.reset();
    for (const Risk& risk : RisksOf(design, without_forces)) {
      if (risk.text.find("show outside") != std::string::npos) return true;
    }
    return false;
  };
  const StayFixing& fixing = hinge.parts->stay->fixing;
  for (const bool bolted : {true, false}) {
    const std::string text = told(bolted);
    INFO(text);
    CHECK(warned() == bolted);
    for (const double mm : {fixing.hole_mm, fixing.in_case.length_mm, fixing.in_lid.length_mm}) {
      CHECK(text.find(BenchText(mm, Bench::kHole, false)) != std::string::npos);
    }
    CHECK(text.find(fixing.name + " x ") != std::string::npos);
    CHECK((text.find("right through case and lid") != std::string::npos) == bolted);
    CHECK((text.find("cap nut outside") != std::string::npos) == bolted);
  }
}

TEST_CASE("where a lid plate's screws give, its row of them is made as long as it has to be") {
  const auto reading = ReadJob(
      R"({"units":"mm","case":{"width":1000,"depth":450,"height":400,"wall":18,"back_bow":12},
      "lid":{"rim":25,"crown":90},"loads":{"wood":"white oak"},"arms":{"material":"aluminium",
      "thickness":2,"width":10,"bushing":5,"eye":10},
      "hardware":{"bushing_bore":4.55,"pin":4.5},
      "plates":{"case_thickness":3,"lid_thickness":3}})",
      "chest.json");
  REQUIRE(reading.job);
  const BoxModel box(*reading.job);
  Hinge hinge = JudgeHinge(box, {{25.5, -63.5}, {32.5, -6.0}, {117.5, -66.5}, {91.0, 2.0}}, {}, {});
  REQUIRE(hinge.parts);
  REQUIRE_FALSE(Does(hinge));
  const auto row = [](const Hinge& h) {
    const auto& screws = h.parts->lid_plate->screws;
    return (screws.back() - screws.front()).norm();
  };
  const double before = row(hinge);
  AddStayWhereNeeded(box, hinge);
  CHECK(Does(hinge));
  CHECK(row(hinge) > 1.2 * before);
  // The code's allowed load of a screw in this oak, written out: group 2 of the table (0.51 to
  // 0.62), 3960 psi by diameter squared, in proportion up to seven diameters of thread. Two screws
  // share the pins' force and bear what turns the plate about their middle by half the row.
  const PlateHold& held = *hinge.forces->load.lid_plate;
  const double d = held.screw_mm;
  const double gravity = box.job.loads.density_kg_m3 / 1120.0;
  const double psi = gravity >= 0.62 ? 4800.0 : gravity >= 0.51 ? 3960.0 : 3240.0;
  const double bears = psi * 0.00689475729 * d * d * std::min(1.0, held.thread_mm / (7.0 * d));
  int pushed = 0;
  for (const Strength& s : hinge.forces->strengths) {
    if (s.of != Member::kLidPlate || s.how != "pushed across") continue;
    ++pushed;
    CHECK(s.bears == Approx(bears).epsilon(1e-6));
    CHECK(s.acts * s.wanted <= bears);
  }
  CHECK(pushed == 2);
}

TEST_CASE("who fits a stay of their own, and a hinge that does without, get none") {
  const BoxModel own(Tray(R"(,"loads":{"stay":true})"));
  Hinge hinge = JudgeHinge(own, kPivots, {}, {});
  REQUIRE(hinge.parts);
  AddStayWhereNeeded(own, hinge);
  CHECK_FALSE(hinge.parts->stay);

  // The same hinge where it does: once it has its stay, it is not given another.
  const BoxModel box(Tray());
  Hinge held = JudgeHinge(box, kPivots, {}, {});
  AddStayWhereNeeded(box, held);
  REQUIRE(held.parts->stay);
  REQUIRE(Does(held));
  const Vec2 before = held.parts->stay->on_lid;
  held.character = "held";
  AddStayWhereNeeded(box, held);
  CHECK(held.parts->stay->on_lid == before);
  CHECK(held.character == "held");
}

TEST_CASE("a stay that would lie on an arm or stand on a pin is no part of a whole hinge") {
  const BoxModel box(Tray());
  Hinge hinge = JudgeHinge(box, kPivots, {}, {});
  AddStayWhereNeeded(box, hinge);
  REQUIRE(hinge.parts->stay);
  const LidMotion motion = *LidMotion::Make(kPivots);
  const Swing swing(motion, 0.0, box.limits.open_rad);
  const auto made = [&](const Vec2& on_case, const Vec2& on_lid) {
    HingeSetOptions options;
    options.stay = hinge.parts->stay;
    options.stay->on_case = on_case;
    options.stay->on_lid = on_lid;
    options.stay->lid_end_open = motion.At(box.limits.open_rad).X_CL * on_lid;
    options.stay->length_mm = (options.stay->lid_end_open - on_case).norm();
    return MakeHingeSet(box.arms, swing, *hinge.arm_a, *hinge.arm_b, options);
  };
  const Stay& good = *hinge.parts->stay;
  CHECK(made(good.on_case, good.on_lid).complete);
  // Onto the case pin of arm A: the screw stands where the pin does.
  CHECK_FALSE(made(kPivots.case_a + Vec2(1.0, 0.0), good.on_lid).complete);
  // From far back and low to the lid: across the open arms.
  const HingeSet across = made(Vec2(12.0, -50.0), good.on_lid);
  const Verdict* free = Find(across.verdicts, Requirement::kStayFree, Member::kStay);
  const bool refused = !across.faults.empty() || (free && !free->met());
  CHECK(refused);
}

}  // namespace lidwright
