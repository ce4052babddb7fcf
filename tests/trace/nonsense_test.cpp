// SPDX-License-Identifier: Apache-2.0
// Drawings and meshes that are read without a fault and are no box.
#include <cstdlib>

#include "mesh_jobs.h"
#include "trace_text.h"

namespace lidwright {
namespace {

std::string SaidOf(const std::string& elements, TraceOptions options = {}) {
  options.file_name = "box.svg";
  return Lines(TraceSvg(SvgSheet(elements), options).problems);
}

std::vector<std::pair<double, double>> Moved(std::vector<std::pair<double, double>> points,
                                             double by_x, double by_y) {
  for (auto& [x, y] : points) x += by_x, y += by_y;
  return points;
}

std::string LidLine(const std::vector<std::pair<double, double>>& points) {
  return "<polygon id=\"lid\" points=\"" + PointsText(points) + "\"/>\n";
}

}  // namespace

TEST_CASE("a lid drawn beside its case is none", "[trace]") {
  // Touching it, higher than it: all else is in order.
  CHECK(SaidOf(kCaseLine + LidLine(Moved(kLidPoints, 200, -5))) ==
        "box.svg: lid: stands beside the case: it lies over 0 mm of it from back to front "
        "(draw the lid shut, resting on the case)\n");
  CHECK(SaidOf(kCaseLine + LidLine(Moved(kLidPoints, 101, 0))) ==
        "box.svg: lid: stands beside the case: it lies over 99 mm of it from back to front "
        "(draw the lid shut, resting on the case)\n");
  CHECK(SaidOf(kCaseLine + LidLine(Moved(kLidPoints, 99, 0))).empty());
}

TEST_CASE("one outline drawn as lid and as case is told", "[trace]") {
  const std::string drawn_twice =
      "box.svg: lid: is drawn where the case is (draw the lid shut, resting on the case)\n";
  CHECK(SaidOf(kCaseLine + LidLine(kCasePoints)) == drawn_twice);
}

TEST_CASE("a name that was asked for and is not in the drawing is told", "[trace]") {
  TraceOptions options;
  options.case_name = "cheest";
  options.lid_name = "Roof";
  const std::string chest = "<g id=\"chest\">" + kCaseLine + "</g>\n";
  CHECK(SaidOf(chest + kLidLine, options) ==
        "box.svg: --case cheest: nothing drawn has this layer, group or id "
        "(did you mean chest?)\n"
        "box.svg: --lid Roof: nothing drawn has this layer, group or id\n");
  options.case_name = "CHEST";
  options.lid_name = "";
  CHECK(SaidOf(chest + kLidLine, options).empty());
}

TEST_CASE("meshes so far off that floats lose their form are refused", "[mesh]") {
  const mesh_maker::Chest chest;
  const auto made = [&](double x) {
    return mesh_jobs::Faults(mesh_jobs::Made(mesh_jobs::Moved(chest.Body(false, 20), {x, 0, 0}),
                                             mesh_jobs::Moved(chest.Body(true, 20), {x, 0, 0})));
  };
  CHECK(made(5e4).empty());
  const std::string far = made(1e7);
  CHECK(far.find("case.stl: lies 10000") == 0);
  CHECK(far.find("from its origin, where its coordinates have steps of 1 mm (move it to the origin "
                 "before it is exported)\nlid.stl: lies") != std::string::npos);
}

TEST_CASE("an ASCII mesh with CR line ends or a byte order mark is read as with others", "[mesh]") {
  const mesh_maker::Chest chest;
  const std::string text = mesh_maker::Ascii(chest.Body(false, 20));
  const MeshReading plain = ReadStl(text, "case.stl");
  REQUIRE(plain.problems.empty());
  std::string old = text;
  for (char& c : old) c = c == '\n' ? '\r' : c;
  for (const std::string& other : {old, "\xEF\xBB\xBF" + text, "\xEF\xBB\xBF" + old}) {
    const MeshReading read = ReadStl(other, "case.stl");
    CHECK(Lines(read.problems).empty());
    CHECK(read.mesh.facets == plain.mesh.facets);
    CHECK(read.mesh.points == plain.mesh.points);
  }
  // Their lines are counted as well, and what is no word is shown without its control characters.
  CHECK(Lines(ReadStl("solid a\r facet normal 0 0 1\r outer l\x1B[2Joop\r", "a.stl").problems) ==
        "a.stl:3: \"loop\" is expected here, not \"l?[2Joop\"\n");
}

TEST_CASE("numbers of a DXF file beyond any count are refused, not turned into others", "[trace]") {
  const auto said = [](const std::string& units) {
    TraceOptions options;
    options.file_name = "box.dxf";
    const std::string text =
        DxfSheet(DxfPolyline("case", kCasePoints) + DxfPolyline("lid", kLidPoints), units);
    return Lines(TraceDxf(text, options).problems);
  };
  CHECK(said("70 4").empty());
  for (const char* value : {"4294967300", "1e300", "-1e300", "4.5"}) {  // 2^32 + 4, among others
    INFO(value);
    CHECK(said(std::string("70 ") + value).find("is no unit that a box is drawn in") !=
          std::string::npos);
  }
}

}  // namespace lidwright
