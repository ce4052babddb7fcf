// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <random>
#include <set>
#include <vector>

#include "lidwright/base/check.h"
#include "lidwright/base/interval.h"
#include "lidwright/base/low_discrepancy.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/parallel.h"
#include "lidwright/base/problem.h"

using namespace lidwright;

TEST_CASE("numbers are written without locale, trailing zeros or minus zero") {
  CHECK(Text(2.5) == "2.5");
  CHECK(Text(2.0) == "2");
  CHECK(Text(-0.0001) == "0");
  CHECK(Text(1234567.891, 2) == "1234567.89");
  CHECK(Text(std::numeric_limits<double>::quiet_NaN()) == "-");
  CHECK(Fixed(2.5, 2) == "2.50");
  CHECK(Fixed(-0.004, 2) == "0.00");
  CHECK(Fixed(-12.345, 1) == "-12.3");
  std::mt19937_64 random(1);
  for (int i = 0; i < 2000; ++i) {
    const double value = std::ldexp(static_cast<double>(static_cast<std::int64_t>(random())), -40);
    CHECK(std::stod(Exact(value)) == value);
  }
}

TEST_CASE("a problem is told in one line with its place") {
  CHECK(Describe({"box.json", 12, "lid.crown", "-4", "must be from 0 to 1000 mm", ""}) ==
        "box.json:12: lid.crown = -4: must be from 0 to 1000 mm");
  CHECK(Describe({"", 0, "", "", "there is nothing to read", "an empty file?"}) ==
        "there is nothing to read (an empty file?)");
}

TEST_CASE("the nearest word is suggested only when it is near") {
  const std::vector<std::string> words{"depth", "width", "height", "back_bow"};
  CHECK(Nearest("depht", words) == "depth");
  CHECK(Nearest("with", words) == "width");
  CHECK(Nearest("backbow", words) == "back_bow");
  CHECK(Nearest("colour", words).empty());
}

TEST_CASE("interval results hold the real ones, computed in more digits") {
  std::mt19937_64 random(2);
  const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
  using Long = long double;
  const auto holds = [](const Interval& i, Long value) {
    return static_cast<Long>(i.low) <= value && value <= static_cast<Long>(i.high);
  };
  for (int i = 0; i < 20000; ++i) {
    const double a = -5.0 + 10.0 * unit(), b = -5.0 + 10.0 * unit();
    const Interval x(a, a + 2.0 * unit()), y(b, b + 2.0 * unit());
    const double p = x.low + unit() * (x.high - x.low), q = y.low + unit() * (y.high - y.low);
    CHECK(holds(x + y, static_cast<Long>(p) + q));
    CHECK(holds(x - y, static_cast<Long>(p) - q));
    CHECK(holds(x * y, static_cast<Long>(p) * q));
    if (!y.HoldsZero()) CHECK(holds(x / y, static_cast<Long>(p) / q));
    if (x.low >= 0.0) CHECK(holds(Sqrt(x), std::sqrt(static_cast<Long>(p))));
    CHECK(holds(Cos(x), std::cos(static_cast<Long>(p))));
    CHECK(holds(Sin(x), std::sin(static_cast<Long>(p))));
    CHECK(x.Magnitude() >= std::abs(p));
  }
  // Extremes inside are found: over a whole turn the cosine takes all its values.
  CHECK(Cos(Interval(3.0, 3.3)).low == -1.0);
  CHECK(Cos(Interval(-0.1, 0.1)).high == 1.0);
  // And it is not absurdly wide where there is none.
  CHECK(Cos(Interval(1.0, 1.1)).high < 0.5404);
}

TEST_CASE("every piece of parallel work is done once, and the first failure is told") {
  for (const int threads : {0, 1, 2, 7}) {
    std::vector<int> done(1000, 0);
    ParallelFor(done.size(), threads, [&](std::size_t i) { ++done[i]; });
    CHECK(std::count(done.begin(), done.end(), 1) == 1000);
    std::string told;
    try {
      ParallelFor(100, threads, [](std::size_t i) {
        if (i == 30 || i == 60) throw std::runtime_error(std::to_string(i));
      });
    } catch (const std::runtime_error& error) {
      told = error.what();
    }
    CHECK(told == "30");
  }
  ParallelFor(0, 3, [](std::size_t) { FAIL("there is nothing to do"); });
}

TEST_CASE("low-discrepancy points fill the box more evenly than random ones") {
  const LowDiscrepancy<8> points(42);
  const LowDiscrepancy<8> other(43);
  CHECK(points.At(0) != other.At(0));
  std::mt19937_64 random(4);
  constexpr int kPoints = 4096, kBoxes = 400;
  // Worst error of the share of points in boxes with a corner at 0, in each pair of dimensions.
  double even = 0.0, uneven = 0.0;
  bool inside = true;
  for (int b = 0; b < kBoxes; ++b) {
    const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
    const std::size_t i = b % 8, j = (b + 1 + b / 8 % 7) % 8;
    const double x = unit(), y = unit();
    int in = 0, in_random = 0;
    for (int n = 0; n < kPoints; ++n) {
      const auto p = points.At(static_cast<std::uint64_t>(n));
      inside =
          inside && std::all_of(p.begin(), p.end(), [](double c) { return c >= 0.0 && c < 1.0; });
      in += p[i] < x && p[j] < y;
      in_random += unit() < x && unit() < y;
    }
    even = std::max(even, std::abs(static_cast<double>(in) / kPoints - x * y));
    uneven = std::max(uneven, std::abs(static_cast<double>(in_random) / kPoints - x * y));
  }
  CHECK(inside);
  CHECK(even < 0.5 * uneven);
}

TEST_CASE("a broken contract names its condition and values") {
  const double h = -2.0;
  CHECK_THROWS_WITH([&] { LW_REQUIRE(h > 0.0, "h=" << h); }(),
                    Catch::Contains("h > 0.0") && Catch::Contains("h=-2"));
}
