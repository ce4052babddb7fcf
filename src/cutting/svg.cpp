// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/svg.h"

#include <cmath>

#include "cutting/edges.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr double kHairline_mm = 0.025;

std::string Number(double value) {
  return Text(value, 9);
}

// From the parts' frame to the page's: y runs down from the page's top edge.
struct Page {
  Vec2 top_left = Vec2::Zero();
  Vec2 size = Vec2::Zero();

  Vec2 operator()(const Vec2& p) const { return {p.x() - top_left.x(), top_left.y() - p.y()}; }
};

std::string Pair(const Vec2& p) {
  return Number(p.x()) + " " + Number(p.y());
}

std::string CircleElement(const Circle& circle, const Page& page) {
  const Vec2 centre = page(circle.centre);
  return "<circle cx=\"" + Number(centre.x()) + "\" cy=\"" + Number(centre.y()) + "\" r=\"" +
         Number(circle.radius_mm) + "\"/>\n";
}

std::string CrossElement(const Circle& mark, const Page& page) {
  const double reach = mark.radius_mm / 2.0;
  const Vec2 x(reach, 0.0), y(0.0, reach), c = mark.centre;
  return "<path d=\"M " + Pair(page(c - x)) + " L " + Pair(page(c + x)) + " M " +
         Pair(page(c - y)) + " L " + Pair(page(c + y)) + "\"/>\n";
}

std::string ArcCommands(const Edge& edge, const Page& page) {
  const double sweep = 4.0 * std::atan(edge.bulge);
  const int pieces = static_cast<int>(std::ceil(std::abs(sweep) / (2.0 * kPi / 3.0) - 1e-9));
  const std::string radius = Number(ArcOf(edge.from, edge.to, edge.bulge).radius_mm);
  // Turning y over turns the sense of the arc on paper's coordinates: counter-clockwise is the
  // direction of falling angles there, sweep flag 0.
  const std::string start =
      " A " + radius + " " + radius + " 0 0 " + (edge.bulge > 0.0 ? "0 " : "1 ");
  std::string text;
  for (int i = 1; i <= pieces; ++i) {
    const Vec2 end = i == pieces ? edge.to : PointAt(edge, static_cast<double>(i) / pieces);
    text += start + Pair(page(end));
  }
  return text;
}

std::string OutlineElement(const Outline& outline, const Page& page) {
  if (const auto circle = AsCircle(outline)) return CircleElement(*circle, page);
  std::string text = "<path d=\"M " + Pair(page(outline.vertices[0].point));
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const Edge edge = EdgeOf(outline, i);
    if (!edge.Straight()) {
      text += ArcCommands(edge, page);
    } else if (i + 1 < outline.vertices.size()) {  // Z draws the last straight edge
      text += " L " + Pair(page(edge.to));
    }
  }
  return text + " Z\"/>\n";
}

std::string RunElement(const OpenRun& run, const Page& page) {
  std::string text = "<path d=\"M " + Pair(page(run[0].point));
  for (std::size_t i = 0; i + 1 < run.size(); ++i) {
    const Edge edge{run[i].point, run[i + 1].point, run[i].bulge};
    text += edge.Straight() ? " L " + Pair(page(edge.to)) : ArcCommands(edge, page);
  }
  return text + "\"/>\n";
}

std::string CutElements(const CutPart& part, const Page& page) {
  if (part.tabs.empty()) return OutlineElement(part.outline, page);
  std::string text;
  for (const OpenRun& run : RunsBetweenTabs(part)) text += RunElement(run, page);
  return text;
}

std::string Group(const char* id, const char* colour, const std::string& elements) {
  if (elements.empty()) return "";
  return std::string("<g id=\"") + id + "\" fill=\"none\" stroke=\"" + colour +
         "\" stroke-width=\"" + Number(kHairline_mm) + "\">\n" + elements + "</g>\n";
}

}  // namespace

std::string WriteCutSvg(const std::vector<CutPart>& parts) {
  LW_REQUIRE(!parts.empty(), "no part");
  for (const CutPart& part : parts) {
    const auto fault = FaultOf(part);
    LW_REQUIRE(!fault, part.name << ": " << *fault);
  }
  const Rect2 box = Bounds(parts);
  const Vec2 margin = Vec2::Constant(kCutPageMargin_mm);
  const Page page = {{box.low.x() - margin.x(), box.high.y() + margin.y()},
                     box.high - box.low + 2.0 * margin};

  std::string drill, holes, outlines;
  for (const CutPart& part : parts) {
    for (const Circle& mark : part.drill_marks) drill += CrossElement(mark, page);
    for (const Circle& hole : part.holes) holes += CircleElement(hole, page);
    outlines += CutElements(part, page);
  }
  const std::string width = Number(page.size.x()), height = Number(page.size.y());
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"" + width +
         "mm\" height=\"" + height + "mm\" viewBox=\"0 0 " + width + " " + height + "\">\n" +
         Group("drill", "#0000ff", drill) + Group("holes", "#ff0000", holes) +
         Group("outline", "#000000", outlines) + "</svg>\n";
}

}  // namespace lidwright
