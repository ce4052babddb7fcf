// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_loop.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr double kCorner_rad = 15.0 * kRadPerDeg;
// Corners may be paired up to this share of the loops' size apart; farther costs more than leaving
// both alone, and so does a turn that differs by kOtherTurn.
constexpr double kFarCorner = 0.1;
constexpr double kOtherTurn_rad = 45.0 * kRadPerDeg;

// Adds the vertices from `first` (included) to `last` (not) that Douglas–Peucker keeps.
void Keep(const Ring& ring, std::size_t first, std::size_t last, double error_mm, Ring* out) {
  const Vec2 &a = ring[first % ring.size()], &b = ring[last % ring.size()];
  double worst = error_mm;
  std::size_t at = first;
  for (std::size_t i = first + 1; i < last; ++i) {
    const Vec2& p = ring[i % ring.size()];
    const double d = (p - NearestOnSegment(p, a, b)).norm();
    if (d > worst) {
      worst = d;
      at = i;
    }
  }
  if (at == first) {
    out->push_back(a);
    return;
  }
  Keep(ring, first, at, error_mm, out);
  Keep(ring, at, last, error_mm, out);
}

double CornerCost(const MeshLoop::Corner& a, const MeshLoop::Corner& b, double far_mm) {
  return (a.at - b.at).norm() / far_mm + std::abs(a.turn_rad - b.turn_rad) / kOtherTurn_rad;
}

// The vertex farthest to the lower back: a place that outlines without corners share.
std::size_t LowerBack(const Ring& ring) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < ring.size(); ++i) {
    if (ring[i].x() + ring[i].y() < ring[best].x() + ring[best].y()) best = i;
  }
  return best;
}

}  // namespace

MeshLoop::MeshLoop(Ring ring) : ring_(std::move(ring)), hole_(SignedArea(ring_) < 0.0) {
  const std::size_t n = ring_.size();
  LW_REQUIRE(n >= 3, "size=" << n);
  along_.reserve(n + 1);
  along_.push_back(0.0);
  for (std::size_t i = 0; i < n; ++i) {
    along_.push_back(along_.back() + (ring_[(i + 1) % n] - ring_[i]).norm());
    box_.Add(ring_[i]);
    const Vec2 in = ring_[i] - ring_[(i + n - 1) % n], out = ring_[(i + 1) % n] - ring_[i];
    const double turn = std::atan2(Cross(in, out), in.dot(out));
    if (std::abs(turn) > kCorner_rad) corners_.push_back({along_[i], ring_[i], turn});
  }
}

std::size_t MeshLoop::After(double s) const {
  return static_cast<std::size_t>(std::upper_bound(along_.begin(), along_.end() - 1, s) -
                                  along_.begin());
}

Vec2 MeshLoop::At(double s) const {
  s = std::fmod(s, length());
  if (s < 0.0) s += length();
  const std::size_t i = After(s) - 1;
  const double width = along_[i + 1] - along_[i];
  const Vec2 &a = ring_[i], &b = ring_[(i + 1) % ring_.size()];
  return width > 0.0 ? Vec2(a + (s - along_[i]) / width * (b - a)) : a;
}

Ring Simplified(const Ring& ring, double error_mm) {
  // Extreme points are corners or flat tops: natural places to begin.
  std::vector<std::size_t> starts;
  for (const Vec2& way : {Vec2(-1, -0.01), Vec2(0.01, -1), Vec2(1, 0.01), Vec2(-0.01, 1)}) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < ring.size(); ++i) {
      if (way.dot(ring[i]) > way.dot(ring[best])) best = i;
    }
    starts.push_back(best);
  }
  std::sort(starts.begin(), starts.end());
  starts.erase(std::unique(starts.begin(), starts.end()), starts.end());
  Ring out;
  for (std::size_t k = 0; k < starts.size(); ++k) {
    const std::size_t to = k + 1 < starts.size() ? starts[k + 1] : starts[0] + ring.size();
    Keep(ring, starts[k], to, error_mm, &out);
  }
  return out;
}

LoopMatch::LoopMatch(const MeshLoop& a, const MeshLoop& b)
    : length_a_(a.length()), length_b_(b.length()) {
  const auto &ca = a.corners(), &cb = b.corners();
  const std::size_t n = ca.size(), m = cb.size();
  const double far_mm = kFarCorner * std::max((a.box().high - a.box().low).norm(),
                                              (b.box().high - b.box().low).norm());
  // The surest pair of corners opens both loops.
  std::size_t first_a = 0, first_b = 0;
  double surest = 1.0;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < m; ++j) {
      const double cost = CornerCost(ca[i], cb[j], far_mm);
      if (cost >= surest) continue;
      surest = cost;
      first_a = i;
      first_b = j;
    }
  }
  if (surest >= 1.0) {
    anchors_ = {{a.PlaceOf(LowerBack(a.ring())), b.PlaceOf(LowerBack(b.ring()))}};
    return;
  }
  // Needleman–Wunsch on the corners from there: pair two, or leave one alone for a cost of 1.
  std::vector<double> best((n + 1) * (m + 1), 0.0);
  const auto cost = [&](std::size_t i, std::size_t j) -> double& { return best[i * (m + 1) + j]; };
  const auto pair = [&](std::size_t i, std::size_t j) {
    return CornerCost(ca[(first_a + i) % n], cb[(first_b + j) % m], far_mm);
  };
  for (std::size_t i = n + 1; i-- > 0;) {
    for (std::size_t j = m + 1; j-- > 0;) {
      if (i == n || j == m) {
        cost(i, j) = static_cast<double>(n - i + m - j);
      } else {
        cost(i, j) =
            std::min({1.0 + cost(i + 1, j), 1.0 + cost(i, j + 1), pair(i, j) + cost(i + 1, j + 1)});
      }
    }
  }
  const auto place = [](const std::vector<MeshLoop::Corner>& corners, std::size_t first,
                        std::size_t i, double length) {
    const std::size_t at = first + i;
    return at < corners.size() ? corners[at].s : corners[at - corners.size()].s + length;
  };
  for (std::size_t i = 0, j = 0; i < n && j < m;) {
    if (i + j == 0 || cost(i, j) == pair(i, j) + cost(i + 1, j + 1)) {
      anchors_.emplace_back(place(ca, first_a, i++, length_a_), place(cb, first_b, j++, length_b_));
    } else if (cost(i, j) == 1.0 + cost(i + 1, j)) {
      ++i;
    } else {
      ++j;
    }
  }
}

double LoopMatch::Map(const Anchors& anchors, double from_length, double to_length, double s,
                      bool back) {
  const auto from = [back](const std::pair<double, double>& p) {
    return back ? p.second : p.first;
  };
  const auto to = [back](const std::pair<double, double>& p) { return back ? p.first : p.second; };
  double relative = std::fmod(s - from(anchors[0]), from_length);
  if (relative < 0.0) relative += from_length;
  s = from(anchors[0]) + relative;
  const auto after =
      std::upper_bound(anchors.begin(), anchors.end(), s,
                       [&](double value, const auto& anchor) { return value < from(anchor); });
  const auto& low = *(after - 1);
  const double high_from = after == anchors.end() ? from(anchors[0]) + from_length : from(*after);
  const double high_to = after == anchors.end() ? to(anchors[0]) + to_length : to(*after);
  const double width = high_from - from(low);
  const double t = width > 0.0 ? (s - from(low)) / width : 0.0;
  const double mapped = std::fmod(to(low) + t * (high_to - to(low)), to_length);
  return mapped;
}

std::vector<std::size_t> PairLoops(const std::vector<MeshLoop>& a, const std::vector<MeshLoop>& b) {
  if (a.size() != b.size()) return {};
  std::vector<std::size_t> pairs;
  std::vector<bool> taken(b.size(), false);
  for (const MeshLoop& loop : a) {
    std::size_t best = b.size();
    double least = 1e300;
    for (std::size_t j = 0; j < b.size(); ++j) {
      if (taken[j] || b[j].hole() != loop.hole()) continue;
      const double d =
          (loop.box().low - b[j].box().low).norm() + (loop.box().high - b[j].box().high).norm();
      if (d < least) {
        least = d;
        best = j;
      }
    }
    if (best == b.size()) return {};
    taken[best] = true;
    pairs.push_back(best);
  }
  return pairs;
}

}  // namespace lidwright
