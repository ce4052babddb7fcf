// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/stop.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// [mm] Between places tried along an outline; chord error of the outlines where contact counts.
constexpr double kStep_mm = 1.0;
constexpr double kFine_mm = 0.001;
// [count] Places given to the proof at most.
constexpr std::size_t kMostProofs = 150;

struct Spot {
  Vec2 point, normal;  // normal out of the part
};

// Points along an outline with their outward normals, true to its lines and arcs.
std::vector<Spot> SpotsAlong(const Outline& outline) {
  std::vector<Spot> spots;
  const std::size_t n = outline.vertices.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 &a = outline.vertices[i].point, &b = outline.vertices[(i + 1) % n].point;
    const double bulge = outline.vertices[i].bulge;
    if (bulge == 0.0) {
      const int pieces = static_cast<int>(std::floor((b - a).norm() / kStep_mm));
      const Vec2 normal = -Perp(Vec2(b - a)).normalized();
      for (int k = 0; k < pieces; ++k) spots.push_back({a + (b - a) * (k + 0.5) / pieces, normal});
      continue;
    }
    const Arc arc = ArcOf(a, b, bulge);
    const int pieces =
        static_cast<int>(std::floor(arc.radius_mm * std::abs(arc.sweep_rad) / kStep_mm));
    for (int k = 0; k < pieces; ++k) {
      const double angle = arc.start_rad + arc.sweep_rad * (k + 0.5) / pieces;
      const Vec2 out(std::cos(angle), std::sin(angle));
      spots.push_back({arc.centre + arc.radius_mm * out, bulge > 0.0 ? out : Vec2(-out)});
    }
  }
  return spots;
}

const char* NameOf(Body body) {
  return body == Body::kArmA ? "arm A" : body == Body::kArmB ? "arm B" : "lid plate";
}

}  // namespace

Stoppable::Stoppable(Body moving, Outline edge, const LayerSpan& layer)
    : body(moving),
      outline(std::move(edge)),
      span(layer),
      shape(std::make_shared<const PartTree>(
          MakePrism(NameOf(body), body, span.z_min_mm, span.z_max_mm,
                    {Flatten(outline, kFine_mm, Chords::kOutside)}))) {}

std::optional<Stop> FindStop(const ArmsTask& task, const LidMotion& motion,
                             const std::vector<Stoppable>& parts, double radius_mm, double edge_mm,
                             double apart_mm, double wall_z_mm, const StopProof& proof,
                             std::string* fault) {
  LW_REQUIRE(radius_mm > 0.0 && !parts.empty(), "radius=" << radius_mm);
  const CaseRoom room(task, motion);
  const BodiesAt open(motion, task.job.swing.open_rad);
  std::vector<Stop> stops;
  double widest = 0.0;  // the most room any place had, for the message
  for (const Stoppable& part : parts) {
    const Outline outline = Moved(part.outline, open.Of(part.body));
    const std::vector<Ring> rings{Flatten(outline, kFine_mm)};
    for (const Spot& spot : SpotsAlong(outline)) {
      const Vec2 centre = spot.point + radius_mm * spot.normal;
      const double approach = open.VelocityAt(part.body, spot.point).dot(spot.normal);
      if (approach < kLeastApproach_mm) continue;
      const double there = room.At(centre);
      widest = std::max(widest, there);
      if (there < edge_mm) continue;
      if ((centre - motion.pivots().case_a).norm() < apart_mm ||
          (centre - motion.pivots().case_b).norm() < apart_mm) {
        continue;
      }
      if (SignedDistance(rings, centre) < radius_mm - 2.0 * kFine_mm) continue;
      stops.push_back({centre,
                       radius_mm,
                       2.0 * radius_mm,
                       part.body,
                       spot.point,
                       spot.normal,
                       approach,
                       {part.span.z_min_mm, wall_z_mm}});
    }
  }
  std::stable_sort(stops.begin(), stops.end(),
                   [](const Stop& a, const Stop& b) { return a.approach_mm > b.approach_mm; });
  // Neighbours share their fate: spread what is proven over all of the places.
  const std::size_t stride = std::max<std::size_t>(1, stops.size() / kMostProofs);
  for (std::size_t i = 0; i < stops.size(); i += stride) {
    if (proof(stops[i])) return stops[i];
  }
  if (stops.empty()) {
    *fault = "stop: no place inside the case lets a post of " +
             BenchLength(2.0 * radius_mm, task.job.inches) + " with " +
             BenchLength(edge_mm, task.job.inches) +
             " around its centre meet an arm when the lid is open; at most " +
             BenchLength(std::max(0.0, widest), task.job.inches) + " would fit";
  } else {
    *fault = "stop: of " + std::to_string(stops.size()) + " places where a post of " +
             BenchLength(2.0 * radius_mm, task.job.inches) +
             " would meet an arm or the lid plate with the lid open, each is passed too closely "
             "by another part during the swing";
  }
  return std::nullopt;
}

namespace {

Assembly StopAndStopped(const Stop& stop, const Stoppable& part) {
  Assembly two;
  two.Add(PartKind::kStop, Member::kStop,
          MakePrism("stop", Body::kCase, stop.span.z_min_mm, stop.span.z_max_mm,
                    {Flatten(Circle{stop.centre, stop.radius_mm}, kFine_mm, Chords::kOutside)}));
  two.Add({PartKind::kStopped, Member::kNone, std::nullopt, false, part.shape});
  return two;
}

Verdict StopMeets(double open_rad, const Swing& swing, const Stop& stop, const Stoppable& part) {
  const Ring there = Moved(Flatten(part.outline, kFine_mm), swing.At(open_rad).Of(part.body));
  return MeetingVerdict(open_rad, SignedDistance({there}, stop.centre) - stop.radius_mm, "stop",
                        NameOf(part.body));
}

}  // namespace

Verdict MeetingVerdict(double open_rad, double off_mm, const std::string& first,
                       const std::string& second) {
  Verdict meets =
      Reckoned(Requirement::kStopMeets, Unit::kMm, kStopContact_mm, std::abs(off_mm), true);
  meets.of = Member::kStop;
  meets.angle_rad = open_rad;
  meets.first = first;
  meets.second = second;
  return meets;
}

Verdicts StopVerdicts(const ArmsTask& task, const Swing& swing, const Stop& stop,
                      const Stoppable& part) {
  Verdicts verdicts{StopMeets(task.limits.open_rad, swing, stop, part)};
  const Verdicts free = CertifyGaps(StopAndStopped(stop, part), swing, task.limits, Stage::kStop);
  verdicts.insert(verdicts.end(), free.begin(), free.end());
  return verdicts;
}

bool StopDoes(const ArmsTask& task, const Swing& swing, const Stop& stop, const Stoppable& part) {
  return StopMeets(task.limits.open_rad, swing, stop, part).met() &&
         AllKept(StopAndStopped(stop, part), swing, task.limits, Stage::kStop);
}

}  // namespace lidwright
