// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/clearance.h"

#include <algorithm>

#include "walk.h"

namespace lidwright {

using namespace swing_walk;  // NOLINT: the private half of this file

namespace {

Nearness Found(const PartPair& pair, std::size_t index, const BodiesAt& bodies, double theta_rad,
               const StaticGap& at) {
  const Pose& X_CQ = bodies.Of(pair.second->part().body);
  return {at.nearest().gap,         theta_rad, index, X_CQ * at.nearest().on_p,
          X_CQ * at.nearest().on_q, at.z()};
}

}  // namespace

Nearness GapAt(const LidMotion& motion, double theta_rad, const std::vector<PartPair>& asked) {
  const SharedStretch shared(asked);
  const std::vector<PartPair>& pairs = shared.pairs();
  const BodiesAt bodies(motion, theta_rad);
  Nearness nearest;
  nearest.theta_rad = theta_rad;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    const Pose X_QP = bodies.Seen(pairs[i].first->part().body, pairs[i].second->part().body).X_QP;
    StaticGap at(pairs[i], X_QP);
    double best = nearest.gap_mm;
    const bool improved = at.Improve(0, 0, best);
    if (improved) nearest = Found(pairs[i], i, bodies, theta_rad, at);
    if (nearest.gap_mm > 0.0 && Nested(pairs[i], X_QP)) {
      nearest.gap_mm = 0.0;
      nearest.pair = i;
    }
  }
  return nearest;
}

GapReport LeastGap(const LidMotion& motion, const MotionBounds& bounds,
                   const std::vector<PartPair>& asked, const GapOptions& options) {
  const SharedStretch shared(asked);
  const std::vector<PartPair>& pairs = shared.pairs();
  GapReport report;
  report.bound_mm = pairs.empty() ? kInfinite : Nearness::kUnsetGap;
  if (pairs.empty()) return report;
  if (!bounds.ok()) {
    report = {0.0, {}, false, 0};
    return report;
  }
  double best = Nearness::kUnsetGap;  // least gap found less its pair's error
  const auto look_at = [&](double theta) {
    const BodiesAt bodies(motion, theta);
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      const Pose X_QP = bodies.Seen(pairs[i].first->part().body, pairs[i].second->part().body).X_QP;
      StaticGap at(pairs[i], X_QP);
      double raw = best + Error(pairs[i]);
      if (at.Improve(0, 0, raw)) {
        best = raw - Error(pairs[i]);
        report.nearest = Found(pairs[i], i, bodies, theta, at);
      }
    }
  };
  const Nearness start = GapAt(motion, bounds.from_rad(), pairs);
  if (start.gap_mm <= 0.0) {
    report = {0.0, start, false, 0};
    return report;
  }
  look_at(bounds.from_rad());
  look_at(bounds.to_rad());
  look_at((bounds.from_rad() + bounds.to_rad()) / 2.0);
  // Outlines nearer than the tolerance may touch or cross; 0 is then as good a bound as is asked
  // for, and halving on towards a crossing would find no more.
  const auto meeting = [&] { return report.nearest.gap_mm <= options.tolerance_mm; };
  if (meeting()) {
    report.bound_mm = 0.0;
    report.proven = false;
    return report;
  }
  double bound = best;
  const auto need = [&](std::size_t pair) {
    return best - options.tolerance_mm + Error(pairs[pair]);
  };
  const auto settle = [&](std::size_t pair, double gap) {
    bound = std::min(bound, gap - Error(pairs[pair]));
  };
  const auto begin = [&](PieceLook& look, const Piece& piece) {
    // A better least gap early settles more; the pairs still open are the ones worth a look.
    for (const Entry& entry : piece.front) {
      const PartPair& pair = pairs[entry.pair];
      StaticGap at(pair, look.ViewOf(pair).p_in_q.X_QP);
      double raw = best + Error(pair);
      if (at.Improve(entry.p, entry.q, raw)) {
        best = raw - Error(pair);
        report.nearest = Found(pair, entry.pair, look.bodies(), look.middle(), at);
        if (meeting()) return false;
      }
    }
    return true;
  };
  const auto open = [&](const PieceLook& look, const Piece&, const Entry& entry,
                        const PieceLook::LeafGap& leaf) {
    const double less = leaf.gap.distance - Error(pairs[entry.pair]);
    if (less < best) {  // between two stations, nearer than at either
      best = less;
      report.nearest = look.Spot(pairs[entry.pair], entry.pair, leaf);
    }
    return !meeting();
  };
  report.proven = Walk(motion, bounds, pairs, 3, need, settle, begin, open, report.pieces);
  report.bound_mm = report.proven ? std::max(0.0, std::min(bound, best)) : 0.0;
  return report;
}

}  // namespace lidwright
