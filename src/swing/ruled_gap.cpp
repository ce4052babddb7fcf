// SPDX-License-Identifier: Apache-2.0
#include "ruled_gap.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace lidwright {
namespace {

// Share along s → t of the point nearest to zero.
double NearestShare(const Vec2& s, const Vec2& t) {
  const Vec2 along = t - s;
  const double length2 = along.squaredNorm();
  return length2 > 0.0 ? std::clamp(-s.dot(along) / length2, 0.0, 1.0) : 0.0;
}

using Stations = std::array<Vec2, 2>;

Vec2 Middle(const Vec2& a, const Vec2& b) {
  return (a + b) / 2.0;
}

// One half of the stretch between the stations.
RuledPair HalfAlongZ(const RuledPair& r, bool upper) {
  const auto half = [&](const Stations& q) -> Stations {
    const Vec2 middle = Middle(q[0], q[1]);
    return upper ? Stations{middle, q[1]} : Stations{q[0], middle};
  };
  return {half(r.p), half(r.v), half(r.a), half(r.b), false};
}

// One half of the edge: what it sweeps between the stations is a straight line again.
RuledPair HalfOfEdge(const RuledPair& r, bool upper) {
  RuledPair half = r;
  for (std::size_t j = 0; j < 2; ++j) (upper ? half.a : half.b)[j] = Middle(r.a[j], r.b[j]);
  return half;
}

// The four vectors from the edge's ends to the vertex, at both stations.
struct Corners {
  Vec2 a0, b0, a1, b1;
};

// The nearest place along one side of the four, from `s` at one share of the stretch to `t` at
// another, if nearer than what `gap` tells.
void Offer(const RuledPair& pair, const Vec2& s, const Vec2& t, double share_s, double share_t,
           RuledGap& gap, Vec2& nearest) {
  const double along = NearestShare(s, t);
  const Vec2 w = s + along * (t - s);
  const double distance = w.norm();
  if (distance >= gap.distance) return;
  nearest = w;
  gap.distance = distance;
  gap.share = share_s + along * (share_t - share_s);
  gap.on_vertex = pair.p[0] + gap.share * (pair.p[1] - pair.p[0]);
  gap.on_edge = gap.on_vertex - w;
}

// The direction in which the four's hull is nearest to zero, if it does not hold it: that of
// `nearest`, or of a diagonal if the pair is twisted.
std::optional<Vec2> AwayFromZero(const Corners& w, const Vec2& nearest, double distance) {
  Vec2 toward = nearest;
  double least = distance;
  for (const auto& [s, t] : {std::pair(w.a0, w.b1), std::pair(w.b0, w.a1)}) {
    const Vec2 on = s + NearestShare(s, t) * (t - s);
    if (on.norm() < least) {
      least = on.norm();
      toward = on;
    }
  }
  if (!(least > 0.0)) return std::nullopt;
  return Vec2(toward / least);
}

// Both halves of what is longer: the edge, or its way between the stations.
RuledGap BoundByHalves(const RuledPair& pair, const Corners& w, double h, double slack, double need,
                       int splits) {
  const double edge2 = (pair.b[0] - pair.a[0]).squaredNorm();
  const double way2 = std::max((w.a1 - w.a0).squaredNorm(), (w.b1 - w.b0).squaredNorm());
  const bool along_z = way2 > edge2;
  const auto half = [&](bool upper) {
    return BoundRuledGap(along_z ? HalfAlongZ(pair, upper) : HalfOfEdge(pair, upper), h, slack,
                         need, splits - 1);
  };
  const RuledGap lower = half(false), upper = half(true);
  const bool upper_is_nearer = upper.distance < lower.distance;
  RuledGap nearer = upper_is_nearer ? upper : lower;
  if (along_z) nearer.share = nearer.share / 2.0 + (upper_is_nearer ? 0.5 : 0.0);
  nearer.bound = std::min(lower.bound, upper.bound);
  return nearer;
}

}  // namespace

RuledGap BoundRuledGap(const RuledPair& pair, double h, double slack, double need, int splits) {
  Corners w;
  w.a0 = pair.p[0] - pair.a[0];
  w.b0 = pair.p[0] - pair.b[0];
  RuledGap gap;
  Vec2 nearest = w.a0 + NearestShare(w.a0, w.b0) * (w.b0 - w.a0);
  gap.distance = nearest.norm();
  gap.on_vertex = pair.p[0];
  gap.on_edge = pair.p[0] - nearest;
  gap.bound = -std::numeric_limits<double>::infinity();
  if (pair.prism) {
    if (gap.distance > 0.0) {
      gap.bound = gap.distance - h * std::abs(nearest.dot(pair.v[0])) / gap.distance - slack;
    }
    return gap;
  }
  w.a1 = pair.p[1] - pair.a[1];
  w.b1 = pair.p[1] - pair.b[1];
  Offer(pair, w.a1, w.b1, 1.0, 1.0, gap, nearest);
  Offer(pair, w.a0, w.a1, 0.0, 1.0, gap, nearest);
  Offer(pair, w.b0, w.b1, 0.0, 1.0, gap, nearest);
  double motion = slack;
  if (const std::optional<Vec2> u = AwayFromZero(w, nearest, gap.distance)) {
    const double move0 = h * std::abs(u->dot(pair.v[0])), move1 = h * std::abs(u->dot(pair.v[1]));
    const double at0 = std::min(u->dot(w.a0), u->dot(w.b0)) - move0;
    const double at1 = std::min(u->dot(w.a1), u->dot(w.b1)) - move1;
    gap.bound = std::min(at0, at1) - slack;
    motion += std::max(move0, move1);
  }
  if (gap.bound >= need || splits == 0 || gap.distance - motion < need) return gap;
  RuledGap halves = BoundByHalves(pair, w, h, slack, need, splits);
  halves.bound = std::max(gap.bound, halves.bound);
  return halves;
}

}  // namespace lidwright
