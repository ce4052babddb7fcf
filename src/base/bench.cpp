// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/bench.h"

#include <cmath>

#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

// [steps] What is this near to a step is on it: the rounding of a sum of lengths.
constexpr double kOnStep = 1e-6;
// [in] A length this near to a 64th is that 64th: what is pressed in is wider than its hole by
// more.
constexpr double kOnSixtyfourth_in = 0.0001;
// [in] What was given as a fraction comes back from millimetres this near to it.
constexpr double kGivenFraction_in = 1e-7;

const BenchRule& RuleOf(Bench kind) {
  return kBenchRules[static_cast<std::size_t>(kind)];
}

// In whole steps, to the rule's side.
double Steps(double value, double steps_per_unit, int side) {
  const double steps = value * steps_per_unit;
  return side < 0   ? std::floor(steps + kOnStep)
         : side > 0 ? std::ceil(steps - kOnStep)
                    : std::round(steps);
}

std::string WithUnit(const std::string& number, bool inches) {
  return number + (inches ? " in" : " mm");
}

// The bound itself where `said` lies on the wrong side of a limit that `value` keeps.
std::string Bounded(double value, double limit, Bench kind, bool inches) {
  const BenchRule& rule = RuleOf(kind);
  const double unit = inches ? kMmPerInch : 1.0;
  const double per_unit = inches ? rule.steps_per_inch : rule.steps_per_mm;
  const double said = Steps(value / unit, per_unit, rule.side) / per_unit * unit;
  const double way = rule.side;
  const bool kept = way * (limit - value) >= 0.0, passed = way * (limit - said) < 0.0;
  return kept && passed ? AsGiven(limit, inches) : BenchText(value, kind, inches);
}

}  // namespace

std::string BenchNumber(double mm, Bench kind, bool inches) {
  if (!std::isfinite(mm)) return Text(mm);
  const BenchRule& rule = RuleOf(kind);
  if (!inches) return Text(Steps(mm, rule.steps_per_mm, rule.side) / rule.steps_per_mm, 2);
  const double said_in =
      Steps(mm / kMmPerInch, rule.steps_per_inch, rule.side) / rule.steps_per_inch;
  if (rule.steps_per_inch == 64.0) return InchFraction(said_in * kMmPerInch);
  const bool piece = kind == Bench::kSize || kind == Bench::kHole;
  const bool fraction = piece && OffSixtyfourth(mm) <= 64.0 * kOnSixtyfourth_in;
  return fraction ? InchFraction(mm) : Text(said_in, 3);
}

std::string BenchPlace(double mm, bool inches) {
  return inches || !std::isfinite(mm) ? BenchNumber(mm, Bench::kHole, inches) : Fixed(mm, 2);
}

std::string BenchText(double mm, Bench kind, bool inches) {
  if (std::isnan(mm)) return "-";
  return std::isinf(mm) ? "no limit" : WithUnit(BenchNumber(mm, kind, inches), inches);
}

std::string BenchGap(double found_mm, double asked_mm, bool inches) {
  return Bounded(found_mm, asked_mm, Bench::kGap, inches);
}

std::string BenchRoom(double needed_mm, double there_is_mm, bool inches) {
  return Bounded(needed_mm, there_is_mm, Bench::kRoom, inches);
}

std::string AsGiven(double mm, bool inches) {
  if (!inches) return WithUnit(Text(mm, 3), false);
  const bool fraction = OffSixtyfourth(mm) <= 64.0 * kGivenFraction_in;
  return WithUnit(fraction ? InchFraction(mm) : Text(mm / kMmPerInch, 4), true);
}

std::string ForceNumber(double n, Bench kind) {
  if (!std::isfinite(n)) return Text(n);
  const double per_newton = std::abs(n) < 10.0 ? 10.0 : 1.0;
  const double said = Steps(n, per_newton, RuleOf(kind).side) / per_newton;
  return Fixed(said, std::abs(said) < 10.0 ? 1 : 0);
}

std::string ShareText(double share) {
  return Fixed(Steps(share, 100.0, -1), 0) + " %";
}

std::string WithMinus(std::string number) {
  if (number.size() > 1 && number[0] == '-') number.replace(0, 1, "\xE2\x88\x92");
  return number;
}

}  // namespace lidwright
