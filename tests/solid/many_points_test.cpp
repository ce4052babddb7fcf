// SPDX-License-Identifier: Apache-2.0
// Boxes of many points are looked at in good time: all of it takes less than a quarter of the plain
// walk, every point by every edge, takes.
#include <catch2/catch.hpp>
#include <cmath>
#include <ctime>

#include "lidwright/base/units.h"
#include "lidwright/job/read_job.h"
#include "lidwright/solid/solid.h"
#include "lidwright/swing/clearance.h"

namespace lidwright {
namespace {

// CPU time, the best of three.
template <typename Work>
double Seconds(const Work& work) {
  double best = 1e300;
  for (int i = 0; i < 3; ++i) {
    const std::clock_t from = std::clock();
    work();
    best = std::min(best, static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC);
  }
  return best;
}

// The straight line from `a` to `b` in n pieces, without its end.
void AddLine(const Vec2& a, const Vec2& b, int n, Ring& ring) {
  for (int i = 0; i < n; ++i) ring.push_back(a + (b - a) * i / n);
}

Ring Box(double low, double high, int n) {
  Ring ring;
  AddLine({0, low}, {220, low}, n / 4, ring);
  AddLine({220, low}, {220, high}, n / 4, ring);
  AddLine({220, high}, {0, high}, n / 4, ring);
  AddLine({0, high}, {0, low}, n / 4, ring);
  return ring;
}

constexpr int kPoints = 4000;

// The distances of one ring's points from another by the plain walk.
double PlainSeconds(const Ring& points, const Ring& edges) {
  double sum = 0.0;
  const double seconds = Seconds([&] {
    for (const Vec2& p : points) sum += SignedDistance({edges}, p);
  });
  CHECK(std::isfinite(sum));
  return seconds;
}

}  // namespace

TEST_CASE("faults of sections with many points are found in good time") {
  const Ring box = Box(-120, 0, kPoints), lid = Box(0, 40, kPoints);
  Job job;
  job.case_form.width_mm = 340;
  job.case_form.depth_mm = 220;
  job.case_form.height_mm = 120;
  Solid solid;
  solid.stations = {{0.0, false, {box}, {lid}}};
  solid.bay.case_zone = solid.bay.lid_zone = {{0, 0}, {1, 1}};
  CHECK(FaultsOf(job, solid).empty());
  // Points and middles of edges, of case and of lid.
  CHECK(Seconds([&] { FaultsOf(job, solid); }) < PlainSeconds(box, lid));
}

TEST_CASE("how deep outlines of many points lie in each other is found in good time") {
  const Ring box = Box(-120, 0, kPoints), lid = Box(-3, 40, kPoints);
  const PartTree of_case(MakePrism("case", Body::kCase, 0, 10, {box}));
  const PartTree of_lid(MakePrism("lid", Body::kLid, 0, 10, {lid}));
  const std::optional<Nearness> near = GapAt(BodiesAt{}, {{&of_lid, &of_case}});
  REQUIRE(near);
  CHECK(std::abs(near->gap_mm + 3.0) < 1e-9);
  // Points of case and of lid, at both ends of what they share.
  CHECK(Seconds([&] { GapAt(BodiesAt{}, {{&of_lid, &of_case}}); }) < PlainSeconds(box, lid));
}

}  // namespace lidwright
