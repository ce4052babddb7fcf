// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/canvas.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "svg_reader.h"

namespace lidwright {
namespace {

using testing::Element;
using testing::Named;
using testing::ReadSvg;

Trail Closed(const Ring& ring) {
  Trail trail{{}, true};
  for (const Vec2& p : ring) trail.vertices.push_back({p, 0.0});
  return trail;
}

std::string OnlyText(const std::string& written) {
  Canvas canvas(100.0, 50.0, "t");
  canvas.Write(written, {10.0, 10.0}, {});
  const auto texts = testing::TextsOf(ReadSvg(canvas.Svg()));
  REQUIRE(texts.size() == 1);
  return texts[0];
}

TEST_CASE("a canvas writes an SVG in millimetres with y downwards") {
  Canvas canvas(120.0, 80.5, "A & B");
  canvas.Begin("group");
  canvas.Draw(Circle{{10.0, 20.0}, 3.25}, Colour{0xff8000}, Pen{0.25, {}, {1.0, 0.5}}, "eye");
  canvas.End();
  canvas.Draw({{{{{1.0, 2.0}, 0.0}, {{30.0, 2.0}, 0.0}}, false}}, std::nullopt, Pen{});
  const auto all = ReadSvg(canvas.Svg());
  CHECK(all[0].attributes.at("width") == "120mm");
  CHECK(all[0].attributes.at("height") == "80.5mm");
  CHECK(all[0].attributes.at("viewBox") == "0 0 120 80.5");
  CHECK(Named(all, "title").at(0).text == "A & B");
  const Element circle = Named(all, "circle").at(0);
  CHECK(circle.Class() == "eye");
  CHECK(circle.In("group"));
  CHECK(circle.Number("cx") == 10.0);
  CHECK(circle.Number("cy") == 60.5);
  CHECK(circle.Number("r") == 3.25);
  CHECK(circle.attributes.at("fill") == "#ff8000");
  CHECK(circle.attributes.at("stroke-dasharray") == "1 0.5");
  const Element line = Named(all, "path").at(0);
  CHECK_FALSE(line.In("group"));
  CHECK(line.attributes.at("d") == "M1 78.5L30 78.5");
}

// The centre of an SVG arc from its end points, radius and flags: SVG 1.1, F.6.5.
TEST_CASE("arcs keep centre and direction in the SVG, whatever they turn") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> place(20.0, 80.0), turn(-5.9, 5.9);
  int arcs = 0;
  for (int i = 0; i < 200; ++i) {
    const Vec2 a(place(random), place(random)), b(place(random), place(random));
    const double sweep = turn(random);
    if ((b - a).norm() < 5.0 || std::abs(sweep) < 0.3) continue;
    const double bulge = std::tan(sweep / 4.0);
    Canvas canvas(400.0, 400.0, "");
    canvas.Draw({{{{a, bulge}, {b, 0.0}}, false}}, std::nullopt, Pen{});
    const std::string data = Named(ReadSvg(canvas.Svg()), "path").at(0).attributes.at("d");
    // Its own centre: on the chord's bisector, sweep known.
    const Vec2 chord = b - a, middle = (a + b) / 2.0;
    const Vec2 centre = middle + Perp(chord) / (2.0 * std::tan(sweep / 2.0));
    const auto points = testing::PointsOf(data);
    REQUIRE(points.size() >= 2);
    CHECK((points.front() - Vec2(a.x(), 400.0 - a.y())).norm() < 1e-3);
    CHECK((points.back() - Vec2(b.x(), 400.0 - b.y())).norm() < 1e-3);
    double turned = 0.0;
    for (std::size_t k = 0; k + 1 < points.size(); ++k) {
      const Vec2 p(points[k].x(), 400.0 - points[k].y());
      const Vec2 q(points[k + 1].x(), 400.0 - points[k + 1].y());
      CHECK(std::abs((q - centre).norm() - (a - centre).norm()) < 2e-3);
      turned +=
          std::atan2(Cross(Vec2(p - centre), Vec2(q - centre)), Vec2(p - centre).dot(q - centre));
    }
    CHECK(std::abs(turned - sweep) < 2e-3);
    // y is turned over, so counter-clockwise arcs carry the sweep flag 0.
    CHECK(data.find(sweep > 0.0 ? " 0 0 0 " : " 0 0 1 ") != std::string::npos);
    CHECK(data.find(sweep > 0.0 ? " 0 0 1 " : " 0 0 0 ") == std::string::npos);
    ++arcs;
  }
  CHECK(arcs > 100);
}

TEST_CASE("hatching fills exactly the inside, holes left out") {
  // Cavalieri: the lines' length times their pitch is the area as the pitch goes to nothing.
  const Ring outer = {{10.0, 10.0}, {90.0, 15.0}, {80.0, 70.0}, {50.0, 40.0}, {20.0, 75.0}};
  const Ring hole = {{40.0, 20.0}, {40.0, 30.0}, {60.0, 30.0}, {60.0, 20.0}};
  const double area = std::abs(SignedArea(outer)) - std::abs(SignedArea(hole));
  for (const double angle : {0.0, 0.3, kPi / 4.0, kPi / 2.0, 2.2}) {
    Canvas canvas(100.0, 100.0, "");
    const double pitch = 0.2;
    canvas.Hatch({Closed(outer), Closed(hole)}, angle, pitch, Pen{});
    REQUIRE(canvas.items().size() == 1);
    const auto& lines = std::get<Canvas::Shape>(canvas.items()[0]).path;
    double length = 0.0;
    for (const Trail& line : lines) {
      REQUIRE(line.vertices.size() == 2);
      const Vec2 a = line.vertices[0].point, b = line.vertices[1].point;
      length += (b - a).norm();
      CHECK(std::abs(std::sin(std::atan2(b.y() - a.y(), b.x() - a.x()) - angle)) < 1e-9);
      for (const double share : {0.01, 0.5, 0.99}) {
        CHECK(Contains({outer, hole}, a + share * (b - a)));
      }
    }
    CHECK(length * pitch == Approx(area).epsilon(2e-3));
    CHECK(canvas.InkIn({{0.0, 0.0}, {100.0, 100.0}}) == 0.0);
    CHECK(canvas.HatchIn({{0.0, 0.0}, {100.0, 100.0}}) > 0.0);
  }
}

TEST_CASE("dots of neighbouring hatch lines lie on one grid") {
  Canvas canvas(100.0, 100.0, "");
  const Pen dots{0.4, {}, {0.0, 2.0}};
  canvas.Hatch({Closed({{3.3, 3.1}, {77.7, 9.9}, {50.0, 80.0}})}, 0.0, 1.5, dots);
  const auto& lines = std::get<Canvas::Shape>(canvas.items().at(0)).path;
  REQUIRE(lines.size() > 20);
  for (const Trail& line : lines) {
    const Vec2 start = line.vertices[0].point;
    const bool odd = std::lround(start.y() / 1.5) % 2 != 0;
    const double share = start.x() / 2.0 - (odd ? 0.5 : 0.0);
    CHECK(std::abs(share - std::round(share)) < 1e-9);
  }
}

TEST_CASE("ink is the length of the lines within a box") {
  Canvas canvas(100.0, 100.0, "");
  canvas.Draw({{{{{0.0, 50.0}, 0.0}, {{100.0, 50.0}, 0.0}}, false}}, std::nullopt, Pen{});
  canvas.Draw(Circle{{50.0, 50.0}, 10.0}, std::nullopt, Pen{});
  CHECK(canvas.InkIn({{20.0, 45.0}, {30.0, 55.0}}) == Approx(10.0));
  CHECK(canvas.InkIn({{20.0, 51.0}, {30.0, 55.0}}) == 0.0);
  CHECK(canvas.InkIn({{0.0, 0.0}, {100.0, 100.0}}) == Approx(100.0 + 20.0 * kPi).epsilon(1e-2));
}

TEST_CASE("a text fills the box that was promised, turned or not") {
  Canvas canvas(200.0, 200.0, "");
  Lettering lettering;
  lettering.height_mm = 5.0;
  lettering.along = 0.5;
  lettering.across = 0.5;
  const Vec2 at(100.0, 100.0);
  const Rect2 flat = canvas.BoxOf("Harp", at, lettering);
  lettering.upright = true;
  const Rect2 turned = canvas.BoxOf("Harp", at, lettering);
  canvas.Write("Harp", at, lettering);
  REQUIRE(canvas.texts().size() == 1);
  CHECK((canvas.texts()[0].box.low - turned.low).norm() == 0.0);
  // A quarter turn about the middle: widths and heights change places.
  const Vec2 a = flat.high - flat.low, b = turned.high - turned.low;
  CHECK(a.x() == Approx(b.y()));
  CHECK(a.y() == Approx(b.x()));
  CHECK(a.y() > 5.0);  // the p reaches below the base line
  CHECK(a.y() < 8.0);
  CHECK(a.x() == Approx(LengthOf("Harp", 5.0)));
  const Element text = Named(ReadSvg(canvas.Svg()), "text").at(0);
  CHECK(text.Number("textLength") == Approx(LengthOf("Harp", 5.0)).margin(1e-3));
  CHECK(text.attributes.at("transform").find("rotate(-90 ") == 0);
  CHECK_FALSE(canvas.Free({{99.0, 99.0}, {101.0, 101.0}}, 0.0));
  CHECK(canvas.Free({{20.0, 20.0}, {30.0, 30.0}}, 1.0));
  CHECK_FALSE(canvas.Free({{-1.0, 20.0}, {30.0, 30.0}}, 1.0));
}

TEST_CASE("capitals are as high as the lettering says") {
  // 0.729 of the font size in DejaVu Sans: its OS/2 table has sCapHeight 1493 of 2048 units.
  Canvas canvas(100.0, 100.0, "");
  canvas.Write("H", {10.0, 10.0}, {});
  CHECK(Named(ReadSvg(canvas.Svg()), "text").at(0).Number("font-size") * 1493.0 / 2048.0 ==
        Approx(2.5).epsilon(1e-3));
}

TEST_CASE("text that XML or UTF-8 forbids does no harm") {
  const std::string replaced = "\xEF\xBF\xBD";
  CHECK(OnlyText("a<b & \"c\">") == "a<b & \"c\">");
  CHECK(OnlyText("tab\tand  line\n end ") == "tab and line end");
  CHECK(OnlyText(std::string("a\x01z")) == "a" + replaced + "z");
  CHECK(OnlyText("a\xC3z") == "a" + replaced + "z");                         // cut short
  CHECK(OnlyText("\xC0\xAFz") == replaced + replaced + "z");                 // overlong
  CHECK(OnlyText("\xED\xA0\x80z") == replaced + replaced + replaced + "z");  // surrogate
  CHECK(OnlyText("\xEF\xBF\xBFz") == replaced + "z");                        // noncharacter
  CHECK(OnlyText("\xC3\xA9 \xE2\x8C\x80 \xF0\x9D\x84\x9E") ==
        "\xC3\xA9 \xE2\x8C\x80 \xF0\x9D\x84\x9E");
  Canvas canvas(10.0, 10.0, "\x01<&>");
  CHECK(Named(ReadSvg(canvas.Svg()), "title").at(0).text == replaced + "<&>");
  CHECK(canvas.Pdf().substr(0, 5) == "%PDF-");
}

TEST_CASE("texts are cut at whole characters to fit") {
  const std::string text = "Sch\xC3\xA4tzk\xC3\xA4stchen f\xC3\xBCr Tee";
  CHECK(Fitted(text, 500.0, 2.5) == text);
  for (double length = 2.0; length < LengthOf(text, 2.5); length += 0.7) {
    const std::string cut = Fitted(text, length, 2.5);
    if (cut != "\xE2\x80\xA6") CHECK(LengthOf(cut, 2.5) <= length);
    CHECK(OnlyText(cut) == cut);  // still whole UTF-8
    CHECK(text.compare(0, cut.size() - 3, cut, 0, cut.size() - 3) == 0);
  }
}

TEST_CASE("a drawing has the same bytes whenever it is written") {
  const auto make = [] {
    Canvas canvas(100.0, 60.0, "same");
    canvas.Draw(Circle{{20.0, 20.0}, 5.0}, Colour{0x336699}, Pen{});
    canvas.Write("same \xCE\xB8", {40.0, 40.0}, {});
    return canvas;
  };
  const Canvas first = make();
  const std::string pdf = first.Pdf();
  make().Pdf();  // another one in between must not count
  const Canvas second = make();
  CHECK(first.Svg() == second.Svg());
  CHECK(pdf == second.Pdf());
  CHECK(pdf == first.Pdf());
  CHECK(pdf.find("(20000101000000Z)") != std::string::npos);
}

TEST_CASE("a document of several pages keeps each page's size") {
  const Canvas a(210.0, 297.0, "two"), b(297.0, 210.0, "");
  const std::string pdf = WritePdf({a, b});
  CHECK(pdf.find("/Count 2") != std::string::npos);
  CHECK_THROWS_AS(WritePdf({}), ContractError);
}

TEST_CASE("a canvas refuses what it cannot draw") {
  CHECK_THROWS_AS(Canvas(0.0, 10.0, ""), ContractError);
  CHECK_THROWS_AS(Canvas(10.0, kUnset, ""), ContractError);
  Canvas canvas(10.0, 10.0, "");
  CHECK_THROWS_AS(canvas.Draw({{{{{kUnset, 0.0}, 0.0}}, false}}, std::nullopt, Pen{}),
                  ContractError);
  CHECK_THROWS_AS(canvas.Draw(Circle{{0.0, 0.0}, 0.0}, std::nullopt, Pen{}), ContractError);
  CHECK_THROWS_AS(canvas.End(), ContractError);
  canvas.Begin("open");
  CHECK_THROWS_AS(canvas.Svg(), ContractError);
}

}  // namespace
}  // namespace lidwright
