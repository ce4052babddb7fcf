// SPDX-License-Identifier: Apache-2.0
#include "bench/brute_force.h"

#include <algorithm>
#include <cmath>
#include <random>

#include "design/hinge_search.h"
#include "lidwright/base/parallel.h"
#include "lidwright/design/merit.h"
#include "lidwright/synthesis/search.h"

namespace lidwright::bench {
namespace {

constexpr int kAngles = 16;
constexpr double kFaint_mm = 0.15;   // vertices so near their chord are left out
constexpr double kStep_mm = 10.0;    // points along edges
constexpr double kNear_mm = 12.0;    // the misses of a draw that may still be mended
constexpr double kApart_mm = 6.0;    // draws that are followed differ by this
constexpr double kPerMissed = 20.0;  // merit that a missed millimetre costs while descending
constexpr std::size_t kBlock = 100'000;

struct Draws {
  std::mt19937_64 random;
  double Share() { return static_cast<double>(random() >> 11) * 0x1p-53; }
  double Between(double low, double high) { return low + (high - low) * Share(); }
};

Ring Sparse(const Ring& ring) {
  Ring sparse{ring[0]};
  std::size_t last = 0;
  for (std::size_t i = 1; i <= ring.size(); ++i) {
    // Goes on from `last` while all between lies on the chord.
    bool faint = i < ring.size();
    for (std::size_t k = last + 1; faint && k <= i; ++k) {
      const Vec2 q = NearestOnSegment(ring[k], ring[last], ring[(i + 1) % ring.size()]);
      faint = (ring[k] - q).norm() < kFaint_mm;
    }
    if (faint || i == ring.size()) continue;
    sparse.push_back(ring[i]);
    last = i;
  }
  return sparse;
}

struct Shape {
  struct Edge {
    Vec2 from, along;
    double length2;
  };
  std::vector<Edge> edges;
  std::vector<Vec2> points;
  Rect2 box;

  explicit Shape(const std::vector<Ring>& from) {
    for (const Ring& ring : from) {
      const Ring r = Sparse(ring);
      for (std::size_t i = 0; i < r.size(); ++i) {
        const Vec2 &a = r[i], &b = r[(i + 1) % r.size()];
        const int pieces = std::max(1, static_cast<int>(std::ceil((b - a).norm() / kStep_mm)));
        for (int k = 0; k < pieces; ++k) points.push_back(a + (b - a) * k / pieces);
        edges.push_back({a, b - a, (b - a).squaredNorm()});
        box.Add(a);
      }
    }
  }
  double Lacks(const Vec2& p, double need) const {
    if (p.x() < box.low.x() - need || p.x() > box.high.x() + need || p.y() < box.low.y() - need ||
        p.y() > box.high.y() + need) {
      return 0.0;
    }
    return std::max(0.0, need - Distance(p));
  }
  // Negative inside, by a plain walk over all edges.
  double Distance(const Vec2& p) const {
    double least2 = 1e300;
    bool inside = false;
    for (const auto& [a, along, length2] : edges) {
      const Vec2 to = p - a;
      const double above = a.y() + along.y();
      if ((a.y() > p.y()) != (above > p.y()) && to.x() < to.y() / along.y() * along.x()) {
        inside = !inside;
      }
      const double t = std::clamp(to.dot(along) / length2, 0.0, 1.0);
      least2 = std::min(least2, (to - t * along).squaredNorm());
    }
    return inside ? -std::sqrt(least2) : std::sqrt(least2);
  }
};

// The plain check of a lid at sampled angles.
class PlainCheck {
 public:
  explicit PlainCheck(const BoxModel& box) : box_(box), task_(box.task) {
    const auto& stations = box.solid.stations;
    // A section at each face of a wall or lip, and six spread over the rest.
    const std::size_t every = std::max<std::size_t>(1, stations.size() / 6);
    for (std::size_t i = stations.size(); i-- > 0;) {  // end walls first: they decide most
      const bool step = (i > 0 && stations[i - 1].z_mm == stations[i].z_mm) ||
                        (i + 1 < stations.size() && stations[i + 1].z_mm == stations[i].z_mm);
      if (!step && i % every != 0 && i + 1 != stations.size()) continue;
      if (stations[i].case_rings.empty() || stations[i].lid_rings.empty()) continue;
      case_.emplace_back(stations[i].case_rings);
      lid_.emplace_back(stations[i].lid_rings);
    }
  }

  // Σ of what lacks in mm, up to `enough`; huge where the lid does not open.
  double Missed(const Pivots& p, double enough) const {
    const double never = 1e9;
    if ((p.case_a - p.case_b).norm() < 10.0 || (p.lid_a - p.lid_b).norm() < 10.0) return never;
    const Vec2 a = p.lid_a - p.case_a, b = p.lid_b - p.case_b;
    if (std::min(a.norm(), b.norm()) < 10.0) return never;
    if (std::abs(Cross(a, b)) < 0.02 * a.norm() * b.norm()) return never;  // parallel when shut
    for (const auto& [pivot, zone] : {std::pair(&p.case_a, &task_.case_zone),
                                      {&p.case_b, &task_.case_zone},
                                      {&p.lid_a, &task_.lid_zone},
                                      {&p.lid_b, &task_.lid_zone}}) {
      if ((pivot->array() < zone->low.array()).any() || (pivot->array() > zone->high.array()).any())
        return never;
    }
    const auto motion = LidMotion::Make(p);
    if (!motion || motion->Range().high_rad <= task_.open_rad) return never;
    double missed = FirstMotion(*motion);
    for (int i = kAngles; i >= 1 && missed < enough; --i) {
      const double theta = task_.open_rad * i / kAngles;
      const LidState state = motion->At(theta);
      missed += Room(state, i == kAngles);
      if (theta >= task_.gap_from_rad) missed += Gaps(state.X_CL, task_.gap_mm, enough - missed);
    }
    if (missed < enough) missed += Gaps(motion->At(task_.gap_from_rad).X_CL, task_.gap_mm, enough);
    if (missed < enough) {
      missed += Gaps(motion->At(task_.gap_from_rad / 2.0).X_CL, 0.2 * task_.gap_mm, enough);
    }
    return missed;
  }

 private:
  // The rim parts: a tenth of a degree on, no lid point is deeper in the case than shut.
  double FirstMotion(const LidMotion& motion) const {
    const Vec2 centre = motion.InstantCentre(motion.At(0.0));
    double missed = 0.0;
    for (const LidTask::Contact& contact : task_.contacts) {
      const double rate = contact.normal.dot(Perp(Vec2(contact.point - centre)));
      if (!(rate > 0.0)) missed += 5.0 + std::min(50.0, 0.1 * std::abs(rate));
    }
    return missed;
  }

  double Room(const LidState& state, bool open) const {
    double missed = 0.0;
    Rect2 all;
    for (const Vec2& q : task_.lid_hull) all.Add(state.X_CL * q);
    const auto over = [&](double by) { missed += std::max(0.0, by); };
    if (open) over(all.high.x() - task_.access_x_mm);
    if (std::isfinite(task_.behind_x_mm)) over(task_.behind_x_mm - all.low.x());
    if (std::isfinite(task_.above_y_mm)) over(all.high.y() - task_.above_y_mm);
    if (std::isfinite(task_.bench_y_mm)) over(task_.bench_y_mm + task_.gap_mm - all.low.y());
    return missed;
  }

  double Gaps(const Pose& X_CL, double need, double enough) const {
    const Pose X_LC = X_CL.Inverse();
    double missed = 0.0;
    for (std::size_t s = 0; s < case_.size() && missed < enough; ++s) {
      double worst = 0.0;
      for (const Vec2& q : lid_[s].points) {
        worst = std::max(worst, case_[s].Lacks(X_CL * q, need));
        if (missed + worst >= enough) return missed + worst;
      }
      for (const Vec2& q : case_[s].points) {
        worst = std::max(worst, lid_[s].Lacks(X_LC * q, need));
        if (missed + worst >= enough) return missed + worst;
      }
      missed += worst;
    }
    return missed;
  }

  const BoxModel& box_;
  const LidTask& task_;
  std::vector<Shape> case_, lid_;
};

struct Found {
  double value;  // merit of those that look clear, what they miss of the others
  Pivots pivots;
};

bool Less(const Found& a, const Found& b) {
  return a.value < b.value;
}

std::vector<Found> Spread(std::vector<Found> all, std::size_t count) {
  std::stable_sort(all.begin(), all.end(), Less);
  std::vector<Found> kept;
  for (const Found& f : all) {
    if (kept.size() >= count) break;
    const bool fresh = std::none_of(kept.begin(), kept.end(), [&](const Found& other) {
      return Apart_mm(f.pivots, other.pivots) < kApart_mm;
    });
    if (fresh) kept.push_back(f);
  }
  return kept;
}

// Nelder–Mead (Nelder and Mead 1965, from memory) with restarts on a shrunken simplex.
template <typename Value>
Found Descend(const Pivots& start, double size_mm, int calls, const Value& value) {
  using Point = std::pair<double, PivotNumbers>;
  PivotNumbers best = NumbersOf(start);
  for (double size = size_mm; size > 0.4; size /= 3.0) {
    std::vector<Point> simplex;
    for (int k = -1; k < 8; ++k) {
      PivotNumbers x = best;
      if (k >= 0) x[static_cast<std::size_t>(k)] += k % 2 ? size : -size;
      simplex.push_back({value(PivotsOf(x.data())), x});
    }
    for (int call = 0; call < calls; ++call) {
      std::stable_sort(simplex.begin(), simplex.end(),
                       [](const Point& a, const Point& b) { return a.first < b.first; });
      PivotNumbers middle{};
      for (std::size_t i = 0; i < 8; ++i) {
        for (std::size_t k = 0; k < 8; ++k) middle[k] += simplex[i].second[k] / 8.0;
      }
      const auto at = [&](double t) {
        PivotNumbers x;
        for (std::size_t k = 0; k < 8; ++k)
          x[k] = middle[k] + t * (middle[k] - simplex[8].second[k]);
        return Point{value(PivotsOf(x.data())), x};
      };
      Point next = at(1.0);
      if (next.first < simplex[0].first) {
        const Point farther = at(2.0);
        if (farther.first < next.first) next = farther;
      } else if (next.first >= simplex[7].first) {
        next = at(next.first < simplex[8].first ? 0.5 : -0.5);
      }
      if (next.first < simplex[8].first) {
        simplex[8] = next;
        continue;
      }
      for (std::size_t i = 1; i < 9; ++i) {
        for (std::size_t k = 0; k < 8; ++k) {
          simplex[i].second[k] = (simplex[0].second[k] + simplex[i].second[k]) / 2.0;
        }
        simplex[i].first = value(PivotsOf(simplex[i].second.data()));
      }
    }
    best = std::min_element(simplex.begin(), simplex.end())->second;
  }
  return {value(PivotsOf(best.data())), PivotsOf(best.data())};
}

class Force {
 public:
  Force(const BoxModel& box, const BruteOptions& options)
      : box_(box), options_(options), use_(UseOf(box)), check_(box) {}

  BruteAnswer Run() {
    std::vector<Found> clear, near;
    DrawAll(clear, near);
    answer_.looked_clear = static_cast<long>(clear.size());
    const auto count = static_cast<std::size_t>(options_.descents);
    std::vector<Found> starts = Spread(clear, count);
    const std::vector<Found> more = Spread(near, count - std::min(count, starts.size()));
    std::vector<Found> pool = starts;
    starts.insert(starts.end(), more.begin(), more.end());
    std::vector<Found> ends(starts.size());
    ParallelFor(starts.size(), options_.threads, [&](std::size_t i) {
      ends[i] = Descend(starts[i].pivots, 8.0, 250, [&](const Pivots& p) { return Value(p); });
    });
    for (const Found& end : ends) {
      if (check_.Missed(end.pivots, 1.0) <= 0.02) pool.push_back(end);
    }
    Climb(Complete(pool));
    return answer_;
  }

 private:
  double MeritOf(const Pivots& p) const { return LidMerit(use_, FiguresOf(box_.task, use_, p)); }

  double Value(const Pivots& p) const {
    const double missed = check_.Missed(p, 1e6);
    if (missed >= 1e9) return 1e9;
    return MeritOf(p) + kPerMissed * missed;
  }

  Pivots Draw(Draws& draws) const {
    const Zone &c = box_.task.case_zone, &l = box_.task.lid_zone;
    const auto in = [&](const Zone& zone) -> Vec2 {
      const double x = draws.Between(zone.low.x(), zone.high.x());
      return {x, draws.Between(zone.low.y(), zone.high.y())};
    };
    const Vec2 ca = in(c), cb = in(c), la = in(l), lb = in(l);
    return {ca, cb, la, lb};
  }

  void DrawAll(std::vector<Found>& clear, std::vector<Found>& near) const {
    const std::size_t blocks = static_cast<std::size_t>(options_.draws) / kBlock;
    std::vector<std::vector<Found>> clear_of(blocks), near_of(blocks);
    ParallelFor(blocks, options_.threads, [&](std::size_t b) {
      Draws draws{std::mt19937_64(options_.seed * 1'000'003ULL + b)};
      for (std::size_t i = 0; i < kBlock; ++i) {
        const Pivots p = Draw(draws);
        const double missed = check_.Missed(p, kNear_mm);
        if (missed <= 0.0) {
          clear_of[b].push_back({MeritOf(p), p});
        } else if (missed < kNear_mm) {
          near_of[b].push_back({missed, p});
        }
      }
      near_of[b] = Spread(near_of[b], 20);
    });
    for (std::size_t b = 0; b < blocks; ++b) {
      clear.insert(clear.end(), clear_of[b].begin(), clear_of[b].end());
      near.insert(near.end(), near_of[b].begin(), near_of[b].end());
    }
  }

  bool IsComplete(const Pivots& p) const {
    if (check_.Missed(p, 1.0) > 0.3) return false;
    return Completed(box_, p).has_value();
  }

  // Complete hinges among the pool, best first.
  std::vector<Found> Complete(std::vector<Found> pool) {
    for (Found& f : pool) {
      f.pivots = Snapped(box_.task, f.pivots, box_.job.shop.grid_mm);
      f.value = MeritOf(f.pivots);
    }
    pool = Spread(pool, static_cast<std::size_t>(options_.tried));
    std::vector<Found> complete;
    constexpr std::size_t kBatch = 16;
    for (std::size_t first = 0; first < pool.size(); first += kBatch) {
      const std::size_t count = std::min(kBatch, pool.size() - first);
      std::vector<char> good(count, 0);
      ParallelFor(count, options_.threads,
                  [&](std::size_t i) { good[i] = IsComplete(pool[first + i].pivots) ? 1 : 0; });
      for (std::size_t i = 0; i < count; ++i) {
        if (good[i]) complete.push_back(pool[first + i]);
      }
      if (static_cast<int>(complete.size()) >= options_.completed) break;
    }
    answer_.complete += static_cast<long>(complete.size());
    return complete;
  }

  // Moves on the grid from the best complete ones, each certified before it is made.
  void Climb(std::vector<Found> complete) {
    std::stable_sort(complete.begin(), complete.end(), Less);
    if (complete.size() > static_cast<std::size_t>(options_.climbs)) {
      complete.resize(static_cast<std::size_t>(options_.climbs));
    }
    std::vector<long> certified(complete.size(), 0);
    ParallelFor(complete.size(), options_.threads, [&](std::size_t i) {
      Draws draws{std::mt19937_64(options_.seed * 7'000'003ULL + i)};
      for (const double step : {8.0, 4.0, 2.0, 1.0}) {
        while (Move(complete[i], step * box_.job.shop.grid_mm, draws, certified[i])) {
        }
      }
    });
    for (std::size_t i = 0; i < complete.size(); ++i) {
      answer_.complete += certified[i];
      if (answer_.pivots && answer_.merit <= complete[i].value) continue;
      answer_.pivots = complete[i].pivots;
      answer_.merit = complete[i].value;
    }
  }

  bool Move(Found& at, double step, Draws& draws, long& certified) const {
    std::vector<Found> moves;
    const PivotNumbers x = NumbersOf(at.pivots);
    const auto add = [&](const PivotNumbers& y) {
      const Pivots p = Snapped(box_.task, PivotsOf(y.data()), box_.job.shop.grid_mm);
      const double merit = MeritOf(p);
      if (merit < at.value - 1e-3 && check_.Missed(p, 1.0) <= 0.3) moves.push_back({merit, p});
    };
    for (std::size_t k = 0; k < 8; ++k) {
      for (const double way : {step, -step}) {
        PivotNumbers y = x;
        y[k] += way;
        add(y);
      }
    }
    for (int i = 0; i < 60; ++i) {
      PivotNumbers y = x;
      for (double& number : y) number += step * std::round(draws.Between(-1.5, 1.5));
      add(y);
    }
    std::stable_sort(moves.begin(), moves.end(), Less);
    constexpr std::size_t kMost = 8;
    if (moves.size() > kMost) moves.resize(kMost);
    for (const Found& move : moves) {
      if (!IsComplete(move.pivots)) continue;
      ++certified;
      at = move;
      return true;
    }
    return false;
  }

  const BoxModel& box_;
  const BruteOptions& options_;
  const LidUse use_;
  const PlainCheck check_;
  BruteAnswer answer_;
};

}  // namespace

BruteAnswer BruteForce(const BoxModel& box, const BruteOptions& options) {
  return Force(box, options).Run();
}

}  // namespace lidwright::bench
