// SPDX-License-Identifier: Apache-2.0
#include "lidwright/certify/certify.h"

#include <algorithm>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

double LimitOf(const GapRule& rule, const Limits& limits) {
  switch (rule.limit) {
    case GapLimit::kNothing:
      return 0.0;
    case GapLimit::kApart:
      return kContact_mm;
    case GapLimit::kSwingGap:
      return limits.swing_gap_mm;
    case GapLimit::kBenchGap:
      return limits.bench_gap_mm;
    case GapLimit::kArmsGap:
      return limits.arms_gap_mm;
  }
  return 0.0;
}

Why WhyOf(const GapReport& report, Outcome outcome) {
  switch (report.end) {
    case WalkEnd::kMet:
      return Why::kMeet;
    case WalkEnd::kStopped:
      return Why::kStopped;
    case WalkEnd::kUnbounded:
      return Why::kNoRates;
    case WalkEnd::kTooFine:
      return Why::kNotProven;
    case WalkEnd::kProven:
      return outcome == Outcome::kUndecided ? Why::kNotProven : Why::kNumbers;
  }
  return Why::kNumbers;
}

void TellSpot(const std::vector<PartPair>& pairs, Verdict& verdict) {
  if (!verdict.nearest) return;
  const PartPair& pair = pairs[verdict.nearest->pair];
  verdict.first = pair.first->part().name;
  verdict.second = pair.second->part().name;
  verdict.angle_rad = verdict.nearest->at;
}

// The verdict on a gap that is kept from `required` on.
Verdict GapVerdict(Requirement what, Member of, double required_mm, double slack_mm,
                   const GapReport& report, const std::vector<PartPair>& pairs) {
  Verdict verdict;
  verdict.what = what;
  verdict.of = of;
  verdict.required = required_mm;
  verdict.slack = slack_mm;
  verdict.found = report.bound_mm;
  verdict.seen = report.seen_mm;
  verdict.outcome = OutcomeOf(report, required_mm, slack_mm);
  verdict.why = WhyOf(report, verdict.outcome);
  verdict.nearest = report.nearest;
  TellSpot(pairs, verdict);
  return verdict;
}

Verdict FirstMotion(const Swing& first, const std::vector<PartPair>& pairs, double cap_mm,
                    std::stop_token stop) {
  const KeepReport keep = KeepsClosedGap(first, pairs, cap_mm, std::move(stop));
  Verdict verdict;
  verdict.what = Requirement::kFirstMotion;
  verdict.unit = Unit::kMmPerRadian;
  verdict.required = 0.0;
  verdict.outcome = keep.outcome;
  verdict.angle_rad = first.from();
  if (std::isfinite(keep.separation_mm)) verdict.found = keep.separation_mm;
  if (keep.kept()) return verdict;
  verdict.nearest = keep.worst;
  TellSpot(pairs, verdict);
  if (keep.end == WalkEnd::kStopped || keep.end == WalkEnd::kUnbounded) {
    verdict.why = keep.end == WalkEnd::kStopped ? Why::kStopped : Why::kNoRates;
  } else if (keep.separation_mm <= 0.0) {
    verdict.why = Why::kNoParting;
  } else {
    verdict.why = Why::kCloserThanShut;
    verdict.why_value = first.to();
  }
  return verdict;
}

// The pairs of one rule, put together by the member on the first side.
struct Group {
  Member member = Member::kNone;
  std::vector<PartPair> pairs;
};

std::vector<Group> GroupsOf(const GapRule& rule, const Assembly& assembly, std::size_t since) {
  std::vector<Group> groups;
  const auto& parts = assembly.parts();
  const bool one_list = (rule.first & rule.second) != 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Member member = rule.by_member ? parts[i].member : Member::kNone;
    auto group = std::find_if(groups.begin(), groups.end(),
                              [&](const Group& g) { return g.member == member; });
    for (std::size_t j = one_list ? i + 1 : 0; j < parts.size(); ++j) {
      if (i < since && j < since) continue;
      if (!Concerns(rule, parts[i], parts[j])) continue;
      if (group == groups.end()) group = groups.insert(group, Group{member, {}});
      group->pairs.push_back({parts[i].shape.get(), parts[j].shape.get()});
    }
  }
  return groups;
}

Swing StretchOf(const Swing& whole, Stretch stretch, const Limits& limits) {
  switch (stretch) {
    case Stretch::kWhole:
      break;
    case Stretch::kFirst:
      return Swing(whole, 0.0, limits.gap_from_rad);
    case Stretch::kMoving:
      return Swing(whole, limits.gap_from_rad, limits.open_rad);
    case Stretch::kToStop:
      return Swing(whole, 0.0, limits.open_rad - kStopFree_rad);
  }
  return whole;
}

}  // namespace

Verdict OpeningVerdict(const std::optional<LidMotion>& motion, const Limits& limits) {
  const double required = limits.open_rad * kDegPerRad;
  const double high = motion ? motion->Range().high_rad : 0.0;
  Verdict verdict = Reckoned(Requirement::kOpeningAngle, Unit::kDegrees, required,
                             std::min(high * kDegPerRad, required));
  if (high > limits.open_rad) return verdict;
  verdict.outcome = Outcome::kViolated;
  verdict.why = !motion                                 ? Why::kParallelWhenShut
                : motion->Range().high_is_change_point ? Why::kArmsBalance
                                                       : Why::kArmsParallel;
  verdict.why_value = high;
  if (!motion) verdict.angle_rad = 0.0;
  return verdict;
}

Verdicts CertifyGaps(const Assembly& assembly, const Swing& whole, const Limits& limits,
                     Stage stage, const CertifyOptions& options) {
  Verdicts verdicts;
  for (const GapRule& rule : GapRules()) {
    if (rule.stage != stage) continue;
    const std::vector<Group> groups = GroupsOf(rule, assembly, options.since);
    if (groups.empty()) continue;
    if (rule.stretch == Stretch::kMoving && limits.gap_from_rad >= limits.open_rad) continue;
    const Swing stretch = StretchOf(whole, rule.stretch, limits);
    const double required = LimitOf(rule, limits);
    for (const Group& group : groups) {
      if (rule.stretch == Stretch::kFirst) {
        verdicts.push_back(FirstMotion(stretch, group.pairs, required, options.stop));
      } else {
        GapOptions gap;
        gap.depths = options.depths;
        gap.stop = options.stop;
        const GapReport report = LeastGap(stretch, group.pairs, gap);
        verdicts.push_back(
            GapVerdict(rule.what, group.member, required, rule.slack_mm, report, group.pairs));
      }
      if (!options.all && !verdicts.back().met()) return verdicts;
    }
  }
  return verdicts;
}

Verdicts CertifyLid(const Assembly& assembly, const std::optional<LidMotion>& motion,
                    const Limits& limits, const CertifyOptions& options) {
  Verdicts verdicts{OpeningVerdict(motion, limits)};
  if (!verdicts[0].met()) return verdicts;
  const auto enough = [&] { return !options.all && !verdicts.back().met(); };
  // What costs nothing first, so that a search that wants only a yes is done with it.
  Verdicts open;
  for (std::size_t i = 0; i < limits.poses.size(); ++i) {
    const PoseLimit& pose = limits.poses[i];
    const double off = (motion->At(pose.angle_rad).X_CL * pose.point - pose.at).norm();
    Verdict verdict = Reckoned(Requirement::kPose, Unit::kMm, pose.within_mm, off, true);
    verdict.number = static_cast<int>(i);
    verdict.angle_rad = pose.angle_rad;
    open.push_back(verdict);
  }
  const Access access = AccessAt(assembly, motion->At(limits.open_rad).X_CL, limits);
  open.push_back(Reckoned(Requirement::kOpenLidForemost, Unit::kMm, limits.open_behind_x_mm,
                          access.foremost_x_mm, true));
  open.push_back(
      Reckoned(Requirement::kMouthFree, Unit::kShare, limits.mouth_free, access.mouth_free));
  for (Verdict& verdict : open) {
    if (!verdict.angle_rad) verdict.angle_rad = limits.open_rad;
  }
  if (!options.all && !AllMet(open)) return open;
  const Verdicts gaps =
      CertifyGaps(assembly, Swing(*motion, 0.0, limits.open_rad), limits, Stage::kLid, options);
  verdicts.insert(verdicts.end(), gaps.begin(), gaps.end());
  if (enough()) return verdicts;
  verdicts.insert(verdicts.end(), open.begin(), open.end());
  return verdicts;
}

Access AccessAt(const Assembly& assembly, const Pose& X_CL, const Limits& limits) {
  double foremost = -std::numeric_limits<double>::infinity();
  for (const ShapedPart* lid : assembly.Shapes(PartKind::kLid)) {
    for (const ShapedPart::Edge& edge : lid->edges()) {
      for (const Vec2& p : {edge.a0, edge.a1}) {
        foremost = std::max(foremost, (X_CL * p).x() + lid->part().error_mm);
      }
    }
  }
  const double mouth = limits.mouth_front_mm - limits.mouth_back_mm;
  LW_REQUIRE(mouth > 0.0, "mouth=" << mouth);
  const double free = limits.mouth_front_mm - std::max(foremost, limits.mouth_back_mm);
  return {std::clamp(free / mouth, 0.0, 1.0), foremost};
}

}  // namespace lidwright
