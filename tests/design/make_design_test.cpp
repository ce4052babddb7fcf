// SPDX-License-Identifier: Apache-2.0
// Whole designs against an oracle of other code: poses by Newton on the loop equation, distances by
// GEOS, requirements written out once more (independent_eye.h).
#include "lidwright/design/make_design.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "arms/hinge_cases.h"
#include "bench/random_boxes.h"
#include "certify/verdicts.h"
#include "design/examples.h"
#include "design/independent_eye.h"
#include "design/least_seen.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/job/write_job.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

const Verdict& Named(const Hinge& hinge, const std::string& what) {
  for (const Verdict& v : hinge.verdicts) {
    if (NameOf(v) == what) return v;
  }
  throw std::runtime_error("no verdict " + what);
}

std::string Lines(const std::vector<std::string>& texts) {
  std::string lines;
  for (const std::string& text : texts) lines += text + "\n";
  return lines;
}

Design Brief(const BoxModel& box) {
  DesignOptions options;
  options.explain = false;
  return MakeDesign(box, options);
}

// Everything a hinge claims, looked at from outside at a tenth of a degree, at every station, half
// way between and where arms begin and end, at both ends of the box.
void CheckHinge(const BoxModel& box, const Hinge& hinge, const Geos& geos) {
  const Job& job = box.job;
  REQUIRE(hinge.arm_a);
  REQUIRE(hinge.arm_b);
  const Seen seen = LookAt(job, box.solid, hinge.pivots, hinge.arm_a, hinge.arm_b, geos);
  REQUIRE(seen.opens);
  CHECK(seen.poses > 900);
  CHECK(seen.sections >= 6);
  CHECK(Lines(Complaints(box, seen, true)).empty());
  // Nothing is nearer than what was certified, and that is below by no more than it takes off.
  const double certified = Named(hinge, "lid to case").found.value();
  CHECK(certified >= job.swing.gap_mm);
  CHECK(seen.lid_to_case >= certified);
  const LeastSeen least(job, box.solid, hinge.pivots, geos);
  CHECK(least.ToCase() <= certified + BoundsReserve_mm(box.solid) + kEyeWithin_mm);
  CHECK(hinge.traits.least_gap_mm == certified);
  // The figure told is that at every degree; a lid comes no farther between than it can get there.
  const int degrees = static_cast<int>(std::ceil(job.swing.open_rad * kDegPerRad));
  CHECK(-least.RearmostAt(degrees) == Approx(hinge.traits.reach_behind_mm).margin(1e-6));
  // First motion (R4): all of the rim rises, so the instant centre, where the arms' lines meet, is
  // behind it.
  const Pivots& p = hinge.pivots;
  const Vec2 a = p.lid_a - p.case_a, b = p.lid_b - p.case_b;
  const Vec2 centre = p.case_a + Cross(Vec2(p.case_b - p.case_a), b) / Cross(a, b) * a;
  CHECK(centre.x() < -job.case_form.back_bow_mm);
  for (const double number : NumbersOf(p)) {
    CHECK(std::abs(std::remainder(number, job.shop.grid_mm)) < 1e-9);
  }
  for (const Arm* arm : {&*hinge.arm_a, &*hinge.arm_b}) {
    CHECK(arm->inside_radius_mm >= job.shop.cutter_mm / 2.0 - 1e-9);
  }
  CHECK(hinge.traits.mouth_free >= job.room.mouth_free);
  CHECK(hinge.forces);
}

// What remedies change, in mm, degrees and per cent, as their words print it.
double (*const kRemedied[])(const Job&) = {
    [](const Job& j) { return j.room.behind_mm; },
    [](const Job& j) { return j.swing.open_rad * kDegPerRad; },
    [](const Job& j) { return j.swing.gap_mm; },
    [](const Job& j) { return j.room.open_behind_x_mm; },
    [](const Job& j) { return j.lid.rim_mm; },
    [](const Job& j) { return j.bay.lid_drop_mm; },
    [](const Job& j) { return j.arms.width_mm; },
};

}  // namespace

TEST_CASE("every hinge of every example clears for an independent eye", "[design][slow]") {
  const Geos geos;
  int hinges = 0;
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    const BoxModel box(ExampleJob(name));
    const Design design = MakeDesign(box);
    REQUIRE_FALSE(design.hinges.empty());
    CHECK(design.hinges.size() <= 5);
    CHECK_FALSE(design.none);
    for (const Hinge& hinge : design.hinges) {
      INFO(hinge.character);
      CHECK(AllMet(hinge.verdicts));
      CheckHinge(box, hinge, geos);
      ++hinges;
    }
    for (std::size_t i = 0; i < design.hinges.size(); ++i) {
      for (std::size_t j = 0; j < i; ++j) {
        CHECK(Apart_mm(design.hinges[i].pivots, design.hinges[j].pivots) >= 4.0);
        CHECK(design.hinges[i].character != design.hinges[j].character);
      }
      // The first is the best in all, each other one better than it in what it is named by.
      const Merit &best = design.hinges[0].merit, &merit = design.hinges[i].merit;
      const std::string& named = design.hinges[i].character;
      CHECK(best.Total() <= merit.Total());
      CHECK((named == kAllRound) == (i == 0));
      if (named == "short arms") CHECK(merit.arms < best.arms);
      if (named == "near the wall") CHECK(merit.behind < best.behind);
      if (named == "light to lift") CHECK(merit.lift < best.lift);
      if (named == "steady") CHECK(merit.rattle + merit.misfit < best.rattle + best.misfit);
      if (named == "roomy inside") CHECK(merit.hang < best.hang);
      if (named == "strong") CHECK(merit.strength < best.strength);
    }
    // What was counted on the way grows smaller.
    const SearchRecord& record = design.search;
    CHECK(record.starts > record.opening);
    CHECK(record.opening > record.descents);
    CHECK(record.tried >= record.clearing);
    CHECK(record.clearing >= record.armed);
    CHECK(record.armed >= static_cast<long>(design.hinges.size()));
    CHECK(record.rounds >= 2);
  }
  CHECK(hinges >= 6);
}

TEST_CASE("the builds of the first hinge of every example are tried, and hardly one misses",
          "[design][slow]") {
  const Geos geos;
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    const Design design = MakeSizedDesign(ExampleJob(name));
    REQUIRE_FALSE(design.hinges.empty());
    const Hinge& first = design.hinges[0];
    CHECK(Does(first));
    CheckHinge(BoxModel(design.job), first, geos);
    // The share that counts in the choice comes from fewer builds than the one that is told: they
    // differ as samples do, here by three standard deviations and a build at most.
    REQUIRE(first.accuracy);
    const double told = first.accuracy->missed_share;
    const double counted = first.merit.builds / kBuildsWeight;
    CHECK(std::abs(counted - told) <= 3.0 * std::sqrt(told * (1.0 - told) / 400.0) + 1.0 / 400.0);
    CHECK(told < 0.05);
  }
}

TEST_CASE("a heavy lid is hung on arms that bear it", "[design][slow]") {
  const Job light = ExampleJob("sample_chest");
  Job heavy = light;
  heavy.loads.lid_mass_kg = 3.0;
  const BoxModel box(heavy);
  const Hinge of_light = Brief(BoxModel(light)).hinges.at(0);
  const Hinge of_heavy = Brief(box).hinges.at(0);
  // The light lid's hinge would not hold the heavy one; what is chosen for that is stronger.
  const double before = TraitsOf(box, of_light).arms_safety;
  CHECK(before < 1.0);
  CHECK(of_heavy.traits.arms_safety > before);
  // The figure is that of the full account of all loads, which looks at more angles.
  const LidMotion motion = *LidMotion::Make(of_heavy.pivots);
  const HingeForces forces =
      ForcesOf(heavy, box.solid, motion, box.task.front_edge, *of_heavy.arm_a, *of_heavy.arm_b,
               UsualLoadCase(heavy, box.solid, *of_heavy.arm_a, *of_heavy.arm_b));
  double least = 1e9;
  for (const Strength& s : forces.strengths) {
    if (s.kind == LoadedPart::kArm && !s.leaning) least = std::min(least, s.Factor() / s.wanted);
  }
  CHECK(of_heavy.traits.arms_safety >= least * (1.0 - 1e-9));
  CHECK(of_heavy.traits.arms_safety == Approx(least).epsilon(0.05));
}

TEST_CASE("with too little room behind the answer names the room, and giving it works",
          "[design][slow]") {
  Job job = ExampleJob("sample_chest_tight");
  job.room.behind_mm = 48.0;  // enough for the open lid itself …
  job.swing.gap_mm = 20.0;    // … and more than any hinge keeps in that room
  const BoxModel box(job);
  const Design design = MakeDesign(box);
  REQUIRE(design.hinges.empty());
  REQUIRE(design.none);
  CHECK(design.none->failing == "room behind");
  CHECK(design.none->unit == "mm");
  REQUIRE_FALSE(design.none->remedies.empty());
  // The open lid's own depth asks for 46.3 mm.
  const double needed = job.room.behind_mm + design.none->missed_by;
  CHECK(needed > 46.3);
  CHECK(needed <= 100.0);
  CHECK(design.none->remedies[0].words.find("room behind of ") == 0);
  CHECK(design.none->nearest_miss.has_value());
  // Each remedy as it is printed, done by hand, lets a hinge in.
  const auto number_after = [](const std::string& text, const std::string& words) {
    const std::size_t at = text.find(words);
    if (at == std::string::npos) return kUnset;
    return std::strtod(text.c_str() + at + words.size(), nullptr);
  };
  int done = 0;
  for (const Remedy& told : design.none->remedies) {
    const std::string& remedy = told.words;
    INFO(remedy);
    Job eased = job;
    if (const double behind = number_after(remedy, "room behind of "); !std::isnan(behind)) {
      eased.room.behind_mm = behind;
    } else if (const double deg = number_after(remedy, "opening to "); !std::isnan(deg)) {
      eased.swing.open_rad = deg * kRadPerDeg;
    } else if (const double gap = number_after(remedy, "a swing gap of "); !std::isnan(gap)) {
      eased.swing.gap_mm = gap;
    } else if (const double x = number_after(remedy, "stand forward to x = "); !std::isnan(x)) {
      eased.room.open_behind_x_mm = x;
      eased.room.mouth_free = number_after(remedy, ", leaving ") / 100.0;
    } else if (const double rim = number_after(remedy, "a lid rim of "); !std::isnan(rim)) {
      eased.lid.rim_mm = rim;
    } else if (const double drop = number_after(remedy, "that may hang "); !std::isnan(drop)) {
      eased.bay.lid_drop_mm = drop;
    } else if (const double width = number_after(remedy, "arms "); !std::isnan(width)) {
      eased.arms.eye_mm += width - eased.arms.width_mm;
      eased.arms.width_mm = width;
    } else {
      FAIL_CHECK("a remedy that cannot be followed");
      continue;
    }
    ++done;
    // Its keys in the job's file say the same, but for what the words round.
    Json file = Json::parse(WriteJob(job));
    for (const KeyChange& change : told.changes) {
      const std::size_t dot = change.key.find('.');
      file[change.key.substr(0, dot)][change.key.substr(dot + 1)] = Json::parse(change.text);
    }
    const JobReading changed = ReadJob(file.dump(), "changed");
    REQUIRE(changed.job);
    for (double (*figure)(const Job&) : kRemedied) {
      CHECK(figure(*changed.job) == Approx(figure(eased)).margin(0.051));
    }
    CHECK(file != Json::parse(WriteJob(job)));
    const BoxModel enough(eased);
    DesignOptions options;
    options.explain = false;
    CHECK_FALSE(MakeDesign(enough, options).hinges.empty());
  }
  CHECK(done == static_cast<int>(design.none->remedies.size()));
}

TEST_CASE("where the open lid alone is too deep for the room, it is proven that no hinge can",
          "[design]") {
  // An oracle apart: the lid's own corners turned, its depth against the room there is.
  Job job = ExampleJob("sample_chest_tight");
  const Solid solid = MakeSolid(job);
  double low = 1e300, high = -1e300;
  for (const Station& s : solid.stations) {
    for (const Ring& ring : s.lid_rings) {
      for (const Vec2& p : ring) {
        const double x =
            std::cos(job.swing.open_rad) * p.x() - std::sin(job.swing.open_rad) * p.y();
        low = std::min(low, x);
        high = std::max(high, x);
      }
    }
  }
  const double needed = high - low - job.room.open_behind_x_mm;
  DesignOptions options;
  options.explain = false;
  for (const double by : {-0.5, 3.0}) {
    job.room.behind_mm = needed + by;
    job.arms.width_mm = 8.0;
    const Design design = MakeDesign(BoxModel(job), options);
    INFO("room behind " << job.room.behind_mm << " mm");
    if (by < 0.0) {
      REQUIRE(design.none);
      CHECK(design.none->cannot.find("no hinge can: open at 95 deg") == 0);
      CHECK_FALSE(design.none->linkage);
    } else {
      CHECK_FALSE(design.hinges.empty());
    }
  }
}

TEST_CASE("the design does not depend on the number of threads", "[design][slow]") {
  const BoxModel box(ExampleJob("jewellery_casket"));
  DesignOptions options;
  options.threads = 1;
  const Design one = MakeDesign(box, options);
  REQUIRE_FALSE(one.hinges.empty());
  for (const int threads : {2, 3}) {
    options.threads = threads;
    const Design other = MakeDesign(box, options);
    REQUIRE(other.hinges.size() == one.hinges.size());
    CHECK(other.search.armed == one.search.armed);
    CHECK(other.plain.map == one.plain.map);
    for (std::size_t i = 0; i < one.hinges.size(); ++i) {
      const Hinge &p = one.hinges[i], &q = other.hinges[i];
      CHECK(NumbersOf(p.pivots) == NumbersOf(q.pivots));
      CHECK(p.character == q.character);
      REQUIRE(p.verdicts.size() == q.verdicts.size());
      for (std::size_t k = 0; k < p.verdicts.size(); ++k) {
        CHECK(p.verdicts[k].found == q.verdicts[k].found);
      }
      for (const auto& [s, t] : {std::pair(&p.arm_a, &q.arm_a), {&p.arm_b, &q.arm_b}}) {
        REQUIRE((*s)->outline.vertices.size() == (*t)->outline.vertices.size());
        for (std::size_t k = 0; k < (*s)->outline.vertices.size(); ++k) {
          CHECK((*s)->outline.vertices[k].point == (*t)->outline.vertices[k].point);
          CHECK((*s)->outline.vertices[k].bulge == (*t)->outline.vertices[k].bulge);
        }
      }
    }
    CHECK(one.hinges[0].accuracy.has_value() == other.hinges[0].accuracy.has_value());
  }
}

TEST_CASE("a chosen hinge stands first, and every choice can be pinned and comes back as itself",
          "[design][slow]") {
  const Job job = ExampleJob("sample_chest");
  Design design = Brief(BoxModel(job));
  REQUIRE(design.hinges.size() >= 2);
  CHECK(design.hinges[0].character == kAllRound);
  for (const Hinge& hinge : design.hinges) {
    Job pinned = job;
    pinned.pivots.case_a = hinge.pivots.case_a;
    pinned.pivots.case_b = hinge.pivots.case_b;
    pinned.pivots.lid_a = hinge.pivots.lid_a;
    pinned.pivots.lid_b = hinge.pivots.lid_b;
    const Design again = Brief(BoxModel(pinned));
    REQUIRE(again.hinges.size() == 1);
    CHECK(NumbersOf(again.hinges[0].pivots) == NumbersOf(hinge.pivots));
    CHECK(again.hinges[0].traits.least_gap_mm == hinge.traits.least_gap_mm);
    CHECK(AllMet(again.hinges[0].verdicts));
  }
  const Hinge second = design.hinges[1];
  CHECK_FALSE(Choose(design, "no such hinge"));
  CHECK(design.hinges[1].character == second.character);
  std::string dashed = second.character;
  std::replace(dashed.begin(), dashed.end(), ' ', '-');
  REQUIRE(Choose(design, dashed));
  CHECK(NumbersOf(design.hinges[0].pivots) == NumbersOf(second.pivots));
  REQUIRE(Choose(design, "2"));
  CHECK(design.hinges[0].character == kAllRound);
}

TEST_CASE("boxes that a search once missed get a hinge", "[design][slow]") {
  for (const bench::Box& each : bench::MissedBoxes()) {
    INFO(each.name);
    const Design design = Brief(BoxModel(*ReadJob(each.text, each.name).job));
    CHECK_FALSE(design.hinges.empty());
  }
}

TEST_CASE("another seed finds a hinge of about the same merit", "[design][slow]") {
  // The same to 2 % is wanted; this guards what was measured.
  for (const char* name : {"sample_chest", "barrel_chest"}) {
    double least = 1e9, most = 0.0;
    for (const unsigned seed : {1U, 2U, 3U}) {
      Job job = ExampleJob(name);
      job.seed = seed;
      DesignOptions options;
      options.explain = false;
      const double merit = MakeSizedDesign(job, options).hinges.at(0).merit.Total();
      least = std::min(least, merit);
      most = std::max(most, merit);
    }
    INFO(name);
    CHECK(most < 1.05 * least);
  }
}

TEST_CASE("where the stop gives first when somebody leans on the lid, its rod is thicker",
          "[design]") {
  int thicker = 0;
  for (const auto& [name, pivots] : ExampleLinkages()) {
    INFO(name);
    Job job = ExampleJob(name);
    job.arms.material = "aluminium";
    job.loads.stands = "fixed";
    const BoxModel box(job);
    const Hinge hinge = JudgeHinge(box, pivots, {}, {});
    if (!hinge.parts) continue;
    if (!hinge.parts->stop || !hinge.forces) continue;
    const double pin_mm = hinge.parts->hardware->bushing.pin_mm;
    CHECK(hinge.parts->stop->rod_mm >= pin_mm);
    if (hinge.parts->stop->rod_mm <= pin_mm) continue;
    ++thicker;
    // With the pins' rod it was the stop that gave first, and sooner.
    const LidMotion motion = *LidMotion::Make(pivots);
    const HingeSet usual =
        MakeHingeSet(box.arms, Swing(motion, 0.0, box.limits.open_rad), *hinge.arm_a, *hinge.arm_b);
    const HingeForces forces =
        ForcesOf(box.job, box.solid, motion, box.task.front_edge, *hinge.arm_a, *hinge.arm_b,
                 LoadCaseOf(box.job, box.solid, *hinge.arm_a, *hinge.arm_b, usual));
    const Strength *before = Weakest(forces, true), *after = Weakest(*hinge.forces, true);
    CHECK(before->kind == LoadedPart::kStop);
    CHECK(before->Factor() < before->wanted);
    CHECK(after->Factor() / after->wanted > before->Factor() / before->wanted);
    CHECK(hinge.parts->complete >= usual.complete);
  }
  CHECK(thicker >= 1);
}

TEST_CASE("pinned pivots stay where they are", "[design]") {
  Job job = ExampleJob("sample_chest");
  job.pivots.case_a = Vec2(41.25, -39.75);
  const Design design = Brief(BoxModel(job));
  REQUIRE_FALSE(design.hinges.empty());
  for (const Hinge& hinge : design.hinges) CHECK(hinge.pivots.case_a == Vec2(41.25, -39.75));
}

TEST_CASE("moved zones move the pivots", "[design]") {
  Job job = ExampleJob("sample_chest");
  job.pivots.case_zone = Zone{{20.0, -80.0}, {75.0, -12.0}};
  const BoxModel box(job);
  const Design design = Brief(box);
  REQUIRE_FALSE(design.hinges.empty());
  for (const Hinge& hinge : design.hinges) {
    for (const Vec2& p : {hinge.pivots.case_a, hinge.pivots.case_b}) {
      // Snapping to the grid may leave the zone by half a step.
      CHECK(p.x() >= 20.0 - 0.25);
      CHECK(p.x() <= 75.0 + 0.25);
      CHECK(p.y() >= -80.0 - 0.25);
      CHECK(p.y() <= -12.0 + 0.25);
    }
  }
}
