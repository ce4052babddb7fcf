// SPDX-License-Identifier: Apache-2.0
#include "trace_text.h"

namespace lidwright {
namespace {

TracedOutline Trace(const std::string& text, TraceOptions options = {}) {
  options.file_name = "box.svg";
  return TraceSvg(text, options);
}

std::string Said(const std::string& text, const TraceOptions& options = {}) {
  const TracedOutline traced = Trace(text, options);
  CHECK_FALSE(traced.problems.empty());
  return Lines(traced.problems);
}

}  // namespace

TEST_CASE("two named polygons in mm come out in the case's frame", "[trace]") {
  CheckPlainBox(Trace(SvgSheet(kCaseLine + kLidLine)));
}

TEST_CASE("the unit follows from width, height and viewBox", "[trace]") {
  const std::string both = kCaseLine + kLidLine;
  CheckPlainBox(Trace(SvgSheet(both, "width=\"24cm\" viewBox=\"0 0 240 200\"")));
  CheckPlainBox(Trace(SvgSheet(both, "height=\"200mm\" viewBox=\"0 0 240 200\"")));
  // The box in pixels of 1/96 in: 200 px are 52.9 mm.
  const TracedOutline px = Trace(SvgSheet(both, "width=\"240\" height=\"200\""));
  REQUIRE(px.problems.empty());
  CHECK(px.mm_per_unit == Approx(25.4 / 96));
  CHECK(Says(Lines(px.notes), "pixel"));
  // A viewBox of another shape than the sheet fits it by the smaller scale (meet).
  const TracedOutline meet =
      Trace(SvgSheet(both, "width=\"480mm\" height=\"200mm\" viewBox=\"0 0 240 200\""));
  CheckPlainBox(meet);
  // Unlike scales only when asked for: the box becomes twice as deep, not higher.
  const TracedOutline wide = Trace(SvgSheet(
      both,
      "width=\"480mm\" height=\"200mm\" viewBox=\"0 0 240 200\" preserveAspectRatio=\"none\""));
  REQUIRE(wide.problems.empty());
  CHECK(Bounds(wide.case_rings[0]).high.x() == Approx(400));
  CHECK(Bounds(wide.case_rings[0]).low.y() == Approx(-100));
}

TEST_CASE("a drawing without a unit asks for it, and takes it or a true size", "[trace]") {
  const std::string text = SvgSheet(kCaseLine + kLidLine, "viewBox=\"0 0 240 200\"");
  CHECK(Said(text) ==
        "box.svg: the drawing does not say its unit (in mm what is drawn would be 200 mm wide, in "
        "inches 5080 mm; say the unit, or the true width or height of what is drawn)\n");
  TraceOptions options;
  options.mm_per_unit = 1.0;
  CheckPlainBox(Trace(text, options));
  options = {};
  options.known_width_mm = 200;
  CheckPlainBox(Trace(text, options));
  options = {};
  options.known_height_mm = 130;
  CheckPlainBox(Trace(text, options));
}

TEST_CASE("the true height of a domed lid is met by its crest, not by its chords", "[trace]") {
  const std::string dome = "<path id=\"lid\" d=\"M20,50 H220 V40 A200 200 0 0 0 20,40 Z\"/>\n";
  TraceOptions options;
  options.known_height_mm = 2 * (100 + 10 + 200 - std::sqrt(200. * 200 - 100 * 100));
  const TracedOutline traced = Trace(SvgSheet(kCaseLine + dome), options);
  REQUIRE(traced.problems.empty());
  CHECK(traced.mm_per_unit == Approx(2.0).margin(1e-5));
}

TEST_CASE("how far chords are from the curve is measured, and nothing where all is straight",
          "[trace]") {
  CHECK(Trace(SvgSheet(kCaseLine + kLidLine)).chord_error_mm == 0.0);
  // A curve on something else than case and lid does not count.
  CHECK(Trace(SvgSheet(kCaseLine + kLidLine + "<circle cx=\"230\" cy=\"9\" r=\"8\"/>\n"))
            .chord_error_mm == 0.0);
  for (const double radius : {101.0, 200.0, 900.0}) {
    const std::string r = std::to_string(radius);
    const TracedOutline traced =
        Trace(SvgSheet(kCaseLine + "<path id=\"lid\" d=\"M20,50 H220 V40 A" + r + " " + r +
                       " 0 0 0 20,40 Z\"/>\n"));
    REQUIRE(traced.problems.empty());
    // The sagitta of each chord, by the circle: edges whose ends both lie above the straight band.
    double sagitta = 0.0;
    const Ring& ring = traced.lid_rings[0];
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if (std::min(a.y(), b.y()) < 10.0 - 1e-9) continue;
      const double half = (b - a).norm() / 2.0;
      sagitta = std::max(sagitta, radius - std::sqrt(radius * radius - half * half));
    }
    CHECK(traced.chord_error_mm >= sagitta);
    CHECK(traced.chord_error_mm <= 1.01 * sagitta);
    CHECK(traced.chord_error_mm <= 0.02);
  }
  // A Bézier's bound is that of its control points: at most four thirds of the largest offset
  // of a cubic from its chord.
  const TracedOutline bezier =
      Trace(SvgSheet(kCaseLine + "<path id=\"lid\" d=\"M20,50 H220 V40 C180,0 60,0 20,40 Z\"/>\n"));
  REQUIRE(bezier.problems.empty());
  CHECK(bezier.chord_error_mm > 0.002);
  CHECK(bezier.chord_error_mm <= 0.02);
}

TEST_CASE("a drawing seen from the other side is turned about", "[trace]") {
  std::string flipped =
      SvgSheet("<g transform=\"matrix(-1 0 0 1 240 0)\">\n" + kCaseLine + kLidLine + "</g>\n");
  TraceOptions options;
  options.back = BackSide::kRight;
  CheckPlainBox(Trace(flipped, options));
}

TEST_CASE("transforms, nested frames and uses put the box in the same place", "[trace]") {
  const std::string both = kCaseLine + kLidLine;
  CheckPlainBox(Trace(SvgSheet("<g transform=\"translate(7,3) scale(.5)\">" + both + "</g>\n",
                               "width=\"480mm\" height=\"400mm\" viewBox=\"0 0 240 200\"")));
  CheckPlainBox(
      Trace(SvgSheet("<svg x=\"5\" y=\"5\" width=\"120\" height=\"100\" viewBox=\"0 0 240 "
                     "200\">" +
                         both + "</svg>\n",
                     "width=\"480mm\" height=\"400mm\" viewBox=\"0 0 240 200\"")));
  CheckPlainBox(Trace(
      SvgSheet("<defs><symbol id=\"s\">" + both + "</symbol></defs><use href=\"#s\" x=\"3\"/>\n")));
  CheckPlainBox(Trace(SvgSheet("<g transform=\"rotate(90)\"><g transform=\"rotate(-90 17 4)\">" +
                               both + "</g></g>\n")),
                1e-9);
}

TEST_CASE("loose lines are joined, small gaps closed and named", "[trace]") {
  std::string lines = "<g id=\"case\">\n";
  for (std::size_t i = 0; i < kCasePoints.size(); ++i) {
    const auto [x, y] = kCasePoints[i];
    const auto [u, v] = kCasePoints[(i + 1) % kCasePoints.size()];
    // The first line begins 0.3 mm off its corner.
    lines += "<line x1=\"" + std::to_string(x + 20 + (i == 0 ? 0.3 : 0.0)) + "\" y1=\"" +
             std::to_string(50 - y) + "\" x2=\"" + std::to_string(u + 20) + "\" y2=\"" +
             std::to_string(50 - v) + "\"/>\n";
  }
  const TracedOutline traced = Trace(SvgSheet(lines + "</g>\n" + kLidLine));
  INFO(Lines(traced.problems));
  REQUIRE(traced.problems.empty());
  CHECK(Says(Lines(traced.notes), "a gap of 0.3 mm closed at"));
  CHECK(SignedArea(traced.case_rings[0]) == Approx(200 * 100 - 180 * 90));

  // Without leave to close gaps the open end is named, with what is nearest to it.
  TraceOptions options;
  options.gap_limit_mm = 0.1;
  const std::string said = Said(SvgSheet(lines + "</g>\n" + kLidLine), options);
  CHECK(Says(said,
             "box.svg:3: line: has an open end at (20.3, -150) (the nearest other end is 0.3 "
             "mm away at (20, -150))"));
}

TEST_CASE("case and lid without names are told apart by place", "[trace]") {
  const auto nameless = [](std::string line) {
    line.replace(line.find("id="), 2, "data-x");
    return line;
  };
  const std::string two = nameless(kCaseLine) + nameless(kLidLine);
  CheckPlainBox(Trace(SvgSheet(two)));
  const TracedOutline bordered = Trace(SvgSheet("<rect width=\"100%\" height=\"100%\"/>\n" + two));
  CheckPlainBox(bordered);
  CHECK(Says(Lines(bordered.notes), "sheet's border"));
  CHECK(Says(Said(SvgSheet(two + "<circle cx=\"230\" cy=\"100\" r=\"8\"/>\n")),
             "it is not clear which outline is the case and which the lid: polygon"));
  // The maker's own names.
  std::string named =
      SvgSheet("<g id=\"Kiste\">" + nameless(kCaseLine) + "</g><g id=\"DECKEL\">" +
               nameless(kLidLine) + "</g><circle cx=\"230\" cy=\"100\" r=\"8\"/>\n");
  TraceOptions options;
  options.case_name = "kiste";
  options.lid_name = "Deckel";
  CheckPlainBox(Trace(named, options));
}

TEST_CASE("a seam drawn once belongs to case and lid", "[trace]") {
  // Both as one net of lines: solid case, so that rim and seam are one line.
  const std::string net =
      "<path d=\"M20,150 H220 V50 M20,150 V50 H220\"/>\n<path d=\"M20,50 V40 L70,20 H170 L220,40 "
      "V50\"/>\n";
  const TracedOutline traced = Trace(SvgSheet(net));
  INFO(Lines(traced.problems));
  REQUIRE(traced.problems.empty());
  CHECK(SignedArea(traced.case_rings[0]) == Approx(200 * 100));
  CHECK(SignedArea(traced.lid_rings[0]) == Approx(200 * 30 - 50 * 20));
}

TEST_CASE("what is not geometry is left out and counted", "[trace]") {
  const TracedOutline traced = Trace(
      SvgSheet(kCaseLine + kLidLine +
               "<text x=\"3\" y=\"3\">A tea chest</text><text>2</text><image href=\"a.png\"/>\n"
               "<path style=\"text-transform:none;transform:none;\" d=\"\"/>\n<g "
               "display=\"none\"><path d=\"M0 0H9\"/></g><path style=\"display: none\" d=\"M0 "
               "0H9\"/>\n"));
  CheckPlainBox(traced);
  CHECK(Says(Lines(traced.notes), "left out: 1 hidden g, 1 hidden path, 1 image, 2 text"));
}

TEST_CASE("faults of an SVG file are named with their line and element", "[trace]") {
  CHECK(Said("") == "box.svg: the file is empty\n");
  CHECK(Says(Said("PK\x03\x04 no xml"), "box.svg:1: the text is not XML"));
  const std::string whole = SvgSheet(kCaseLine + kLidLine);
  CHECK(Says(Said(whole.substr(0, whole.size() - 40)), "box.svg:3: the text is not XML"));
  CHECK(Says(Said("<html>\n</html>"), "box.svg:1: the outermost element must be svg"));
  CHECK(Said(SvgSheet(kCaseLine + "<path id=\"lid\" d=\"M0,0 L10,1O Z\"/>\n")) ==
        "box.svg:3: path lid d = \"O Z\": 'O' is no path command (at byte 10 of the "
        "attribute)\n");
  CHECK(Says(Said(SvgSheet("<rect id=\"case\" width=\"1e\" height=\"4\"/>\n")),
             "box.svg:2: rect case width = 1e: must be a number"));
  CHECK(Says(Said(SvgSheet("<g transform=\"shift(3)\"><path d=\"M0 0\"/></g>\n")),
             "g transform = \"shift(3)\": no transform that can be read"));
  CHECK(Says(Said(SvgSheet("<use href=\"#nothing\"/>\n")), "refers to nothing in this file"));
  CHECK(Says(Said(SvgSheet("<path style=\"transform:scale(2)\" d=\"M0 0H9\"/>\n")),
             "transforms in styles are not read"));
  CHECK(Said(SvgSheet(kCaseLine)) ==
        "box.svg: there is no closed outline for lid (case and lid must be two closed outlines)\n");
  CHECK(
      Says(Said(SvgSheet("<text>only words</text>\n")), "nothing in it that could be an outline"));
  CHECK(Says(Said(SvgSheet("<path id=\"case\" d=\"M0 0 L1e300 1e300 L 0 1e300z\"/>\n")),
             "path case: has coordinates beyond 1000000000"));
}

TEST_CASE("files made to exhaust memory end with a plain statement", "[trace]") {
  std::string loop = "<g id=\"a\"><use href=\"#a\"/></g>\n";
  CHECK(Says(Said(SvgSheet(loop)), "elements within each other"));
  std::string tenfold = "<defs><path id=\"u0\" d=\"M0 0 H9 V9 H0z\"/>\n";
  for (int i = 1; i < 9; ++i) {
    tenfold += "<g id=\"u" + std::to_string(i) + "\">";
    for (int k = 0; k < 10; ++k) tenfold += "<use href=\"#u" + std::to_string(i - 1) + "\"/>";
    tenfold += "</g>\n";
  }
  CHECK(Says(Said(SvgSheet(tenfold + "</defs><use href=\"#u8\"/>\n")), "more than"));
  std::string deep;
  for (int i = 0; i < 100000; ++i) deep += "<g>";
  CHECK(Says(Said(SvgSheet(deep)), "not XML"));
  for (int i = 0; i < 100000; ++i) deep += "</g>";
  CHECK(Says(Said(SvgSheet(deep)), "elements within each other"));
  CHECK(Says(Said(std::string(70u << 20, ' ')), "larger than 64 MB"));
}

}  // namespace lidwright
