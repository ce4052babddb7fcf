// SPDX-License-Identifier: Apache-2.0
#include "lidwright/certify/certify.h"

#include <algorithm>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/parallel.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

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
  const Nearness& near = *verdict.nearest;
  const PartPair& pair = pairs[near.pair];
  verdict.first = pair.first->parts()[static_cast<std::size_t>(near.first_part)].name;
  verdict.second = pair.second->parts()[static_cast<std::size_t>(near.second_part)].name;
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

// What the first degrees keep of every pair, the worst of them.
KeepReport KeepsAll(const Swing& first, const Assembly& assembly,
                    const std::vector<PartPair>& pairs, double cap_mm,
                    const std::stop_token& stop) {
  KeepReport worst;
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    std::shared_ptr<const ShutPair> shut = assembly.ShutOf(pairs[i], cap_mm);
    if (!shut) shut = std::make_shared<const ShutPair>(pairs[i], cap_mm);
    KeepReport keep = KeepsClosedGap(first, *shut, stop);
    if (keep.worst) keep.worst->pair = i;
    const double slowest =
        i == 0 ? keep.separation_mm : std::min(worst.separation_mm, keep.separation_mm);
    if (i == 0 || worst.kept()) worst = std::move(keep);
    worst.separation_mm = slowest;
  }
  return worst;
}

Verdict FirstMotion(const Swing& first, const Assembly& assembly,
                    const std::vector<PartPair>& pairs, double cap_mm,
                    const std::stop_token& stop) {
  const KeepReport keep = KeepsAll(first, assembly, pairs, cap_mm, stop);
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

}  // namespace

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

std::vector<GapGroup> GapGroups(const GapRule& rule, const Assembly& assembly, std::size_t since) {
  std::vector<GapGroup> groups;
  const auto& parts = assembly.parts();
  const bool one_list = (rule.first & rule.second) != 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const Member member = rule.by_member ? parts[i].member : Member::kNone;
    auto group = std::find_if(groups.begin(), groups.end(),
                              [&](const GapGroup& g) { return g.member == member; });
    for (std::size_t j = one_list ? i + 1 : 0; j < parts.size(); ++j) {
      if (i < since && j < since) continue;
      if (!Concerns(rule, parts[i], parts[j])) continue;
      if (group == groups.end()) group = groups.insert(group, GapGroup{member, {}, {}});
      group->parts.push_back({&parts[i], &parts[j]});
      group->pairs.push_back({parts[i].shape.get(), parts[j].shape.get()});
    }
  }
  return groups;
}

std::optional<Swing> StretchOf(const GapRule& rule, const Swing& whole, const Limits& limits) {
  double from = whole.from(), to = whole.to();
  if (rule.stretch == Stretch::kFirst) to = limits.gap_from_rad;
  if (rule.stretch == Stretch::kMoving) from = limits.gap_from_rad;
  if (rule.stretch == Stretch::kToStop) to = limits.open_rad - kStopFree_rad;
  if (from >= to) return std::nullopt;
  return Swing(whole, from, to);
}

Verdict OpeningVerdict(const std::optional<LidMotion>& motion, const Limits& limits) {
  const double required = limits.open_rad * kDegPerRad;
  const double high = motion ? motion->Range().high_rad : 0.0;
  Verdict verdict = Reckoned(Requirement::kOpeningAngle, Unit::kDegrees, required,
                             std::min(high * kDegPerRad, required));
  if (high > limits.open_rad) return verdict;
  verdict.outcome = Outcome::kViolated;
  verdict.why = !motion                                ? Why::kParallelWhenShut
                : motion->Range().high_is_change_point ? Why::kArmsBalance
                                                       : Why::kArmsParallel;
  verdict.why_value = high;
  if (!motion) verdict.angle_rad = 0.0;
  return verdict;
}

Verdicts CertifyGaps(const Assembly& assembly, const Swing& whole, const Limits& limits,
                     Stage stage, const CertifyOptions& options) {
  struct Asked {
    const GapRule* rule;
    Swing stretch;
    GapGroup group;
  };
  std::vector<Asked> asked;
  for (const GapRule& rule : GapRules()) {
    if (rule.stage != stage) continue;
    const std::optional<Swing> stretch = StretchOf(rule, whole, limits);
    if (!stretch) continue;
    for (GapGroup& group : GapGroups(rule, assembly, options.since)) {
      asked.push_back({&rule, *stretch, std::move(group)});
    }
  }
  const auto judge = [&](const Asked& of) {
    const double required = LimitOf(*of.rule, limits);
    if (of.rule->stretch == Stretch::kFirst) {
      return FirstMotion(of.stretch, assembly, of.group.pairs, required, options.stop);
    }
    GapOptions gap;
    gap.depths = options.depths;
    gap.stop = options.stop;
    const GapReport report = LeastGap(of.stretch, of.group.pairs, gap);
    return GapVerdict(of.rule->what, of.group.member, required, of.rule->slack_mm, report,
                      of.group.pairs);
  };
  Verdicts verdicts;
  if (options.all) {
    verdicts.resize(asked.size());
    ParallelFor(asked.size(), options.threads,
                [&](std::size_t i) { verdicts[i] = judge(asked[i]); });
    return verdicts;
  }
  for (const Asked& of : asked) {
    verdicts.push_back(judge(of));
    if (!verdicts.back().met()) break;
  }
  return verdicts;
}

Outcome QuickOutcome(const Assembly& assembly, const Swing& whole, const Limits& limits,
                     Stage stage, std::size_t since) {
  LW_REQUIRE(stage != Stage::kLid, "a first motion is more than a gap");
  Outcome worst = Outcome::kClear;
  for (const GapRule& rule : GapRules()) {
    if (rule.stage != stage) continue;
    const std::optional<Swing> stretch = StretchOf(rule, whole, limits);
    if (!stretch) continue;
    const double required = LimitOf(rule, limits) - rule.slack_mm;
    for (const GapGroup& group : GapGroups(rule, assembly, since)) {
      const Outcome outcome = QuickOutcome(*stretch, group.pairs, required);
      if (outcome == Outcome::kViolated) return outcome;
      if (outcome == Outcome::kUndecided) worst = outcome;
    }
  }
  return worst;
}

bool AllKept(const Assembly& assembly, const Swing& whole, const Limits& limits, Stage stage,
             std::size_t since) {
  const Outcome quick = QuickOutcome(assembly, whole, limits, stage, since);
  if (quick != Outcome::kUndecided) return quick == Outcome::kClear;
  CertifyOptions options;
  options.all = false;
  options.since = since;
  return AllMet(CertifyGaps(assembly, whole, limits, stage, options));
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
  for (const PartTree* lid : assembly.Shapes(PartKind::kLid)) {
    for (const PartTree::Edge& edge : lid->edges()) {
      const double error = lid->parts()[static_cast<std::size_t>(edge.part)].error_mm;
      for (const Vec2& p : {edge.a0, edge.a1}) {
        foremost = std::max(foremost, (X_CL * p).x() + error);
      }
    }
  }
  const double mouth = limits.mouth_front_mm - limits.mouth_back_mm;
  LW_REQUIRE(mouth > 0.0, "mouth=" << mouth);
  const double free = limits.mouth_front_mm - std::max(foremost, limits.mouth_back_mm);
  return {std::clamp(free / mouth, 0.0, 1.0), foremost};
}

}  // namespace lidwright
