// SPDX-License-Identifier: Apache-2.0
// Boards that make one section. Oracles: outlines written down here; unions by Clipper; and, of
// what fills a gap, distances by SignedDistance's plain walk.
#include <random>

#include "clipper_region.h"
#include "lidwright/geometry/pose.h"
#include "trace_text.h"

namespace lidwright {
namespace {

using Board = std::vector<std::pair<double, double>>;
using testing::ClipperRegion;

Board Plank(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

// The case of kCasePoints in three boards: the floor between the walls, `into` further on both
// sides (negative: that far from them).
std::vector<Board> CaseBoards(double into = 0.0) {
  return {Plank(0, -100, 10, 0), Plank(10 - into, -100, 190 + into, -90), Plank(190, -100, 200, 0)};
}

std::string SvgBoards(const std::vector<Board>& boards) {
  std::string text = "<g id=\"case\">\n";
  for (const Board& board : boards) text += "<polygon points=\"" + PointsText(board) + "\"/>\n";
  return SvgSheet(text + "</g>\n" + kLidLine);
}

// Each board as four loose lines, without those whose number (four a board) is in `without`.
std::string DxfLines(const std::vector<Board>& boards, const std::vector<std::size_t>& without) {
  std::string text;
  std::size_t number = 0;
  for (const Board& board : boards) {
    for (std::size_t i = 0; i < board.size(); ++i, ++number) {
      if (std::find(without.begin(), without.end(), number) != without.end()) continue;
      const auto [x, y] = board[i];
      const auto [u, v] = board[(i + 1) % board.size()];
      text += "0 LINE|8 CASE|10 " + std::to_string(x) + "|20 " + std::to_string(y) + "|11 " +
              std::to_string(u) + "|21 " + std::to_string(v) + "|";
    }
  }
  return text;
}

std::string DxfBoards(const std::vector<Board>& boards, const std::string& lid) {
  std::string text;
  for (const Board& board : boards) text += DxfPolyline("CASE", board);
  return DxfSheet(text + lid);
}

TracedOutline TraceBoards(const std::vector<Board>& boards, double close_mm = 0.5) {
  TraceOptions options;
  options.file_name = "box.dxf";
  options.gap_limit_mm = close_mm;
  return TraceDxf(DxfBoards(boards, DxfPolyline("LID", kLidPoints)), options);
}

std::string Refusal(const std::vector<Board>& boards, double close_mm = 0.5) {
  const TracedOutline traced = TraceBoards(boards, close_mm);
  CHECK_FALSE(traced.problems.empty());
  return Lines(traced.problems);
}

Ring RingOf(const Board& board) {
  Ring ring;
  for (const auto& [x, y] : board) ring.emplace_back(x, y);
  return ring;
}

}  // namespace

TEST_CASE("boards that touch along glue lines become one section, from both kinds of file",
          "[trace][unite]") {
  TraceOptions options;
  options.file_name = "box";
  for (const TracedOutline& traced :
       {TraceBoards(CaseBoards()), TraceSvg(SvgBoards(CaseBoards()), options)}) {
    CheckPlainBox(traced, 1e-12);
    CHECK(Says(Lines(traced.notes), "case: united 3 pieces: "));
    CHECK_FALSE(Says(Lines(traced.notes), "gap"));
    CHECK_FALSE(Says(Lines(traced.notes), "overlap"));
  }
}

TEST_CASE("boards that overlap, as in a rebate, are united and the overlap is told",
          "[trace][unite]") {
  const TracedOutline traced = TraceBoards(CaseBoards(3));
  CheckPlainBox(traced, 1e-12);
  CHECK(Says(Lines(traced.notes),
             "case: LWPOLYLINE on layer CASE (line 16) and LWPOLYLINE on layer CASE (line 40) "
             "overlap by up to 3 mm (30 mm2) at ("));
}

TEST_CASE("a hairline gap between boards is bridged flush and told, a wider one refused",
          "[trace][unite]") {
  for (const double gap : {0.002, 0.05, 0.3, 0.5}) {
    const TracedOutline traced = TraceBoards(CaseBoards(-gap));
    INFO(gap << "\n" << Lines(traced.notes));
    CheckPlainBox(traced, 1e-9);
    CHECK(Says(Lines(traced.notes), "case: a gap of up to "));
    CHECK(Says(Lines(traced.notes), "bridged at ("));
  }
  CHECK(Says(Lines(TraceBoards(CaseBoards(-0.3)).notes), "a gap of up to 0.3 mm between LWPOLY"));
  CHECK(Refusal(CaseBoards(-0.3), 0.2) ==
        "box.dxf: case: LWPOLYLINE on layer CASE (line 16) stands 0.3 mm apart from the other "
        "pieces at (10, -100) (gaps up to 0.2 mm are bridged; move it up to them, or, where the "
        "section goes through an opening, draw it beside that)\n"
        "box.dxf: case: LWPOLYLINE on layer CASE (line 64) stands 0.3 mm apart from the other "
        "pieces at (190, -90) (gaps up to 0.2 mm are bridged; move it up to them, or, where the "
        "section goes through an opening, draw it beside that)\n");
}

TEST_CASE("a board that lies alone is refused with its place", "[trace][unite]") {
  std::vector<Board> boards = CaseBoards();
  boards.push_back(Plank(80, -60, 120, -50));
  CHECK(Says(Refusal(boards), "(line 88) stands 30 mm apart from the other pieces at ("));
}

TEST_CASE("boards that meet in a corner only are refused", "[trace][unite]") {
  CHECK(Says(Refusal({Plank(0, -100, 10, 0), Plank(10, -90, 190, -80), Plank(190, -80, 200, 0)}),
             "meets the other pieces only in a point, at (190, -80)"));
}

TEST_CASE("an outline inside another that touches its edge may be wood or hollow: refused",
          "[trace][unite]") {
  CHECK(Says(Refusal({Plank(0, -100, 200, 0), Plank(10, -90, 190, 0)}), "touches its edge at ("));
  CHECK(Says(Refusal({Plank(0, -100, 200, 0), Plank(10, -90, 190, 0)}), "a hollow or a board?"));
}

TEST_CASE("boards of loose lines with their glue lines drawn twice or once", "[trace][unite]") {
  const std::string lid = DxfPolyline("LID", kLidPoints);
  // Flush below: wall and floor share a corner. Then a floor that meets the walls higher up.
  std::vector<Board> flush = CaseBoards();
  std::vector<Board> raised = {Plank(0, -100, 10, 0), Plank(10, -90, 190, -80),
                               Plank(190, -100, 200, 0)};
  const std::vector<std::vector<std::size_t>> once = {{}, {7}, {5, 7}};  // the floor's ends
  for (const std::vector<std::size_t>& without : once) {
    const TracedOutline traced = TraceDxf(DxfSheet(DxfLines(flush, without) + lid), {});
    INFO(without.size() << "\n" << Lines(traced.notes));
    CheckPlainBox(traced, 1e-9);
    const TracedOutline higher = TraceDxf(DxfSheet(DxfLines(raised, without) + lid), {});
    INFO(Lines(higher.problems) << Lines(higher.notes));
    REQUIRE(higher.problems.empty());
    ClipperRegion expected, found;
    for (const Board& board : raised) expected.AddPiece({RingOf(board)});
    found.AddPiece(higher.case_rings);
    CHECK(expected.Unlike_mm2(found) < 1e-4);
    CHECK(higher.case_rings[0].size() == 12);
  }
  // Closed walls and a floor of three sides that ends on one of them.
  std::vector<Board> walls = {flush[0], flush[2]};
  const std::string open = DxfPolyline("CASE", {{10, -90}, {190, -90}, {190, -100}, {10, -100}});
  std::string three = open;
  three.replace(three.find("|70 1|"), 6, "|70 0|");
  CheckPlainBox(TraceDxf(DxfBoards(walls, three + lid), {}), 1e-12);
}

TEST_CASE("a mitred corner that stands open is filled to its point", "[trace][unite]") {
  const double h = 0.2;  // each mitre lies so far back: the gap is h √2
  const TracedOutline traced =
      TraceBoards({{{0, -100 + h}, {10, -90 + h}, {10, 0}, {0, 0}},
                   {{h, -100}, {200 - h, -100}, {190 - h, -90}, {10 + h, -90}},
                   {{200, -100 + h}, {200, 0}, {190, 0}, {190, -90 + h}}});
  CheckPlainBox(traced, 1e-9);
  CHECK(Says(Lines(traced.notes), "a gap of up to 0.28"));
}

TEST_CASE("a frame of boards keeps its hollow, and a groove in one board stays", "[trace][unite]") {
  // A lid of top, bottom and two rails; a saw cut of 0.4 mm in the top is not a gap between boards.
  const std::vector<Board> lid = {
      Plank(0, 0, 200, 8),
      Plank(0, 8, 10, 30),
      Plank(190, 8, 200, 30),
      {{0, 30}, {200, 30}, {200, 40}, {100.4, 40}, {100.4, 35}, {100, 35}, {100, 40}, {0, 40}}};
  std::string entities;
  for (const Board& board : lid) entities += DxfPolyline("LID", board);
  const TracedOutline traced = TraceDxf(DxfBoards({kCasePoints}, entities), {});
  INFO(Lines(traced.problems));
  REQUIRE(traced.problems.empty());
  REQUIRE(traced.lid_rings.size() == 2);
  ClipperRegion expected, found;
  expected.AddPiece({RingOf(Plank(0, 0, 200, 40)), RingOf(Plank(10, 8, 190, 30)),
                     RingOf(Plank(100, 35, 100.4, 40))});
  found.AddPiece(traced.lid_rings);
  CHECK(expected.Unlike_mm2(found) < 1e-4);
  CHECK(traced.lid_rings[0].size() + traced.lid_rings[1].size() == 8 + 4);
}

TEST_CASE("a hollow drawn in a board stays when the board is united", "[trace][unite]") {
  std::vector<Board> boards = CaseBoards();
  boards.push_back(Plank(90, -98, 110, -92));
  const TracedOutline traced = TraceBoards(boards);
  REQUIRE(traced.problems.empty());
  REQUIRE(traced.case_rings.size() == 2);
  // A tenon that fills it but for 0.2 mm all round closes it again.
  boards.push_back(Plank(90.2, -97.8, 109.8, -92.2));
  const TracedOutline filled = TraceBoards(boards);
  CheckPlainBox(filled, 1e-9);
}

TEST_CASE("a lid of two bent layers a tenth apart, on rails, is one section", "[trace][unite]") {
  const auto layer = [](double outer, double inner) {
    const auto at = [](double x) { return std::to_string(120 + x) + ",40 "; };
    const auto arc = [](double r, int sweep) {
      return "A" + std::to_string(r) + " " + std::to_string(r) + " 0 0 " + std::to_string(sweep) +
             " ";
    };
    return "<path d=\"M" + at(-outer) + arc(outer, 1) + at(outer) + "L" + at(inner) +
           arc(inner, 0) + at(-inner) + "Z\"/>\n";
  };
  const std::string lid = "<g id=\"lid\">\n" + layer(100, 94) + layer(93.9, 88) +
                          "<rect x=\"20\" y=\"40\" width=\"12\" height=\"10\"/>\n"
                          "<rect x=\"208\" y=\"40\" width=\"12\" height=\"10\"/>\n</g>\n";
  const TracedOutline traced = TraceSvg(SvgSheet(kCaseLine + lid), {});
  INFO(Lines(traced.problems) << Lines(traced.notes));
  REQUIRE(traced.problems.empty());
  REQUIRE(traced.lid_rings.size() == 1);
  CHECK(Says(Lines(traced.notes), "lid: a gap of up to 0.1"));
  // Half a tube and two rails; the gap is 29.5 mm², what chords may leave out 12 mm².
  const double area = kPi / 2.0 * (100. * 100 - 88. * 88) + 2 * 12 * 10;
  CHECK(SignedArea(traced.lid_rings[0]) == Approx(area).margin(0.02 * kPi * (100 + 88)));
}

TEST_CASE(
    "boards turned, shifted and drawn a little wrong: the union is Clipper's and what is "
    "added lies in the gaps",
    "[trace][unite]") {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> any(0.0, 1.0);
  int bridged = 0, overlapped = 0, turned = 0;
  for (int round = 0; round < 120; ++round) {
    // Four boards of a box with a partition, each out of place by up to `slack` and out of square.
    const double slack = round % 4 == 0 ? 0.0 : 0.2 * any(random);
    const double all_rad = round % 3 == 0 ? 0.0 : 0.05 * (any(random) - 0.5);
    const Pose place = Pose::Make(all_rad, Vec2{300 * any(random), 300 * any(random)});
    std::vector<Board> drawn;
    std::vector<Ring> rings;
    std::vector<Board> boards = CaseBoards(round % 2 == 0 ? 0.0 : 2.0 * any(random));
    boards.push_back(Plank(95, -90, 105, -30));
    for (const Board& board : boards) {
      Ring ring = RingOf(board);
      const Pose own = Pose::Make(slack * 0.01 * (any(random) - 0.5),
                                  Vec2{slack * (any(random) - 0.5), slack * (any(random) - 0.5)});
      ring = Moved(Moved(ring, own), place);
      Board out;
      for (Vec2& p : ring) {
        if (round % 5 == 0) p = (p * 1000.0).array().round() / 1000.0;  // as a program writes it
        out.emplace_back(p.x(), p.y());
        p = {std::stod(std::to_string(p.x())), std::stod(std::to_string(p.y()))};
      }
      drawn.push_back(out);
      rings.push_back(ring);
    }
    // A lid far enough above all that to be none of the question.
    Ring lid = Moved(RingOf(Plank(-5, 1.5, 205, 30)), place);
    Board lid_board;
    for (const Vec2& p : lid) lid_board.emplace_back(p.x(), p.y());
    const TracedOutline traced = TraceDxf(DxfBoards(drawn, DxfPolyline("LID", lid_board)), {});
    INFO(round << "\n" << Lines(traced.problems) << Lines(traced.notes));
    REQUIRE(traced.problems.empty());
    std::vector<Ring> found_rings = traced.case_rings;
    for (Ring& ring : found_rings) {
      for (Vec2& p : ring) p += traced.origin_mm;
    }
    ClipperRegion pieces, found;
    for (const Ring& ring : rings) pieces.AddPiece({ring});
    found.AddPiece(found_rings);
    // Nothing is lost, and nothing gained but in gaps: no point of it far from two boards.
    CHECK(pieces.Minus_mm2(found) < 0.01);
    if (!Says(Lines(traced.notes), "gap")) CHECK(pieces.Unlike_mm2(found) < 0.01);
    const Rect2 box = Bounds(found_rings);
    int asked = 0;
    for (int k = 0; k < 1500; ++k) {
      // Near the boards' edges, where something may have been added.
      const Ring& ring = rings[static_cast<std::size_t>(any(random) * 4) % 4];
      const std::size_t e = static_cast<std::size_t>(any(random) * 4) % 4;
      Vec2 p = ring[e] + any(random) * (ring[(e + 1) % 4] - ring[e]);
      p += 0.6 * Vec2{any(random) - 0.5, any(random) - 0.5};
      int near = 0;
      double nearest = 1e300;
      for (const Ring& piece : rings) {
        const double distance = SignedDistance({piece}, p);
        near += distance <= 0.36;  // half the limit at a right angle's corner: √2 · 0.25
        nearest = std::min(nearest, distance);
      }
      const double inside = SignedDistance(found_rings, p);
      if (nearest < -1e-5) CHECK(inside < 0.0);
      if (inside < -1e-5 && nearest > 1e-5) {
        ++asked;
        CHECK(near >= 2);
      }
    }
    bridged += asked > 0;
    overlapped += Says(Lines(traced.notes), "overlap");
    turned += all_rad != 0.0;
    CHECK(found_rings.size() == 1);
    CHECK(box.high.x() > box.low.x());
    // Corners of the boards that are corners of the outline are there to the last digits.
    for (const Vec2& corner : {rings[0][0], rings[2][1]}) {
      double off = 1e300;
      for (const Vec2& p : found_rings[0]) off = std::min(off, (p - corner).norm());
      const bool hidden = SignedDistance(found_rings, corner) < -1e-4;
      if (!hidden) CHECK(off < 1e-9);
    }
  }
  CHECK(bridged > 20);
  CHECK(overlapped > 20);
  CHECK(turned > 40);
}

}  // namespace lidwright
