// SPDX-License-Identifier: Apache-2.0
// Whole designs against an oracle of other code: poses by Newton on the loop equation, distances by
// GEOS, requirements written out once more.
#include <catch2/catch.hpp>
#include <cmath>

#include "design/examples.h"
#include "lidwright/design/make_design.h"
#include "lidwright/geometry/outline.h"
#include "swing/geos_distance.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

constexpr double kStep_rad = 0.5 * kRadPerDeg;

std::vector<Ring> Placed(const std::vector<Ring>& rings, const Placing& placing) {
  std::vector<Ring> placed = rings;
  for (Ring& ring : placed) {
    for (Vec2& p : ring) p = placing(p);
  }
  return placed;
}

struct Placings {
  Placing lid, arm_a, arm_b;
};

// The three moving bodies at θ, from the oracle's arm turns alone.
Placings PlacingsAt(LoopOracle& oracle, const Pivots& p, double theta) {
  const auto turns = oracle.At(theta);
  const Complex ga = AsComplex(p.ground_a), gb = AsComplex(p.ground_b), la = AsComplex(p.lid_a);
  Placings placings;
  placings.arm_a = Placing::About(ga, turns.a);
  placings.arm_b = Placing::About(gb, turns.b);
  const Complex turn = std::polar(1.0, theta);
  placings.lid = {turn, placings.arm_a(la) - turn * la};
  return placings;
}

// Sections at one z straight from the stations: blended between neighbours by shares.
struct Section {
  double z;
  std::vector<Ring> box, lid;
};

std::vector<Section> SectionsOf(const Solid& solid) {
  std::vector<Section> sections;
  for (const Station& s : solid.stations) sections.push_back({s.z_mm, s.case_rings, s.lid_rings});
  for (std::size_t i = 0; i + 1 < solid.stations.size(); ++i) {
    const Station &a = solid.stations[i], &b = solid.stations[i + 1];
    if (a.z_mm == b.z_mm || a.case_rings[0].size() != b.case_rings[0].size()) continue;
    Section middle{(a.z_mm + b.z_mm) / 2.0, a.case_rings, a.lid_rings};
    for (std::size_t k = 0; k < middle.box[0].size(); ++k) {
      middle.box[0][k] = (middle.box[0][k] + b.case_rings[0][k]) / 2.0;
    }
    for (std::size_t k = 0; k < middle.lid[0].size(); ++k) {
      middle.lid[0][k] = (middle.lid[0][k] + b.lid_rings[0][k]) / 2.0;
    }
    sections.push_back(middle);
  }
  return sections;
}

const Verdict& Named(const Hinge& hinge, const std::string& what) {
  for (const Verdict& v : hinge.verdicts) {
    if (v.what == what) return v;
  }
  throw std::runtime_error("no verdict " + what);
}

// Everything a hinge claims, looked at from outside.
void CheckHinge(const BoxModel& box, const Hinge& hinge, const Geos& geos) {
  const Job& job = box.job;
  LoopOracle oracle(hinge.pivots);
  REQUIRE(oracle.Follow(job.swing.open_rad) >= job.swing.open_rad - 1e-12);
  REQUIRE(hinge.arm_a);
  REQUIRE(hinge.arm_b);
  const std::vector<Section> sections = SectionsOf(box.solid);
  REQUIRE(sections.size() >= 6);
  const std::vector<Ring> arm_a{Flatten(hinge.arm_a->outline, 0.01)};
  const std::vector<Ring> arm_b{Flatten(hinge.arm_b->outline, 0.01)};
  const bool same_layer = hinge.arm_a->layer == hinge.arm_b->layer;
  double lid_gap = 1e300, arm_gap = 1e300, between = 1e300;
  for (double theta = 0.0; theta <= job.swing.open_rad + 1e-12; theta += kStep_rad) {
    const Placings at = PlacingsAt(oracle, hinge.pivots, std::min(theta, job.swing.open_rad));
    const std::vector<Ring> a = Placed(arm_a, at.arm_a), b = Placed(arm_b, at.arm_b);
    for (const Section& section : sections) {
      const std::vector<Ring> lid = Placed(section.lid, at.lid);
      if (theta >= job.swing.gap_from_rad) {
        lid_gap = std::min(lid_gap, geos.Distance(section.box, lid));
      }
      for (const auto& [arm, rings] : {std::pair(&*hinge.arm_a, &a), {&*hinge.arm_b, &b}}) {
        if (section.z < arm->z_min_mm || section.z > arm->z_max_mm) continue;
        arm_gap = std::min(arm_gap, geos.Distance(section.box, *rings));
        arm_gap = std::min(arm_gap, geos.Distance(lid, *rings));
      }
    }
    if (same_layer) between = std::min(between, geos.Distance(a, b));
    for (const Contents& contents : job.contents) {
      for (const auto& [arm, rings] : {std::pair(&*hinge.arm_a, &a), {&*hinge.arm_b, &b}}) {
        const bool beside = arm->z_min_mm < contents.z_max_mm && contents.z_min_mm < arm->z_max_mm;
        if (beside) arm_gap = std::min(arm_gap, geos.Distance(contents.rings, *rings));
      }
    }
  }
  // Nothing the oracle finds is nearer than what was certified, and that is what was asked for. The
  // certificate's reserve for the stations' and chords' errors is at most 0.1 mm; samples half a
  // degree apart may miss the least gap by a little more than they see.
  const double certified = Named(hinge, "lid to case").found;
  CHECK(certified >= job.swing.gap_mm);
  CHECK(lid_gap >= certified);
  CHECK(lid_gap <= certified + 0.1 + 1.0);
  CHECK(arm_gap >= job.arms.gap_mm);
  if (same_layer) CHECK(between >= job.arms.gap_mm);
  // Access and room, from the open lid's points.
  const Placings open = PlacingsAt(oracle, hinge.pivots, job.swing.open_rad);
  double foremost = -1e300, rearmost = 1e300;
  for (double theta = 0.0; theta <= job.swing.open_rad; theta += kStep_rad) {
    const Placings at = PlacingsAt(oracle, hinge.pivots, theta);
    for (const Section& section : sections) {
      for (const Vec2& p : section.lid[0]) rearmost = std::min(rearmost, at.lid(p).x());
    }
  }
  for (const Section& section : sections) {
    for (const Vec2& p : section.lid[0]) foremost = std::max(foremost, open.lid(p).x());
  }
  CHECK(foremost <= job.room.open_behind_x_mm);
  const double mouth = box.solid.mouth_front_mm - box.solid.mouth_back_mm;
  CHECK(box.solid.mouth_front_mm - foremost >= job.room.mouth_free * mouth);
  CHECK(rearmost >= -job.room.behind_mm);
  // First motion (R4): the rim's rearmost touching point rises, so the instant centre is behind it.
  const LidMotion motion = *LidMotion::Make(hinge.pivots);
  double rim = 1e300;
  for (const Section& section : sections) {
    for (const Vec2& p : section.lid[0]) rim = std::min(rim, p.x());
  }
  CHECK(motion.InstantCentre(motion.At(0.0)).x() < rim);
  // Pivots on the shop's grid.
  for (const double number : NumbersOf(hinge.pivots)) {
    CHECK(std::abs(std::remainder(number, job.shop.grid_mm)) < 1e-9);
  }
  CHECK(hinge.arm_a->inside_radius_mm >= job.shop.cutter_mm / 2.0 - 1e-9);
  CHECK(hinge.arm_b->inside_radius_mm >= job.shop.cutter_mm / 2.0 - 1e-9);
}

}  // namespace

TEST_CASE("every hinge of every example clears for an independent eye", "[design][slow]") {
  const Geos geos;
  int hinges = 0;
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    const BoxModel box(ExampleJob(name));
    const Design design = MakeDesign(box);
    REQUIRE(design.hinges.size() >= 2);
    CHECK_FALSE(design.none);
    for (const Hinge& hinge : design.hinges) {
      INFO(hinge.character);
      CHECK(AllMet(hinge.verdicts));
      CheckHinge(box, hinge, geos);
      ++hinges;
    }
    for (std::size_t i = 0; i < design.hinges.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        CHECK(Apart_mm(design.hinges[i].pivots, design.hinges[j].pivots) >= 10.0);
      }
    }
  }
  CHECK(hinges >= 6);
}

TEST_CASE("with too little room behind the answer names the room, and giving it works",
          "[design][slow]") {
  const Job job = ExampleJob("sample_chest_tight");
  const BoxModel box(job);
  const Design design = MakeDesign(box);
  REQUIRE(design.hinges.empty());
  REQUIRE(design.none);
  CHECK(design.none->failing == "room behind");
  REQUIRE_FALSE(design.none->remedies.empty());
  const double needed = job.room.behind_mm + design.none->missed_by;
  // A throw-away random trial found answers at 80 (design.md); what is named must not be more.
  CHECK(needed <= 80.0);
  Job roomier = job;
  roomier.room.behind_mm = needed;
  const BoxModel enough(roomier);
  DesignOptions brief;
  brief.explain = false;
  CHECK_FALSE(MakeDesign(enough, brief).hinges.empty());
}

TEST_CASE("without the end walls' stations the search is fooled (R1)", "[design][slow]") {
  // The same box as a list of hollow sections reaching out to its ends, with end walls too thin to
  // matter: lids then swing through where the walls would be.
  const BoxModel honest(ExampleJob("sample_chest"));
  LidTask blind = honest.task;
  blind.sections.erase(blind.sections.begin(), blind.sections.begin() + 2);  // the end walls
  SearchOptions options;
  options.seeds = 100'000;
  options.keep = 24;
  int through_walls = 0, looked_at = 0;
  for (const Candidate& candidate : FindLinkages(blind, options).candidates) {
    if (candidate.violation > 1e-3) continue;
    ++looked_at;
    const Verdicts verdicts =
        CertifyLid(honest.job, honest.parts, honest.solid, *LidMotion::Make(candidate.pivots));
    for (const Verdict& v : verdicts) {
      if (v.what == "lid to case" && !v.met && v.parts.find("end wall") != std::string::npos) {
        ++through_walls;
      }
    }
  }
  CHECK(looked_at > 0);
  CHECK(through_walls > 0);
}

TEST_CASE("the design does not depend on the number of threads", "[design]") {
  const BoxModel box(ExampleJob("jewellery_casket"));
  DesignOptions options;
  options.seeds = 60'000;
  options.threads = 1;
  const Design one = MakeDesign(box, options);
  REQUIRE_FALSE(one.hinges.empty());
  for (const int threads : {2, 3}) {
    options.threads = threads;
    const Design other = MakeDesign(box, options);
    REQUIRE(other.hinges.size() == one.hinges.size());
    for (std::size_t i = 0; i < one.hinges.size(); ++i) {
      CHECK(NumbersOf(one.hinges[i].pivots) == NumbersOf(other.hinges[i].pivots));
      CHECK(one.hinges[i].arm_a->outline.vertices.size() ==
            other.hinges[i].arm_a->outline.vertices.size());
      CHECK(one.hinges[i].traits.least_gap_mm == other.hinges[i].traits.least_gap_mm);
    }
  }
}

TEST_CASE("pinned pivots stay where they are", "[design]") {
  Job job = ExampleJob("sample_chest");
  job.pivots.ground_a = Vec2(41.25, -39.75);
  const BoxModel box(job);
  const Design design = MakeDesign(box);
  REQUIRE_FALSE(design.hinges.empty());
  for (const Hinge& hinge : design.hinges) CHECK(hinge.pivots.ground_a == Vec2(41.25, -39.75));
}

TEST_CASE("a maker's own geometry is judged: what fails, where, by how much", "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  const auto fails = [&](const Pivots& pivots) {
    std::vector<std::string> names;
    for (const Verdict& v : JudgeHinge(box, pivots, {}, {}).verdicts) {
      if (!v.met) names.push_back(v.what);
    }
    return names;
  };
  const auto has = [](const std::vector<std::string>& names, const std::string& name) {
    return std::find(names.begin(), names.end(), name) != names.end();
  };
  SECTION("parallel arms cannot turn the lid") {
    const Hinge hinge = JudgeHinge(box, {{40, -60}, {80, -60}, {40, -10}, {80, -10}}, {}, {});
    REQUIRE(hinge.verdicts.size() == 1);
    CHECK_FALSE(hinge.verdicts[0].met);
    CHECK(hinge.verdicts[0].remark.find("parallel") != std::string::npos);
  }
  SECTION("a motion that turns back before the opening angle says where") {
    const Pivots pivots{{40, -60}, {110, -90}, {60, -10}, {96, -60}};
    const double range = LidMotion::Make(pivots)->Range().high_rad;
    REQUIRE(range < box.job.swing.open_rad);
    const Hinge hinge = JudgeHinge(box, pivots, {}, {});
    CHECK(has(fails(pivots), "opening angle"));
    CHECK(hinge.verdicts[0].found == Approx(range * kDegPerRad));
  }
  SECTION("an instant centre inside the box digs the rim in") {
    // Arms that cross above the mouth's middle.
    const Pivots pivots{{60, -60}, {140, -60}, {75, -10}, {125, -10}};
    const LidMotion motion = *LidMotion::Make(pivots);
    REQUIRE(motion.InstantCentre(motion.At(0.0)).x() > 0.0);
    REQUIRE(motion.Range().high_rad > 0.2);
    const auto names = fails(pivots);
    CHECK((has(names, "first motion") || has(names, "opening angle")));
  }
  SECTION("the program's own hinge passes when it is fed back") {
    const Design design = MakeDesign(box);
    for (const Hinge& hinge : design.hinges) {
      const Hinge again = JudgeHinge(box, hinge.pivots, hinge.arm_a, hinge.arm_b);
      CHECK(AllMet(again.verdicts));
      CHECK(again.traits.least_gap_mm == hinge.traits.least_gap_mm);
    }
  }
}

TEST_CASE("the wall behind is among what the lid must clear when the job has one", "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  REQUIRE(std::isfinite(box.job.room.behind_mm));
  const Design design = MakeDesign(box);
  REQUIRE_FALSE(design.hinges.empty());
  for (const Hinge& hinge : design.hinges) {
    const Verdict& wall = Named(hinge, "lid to wall and ceiling");
    CHECK(wall.parts.find("wall behind") != std::string::npos);
    CHECK(wall.found == Approx(box.job.room.behind_mm - hinge.traits.reach_behind_mm).margin(0.2));
  }
}
