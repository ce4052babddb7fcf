// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "full_size.h"
#include "lidwright/base/units.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr double kFolio_mm = 20.0;  // width kept for the page's number
constexpr double kCross_mm = 4.0;   // half a cross's length

Vec2 WindowOf(const Vec2& paper) {
  return paper - Vec2(2.0 * kTileMargin_mm, kTileMargin_mm + kTileFoot_mm);
}

// Sheets needed for a length of which each shows `window`.
int Count(double length_mm, double window_mm) {
  if (length_mm <= window_mm) return 1;
  return static_cast<int>(
      std::ceil((length_mm - kTileOverlap_mm) / (window_mm - kTileOverlap_mm) - 1e-9));
}

// Draws the items of one page on another, moved.
struct Replay {
  Canvas& page;
  Vec2 by;
  Rect2 window;

  void operator()(const Canvas::Shape& shape) const {
    Path path = shape.path;
    for (Trail& trail : path) {
      for (OutlineVertex& v : trail.vertices) v.point += by;
    }
    page.Draw(std::move(path), shape.fill, shape.pen);
  }
  void operator()(const Canvas::Disc& disc) const {
    page.Draw(Circle{disc.circle.centre + by, disc.circle.radius_mm}, disc.fill, disc.pen,
              disc.name);
  }
  void operator()(const Canvas::Words& words) const {
    Lettering lettering;
    lettering.height_mm = words.height_mm;
    lettering.colour = words.colour;
    lettering.upright = words.upright;
    if (!Overlap(page.BoxOf(words.text, words.start + by, lettering), window)) return;
    page.Write(words.text, words.start + by, lettering);
  }
  void operator()(const Canvas::GroupStart& group) const { page.Begin(group.name); }
  void operator()(const Canvas::GroupEnd&) const { page.End(); }
};

void DrawBar(Canvas& page, const Vec2& from, double step_mm, int steps, const std::string& text) {
  const double length = step_mm * steps;
  Path lines = PageLine({from, from + Vec2(length, 0.0)});
  for (int i = 0; i <= steps; ++i) {
    const bool end = i == 0 || i == steps;
    const Vec2 foot = from + Vec2(step_mm * i, 0.0);
    lines.push_back(PageLine({foot, foot + Vec2(0.0, end ? 3.0 : 1.6)})[0]);
  }
  page.Begin("bar");
  page.Draw(lines, std::nullopt, style::kFineEdge);
  page.End();
  Lettering lettering;
  lettering.height_mm = style::kText_mm;
  page.Write(text, from + Vec2(length + 2.0, 0.0), lettering);
}

// White over everything outside of the window.
void ClearBorder(Canvas& page, const Rect2& window) {
  const double w = page.width_mm() + 1.0, h = page.height_mm() + 1.0;
  for (const Rect2& border :
       {Rect2{{-1.0, -1.0}, {w, window.low.y()}}, Rect2{{-1.0, window.high.y()}, {w, h}},
        Rect2{{-1.0, -1.0}, {window.low.x(), h}}, Rect2{{window.high.x(), -1.0}, {w, h}}}) {
    page.Draw(PageRing(RingOf(border)), style::kPaper, std::nullopt);
  }
}

// Bars to measure the print by, what the sheet is, and room for the page's number.
void DrawFoot(Canvas& page, const Rect2& window, const Job& job, const std::string& what) {
  const double left = window.low.x() + 2.0;
  DrawBar(page, {left, 12.5}, 10.0, 10, "100 mm");
  DrawBar(page, {left, 6.0}, kMmPerInch / 2.0, 8, "4 in");
  Lettering lettering;
  lettering.height_mm = style::kText_mm;
  const double right = window.high.x() - 2.0, text = left + 4.0 * kMmPerInch + 19.0;
  page.Write(Fitted(what, right - left, style::kText_mm), {left, window.low.y() - 5.0}, lettering);
  page.Write(Fitted(job.name, right - text, style::kText_mm), {text, 12.5}, lettering);
  page.Write("Print at 100 %, measure the bars.", {text, 8.0}, lettering);
  page.KeepFolio({{right - kFolio_mm, 2.0}, {right, 7.0}});
}

struct Grid {
  Vec2 paper, window;
  int columns = 1, rows = 1;
};

Grid GridFor(const Canvas& whole, const Vec2& paper) {
  const Vec2 window = WindowOf(paper);
  return {paper, window, Count(whole.width_mm(), window.x()), Count(whole.height_mm(), window.y())};
}

void DrawSeams(Canvas& page, const Grid& grid, const Rect2& window, int column, int row) {
  const Vec2 size = Size(window);
  const double half = kTileOverlap_mm / 2.0;
  page.Begin("seams");
  const auto seam = [&](bool upright, double at) {  // its middle
    const int along = upright ? 1 : 0;
    for (const double share : {0.2, 0.5, 0.8}) {
      Vec2 middle = Vec2::Constant(at);
      middle[along] = window.low[along] + share * size[along];
      page.Draw(PageLine({middle - Vec2(kCross_mm, 0.0), middle + Vec2(kCross_mm, 0.0)}),
                std::nullopt, style::kFineEdge);
      page.Draw(PageLine({middle - Vec2(0.0, kCross_mm), middle + Vec2(0.0, kCross_mm)}),
                std::nullopt, style::kFineEdge);
    }
  };
  if (column > 0) seam(true, window.low.x() + half);
  if (column + 1 < grid.columns) seam(true, window.high.x() - half);
  if (row > 0) seam(false, window.high.y() - half);
  if (row + 1 < grid.rows) seam(false, window.low.y() + half);
  page.End();
}

}  // namespace

std::vector<Canvas> Tiles(const Canvas& whole, const Job& job) {
  const Grid upright = GridFor(whole, PaperSize(job, false));
  const Grid across = GridFor(whole, PaperSize(job, true));
  const Grid& grid =
      across.columns * across.rows < upright.columns * upright.rows ? across : upright;
  const Vec2 step = grid.window - Vec2::Constant(kTileOverlap_mm);
  const Rect2 window{{kTileMargin_mm, kTileFoot_mm},
                     Vec2(kTileMargin_mm, kTileFoot_mm) + grid.window};
  std::vector<Canvas> pages;
  for (int row = 0; row < grid.rows; ++row) {
    for (int column = 0; column < grid.columns; ++column) {
      Canvas page(grid.paper.x(), grid.paper.y(), whole.title());
      // The whole's upper left corner is the first sheet's.
      const Vec2 by(window.low.x() - step.x() * column,
                    window.high.y() - whole.height_mm() + step.y() * row);
      for (const Canvas::Item& item : whole.items()) std::visit(Replay{page, by, window}, item);
      ClearBorder(page, window);
      page.Draw(PageRing(RingOf(window)), std::nullopt, style::kGhost);
      DrawSeams(page, grid, window, column, row);
      std::string which;
      if (grid.rows * grid.columns > 1) {
        which = std::string(". Sheet ") + static_cast<char>('A' + row % 26) +
                std::to_string(column + 1) + " of " + std::to_string(grid.rows) + " rows by " +
                std::to_string(grid.columns) + ": lay cross on cross.";
      }
      DrawFoot(page, window, job, whole.title() + which);
      pages.push_back(std::move(page));
    }
  }
  return pages;
}

std::vector<Canvas> SharedSheets(const std::vector<Canvas>& wholes, const std::string& title,
                                 const Job& job) {
  const Vec2 paper = PaperSize(job, false);
  const Rect2 window{{kTileMargin_mm, kTileFoot_mm},
                     Vec2(kTileMargin_mm, kTileFoot_mm) + WindowOf(paper)};
  std::vector<Canvas> pages;
  double low = 0.0;  // of what the last shared sheet holds
  bool open = false;
  for (const Canvas& whole : wholes) {
    const Vec2 size(whole.width_mm(), whole.height_mm());
    if (size.x() > Size(window).x() || size.y() > Size(window).y()) {
      for (Canvas& page : Tiles(whole, job)) pages.push_back(std::move(page));
      open = false;
      continue;
    }
    if (!open || low - size.y() < window.low.y()) {
      pages.emplace_back(paper.x(), paper.y(), title);
      pages.back().Draw(PageRing(RingOf(window)), std::nullopt, style::kGhost);
      DrawFoot(pages.back(), window, job, title);
      low = window.high.y();
      open = true;
    }
    const Vec2 by(window.low.x(), low - size.y());
    for (const Canvas::Item& item : whole.items()) {
      std::visit(Replay{pages.back(), by, window}, item);
    }
    low -= size.y();
  }
  return pages;
}

std::vector<std::string> Broken(const std::string& text, double width_mm, double height_mm) {
  std::vector<std::string> lines;
  std::string line, word;
  const auto flush_word = [&] {
    if (word.empty()) return;
    const std::string longer = line.empty() ? word : line + " " + word;
    if (line.empty() || LengthOf(longer, height_mm) <= width_mm) {
      line = longer;
    } else {
      lines.push_back(line);
      line = word;
    }
    word.clear();
  };
  for (const char c : text) {
    if (c == ' ') {
      flush_word();
    } else {
      word += c;
    }
  }
  flush_word();
  if (!line.empty()) lines.push_back(line);
  return lines;
}

}  // namespace lidwright
