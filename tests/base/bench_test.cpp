// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/bench.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>

#include "lidwright/job/length.h"

namespace lidwright {
namespace {

TEST_CASE("each kind of quantity is said as finely as the bench can use it", "[base]") {
  CHECK(BenchText(18.857, Bench::kGap, false) == "18.8 mm");
  CHECK(BenchText(15.0, Bench::kGap, false) == "15 mm");
  CHECK(BenchText(-0.41, Bench::kGap, false) == "-0.5 mm");
  CHECK(BenchText(93.621, Bench::kRoom, false) == "93.7 mm");
  CHECK(BenchText(75.35, Bench::kSize, false) == "75.4 mm");
  CHECK(BenchText(48.757, Bench::kHole, false) == "48.76 mm");
  CHECK(BenchText(0.204, Bench::kError, false) == "0.2 mm");
  CHECK(BenchText(2.13, Bench::kGap, true) == "5/64 in");       // 0.0839 in
  CHECK(BenchText(2.13, Bench::kRoom, true) == "3/32 in");      // 6/64
  CHECK(BenchText(106.528, Bench::kHole, true) == "4.194 in");  // not 4-3/16
  CHECK(BenchText(4.1875 * 25.4, Bench::kHole, true) == "4-3/16 in");
  CHECK(BenchText(0.3 * 25.4, Bench::kSize, true) == "0.3 in");
  CHECK(BenchText(0.2, Bench::kError, true) == "0.008 in");
  CHECK(BenchText(3.175, Bench::kError, true) == "0.125 in");
  CHECK(BenchText(kUnset, Bench::kGap, false) == "-");
  CHECK(BenchText(std::numeric_limits<double>::infinity(), Bench::kRoom, true) == "no limit");
  CHECK(ForceNumber(4.21, Bench::kRoom) == "4.3");
  CHECK(ForceNumber(5.78, Bench::kGap) == "5.7");
  CHECK(ForceNumber(9.96, Bench::kRoom) == "10");
  CHECK(ForceNumber(-3.4, Bench::kError) == "-3.4");
  CHECK(ShareText(0.9799) == "97 %");
  CHECK(WithMinus("-1-19/32") ==
        "\xE2\x88\x92"
        "1-19/32");
  CHECK(WithMinus("-") == "-");
}

TEST_CASE("a number that lies on a step stays what it is", "[base]") {
  for (int k = -400; k <= 400; ++k) {
    for (const Bench kind : {Bench::kGap, Bench::kRoom, Bench::kSize}) {
      const double mm = 0.1 * k, in = 25.4 * k / 64.0;
      CHECK(std::stod(BenchNumber(mm, kind, false)) == Approx(mm).margin(1e-9));
      CHECK(*ReadLength_mm(BenchNumber(in, kind, true), kMmPerInch) == Approx(in).margin(1e-6));
    }
  }
}

TEST_CASE("gaps never claim more and rooms never less than there is", "[base]") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> lengths(-5.0, 120.0);
  for (int i = 0; i < 20'000; ++i) {
    const double mm = lengths(random), other = mm + 0.01 * (lengths(random) - 50.0);
    for (const bool inches : {false, true}) {
      const auto read = [&](const std::string& text) {
        return *ReadLength_mm(text.substr(0, text.find(' ')), inches ? kMmPerInch : 1.0);
      };
      const double step = inches ? 25.4 / 64.0 : 0.1;
      const double gap = read(BenchText(mm, Bench::kGap, inches));
      const double room = read(BenchText(mm, Bench::kRoom, inches));
      CHECK((gap <= mm + 1e-6 && gap > mm - step - 1e-6));
      CHECK((room >= mm - 1e-6 && room < mm + step + 1e-6));
      // Beside its limit a number stands on the side it is on, and still claims nothing more.
      const double asked = read(BenchGap(mm, other, inches));
      CHECK(asked <= mm + 1.3e-3);  // a limit of inches is said to four places
      if (mm >= other) CHECK(asked >= other - 1.3e-3);
      if (mm <= other) CHECK(read(BenchRoom(mm, other, inches)) <= other + 1.3e-3);
    }
  }
  CHECK(BenchGap(1.585, 1.58, false) == "1.58 mm");
  CHECK(BenchGap(1.575, 1.58, false) == "1.5 mm");
  CHECK(BenchRoom(93.62, 93.65, false) == "93.65 mm");
  CHECK(BenchRoom(93.66, 93.65, false) == "93.7 mm");
  CHECK(BenchGap(1.6, 25.4 / 16.0, true) == "1/16 in");
  CHECK(AsGiven(2.0, false) == "2 mm");
  CHECK(AsGiven(25.4 / 16.0, true) == "1/16 in");
  CHECK(AsGiven(25.4 * 0.07, true) == "0.07 in");
}

}  // namespace
}  // namespace lidwright
