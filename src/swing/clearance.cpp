// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/clearance.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/geometry/rings_tree.h"
#include "walk.h"

namespace lidwright {

using namespace swing_walk;  // NOLINT: the private half of this file

namespace {

Nearness Found(const PartPair& pair, std::size_t index, const BodiesAt& bodies, double at,
               const StaticGap& gap) {
  const Pose& X_CQ = bodies.Of(pair.second->body());
  return {gap.nearest().gap,
          at,
          index,
          gap.p_part(),
          gap.q_part(),
          X_CQ * gap.nearest().on_p,
          X_CQ * gap.nearest().on_q,
          gap.z()};
}

// How deep a vertex of `movers` lies in `holders`, its frame Q, the deepest; nothing if none does.
struct Depth {
  double depth = 0.0;
  Vec2 vertex = Vec2::Zero(), surface = Vec2::Zero();
};
void Deepen(const std::vector<Ring>& movers, const RingsTree& holders, const Pose& X_QP,
            std::optional<Depth>& deepest) {
  for (const Ring& ring : movers) {
    for (const Vec2& vertex : ring) {
      const Vec2 p = X_QP * vertex;
      if (!holders.Contains(p)) continue;
      Vec2 surface = p;
      const double depth = -holders.SignedDistance(p, &surface);
      if (depth > 0.0 && (!deepest || depth > deepest->depth)) deepest = {depth, p, surface};
    }
  }
}

// Makes a nearness of two trees that meet tell how deep: the deepest vertex of any part in any
// other, at the ends of what they share.
void TellDepth(const PartPair& pair, const BodiesAt& bodies, Nearness& near) {
  const Pose X_QP = Seen(pair, bodies), X_PQ = X_QP.Inverse();
  EachOverlap(pair, [&](int i, int j) {
    const Part& p = pair.first->parts()[static_cast<std::size_t>(i)];
    const Part& q = pair.second->parts()[static_cast<std::size_t>(j)];
    for (const double z : {std::max(p.z_min_mm, q.z_min_mm), std::min(p.z_max_mm, q.z_max_mm)}) {
      const std::vector<Ring> of_p = RingsAt(p, z), of_q = RingsAt(q, z);
      std::optional<Depth> in_q, in_p;
      Deepen(of_p, RingsTree(of_q), X_QP, in_q);
      Deepen(of_q, RingsTree(of_p), X_PQ, in_p);
      const auto take = [&](const Depth& depth, Body frame, bool first_is_vertex) {
        if (-depth.depth >= near.gap_mm) return;
        const Vec2 vertex = bodies.Of(frame) * depth.vertex;
        const Vec2 surface = bodies.Of(frame) * depth.surface;
        near.gap_mm = -depth.depth;
        near.first_part = i;
        near.second_part = j;
        near.on_first = first_is_vertex ? vertex : surface;
        near.on_second = first_is_vertex ? surface : vertex;
        near.z_mm = z;
      };
      if (in_q) take(*in_q, q.body, true);
      if (in_p) take(*in_p, p.body, false);
    }
  });
}

// A part of one tree held by one of the other, where no outlines cross.
std::optional<Nearness> HeldAt(const PartPair& pair, std::size_t index, const BodiesAt& bodies,
                               double at) {
  std::optional<Nearness> held;
  const Pose X_QP = Seen(pair, bodies);
  EachOverlap(pair, [&](int i, int j) {
    const Part& p = pair.first->parts()[static_cast<std::size_t>(i)];
    const Part& q = pair.second->parts()[static_cast<std::size_t>(j)];
    if (held || !Nested(p, q, X_QP)) return;
    const Vec2 corner = bodies.Of(p.body) * p.at_z_min[0][0];
    held = Nearness{0.0, at, index, i, j, corner, corner, std::max(p.z_min_mm, q.z_min_mm)};
  });
  return held;
}

// The nearest of the pairs' places that are nearer than `limit`; `look(gap, best)` looks for one.
template <typename Look>
std::optional<Nearness> NearestOf(const BodiesAt& bodies, const std::vector<PartPair>& pairs,
                                  double limit, const Look& look) {
  std::optional<Nearness> nearest;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    StaticGap gap(pairs[i], Seen(pairs[i], bodies));
    double best = nearest ? std::max(0.0, nearest->gap_mm) : limit;
    std::optional<Nearness> here;
    if (best > 0.0 && look(gap, best)) here = Found(pairs[i], i, bodies, 0.0, gap);
    if (here) nearest = here;
    // Crossed outlines and parts inside others: how deep.
    if (!here || here->gap_mm > 0.0) here = HeldAt(pairs[i], i, bodies, 0.0);
    if (!here) continue;
    TellDepth(pairs[i], bodies, *here);
    if (!nearest || here->gap_mm <= nearest->gap_mm) nearest = here;
  }
  return nearest;
}

// The least gaps seen so far: of gaps less their parts' errors, and of gaps with them.
class LeastSeen {
 public:
  LeastSeen(const Motion& motion, const std::vector<PartPair>& pairs) : pairs_(pairs) {
    for (const PartPair& pair : pairs) {
      const double rounding = PairRounding_mm(motion, pair);
      errors_.push_back(
          {rounding, rounding + pair.first->least_error_mm() + pair.second->least_error_mm(),
           rounding + pair.first->largest_error_mm() + pair.second->largest_error_mm()});
    }
  }

  /// What true surfaces may be off the ruled ones and computed places off the true ones.
  double Error(std::size_t pair, int p_part, int q_part) const {
    return errors_[pair].rounding +
           pairs_[pair].first->parts()[static_cast<std::size_t>(p_part)].error_mm +
           pairs_[pair].second->parts()[static_cast<std::size_t>(q_part)].error_mm;
  }
  double LargestError(std::size_t pair) const { return errors_[pair].largest; }
  double less_error() const { return less_error_; }
  /// A gap of this pair at or over this tells nothing new, whatever its parts.
  double Matters(std::size_t pair) const {
    return std::max(less_error_ + errors_[pair].largest, with_error_ - errors_[pair].least);
  }
  double Matters(std::size_t pair, int p_part, int q_part) const {
    const double error = Error(pair, p_part, q_part);
    return std::max(less_error_ + error, with_error_ - error);
  }
  void Take(const Nearness& near) {
    const double error = Error(near.pair, near.first_part, near.second_part);
    less_error_ = std::min(less_error_, near.gap_mm - error);
    if (!touching_ || near.gap_mm < touching_->gap_mm) touching_ = near;
    if (near.gap_mm + error >= with_error_) return;
    with_error_ = near.gap_mm + error;
    nearest_ = near;
  }
  /// All pairs at one place of the motion.
  void LookAt(const BodiesAt& bodies, double at) {
    for (std::size_t i = 0; i < pairs_.size(); ++i) {
      StaticGap gap(pairs_[i], Seen(pairs_[i], bodies));
      double raw = Matters(i);
      if (gap.Improve(raw)) Take(Found(pairs_[i], i, bodies, at, gap));
    }
  }
  double with_error() const { return with_error_; }
  const std::optional<Nearness>& nearest() const { return nearest_; }
  /// The nearest whatever the errors.
  const std::optional<Nearness>& touching() const { return touching_; }
  /// Outlines nearer than the tolerance may touch or cross; halving on towards a crossing would
  /// find no more.
  bool Meeting(double tolerance_mm) const { return touching_ && touching_->gap_mm <= tolerance_mm; }

 private:
  struct Errors {
    double rounding, least, largest;
  };
  const std::vector<PartPair>& pairs_;
  std::vector<Errors> errors_;
  double less_error_ = kInfinite, with_error_ = kInfinite;
  std::optional<Nearness> nearest_, touching_;
};

// Where parts meet somewhere on a motion: the deepest of the places looked at.
void LookForDepth(const Motion& motion, const std::vector<PartPair>& pairs, Nearness& near) {
  TellDepth(pairs[near.pair], motion.At(near.at), near);
  GapFollower gap(pairs);
  for (int i = 0; i <= kDepthLooks; ++i) {
    const double at = std::lerp(motion.from(), motion.to(), static_cast<double>(i) / kDepthLooks);
    std::optional<Nearness> here = gap.At(motion.At(at));
    if (!here || here->gap_mm >= near.gap_mm) continue;
    near = *here;
    near.at = at;
  }
}

GapReport Reported(GapReport report, const Motion& motion, const std::vector<PartPair>& pairs,
                   const LeastSeen& seen, const GapOptions& options) {
  const bool met = report.end == WalkEnd::kMet;
  report.nearest = met ? seen.touching() : seen.nearest();
  if (!report.nearest) return report;
  if (met && options.depths) LookForDepth(motion, pairs, *report.nearest);
  const Nearness& near = *report.nearest;
  report.seen_mm = std::min(seen.with_error(),
                            near.gap_mm + seen.Error(near.pair, near.first_part, near.second_part));
  return report;
}

// Judges the walk for the least gap.
class LeastGapJudge {
 public:
  LeastGapJudge(const std::vector<PartPair>& pairs, double tolerance_mm, LeastSeen& seen)
      : pairs_(pairs), tolerance_(tolerance_mm), seen_(seen), bound_(seen.less_error()) {}

  double bound() const { return std::min(bound_, seen_.less_error()); }

  double Need(std::size_t pair) const { return seen_.Matters(pair) - tolerance_; }
  double LeafNeed(std::size_t pair, const SharedEdges& shared) const {
    return seen_.Matters(pair, shared.e().part, shared.f().part) - tolerance_;
  }
  void Settle(std::size_t pair, double gap) {
    bound_ = std::min(bound_, gap - seen_.LargestError(pair));
  }
  void LeafSettle(std::size_t pair, const SharedEdges& shared, double gap) {
    bound_ = std::min(bound_, gap - seen_.Error(pair, shared.e().part, shared.f().part));
  }
  bool Begin(PieceLook& look, const Piece& piece) {
    // A better least gap early settles more.
    if (piece.level == kFirstHalvings) seen_.LookAt(look.bodies(), look.middle());
    return !seen_.Meeting(tolerance_);
  }
  bool Open(const PieceLook& look, const Piece&, const Entry& entry, const SharedEdges& shared,
            const PieceLook::LeafGap& leaf) {
    if (leaf.gap.distance < seen_.Matters(entry.pair, shared.e().part, shared.f().part)) {
      seen_.Take(look.Spot(pairs_[entry.pair], entry.pair, shared, leaf));
    }
    return !seen_.Meeting(tolerance_);
  }

 private:
  const std::vector<PartPair>& pairs_;
  double tolerance_;
  LeastSeen& seen_;
  double bound_;
};

}  // namespace

Outcome OutcomeOf(const GapReport& report, double required_mm, double slack_mm) {
  if (report.proven() && *report.bound_mm >= required_mm - slack_mm) return Outcome::kClear;
  if (report.seen_mm && *report.seen_mm < required_mm - slack_mm) return Outcome::kViolated;
  return Outcome::kUndecided;
}

std::optional<Nearness> GapAt(const BodiesAt& bodies, const std::vector<PartPair>& pairs) {
  return NearestOf(bodies, pairs, kInfinite,
                   [](StaticGap& gap, double& best) { return gap.Improve(best); });
}

std::optional<Nearness> GapFollower::At(const BodiesAt& bodies) {
  const auto look = [](StaticGap& gap, double& best) { return gap.Approach(best); };
  // What is farther apart than two points that are known is not what is nearest.
  last_ = NearestOf(bodies, pairs_, KnownAt(bodies) + kSameGap_mm, look);
  // One part that held another was known by a point that may lie on neither's outline.
  if (!last_) last_ = NearestOf(bodies, pairs_, kInfinite, look);
  if (last_) {
    const PartPair& pair = pairs_[last_->pair];
    on_first_ = bodies.Of(pair.first->body()).Inverse() * last_->on_first;
    on_second_ = bodies.Of(pair.second->body()).Inverse() * last_->on_second;
  }
  return last_;
}

double GapFollower::KnownAt(const BodiesAt& bodies) const {
  if (!last_) return kInfinite;
  const PartPair& pair = pairs_[last_->pair];
  return (bodies.Of(pair.first->body()) * on_first_ - bodies.Of(pair.second->body()) * on_second_)
      .norm();
}

GapReport LeastGap(const Motion& motion, const std::vector<PartPair>& pairs,
                   const GapOptions& options) {
  GapReport report;
  if (pairs.empty()) {
    report.bound_mm = kInfinite;
    return report;
  }
  for (const PartPair& pair : pairs) {
    LW_REQUIRE(
        pair.first->body() != pair.second->body() && Overlap(*pair.first, *pair.second),
        pair.first->parts()[0].name << " and " << pair.second->parts()[0].name << " cannot meet");
  }
  if (!motion.Bounded()) {
    report.end = WalkEnd::kUnbounded;
    return report;
  }
  LeastSeen seen(motion, pairs);
  const BodiesAt start = motion.At(motion.from());
  seen.LookAt(start, motion.from());
  // From here on outlines that do not cross can only come to do so through a touch.
  for (std::size_t i = 0; i < pairs.size() && !seen.Meeting(0.0); ++i) {
    const std::optional<Nearness> held = HeldAt(pairs[i], i, start, motion.from());
    if (held) seen.Take(*held);
  }
  if (!seen.Meeting(options.tolerance_mm)) seen.LookAt(motion.At(motion.to()), motion.to());
  if (seen.Meeting(options.tolerance_mm)) {
    report.end = WalkEnd::kMet;
    return Reported(report, motion, pairs, seen, options);
  }
  LeastGapJudge judge(pairs, options.tolerance_mm, seen);
  WalkCount count;
  report.end = Walk(motion, pairs, kFirstHalvings, judge, options.stop, count);
  report.pieces = count.pieces;
  report.node_pairs = count.node_pairs;
  if (report.proven()) report.bound_mm = judge.bound();
  return Reported(report, motion, pairs, seen, options);
}

}  // namespace lidwright
