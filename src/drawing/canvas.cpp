// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/canvas.h"

#include <cairo-ft.h>
#include <cairo-pdf.h>
#include <cairo.h>
#include <ft2build.h>
#include FT_FREETYPE_H

#include <algorithm>
#include <cmath>
#include <memory>

#include "boxes.h"
#include "clean_text.h"
#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr const char* kFont = "DejaVu Sans";
constexpr double kFontPerCapital = 1.0 / 0.729;  // font size per height of capitals, DejaVu Sans
constexpr double kMeasureSize = 100.0;  // large, so that the rasteriser's grid does not show
constexpr double kPointPerMm = 72.0 / kMmPerInch;
constexpr double kInkChord_mm = 0.1;

template <auto Destroy>
struct Destroyer {
  template <typename T>
  void operator()(T* object) const {
    Destroy(object);
  }
};
using FontFace = std::unique_ptr<cairo_font_face_t, Destroyer<cairo_font_face_destroy>>;
using FontOptions = std::unique_ptr<cairo_font_options_t, Destroyer<cairo_font_options_destroy>>;
using ScaledFont = std::unique_ptr<cairo_scaled_font_t, Destroyer<cairo_scaled_font_destroy>>;
using Surface = std::unique_ptr<cairo_surface_t, Destroyer<cairo_surface_destroy>>;
using Context = std::unique_ptr<cairo_t, Destroyer<cairo_destroy>>;

FontFace MakeFace() {
  return FontFace(
      cairo_toy_font_face_create(kFont, CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL));
}

FontOptions MakeOptions() {  // nothing depends on a screen
  FontOptions options(cairo_font_options_create());
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
  return options;
}

// Ink above and below the base line and the advance, per millimetre of font size.
struct TextSize {
  double length = 0.0, above = 0.0, below = 0.0;
};

cairo_scaled_font_t* MeasuringFont() {
  static const ScaledFont kMeasuring = [] {
    cairo_matrix_t size, identity;
    cairo_matrix_init_scale(&size, kMeasureSize, kMeasureSize);
    cairo_matrix_init_identity(&identity);
    return ScaledFont(
        cairo_scaled_font_create(MakeFace().get(), &size, &identity, MakeOptions().get()));
  }();
  return kMeasuring.get();
}

TextSize Measure(const std::string& clean, double height_mm) {
  cairo_text_extents_t extents;
  cairo_scaled_font_text_extents(MeasuringFont(), clean.c_str(), &extents);
  const double scale = height_mm * kFontPerCapital / kMeasureSize;
  TextSize text;
  text.length = scale * std::max(extents.x_advance, extents.x_bearing + extents.width);
  text.above = std::max(height_mm, -scale * extents.y_bearing);
  text.below = std::max(0.0, scale * (extents.height + extents.y_bearing));
  return text;
}

struct Setting {  // where a text stands and what it covers
  Vec2 start;
  double length_mm;
  Rect2 box;
};

Setting Set(const std::string& clean, const Vec2& at, const Lettering& lettering) {
  const TextSize size = Measure(clean, lettering.height_mm);
  const Vec2 along = lettering.upright ? Vec2(0.0, 1.0) : Vec2(1.0, 0.0);
  const Vec2 across = Perp(along);
  Setting set;
  set.length_mm = size.length;
  set.start =
      at - lettering.along * size.length * along - lettering.across * lettering.height_mm * across;
  set.box.Add(set.start - size.below * across);
  set.box.Add(set.start + size.length * along + size.above * across);
  return set;
}

void RequireFinite(const Path& path) {
  for (const Trail& trail : path) {
    for (const OutlineVertex& v : trail.vertices) {
      LW_REQUIRE(v.point.allFinite() && std::isfinite(v.bulge), "at " << v.point.transpose());
    }
  }
}

// The chords of a trail, without the closing one.
std::vector<Vec2> Chorded(const Trail& trail, double error_mm) {
  std::vector<Vec2> points;
  for (std::size_t i = 0; i < trail.vertices.size(); ++i) {
    const OutlineVertex& a = trail.vertices[i];
    points.push_back(a.point);
    const bool last = i + 1 == trail.vertices.size();
    if (a.bulge == 0.0 || (last && !trail.closed)) continue;
    const Vec2& b = trail.vertices[last ? 0 : i + 1].point;
    if (a.point == b) continue;
    const Arc arc = ArcOf(a.point, b, a.bulge);
    const double step = 2.0 * std::acos(1.0 - std::min(0.5, error_mm / arc.radius_mm));
    const int pieces = std::max(1, static_cast<int>(std::ceil(std::abs(arc.sweep_rad) / step)));
    for (int k = 1; k < pieces; ++k) {
      const double angle = arc.start_rad + arc.sweep_rad * k / pieces;
      points.push_back(arc.centre + arc.radius_mm * Vec2(std::cos(angle), std::sin(angle)));
    }
  }
  return points;
}

}  // namespace

Canvas::Canvas(double width_mm, double height_mm, std::string title)
    : width_mm_(width_mm), height_mm_(height_mm), title_(CleanText(title)) {
  LW_REQUIRE(std::isfinite(width_mm) && width_mm > 0.0, "width_mm=" << width_mm);
  LW_REQUIRE(std::isfinite(height_mm) && height_mm > 0.0, "height_mm=" << height_mm);
}

void Canvas::Begin(std::string name) {
  items_.emplace_back(std::in_place_type<GroupStart>, GroupStart{std::move(name)});
  ++open_groups_;
}

void Canvas::End() {
  LW_REQUIRE(open_groups_ > 0, "no group to end");
  items_.emplace_back(std::in_place_type<GroupEnd>);
  --open_groups_;
}

void Canvas::AddInk(const Path& path) {
  for (const Trail& trail : path) {
    const std::vector<Vec2> points = Chorded(trail, kInkChord_mm);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) ink_.push_back({points[i], points[i + 1]});
    if (trail.closed && points.size() > 1) ink_.push_back({points.back(), points.front()});
  }
}

void Canvas::Draw(Path path, std::optional<Colour> fill, std::optional<Pen> pen) {
  RequireFinite(path);
  if (pen) AddInk(path);
  items_.emplace_back(std::in_place_type<Shape>, Shape{std::move(path), fill, std::move(pen)});
}

void Canvas::Draw(const Circle& circle, std::optional<Colour> fill, std::optional<Pen> pen,
                  std::string name) {
  LW_REQUIRE(circle.centre.allFinite() && circle.radius_mm > 0.0, "radius=" << circle.radius_mm);
  AddInk({{AsOutline(circle).vertices, true}});
  items_.emplace_back(std::in_place_type<Disc>,
                      Disc{circle, fill, std::move(pen), std::move(name)});
}

void Canvas::Hatch(const Path& path, double angle_rad, double pitch_mm, const Pen& pen) {
  LW_REQUIRE(pitch_mm > 0.0, "pitch_mm=" << pitch_mm);
  RequireFinite(path);
  const Pose turn = Pose::Make(angle_rad, Vec2::Zero());
  // Seen along the lines: their crossings with every edge, line by line.
  std::vector<std::pair<long, double>> crossings;
  for (const Trail& trail : path) {
    const std::vector<Vec2> points = Chorded(trail, kInkChord_mm / 4.0);
    for (std::size_t i = 0; i < points.size(); ++i) {
      Vec2 a = turn.TurnBack(points[i]), b = turn.TurnBack(points[(i + 1) % points.size()]);
      if (a.y() > b.y()) std::swap(a, b);
      for (long line = std::lround(std::ceil(a.y() / pitch_mm)); line * pitch_mm < b.y(); ++line) {
        const double share = (line * pitch_mm - a.y()) / (b.y() - a.y());
        crossings.push_back({line, a.x() + share * (b.x() - a.x())});
      }
    }
  }
  std::sort(crossings.begin(), crossings.end());
  double period = 0.0;
  for (const double length : pen.dash_mm) period += length;
  Path lines;
  for (std::size_t i = 0; i + 1 < crossings.size(); i += 2) {
    const auto [line, to] = crossings[i + 1];
    double from = crossings[i].second;
    if (period > 0.0) {  // dashes on one grid too, every other line half a period on
      const double shift = line % 2 == 0 ? 0.0 : period / 2.0;
      from = std::ceil((from - shift) / period) * period + shift;
    }
    if (to - from < 0.05) continue;
    const double y = static_cast<double>(line) * pitch_mm;
    lines.push_back({{{turn.Turn({from, y}), 0.0}, {turn.Turn({to, y}), 0.0}}, false});
    hatch_.push_back({lines.back().vertices[0].point, lines.back().vertices[1].point});
  }
  if (!lines.empty()) {
    items_.emplace_back(std::in_place_type<Shape>, Shape{std::move(lines), std::nullopt, pen});
  }
}

void Canvas::Write(const std::string& text, const Vec2& at, const Lettering& lettering) {
  const std::string clean = CleanText(text);
  if (clean.empty()) return;
  const Setting set = Set(clean, at, lettering);
  LW_REQUIRE(set.start.allFinite(), "text '" << clean << "' nowhere");
  if (lettering.behind) {
    Trail paper{{}, true};
    for (const Vec2& p : RingOf(Grown(set.box, 0.3))) paper.vertices.push_back({p, 0.0});
    items_.emplace_back(std::in_place_type<Shape>, Shape{{paper}, lettering.behind, std::nullopt});
  }
  texts_.push_back({clean, set.box, lettering.upright});
  items_.emplace_back(std::in_place_type<Words>,
                      Words{clean, set.start, lettering.height_mm, set.length_mm, lettering.colour,
                            lettering.upright});
}

Rect2 Canvas::BoxOf(const std::string& text, const Vec2& at, const Lettering& lettering) const {
  return Set(CleanText(text), at, lettering).box;
}

bool Canvas::Free(const Rect2& box, double clear_mm) const {
  if (!Inside(box, {Vec2::Zero(), {width_mm_, height_mm_}})) return false;
  const Rect2 kept = Grown(box, clear_mm);
  return std::none_of(texts_.begin(), texts_.end(),
                      [&](const PlacedText& text) { return Overlap(text.box, kept); });
}

namespace {

double LengthIn(const std::vector<std::pair<Vec2, Vec2>>& lines, const Rect2& box) {
  double length = 0.0;
  for (const auto& [a, b] : lines) {
    const auto [from, to] = SharesWithin(a, b, box);
    if (from < to) length += (to - from) * (b - a).norm();
  }
  return length;
}

}  // namespace

double Canvas::InkIn(const Rect2& box) const {
  return LengthIn(ink_, box);
}

double Canvas::HatchIn(const Rect2& box) const {
  return LengthIn(hatch_, box);
}

double LengthOf(const std::string& text, double height_mm) {
  return Measure(CleanText(text), height_mm).length;
}

std::string Fitted(const std::string& text, double length_mm, double height_mm) {
  std::string kept = CleanText(text);
  if (Measure(kept, height_mm).length <= length_mm) return kept;
  const std::string dots = "\xE2\x80\xA6";
  while (!kept.empty() && Measure(kept + dots, height_mm).length > length_mm) {
    while (kept.size() > 1 && (kept.back() & 0xC0) == 0x80) kept.pop_back();
    kept.pop_back();
  }
  return kept + dots;
}

// The PDF, by Cairo.
namespace {

void Use(cairo_t* cr, const Colour& colour) {
  const auto part = [&](int shift) { return ((colour.rgb >> shift) & 0xFF) / 255.0; };
  cairo_set_source_rgb(cr, part(16), part(8), part(0));
}

void Paint(cairo_t* cr, const std::optional<Colour>& fill, const std::optional<Pen>& pen) {
  if (fill) {
    Use(cr, *fill);
    cairo_fill_preserve(cr);
  }
  if (pen) {
    Use(cr, pen->colour);
    cairo_set_line_width(cr, pen->width_mm);
    cairo_set_dash(cr, pen->dash_mm.data(), static_cast<int>(pen->dash_mm.size()), 0.0);
    cairo_stroke_preserve(cr);
  }
  cairo_new_path(cr);
}

void AddTrail(cairo_t* cr, const Trail& trail) {
  const std::size_t n = trail.vertices.size();
  if (n == 0) return;
  cairo_move_to(cr, trail.vertices[0].point.x(), trail.vertices[0].point.y());
  for (std::size_t i = 0; i < n; ++i) {
    if (i + 1 == n && !trail.closed) break;
    const OutlineVertex& a = trail.vertices[i];
    const Vec2& b = trail.vertices[(i + 1) % n].point;
    if (a.bulge != 0.0 && a.point != b) {
      const Arc arc = ArcOf(a.point, b, a.bulge);
      const double end = arc.start_rad + arc.sweep_rad;
      const auto draw = arc.sweep_rad > 0.0 ? cairo_arc : cairo_arc_negative;
      draw(cr, arc.centre.x(), arc.centre.y(), arc.radius_mm, arc.start_rad, end);
    } else if (i + 1 < n) {
      cairo_line_to(cr, b.x(), b.y());
    }
  }
  if (trail.closed) cairo_close_path(cr);
}

struct PdfPainter {
  cairo_t* cr;

  void operator()(const Canvas::Shape& shape) const {
    for (const Trail& trail : shape.path) AddTrail(cr, trail);
    Paint(cr, shape.fill, shape.pen);
  }
  void operator()(const Canvas::Disc& disc) const {
    const Circle& c = disc.circle;
    cairo_arc(cr, c.centre.x(), c.centre.y(), c.radius_mm, 0.0, 2.0 * kPi);
    cairo_close_path(cr);
    Paint(cr, disc.fill, disc.pen);
  }
  void operator()(const Canvas::Words& words) const {
    cairo_save(cr);
    cairo_translate(cr, words.start.x(), words.start.y());
    if (words.upright) cairo_rotate(cr, kPi / 2.0);
    cairo_scale(cr, 1.0, -1.0);  // the page's y runs up, letters' y down
    cairo_set_font_size(cr, words.height_mm * kFontPerCapital);
    Use(cr, words.colour);
    cairo_move_to(cr, 0.0, 0.0);
    cairo_show_text(cr, words.text.c_str());
    cairo_restore(cr);
    cairo_new_path(cr);
  }
  void operator()(const Canvas::GroupStart&) const {}
  void operator()(const Canvas::GroupEnd&) const {}
};

cairo_status_t Append(void* text, const unsigned char* data, unsigned length) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

}  // namespace

std::string WritePdf(const std::vector<Canvas>& pages) {
  LW_REQUIRE(!pages.empty(), "no page");
  std::string bytes;
  const Surface surface(cairo_pdf_surface_create_for_stream(
      Append, &bytes, pages[0].width_mm() * kPointPerMm, pages[0].height_mm() * kPointPerMm));
  cairo_pdf_surface_restrict_to_version(surface.get(), CAIRO_PDF_VERSION_1_5);
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, pages[0].title().c_str());
  // The same job gives the same bytes on every day.
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE,
                                 "2000-01-01T00:00:00Z");
  const Context cr(cairo_create(surface.get()));
  const FontFace face = MakeFace();
  cairo_set_font_face(cr.get(), face.get());
  cairo_set_font_options(cr.get(), MakeOptions().get());
  cairo_set_line_cap(cr.get(), CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join(cr.get(), CAIRO_LINE_JOIN_ROUND);
  cairo_set_fill_rule(cr.get(), CAIRO_FILL_RULE_EVEN_ODD);
  for (const Canvas& page : pages) {
    cairo_pdf_surface_set_size(surface.get(), page.width_mm() * kPointPerMm,
                               page.height_mm() * kPointPerMm);
    cairo_save(cr.get());
    cairo_translate(cr.get(), 0.0, page.height_mm() * kPointPerMm);
    cairo_scale(cr.get(), kPointPerMm, -kPointPerMm);
    for (const Canvas::Item& item : page.items()) std::visit(PdfPainter{cr.get()}, item);
    cairo_restore(cr.get());
    cairo_show_page(cr.get());
  }
  cairo_surface_finish(surface.get());
  const cairo_status_t status = cairo_status(cr.get()) != CAIRO_STATUS_SUCCESS
                                    ? cairo_status(cr.get())
                                    : cairo_surface_status(surface.get());
  LW_REQUIRE(status == CAIRO_STATUS_SUCCESS, cairo_status_to_string(status));
  return bytes;
}

LetteringFont FontThatLetters() {
  LetteringFont found;
  cairo_scaled_font_t* font = MeasuringFont();
  if (cairo_scaled_font_status(font) != CAIRO_STATUS_SUCCESS) {
    found.opens = false;
  } else if (cairo_scaled_font_get_type(font) != CAIRO_FONT_TYPE_FT) {
    found.family = "strokes without a name";  // what Cairo has for a machine without fonts
  } else if (const FT_Face face = cairo_ft_scaled_font_lock_face(font)) {
    found.family = face->family_name != nullptr ? CleanText(face->family_name) : "a nameless font";
    found.wanted = found.family == kFont;
    cairo_ft_scaled_font_unlock_face(font);
  } else {
    found.opens = false;
  }
  return found;
}

std::string Canvas::Pdf() const {
  return WritePdf({*this});
}

}  // namespace lidwright
