// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cut_part.h"

#include <algorithm>
#include <cmath>

#include "cutting/edges.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

std::string Named(const std::string& kind, std::size_t i, const Circle& circle) {
  return kind + " " + std::to_string(i + 1) + " at (" + Text(circle.centre.x()) + ", " +
         Text(circle.centre.y()) + ")";
}

struct NamedCircle {
  std::string name;
  Circle circle;
};

std::vector<NamedCircle> CirclesOf(const CutPart& part) {
  std::vector<NamedCircle> circles;
  for (std::size_t i = 0; i < part.holes.size(); ++i) {
    circles.push_back({Named("hole", i, part.holes[i]), part.holes[i]});
  }
  for (std::size_t i = 0; i < part.drill_marks.size(); ++i) {
    circles.push_back({Named("drill mark", i, part.drill_marks[i]), part.drill_marks[i]});
  }
  return circles;
}

std::optional<std::string> FaultOfOutline(const Outline& outline) {
  if (outline.vertices.size() < 2) return "the outline needs at least two points";
  for (const OutlineVertex& vertex : outline.vertices) {
    if (!vertex.point.allFinite() || !std::isfinite(vertex.bulge)) {
      return "the outline has a number that is not finite";
    }
  }
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const Edge edge = EdgeOf(outline, i);
    if ((edge.to - edge.from).norm() <= kSamePoint_mm) {
      return "the outline gives the point (" + Text(edge.from.x()) + ", " + Text(edge.from.y()) +
             ") twice in a row";
    }
  }
  if (const auto fault = FaultOf(Flatten(outline, kChordError_mm))) return fault->what;
  if (SignedArea(outline) <= 0.0) return "the outline runs clockwise";
  return std::nullopt;
}

std::optional<std::string> FaultOfTabs(const CutPart& part) {
  const double length = Length(part.outline);
  double end = 0.0;
  for (const Tab& tab : part.tabs) {
    if (!(tab.width_mm > 0.0) || !(tab.at_mm >= end) || tab.at_mm + tab.width_mm > length) {
      return "the tab at " + Text(tab.at_mm) + " along the outline overlaps another or its ends";
    }
    end = tab.at_mm + tab.width_mm + kSamePoint_mm;
  }
  return std::nullopt;
}

}  // namespace

CutPart Moved(const CutPart& part, const Pose& pose) {
  CutPart moved = part;
  moved.outline = Moved(part.outline, pose);
  for (Circle& hole : moved.holes) hole.centre = pose * hole.centre;
  for (Circle& mark : moved.drill_marks) mark.centre = pose * mark.centre;
  return moved;
}

CutPart Mirrored(const CutPart& part) {
  LW_REQUIRE(part.tabs.empty(), part.name << " has tabs");
  CutPart mirrored = part;
  mirrored.outline = Mirrored(part.outline);
  for (Circle& hole : mirrored.holes) hole.centre.x() = -hole.centre.x();
  for (Circle& mark : mirrored.drill_marks) mark.centre.x() = -mark.centre.x();
  return mirrored;
}

std::optional<std::string> FaultOf(const CutPart& part) {
  if (const auto fault = FaultOfOutline(part.outline)) return fault;
  if (const auto fault = FaultOfTabs(part)) return fault;
  const std::vector<Ring> rings = {Flatten(part.outline, kChordError_mm)};
  const std::vector<NamedCircle> circles = CirclesOf(part);
  for (std::size_t i = 0; i < circles.size(); ++i) {
    const auto& [name, circle] = circles[i];
    if (!circle.centre.allFinite() || !std::isfinite(circle.radius_mm)) {
      return name + " has a number that is not finite";
    }
    if (circle.radius_mm <= 0.0) return name + " has a radius that is not positive";
    if (SignedDistance(rings, circle.centre) > -circle.radius_mm) {
      return name + " is not within the outline";
    }
    for (std::size_t j = 0; j < i; ++j) {
      const Circle& other = circles[j].circle;
      if ((other.centre - circle.centre).norm() < other.radius_mm + circle.radius_mm) {
        return name + " overlaps " + circles[j].name;
      }
    }
  }
  return std::nullopt;
}

Rect2 Bounds(const std::vector<CutPart>& parts) {
  Rect2 box;
  for (const CutPart& part : parts) {
    for (std::size_t i = 0; i < part.outline.vertices.size(); ++i) {
      const Edge edge = EdgeOf(part.outline, i);
      box.Add(edge.from);
      if (edge.Straight()) continue;
      // An arc is outermost along an axis where its heading is a whole number of quarter turns.
      const Vec2 chord = edge.to - edge.from;
      const double sweep = 4.0 * std::atan(edge.bulge);
      const double start = std::atan2(chord.y(), chord.x()) - sweep / 2.0;
      const double low = std::min(start, start + sweep), high = std::max(start, start + sweep);
      const double quarter = kPi / 2.0;
      for (double k = std::ceil(low / quarter); k * quarter <= high; ++k) {
        box.Add(PointAt(edge, (k * quarter - start) / sweep));
      }
    }
  }
  return box;
}

}  // namespace lidwright
