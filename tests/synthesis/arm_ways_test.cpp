// SPDX-License-Identifier: Apache-2.0
// Ways for arms and plates against floods and lines that ask every pose about every place, on lids
// that are turned by crossing two circles.
#include "lidwright/synthesis/arm_ways.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>
#include <set>

#include "lidwright/synthesis/lid_space.h"
#include "lidwright/synthesis/lid_starts.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

constexpr double kMesh_mm = 4.0;

struct Turned {
  double c, s;
  Vec2 origin;
  Vec2 Turn(const Vec2& p) const { return {c * p.x() - s * p.y(), s * p.x() + c * p.y()}; }
  Vec2 Out(const Vec2& p) const { return origin + Turn(p); }
  Vec2 In(const Vec2& p) const {
    const Vec2 d = p - origin;
    return {c * d.x() + s * d.y(), c * d.y() - s * d.x()};
  }
};

// The lid at an angle: its origin is as far from each case pivot less the turned lid pivot as the
// arm is long. Of both crossings the one next to where it was.
bool TurnTo(const PivotNumbers& x, double angle, Turned& at) {
  const Vec2 case_a(x[0], x[1]), case_b(x[2], x[3]), lid_a(x[4], x[5]), lid_b(x[6], x[7]);
  Turned next{std::cos(angle), std::sin(angle), {}};
  const Vec2 m = case_a - next.Turn(lid_a), n = case_b - next.Turn(lid_b), d = n - m;
  const double r = (lid_a - case_a).norm(), q = (lid_b - case_b).norm();
  const double along = (d.squaredNorm() + r * r - q * q) / (2.0 * d.norm());
  const double aside2 = r * r - along * along;
  if (!(aside2 > 0.0)) return false;
  const Vec2 e = d.normalized(), foot = m + along * e, side(-e.y(), e.x());
  const Vec2 left = foot + std::sqrt(aside2) * side, right = foot - std::sqrt(aside2) * side;
  next.origin = (left - at.origin).norm() < (right - at.origin).norm() ? left : right;
  at = next;
  return true;
}

// The lid shut and at each of the space's angles; nothing where it does not get there.
std::vector<Turned> PosesOf(const LidSpace& space, const PivotNumbers& x) {
  std::vector<Turned> all{{1.0, 0.0, Vec2::Zero()}};
  Turned at = all[0];
  double angle = 0.0;
  for (const LidSpace::Slice& slice : space.slices()) {
    const int steps = static_cast<int>(std::ceil((slice.theta_rad - angle) / 0.002));
    for (int i = 1; i <= steps; ++i) {
      if (!TurnTo(x, angle + (slice.theta_rad - angle) * i / steps, at)) return {};
    }
    angle = slice.theta_rad;
    all.push_back(at);
  }
  return all;
}

Job WithEyes(Job job, double times) {
  job.arms.eye_mm *= times;
  return job;
}

struct Box {
  LidModel model;
  LidSpace space;
  LidStarts starts;
  ArmWays ways;
  explicit Box(const std::string& name, double eyes = 1.0)
      : model(WithEyes(ExampleJob(name), eyes)),
        space(model.job, model.solid, model.task),
        starts(model.task, space),
        ways(model.job, space) {}
  double OfPlate(const std::vector<Turned>& motion, const PivotNumbers& x, const Vec2& p) const {
    double least = 1e9;
    for (const Turned& at : motion) {
      const Vec2 q = at.Out(p);
      least = std::min(least, space.InCase(q, 1e9).gap);
      for (const std::size_t i : {0, 2}) {
        least = std::min(least, (q - Vec2(x[i], x[i + 1])).norm() - ways.pin_mm());
      }
    }
    return std::clamp(ways.plate_need_mm() - least, 0.0, 10.0);
  }
};

// The most that lacks on the cheapest way, 10 where there is none; nothing is guessed ahead.
double Flooded(const Box& box, const std::vector<Turned>& motion, const PivotNumbers& x,
               std::size_t arm) {
  const Vec2 pivot(x[4 + 2 * arm], x[5 + 2 * arm]);
  using Place = std::pair<int, int>;
  std::set<std::tuple<double, double, Place>> open{{0.0, 0.0, {0, 0}}};
  std::map<Place, double> done, lacks;
  const auto lack = [&](const Place& n) {
    const auto [it, fresh] = lacks.insert({n, 0.0});
    if (fresh) {
      it->second = box.OfPlate(motion, x, pivot + kMesh_mm * Vec2(n.first, n.second));
    }
    return it->second;
  };
  while (!open.empty()) {
    const auto [cost, most, n] = *open.begin();
    open.erase(open.begin());
    if (!done.insert({n, cost}).second) continue;
    const Vec2 p = pivot + kMesh_mm * Vec2(n.first, n.second);
    const double here = std::max(most, lack(n));
    if (box.space.DeepInLidEnd(p) > ArmWays::kPlateHold_mm) return here;
    for (int i = -1; i <= 1; ++i) {
      for (int j = -1; j <= 1; ++j) {
        const Place next{n.first + i, n.second + j};
        if (std::abs(next.first) > 19 || next.second < -14 || next.second > 28) continue;
        if (done.count(next)) continue;
        const double step = kMesh_mm * (i != 0 && j != 0 ? std::sqrt(2.0) : 1.0);
        open.insert({cost + step * (1.0 + 4.0 * lack(next)), here, next});
      }
    }
  }
  return 10.0;
}

}  // namespace

TEST_CASE("a plate's way lacks what a flood that asks every pose finds", "[synthesis]") {
  // With wide eyes, so that more ways lack room.
  for (const auto& [name, eyes] : {std::pair("sample_chest", 2.5), {"blanket_chest", 1.0}}) {
    const Box box(name, eyes);
    int asked = 0, free = 0, lacking = 0, none = 0;
    for (std::uint64_t i = 0; asked < 40 && i < 40'000; i += 61) {
      const std::optional<PivotNumbers> x = box.starts.At(i);
      if (!x) continue;
      const std::vector<Turned> motion = PosesOf(box.space, *x);
      if (motion.empty()) continue;
      ++asked;
      const double wanted = Flooded(box, motion, *x, 1), told = box.ways.Plate(*x, 1).lacks_mm;
      INFO(name << " start " << i << ": " << told << " instead of " << wanted);
      ++(wanted <= 0.0 ? free : wanted < 10.0 ? lacking : none);
      CHECK(told == Approx(wanted).margin(1e-3));
    }
    INFO(name << ": " << free << " free, " << lacking << " lacking, " << none << " without");
    CHECK(asked == 40);
    CHECK(free + lacking > 4);
    CHECK(none > 4);
  }
}

TEST_CASE("an arm that is free on a straight line in every pose lacks nothing", "[synthesis]") {
  const Box box("sample_chest");
  int straight = 0, blocked = 0;
  for (std::uint64_t i = 0; i < 40'000; i += 23) {
    const std::optional<PivotNumbers> x = box.starts.At(i);
    if (!x) continue;
    const std::vector<Turned> motion = PosesOf(box.space, *x);
    if (motion.empty()) continue;
    const Vec2 from((*x)[0], (*x)[1]), to((*x)[4], (*x)[5]);
    const auto gap = [&](double share) {
      double least = 1e9;
      for (const Turned& at : motion) {
        const Vec2 p = from + share * (at.Out(to) - from);
        least = std::min({least, box.space.InCase(p, 1e9).gap, box.space.InLid(at.In(p), 1e9).gap});
      }
      return least;
    };
    const ArmWay way = box.ways.Arm(*x, 0);
    double line = 1e9;
    for (double at = 0.0; at <= 1.0; at += 1.0 / 64.0) line = std::min(line, gap(at));
    INFO("start " << i << ", on the line " << line << ", wanted " << box.ways.arm_need_mm());
    if (line >= box.ways.arm_need_mm() + 0.2) {  // for what lies between the line's places
      ++straight;
      CHECK(way.lacks_mm == 0.0);
      CHECK(way.crooked == Approx(1.0).margin(1e-6));
      CHECK(way.bend == Approx(1.0).margin(1e-6));
    }
    // Whatever the way, it begins at the pivot.
    const double start = std::min(box.ways.arm_need_mm() - gap(0.0), 10.0);
    if (start > 0.01) {
      ++blocked;
      CHECK(way.lacks_mm >= start - 1e-3);
    }
    // A limit that the way keeps changes nothing of what lacks; no way is told that breaks one.
    const ArmWay within = box.ways.Arm(*x, 0, way.lacks_mm + 0.01);
    CHECK(within.lacks_mm == way.lacks_mm);
    CHECK(within.crooked == Approx(way.crooked).margin(0.01));  // how taut it is pulled differs
    if (way.lacks_mm > 0.5) CHECK(box.ways.Arm(*x, 0, 0.4).lacks_mm > 0.4);
  }
  CHECK(straight > 10);
  CHECK(blocked > 10);
}

TEST_CASE("what a table says of a place's gap is never more than it has, and not much less",
          "[synthesis]") {
  for (const char* name : {"sample_chest", "blanket_chest"}) {
    const Box box(name);
    Draw draw(5);
    const CaseMeasures& form = box.model.job.case_form;
    int near = 0;
    for (int i = 0; i < 20'000; ++i) {
      const Vec2 p(draw(-40.0, form.depth_mm + 20.0), draw(-form.height_mm - 10.0, 120.0));
      const double in_case = box.space.InCase(p, 1e9).gap, in_lid = box.space.InLid(p, 1e9).gap;
      REQUIRE(box.space.InCaseAtLeast(p) <= in_case);
      REQUIRE(box.space.InLidAtLeast(p) <= in_lid);
      const double floor = box.space.InCaseAtLeast(p);
      if (std::isfinite(floor) && in_case < 20.0) {
        ++near;
        REQUIRE(floor > in_case - 8.0);
      }
    }
    CHECK(near > 1000);
  }
}
