// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/swing/clearance.h"

/// Distances of two trees of parts, of their nodes and of their edges, with the bodies standing.
namespace lidwright::swing_walk {

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

// Does anything below two nodes of a pair's trees share more than a point of z?
inline bool Meet(const PartPair& pair, const Node& p, const Node& q) {
  return Meet(*pair.first, p, *pair.second, q);
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

// Segments whose boxes are apart do not meet.
inline bool BoxesMeet(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  return std::min(a.x(), b.x()) <= std::max(c.x(), d.x()) &&
         std::min(c.x(), d.x()) <= std::max(a.x(), b.x()) &&
         std::min(a.y(), b.y()) <= std::max(c.y(), d.y()) &&
         std::min(c.y(), d.y()) <= std::max(a.y(), b.y());
}

inline double SegmentsApart(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  if (BoxesMeet(a, b, c, d) && SegmentsMeet(a, b, c, d)) return 0.0;
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

inline Pose Seen(const PartPair& pair, const BodiesAt& bodies) {
  return bodies.Seen(pair.first->body(), pair.second->body()).X_QP;
}

// [mm] What computed places of two trees may be off the true ones.
inline double PairRounding_mm(const Motion& motion, const PartPair& pair) {
  const double rounding = motion.Rounding_mm(pair.first->body()) +
                          motion.Rounding_mm(pair.second->body()) + kDistanceRounding_mm;
  LW_REQUIRE(std::isfinite(rounding), "rounding=" << rounding);
  return rounding;
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
  if (best.gap > 0.0 && BoxesMeet(a, b, c, d) && SegmentsMeet(a, b, c, d)) {
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

  /// Looks for less than `best`, and if it finds it says so: some place where it is least.
  bool Approach(double& best) {
    double near = best;
    const NodePair roots = Look(0, 0, near);
    if (roots.apart < near) Approach(roots, near);
    if (near >= best) return false;
    best = near;
    return true;
  }
  /// The same, but of several places as near as each other it tells the first in the trees' order:
  /// a look that goes to what seems near first says how near, one in order, which need open little
  /// then, says where.
  bool Improve(double& best) {
    double near = best;
    if (!Approach(near)) return false;
    best = std::min(best, near + kSameGap_mm);
    return Improve(0, 0, best);
  }

  const SegmentGap& nearest() const { return nearest_; }
  int p_part() const { return p_part_; }
  int q_part() const { return q_part_; }
  double z() const { return z_; }

 private:
  struct NodePair {
    int p, q;
    double apart;  // at least
  };
  NodePair Look(int p_index, int q_index, double enough) const {
    const Node &p = NodeOf(*pair_.first, p_index), &q = NodeOf(*pair_.second, q_index);
    if (!Meet(pair_, p, q)) return {p_index, q_index, kInfinite};
    return {p_index, q_index, ApartAtLeast(p, q, X_QP_, X_QP_ * p.centre, enough)};
  }
  std::array<std::array<int, 2>, 2> Children(const Node& p, const Node& q, int p_index,
                                             int q_index) const {
    if (OpenFirst(p, q)) return {{{p.left, q_index}, {p.right, q_index}}};
    return {{{p_index, q.left}, {p_index, q.right}}};
  }

  // The least gap below two nodes, if under `near`.
  void Approach(const NodePair& at, double& near) {
    const Node &p = NodeOf(*pair_.first, at.p), &q = NodeOf(*pair_.second, at.q);
    if (p.left < 0 && q.left < 0) {
      Leaf(p, q, near);
      return;
    }
    const auto children = Children(p, q, at.p, at.q);
    NodePair first = Look(children[0][0], children[0][1], near);
    NodePair second = Look(children[1][0], children[1][1], near);
    if (second.apart < first.apart) std::swap(first, second);
    if (first.apart < near) Approach(first, near);
    if (second.apart < near) Approach(second, near);
  }

  bool Improve(int p_index, int q_index, double& best) {
    const Node &p = NodeOf(*pair_.first, p_index), &q = NodeOf(*pair_.second, q_index);
    if (Look(p_index, q_index, best).apart >= best) return false;
    if (p.left < 0 && q.left < 0) return Leaf(p, q, best);
    bool improved = false;
    for (const auto& [p_child, q_child] : Children(p, q, p_index, q_index)) {
      improved |= Improve(p_child, q_child, best);
    }
    return improved;
  }

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

inline Vec2 FirstPointAt(const Part& part, std::size_t ring, double z_mm) {
  const Vec2 &low = part.at_z_min[ring][0], &high = part.at_z_max[ring][0];
  if (z_mm == part.z_min_mm) return low;
  if (z_mm == part.z_max_mm) return high;
  const double share = (z_mm - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
  return low + share * (high - low);
}
inline bool HoldsAt(const Part& part, double z_mm, const Vec2& p) {
  if (z_mm == part.z_min_mm) return Contains(part.at_z_min, p);
  if (z_mm == part.z_max_mm) return Contains(part.at_z_max, p);
  return Contains(RingsAt(part, z_mm), p);
}

// Does one part hold the other, at one end of what they share? Only asked where no outlines cross.
inline bool Nested(const Part& p, const Part& q, const Pose& X_QP) {
  const Pose X_PQ = X_QP.Inverse();
  const auto any = [](const Part& mover, const Part& holder, const Pose& pose, double z) {
    for (std::size_t r = 0; r < mover.at_z_min.size(); ++r) {
      if (HoldsAt(holder, z, pose * FirstPointAt(mover, r, z))) return true;
    }
    return false;
  };
  for (const double z : {std::max(p.z_min_mm, q.z_min_mm), std::min(p.z_max_mm, q.z_max_mm)}) {
    if (any(p, q, X_QP, z) || any(q, p, X_PQ, z)) return true;
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

}  // namespace lidwright::swing_walk
