// SPDX-License-Identifier: Apache-2.0
#include "cutting/nest_shapes.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/hull.h"

namespace lidwright {
namespace {

constexpr double kFinestCell_mm = 0.4;
constexpr double kCellsAcross = 400.0;  // of a square of all parts' boxes together

// The x at which the line y meets everything within `reach` of the segment: an interval, for a
// capsule is convex. Empty (low > high) if it misses.
struct Interval {
  double low = std::numeric_limits<double>::infinity();
  double high = -std::numeric_limits<double>::infinity();
  void Add(double from, double to) {
    low = std::min(low, from);
    high = std::max(high, to);
  }
};
Interval CapsuleAt(const Vec2& a, const Vec2& b, double reach, double y) {
  Interval at;
  for (const Vec2& end : {a, b}) {
    const double rise = std::abs(y - end.y());
    if (rise > reach) continue;
    const double half = std::sqrt(reach * reach - rise * rise);
    at.Add(end.x() - half, end.x() + half);
  }
  // The straight sides: the segment moved by ±reach across.
  const Vec2 along = b - a;
  const double length = along.norm();
  if (length == 0.0) return at;
  const Vec2 across = Perp(along) * (reach / length);
  for (const Vec2& side : {across, Vec2(-across)}) {
    const Vec2 p = a + side, q = b + side;
    if ((p.y() > y) == (q.y() > y)) continue;
    const double x = p.x() + (y - p.y()) / (q.y() - p.y()) * (q.x() - p.x());
    at.Add(x, x);
  }
  return at;
}

std::vector<Run> Merged(std::vector<Run> runs) {
  std::sort(runs.begin(), runs.end(), [](const Run& a, const Run& b) { return a.first < b.first; });
  std::vector<Run> merged;
  for (const Run& run : runs) {
    if (!merged.empty() && run.first <= merged.back().last + 1) {
      merged.back().last = std::max(merged.back().last, run.last);
    } else {
      merged.push_back(run);
    }
  }
  return merged;
}

// Every cell that comes within `reach` of the ring's region. A cell's points lie within cell · √½
// of its centre, so its centre is asked whether it lies within reach + cell · √½.
NestShape Cells(const Ring& ring, double angle, double reach_mm, double cell) {
  NestShape shape;
  shape.angle_rad = angle;
  shape.box = Bounds(ring);
  const double reach = reach_mm + cell * std::sqrt(0.5) + 1e-9;
  const auto row_of = [&](double y) {  // whose centre line is at or above y
    return static_cast<int>(std::ceil((y - shape.box.low.y()) / cell - 0.5));
  };
  const auto add = [&](double from, double to, std::vector<Run>& row) {
    const int first = static_cast<int>(std::ceil((from - shape.box.low.x()) / cell - 0.5));
    const int last = static_cast<int>(std::floor((to - shape.box.low.x()) / cell - 0.5));
    if (first <= last) row.push_back({first, last});
  };
  shape.first_row = row_of(shape.box.low.y() - reach);
  const int last_row = row_of(shape.box.high.y() + reach);
  shape.rows.resize(static_cast<std::size_t>(last_row - shape.first_row + 1));
  std::vector<std::vector<double>> crossings(shape.rows.size());
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
    const double low = std::min(a.y(), b.y()) - reach, high = std::max(a.y(), b.y()) + reach;
    for (int row = row_of(low); row < row_of(high); ++row) {
      const double y = shape.box.low.y() + (row + 0.5) * cell;
      const auto k = static_cast<std::size_t>(row - shape.first_row);
      const Interval at = CapsuleAt(a, b, reach, y);
      add(at.low, at.high, shape.rows[k]);
      if ((a.y() > y) == (b.y() > y)) continue;
      crossings[k].push_back(a.x() + (y - a.y()) / (b.y() - a.y()) * (b.x() - a.x()));
    }
  }
  for (std::size_t k = 0; k < shape.rows.size(); ++k) {
    std::sort(crossings[k].begin(), crossings[k].end());
    for (std::size_t i = 0; i + 1 < crossings[k].size(); i += 2) {
      add(crossings[k][i], crossings[k][i + 1], shape.rows[k]);
    }
    shape.rows[k] = Merged(shape.rows[k]);
  }
  return shape;
}

// The ways a part may lie: along the grain both ways round, else in `turns` steps from the way with
// the smallest box.
std::vector<double> Angles(const NestPart& part, int turns) {
  if (part.grain) {
    const double along = -std::atan2(part.grain->y(), part.grain->x());
    return {along, along + kPi};
  }
  std::vector<double> angles;
  const double lying = LyingAngle(part.part.outline);
  for (int i = 0; i < turns; ++i) angles.push_back(lying + 2.0 * kPi * i / turns);
  return angles;
}

bool Same(const NestPart& a, const NestPart& b) {
  const auto &u = a.part.outline.vertices, &v = b.part.outline.vertices;
  return a.grain.has_value() == b.grain.has_value() && (!a.grain || *a.grain == *b.grain) &&
         std::equal(u.begin(), u.end(), v.begin(), v.end(),
                    [](const OutlineVertex& p, const OutlineVertex& q) {
                      return p.point == q.point && p.bulge == q.bulge;
                    });
}

}  // namespace

double LyingAngle(const Outline& outline) {
  const Ring hull = ConvexHull(Flatten(outline, kChordError_mm / 2.0, Chords::kOutside));
  double best = std::numeric_limits<double>::infinity(), angle = 0.0;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Vec2 edge = hull[(i + 1) % hull.size()] - hull[i];
    const double turn = -std::atan2(edge.y(), edge.x());
    const Rect2 box = Bounds(Moved(hull, Pose::Make(turn, Vec2::Zero())));
    const Vec2 size = box.high - box.low;
    if (size.x() * size.y() >= best * (1.0 - 1e-9)) continue;
    best = size.x() * size.y();
    angle = size.x() >= size.y() ? turn : turn + kPi / 2.0;
  }
  return angle;
}

Lying LyingAtOrigin(const Outline& outline) {
  Lying lying{Pose::Make(LyingAngle(outline), Vec2::Zero()), Vec2::Zero()};
  CutPart lies;
  lies.outline = Moved(outline, lying.pose);
  const Rect2 box = Bounds(std::vector<CutPart>{lies});
  lying.pose.origin = -box.low;
  lying.size = box.high - box.low;
  return lying;
}

NestShapes::NestShapes(const std::vector<NestPart>& parts, const Stock& stock,
                       const NestOptions& options) {
  const Vec2 room = Vec2(stock.width_mm, stock.height_mm) - Vec2::Constant(2.0 * stock.margin_mm);
  std::vector<Ring> rings;
  double boxes = 0.0;
  for (const NestPart& part : parts) {
    rings.push_back(Flatten(part.part.outline, kChordError_mm / 2.0, Chords::kOutside));
    const Vec2 size = Bounds(rings.back()).high - Bounds(rings.back()).low;
    boxes += (size.x() + stock.spacing_mm) * (size.y() + stock.spacing_mm);
  }
  cell_mm_ = options.cell_mm > 0.0 ? options.cell_mm
                                   : std::max(kFinestCell_mm, std::sqrt(boxes) / kCellsAcross);
  for (std::size_t i = 0; i < parts.size(); ++i) {
    std::size_t twin = 0;
    while (twin < i && !Same(parts[twin], parts[i])) ++twin;
    if (twin < i) {
      ways_.push_back(ways_[twin]);
      least_size_.push_back(least_size_[twin]);
      continue;
    }
    ways_.emplace_back();
    least_size_.push_back(Vec2::Zero());
    double least_excess = std::numeric_limits<double>::infinity();
    for (const double angle : Angles(parts[i], options.turns)) {
      const Ring turned = Moved(rings[i], Pose::Make(angle, Vec2::Zero()));
      const Vec2 size = Bounds(turned).high - Bounds(turned).low;
      // What is missing to the sheet; chords that stand out by their error may not count against
      // it.
      const double excess = (size - room).maxCoeff() - kChordError_mm;
      if (excess < least_excess) {
        least_excess = excess;
        least_size_[i] = size;
      }
      if (excess > 0.0) continue;
      ways_[i].push_back(shapes_.size());
      shapes_.push_back(Cells(turned, angle, stock.spacing_mm / 2.0, cell_mm_));
    }
  }
  between_.resize(shapes_.size() * shapes_.size());
}

const Forbidden& NestShapes::Between(std::size_t a, std::size_t b) {
  std::unique_ptr<Forbidden>& slot = between_[a * shapes_.size() + b];
  if (slot) return *slot;
  const NestShape &fixed = shapes_[a], &moving = shapes_[b];
  slot = std::make_unique<Forbidden>();
  // Cell u of the fixed and v of the moving shape meet at the offset u − v.
  const int rows = static_cast<int>(fixed.rows.size() + moving.rows.size()) - 1;
  slot->first_row = fixed.first_row - moving.first_row - (static_cast<int>(moving.rows.size()) - 1);
  slot->rows.resize(static_cast<std::size_t>(rows));
  // Runs are counted in where they begin and out where they end; what is open is forbidden.
  const auto ends = [](const NestShape& shape) {
    Run run{std::numeric_limits<int>::max(), std::numeric_limits<int>::min()};
    for (const std::vector<Run>& row : shape.rows) {
      if (row.empty()) continue;
      run.first = std::min(run.first, row.front().first);
      run.last = std::max(run.last, row.back().last);
    }
    return run;
  };
  const Run wide = ends(fixed), narrow = ends(moving);
  const int first = wide.first - narrow.last, width = wide.last - narrow.first - first + 2;
  std::vector<int> steps(static_cast<std::size_t>(width));
  for (int r = 0; r < rows; ++r) {
    std::fill(steps.begin(), steps.end(), 0);
    const int most = static_cast<int>(moving.rows.size()) - 1;
    const int from = std::max(0, r - most);
    const int to = std::min(r, static_cast<int>(fixed.rows.size()) - 1);
    for (int i = from; i <= to; ++i) {
      for (const Run& u : fixed.rows[static_cast<std::size_t>(i)]) {
        for (const Run& v : moving.rows[static_cast<std::size_t>(i + most - r)]) {
          ++steps[static_cast<std::size_t>(u.first - v.last - first)];
          --steps[static_cast<std::size_t>(u.last - v.first + 1 - first)];
        }
      }
    }
    std::vector<Run>& row = slot->rows[static_cast<std::size_t>(r)];
    int open = 0;
    for (int x = 0; x < width; ++x) {
      const int before = open;
      open += steps[static_cast<std::size_t>(x)];
      if (before == 0 && open > 0) row.push_back({first + x, 0});
      if (before > 0 && open == 0) row.back().last = first + x - 1;
    }
  }
  return *slot;
}

}  // namespace lidwright
