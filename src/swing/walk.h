// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <stop_token>
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

using Node = PartTree::Node;
using Edge = PartTree::Edge;

inline const Node& NodeOf(const PartTree& tree, int index) {
  return tree.nodes()[static_cast<std::size_t>(index)];
}
inline const Edge& EdgeOf(const PartTree& tree, const Node& leaf) {
  return tree.edges()[static_cast<std::size_t>(leaf.first)];
}
inline const Part& PartOf(const PartTree& tree, const Edge& edge) {
  return tree.parts()[static_cast<std::size_t>(edge.part)];
}

// Which of two nodes to open: the larger that can be opened.
inline bool OpenFirst(const Node& p, const Node& q) {
  if (p.left < 0) return false;
  return q.left < 0 || p.radius >= q.radius;
}

// Do their stretches of z share more than a point?
inline bool Meet(const Node& p, const Node& q) {
  return p.z_min_mm < q.z_max_mm && q.z_min_mm < p.z_max_mm;
}

// Two edges over the stretch of z that their parts share, so that station 0 of one is station 0 of
// the other. Edges of prisms are the same at every z and stay as they are.
class SharedEdges {
 public:
  SharedEdges(const PartPair& pair, const Edge& e, const Edge& f) {
    const Part &p = PartOf(*pair.first, e), &q = PartOf(*pair.second, f);
    low_ = std::max(p.z_min_mm, q.z_min_mm);
    high_ = std::min(p.z_max_mm, q.z_max_mm);
    e_ = Cut(e, p, cut_e_);
    f_ = Cut(f, q, cut_f_);
  }
  SharedEdges(const SharedEdges&) = delete;
  SharedEdges& operator=(const SharedEdges&) = delete;

  const Edge& e() const { return *e_; }
  const Edge& f() const { return *f_; }
  double low_mm() const { return low_; }
  double high_mm() const { return high_; }

 private:
  const Edge* Cut(const Edge& edge, const Part& part, Edge& cut) const {
    if (part.z_min_mm == low_ && part.z_max_mm == high_) return &edge;
    const double width = part.z_max_mm - part.z_min_mm;
    const double from = (low_ - part.z_min_mm) / width, to = (high_ - part.z_min_mm) / width;
    const auto both = [&](const Vec2& at0, const Vec2& at1, Vec2& cut0, Vec2& cut1) {
      if (at0 == at1) {
        cut0 = cut1 = at0;
        return;
      }
      cut0 = at0 + from * (at1 - at0);
      cut1 = at0 + to * (at1 - at0);
    };
    cut.part = edge.part;
    both(edge.a0, edge.a1, cut.a0, cut.a1);
    both(edge.b0, edge.b1, cut.b0, cut.b1);
    both(edge.before0, edge.before1, cut.before0, cut.before1);
    both(edge.after0, edge.after1, cut.after0, cut.after1);
    return &cut;
  }

  double low_ = 0.0, high_ = 0.0;
  Edge cut_e_, cut_f_;
  const Edge *e_ = nullptr, *f_ = nullptr;
};

inline double SegmentsApart(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  if (SegmentsMeet(a, b, c, d)) return 0.0;
  return std::sqrt(std::min({(a - NearestOnSegment(a, c, d)).squaredNorm(),
                             (b - NearestOnSegment(b, c, d)).squaredNorm(),
                             (c - NearestOnSegment(c, a, b)).squaredNorm(),
                             (d - NearestOnSegment(d, a, b)).squaredNorm()}));
}

// Least distance possible of two nodes, p seen in q's frame: by their circles, and if these do not
// reach `enough` by what lies around their segments.
inline double ApartAtLeast(const Node& p, const Node& q, const Pose& X_QP, const Vec2& p_centre,
                           double enough) {
  const double circles = (p_centre - q.centre).norm() - p.radius - q.radius;
  if (circles >= enough) return circles;
  const double segments = SegmentsApart(X_QP * p.from, X_QP * p.to, q.from, q.to);
  return std::max(circles, segments - p.around - q.around);
}

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

// Least distance of two trees with their bodies standing, by branch and bound, at the stations of
// the stretches that their parts share.
class StaticGap {
 public:
  StaticGap(const PartPair& pair, const Pose& X_QP) : pair_(pair), X_QP_(X_QP) {}

  /// Looks below two nodes for less than `best`, and if it finds it says so.
  bool Improve(int p_index, int q_index, double& best) {
    const Node &p = NodeOf(*pair_.first, p_index), &q = NodeOf(*pair_.second, q_index);
    if (!Meet(p, q)) return false;
    if (ApartAtLeast(p, q, X_QP_, X_QP_ * p.centre, best) >= best) return false;
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
  int p_part() const { return p_part_; }
  int q_part() const { return q_part_; }
  double z() const { return z_; }

 private:
  bool Leaf(const Node& p, const Node& q, double& best) {
    const SharedEdges shared(pair_, EdgeOf(*pair_.first, p), EdgeOf(*pair_.second, q));
    const Edge &e = shared.e(), &f = shared.f();
    bool improved = false;
    const auto offer = [&](const SegmentGap& gap, double z) {
      if (gap.gap >= best) return;
      best = gap.gap;
      nearest_ = gap;
      p_part_ = e.part;
      q_part_ = f.part;
      z_ = z;
      improved = true;
    };
    offer(GapOf(X_QP_ * e.a0, X_QP_ * e.b0, f.a0, f.b0), shared.low_mm());
    if (e.a0 != e.a1 || e.b0 != e.b1 || f.a0 != f.a1 || f.b0 != f.b1) {
      offer(GapOf(X_QP_ * e.a1, X_QP_ * e.b1, f.a1, f.b1), shared.high_mm());
    }
    return improved;
  }

  const PartPair& pair_;
  Pose X_QP_;
  SegmentGap nearest_;
  int p_part_ = 0, q_part_ = 0;
  double z_ = 0.0;
};

// The rings of a part at z.
inline std::vector<Ring> RingsAt(const Part& part, double z_mm) {
  if (z_mm == part.z_min_mm) return part.at_z_min;
  if (z_mm == part.z_max_mm) return part.at_z_max;
  const double share = (z_mm - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
  std::vector<Ring> rings = part.at_z_min;
  for (std::size_t r = 0; r < rings.size(); ++r) {
    for (std::size_t i = 0; i < rings[r].size(); ++i) {
      rings[r][i] += share * (part.at_z_max[r][i] - rings[r][i]);
    }
  }
  return rings;
}

// Does one part hold the other, at one end of what they share? Only asked where no outlines cross.
inline bool Nested(const Part& p, const Part& q, const Pose& X_QP) {
  const Pose X_PQ = X_QP.Inverse();
  const auto any = [](const std::vector<Ring>& movers, const std::vector<Ring>& holders,
                      const Pose& pose) {
    return std::any_of(movers.begin(), movers.end(),
                       [&](const Ring& ring) { return Contains(holders, pose * ring[0]); });
  };
  for (const double z : {std::max(p.z_min_mm, q.z_min_mm), std::min(p.z_max_mm, q.z_max_mm)}) {
    const std::vector<Ring> of_p = RingsAt(p, z), of_q = RingsAt(q, z);
    if (any(of_p, of_q, X_QP) || any(of_q, of_p, X_PQ)) return true;
  }
  return false;
}

// Calls `look(p_part, q_part)` for all parts of two trees that share a stretch of z.
template <typename Look>
void EachOverlap(const PartPair& pair, const Look& look) {
  const std::vector<Part>&ps = pair.first->parts(), &qs = pair.second->parts();
  for (std::size_t i = 0; i < ps.size(); ++i) {
    for (std::size_t j = 0; j < qs.size(); ++j) {
      if (Overlap(ps[i], qs[j])) look(static_cast<int>(i), static_cast<int>(j));
    }
  }
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

// Walks the motion piece by piece. `need(pair)` is the gap at which a bound settles a pair of nodes
// whatever parts they hold, `leaf_need(pair, edges)` that of two edges; `settle(pair, bound)` and
// `leaf_settle(pair, edges, bound)` hear of each settled one; `open(...)` decides on a leaf pair
// whose bound fell short: true keeps it for the halves, false ends the walk. On pieces that start
// at the motion's start, `other_proof` may settle a leaf pair in another way.
struct NoOtherProof {
  bool operator()(PieceLook&, const Entry&, const SharedEdges&, const PieceLook::LeafGap&) const {
    return false;
  }
};

template <typename Judge, typename OtherProof = NoOtherProof>
WalkEnd Walk(const Motion& motion, const std::vector<PartPair>& pairs, int first_level,
             Judge& judge, const std::stop_token& stop, long& pieces,
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
      ++pieces;
      PieceLook look(motion, piece);
      if (!judge.Begin(look, piece)) return WalkEnd::kMet;
      std::vector<Entry> front;
      stack.assign(piece.front.rbegin(), piece.front.rend());
      while (!stack.empty()) {
        const Entry entry = stack.back();
        stack.pop_back();
        const PartPair& pair = pairs[entry.pair];
        const Node &p = NodeOf(*pair.first, entry.p), &q = NodeOf(*pair.second, entry.q);
        if (!Meet(p, q)) continue;
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
        const SharedEdges shared(pair, EdgeOf(*pair.first, p), EdgeOf(*pair.second, q));
        const double leaf_need = judge.LeafNeed(entry.pair, shared);
        const PieceLook::LeafGap leaf = look.Leaves(view, shared, p, q, leaf_need);
        if (leaf.gap.bound >= leaf_need) {
          judge.LeafSettle(entry.pair, shared, leaf.gap.bound);
        } else if (piece.index == 0 && other_proof(look, entry, shared, leaf)) {
          continue;
        } else if (!judge.Open(look, piece, entry, shared, leaf)) {
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
