// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/dxf.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <locale>
#include <sstream>

#include "lidwright/base/check.h"
#include "lidwright/cutting/svg.h"
#include "samples.h"

namespace lidwright {
namespace {

using testing::Samples;

struct Group {
  int code;
  std::string value;
};

std::vector<Group> GroupsOf(const std::string& text) {
  std::vector<Group> groups;
  std::istringstream lines(text);
  std::string code, value;
  while (std::getline(lines, code) && std::getline(lines, value)) {
    groups.push_back({std::stoi(code), value});
  }
  return groups;
}

std::string EntitiesOf(const std::string& text) {
  const std::string start = "2\nENTITIES\n", end = "0\nENDSEC\n0\nEOF\n";
  const std::size_t from = text.find(start);
  REQUIRE(from != std::string::npos);
  REQUIRE(text.size() > end.size());
  REQUIRE(text.compare(text.size() - end.size(), end.size(), end) == 0);
  return text.substr(from + start.size(), text.size() - end.size() - from - start.size());
}

// Decimal commas and grouped thousands, as in many locales.
struct Commas : std::numpunct<char> {
  char do_decimal_point() const override { return ','; }
  char do_thousands_sep() const override { return '.'; }
  std::string do_grouping() const override { return "\3"; }
};

TEST_CASE(
    "a plate with a hole and a mark is a point, a circle and a closed polyline, in that order") {
  const CutPart part = {
      "plate",
      {{{{0, 0}, 0}, {{1200.5, 0}, 0.4142135623730951}, {{1210.5, 10}, 0}, {{0, 10}, -0.125}}},
      {{{5, 5}, 1.25}},
      {{{1.0 / 3 + 9, 4}, 0.5}}};
  CHECK(EntitiesOf(WriteDxf({part})) ==
        "0\nPOINT\n8\nDRILL\n10\n9.333333333\n20\n4.0\n30\n0.0\n"
        "0\nCIRCLE\n8\nHOLES\n10\n5.0\n20\n5.0\n30\n0.0\n40\n1.25\n"
        "0\nPOLYLINE\n8\nOUTLINE\n66\n1\n10\n0.0\n20\n0.0\n30\n0.0\n70\n1\n"
        "0\nVERTEX\n8\nOUTLINE\n10\n0.0\n20\n0.0\n30\n0.0\n"
        "0\nVERTEX\n8\nOUTLINE\n10\n1200.5\n20\n0.0\n30\n0.0\n42\n0.414213562373\n"
        "0\nVERTEX\n8\nOUTLINE\n10\n1210.5\n20\n10.0\n30\n0.0\n"
        "0\nVERTEX\n8\nOUTLINE\n10\n0.0\n20\n10.0\n30\n0.0\n42\n-0.125\n"
        "0\nSEQEND\n8\nOUTLINE\n");
}

TEST_CASE("a full circle is cut as a circle, any other pair of arcs as a polyline") {
  const std::string washer = WriteDxf({{"washer", AsOutline({{2, 3}, 10}), {{{2, 3}, 4}}, {}}});
  CHECK(EntitiesOf(washer) ==
        "0\nCIRCLE\n8\nHOLES\n10\n2.0\n20\n3.0\n30\n0.0\n40\n4.0\n"
        "0\nCIRCLE\n8\nOUTLINE\n10\n2.0\n20\n3.0\n30\n0.0\n40\n10.0\n");
  const std::string lens = WriteDxf({{"lens", {{{{0, 0}, 0.5}, {{10, 0}, 0.5}}}, {}, {}}});
  CHECK(lens.find("CIRCLE\n") == std::string::npos);
  CHECK(lens.find("POLYLINE\n") != std::string::npos);
}

TEST_CASE("the header says release 12 and millimetres, and every layer used is defined") {
  std::size_t read = 0;
  for (const auto& sample : Samples()) {
    const std::string text = WriteDxf(sample.parts);
    CHECK(text.find("9\n$ACADVER\n1\nAC1009\n") != std::string::npos);
    CHECK(text.find("9\n$INSUNITS\n70\n4\n") != std::string::npos);
    CHECK(text.find("9\n$MEASUREMENT\n70\n1\n") != std::string::npos);
    CHECK(text.find("LWPOLYLINE") == std::string::npos);  // not of release 12
    std::vector<std::string> defined;
    std::string type, table;
    for (const Group& group : GroupsOf(text)) {
      if (group.code == 0) type = group.value;
      if (group.code == 2 && type == "LAYER") defined.push_back(group.value);
      if (group.code == 8) {
        CHECK(std::find(defined.begin(), defined.end(), group.value) != defined.end());
      }
    }
    CHECK(defined == std::vector<std::string>{"0", "DRILL", "HOLES", "OUTLINE"});
    ++read;
  }
  REQUIRE(read >= 25);
}

TEST_CASE("all holes of all parts come before the first outline") {
  for (const auto& sample : Samples()) {
    const std::string text = EntitiesOf(WriteDxf(sample.parts));
    const std::size_t last_hole = text.rfind("8\nHOLES\n"), first = text.find("8\nOUTLINE\n");
    const std::size_t last_mark = text.rfind("8\nDRILL\n");
    REQUIRE(first != std::string::npos);
    if (last_hole != std::string::npos) CHECK(last_hole < first);
    if (last_mark != std::string::npos) CHECK(last_mark < text.find("8\nHOLES\n"));
  }
}

TEST_CASE("an arc flatter than a millionth of a millimetre is written straight, in both formats") {
  CutPart part = {"p", {{{{0, 0}, 1e-9}, {{100, 0}, 0}, {{100, 50}, 0}, {{0, 50}, 0}}}, {}, {}};
  CHECK(WriteDxf({part}).find("\n42\n") == std::string::npos);
  CHECK(WriteCutSvg({part}).find('A') == std::string::npos);
  part.outline.vertices[0].bulge = 1e-7;  // 5e-6 mm
  CHECK(WriteDxf({part}).find("\n42\n0.0000001\n") != std::string::npos);
  CHECK(WriteCutSvg({part}).find(" A ") != std::string::npos);
}

TEST_CASE("cut files are the same bytes in a locale of decimal commas") {
  std::string plain, commas;
  for (const auto& sample : Samples()) plain += WriteDxf(sample.parts) + WriteCutSvg(sample.parts);
  const std::locale before = std::locale::global(std::locale(std::locale(), new Commas));
  for (const auto& sample : Samples()) commas += WriteDxf(sample.parts) + WriteCutSvg(sample.parts);
  std::locale::global(before);
  CHECK(plain == commas);
  CHECK(plain.size() > 50000);
}

TEST_CASE("what cannot be cut is never written") {
  CHECK_THROWS_AS(WriteDxf({}), ContractError);
  CHECK_THROWS_AS(WriteCutSvg({}), ContractError);
  CutPart part = testing::SamplePlate({0, 0});
  part.holes[0].radius_mm = 0.0;
  CHECK_THROWS_WITH(WriteDxf({part}), Catch::Contains("hole 1 at (10, 8)"));
  CHECK_THROWS_WITH(WriteCutSvg({part}), Catch::Contains("hole 1 at (10, 8)"));
}

}  // namespace
}  // namespace lidwright
