// SPDX-License-Identifier: Apache-2.0
#include "words.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "verdict_words.h"

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
  if (!v.required) return "";
  return (v.at_most ? "at most " : "needs ") +
         (v.unit == Unit::kMm ? Asked(*v.required, inches)
                              : Quantity(*v.required, WordOf(v.unit), inches));
}

std::string Found(const Verdict& v, bool inches) {
  if (!v.found) return "";
  return "has " +
         Quantity(*v.found, WordOf(v.unit), inches, v.at_most ? Rounding::kUp : Rounding::kDown);
}

std::string NearestText(const NoHinge& none, bool inches) {
  if (!none.linkage) return "no linkage in the zones opens that far and parts the rim at once";
  if (!none.nearest_miss) {
    return "a linkage clears, but not beside the others that were asked for";
  }
  const Verdict& v = *none.nearest_miss;
  std::string text = "the nearest linkage found misses: " + NameOf(v);
  if (v.required && v.found) text += ", " + Required(v, inches) + " and " + Found(v, inches);
  const std::string remark = RemarkOf(v, inches);
  return remark.empty() ? text : text + " (" + remark + ")";
}

const Verdict* LeastToSpare(const Verdicts& verdicts) {
  const Verdict* tightest = nullptr;
  const auto room = [](const Verdict& v) { return *v.found - *v.required; };
  for (const Verdict& v : verdicts) {
    if (v.unit != Unit::kMm || v.at_most || !v.found || !v.required || !v.nearest) continue;
    if (!tightest || room(v) < room(*tightest)) tightest = &v;
  }
  return tightest;
}

bool IsStraight(const Arm& arm) {
  return arm.centreline.size() == 2 && arm.centreline[0].bulge == 0.0;
}

}  // namespace lidwright
