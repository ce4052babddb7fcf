// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cutter_check.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "cutting/edges.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// Does no first step from ring vertex i along either of its edges get nearer to q?
bool Faces(const Ring& ring, std::size_t i, const Vec2& q) {
  const std::size_t n = ring.size();
  const Vec2 to = q - ring[i];
  for (const Vec2& step :
       {Vec2(ring[(i + 1) % n] - ring[i]), Vec2(ring[(i + n - 1) % n] - ring[i])}) {
    if (step.dot(to) > 1e-7 * step.norm() * to.norm()) return false;
  }
  return true;
}

// Shortest chord between facing points whose middle lies outside (or inside) the ring. Between
// polygons such a chord always has a vertex at one end; parallel edges have one at a vertex too.
NarrowPlace Narrowest(const Ring& ring, double below_mm, bool outside) {
  const std::size_t n = ring.size();
  NarrowPlace best{kInfinity, {}, {}};
  double limit = below_mm;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      const std::size_t next = (j + 1) % n;
      if (j == i || next == i) continue;
      const Vec2 q = NearestOnSegment(ring[i], ring[j], ring[next]);
      const double width = (q - ring[i]).norm();
      if (width >= limit || width < kSamePoint_mm || !Faces(ring, i, q)) continue;
      if (q == ring[j] && !Faces(ring, j, ring[i])) continue;
      if (q == ring[next] && !Faces(ring, next, ring[i])) continue;
      if (Contains({ring}, (q + ring[i]) / 2.0) == outside) continue;
      limit = width;
      best = {width, ring[i], q};
    }
  }
  return best;
}

NarrowPlace NarrowestOf(const Outline& outline, double below_mm, bool outside) {
  if (below_mm <= 0.0) return {kInfinity, {}, {}};
  return Narrowest(Flatten(outline, kChordError_mm / 4.0), below_mm, outside);
}

class Checker {
 public:
  Checker(const CutPart& part, const CutterLimits& limits) : part_(part), limits_(limits) {}

  std::vector<CutFault> Check() {
    if (const auto fault = FaultOf(part_)) {
      faults_.push_back({part_.name, CutFaultKind::kOutline, kUnset, kUnset, Vec2::Zero(),
                         part_.name + ": " + *fault});
      return faults_;
    }
    InsideCurves();
    Slot();
    Webs();
    Neck();
    return faults_;
  }

 private:
  std::string Say(double mm) const { return BenchLength(mm, limits_.inches); }
  std::string At(const Vec2& p) const { return PointText(p.x(), p.y(), limits_.inches); }

  void Add(CutFaultKind kind, double found, double needed, const Vec2& at,
           const std::string& what) {
    faults_.push_back({part_.name, kind, found, needed, at, part_.name + ": " + what});
  }

  void InsideCurves() {
    const double needed = limits_.cutter_mm / 2.0;
    if (needed <= 0.0) return;
    const std::size_t n = part_.outline.vertices.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Edge edge = EdgeOf(part_.outline, i), next = EdgeOf(part_.outline, (i + 1) % n);
      if (!edge.Straight() && edge.bulge < 0.0) {
        const double radius = ArcOf(edge.from, edge.to, edge.bulge).radius_mm;
        if (radius < needed - kSamePoint_mm) Tight(radius, PointAt(edge, 0.5));
      }
      if (Turn_rad(edge, next) < -kSmoothJoint_rad) Tight(0.0, edge.to);
    }
  }

  void Tight(double radius, const Vec2& at) {
    const double needed = limits_.cutter_mm / 2.0;
    const std::string fits =
        radius > 0.0 ? "a cutter of " + Say(2.0 * radius) + " or less fits" : "a saw or laser fits";
    Add(CutFaultKind::kInsideRadius, radius, needed, at,
        (radius > 0.0 ? "inside curve of radius " + Say(radius) : "sharp inside corner") + " at " +
            At(at) + ", a cutter of " + Say(limits_.cutter_mm) + " leaves " + Say(needed) + "; " +
            fits);
  }

  void Slot() {
    const NarrowPlace slot = NarrowestSlot(part_.outline, limits_.cutter_mm - kSamePoint_mm);
    if (slot.width_mm > limits_.cutter_mm) return;
    const Vec2 at = (slot.a + slot.b) / 2.0;
    Add(CutFaultKind::kSlot, slot.width_mm, limits_.cutter_mm, at,
        "slot of " + Say(slot.width_mm) + " at " + At(at) + " is narrower than the cutter of " +
            Say(limits_.cutter_mm) + "; a cutter of " + Say(slot.width_mm) + " or less fits");
  }

  void Web(double web, const Vec2& at, const std::string& where) {
    if (web >= limits_.web_mm - kSamePoint_mm) return;
    Add(CutFaultKind::kWeb, web, limits_.web_mm, at,
        "web of " + Say(web) + " " + where + ", at least " + Say(limits_.web_mm) +
            " should stay; holes smaller by " + Say(2.0 * (limits_.web_mm - web)) +
            " on the diameter or as much more room around would fit");
  }

  void Webs() {
    std::vector<std::pair<std::string, Circle>> circles;
    for (const Circle& hole : part_.holes) circles.push_back({"hole", hole});
    for (const Circle& mark : part_.drill_marks) circles.push_back({"drilled hole", mark});
    const std::vector<Ring> rings{Flatten(part_.outline, kChordError_mm / 4.0)};
    for (std::size_t i = 0; i < circles.size(); ++i) {
      const auto& [name, circle] = circles[i];
      Web(-SignedDistance(rings, circle.centre) - circle.radius_mm, circle.centre,
          "between the " + name + " at " + At(circle.centre) + " and the edge");
      for (std::size_t j = 0; j < i; ++j) {
        const Circle& other = circles[j].second;
        Web((other.centre - circle.centre).norm() - other.radius_mm - circle.radius_mm,
            (other.centre + circle.centre) / 2.0,
            "between the holes at " + At(other.centre) + " and " + At(circle.centre));
      }
    }
  }

  void Neck() {
    const NarrowPlace neck = NarrowestNeck(part_.outline, limits_.web_mm - kSamePoint_mm);
    if (neck.width_mm > limits_.web_mm) return;
    const Vec2 at = (neck.a + neck.b) / 2.0;
    Add(CutFaultKind::kNeck, neck.width_mm, limits_.web_mm, at,
        "neck of " + Say(neck.width_mm) + " at " + At(at) + ", at least " + Say(limits_.web_mm) +
            " should stay");
  }

  const CutPart& part_;
  const CutterLimits& limits_;
  std::vector<CutFault> faults_;
};

}  // namespace

NarrowPlace NarrowestSlot(const Outline& outline, double below_mm) {
  return NarrowestOf(outline, below_mm, true);
}

NarrowPlace NarrowestNeck(const Outline& outline, double below_mm) {
  return NarrowestOf(outline, below_mm, false);
}

std::vector<CutFault> FaultsFor(const CutPart& part, const CutterLimits& limits) {
  return Checker(part, limits).Check();
}

}  // namespace lidwright
