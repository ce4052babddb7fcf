// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "lidwright/swing/part.h"
#include "loop_oracle.h"

// The least gap of two parts over a swing by plain search, as an oracle for LeastGap: every edge
// against every edge at dense samples, then golden sections (or a zoom in angle and z) round the
// lowest of them. It samples, so it may stand above the truth by a hair but never below it.

namespace lidwright::testing {

struct Segment {
  double ax, ay, bx, by;
};

/// A part cut at one z: all edges, and one vertex of every ring.
struct Section {
  std::vector<Segment> edges;
  std::vector<std::size_t> ring_start;  // into edges
};

inline Section SectionAt(const Part& part, double z) {
  const double share = (z - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
  Section section;
  for (std::size_t r = 0; r < part.at_z_min.size(); ++r) {
    const Ring &low = part.at_z_min[r], &high = part.at_z_max[r];
    section.ring_start.push_back(section.edges.size());
    for (std::size_t i = 0; i < low.size(); ++i) {
      const std::size_t j = (i + 1) % low.size();
      const Vec2 a = (1.0 - share) * low[i] + share * high[i];
      const Vec2 b = (1.0 - share) * low[j] + share * high[j];
      section.edges.push_back({a.x(), a.y(), b.x(), b.y()});
    }
  }
  return section;
}

inline Section Placed(const Section& section, const Placing& placing) {
  const double c = placing.turn.real(), s = placing.turn.imag();
  const double x = placing.shift.real(), y = placing.shift.imag();
  Section placed = section;
  for (Segment& e : placed.edges) {
    e = {c * e.ax - s * e.ay + x, s * e.ax + c * e.ay + y, c * e.bx - s * e.by + x,
         s * e.bx + c * e.by + y};
  }
  return placed;
}

/// Squared distance of a point from a segment.
inline double PointSegment2(double px, double py, const Segment& s) {
  const double dx = s.bx - s.ax, dy = s.by - s.ay;
  const double length2 = dx * dx + dy * dy;
  double t = length2 > 0.0 ? ((px - s.ax) * dx + (py - s.ay) * dy) / length2 : 0.0;
  t = t < 0.0 ? 0.0 : t > 1.0 ? 1.0 : t;
  const double x = px - s.ax - t * dx, y = py - s.ay - t * dy;
  return x * x + y * y;
}

inline double Side(const Segment& s, double px, double py) {
  return (s.bx - s.ax) * (py - s.ay) - (s.by - s.ay) * (px - s.ax);
}

/// Do they cross in a point inside both?
inline bool Cross(const Segment& p, const Segment& q) {
  return Side(p, q.ax, q.ay) * Side(p, q.bx, q.by) < 0.0 &&
         Side(q, p.ax, p.ay) * Side(q, p.bx, p.by) < 0.0;
}

inline bool Inside(const Section& region, double x, double y) {
  bool inside = false;
  for (const Segment& e : region.edges) {
    if ((e.ay > y) != (e.by > y) && x < e.ax + (y - e.ay) * (e.bx - e.ax) / (e.by - e.ay)) {
      inside = !inside;
    }
  }
  return inside;
}

/// Distance of two regions, 0 if they overlap. Pairs of edges whose boxes are farther apart than
/// the best so far are passed over.
inline double RegionDistance(const Section& p, const Section& q) {
  double best2 = 1e300;
  for (const Segment& s : p.edges) {
    const double s_low_x = std::min(s.ax, s.bx), s_high_x = std::max(s.ax, s.bx);
    const double s_low_y = std::min(s.ay, s.by), s_high_y = std::max(s.ay, s.by);
    for (const Segment& t : q.edges) {
      const double gx =
          std::max({0.0, std::min(t.ax, t.bx) - s_high_x, s_low_x - std::max(t.ax, t.bx)});
      const double gy =
          std::max({0.0, std::min(t.ay, t.by) - s_high_y, s_low_y - std::max(t.ay, t.by)});
      if (gx * gx + gy * gy > best2) continue;
      if (Cross(s, t)) return 0.0;
      best2 = std::min({best2, PointSegment2(s.ax, s.ay, t), PointSegment2(s.bx, s.by, t),
                        PointSegment2(t.ax, t.ay, s), PointSegment2(t.bx, t.by, s)});
    }
  }
  for (const std::size_t i : p.ring_start) {
    if (Inside(q, p.edges[i].ax, p.edges[i].ay)) return 0.0;
  }
  for (const std::size_t i : q.ring_start) {
    if (Inside(p, q.edges[i].ax, q.edges[i].ay)) return 0.0;
  }
  return std::sqrt(best2);
}

struct BruteGap {
  double gap = 1e300;
  double theta = 0.0;
  double z = 0.0;
};

/// The z interval two parts share.
inline std::pair<double, double> SharedZ(const Part& p, const Part& q) {
  return {std::max(p.z_min_mm, q.z_min_mm), std::min(p.z_max_mm, q.z_max_mm)};
}

inline double DistanceAt(const LoopOracle& oracle, const Part& p, const Part& q, double theta,
                         double z) {
  return RegionDistance(Placed(SectionAt(p, z), oracle.Place(p.body, q.body, theta)),
                        SectionAt(q, z));
}

/// The sections at one z. `oracle` must have been followed to `to`.
inline BruteGap LeastAtZ(const LoopOracle& oracle, const Part& p, const Part& q, double from,
                         double to, double z, double step) {
  const Section first = SectionAt(p, z), second = SectionAt(q, z);
  const auto gap = [&](double theta) {
    return RegionDistance(Placed(first, oracle.Place(p.body, q.body, theta)), second);
  };
  const int n = std::max(2, static_cast<int>(std::ceil((to - from) / step)));
  std::vector<double> sample(static_cast<std::size_t>(n) + 1);
  BruteGap best;
  best.z = z;
  const auto take = [&](double g, double theta) {
    if (g < best.gap) {
      best.gap = g;
      best.theta = theta;
    }
  };
  const auto theta_of = [&](int k) { return k == n ? to : from + (to - from) * k / n; };
  for (int k = 0; k <= n; ++k) {
    sample[k] = gap(theta_of(k));
    take(sample[k], theta_of(k));
    if (best.gap == 0.0) return best;
  }
  const double lowest = best.gap;
  for (int k = 0; k <= n; ++k) {
    if (sample[k] > lowest + 0.3) continue;
    if ((k > 0 && sample[k - 1] < sample[k]) || (k < n && sample[k + 1] < sample[k])) continue;
    double low = theta_of(std::max(0, k - 1)), high = theta_of(std::min(n, k + 1));
    double x = low + 0.3819660112501051 * (high - low), y = low + high - x;
    double fx = gap(x), fy = gap(y);
    for (int i = 0; i < 32; ++i) {
      take(fx, x);
      take(fy, y);
      if (fx < fy) {
        high = y, y = x, fy = fx;
        x = low + high - y, fx = gap(x);
      } else {
        low = x, x = y, fx = fy;
        y = low + high - x, fy = gap(y);
      }
    }
  }
  return best;
}

/// Two prisms.
inline BruteGap LeastOfPrisms(const LoopOracle& oracle, const Part& p, const Part& q, double from,
                              double to, double step = 0.05 * kRadPerDeg) {
  return LeastAtZ(oracle, p, q, from, to, SharedZ(p, q).first, step);
}

/// Two ruled parts: a grid in angle and z, then a zoom (5 × 5, by 2.5 each time) round its lowest
/// local minima.
inline BruteGap LeastOfRuled(const LoopOracle& oracle, const Part& p, const Part& q, double from,
                             double to, double step = 0.25 * kRadPerDeg, int layers = 17,
                             bool valleys = true) {
  const auto [z_low, z_high] = SharedZ(p, q);
  const int n = std::max(2, static_cast<int>(std::ceil((to - from) / step)));
  const int m = layers - 1;
  std::vector<Section> first, second;
  const auto z_of = [&, z0 = z_low, z1 = z_high](int j) {
    return j == m ? z1 : z0 + (z1 - z0) * j / m;
  };
  const auto theta_of = [&](int k) { return k == n ? to : from + (to - from) * k / n; };
  for (int j = 0; j <= m; ++j) {
    first.push_back(SectionAt(p, z_of(j)));
    second.push_back(SectionAt(q, z_of(j)));
  }
  struct Cell {
    double gap;
    int k, j;
  };
  std::vector<std::vector<double>> sample(n + 1, std::vector<double>(layers));
  BruteGap best;
  for (int k = 0; k <= n; ++k) {
    const Placing placing = oracle.Place(p.body, q.body, theta_of(k));
    for (int j = 0; j <= m; ++j) {
      sample[k][j] = RegionDistance(Placed(first[j], placing), second[j]);
      if (sample[k][j] < best.gap) best = {sample[k][j], theta_of(k), z_of(j)};
      if (best.gap == 0.0) return best;
    }
  }
  std::vector<Cell> cells;
  for (int k = 0; k <= n; ++k) {
    for (int j = 0; j <= m; ++j) {
      bool least = sample[k][j] < best.gap + 2.0;
      for (int dk = -1; dk <= 1 && least; ++dk) {
        for (int dj = -1; dj <= 1 && least; ++dj) {
          const int kk = k + dk, jj = j + dj;
          if (kk >= 0 && kk <= n && jj >= 0 && jj <= m) least = sample[k][j] <= sample[kk][jj];
        }
      }
      if (least) cells.push_back({sample[k][j], k, j});
    }
  }
  std::sort(cells.begin(), cells.end(), [](const Cell& a, const Cell& b) { return a.gap < b.gap; });
  if (cells.size() > 12) cells.resize(12);
  for (const Cell& cell : cells) {
    double theta = theta_of(cell.k), z = z_of(cell.j), here = cell.gap;
    double reach_theta = (to - from) / n, reach_z = (z_high - z_low) / m;
    for (int round = 0; round < 22; ++round) {
      double best_theta = theta, best_z = z;
      for (int dk = -2; dk <= 2; ++dk) {
        const double t = std::clamp(theta + dk * reach_theta / 2, from, to);
        const Placing placing = oracle.Place(p.body, q.body, t);
        for (int dj = -2; dj <= 2; ++dj) {
          const double w = std::clamp(z + dj * reach_z / 2, z_low, z_high);
          const double g = RegionDistance(Placed(SectionAt(p, w), placing), SectionAt(q, w));
          if (g < here) here = g, best_theta = t, best_z = w;
        }
      }
      theta = best_theta, z = best_z;
      reach_theta *= 0.5, reach_z *= 0.5;
    }
    if (here < best.gap) best = {here, theta, z};
  }
  // The zoom can stick in a narrow valley that runs askew to angle and z. So round the lowest cells
  // golden sections in z of the least over a stretch of angles (if `valleys`); and a fine search at
  // the ends of z, where most minima are.
  for (std::size_t i = 0; valleys && i < std::min<std::size_t>(cells.size(), 4); ++i) {
    const double theta = theta_of(cells[i].k), z = z_of(cells[i].j), layer = (z_high - z_low) / m;
    const double from_here = std::max(from, theta - 12 * step);
    const double to_here = std::min(to, theta + 12 * step);
    const auto least = [&](double w) {
      const BruteGap found = LeastAtZ(oracle, p, q, from_here, to_here, w, step);
      if (found.gap < best.gap) best = found;
      return found.gap;
    };
    double low = std::max(z_low, z - layer), high = std::min(z_high, z + layer);
    double x = low + 0.3819660112501051 * (high - low), y = low + high - x;
    double fx = least(x), fy = least(y);
    for (int round = 0; round < 30; ++round) {
      if (fx < fy) {
        high = y, y = x, fy = fx;
        x = low + high - y, fx = least(x);
      } else {
        low = x, x = y, fx = fy;
        y = low + high - x, fy = least(y);
      }
    }
  }
  for (const double z : {z_low, z_high}) {
    const BruteGap end = LeastAtZ(oracle, p, q, from, to, z, step / 4);
    if (end.gap < best.gap) best = end;
  }
  return best;
}

}  // namespace lidwright::testing
