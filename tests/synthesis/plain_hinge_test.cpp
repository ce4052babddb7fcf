// SPDX-License-Identifier: Apache-2.0
// The map of plain hinges against turning the lid about each pin and looking.
#include "lidwright/synthesis/plain_hinge.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "design/independent_eye.h"
#include "report/plain_words.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

PlainHinge MapOf(const LidModel& model, int threads = 2) {
  return MapPlainHinges(model.solid, model.box, model.limits, model.task, threads);
}

Vec2 PinAt(const PlainHinge& plain, std::size_t i) {
  const auto columns = static_cast<std::size_t>(plain.columns);
  return plain.low +
         plain.step_mm * Vec2(static_cast<double>(i % columns), static_cast<double>(i / columns));
}

// Deepest that a corner of lid or case lies in the other at an angle, over every station.
double Overlap_mm(const Solid& solid, const Placing& lid) {
  const Placing back = lid.Inverse();
  double deepest = 0.0;
  for (const Station& s : solid.stations) {
    for (const Ring& ring : s.lid_rings) {
      for (const Vec2& p : ring) deepest = std::min(deepest, SignedDistance(s.case_rings, lid(p)));
    }
    for (const Ring& ring : s.case_rings) {
      for (const Vec2& p : ring) deepest = std::min(deepest, SignedDistance(s.lid_rings, back(p)));
    }
  }
  return -deepest;
}

// How far the lid passes the room's limits, and the open lid's foremost point.
struct Extent {
  double over = -1e300, foremost_open = -1e300;
};
Extent ExtentOf(const Job& job, const Solid& solid, const Vec2& pin, int steps) {
  Extent extent;
  for (int i = 0; i <= steps; ++i) {
    const Placing lid = Placing::About(AsComplex(pin), job.swing.open_rad * i / steps);
    for (const Station& s : solid.stations) {
      for (const Vec2& p : s.lid_rings[0]) {
        const Vec2 q = lid(p);
        extent.over = std::max({extent.over, -job.room.behind_mm - q.x(), q.y() - job.room.above_mm,
                                job.room.bench_below ? solid.bench_mm - q.y() : -1e300});
        if (i == steps) extent.foremost_open = std::max(extent.foremost_open, q.x());
      }
    }
  }
  return extent;
}

// The least gap, over the whole swing, of the lid to something of the job that stands still.
double LeastToContents(const LidModel& model, const Vec2& pin, const Geos& geos) {
  double least = 1e300;
  for (const Contents& c : model.job.contents) {
    const StandingRegion standing(geos, c.rings);
    for (const SeenSection& s : SectionsOf(model.solid, {})) {
      if (s.z < c.z_min_mm || s.z > c.z_max_mm) continue;
      for (double theta = 0.0; theta <= model.job.swing.open_rad; theta += 0.5 * kRadPerDeg) {
        least = std::min(least, standing.To(s.lid, Placing::About(AsComplex(pin), theta)));
      }
    }
  }
  return least;
}

// A skirt hangs down behind the middle of the case, 3 mm off its back; the ends have none.
std::string Skirted() {
  const std::string box =
      R"("case": [[0,-100],[200,-100],[200,0],[188,0],[188,-88],[12,-88],[12,0],[0,0]])";
  const std::string skirt = R"("lid": [[-8,-20],[-3,-20],[-3,2],[0,2],[0,0],[12,0],[12,30],
    [188,30],[188,0],[200,0],[200,42],[-8,42]])";
  const std::string plain = R"("lid": [[0,0],[12,0],[12,30],[188,30],[188,0],[200,0],[200,42],
    [0,42]])";
  const auto station = [&](int z, const std::string& lid) {
    return "{\"z\": " + std::to_string(z) + ", " + box + ", " + lid + "}";
  };
  return R"({"units": "mm", "case": {"width": 300, "depth": 200, "height": 100, "wall": 12},
    "room": {"behind": 160, "above": 240}, "name": "skirted", "stations": [)" +
         station(0, skirt) + ", " + station(120, skirt) + ", " + station(120, plain) + ", " +
         station(150, plain) + "]}";
}

}  // namespace

TEST_CASE("every pin of the map fares as turning the lid about it shows") {
  std::vector<Job> jobs;
  for (const char* name : {"sample_chest", "sample_chest_tight", "jewellery_casket"}) {
    jobs.push_back(ExampleJob(name));
  }
  jobs.push_back(JobOf(Skirted()));
  int seen[5] = {};
  for (const Job& job : jobs) {
    INFO(job.name);
    const LidModel model(job);
    REQUIRE(FaultsOf(job, model.solid).empty());
    const PlainHinge plain = MapOf(model);
    REQUIRE(plain.map.size() == static_cast<std::size_t>(plain.columns * plain.rows));
    for (std::size_t i = 0; i < plain.map.size(); i += 11) {
      const Vec2 pin = PinAt(plain, i);
      INFO(pin.transpose());
      const Extent extent = ExtentOf(job, model.solid, pin, 24);
      double deepest = 0.0;
      for (int k = 1; k <= 24; ++k) {
        const Placing lid = Placing::About(AsComplex(pin), job.swing.open_rad * k / 24);
        deepest = std::max(deepest, Overlap_mm(model.solid, lid));
      }
      const PlainOutcome outcome = plain.map[i];
      ++seen[static_cast<int>(outcome)];
      switch (outcome) {
        case PlainOutcome::kWorks:
          CHECK(deepest < 1.5);  // what the map's thinned sections and 14 angles may overlook
          CHECK(extent.over < 1.5);
          CHECK(extent.foremost_open <= model.task.access_x_mm + 1e-6);
          break;
        case PlainOutcome::kRimDigsIn: {
          // A hundredth of a degree on, wood is in wood (or slides along it).
          const double first =
              Overlap_mm(model.solid, Placing::About(AsComplex(pin), 0.01 * kRadPerDeg));
          CHECK(first > -1e-9);
          CHECK((deepest > 0.0 || pin.x() <= 1e-9 - job.case_form.back_bow_mm + 4.0));
          break;
        }
        case PlainOutcome::kCollides:
          CHECK(deepest > 0.4);
          break;
        case PlainOutcome::kNoAccess:
          CHECK(extent.foremost_open > model.task.access_x_mm - 1e-6);
          break;
        case PlainOutcome::kNoRoom:
          CHECK(extent.over > -1e-6);
          break;
      }
    }
  }
  for (const int count : seen) CHECK(count > 2);  // each outcome was looked at
}

TEST_CASE("the pin that is called working lets the lid swing clear of everything") {
  const Geos geos;
  int working = 0;
  std::vector<Job> jobs;
  for (const char* name :
       {"sample_chest", "sample_chest_tight", "jewellery_casket", "barrel_chest"}) {
    jobs.push_back(ExampleJob(name));
  }
  jobs.push_back(JobOf(R"({"units": "mm", "case": {"width": 300, "depth": 200, "height": 100,
    "wall": 12}, "lid": {"rim": 20, "crown": 0}, "name": "a flat box"})"));
  for (const Job& job : jobs) {
    INFO(job.name);
    const LidModel model(job);
    const PlainHinge plain = MapOf(model);
    CHECK_FALSE(PlainSentence(plain, false).empty());
    if (!plain.works) continue;
    ++working;
    const std::vector<SeenSection> sections = SectionsOf(model.solid, {});
    double least = 1e300;
    for (const SeenSection& s : sections) {
      const StandingRegion standing(geos, s.box);
      for (double theta = 0.25 * kRadPerDeg; theta <= job.swing.open_rad;
           theta += 0.25 * kRadPerDeg) {
        least = std::min(least, standing.To(s.lid, Placing::About(AsComplex(plain.best), theta)));
      }
    }
    CHECK(least > 0.0);
    const Extent extent = ExtentOf(job, model.solid, plain.best, 200);
    CHECK(extent.over <= 0.0);
    CHECK(extent.foremost_open <= job.room.open_behind_x_mm);
    CHECK(LeastToContents(model, plain.best, geos) > 0.0);
  }
  CHECK(working >= 4);
}

TEST_CASE("a bowed back asks for a pin behind the bow, a straight one for one at the back") {
  const LidModel straight(JobOf(R"({"units": "mm", "case": {"width": 300, "depth": 200,
    "height": 100, "wall": 12}, "lid": {"rim": 20, "crown": 0}})"));
  const PlainHinge plain = MapOf(straight);
  REQUIRE(plain.works);
  CHECK(plain.best.x() < 0.0);
  CHECK(plain.best.x() >= -6.0);
  CHECK(PlainSentence(plain, false).find("a plain hinge does") == 0);
  for (const double bow : {4.0, 10.0, 25.0}) {
    Job job = straight.job;
    job.case_form.back_bow_mm = bow;
    const PlainHinge bowed = MapOf(LidModel(job));
    if (!bowed.works) continue;
    CHECK(bowed.best.x() < -bow);
  }
}

TEST_CASE("a plain hinge is not said to do when the lid would strike what is kept in the box") {
  // A lid of 70 mm with straight sides comes back over contents that stand 52 mm into it.
  const Geos geos;
  const std::string job = R"({"units": "mm",
    "case": {"width": 300, "depth": 220, "height": 120, "wall": 12},
    "lid": {"rim": 70, "crown": 0}, "contents": [{"back": 30, "front": 205, "height": 160}]})";
  const LidModel model(JobOf(job));
  const PlainHinge plain = MapOf(model);
  if (plain.works) CHECK(LeastToContents(model, plain.best, geos) > 0.0);
  // Without the contents the nearest pin does.
  Job empty = model.job;
  empty.contents.clear();
  CHECK(MapOf(LidModel(empty)).works);
}

TEST_CASE("where no pin works the sentence says why, in shares that add up") {
  Job job = ExampleJob("sample_chest");
  job.room.behind_mm = 12.0;
  job.room.open_behind_x_mm = 0.0;
  const LidModel model(job);
  const PlainHinge plain = MapOf(model);
  CHECK_FALSE(plain.works);
  CHECK(PlainSentence(plain, false).find("no plain hinge does") == 0);
  CHECK(PlainSentence(plain, false).find("the rim digs in") != std::string::npos);
}

TEST_CASE("the map does not depend on the number of threads") {
  const LidModel model(ExampleJob("sample_chest"));
  const PlainHinge one = MapOf(model, 1);
  for (const int threads : {2, 3}) {
    const PlainHinge other = MapOf(model, threads);
    CHECK(one.map == other.map);
    CHECK(one.best == other.best);
    CHECK(one.works == other.works);
  }
}
