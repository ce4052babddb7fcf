// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/length.h"

#include <catch2/catch.hpp>
#include <cstdio>
#include <random>

#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// Expected values: by hand, an inch is 25.4 mm by definition.
TEST_CASE("a length reads as decimal, fraction or mixed number, in any unit") {
  struct {
    const char* text;
    double inches;
  } const cases[] = {
      {"12", 12.0},
      {"5.25", 5.25},
      {".5", 0.5},
      {"5.", 5.0},
      {"3/8", 0.375},
      {"5-3/16", 5.1875},
      {"5 3/16", 5.1875},
      {"5 - 3/16", 5.1875},
      {"-5-3/16", -5.1875},
      {"+1/2", 0.5},
      {"  7 1/2\t", 7.5},
      {"1/2in", 0.5},
      {"1/2 IN", 0.5},
      {"2\"", 2.0},
      {"2 inch", 2.0},
      {"25.4mm", 1.0},
      {"2.54 cm", 1.0},
      {"0/4", 0.0},
      {"17/16", 1.0625},
      {"3 / 8", 0.375},
      {"-12.7 mm", -0.5},
      {"5 3/16 in", 5.1875},
      {"999999999999", 999999999999.0},
  };
  for (const auto& c : cases) {
    INFO(c.text);
    const std::optional<double> length_mm = ReadLength_mm(c.text, kMmPerInch);
    REQUIRE(length_mm.has_value());
    CHECK_THAT(*length_mm, Catch::WithinRel(c.inches * 25.4, 1e-15) ||
                               Catch::WithinAbs(c.inches * 25.4, 1e-13));
  }
}

TEST_CASE("a text that is not one length is refused") {
  for (const char* text : {"",        " ",     "-",     "+",       ".",        "mm",
                           "abc",     "5-3",   "5 3",   "3/0",     "3/",       "/4",
                           "5-16/3",  "5-3/3", "1e3",   "0x10",    "nan",      "inf",
                           "1,5",     "1.2.3", "1.5/2", "5-1.5/2", "5-3/16/2", "--5",
                           "5--1/2",  "5 m",   "5 ft",  "5mm2",    "5 mm mm",  "1234567890123",
                           "5-3/-16", "½",     "5\n"}) {
    INFO(text);
    CHECK_FALSE(ReadLength_mm(text, kMmPerInch).has_value());
  }
}

TEST_CASE("without a unit to count in only a text with its unit is read") {
  CHECK_FALSE(ReadLength_mm("12", kUnset).has_value());
  CHECK(ReadLength_mm("12mm", kUnset) == 12.0);
  CHECK(ReadLength_mm("1/2 in", kUnset) == 12.7);
}

// Law: every 1/64 in up to 8 in, written as a mixed number or as a decimal, is that length.
TEST_CASE("fractions and decimals of one length agree") {
  int read = 0;
  for (int n = 0; n < 8 * 64; ++n) {
    const std::string fraction = std::to_string(n % 64) + "/64";
    char decimal[32];
    std::snprintf(decimal, sizeof decimal, "%.6f", n / 64.0);  // six places are exact here
    const auto mixed_mm = ReadLength_mm(std::to_string(n / 64) + "-" + fraction, kMmPerInch);
    const auto decimal_mm = ReadLength_mm(decimal, kMmPerInch);
    REQUIRE(mixed_mm.has_value());
    CHECK(mixed_mm == decimal_mm);
    CHECK(*mixed_mm == n / 64.0 * 25.4);
    ++read;
  }
  CHECK(read == 512);
}

TEST_CASE("no text makes the reader of lengths fall over") {
  const std::string letters = "0123456789./- +\"mincMX\xC3";
  std::mt19937 random(7);
  int accepted = 0;
  for (int i = 0; i < 200000; ++i) {
    std::string text;
    for (unsigned k = random() % 9; k > 0; --k) text += letters[random() % letters.size()];
    if (const auto length_mm = ReadLength_mm(text, 1.0)) {
      ++accepted;
      REQUIRE(std::abs(*length_mm) < 1e15);
    }
  }
  CHECK(accepted > 1000);
  CHECK(accepted < 199000);
}

}  // namespace
}  // namespace lidwright
