// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/length_text.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/units.h"
#include "lidwright/job/length.h"

namespace lidwright {
namespace {

const std::string kMinus = "\xE2\x88\x92";

TEST_CASE("lengths read as a maker writes them") {
  CHECK(LengthText(219.5, false) == "219.5");
  CHECK(LengthText(6.3712, false) == "6.37");
  CHECK(LengthText(-12.0, false) == kMinus + "12");
  CHECK(LengthText(-0.001, false) == "0");
  CHECK(LengthText(25.4 * 8.65625, true) == "8-21/32\"");
  CHECK(LengthText(9.525, true) == "3/8\"");
  CHECK(LengthText(kUnset, true) == "-");
  CHECK(FractionText(0.0) == "0");
  CHECK(FractionText(50.8) == "2");
  CHECK(FractionText(-12.7) == kMinus + "1/2");
  CHECK(FractionText(25.4 * 0.999) == "1");
  CHECK(DecimalText(40.0, false) == "40.00");
  CHECK(DecimalText(-40.0, true) == kMinus + "1.575");
  CHECK(GapText(2.128, false) == "2.13 mm");
  CHECK(GapText(2.128, true) == "0.084\"");
}

TEST_CASE("every fraction reads back to within half of 1/64 inch, by the job file's own reader") {
  int read = 0;
  for (double mm = -80.0; mm < 80.0; mm += 0.0937) {
    std::string text = FractionText(mm);
    if (text.compare(0, kMinus.size(), kMinus) == 0) text = "-" + text.substr(kMinus.size());
    const auto back = ReadLength_mm(text, kMmPerInch);
    REQUIRE(back);
    CHECK(std::abs(*back - mm) <= kMmPerInch / 128.0 + 1e-9);
    // Reduced: the denominator is the smallest that says the same.
    const std::size_t slash = text.find('/');
    if (slash != std::string::npos) CHECK((text[slash - 1] - '0') % 2 == 1);
    ++read;
  }
  CHECK(read > 1000);
}

}  // namespace
}  // namespace lidwright
