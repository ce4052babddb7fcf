// SPDX-License-Identifier: Apache-2.0
#include "trace_text.h"

namespace lidwright {
namespace {

TracedOutline Trace(const std::string& text, TraceOptions options = {}) {
  options.file_name = "box.dxf";
  return TraceDxf(text, options);
}

std::string Said(const std::string& text, const TraceOptions& options = {}) {
  const TracedOutline traced = Trace(text, options);
  CHECK_FALSE(traced.problems.empty());
  return Lines(traced.problems);
}

const std::string kCase = DxfPolyline("CASE", kCasePoints);
const std::string kLid = DxfPolyline("Lid", kLidPoints);

std::vector<std::pair<double, double>> Scaled(std::vector<std::pair<double, double>> points,
                                              double by) {
  for (auto& [x, y] : points) x *= by, y *= by;
  return points;
}

std::string BoxOfSize(double by, const std::string& units = "70 4") {
  return DxfSheet(
      DxfPolyline("case", Scaled(kCasePoints, by)) + DxfPolyline("lid", Scaled(kLidPoints, by)),
      units);
}

}  // namespace

TEST_CASE("two polylines on layers come out in the case's frame", "[trace]") {
  CheckPlainBox(Trace(DxfSheet(kCase + kLid)));
}

TEST_CASE("line ends, byte order marks and comments of other systems do not matter", "[trace]") {
  std::string text = DxfSheet(kCase + kLid), dos;
  for (const char c : text) dos += c == '\n' ? "\r\n" : std::string(1, c);
  CheckPlainBox(Trace(dos));
  CheckPlainBox(Trace("\xEF\xBB\xBF" + text));
  CheckPlainBox(Trace("999\nmade by hand\n" + text));
}

TEST_CASE("the unit is the file's", "[trace]") {
  CheckPlainBox(Trace(BoxOfSize(0.1, "70 5")));
  CheckPlainBox(Trace(BoxOfSize(1 / 25.4, "70 1")), 1e-3);
  CHECK(Says(Said(BoxOfSize(1, "70 0")), "the drawing does not say its unit"));
  CHECK(Says(Said(BoxOfSize(1, "70 19")), "$INSUNITS = 19: is no unit that a box is drawn in"));
}

TEST_CASE("a box of 5 mm or 9 m is doubted, with what it may have been", "[trace]") {
  const std::string small = Said(BoxOfSize(5 / 200.));
  CHECK(Says(small, "would be 5 mm in size (did you mean 127 mm (inches read as mm)"));
  CHECK(Says(small, "say the unit, or the true width or height of what is drawn"));
  const std::string large = Said(BoxOfSize(45.));
  CHECK(Says(large,
             "the case would be 9000 mm deep (did you mean 354.3 mm (mm read as inches), or "
             "900 mm (mm read as cm)?"));
  CHECK(Says(Said(BoxOfSize(0.1)),
             "would be 20 mm in size (did you mean 508 mm (inches read as "
             "mm), or 200 mm (cm read as mm)?"));
  CHECK(Says(Said(BoxOfSize(1, "70 6")), "the case would be 200000 mm deep"));
}

TEST_CASE("a lid that overlaps its case, floats or hangs below is refused with its place",
          "[trace]") {
  const auto shifted = [](double dy) {
    auto points = kLidPoints;
    for (auto& p : points) p.second += dy;
    return DxfSheet(kCase + DxfPolyline("lid", points));
  };
  CHECK(Says(Said(shifted(-2)), "lid: overlaps the case by 2 mm at ("));
  CHECK(Says(Said(shifted(8)), "lid: floats: it comes no nearer to the case than 8 mm"));
  CHECK(Says(Said(shifted(-140)), "lid: lies below the case"));
  const TracedOutline gap = Trace(shifted(0.4));
  CHECK(gap.problems.empty());
  CHECK(Says(Lines(gap.notes), "the lid stands 0.4 mm off the case"));
  const TracedOutline into = Trace(shifted(-0.03));
  CHECK(into.problems.empty());
  CHECK(Says(Lines(into.notes), "0.03 mm into the case"));
  // A bar through both walls: no corner of either, and no edge's middle, lies in the other.
  CHECK(Says(
      Said(DxfSheet(kCase + DxfPolyline("lid", {{-20, -30}, {220, -30}, {220, -20}, {-20, -20}}))),
      "lid: overlaps the case"));
}

TEST_CASE("outlines that cross themselves are refused", "[trace]") {
  CHECK(Said(DxfSheet(kCase + DxfPolyline("lid", {{0, 0}, {200, 0}, {0, 30}, {200, 30}}))) ==
        "box.dxf: lid: the edge from (200, 0) crosses or touches the edge from (200, 30) at (100, "
        "15)\n");
  // Places are those of the drawing, not of the side view's frame.
  CHECK(Says(Said(DxfSheet(DxfPolyline("case", {{500, 0}, {700, 0}, {700, 100}, {500, 100}}) +
                           DxfPolyline("lid", {{500, 99}, {700, 99}, {700, 120}, {500, 120}}))),
             "lid: overlaps the case by 1 mm at (600, 100)"));
}

TEST_CASE("layers that are off or frozen, paper space and invisible entities are left out",
          "[trace]") {
  const std::string tables =
      "0 SECTION|2 TABLES|0 TABLE|2 LAYER|0 LAYER|2 Notes|62 -7|70 0|0 LAYER|2 OLD|62 7|70 1|0 "
      "ENDTAB|0 ENDSEC|";
  const std::string text =
      DxfGroups(tables + "0 SECTION|2 ENTITIES|" + kCase + kLid + DxfPolyline("NOTES", kLidPoints) +
                DxfPolyline("old", kLidPoints) + "0 LINE|8 lid|60 1|10 0|20 0|11 5|21 5|" +
                "0 LINE|8 lid|67 1|10 0|20 0|11 5|21 5|0 TEXT|8 lid|1 words|" +
                "0 LINE|8 lid|10 0|20 0|30 0|11 5|21 5|31 9|0 ENDSEC|0 EOF");
  TraceOptions options;
  options.mm_per_unit = 1;
  const TracedOutline traced = Trace(text, options);
  CheckPlainBox(traced);
  CHECK(Says(Lines(traced.notes),
             "left out: 1 LINE, 1 LINE in paper space, 1 LWPOLYLINE on hidden layer NOTES, 1 "
             "LWPOLYLINE on hidden layer old, 1 TEXT, 1 invisible LINE"));
}

TEST_CASE("blocks are carried out, mirrored, turned and scaled", "[trace]") {
  const auto sheet = [](const std::string& insert) {
    return DxfGroups(
        "0 SECTION|2 HEADER|9 $INSUNITS|70 4|0 ENDSEC|0 SECTION|2 BLOCKS|0 BLOCK|2 "
        "Box|10 7|20 9|" +
        kCase + kLid + "0 ENDBLK|0 ENDSEC|0 SECTION|2 ENTITIES|0 INSERT|8 0|2 BOX|" + insert +
        "0 ENDSEC|0 EOF");
  };
  CheckPlainBox(Trace(sheet("10 500|20 -30|")), 1e-9);
  TraceOptions options;
  options.back = BackSide::kRight;
  CheckPlainBox(Trace(sheet("10 500|20 -30|41 -1|"), options), 1e-9);
  CheckPlainBox(Trace(sheet("10 500|20 -30|42 -1|50 180|"), options), 1e-9);
  CheckPlainBox(Trace(sheet("10 500|20 -30|210 0|220 0|230 -1|"), options), 1e-9);
  CHECK(Says(Said(sheet("10 500|20 -30|0 INSERT|8 0|2 Lost|10 0|20 0|")),
             "INSERT = Lost: there is no block of this name"));
}

TEST_CASE("faults of a DXF file are named with their line", "[trace]") {
  CHECK(Said("") == "box.dxf: the file is empty\n");
  CHECK(Says(Said("AutoCAD Binary DXF\r\n\x1a\0"), "binary DXF"));
  CHECK(Said("<svg/>\n") ==
        "box.dxf:1: group code = <svg/>: this is no DXF file: a whole number should stand here\n");
  const std::string whole = DxfSheet(kCase + kLid);
  CHECK(Says(Said(whole.substr(0, whole.size() - 6)), "the file has no EOF (it is cut off"));
  std::size_t refused = 0;
  for (std::size_t cut = 1; cut + 6 < whole.size(); cut += 7) {
    const TracedOutline traced = Trace(whole.substr(0, cut));
    refused += !traced.problems.empty();
    if (traced.problems.empty()) FAIL("accepted when cut at " << cut);
  }
  CHECK(refused > 50);
  CHECK(
      Said(DxfSheet("0 CIRCLE|8 lid|10 1,5|20 0|40 3|" + kCase)) ==
      "box.dxf:20: CIRCLE = 1,5: group 10 must be a finite number (decimal points, not commas)\n");
  CHECK(Says(Said(DxfSheet("0 CIRCLE|8 lid|10 1|20 0|40 abc|" + kCase)),
             "CIRCLE = abc: group 40 must be a finite number"));
  CHECK(Says(Said(DxfSheet("0 CIRCLE|8 lid|10 1|20 0|40 -3|")), "group 40 must be more than 0"));
  CHECK(Says(Said(DxfSheet("0 CIRCLE|8 lid|10 1|40 3|")), "CIRCLE: group 20 is lacking"));
  CHECK(Says(Said(DxfSheet("0 LWPOLYLINE|8 lid|90 3|70 1|10 1|20 0|10 2|20 2|")),
             "LWPOLYLINE = 3: the count of vertices in group 90 is wrong: there are 2"));
  CHECK(Says(Said(DxfSheet("0 SPLINE|8 lid|71 3|11 0|21 0|11 5|21 5|")), "fit points only"));
  CHECK(Says(Said(DxfSheet("0 POLYLINE|8 lid|66 1|70 1|0 VERTEX|10 0|20 0|")), "no SEQEND"));
  CHECK(Says(Said(DxfGroups("0 SECTION|2 HEADER|0 ENDSEC|0 EOF")), "it has no section ENTITIES"));
}

TEST_CASE("faults on thousands of lines end in a readable list", "[trace]") {
  std::string entities;
  for (int i = 0; i < 5000; ++i) entities += "0 CIRCLE|8 lid|10 x|20 0|40 3|";
  CHECK(Trace(DxfSheet(entities)).problems.size() <= 101);
}

}  // namespace lidwright
