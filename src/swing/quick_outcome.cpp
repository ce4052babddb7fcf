// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "lidwright/base/tolerances.h"
#include "lidwright/swing/clearance.h"
#include "walk.h"

namespace lidwright {

using namespace swing_walk;  // NOLINT: the private half of this file

namespace {

// Judges the walk for a gap that is to be kept, and ends it at the first place that falls short.
class KeepJudge {
 public:
  KeepJudge(const Motion& motion, const std::vector<PartPair>& pairs, double required_mm)
      : pairs_(pairs), required_(required_mm), plenty_(required_mm + kGapTolerance_mm + kSure_mm) {
    for (const PartPair& pair : pairs) rounding_.push_back(PairRounding_mm(motion, pair));
  }

  Outcome outcome() const { return outcome_; }

  double Need(std::size_t pair) const {
    return NeedFor(rounding_[pair] + pairs_[pair].first->largest_error_mm() +
                   pairs_[pair].second->largest_error_mm());
  }
  double LeafNeed(std::size_t pair, const SharedEdges& shared) const {
    return NeedFor(Error(pair, shared.e().part, shared.f().part));
  }
  void Settle(std::size_t, double) {}
  void LeafSettle(std::size_t, const SharedEdges&, double) {}
  bool Begin(PieceLook& look, const Piece& piece) {
    return piece.level > kFirstHalvings || LookAt(look.bodies());
  }
  bool Open(const PieceLook&, const Piece&, const Entry& entry, const SharedEdges& shared,
            const PieceLook::LeafGap& leaf) {
    return Plenty(entry.pair, shared.e().part, shared.f().part, leaf.gap.distance);
  }

  /// Is there plenty at one place of the motion, as far as the nearest parts tell?
  bool LookAt(const BodiesAt& bodies) {
    for (std::size_t i = 0; i < pairs_.size(); ++i) {
      StaticGap gap(pairs_[i], Seen(pairs_[i], bodies));
      double best = Need(i);
      if (gap.Improve(best) && !Plenty(i, gap.p_part(), gap.q_part(), gap.nearest().gap)) {
        return false;
      }
    }
    return true;
  }

 private:
  double Error(std::size_t pair, int p_part, int q_part) const {
    return rounding_[pair] +
           pairs_[pair].first->parts()[static_cast<std::size_t>(p_part)].error_mm +
           pairs_[pair].second->parts()[static_cast<std::size_t>(q_part)].error_mm;
  }
  // Outlines within the tolerance count as meeting, whatever is asked for.
  double NeedFor(double error) const { return std::max(plenty_ + error, 2.0 * kGapTolerance_mm); }

  bool Plenty(std::size_t pair, int p_part, int q_part, double gap) {
    const double error = Error(pair, p_part, q_part);
    if (gap >= NeedFor(error)) return true;
    outcome_ = gap - error < required_ - kSure_mm ? Outcome::kViolated : Outcome::kUndecided;
    return false;
  }

  const std::vector<PartPair>& pairs_;
  double required_, plenty_;
  std::vector<double> rounding_;
  Outcome outcome_ = Outcome::kUndecided;
};

bool AnyHeld(const std::vector<PartPair>& pairs, const BodiesAt& bodies) {
  bool held = false;
  for (const PartPair& pair : pairs) {
    const Pose X_QP = Seen(pair, bodies);
    EachOverlap(pair, [&](int i, int j) {
      held = held || Nested(pair.first->parts()[static_cast<std::size_t>(i)],
                            pair.second->parts()[static_cast<std::size_t>(j)], X_QP);
    });
  }
  return held;
}

}  // namespace

Outcome QuickOutcome(const Motion& motion, const std::vector<PartPair>& pairs, double required_mm) {
  if (pairs.empty()) return Outcome::kClear;
  if (!motion.Bounded()) return Outcome::kUndecided;
  KeepJudge judge(motion, pairs, required_mm);
  const BodiesAt start = motion.At(motion.from());
  if (!judge.LookAt(start) || !judge.LookAt(motion.At(motion.to()))) return judge.outcome();
  if (AnyHeld(pairs, start)) return Outcome::kViolated;
  WalkCount count;
  const WalkEnd end = Walk(motion, pairs, kFirstHalvings, judge, {}, count);
  return end == WalkEnd::kProven ? Outcome::kClear : judge.outcome();
}

}  // namespace lidwright
