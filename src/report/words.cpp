// SPDX-License-Identifier: Apache-2.0
#include "words.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {

std::string Rounded(double value, int decimals, Rounding rounding) {
  const double scale = std::pow(10.0, decimals);
  const double shifted = value * scale;
  return Fixed(
      (rounding == Rounding::kDown ? std::floor(shifted + 1e-9) : std::ceil(shifted - 1e-9)) /
          scale,
      decimals);
}

std::string LengthIn(double mm, bool inches, Rounding rounding) {
  if (std::isnan(mm)) return "-";
  return inches ? Rounded(mm / kMmPerInch, 4, rounding) + " in" : Rounded(mm, 2, rounding) + " mm";
}

std::string ForceIn(double n, bool inches) {
  if (!std::isfinite(n)) return "-";
  const auto number = [](double value) { return Fixed(value, value < 10.0 ? 1 : 0); };
  return number(n) + " N" + (inches ? " (" + number(n / kNPerLbf) + " lbf)" : "");
}

std::string Asked(double mm, bool inches) {
  return inches ? Text(mm / kMmPerInch, 4) + " in" : Text(mm, 3) + " mm";
}

std::string Quantity(double value, const std::string& unit, bool inches, Rounding rounding) {
  if (std::isnan(value)) return "-";
  if (!std::isfinite(value)) return "no limit";
  if (unit == "mm") return LengthIn(value, inches, rounding);
  if (unit == "share") return Rounded(100.0 * value, 0, rounding) + " %";
  if (unit == "of it") return Fixed(100.0 * value, 0) + " % of it";
  return Rounded(value, 1, rounding) + " " + unit;
}

std::string Required(const Verdict& v, bool inches) {
  if (std::isnan(v.required)) return "";
  return (v.at_most ? "at most " : "needs ") +
         (v.unit == "mm" ? Asked(v.required, inches) : Quantity(v.required, v.unit, inches));
}

std::string Found(const Verdict& v, bool inches) {
  if (std::isnan(v.found)) return "";
  return "has " + Quantity(v.found, v.unit, inches, v.at_most ? Rounding::kUp : Rounding::kDown);
}

const Verdict* LeastToSpare(const Verdicts& verdicts) {
  const Verdict* tightest = nullptr;
  const auto room = [](const Verdict& v) { return v.found - v.required; };
  for (const Verdict& v : verdicts) {
    if (v.unit != "mm" || v.at_most || !std::isfinite(v.found) || !std::isfinite(v.required)) {
      continue;
    }
    if (v.nearest.gap_mm >= Nearness::kUnsetGap) continue;
    if (!tightest || room(v) < room(*tightest)) tightest = &v;
  }
  return tightest;
}

const Verdict* FindVerdict(const Hinge& hinge, const std::string& what) {
  const auto found = std::find_if(hinge.verdicts.begin(), hinge.verdicts.end(),
                                  [&](const Verdict& v) { return v.what == what; });
  return found == hinge.verdicts.end() ? nullptr : &*found;
}

bool IsStraight(const Arm& arm) {
  return arm.centreline.size() == 2 && arm.centreline[0].bulge == 0.0;
}

}  // namespace lidwright
