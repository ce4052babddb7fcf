// SPDX-License-Identifier: Apache-2.0
// What the search is given, against the box it was made from.
#include "lidwright/synthesis/lid_task.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "lidwright/geometry/ring.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

const std::vector<std::string> kExamples{"sample_chest", "barrel_chest", "jewellery_casket",
                                         "sample_chest_tight"};

double PlainDistance(const EdgeBag& bag, const Vec2& p) {
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < bag.from.size(); ++i) {
    least = std::min(least, (p - NearestOnSegment(p, bag.from[i], bag.to[i])).norm());
  }
  return least;
}

}  // namespace

TEST_CASE("distances of an edge bag agree with the plain ones, their gradient with differences") {
  Draw draw(3);
  long smooth = 0, asked = 0, inside = 0;
  std::vector<std::vector<Ring>> shapes;
  for (const char* name : {"sample_chest", "jewellery_casket"}) {
    const LidModel model(ExampleJob(name));
    for (const std::size_t i : {0ul, 3ul, model.solid.stations.size() - 1}) {
      shapes.push_back(model.solid.stations[i].lid_rings);
      shapes.push_back(model.solid.stations[i].case_rings);
    }
  }
  // A ring with a hole, and two pieces apart.
  shapes.push_back({{{0, 0}, {200, 0}, {200, 80}, {0, 80}}, {{40, 20}, {40, 60}, {160, 60}}});
  shapes.push_back({{{0, 0}, {60, 0}, {30, 50}}, {{100, 0}, {200, 10}, {150, 60}}});
  for (const std::vector<Ring>& rings : shapes) {
    const EdgeBag bag(rings);
    const Vec2 size = bag.box.high - bag.box.low;
    for (int i = 0; i < 400; ++i) {
      const Vec2 p = bag.box.low + Vec2(draw(-0.2, 1.2) * size.x(), draw(-0.3, 1.3) * size.y());
      const EdgeBag::Query query = bag.At(p);
      ++asked;
      if (query.distance < 0.0) ++inside;
      CHECK(query.distance == Approx(SignedDistance(rings, p)).margin(1e-10));
      const double h = 1e-5;
      const Vec2 ex(h, 0.0), ey(0.0, h);
      const Vec2 forward((bag.At(p + ex).distance - query.distance) / h,
                         (bag.At(p + ey).distance - query.distance) / h);
      const Vec2 backward((query.distance - bag.At(p - ex).distance) / h,
                          (query.distance - bag.At(p - ey).distance) / h);
      if ((forward - backward).norm() > 1e-4) continue;  // on a ridge
      ++smooth;
      CHECK((query.away - (forward + backward) / 2.0).norm() < 1e-4);
      CHECK(query.away.norm() == Approx(1.0).epsilon(1e-9));
    }
  }
  CHECK(asked > 3000);
  CHECK(inside > asked / 10);
  CHECK(smooth > asked * 9 / 10);
}

TEST_CASE("a limited distance is the distance up to its limit and a lower bound beyond") {
  Draw draw(5);
  const LidModel model(ExampleJob("sample_chest"));
  const EdgeBag bag(model.solid.stations[2].lid_rings);
  int near = 0, far = 0;
  for (int i = 0; i < 3000; ++i) {
    const Vec2 p(draw(-100.0, 320.0), draw(-100.0, 150.0));
    const double limit = draw(0.0, 60.0), truth = bag.At(p).distance;
    const double got = bag.Within(p, limit).distance;
    if (truth < limit) {
      ++near;
      CHECK(got == truth);
    } else {
      ++far;
      CHECK(got >= limit);
      CHECK(got <= truth + 1e-9);
    }
  }
  CHECK(near > 500);
  CHECK(far > 500);
}

TEST_CASE(
    "the search's sections keep both faces of the end walls and stay near the outlines (R1)") {
  for (const std::string& name : kExamples) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    const double half = model.job.case_form.width_mm / 2.0;
    const double face = half - std::max(model.job.case_form.end_wall_mm, model.job.lid.wall_mm);
    // Does a section stay near a station's outlines, both ways?
    const auto is_of = [](const KeySection& section, const Station& s) {
      double worst = 0.0;
      for (const auto& [rings, bag] :
           {std::pair(&s.case_rings, &section.case_edges), {&s.lid_rings, &section.lid_edges}}) {
        for (const Ring& ring : *rings) {
          for (const Vec2& p : ring) worst = std::max(worst, PlainDistance(*bag, p));
        }
        for (const Vec2& p : bag->from) {
          worst = std::max(worst, std::abs(SignedDistance(*rings, p)));
        }
      }
      return worst <= 0.4 + 1e-9;
    };
    for (const KeySection& section : model.task.sections) {
      CHECK(std::any_of(model.solid.stations.begin(), model.solid.stations.end(),
                        [&](const Station& s) { return is_of(section, s); }));
      // Points along the edges, none farther from the next than 14 mm along an edge.
      for (const auto& [points, bag] : {std::pair(&section.case_points, &section.case_edges),
                                        {&section.lid_points, &section.lid_edges}}) {
        for (const Vec2& p : *points) CHECK(PlainDistance(*bag, p) < 1e-9);
        for (std::size_t i = 0; i < bag->from.size(); ++i) {
          for (const double share : {0.0, 0.25, 0.5, 0.75}) {
            const Vec2 q = bag->from[i] + share * (bag->to[i] - bag->from[i]);
            double least = 1e300;
            for (const Vec2& p : *points) least = std::min(least, (p - q).norm());
            CHECK(least <= 7.0 + 1e-9);
          }
        }
      }
    }
    const auto has = [&](double z, bool end_wall) {
      for (const Station& s : model.solid.stations) {
        if (s.end_wall != end_wall || std::abs(s.z_mm - z) > 1e-9) continue;
        return std::any_of(model.task.sections.begin(), model.task.sections.end(),
                           [&](const KeySection& section) { return is_of(section, s); });
      }
      return false;
    };
    CHECK(has(half, true));
    CHECK(has(face, true));
    CHECK(has(face, false));
    CHECK(has(0.0, false));
  }
}

TEST_CASE("the contacts kept decide as all of them would, for every centre") {
  // All contacts of a measured box whose lid rests on its rim: the rim's corners of each station,
  // parting straight up (arched rims lie flat in the side view). Written out from the stations.
  for (const std::string& name : kExamples) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    std::vector<Vec2> rim;
    for (const Station& s : model.solid.stations) {
      double seam = 1e300;
      for (const Vec2& p : s.lid_rings[0]) seam = std::min(seam, p.y());
      for (const Vec2& p : s.lid_rings[0]) {
        if (p.y() < seam + 1e-9 && SignedDistance(s.case_rings, p) < 1e-9) rim.push_back(p);
      }
    }
    REQUIRE(rim.size() >= 12);
    REQUIRE_FALSE(model.task.contacts.empty());
    Draw draw(11);
    for (int i = 0; i < 500; ++i) {
      const Vec2 centre(draw(-300.0, 500.0), draw(-200.0, 200.0));
      double all = 1e300, kept = 1e300;
      for (const Vec2& p : rim) all = std::min(all, p.x() - centre.x());  // up-going speed at p
      for (const LidTask::Contact& c : model.task.contacts) {
        CHECK(c.normal.norm() == Approx(1.0));
        kept = std::min(kept, c.normal.dot(Perp(Vec2(c.point - centre))));
      }
      CHECK(kept == Approx(all).margin(1e-3 * (1.0 + std::abs(all))));
    }
  }
}

TEST_CASE("a rebated lid's inner faces are contacts as well") {
  // A lid with a lip that hangs into the case with no play: at the lip's outer faces the contact's
  // normal is level, so the lid must part sideways too (rule R4 in DEVELOPERS.md).
  Job job = JobOf(R"({"units": "mm",
    "case": {"width": 300, "depth": 200, "height": 100, "wall": 12},
    "stations": [
      {"z": 0, "case": [[0,-100],[200,-100],[200,0],[188,0],[188,-88],[12,-88],[12,0],[0,0]],
               "lid": [[0,0],[12,0],[12,-6],[188,-6],[188,0],[200,0],[200,40],[0,40]]},
      {"z": 150, "case": [[0,-100],[200,-100],[200,0],[188,0],[188,-88],[12,-88],[12,0],[0,0]],
               "lid": [[0,0],[12,0],[12,-6],[188,-6],[188,0],[200,0],[200,40],[0,40]]}]})");
  const Solid solid = MakeSolid(job);
  const LidTask task = MakeLidTask(job, solid);
  bool up = false, forward = false, back = false;
  for (const LidTask::Contact& c : task.contacts) {
    up = up || c.normal.y() > 0.99;
    forward = forward || c.normal.x() > 0.99;
    back = back || c.normal.x() < -0.99;
  }
  CHECK(up);
  CHECK(forward);  // off the back wall's inner face
  CHECK(back);     // off the front wall's
}

TEST_CASE("the task's figures are those of the box and the job") {
  for (const std::string& name : kExamples) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    const LidTask& task = model.task;
    // The hull is convex and holds every point of the lid.
    const std::size_t n = task.lid_hull.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 edge = task.lid_hull[(i + 1) % n] - task.lid_hull[i];
      CHECK(Cross(edge, Vec2(task.lid_hull[(i + 2) % n] - task.lid_hull[(i + 1) % n])) > 0.0);
      for (const Station& s : model.solid.stations) {
        for (const Vec2& p : s.lid_rings[0]) {
          CHECK(Cross(edge, Vec2(p - task.lid_hull[i])) >= -1e-6);
        }
      }
    }
    // The front edge is where the lid is farthest to the front at mid-width, down at the seam.
    const Job& job = model.job;
    CHECK(task.front_edge.x() == Approx(job.case_form.depth_mm + job.case_form.front_bow_mm));
    CHECK(task.front_edge.y() ==
          Approx(job.case_form.rim_arch_mm + job.lid.seam_gap_mm).margin(1e-9));
    // Access: the stricter of the line and the share of the mouth, both walls' inner faces taken at
    // their narrowest.
    const double mouth_back = job.case_form.back_wall_mm;
    const double mouth_front = job.case_form.depth_mm - job.case_form.front_wall_mm;
    CHECK(task.access_x_mm ==
          Approx(std::min(job.room.open_behind_x_mm,
                          mouth_front - job.room.mouth_free * (mouth_front - mouth_back))));
    CHECK(task.behind_x_mm == -job.room.behind_mm);
    CHECK(task.open_rad == job.swing.open_rad);
    // A pivot's eye must keep the arms' gap.
    CHECK(task.pivot_gap_mm == Approx(job.arms.eye_mm / 2.0 + job.arms.gap_mm));
  }
}

TEST_CASE("the lid's mass centre is that of fine slices laid by lines") {
  for (const char* name : {"sample_chest", "barrel_chest"}) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    double count = 0.0;
    Vec2 sum = Vec2::Zero();
    const auto& stations = model.solid.stations;
    for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
      const Station &a = stations[i], &b = stations[i + 1];
      if (a.z_mm == b.z_mm) continue;
      std::vector<Ring> middle = a.lid_rings;
      for (std::size_t k = 0; k < middle[0].size(); ++k) {
        middle[0][k] = (middle[0][k] + b.lid_rings[0][k]) / 2.0;
      }
      // Upright lines a quarter of a millimetre apart, solid between each pair of crossings.
      for (double x = -19.9; x < 300.0; x += 0.25) {
        std::vector<double> crossings;
        const Ring& ring = middle[0];
        for (std::size_t k = 0; k < ring.size(); ++k) {
          const Vec2 &p = ring[k], &q = ring[(k + 1) % ring.size()];
          if ((p.x() > x) == (q.x() > x)) continue;
          crossings.push_back(p.y() + (x - p.x()) / (q.x() - p.x()) * (q.y() - p.y()));
        }
        std::sort(crossings.begin(), crossings.end());
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
          const double area = (crossings[k + 1] - crossings[k]) * (b.z_mm - a.z_mm);
          count += area;
          sum += area * Vec2(x, (crossings[k + 1] + crossings[k]) / 2.0);
        }
      }
    }
    CHECK((model.task.mass_centre - sum / count).norm() < 0.02);
  }
}

TEST_CASE("pivots and the search's eight numbers are the same thing") {
  const Pivots p{{1, 2}, {3, 4}, {5, 6}, {7, 8}};
  const PivotNumbers x = NumbersOf(p);
  CHECK(x == PivotNumbers{1, 2, 3, 4, 5, 6, 7, 8});
  CHECK(NumbersOf(PivotsOf(x.data())) == x);
}
