// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "clean_text.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/drawing/canvas.h"

// The SVG is written here and not by Cairo: that one rounds to 1/256 mm, turns arcs into splines
// and text into outlines, and numbers its definitions so that two drawings cannot stand in one
// page.
namespace lidwright {
namespace {

constexpr double kFontPerCapital = 1.0 / 0.729;  // font size per height of capitals, DejaVu Sans

std::string Hex(const Colour& colour) {
  const char* digits = "0123456789abcdef";
  std::string text = "#";
  for (int shift = 20; shift >= 0; shift -= 4) text += digits[(colour.rgb >> shift) & 0xF];
  return text;
}

std::string PaintOf(const std::optional<Colour>& fill, const std::optional<Pen>& pen) {
  std::string text = fill ? " fill=\"" + Hex(*fill) + "\"" : " fill=\"none\"";
  if (!pen) return text + "/>\n";
  text += " stroke=\"" + Hex(pen->colour) + "\" stroke-width=\"" + Text(pen->width_mm) + "\"";
  if (!pen->dash_mm.empty()) {
    text += " stroke-dasharray=\"";
    for (std::size_t i = 0; i < pen->dash_mm.size(); ++i) {
      text += (i == 0 ? "" : " ") + Text(pen->dash_mm[i]);
    }
    text += "\"";
  }
  return text + "/>\n";
}

struct SvgWriter {
  double height_mm;
  std::string* out;

  std::string Point(const Vec2& p) const { return Text(p.x()) + " " + Text(height_mm - p.y()); }

  // Arcs go out in pieces of a third of a turn at most: well-conditioned for every reader.
  std::string ArcTo(const Vec2& a, const Vec2& b, double bulge) const {
    const Arc arc = ArcOf(a, b, bulge);
    const int pieces =
        static_cast<int>(std::ceil(std::abs(arc.sweep_rad) / (2.0 * kPi / 3.0) - 1e-9));
    const std::string radius = Text(arc.radius_mm);
    std::string text;
    for (int k = 1; k <= pieces; ++k) {
      const double angle = arc.start_rad + arc.sweep_rad * k / pieces;
      const Vec2 end =
          k == pieces ? b : arc.centre + arc.radius_mm * Vec2(std::cos(angle), std::sin(angle));
      // Counter-clockwise with y up is the direction of falling angles with y down: flag 0.
      text += "A" + radius + " " + radius + " 0 0 " + (bulge > 0.0 ? "0 " : "1 ") + Point(end);
    }
    return text;
  }

  std::string Data(const Trail& trail) const {
    const std::size_t n = trail.vertices.size();
    if (n == 0) return "";
    std::string text = "M" + Point(trail.vertices[0].point);
    for (std::size_t i = 0; i < n; ++i) {
      if (i + 1 == n && !trail.closed) break;
      const OutlineVertex& a = trail.vertices[i];
      const Vec2& b = trail.vertices[(i + 1) % n].point;
      if (a.bulge != 0.0 && a.point != b) {
        text += ArcTo(a.point, b, a.bulge);
      } else if (i + 1 < n) {
        text += "L" + Point(b);
      }
    }
    return trail.closed ? text + "Z" : text;
  }

  void operator()(const Canvas::Shape& shape) const {
    *out += "<path d=\"";
    for (const Trail& trail : shape.path) *out += Data(trail);
    *out += "\"" + PaintOf(shape.fill, shape.pen);
  }
  void operator()(const Canvas::Disc& disc) const {
    const Circle& c = disc.circle;
    *out += "<circle";
    if (!disc.name.empty()) *out += " class=\"" + XmlText(disc.name) + "\"";
    *out += " cx=\"" + Text(c.centre.x()) + "\" cy=\"" + Text(height_mm - c.centre.y()) +
            "\" r=\"" + Text(c.radius_mm) + "\"" + PaintOf(disc.fill, disc.pen);
  }
  void operator()(const Canvas::Words& words) const {
    const std::string x = Text(words.start.x()), y = Text(height_mm - words.start.y());
    *out += "<text x=\"" + x + "\" y=\"" + y + "\" font-size=\"" +
            Text(words.height_mm * kFontPerCapital) + "\" textLength=\"" + Text(words.length_mm) +
            "\" lengthAdjust=\"spacingAndGlyphs\" fill=\"" + Hex(words.colour) + "\"";
    if (words.upright) *out += " transform=\"rotate(-90 " + x + " " + y + ")\"";
    *out += ">" + XmlText(words.text) + "</text>\n";
  }
  void operator()(const Canvas::GroupStart& group) const {
    *out += "<g class=\"" + XmlText(group.name) + "\">\n";
  }
  void operator()(const Canvas::GroupEnd&) const { *out += "</g>\n"; }
};

}  // namespace

std::string Canvas::SvgOpening() const {
  const std::string width = Text(width_mm_), height = Text(height_mm_);
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"" + width +
         "mm\" height=\"" + height + "mm\" viewBox=\"0 0 " + width + " " + height +
         "\" font-family=\"DejaVu Sans, Verdana, sans-serif\" fill-rule=\"evenodd\" "
         "stroke-linecap=\"round\" stroke-linejoin=\"round\">\n<title>" +
         XmlText(title_) + "</title>\n";
}

std::string Canvas::SvgItems() const {
  LW_REQUIRE(open_groups_ == 0, open_groups_ << " groups not ended");
  std::string text;
  for (const Item& item : items_) std::visit(SvgWriter{height_mm_, &text}, item);
  return text;
}

std::string Canvas::Svg() const {
  return SvgOpening() + "<rect width=\"" + Text(width_mm_) + "\" height=\"" + Text(height_mm_) +
         "\" fill=\"#ffffff\"/>\n" + SvgItems() + "</svg>\n";
}

}  // namespace lidwright
