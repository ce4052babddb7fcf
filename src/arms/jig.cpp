// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/jig.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "jig_steps.h"
#include "lidwright/arms/plates.h"
#include "lidwright/base/check.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/solid/mounting_block.h"
#include "lidwright/solid/reachable_faces.h"

namespace lidwright {
namespace {

// [mm] Holes over screws, beyond the head all round.
constexpr double kAccess_mm = 0.4;
// [mm] Wanted around the holes, and the least that holds.
constexpr double kAround_mm = 8.0;
constexpr double kLeastWeb_mm = 1.5;
// [mm] Around the holes over screws, which carry nothing.
constexpr double kAccessWeb_mm = 1.0;
// [mm] The level edge must be this long for a square to rest on.
constexpr double kLeastLevel_mm = 12.0;
// [mm] Least radius of inside corners.
constexpr double kInside_mm = 1.0;
// [1] What is rounded off in an inside corner, in radii, from both its edges, and a little more.
constexpr double kInCorner = 0.35;
// [mm] Steps in which edges are compared with walls that are not straight.
constexpr double kStep_mm = 2.0;
constexpr double kFar_mm = 1e5;
// [mm] A jig that lies on the wall is drawn for the section this far before it.
constexpr double kOffWall_mm = 0.01;

// From `from` along a unit vector to the nearest outline.
double FreeWay(const std::vector<Ring>& rings, const Vec2& from, const Vec2& way) {
  double least = kFar_mm;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = ring[i] - from, b = ring[(i + 1) % ring.size()] - from;
      const double ha = Cross(way, a), hb = Cross(way, b);
      if ((ha > 0.0) == (hb > 0.0)) continue;
      const double along = (a + (b - a) * (ha / (ha - hb))).dot(way);
      if (along >= 0.0) least = std::min(least, along);
    }
  }
  return least;
}

// A polygon with its inside corners rounded.
Outline Rounded(const Ring& ring, double radius) {
  Outline outline;
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 in = (ring[i] - ring[(i + n - 1) % n]).normalized();
    const Vec2 out = (ring[(i + 1) % n] - ring[i]).normalized();
    const double turn = std::atan2(Cross(in, out), in.dot(out));
    if (turn >= 0.0) {
      outline.vertices.push_back({ring[i], 0.0});
      continue;
    }
    const double tangent = radius * std::tan(-turn / 2.0);
    outline.vertices.push_back({ring[i] - tangent * in, BulgeOf(turn)});
    outline.vertices.push_back({ring[i] + tangent * out, 0.0});
  }
  return outline;
}

struct Hump {
  double from, to, top;
};

}  // namespace

std::vector<Ring> RingsAt(const Part& part, double z_mm) {
  const double share = (z_mm - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
  std::vector<Ring> rings = part.at_z_min;
  for (std::size_t r = 0; r < rings.size(); ++r) {
    for (std::size_t i = 0; i < rings[r].size(); ++i) {
      rings[r][i] = (1.0 - share) * part.at_z_min[r][i] + share * part.at_z_max[r][i];
    }
  }
  return rings;
}

std::vector<Ring> SectionAt(const std::vector<const PartTree*>& parts, double z_mm) {
  std::vector<Ring> rings;
  for (const PartTree* tree : parts) {
    for (const Part& part : tree->parts()) {
      if (z_mm < part.z_min_mm || z_mm > part.z_max_mm) continue;
      for (Ring& ring : RingsAt(part, z_mm)) rings.push_back(std::move(ring));
    }
  }
  return rings;
}

std::optional<Jig> MakeJig(const Job& job, const Solid& solid, const Assembly& assembly,
                           const Pivots& pivots, const StackPlan& plan, const Hardware& hardware,
                           const std::optional<Plate>& case_plate,
                           const std::optional<Plate>& lid_plate, const std::optional<Stop>& stop,
                           std::string* fault) {
  const std::vector<Vec2> screws = case_plate ? case_plate->screws : std::vector<Vec2>();
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  const auto place = [&](const Vec2& p) { return PointText(p.x(), p.y(), job.inches); };
  Jig jig;
  // It stands where the arms will, on the plates' pins; for pins straight in the wood it lies on
  // the wall.
  const double outer = job.plates.on_case || job.plates.on_lid
                           ? std::max(plan.arm_a.z_max_mm, plan.arm_b.z_max_mm)
                           : std::min(plan.case_face_mm, plan.lid_face_mm) - kOffWall_mm;
  jig.piece.z_max_mm = outer;
  jig.piece.z_min_mm = outer - job.arms.thickness_mm;
  std::vector<std::vector<Ring>> case_at, lid_at;
  const auto case_slabs = assembly.Shapes(PartKind::kCase);
  const auto lid_slabs = assembly.Shapes(PartKind::kLid);
  for (const double z : {jig.piece.z_min_mm, jig.piece.z_max_mm}) {
    case_at.push_back(SectionAt(case_slabs, z));
    lid_at.push_back(SectionAt(lid_slabs, z));
  }
  const auto way = [](const std::vector<std::vector<Ring>>& at, const Vec2& p, const Vec2& to) {
    return std::min(FreeWay(at[0], p, to), FreeWay(at[1], p, to));
  };
  const std::array<Vec2, 4> all{pivots.case_a, pivots.case_b, pivots.lid_a, pivots.lid_b};
  jig.rim_y_mm = RimAtEndWall_mm(solid);
  Rect2 box;
  for (const Vec2& p : all) {
    box.Add(p - Vec2::Constant(kAround_mm));
    box.Add(p + Vec2::Constant(kAround_mm));
  }
  // Down and forwards as far as wanted, off the floor and the front wall.
  const Vec2 inside(pivots.case_a.x(), std::min(pivots.case_a.y(), jig.rim_y_mm - 1.0));
  const double floor = inside.y() - way(case_at, inside, {0.0, -1.0}) + kJigFit_mm;
  const double access = hardware.screw.head_mm / 2.0 + kAccess_mm;
  for (const Vec2& screw : screws) {  // no screw half under an edge
    box.Add(screw - Vec2::Constant(access + kAccessWeb_mm + kSamePoint_mm));
    box.Add(screw + Vec2::Constant(access + kAccessWeb_mm + kSamePoint_mm));
  }
  const double low = std::max(box.low.y(), floor);
  double back = -kFar_mm, front = box.high.x();
  for (double y = low; y < jig.rim_y_mm; y += kStep_mm) {
    const Vec2 p(inside.x(), y);
    back = std::max(back, p.x() - way(case_at, p, {-1.0, 0.0}));
    front = std::min(front, p.x() + way(case_at, p, {1.0, 0.0}) - kJigFit_mm);
  }
  jig.back_x_mm = back;
  const double radius = std::max(kInside_mm, job.shop.cutter_mm / 2.0);
  // A lip under the lid that the jig is to hold shut: a notch at the back, and no jig at the front.
  Vec2 notch(back, jig.rim_y_mm);
  const double middle = (solid.bounds.low.x() + solid.bounds.high.x()) / 2.0;
  const double off = std::max(kJigFit_mm, kInCorner * radius);
  for (const auto& rings : lid_at) {
    for (const Ring& ring : rings) {
      for (const Vec2& p : ring) {
        if (p.y() > jig.rim_y_mm - kSamePoint_mm) continue;
        if (p.x() > middle) {
          front = std::min(front, p.x() - kJigFit_mm);
        } else if (p.x() > back) {
          notch = {std::max(notch.x(), p.x() + off), std::min(notch.y(), p.y() - off)};
        }
      }
    }
  }
  const bool notched = notch.y() < jig.rim_y_mm;

  // Over the rim only where lid pivots need it, under the lid's ceiling.
  std::vector<Hump> humps;
  for (const Vec2& p : {pivots.lid_a, pivots.lid_b}) {
    if (p.y() + kAround_mm <= jig.rim_y_mm) continue;
    Hump hump{p.x() - kAround_mm, std::min(p.x() + kAround_mm, front), p.y() + kAround_mm};
    for (double x = hump.from; x <= hump.to; x += kStep_mm) {
      const Vec2 q(x, p.y());
      hump.top = std::min(hump.top, p.y() + way(lid_at, q, {0.0, 1.0}) - kJigFit_mm);
    }
    if (hump.from < back + kJigFit_mm) hump.from = back + kJigFit_mm;
    if (notched) hump.from = std::max(hump.from, notch.x() + radius + kSamePoint_mm);
    if (hump.top <= jig.rim_y_mm) continue;
    if (hump.to > front - 3.0 * kAround_mm / 4.0) hump.to = front;
    humps.push_back(hump);
  }
  std::sort(humps.begin(), humps.end(),
            [](const Hump& a, const Hump& b) { return a.from < b.from; });
  if (humps.size() == 2 && humps[0].to + 10.0 > humps[1].from) {
    // Two that run together become one as high as the lower needs at most lets it.
    Hump& first = humps[0];
    const double top = std::max(first.top, humps[1].top);
    double ceiling = top;
    for (double x = first.from; x <= humps[1].to; x += kStep_mm) {
      const Vec2 q(x, std::min(pivots.lid_a.y(), pivots.lid_b.y()));
      ceiling = std::min(ceiling, q.y() + way(lid_at, q, {0.0, 1.0}) - kJigFit_mm);
    }
    first = {std::min(first.from, humps[1].from), std::max(first.to, humps[1].to), ceiling};
    humps.pop_back();
  }
  Ring ring{{back, low}, {front, low}};
  bool open_end = true;  // the front edge still has to go up to the rim
  jig.level_mm = front - notch.x();
  for (std::size_t i = humps.size(); i-- > 0;) {
    const Hump& h = humps[i];
    jig.level_mm -= h.to - h.from;
    // Rounded corners need a rise of their radius; a lower hump is as good as none.
    if (h.top - jig.rim_y_mm < radius + kSamePoint_mm) continue;
    if (h.to < front - kSamePoint_mm) {
      if (open_end) ring.push_back({front, jig.rim_y_mm});
      ring.push_back({h.to, jig.rim_y_mm});
    }
    ring.push_back({h.to, h.top});
    ring.push_back({h.from, h.top});
    ring.push_back({h.from, jig.rim_y_mm});
    open_end = false;
  }
  if (open_end) ring.push_back({front, jig.rim_y_mm});
  ring.push_back({notch.x(), jig.rim_y_mm});
  if (notched) {
    ring.push_back(notch);
    ring.push_back({back, notch.y()});
  }
  if (jig.level_mm < kLeastLevel_mm) {
    *fault = "jig: lid pivots near the rim leave " + say(std::max(0.0, jig.level_mm)) +
             " of its edge level with the rim, a square needs " + say(kLeastLevel_mm) +
             "; lid pivots " + say(kAround_mm) + " under the rim would fit";
    return std::nullopt;
  }
  jig.piece.name = "closed-position jig";
  jig.piece.kind = PieceKind::kJig;
  jig.piece.body = Body::kCase;
  jig.piece.outline = Rounded(ring, radius);
  const double hole = (hardware.bushing.pin_mm + kJigHole_mm) / 2.0;
  const std::vector<Ring> edge{Flatten(jig.piece.outline, kChordError_mm)};
  for (const Vec2& p : all) {
    jig.piece.holes.push_back({p, hole});
    const double web = -SignedDistance(edge, p) - hole;
    if (web >= kLeastWeb_mm) continue;
    *fault = "jig: the hole at " + place(p) + " leaves a web of " + say(std::max(0.0, web)) +
             " to the jig's edge, " + say(kLeastWeb_mm) +
             " would hold; a pivot farther from the walls would fit";
    return std::nullopt;
  }
  for (const Vec2& screw : screws) {
    const double deep = -SignedDistance(edge, screw);
    if (deep <= -access) continue;  // beside the jig it can be reached anyway
    if (deep < access + kAccessWeb_mm - kSamePoint_mm) {
      *fault = "jig: the hole of " + say(2.0 * access) + " over the screw at " + place(screw) +
               " leaves a web of " + say(std::max(0.0, deep - access)) + " to the jig's edge, " +
               say(kAccessWeb_mm) +
               " would hold; smaller screws or another place for the case plate would fit";
      return std::nullopt;
    }
    jig.piece.drills.push_back({screw, access});
  }
  jig.piece.material = "birch plywood";
  jig.piece.per_end = 1;
  jig.piece.note = "one for both ends: turn it over";
  if (NeedsBlock(solid.block)) {
    jig.before_drilling = "Glue the mounting blocks into " +
                          std::string(solid.block.lid_mm > 0.0 ? "case and lid" : "the case") +
                          ", each where the templates draw it, and let the glue dry; then the "
                          "paper lies on them, and holes in them go square to the block, not to "
                          "the leaning wall. ";
  }
  jig.steps = JigSteps(job, solid, plan, hardware, lid_plate, stop, jig);
  return jig;
}

}  // namespace lidwright
