// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "walk.h"

namespace lidwright {

using namespace swing_walk;  // NOLINT: the private half of this file

namespace {

// A vertex against an edge when shut, both at the two ends of what their parts share; `seen` at
// θ = 0.
struct Touch {
  std::array<Vec2, 2> p, before, after;  // the vertex and its neighbours
  const Edge* edge;
  std::array<Vec2, 2> edge_after;  // the vertex that follows the edge
  const RelativeMotion* seen;
};

// The solid at a vertex lies on the far side of the line through it square to u (or touches it).
bool Beyond(const Vec2& u, const Vec2& vertex, const Vec2& neighbour) {
  const Vec2 to = neighbour - vertex;
  return u.dot(to) >= -kLean * to.norm();
}

bool Reflex(const Vec2& before, const Vec2& vertex, const Vec2& after) {
  return Cross(Vec2(vertex - before), Vec2(after - vertex)) < 0.0;
}

// Does u point out of the edge's solid where the vertex touches it, and into the vertex's solid?
// Asked station by station, only where the two touch there.
bool RightSide(const Touch& c, std::size_t j, const Vec2& u) {
  const Edge& e = *c.edge;
  const Vec2 &p = c.p[j], &a = j == 0 ? e.a0 : e.a1, &b = j == 0 ? e.b0 : e.b1;
  const Vec2 &a_before = j == 0 ? e.before0 : e.before1, &b_after = c.edge_after[j];
  if ((p - NearestOnSegment(p, a, b)).norm() > kContact_mm) return true;
  // A reflex vertex fits around a corner of the other body: that corner's own contacts with the
  // two edges here say on which side it is.
  if (!Reflex(c.before[j], p, c.after[j]) &&
      !(Beyond(u, p, c.before[j]) && Beyond(u, p, c.after[j]))) {
    return false;
  }
  const Vec2 outward = -Perp(Vec2(b - a));
  const auto corner = [&](const Vec2& before, const Vec2& at, const Vec2& after) {
    if (Reflex(before, at, after)) return u.dot(outward) > 0.0;
    return Beyond(-u, at, before) && Beyond(-u, at, after);
  };
  if ((p - a).norm() <= kContact_mm) return corner(a_before, a, b);
  if ((p - b).norm() <= kContact_mm) return corner(a, b, b_after);
  return u.dot(outward) > 0.0;
}

// The directions that may part vertex and edge: the edge's normal, the normals of the edges at the
// vertex and at the edge's ends, the line between the two, and the vertex's own velocity.
std::array<Vec2, 7> Directions(const Touch& c, const Vec2& velocity) {
  const Edge& e = *c.edge;
  // Solid lies to the left of an edge: its outward normal is −z × edge; the vertex's own body must
  // lie beyond, so its edges' outward normals count reversed.
  return {-Perp(Vec2(e.b0 - e.a0)),
          -Perp(Vec2(e.a0 - e.before0)),
          -Perp(Vec2(c.edge_after[0] - e.b0)),
          Perp(Vec2(c.p[0] - c.before[0])),
          Perp(Vec2(c.after[0] - c.p[0])),
          c.p[0] - NearestOnSegment(c.p[0], e.a0, e.b0),
          velocity};
}

// Does this unit vector part vertex and edge by `closed_gap`, but for a slack, at both stations?
bool Parts(const Touch& c, double closed_gap, const Vec2& u) {
  const Edge& e = *c.edge;
  const std::array<Vec2, 2> a{e.a0, e.a1}, b{e.b0, e.b1};
  // Where bodies touch, a direction may not lean over a near corner at all: it would let the vertex
  // cut the corner off.
  const bool near = closed_gap <= kContactSlack_mm;
  const double slack = near ? kContact_mm : kContactSlack_mm;
  for (std::size_t j = 0; j < 2; ++j) {
    const double gap = u.dot(c.p[j]) - std::max(u.dot(a[j]), u.dot(b[j]));
    if (!(gap >= closed_gap - slack)) return false;
  }
  return !near || (RightSide(c, 0, u) && RightSide(c, 1, u));
}

// The best separating speed over the directions that part vertex and edge by `closed_gap` already;
// −infinity if none does. One that is at least `enough` may be told too small, but not less than
// that.
double SeparatingSpeed(const Touch& c, double closed_gap, double enough) {
  const std::array<Vec2, 2> velocities{c.seen->VelocityAt(c.p[0]), c.seen->VelocityAt(c.p[1])};
  double best = -kInfinite;
  for (const Vec2& direction : Directions(c, velocities[0])) {
    const double length = direction.norm();
    if (length < kNoDirection_mm) continue;
    const Vec2 u = direction / length;
    const double speed = std::min(u.dot(velocities[0]), u.dot(velocities[1]));
    if (speed > best && Parts(c, closed_gap, u)) best = speed;
    if (best >= enough) break;
  }
  return best;
}

double DistanceOf(const Touch& c) {
  const Edge& e = *c.edge;
  return std::min((c.p[0] - NearestOnSegment(c.p[0], e.a0, e.b0)).norm(),
                  (c.p[1] - NearestOnSegment(c.p[1], e.a1, e.b1)).norm());
}

// One of the two vertex–edge pairs of two edges: each edge stands for its first vertex.
Touch TouchOf(const SharedEdges& shared, bool vertex_of_first, const RelativeMotion& seen) {
  const Edge& v = vertex_of_first ? shared.e() : shared.f();
  const Edge& e = vertex_of_first ? shared.f() : shared.e();
  return {{v.a0, v.a1}, {v.before0, v.before1}, {v.b0, v.b1}, &e, {e.after0, e.after1}, &seen};
}

// How near the ends of two edges come to the other edge.
double EndsApart(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  return std::min({(a - NearestOnSegment(a, c, d)).norm(), (b - NearestOnSegment(b, c, d)).norm(),
                   (c - NearestOnSegment(c, a, b)).norm(), (d - NearestOnSegment(d, a, b)).norm()});
}

// Where the outlines of two trees that are shut properly cross: edges meet and all four ends stand
// off the other edge. An end that does not is a contact, and parts or not as contacts do.
std::optional<Nearness> CrossingOf(const PartPair& pair, int p_index = 0, int q_index = 0) {
  const Node &p = NodeOf(*pair.first, p_index), &q = NodeOf(*pair.second, q_index);
  if (!Meet(pair, p, q) || ApartAtLeast(p, q, Pose{}, p.centre, kContact_mm) > kContact_mm) {
    return std::nullopt;
  }
  if (p.left < 0 && q.left < 0) {
    const SharedEdges shared(pair, EdgeOf(*pair.first, p), EdgeOf(*pair.second, q));
    const Edge &e = shared.e(), &f = shared.f();
    const auto at = [&](const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d,
                        double z) -> std::optional<Nearness> {
      if (!SegmentsMeet(a, b, c, d) || EndsApart(a, b, c, d) <= kContact_mm) return std::nullopt;
      const Vec2 spot = GapOf(a, b, c, d).on_p;
      return Nearness{0.0, 0.0, 0, e.part, f.part, spot, spot, z};
    };
    const auto low = at(e.a0, e.b0, f.a0, f.b0, shared.low_mm());
    return low ? low : at(e.a1, e.b1, f.a1, f.b1, shared.high_mm());
  }
  const bool first = OpenFirst(p, q);
  const auto lower = first ? CrossingOf(pair, p.left, q_index) : CrossingOf(pair, p_index, q.left);
  if (lower) return lower;
  return first ? CrossingOf(pair, p.right, q_index) : CrossingOf(pair, p_index, q.right);
}

// Lowers the closed gap of every two parts by what two nodes hold.
void LowerGaps(const PartPair& pair, double cap_mm, int p_index, int q_index,
               std::vector<double>& gaps) {
  const Node &p = NodeOf(*pair.first, p_index), &q = NodeOf(*pair.second, q_index);
  if (!Meet(pair, p, q) || ApartAtLeast(p, q, Pose{}, p.centre, cap_mm) >= cap_mm) return;
  if (p.left < 0 && q.left < 0) {
    const SharedEdges shared(pair, EdgeOf(*pair.first, p), EdgeOf(*pair.second, q));
    const Edge &e = shared.e(), &f = shared.f();
    double& gap = gaps[static_cast<std::size_t>(e.part) * pair.second->parts().size() +
                       static_cast<std::size_t>(f.part)];
    gap = std::min({gap, GapOf(e.a0, e.b0, f.a0, f.b0).gap, GapOf(e.a1, e.b1, f.a1, f.b1).gap});
  } else if (OpenFirst(p, q)) {
    LowerGaps(pair, cap_mm, p.left, q_index, gaps);
    LowerGaps(pair, cap_mm, p.right, q_index, gaps);
  } else {
    LowerGaps(pair, cap_mm, p_index, q.left, gaps);
    LowerGaps(pair, cap_mm, p_index, q.right, gaps);
  }
}

void AddContacts(const PartPair& pair, const ShutPair& shut, int p_index, int q_index,
                 std::vector<ShutPair::Contact>& contacts) {
  const Node &p = NodeOf(*pair.first, p_index), &q = NodeOf(*pair.second, q_index);
  const double reach = shut.LargestClosedGap_mm() + kContact_mm;
  if (!Meet(pair, p, q) || ApartAtLeast(p, q, Pose{}, p.centre, 2.0 * reach) > reach) return;
  if (p.left < 0 && q.left < 0) {
    const SharedEdges shared(pair, EdgeOf(*pair.first, p), EdgeOf(*pair.second, q));
    const double gap = shut.ClosedGap_mm(shared.e().part, shared.f().part);
    if (gap >= shut.cap_mm()) return;
    for (const bool vertex_of_first : {true, false}) {
      const Touch touch = TouchOf(shared, vertex_of_first, RelativeMotion{});
      if (DistanceOf(touch) <= gap + kContact_mm)
        contacts.push_back({p.first, q.first, vertex_of_first});
    }
  } else if (OpenFirst(p, q)) {
    AddContacts(pair, shut, p.left, q_index, contacts);
    AddContacts(pair, shut, p.right, q_index, contacts);
  } else {
    AddContacts(pair, shut, p_index, q.left, contacts);
    AddContacts(pair, shut, p_index, q.right, contacts);
  }
}

// Judges the walk that keeps the closed gaps.
class KeepJudge {
 public:
  KeepJudge(const Motion& motion, const ShutPair& shut, KeepReport& report)
      : motion_(motion), shut_(shut), report_(report) {}

  double Need(std::size_t) const { return NeedFor(shut_.LargestClosedGap_mm()); }
  double LeafNeed(std::size_t, const SharedEdges& shared) const {
    return NeedFor(shut_.ClosedGap_mm(shared.e().part, shared.f().part));
  }
  void Settle(std::size_t, double) {}
  void LeafSettle(std::size_t, const SharedEdges&, double) {}
  bool Begin(PieceLook&, const Piece&) { return true; }
  bool Open(PieceLook& look, const Piece& piece, const Entry& entry, const SharedEdges& shared,
            const PieceLook::LeafGap& leaf) {
    const bool nearer = leaf.gap.distance < LeafNeed(entry.pair, shared);
    if ((piece.index == 0 || !nearer) && look.width() >= 2.0 * motion_.Finest()) return true;
    report_.worst = look.Spot(shut_.pair(), entry.pair, shared, leaf);
    report_.outcome = nearer && piece.index > 0 ? Outcome::kViolated : Outcome::kUndecided;
    return false;
  }

 private:
  static double NeedFor(double closed_gap) {
    return std::max(closed_gap - kContactSlack_mm, kParted_mm);
  }
  const Motion& motion_;
  const ShutPair& shut_;
  KeepReport& report_;
};

// How fast contacts part at the motion's start.
class StartSpeeds {
 public:
  StartSpeeds(const Motion& motion, const ShutPair& shut) : shut_(shut) {
    const BodiesAt bodies = motion.At(motion.from());
    p_in_q_ = bodies.Seen(shut.pair().first->body(), shut.pair().second->body());
    q_in_p_ = bodies.Seen(shut.pair().second->body(), shut.pair().first->body());
  }

  /// Exact if less than `enough`, else at least that.
  double Of(const SharedEdges& shared, bool vertex_of_first, double enough) const {
    return SeparatingSpeed(TouchOf(shared, vertex_of_first, vertex_of_first ? p_in_q_ : q_in_p_),
                           shut_.ClosedGap_mm(shared.e().part, shared.f().part), enough);
  }

 private:
  const ShutPair& shut_;
  RelativeMotion p_in_q_, q_in_p_;
};

// Tells the contact that parts most slowly: its speed, where it is, and its parts as the worst.
void FindSlowest(const ShutPair& shut, const StartSpeeds& speeds, KeepReport& report) {
  const PartPair& pair = shut.pair();
  report.separation_mm = kInfinite;
  for (const ShutPair::Contact& contact : shut.contacts()) {
    const SharedEdges shared(pair, pair.first->edges()[static_cast<std::size_t>(contact.p_edge)],
                             pair.second->edges()[static_cast<std::size_t>(contact.q_edge)]);
    const double speed = speeds.Of(shared, contact.vertex_of_first, report.separation_mm);
    if (speed >= report.separation_mm) continue;
    report.separation_mm = speed;
    report.slowest_contact = (contact.vertex_of_first ? shared.e() : shared.f()).a0;
    report.worst = Nearness{0.0,
                            0.0,
                            0,
                            shared.e().part,
                            shared.f().part,
                            report.slowest_contact,
                            report.slowest_contact,
                            shared.low_mm()};
  }
}

}  // namespace

ShutPair::ShutPair(const PartPair& pair, double cap_mm) : pair_(pair), cap_mm_(cap_mm) {
  LW_REQUIRE(cap_mm > 0.0, "cap=" << cap_mm);
  const std::vector<Part>&ps = pair.first->parts(), &qs = pair.second->parts();
  closed_gap_mm_.assign(ps.size() * qs.size(), 0.0);
  EachOverlap(pair, [&](int i, int j) {
    closed_gap_mm_[static_cast<std::size_t>(i) * qs.size() + static_cast<std::size_t>(j)] = cap_mm;
  });
  LowerGaps(pair_, cap_mm, 0, 0, closed_gap_mm_);
  EachOverlap(pair, [&](int i, int j) {
    const double gap = ClosedGap_mm(i, j);
    largest_mm_ = std::max(largest_mm_, gap);
    // Rims that touch along their whole length cross in rounding at most; one part inside the
    // other is a different matter.
    const Part &p = ps[static_cast<std::size_t>(i)], &q = qs[static_cast<std::size_t>(j)];
    if (overlap_ || gap <= kContact_mm || !Nested(p, q, Pose{})) return;
    const Vec2& corner = p.at_z_min[0][0];
    overlap_ = Nearness{0.0, 0.0, 0, i, j, corner, corner, p.z_min_mm};
  });
  if (!overlap_) overlap_ = CrossingOf(pair_);
  AddContacts(pair_, *this, 0, 0, contacts_);
}

double PartingSpeed_mm(const Motion& motion, const ShutPair& shut) {
  LW_REQUIRE(motion.from() == 0.0, "from=" << motion.from());
  KeepReport report;
  report.separation_mm = kInfinite;
  if (motion.Bounded() && !shut.overlap()) {
    FindSlowest(shut, StartSpeeds(motion, shut), report);
  }
  return report.separation_mm;
}

KeepReport KeepsClosedGap(const Motion& motion, const ShutPair& shut, std::stop_token stop) {
  LW_REQUIRE(motion.from() == 0.0, "from=" << motion.from());
  const PartPair& pair = shut.pair();
  KeepReport report;
  report.separation_mm = kInfinite;
  if (!motion.Bounded()) {
    report.end = WalkEnd::kUnbounded;
    return report;
  }
  if (shut.overlap()) {
    report.worst = shut.overlap();
    report.outcome = Outcome::kViolated;
    report.end = WalkEnd::kMet;
    return report;
  }
  const StartSpeeds speeds(motion, shut);
  FindSlowest(shut, speeds, report);
  if (report.separation_mm <= 0.0) {
    // A contact for which no direction was found may part all the same.
    report.outcome = std::isinf(report.separation_mm) ? Outcome::kUndecided : Outcome::kViolated;
    report.end = WalkEnd::kMet;
    return report;
  }
  report.worst.reset();
  KeepJudge judge(motion, shut, report);
  // On pieces that start closed, contacts are settled by their separating speed instead: it must
  // outlast what the acceleration M can take off it.
  const auto parting = [&](PieceLook& look, const Entry& entry, const SharedEdges& shared,
                           const PieceLook::LeafGap& leaf) {
    const Node &p = NodeOf(*pair.first, entry.p), &q = NodeOf(*pair.second, entry.q);
    const PieceLook::View& view = look.ViewOf(pair);
    const std::array<double, 2> loss{look.SpeedLoss(view.p_bound, p),
                                     look.SpeedLoss(view.q_bound, q)};
    for (std::size_t k = 0; k < 2; ++k) {
      if (leaf.bounds[k] >= judge.LeafNeed(0, shared)) continue;  // no contact: far enough
      // More than nothing, and as much as may be lost.
      const double enough = std::max(loss[k], std::numeric_limits<double>::min());
      if (!(speeds.Of(shared, k == 0, enough) >= enough)) return false;
    }
    return true;
  };
  WalkCount count;
  report.end = Walk(motion, {pair}, 0, judge, stop, count, parting);
  report.node_pairs = count.node_pairs;
  if (report.end == WalkEnd::kProven) report.outcome = Outcome::kClear;
  return report;
}

}  // namespace lidwright
