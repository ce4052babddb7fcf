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
  CHECK(LengthText(6.3712, false, Bench::kSize) == "6.4");
  CHECK(LengthText(-12.0, false) == kMinus + "12");
  CHECK(LengthText(-0.001, false) == "0");
  CHECK(LengthText(25.4 * 8.65625, true) == "8-21/32\"");
  CHECK(LengthText(25.4 * 8.66, true) == "8.66\"");  // no fraction is so near
  CHECK(LengthText(9.525, true) == "3/8\"");
  CHECK(LengthText(kUnset, true) == "-");
  CHECK(PlaceText(40.0, false) == "40.00");
  CHECK(PlaceText(-40.0, true) == kMinus + "1.575");
  CHECK(PlaceText(-12.7, true) == kMinus + "1/2");
  CHECK(RoomText(93.62, 100.0, false) == "93.7");
  CHECK(RoomText(93.62, 100.0, true) == "3-11/16\"");
  Verdict gap;
  gap.required = 2.0;
  gap.found = 2.178;
  CHECK(GapText(gap, true, false) == "2.1 mm");
  CHECK(GapText(gap, false, false) == "2.1");
  gap.found = 3.2;
  CHECK(GapText(gap, true, true) == "1/8\"");
  gap.found = 2.02;  // 5/64 in is less than the 2 mm that are kept
  CHECK(GapText(gap, true, true) == "0.0787\"");
}

TEST_CASE(
    "every length in inches reads back to within half a thousandth, by the job file's reader") {
  int read = 0;
  for (double mm = -80.0; mm < 80.0; mm += 0.0937) {
    std::string text = LengthText(mm, true);
    REQUIRE(text.back() == '"');
    text.pop_back();
    if (text.compare(0, kMinus.size(), kMinus) == 0) text = "-" + text.substr(kMinus.size());
    const auto back = ReadLength_mm(text, kMmPerInch);
    REQUIRE(back);
    CHECK(std::abs(*back - mm) <= kMmPerInch * 0.0005 + 1e-9);
    // Reduced: the denominator is the smallest that says the same.
    const std::size_t slash = text.find('/');
    if (slash != std::string::npos) CHECK((text[slash - 1] - '0') % 2 == 1);
    ++read;
  }
  CHECK(read > 1000);
}

}  // namespace
}  // namespace lidwright
