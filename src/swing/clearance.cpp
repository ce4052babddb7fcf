// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/clearance.h"

#include <algorithm>
#include <cmath>

#include "walk.h"

namespace lidwright {

using namespace swing_walk;  // NOLINT: the private half of this file

namespace {

// [count] Where parts meet, their depth is looked for at so many places over the motion.
constexpr int kDepthLooks = 48;

Nearness Found(const PartPair& pair, std::size_t index, const BodiesAt& bodies, double at,
               const StaticGap& gap) {
  const Pose& X_CQ = bodies.Of(pair.second->part().body);
  return {gap.nearest().gap,         at,     index, X_CQ * gap.nearest().on_p,
          X_CQ * gap.nearest().on_q, gap.z()};
}

// How deep a vertex of `movers` lies in `holders`, its frame Q, the deepest; nothing if none does.
struct Depth {
  double depth = 0.0;
  Vec2 vertex = Vec2::Zero(), surface = Vec2::Zero();
};
void Deepen(const std::vector<Ring>& movers, const std::vector<Ring>& holders, const Pose& X_QP,
            std::optional<Depth>& deepest) {
  for (const Ring& ring : movers) {
    for (const Vec2& vertex : ring) {
      const Vec2 p = X_QP * vertex;
      Vec2 surface = p;
      const double depth = -SignedDistance(holders, p, &surface);
      if (depth > 0.0 && (!deepest || depth > deepest->depth)) deepest = {depth, p, surface};
    }
  }
}

// Makes a nearness of two parts that meet tell how deep.
void TellDepth(const PartPair& pair, const BodiesAt& bodies, Nearness& near) {
  const Part &p = pair.first->part(), &q = pair.second->part();
  const RelativeMotion seen = bodies.Seen(p.body, q.body);
  const Pose X_PQ = seen.X_QP.Inverse();
  for (const auto& [at_p, at_q, z] :
       {std::tuple(&p.at_z_min, &q.at_z_min, std::max(p.z_min_mm, q.z_min_mm)),
        {&p.at_z_max, &q.at_z_max, std::min(p.z_max_mm, q.z_max_mm)}}) {
    std::optional<Depth> in_q, in_p;
    Deepen(*at_p, *at_q, seen.X_QP, in_q);
    Deepen(*at_q, *at_p, X_PQ, in_p);
    const auto take = [&](const Depth& depth, Body frame, bool first_is_vertex) {
      if (-depth.depth >= near.gap_mm) return;
      const Vec2 vertex = bodies.Of(frame) * depth.vertex;
      const Vec2 surface = bodies.Of(frame) * depth.surface;
      near.gap_mm = -depth.depth;
      near.on_first = first_is_vertex ? vertex : surface;
      near.on_second = first_is_vertex ? surface : vertex;
      near.z_mm = z;
    };
    if (in_q) take(*in_q, q.body, true);
    if (in_p) take(*in_p, p.body, false);
  }
}

// The least gaps seen so far: of gaps less their pair's error, and of gaps with it.
class LeastSeen {
 public:
  LeastSeen(const Motion& motion, const std::vector<PartPair>& pairs) : pairs_(pairs) {
    for (const PartPair& pair : pairs) errors_.push_back(Error(pair, motion));
  }

  double error(std::size_t pair) const { return errors_[pair]; }
  double less_error() const { return less_error_; }
  /// A gap of this pair at or over this tells nothing new.
  double Matters(std::size_t pair) const {
    return std::max(less_error_ + errors_[pair], with_error_ - errors_[pair]);
  }
  void Take(const Nearness& near) {
    less_error_ = std::min(less_error_, near.gap_mm - errors_[near.pair]);
    if (!touching_ || near.gap_mm < touching_->gap_mm) touching_ = near;
    if (near.gap_mm + errors_[near.pair] >= with_error_) return;
    with_error_ = near.gap_mm + errors_[near.pair];
    nearest_ = near;
  }
  /// All pairs at one place of the motion, or only some nodes of theirs.
  void LookAt(const BodiesAt& bodies, double at, const std::vector<Entry>& entries) {
    for (const Entry& entry : entries) {
      const PartPair& pair = pairs_[entry.pair];
      StaticGap gap(pair, bodies.Seen(pair.first->part().body, pair.second->part().body).X_QP);
      double raw = Matters(entry.pair);
      if (gap.Improve(entry.p, entry.q, raw)) Take(Found(pair, entry.pair, bodies, at, gap));
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
  const std::vector<PartPair>& pairs_;
  std::vector<double> errors_;
  double less_error_ = kInfinite, with_error_ = kInfinite;
  std::optional<Nearness> nearest_, touching_;
};

// Where parts meet somewhere on a motion: the deepest of the places looked at.
void LookForDepth(const Motion& motion, const std::vector<PartPair>& pairs, Nearness& near) {
  TellDepth(pairs[near.pair], motion.At(near.at), near);
  for (int i = 0; i <= kDepthLooks; ++i) {
    const double at = std::lerp(motion.from(), motion.to(), static_cast<double>(i) / kDepthLooks);
    std::optional<Nearness> here = GapAt(motion.At(at), pairs);
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
  report.seen_mm =
      std::min(seen.with_error(), report.nearest->gap_mm + seen.error(report.nearest->pair));
  return report;
}

}  // namespace

Outcome OutcomeOf(const GapReport& report, double required_mm, double slack_mm) {
  if (report.proven() && *report.bound_mm >= required_mm - slack_mm) return Outcome::kClear;
  if (report.seen_mm && *report.seen_mm < required_mm - slack_mm) return Outcome::kViolated;
  return Outcome::kUndecided;
}

std::optional<Nearness> GapAt(const BodiesAt& bodies, const std::vector<PartPair>& asked) {
  const SharedStretch shared(asked);
  const std::vector<PartPair>& pairs = shared.pairs();
  std::optional<Nearness> nearest;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    const Pose X_QP = bodies.Seen(pairs[i].first->part().body, pairs[i].second->part().body).X_QP;
    StaticGap at(pairs[i], X_QP);
    double best = nearest ? nearest->gap_mm : kInfinite;
    Nearness here;
    here.pair = i;
    if (best > 0.0 && at.Improve(0, 0, best)) {
      here = Found(pairs[i], i, bodies, 0.0, at);
      nearest = here;
    }
    const bool meet = best <= 0.0 && nearest && nearest->pair == i;
    if (!meet && !Nested(pairs[i], X_QP)) continue;
    if (!meet) here.gap_mm = 0.0;
    TellDepth(pairs[i], bodies, here);
    if (!nearest || here.gap_mm <= nearest->gap_mm) nearest = here;
  }
  return nearest;
}

GapReport LeastGap(const Motion& motion, const std::vector<PartPair>& asked,
                   const GapOptions& options) {
  const SharedStretch shared(asked);
  const std::vector<PartPair>& pairs = shared.pairs();
  GapReport report;
  if (pairs.empty()) {
    report.bound_mm = kInfinite;
    return report;
  }
  if (!motion.Bounded()) {
    report.end = WalkEnd::kUnbounded;
    return report;
  }
  LeastSeen seen(motion, pairs);
  std::vector<Entry> roots;
  for (std::size_t i = 0; i < pairs.size(); ++i) roots.push_back({i, 0, 0});
  for (const double at : {motion.from(), motion.to(), (motion.from() + motion.to()) / 2.0}) {
    const BodiesAt bodies = motion.At(at);
    seen.LookAt(bodies, at, roots);
    if (at > motion.from()) continue;
    // From here on outlines that do not cross can only come to do so through a touch.
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      const Pose X_QP = bodies.Seen(pairs[i].first->part().body, pairs[i].second->part().body).X_QP;
      if (!Nested(pairs[i], X_QP)) continue;
      const Part& part = pairs[i].first->part();
      const Vec2 corner = bodies.Of(part.body) * pairs[i].first->edges()[0].a0;
      seen.Take({0.0, at, i, corner, corner, part.z_min_mm});
    }
    if (seen.Meeting(0.0)) break;
  }
  if (seen.Meeting(options.tolerance_mm)) {
    report.end = WalkEnd::kMet;
    return Reported(report, motion, pairs, seen, options);
  }
  double bound = seen.less_error();
  const auto need = [&](std::size_t pair) { return seen.Matters(pair) - options.tolerance_mm; };
  const auto settle = [&](std::size_t pair, double gap) {
    bound = std::min(bound, gap - seen.error(pair));
  };
  const auto begin = [&](PieceLook& look, const Piece& piece) {
    // A better least gap early settles more; the pairs still open are the ones worth a look.
    seen.LookAt(look.bodies(), look.middle(), piece.front);
    return !seen.Meeting(options.tolerance_mm);
  };
  const auto open = [&](const PieceLook& look, const Piece&, const Entry& entry,
                        const PieceLook::LeafGap& leaf) {
    // Between two stations it may be nearer than at either.
    if (leaf.gap.distance < seen.Matters(entry.pair)) {
      seen.Take(look.Spot(pairs[entry.pair], entry.pair, leaf));
    }
    return !seen.Meeting(options.tolerance_mm);
  };
  report.end = Walk(motion, pairs, 3, need, settle, begin, open, options.stop, report.pieces);
  if (report.proven()) report.bound_mm = std::min(bound, seen.less_error());
  return Reported(report, motion, pairs, seen, options);
}

}  // namespace lidwright
