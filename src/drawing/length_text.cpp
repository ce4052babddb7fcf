// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/length_text.h"

#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// A minus that cannot be taken for the dash of a mixed number.
std::string WithMinus(std::string text) {
  if (!text.empty() && text[0] == '-' && text.size() > 1) text.replace(0, 1, "\xE2\x88\x92");
  return text;
}

}  // namespace

std::string FractionText(double mm) {
  return WithMinus(InchFraction(mm));
}

std::string LengthText(double mm, bool inches) {
  if (!std::isfinite(mm)) return Text(mm);
  return inches ? FractionText(mm) + "\"" : WithMinus(Text(mm, 2));
}

std::string DecimalText(double mm, bool inches) {
  return WithMinus(inches ? Fixed(mm / kMmPerInch, 3) : Fixed(mm, 2));
}

std::string GapText(double mm, bool inches) {
  return inches ? DecimalText(mm, true) + "\"" : DecimalText(mm, false) + " mm";
}

}  // namespace lidwright
