// SPDX-License-Identifier: Apache-2.0
#include "verdict_words.h"

#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

std::string Degrees(double rad) {
  return Text(rad * kDegPerRad, 1) + " deg";
}

std::string PinInWoodRemark(const Verdict& v, bool inches) {
  const auto say = [&](double mm) { return BenchText(mm, Bench::kGap, inches); };
  const double found = v.found.value_or(0.0), required = v.required.value_or(0.0);
  const std::string pin = BenchText(v.why_value.value_or(0.0), Bench::kHole, inches);
  const std::string needs = AsGiven(required, inches);
  if (v.why == Why::kPinTooShallow) {
    return "a pin of " + pin + " needs to go in " + needs + ", the wall gives " + say(found) +
           "; a wall " + BenchText(required - found, Bench::kRoom, inches) +
           " thicker, a thinner bushing or a plate would fit";
  }
  return "it would sit " +
         (found >= 0.0 ? say(found) + " from the wood's edge"
                       : BenchText(-found, Bench::kRoom, inches) + " outside the wood") +
         ", a pin of " + pin + " needs " + needs + " of wood around it; a plate would fit";
}

}  // namespace

std::string PartsOf(const Verdict& v) {
  return v.first.empty() ? "" : v.first + " / " + v.second;
}

std::string RemarkOf(const Verdict& v, bool inches) {
  if (!v.detail.empty()) return v.detail;
  switch (v.why) {
    case Why::kNumbers:
      return "";
    case Why::kMeet: {
      const double deep = v.nearest ? -v.nearest->gap_mm : 0.0;
      return deep > 0.0 ? "they meet, " + BenchText(deep, Bench::kRoom, inches) + " deep"
                        : "they meet";
    }
    case Why::kNotProven:
      return "not proven";
    case Why::kStopped:
      return "stopped before it was decided";
    case Why::kNoRates:
      return "not proven: the arms come too near to parallel";
    case Why::kParallelWhenShut:
      return "the arms are parallel when shut, or have no length: the lid cannot turn";
    case Why::kArmsParallel:
      return "the arms come parallel at " + Degrees(v.why_value.value_or(0.0)) +
             " and the lid turns back there";
    case Why::kArmsBalance:
      return "the arms come parallel at " + Degrees(v.why_value.value_or(0.0)) +
             " on arms and plates that balance: how it goes on is open";
    case Why::kNoParting: {
      if (!v.nearest) return "the rim does not part";
      const double unit = inches ? kMmPerInch : 1.0;
      const Vec2 at = v.nearest->on_second / unit;
      return "the rim does not part at (" + Text(at.x(), inches ? 2 : 1) + ", " +
             Text(at.y(), inches ? 2 : 1) +
             "): the lid's instant centre lies on the wrong side of it";
    }
    case Why::kCloserThanShut:
      return "the lid comes closer than when shut before " + Degrees(v.why_value.value_or(0.0));
    case Why::kNoWay:
      return "no path was found in the room that is free over the swing";
    case Why::kNoPlateWay:
      return "no plate can reach from the lid to this pivot past the case";
    case Why::kOpenEye:
      return "the arm does not reach round the pin with enough material";
    case Why::kPinAtEdge:
    case Why::kPinTooShallow:
      return PinInWoodRemark(v, inches);
  }
  return "";
}

std::string WordOf(Outcome outcome) {
  switch (outcome) {
    case Outcome::kClear:
      return "clear";
    case Outcome::kViolated:
      return "violated";
    case Outcome::kUndecided:
      return "undecided";
  }
  return "";
}

std::string WordOf(Unit unit) {
  switch (unit) {
    case Unit::kMm:
      return "mm";
    case Unit::kDegrees:
      return "deg";
    case Unit::kShare:
      return "share";
    case Unit::kMmPerRadian:
      return "mm/rad";
    case Unit::kTimes:
      return "times the load";
  }
  return "";
}

}  // namespace lidwright
