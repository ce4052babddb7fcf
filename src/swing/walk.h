// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <stop_token>
#include <utility>
#include <vector>

#include "lidwright/base/tolerances.h"
#include "lidwright/swing/clearance.h"
#include "ruled_gap.h"
#include "static_gap.h"

/// The shared walk over the pieces of a swing, for LeastGap, QuickOutcome and KeepsClosedGap.
namespace lidwright::swing_walk {

// How much was looked at.
struct WalkCount {
  long pieces = 0, node_pairs = 0;
};

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
    half_ = width / 2.0 * (1.0 + kHair);
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
    const auto p = static_cast<std::size_t>(pair.first->body());
    const auto q = static_cast<std::size_t>(pair.second->body());
    std::optional<View>& view = views_[p * kBodies + q];
    if (!view) {
      const Body bp = pair.first->body(), bq = pair.second->body();
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
  NodeLook Look(const View& view, const Node& p, const Node& q, double needed) const {
    const Vec2 centre = view.p_in_q.X_QP * p.centre;
    const double travel =
        (view.p_in_q.VelocityAt(centre).norm() + std::abs(view.p_in_q.turn) * p.radius) * half_ +
        Slack(view.p_bound, p);
    return {ApartAtLeast(p, q, view.p_in_q.X_QP, centre, needed + travel), travel};
  }

  // The two vertex–edge pairs of two leaves: each edge stands for its first vertex. `gap.on_…` of
  // the nearer one are moved to the case's frame.
  struct LeafGap {
    RuledGap gap;  // the nearer of the two, with the smaller bound
    bool vertex_of_first;
    std::array<double, 2> bounds;  // first's vertex and second's edge, and the other way round
  };
  LeafGap Leaves(const View& view, const SharedEdges& shared, const Node& p, const Node& q,
                 double need) const {
    const Edge &e = shared.e(), &f = shared.f();
    RuledGap one = VertexEdge(view.p_in_q, {e.a0, e.a1}, f, Slack(view.p_bound, p), need);
    RuledGap two = VertexEdge(view.q_in_p, {f.a0, f.a1}, e, Slack(view.q_bound, q), need);
    const std::array<double, 2> bounds{one.bound, two.bound};
    one.bound = two.bound = std::min(one.bound, two.bound);
    return one.distance <= two.distance ? LeafGap{one, true, bounds} : LeafGap{two, false, bounds};
  }

  // The spot of a leaf gap in the case's frame.
  Nearness Spot(const PartPair& pair, std::size_t index, const SharedEdges& shared,
                const LeafGap& leaf) const {
    const Pose& X_CE = bodies_.Of(leaf.vertex_of_first ? pair.second->body() : pair.first->body());
    const Vec2 vertex = X_CE * leaf.gap.on_vertex, edge = X_CE * leaf.gap.on_edge;
    Nearness near;
    near.gap_mm = leaf.gap.distance;
    near.at = middle_;
    near.pair = index;
    near.first_part = shared.e().part;
    near.second_part = shared.f().part;
    near.on_first = leaf.vertex_of_first ? vertex : edge;
    near.on_second = leaf.vertex_of_first ? edge : vertex;
    near.z_mm = shared.low_mm() + leaf.gap.share * (shared.high_mm() - shared.low_mm());
    return near;
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

// What settles nothing.
struct NoOtherProof {
  bool operator()(PieceLook&, const Entry&, const SharedEdges&, const PieceLook::LeafGap&) const {
    return false;
  }
};

// Opens the larger of two nodes.
inline void PushChildren(const Entry& entry, const Node& p, const Node& q,
                         std::vector<Entry>& stack) {
  if (OpenFirst(p, q)) {
    stack.push_back({entry.pair, p.right, entry.q});
    stack.push_back({entry.pair, p.left, entry.q});
  } else {
    stack.push_back({entry.pair, entry.p, q.right});
    stack.push_back({entry.pair, entry.p, q.left});
  }
}

// Looks at everything that is open on one piece; what stays so goes to `front`. False if the judge
// ends the walk. `stack` is only room to work in.
template <typename Judge, typename OtherProof>
bool LookAtPiece(PieceLook& look, const Piece& piece, const std::vector<PartPair>& pairs,
                 Judge& judge, const OtherProof& other_proof, std::vector<Entry>& stack,
                 std::vector<Entry>& front, long& node_pairs) {
  stack.assign(piece.front.rbegin(), piece.front.rend());
  while (!stack.empty()) {
    const Entry entry = stack.back();
    stack.pop_back();
    ++node_pairs;
    const PartPair& pair = pairs[entry.pair];
    const Node &p = NodeOf(*pair.first, entry.p), &q = NodeOf(*pair.second, entry.q);
    if (!Meet(pair, p, q)) continue;
    const PieceLook::View& view = look.ViewOf(pair);
    const double needed = judge.Need(entry.pair);
    const PieceLook::NodeLook nodes = look.Look(view, p, q, needed);
    if (nodes.apart - nodes.travel >= needed) {
      judge.Settle(entry.pair, nodes.apart - nodes.travel);
      continue;
    }
    const bool leaves = p.left < 0 && q.left < 0;
    if (!leaves) {
      // Opening helps while the volumes are what keeps the bound low, not the travel.
      if (p.radius + q.radius > nodes.travel / 2.0) {
        PushChildren(entry, p, q, stack);
      } else {
        front.push_back(entry);
      }
      continue;
    }
    const SharedEdges shared(pair, EdgeOf(*pair.first, p), EdgeOf(*pair.second, q));
    const double leaf_need = judge.LeafNeed(entry.pair, shared);
    const PieceLook::LeafGap leaf = look.Leaves(view, shared, p, q, leaf_need);
    if (leaf.gap.bound >= leaf_need) {
      judge.LeafSettle(entry.pair, shared, leaf.gap.bound);
    } else if (piece.index == 0 && other_proof(look, entry, shared, leaf)) {
      continue;
    } else if (!judge.Open(look, piece, entry, shared, leaf)) {
      return false;
    } else {
      front.push_back(entry);
    }
  }
  return true;
}

// Walks the motion piece by piece. `need(pair)` is the gap at which a bound settles a pair of nodes
// whatever parts they hold, `leaf_need(pair, edges)` that of two edges; `settle(pair, bound)` and
// `leaf_settle(pair, edges, bound)` hear of each settled one; `open(...)` decides on a leaf pair
// whose bound fell short: true keeps it for the halves, false ends the walk. On pieces that start
// at the motion's start, `other_proof` may settle a leaf pair in another way.
template <typename Judge, typename OtherProof = NoOtherProof>
WalkEnd Walk(const Motion& motion, const std::vector<PartPair>& pairs, int first_level,
             Judge& judge, const std::stop_token& stop, WalkCount& count,
             const OtherProof& other_proof = {}) {
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
      ++count.pieces;
      PieceLook look(motion, piece);
      if (!judge.Begin(look, piece)) return WalkEnd::kMet;
      std::vector<Entry> front;
      if (!LookAtPiece(look, piece, pairs, judge, other_proof, stack, front, count.node_pairs)) {
        return WalkEnd::kMet;
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
