// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <deque>
#include <limits>
#include <optional>
#include <utility>
#include <vector>

#include "lidwright/base/check.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/swing/clearance.h"
#include "ruled_gap.h"

/// The shared walk over the pieces of a swing, for LeastGap and KeepsClosedGap.
namespace lidwright::swing_walk {

// [count] A vertex and an edge are halved at most this often between two stations: enough to tell
// 1e-4 mm where the edge's end sweeps a few hundred millimetres.
inline constexpr int kRuledSplits = 40;
inline constexpr double kInfinite = std::numeric_limits<double>::infinity();

using Node = ShapedPart::Node;
using Edge = ShapedPart::Edge;

inline const Node& NodeOf(const ShapedPart& part, int index) {
  return part.nodes()[static_cast<std::size_t>(index)];
}
inline const Edge& EdgeOf(const ShapedPart& part, const Node& leaf) {
  return part.edges()[static_cast<std::size_t>(leaf.first)];
}
// How far the true surfaces may be from the ruled ones, and computed places from true ones.
inline double Error(const PartPair& pair, const Motion& motion) {
  const Part &p = pair.first->part(), &q = pair.second->part();
  return p.error_mm + q.error_mm + motion.Rounding_mm(p.body) + motion.Rounding_mm(q.body) +
         kDistanceRounding_mm;
}

// Which of two nodes to open: the larger that can be opened.
inline bool OpenFirst(const Node& p, const Node& q) {
  if (p.left < 0) return false;
  return q.left < 0 || p.radius >= q.radius;
}

// Distance of a leaf's edge from a point, from below, for all z.
inline double FromLeaf(const ShapedPart& part, const Node& leaf, const Vec2& p) {
  const Edge& e = EdgeOf(part, leaf);
  double d = (p - NearestOnSegment(p, e.a0, e.b0)).norm();
  if (leaf.shift > 0.0) d = std::min(d, (p - NearestOnSegment(p, e.a1, e.b1)).norm());
  return d - leaf.shift;
}

// Least distance possible of two nodes: circles, or a circle and an edge where one is a leaf (long
// edges have circles that say nothing).
inline double ApartAtLeast(const PartPair& pair, const Node& p, const Node& q, const Pose& X_QP,
                           const Vec2& p_centre) {
  double apart = (p_centre - q.centre).norm() - p.radius - q.radius;
  if (q.left < 0) apart = std::max(apart, FromLeaf(*pair.second, q, p_centre) - p.radius);
  if (p.left < 0) {
    const Vec2 q_in_p = X_QP.TurnBack(q.centre - X_QP.origin);
    apart = std::max(apart, FromLeaf(*pair.first, p, q_in_p) - q.radius);
  }
  return apart;
}

// The pairs with each ruled part cut down to the stretch of z that the two share, so that station 0
// of one is station 0 of the other. Prisms are the same at every z and stay as they are.
class SharedStretch {
 public:
  explicit SharedStretch(const std::vector<PartPair>& pairs) {
    for (const PartPair& pair : pairs) {
      const Part &p = pair.first->part(), &q = pair.second->part();
      const double low = std::max(p.z_min_mm, q.z_min_mm);
      const double high = std::min(p.z_max_mm, q.z_max_mm);
      LW_REQUIRE(low < high && p.body != q.body, p.name << " and " << q.name << " cannot meet");
      pairs_.push_back({Cut(*pair.first, low, high), Cut(*pair.second, low, high)});
    }
  }
  const std::vector<PartPair>& pairs() const { return pairs_; }

 private:
  const ShapedPart* Cut(const ShapedPart& shaped, double low, double high) {
    const Part& part = shaped.part();
    if ((part.z_min_mm == low && part.z_max_mm == high) || part.at_z_min == part.at_z_max) {
      return &shaped;
    }
    const auto at = [&](double z) {
      const double share = (z - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
      std::vector<Ring> rings = part.at_z_min;
      for (std::size_t r = 0; r < rings.size(); ++r) {
        for (std::size_t i = 0; i < rings[r].size(); ++i) {
          rings[r][i] += share * (part.at_z_max[r][i] - rings[r][i]);
        }
      }
      return rings;
    };
    cuts_.emplace_back(Part{part.name, part.body, low, high, at(low), at(high), part.error_mm});
    return &cuts_.back();
  }

  std::deque<ShapedPart> cuts_;  // does not move its elements
  std::vector<PartPair> pairs_;
};

struct SegmentGap {
  double gap = kInfinite;
  Vec2 on_p = Vec2::Zero(), on_q = Vec2::Zero();
};

inline SegmentGap GapOf(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  SegmentGap best;
  const auto offer = [&](const Vec2& p, const Vec2& q) {
    const double gap = (p - q).norm();
    if (gap < best.gap) best = {gap, p, q};
  };
  offer(a, NearestOnSegment(a, c, d));
  offer(b, NearestOnSegment(b, c, d));
  offer(NearestOnSegment(c, a, b), c);
  offer(NearestOnSegment(d, a, b), d);
  if (best.gap > 0.0 && SegmentsMeet(a, b, c, d)) {
    const Vec2 u = b - a, v = d - c;
    const double denominator = Cross(u, v);
    const double t = denominator == 0.0 ? 0.0 : Cross(Vec2(c - a), v) / denominator;
    const Vec2 meet = a + t * u;
    best = {0.0, meet, meet};
  }
  return best;
}

// Least distance of two parts at one angle by branch and bound, at their stations. Improves
// `best` (a gap less the pair's error); returns whether it did.
class StaticGap {
 public:
  StaticGap(const PartPair& pair, const Pose& X_QP) : pair_(pair), X_QP_(X_QP) {}

  bool Improve(int p_index, int q_index, double& best) {
    const Node &p = NodeOf(*pair_.first, p_index), &q = NodeOf(*pair_.second, q_index);
    if (ApartAtLeast(pair_, p, q, X_QP_, X_QP_ * p.centre) >= best) return false;
    if (p.left < 0 && q.left < 0) return Leaf(p, q, best);
    bool improved = false;
    if (OpenFirst(p, q)) {
      improved |= Improve(p.left, q_index, best);
      improved |= Improve(p.right, q_index, best);
    } else {
      improved |= Improve(p_index, q.left, best);
      improved |= Improve(p_index, q.right, best);
    }
    return improved;
  }

  const SegmentGap& nearest() const { return nearest_; }
  double z() const { return z_; }

 private:
  bool Leaf(const Node& p, const Node& q, double& best) {
    const Edge &e = EdgeOf(*pair_.first, p), &f = EdgeOf(*pair_.second, q);
    bool improved = false;
    const auto offer = [&](const SegmentGap& gap, double z) {
      if (gap.gap >= best) return;
      best = gap.gap;
      nearest_ = gap;
      z_ = z;
      improved = true;
    };
    const Part &first = pair_.first->part(), &second = pair_.second->part();
    const bool p_ruled = e.a0 != e.a1 || e.b0 != e.b1;
    offer(GapOf(X_QP_ * e.a0, X_QP_ * e.b0, f.a0, f.b0),
          p_ruled ? first.z_min_mm : second.z_min_mm);
    if (p_ruled || f.a0 != f.a1 || f.b0 != f.b1) {
      offer(GapOf(X_QP_ * e.a1, X_QP_ * e.b1, f.a1, f.b1),
            p_ruled ? first.z_max_mm : second.z_max_mm);
    }
    return improved;
  }

  const PartPair& pair_;
  Pose X_QP_;
  SegmentGap nearest_;
  double z_ = 0.0;
};

// Does one part hold the other, at one of their stations? Only asked when no outlines cross.
inline bool Nested(const PartPair& pair, const Pose& X_QP) {
  const Part &p = pair.first->part(), &q = pair.second->part();
  const Pose X_PQ = X_QP.Inverse();
  const auto any = [](const std::vector<Ring>& movers, const std::vector<Ring>& holders,
                      const Pose& pose) {
    return std::any_of(movers.begin(), movers.end(),
                       [&](const Ring& ring) { return Contains(holders, pose * ring[0]); });
  };
  return any(p.at_z_min, q.at_z_min, X_QP) || any(p.at_z_max, q.at_z_max, X_QP) ||
         any(q.at_z_min, p.at_z_min, X_PQ) || any(q.at_z_max, p.at_z_max, X_PQ);
}

struct Entry {
  std::size_t pair;
  int p, q;
};

struct Piece {
  int level;
  std::size_t index;
  std::vector<Entry> front;
};

// One piece of the swing: looks at the pairs of nodes that are still open on it.
class PieceLook {
 public:
  PieceLook(const Motion& motion, const Piece& piece) : motion_(motion) {
    const double width = (motion.to() - motion.from()) / std::ldexp(1.0, piece.level);
    // A hair wider than the piece, so that neighbours overlap in spite of rounding, and travel over
    // it is not rounded down.
    half_ = width / 2.0 * (1.0 + 1e-12);
    middle_ = motion.from() + (static_cast<double>(piece.index) + 0.5) * width;
    low_ = std::max(motion.from(), middle_ - width / 2.0);
    high_ = std::min(motion.to(), middle_ + width / 2.0);
    bodies_ = motion.At(middle_);
  }

  double middle() const { return middle_; }
  double width() const { return 2.0 * half_; }
  const BodiesAt& bodies() const { return bodies_; }

  // Everything needed about one ordered choice of bodies; kept for the next pair of the same.
  struct View {
    RelativeMotion p_in_q, q_in_p;
    AccelerationBound p_bound, q_bound;
  };
  const View& ViewOf(const PartPair& pair) {
    const auto p = static_cast<std::size_t>(pair.first->part().body);
    const auto q = static_cast<std::size_t>(pair.second->part().body);
    std::optional<View>& view = views_[p * kBodies + q];
    if (!view) {
      const Body bp = pair.first->part().body, bq = pair.second->part().body;
      view = View{bodies_.Seen(bp, bq), bodies_.Seen(bq, bp),
                  motion_.Acceleration(bp, bq, low_, high_),
                  motion_.Acceleration(bq, bp, low_, high_)};
    }
    return *view;
  }

  // M h² / 2 for all points of a node.
  double Slack(const AccelerationBound& bound, const Node& node) const {
    return bound.At((node.centre - bound.centre).norm() + node.radius) * half_ * half_ / 2.0;
  }

  // What the acceleration can take off the mean speed of a node's points over the piece: M t / 2
  // with t the piece's whole width.
  double SpeedLoss(const AccelerationBound& bound, const Node& node) const {
    return 2.0 * Slack(bound, node) / half_;
  }

  struct NodeLook {
    double apart;   // least distance possible at the middle
    double travel;  // and how much nearer any points can come on the piece
  };
  NodeLook Look(const View& view, const PartPair& pair, const Node& p, const Node& q) const {
    const Vec2 centre = view.p_in_q.X_QP * p.centre;
    const Vec2 velocity = view.p_in_q.VelocityAt(centre);
    return {
        ApartAtLeast(pair, p, q, view.p_in_q.X_QP, centre),
        (velocity.norm() + std::abs(view.p_in_q.turn) * p.radius) * half_ + Slack(view.p_bound, p)};
  }

  // The two vertex–edge pairs of two leaves: each edge stands for its first vertex. `gap.on_…` of
  // the nearer one are moved to the case's frame.
  struct LeafGap {
    RuledGap gap;  // the nearer of the two, with the smaller bound
    bool vertex_of_first;
    std::array<double, 2> bounds;  // first's vertex and second's edge, and the other way round
  };
  LeafGap Leaves(const View& view, const PartPair& pair, const Node& p, const Node& q,
                 double need) const {
    const Edge &e = EdgeOf(*pair.first, p), &f = EdgeOf(*pair.second, q);
    RuledGap one = VertexEdge(view.p_in_q, {e.a0, e.a1}, f, Slack(view.p_bound, p), need);
    RuledGap two = VertexEdge(view.q_in_p, {f.a0, f.a1}, e, Slack(view.q_bound, q), need);
    const std::array<double, 2> bounds{one.bound, two.bound};
    one.bound = two.bound = std::min(one.bound, two.bound);
    return one.distance <= two.distance ? LeafGap{one, true, bounds} : LeafGap{two, false, bounds};
  }

  // The spot of a leaf gap in the case's frame.
  Nearness Spot(const PartPair& pair, std::size_t index, const LeafGap& leaf) const {
    const Pose& X_CE =
        bodies_.Of(leaf.vertex_of_first ? pair.second->part().body : pair.first->part().body);
    const Vec2 vertex = X_CE * leaf.gap.on_vertex, edge = X_CE * leaf.gap.on_edge;
    const Part& part = pair.first->part();
    const double low = std::max(part.z_min_mm, pair.second->part().z_min_mm);
    const double high = std::min(part.z_max_mm, pair.second->part().z_max_mm);
    return {leaf.gap.distance,
            middle_,
            index,
            leaf.vertex_of_first ? vertex : edge,
            leaf.vertex_of_first ? edge : vertex,
            low + leaf.gap.share * (high - low)};
  }

 private:
  RuledGap VertexEdge(const RelativeMotion& seen, const std::array<Vec2, 2>& vertex, const Edge& e,
                      double slack, double need) const {
    RuledPair pair;
    pair.prism = vertex[0] == vertex[1] && e.a0 == e.a1 && e.b0 == e.b1;
    for (std::size_t j = 0; j < (pair.prism ? 1 : 2); ++j) {
      pair.p[j] = seen.X_QP * vertex[j];
      pair.v[j] = seen.VelocityAt(pair.p[j]);
    }
    pair.a = {e.a0, e.a1};
    pair.b = {e.b0, e.b1};
    return BoundRuledGap(pair, half_, slack, need, kRuledSplits);
  }

  const Motion& motion_;
  double half_, middle_, low_, high_;
  BodiesAt bodies_;
  std::array<std::optional<View>, kBodies * kBodies> views_;
};

// Walks the motion piece by piece. `need(pair)` is the gap below which a bound does not settle a
// pair of nodes; `settle(pair, bound)` hears of each settled one; `open(...)` decides on a leaf
// pair whose bound fell short: true keeps it for the halves, false ends the walk. On pieces that
// start at the motion's start, `other_proof` may settle a leaf pair in another way.
struct NoOtherProof {
  bool operator()(PieceLook&, const Entry&, const PieceLook::LeafGap&) const { return false; }
};

template <typename Need, typename Settle, typename Begin, typename Open,
          typename OtherProof = NoOtherProof>
WalkEnd Walk(const Motion& motion, const std::vector<PartPair>& pairs, int first_level,
             const Need& need, const Settle& settle, const Begin& begin, const Open& open,
             const std::stop_token& stop, long& pieces, const OtherProof& other_proof = {}) {
  std::vector<Entry> roots;
  for (std::size_t i = 0; i < pairs.size(); ++i) roots.push_back({i, 0, 0});
  std::vector<Piece> now, next;
  for (std::size_t i = 0; i < (std::size_t{1} << first_level); ++i) {
    now.push_back({first_level, i, roots});
  }
  std::vector<Entry> stack;
  for (; !now.empty(); now.swap(next), next.clear()) {
    for (Piece& piece : now) {
      if (stop.stop_requested()) return WalkEnd::kStopped;
      ++pieces;
      PieceLook look(motion, piece);
      if (!begin(look, piece)) return WalkEnd::kMet;
      std::vector<Entry> front;
      stack.assign(piece.front.rbegin(), piece.front.rend());
      while (!stack.empty()) {
        const Entry entry = stack.back();
        stack.pop_back();
        const PartPair& pair = pairs[entry.pair];
        const Node &p = NodeOf(*pair.first, entry.p), &q = NodeOf(*pair.second, entry.q);
        const PieceLook::View& view = look.ViewOf(pair);
        const PieceLook::NodeLook nodes = look.Look(view, pair, p, q);
        const double needed = need(entry.pair);
        if (nodes.apart - nodes.travel >= needed) {
          settle(entry.pair, nodes.apart - nodes.travel);
          continue;
        }
        const bool leaves = p.left < 0 && q.left < 0;
        if (!leaves) {
          // Opening helps while the circles are what keeps the bound low, not the travel.
          if (p.radius + q.radius > nodes.travel / 2.0) {
            if (OpenFirst(p, q)) {
              stack.push_back({entry.pair, p.right, entry.q});
              stack.push_back({entry.pair, p.left, entry.q});
            } else {
              stack.push_back({entry.pair, entry.p, q.right});
              stack.push_back({entry.pair, entry.p, q.left});
            }
          } else {
            front.push_back(entry);
          }
          continue;
        }
        const PieceLook::LeafGap leaf = look.Leaves(view, pair, p, q, needed);
        if (leaf.gap.bound >= needed) {
          settle(entry.pair, leaf.gap.bound);
        } else if (piece.index == 0 && other_proof(look, entry, leaf)) {
          continue;
        } else if (!open(look, piece, entry, leaf)) {
          return WalkEnd::kMet;
        } else {
          front.push_back(entry);
        }
      }
      if (front.empty()) continue;
      if (look.width() < motion.Finest()) return WalkEnd::kTooFine;
      next.push_back({piece.level + 1, 2 * piece.index, front});
      next.push_back({piece.level + 1, 2 * piece.index + 1, std::move(front)});
    }
  }
  return WalkEnd::kProven;
}

}  // namespace lidwright::swing_walk
