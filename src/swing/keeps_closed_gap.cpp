// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <optional>

#include "lidwright/base/check.h"
#include "walk.h"

namespace lidwright {

using namespace swing_walk;  // NOLINT: the private half of this file

namespace {

// [mm] Floor of a pair that touches when shut, once it has parted: more than rounding, less than
// any gap that is asked for.
constexpr double kApart_mm = 1e-7;
// [–] A direction may lean this much over a neighbouring edge (its sine) and still support it.
constexpr double kLean = 1e-6;

// A vertex against an edge when shut, both at their two stations; `seen` at θ = 0.
struct Contact {
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
bool RightSide(const Contact& c, std::size_t j, const Vec2& u) {
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

// The best separating speed over the directions that part vertex and edge by `closed_gap` already:
// the edge's normal, the normals of the edges at the vertex and at the edge's ends, the line
// between the two, and the vertex's own velocity. −infinity if none does.
double SeparatingSpeed(const Contact& c, double closed_gap) {
  const Edge& e = *c.edge;
  const std::array<Vec2, 2> a{e.a0, e.a1}, b{e.b0, e.b1};
  const Vec2 velocity = c.seen->VelocityAt(c.p[0]);
  // Solid lies to the left of an edge: its outward normal is −z × edge; the vertex's own body must
  // lie beyond, so its edges' outward normals count reversed.
  const std::array<Vec2, 7> candidates{-Perp(Vec2(e.b0 - e.a0)),
                                       -Perp(Vec2(e.a0 - e.before0)),
                                       -Perp(Vec2(c.edge_after[0] - e.b0)),
                                       Perp(Vec2(c.p[0] - c.before[0])),
                                       Perp(Vec2(c.after[0] - c.p[0])),
                                       c.p[0] - NearestOnSegment(c.p[0], e.a0, e.b0),
                                       velocity};
  // Where bodies touch, a direction may not lean over a near corner at all: it would let the vertex
  // cut the corner off.
  const double slack = closed_gap > kContactSlack_mm ? kContactSlack_mm : kContact_mm;
  double best = -kInfinite;
  for (const Vec2& candidate : candidates) {
    const double length = candidate.norm();
    if (length < 1e-12) continue;
    const Vec2 u = candidate / length;
    double gap = kInfinite, speed = kInfinite;
    bool right = true;
    for (std::size_t j = 0; j < 2; ++j) {
      gap = std::min(gap, u.dot(c.p[j]) - std::max(u.dot(a[j]), u.dot(b[j])));
      speed = std::min(speed, u.dot(c.seen->VelocityAt(c.p[j])));
      right = right && (closed_gap > kContactSlack_mm || RightSide(c, j, u));
    }
    if (right && gap >= closed_gap - slack) best = std::max(best, speed);
  }
  return best;
}

double DistanceOf(const Contact& c) {
  const Edge& e = *c.edge;
  return std::min((c.p[0] - NearestOnSegment(c.p[0], e.a0, e.b0)).norm(),
                  (c.p[1] - NearestOnSegment(c.p[1], e.a1, e.b1)).norm());
}

// How near two edges' ends come to the other edge.
double EndsApart(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  return std::min({(a - NearestOnSegment(a, c, d)).norm(), (b - NearestOnSegment(b, c, d)).norm(),
                   (c - NearestOnSegment(c, a, b)).norm(), (d - NearestOnSegment(d, a, b)).norm()});
}

// Where the outlines of two parts that are shut properly cross at one of their stations: edges meet
// and all four ends stand off the other edge. An end that does not is a contact, and parts or not
// as contacts do. Nothing if they cross nowhere so.
std::optional<Vec2> CrossingOf(const PartPair& pair, int p_index = 0, int q_index = 0) {
  const Node &p = NodeOf(*pair.first, p_index), &q = NodeOf(*pair.second, q_index);
  if (ApartAtLeast(pair, p, q, Pose{}, p.centre) > 0.0) return std::nullopt;
  if (p.left < 0 && q.left < 0) {
    const Edge &e = EdgeOf(*pair.first, p), &f = EdgeOf(*pair.second, q);
    if (SegmentsMeet(e.a0, e.b0, f.a0, f.b0) && EndsApart(e.a0, e.b0, f.a0, f.b0) > kContact_mm) {
      return GapOf(e.a0, e.b0, f.a0, f.b0).on_p;
    }
    if (SegmentsMeet(e.a1, e.b1, f.a1, f.b1) && EndsApart(e.a1, e.b1, f.a1, f.b1) > kContact_mm) {
      return GapOf(e.a1, e.b1, f.a1, f.b1).on_p;
    }
    return std::nullopt;
  }
  const bool first = OpenFirst(p, q);
  const auto lower = first ? CrossingOf(pair, p.left, q_index) : CrossingOf(pair, p_index, q.left);
  if (lower) return lower;
  return first ? CrossingOf(pair, p.right, q_index) : CrossingOf(pair, p_index, q.right);
}

// A pair of parts as it stands when shut.
struct ShutPair {
  const PartPair* pair;
  RelativeMotion p_in_q, q_in_p;
  double closed_gap;

  // Both vertex–edge pairs of two leaves (each edge stands for its first vertex).
  std::array<Contact, 2> Contacts(const Node& p, const Node& q) const {
    const Edge &e = EdgeOf(*pair->first, p), &f = EdgeOf(*pair->second, q);
    return {
        Contact{
            {e.a0, e.a1}, {e.before0, e.before1}, {e.b0, e.b1}, &f, {f.after0, f.after1}, &p_in_q},
        Contact{
            {f.a0, f.a1}, {f.before0, f.before1}, {f.b0, f.b1}, &e, {e.after0, e.after1}, &q_in_p}};
  }

  // Looks at every contact and keeps the slowest to part.
  void Slowest(int p_index, int q_index, KeepReport& report) const {
    const Node &p = NodeOf(*pair->first, p_index), &q = NodeOf(*pair->second, q_index);
    if (ApartAtLeast(*pair, p, q, Pose{}, p.centre) > closed_gap + kContact_mm) return;
    if (p.left < 0 && q.left < 0) {
      for (const Contact& contact : Contacts(p, q)) {
        if (DistanceOf(contact) > closed_gap + kContact_mm) continue;
        const double speed = SeparatingSpeed(contact, closed_gap);
        if (speed < report.separation_mm) {
          report.separation_mm = speed;
          report.slowest_contact = contact.p[0];
        }
      }
    } else if (OpenFirst(p, q)) {
      Slowest(p.left, q_index, report);
      Slowest(p.right, q_index, report);
    } else {
      Slowest(p_index, q.left, report);
      Slowest(p_index, q.right, report);
    }
  }
};

}  // namespace

KeepReport KeepsClosedGap(const Motion& motion, const std::vector<PartPair>& asked, double cap_mm,
                          std::stop_token stop) {
  LW_REQUIRE(motion.from() == 0.0, "from=" << motion.from());
  const SharedStretch shared(asked);
  const std::vector<PartPair>& pairs = shared.pairs();
  KeepReport report;
  report.separation_mm = kInfinite;
  if (!motion.Bounded()) {
    report.end = WalkEnd::kUnbounded;
    return report;
  }
  std::vector<ShutPair> shut;
  double slowest = kInfinite;
  const BodiesAt bodies = motion.At(motion.from());
  const auto at_corner = [&](std::size_t i, const Vec2& corner) {
    return Nearness{0.0, motion.from(), i, corner, corner, pairs[i].first->part().z_min_mm};
  };
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    const Pose still;
    StaticGap at(pairs[i], still);
    double gap = kInfinite;
    at.Improve(0, 0, gap);
    // Rims that touch along their whole length cross in rounding at most; outlines that cross with
    // all corners elsewhere, or one part inside the other, are a different matter. No corner may
    // ever come near an edge of those, so that nothing below would tell.
    std::optional<Vec2> inside;
    if (gap <= kContact_mm) inside = CrossingOf(pairs[i]);
    if (gap > kContact_mm && Nested(pairs[i], still)) inside = pairs[i].first->edges()[0].a0;
    if (inside) {
      report.worst = at_corner(i, *inside);
      report.outcome = Outcome::kViolated;
      report.end = WalkEnd::kMet;
      return report;
    }
    const Body bp = pairs[i].first->part().body, bq = pairs[i].second->part().body;
    shut.push_back({&pairs[i], bodies.Seen(bp, bq), bodies.Seen(bq, bp), gap});
    if (gap <= cap_mm + kContact_mm) shut.back().Slowest(0, 0, report);
    shut.back().closed_gap = std::min(gap, cap_mm);
    if (report.separation_mm < slowest) {
      slowest = report.separation_mm;
      report.worst = at_corner(i, report.slowest_contact);
    }
  }
  if (report.separation_mm <= 0.0) {
    // A contact for which no direction was found may part all the same.
    report.outcome = std::isinf(report.separation_mm) ? Outcome::kUndecided : Outcome::kViolated;
    report.end = WalkEnd::kMet;
    return report;
  }
  report.worst.reset();
  const auto need = [&](std::size_t pair) {
    return std::max(shut[pair].closed_gap - kContactSlack_mm, kApart_mm);
  };
  const auto settle = [](std::size_t, double) {};
  const auto begin = [](PieceLook&, const Piece&) { return true; };
  const auto open = [&](PieceLook& look, const Piece& piece, const Entry& entry,
                        const PieceLook::LeafGap& leaf) {
    const bool nearer = leaf.gap.distance < need(entry.pair);
    if ((piece.index == 0 || !nearer) && look.width() >= 2.0 * motion.Finest()) return true;
    report.worst = look.Spot(pairs[entry.pair], entry.pair, leaf);
    report.outcome = nearer && piece.index > 0 ? Outcome::kViolated : Outcome::kUndecided;
    return false;
  };
  // On pieces that start closed, contacts are settled by their separating speed instead: it must
  // outlast what the acceleration M can take off it.
  const auto parting = [&](PieceLook& look, const Entry& entry, const PieceLook::LeafGap& leaf) {
    const PartPair& pair = pairs[entry.pair];
    const Node &p = NodeOf(*pair.first, entry.p), &q = NodeOf(*pair.second, entry.q);
    const PieceLook::View& view = look.ViewOf(pair);
    const auto contacts = shut[entry.pair].Contacts(p, q);
    const std::array<double, 2> loss{look.SpeedLoss(view.p_bound, p),
                                     look.SpeedLoss(view.q_bound, q)};
    for (std::size_t k = 0; k < 2; ++k) {
      if (leaf.bounds[k] >= need(entry.pair)) continue;  // no contact: far enough as it is
      const double speed = SeparatingSpeed(contacts[k], shut[entry.pair].closed_gap);
      if (!(speed > 0.0 && speed >= loss[k])) return false;
    }
    return true;
  };
  long pieces = 0;
  report.end = Walk(motion, pairs, 0, need, settle, begin, open, stop, pieces, parting);
  if (report.end == WalkEnd::kProven) report.outcome = Outcome::kClear;
  return report;
}

}  // namespace lidwright
