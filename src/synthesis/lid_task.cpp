// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_task.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/geometry/hull.h"
#include "thinned.h"

namespace lidwright {
namespace {

// [mm] Vertices within this of the chord of their neighbours are left out of search sections.
constexpr double kThinning_mm = 0.4;
// [mm] Long edges get points this far apart: a corner of the other outline cannot hide between.
constexpr double kPointStep_mm = 14.0;
// [mm] Points within this of touching when shut count as contacts of the search.
constexpr double kNearContact_mm = 1e-4;

KeySection SectionOf(const Station& station) {
  const auto box = Thinned(station.case_rings, kThinning_mm),
             lid = Thinned(station.lid_rings, kThinning_mm);
  return {EdgeBag(box), EdgeBag(lid), PointsAlong(box, kPointStep_mm),
          PointsAlong(lid, kPointStep_mm)};
}

// Contacts of one station: a vertex of one outline on an edge of the other, where both edges at the
// vertex lie beyond the edge's line.
void AddContacts(const std::vector<Ring>& movers, const std::vector<Ring>& fixed, bool lid_moves,
                 double closed_gap, std::vector<LidTask::Contact>& contacts) {
  for (const Ring& ring : movers) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2& p = ring[i];
      const Vec2 &before = ring[(i + ring.size() - 1) % ring.size()],
                 &after = ring[(i + 1) % ring.size()];
      for (const Ring& other : fixed) {
        for (std::size_t j = 0; j < other.size(); ++j) {
          const Vec2 &a = other[j], &b = other[(j + 1) % other.size()];
          if ((p - NearestOnSegment(p, a, b)).norm() > closed_gap + kNearContact_mm) continue;
          const Vec2 normal = -Perp(Vec2(b - a)).normalized();
          if (normal.dot(p - a) < closed_gap - kNearContact_mm ||
              normal.dot(before - p) < -1e-6 * (before - p).norm() ||
              normal.dot(after - p) < -1e-6 * (after - p).norm()) {
            continue;
          }
          contacts.push_back({p, lid_moves ? normal : Vec2(-normal)});
        }
      }
    }
  }
}

// Among contacts with one normal the rate n·(z × (p − I)) = along·p − … is linear in the point:
// only the least can decide.
void KeepDeciding(std::vector<LidTask::Contact>& contacts) {
  std::vector<LidTask::Contact> kept;
  for (const auto& contact : contacts) {
    bool found = false;
    for (auto& other : kept) {
      if ((other.normal - contact.normal).norm() > 1e-3) continue;
      found = true;
      // n·(z × p) = −(z × n)·p.
      if (-Perp(contact.normal).dot(contact.point) < -Perp(other.normal).dot(other.point)) {
        other = contact;
      }
    }
    if (!found) kept.push_back(contact);
  }
  contacts = kept;
}

Vec2 MassCentre(const Solid& solid) {
  Vec2 sum = Vec2::Zero();
  double volume = 0.0;
  const std::vector<Station>& stations = TrueStations(solid);
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const Station &a = stations[i], &b = stations[i + 1];
    for (const Station* s : {&a, &b}) {
      for (const Ring& ring : s->lid_rings) {
        const double part = SignedArea(ring) * (b.z_mm - a.z_mm) / 2.0;
        if (part == 0.0) continue;
        sum += part * Centroid(ring);
        volume += part;
      }
    }
  }
  LW_REQUIRE(volume > 0.0, "the lid has no volume");
  return sum / volume;
}

}  // namespace

EdgeBag::EdgeBag(const std::vector<Ring>& rings) {
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      from.push_back(ring[i]);
      to.push_back(ring[(i + 1) % ring.size()]);
      box.Add(ring[i]);
    }
  }
}

EdgeBag::Query EdgeBag::At(const Vec2& p) const {
  double best2 = std::numeric_limits<double>::infinity();
  Vec2 nearest = p, along = Vec2::UnitX();
  bool inside = false;
  for (std::size_t i = 0; i < from.size(); ++i) {
    const Vec2 &a = from[i], &b = to[i];
    if ((a.y() > p.y()) != (b.y() > p.y()) &&
        p.x() < a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) {
      inside = !inside;
    }
    const Vec2 edge = b - a;
    const double t = std::clamp((p - a).dot(edge) / edge.squaredNorm(), 0.0, 1.0);
    const Vec2 q = a + t * edge;
    const double d2 = (p - q).squaredNorm();
    if (d2 < best2) {
      best2 = d2;
      nearest = q;
      along = edge;
    }
  }
  const double distance = std::sqrt(best2);
  const double sign = inside ? -1.0 : 1.0;
  // On the outline itself the gradient is the outward normal.
  const Vec2 away =
      distance > 1e-9 ? Vec2(sign / distance * (p - nearest)) : Vec2(-Perp(along).normalized());
  return {sign * distance, away};
}

EdgeBag::Query EdgeBag::Within(const Vec2& p, double limit) const {
  const double dx = std::max({box.low.x() - p.x(), p.x() - box.high.x(), 0.0});
  const double dy = std::max({box.low.y() - p.y(), p.y() - box.high.y(), 0.0});
  const double outside = std::max(dx, dy);
  if (outside > 0.0 && outside >= limit) return {std::hypot(dx, dy), Vec2::Zero()};
  return At(p);
}

LidTask MakeLidTask(const Job& job, const Solid& solid) {
  LidTask task;
  const auto& stations = solid.stations;
  const double half = job.case_form.width_mm / 2.0;
  // Sections at the outer faces, both sides of each inner face, a quarter and the middle.
  std::vector<const Station*> chosen;
  const auto add_nearest = [&](double z, bool end_wall) {
    const Station* best = nullptr;
    for (const Station& s : stations) {
      if (s.end_wall != end_wall || s.beyond_bay) continue;
      if (!best || std::abs(s.z_mm - z) < std::abs(best->z_mm - z)) best = &s;
    }
    if (best && std::find(chosen.begin(), chosen.end(), best) == chosen.end()) {
      chosen.push_back(best);
    }
  };
  const std::vector<double> signs =
      solid.mirrored ? std::vector<double>{1.0} : std::vector<double>{1.0, -1.0};
  for (const double sign : signs) {
    add_nearest(sign * half, true);
    add_nearest(sign * solid.bay.z_max_mm, true);
    add_nearest(sign * solid.bay.z_max_mm, false);
    add_nearest(sign * half * 0.5, false);
  }
  add_nearest(0.0, false);
  // A lip inside the ends, at both its faces.
  if (solid.end_lip && solid.end_lip->z_max_mm < half) {
    const Station *inner = nullptr, *outer = nullptr;
    for (const Station& s : stations) {
      if (s.z_mm == solid.end_lip->z_min_mm) inner = &s;
      if (s.z_mm == solid.end_lip->z_max_mm && !outer) outer = &s;
    }
    LW_REQUIRE(inner && outer, "no stations at the lip's faces");
    for (const Station* s : {inner, outer}) {
      chosen.push_back(s);
      task.end_lip.emplace_back(Thinned(s->lid_rings, kThinning_mm));
    }
  }
  const auto index_of = [&](const Station* s) {
    return static_cast<std::size_t>(s - stations.data());
  };
  for (const Station* s : chosen) {
    task.sections.push_back(SectionOf(*s));
    task.section_stations.push_back(index_of(s));
  }
  // Arms live near the end walls: the stations that bound that stretch from both sides.
  for (const double sign : signs) {
    for (const double z : {solid.bay.z_min_mm, solid.bay.z_max_mm}) {
      const Station* best = nullptr;
      for (const Station& s : stations) {
        if (s.end_wall || s.beyond_bay) continue;
        if (!best || std::abs(s.z_mm - sign * z) < std::abs(best->z_mm - sign * z)) best = &s;
      }
      if (!best) continue;
      task.bay_stations.push_back(index_of(best));
      task.bay_case.emplace_back(Thinned(best->case_rings, kThinning_mm));
      task.bay_lid.emplace_back(Thinned(best->lid_rings, kThinning_mm));
    }
  }
  std::vector<Vec2> lid_points;
  for (const Station& s : stations) {
    for (const Ring& ring : s.lid_rings)
      lid_points.insert(lid_points.end(), ring.begin(), ring.end());
    AddContacts(s.lid_rings, s.case_rings, true, job.lid.seam_gap_mm, task.contacts);
    AddContacts(s.case_rings, s.lid_rings, false, job.lid.seam_gap_mm, task.contacts);
  }
  KeepDeciding(task.contacts);
  task.lid_hull = ConvexHull(lid_points);
  // The middle's lower front corner: of the points of the section, the one farthest to the front
  // and then down.
  const Station* middle = &stations.front();
  for (const Station& s : stations) {
    if (std::abs(s.z_mm) < std::abs(middle->z_mm)) middle = &s;
  }
  task.front_edge = middle->lid_rings[0][0];
  for (const Ring& ring : middle->lid_rings) {
    for (const Vec2& p : ring) {
      const auto key = [](const Vec2& q) { return q.x() - 1e-3 * q.y(); };
      if (key(p) > key(task.front_edge)) task.front_edge = p;
    }
  }
  task.mass_centre = MassCentre(solid);
  task.open_rad = job.swing.open_rad;
  task.gap_from_rad = job.swing.gap_from_rad;
  task.gap_mm = job.swing.gap_mm;
  const double mouth = solid.mouth_front_mm - solid.mouth_back_mm;
  task.access_x_mm =
      std::min(job.room.open_behind_x_mm, solid.mouth_front_mm - job.room.mouth_free * mouth);
  task.behind_x_mm = -job.room.behind_mm;
  task.above_y_mm = job.room.above_mm;
  task.bench_y_mm =
      job.room.bench_below ? solid.bench_mm : -std::numeric_limits<double>::infinity();
  task.pivot_gap_mm = job.arms.eye_mm / 2.0 + job.arms.gap_mm;
  // The gap grows from its closed value to `gap` by `gap_from`; a rim point parts with growing
  // speed, so a third of the mean speed is asked for at the start.
  task.rate_mm = job.swing.gap_mm / job.swing.gap_from_rad / 3.0;
  task.case_zone = solid.bay.case_zone;
  task.lid_zone = solid.bay.lid_zone;
  task.pinned = job.pivots;
  task.poses = job.poses;
  task.seed = job.seed;
  return task;
}

PivotNumbers NumbersOf(const Pivots& p) {
  return {p.case_a.x(), p.case_a.y(), p.case_b.x(), p.case_b.y(),
          p.lid_a.x(),  p.lid_a.y(),  p.lid_b.x(),  p.lid_b.y()};
}

Pivots PivotsOf(const double* x) {
  return {{x[0], x[1]}, {x[2], x[3]}, {x[4], x[5]}, {x[6], x[7]}};
}

NumberBounds BoundsOf(const LidTask& task) {
  NumberBounds bounds;
  const PivotWish& wish = task.pinned;
  const std::array<const std::optional<Vec2>*, 4> pins{&wish.case_a, &wish.case_b, &wish.lid_a,
                                                       &wish.lid_b};
  for (std::size_t i = 0; i < 8; ++i) {
    const Zone& zone = i < 4 ? task.case_zone : task.lid_zone;
    const auto axis = static_cast<Eigen::Index>(i % 2);
    const std::optional<Vec2>& pin = *pins[i / 2];
    bounds.low[i] = pin ? (*pin)[axis] : zone.low[axis];
    bounds.high[i] = pin ? (*pin)[axis] : zone.high[axis];
  }
  return bounds;
}

}  // namespace lidwright
