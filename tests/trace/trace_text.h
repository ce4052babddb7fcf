// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "lidwright/geometry/ring.h"
#include "lidwright/trace/drawing_outline.h"

namespace lidwright {

inline std::string Lines(const Problems& problems) {
  std::string text;
  for (const Problem& problem : problems) text += Describe(problem) + "\n";
  return text;
}

inline std::string Lines(const Notes& notes) {
  std::string text;
  for (const std::string& note : notes) text += note + "\n";
  return text;
}

inline bool Says(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

/// A hollow case 200 deep and 100 high with walls of 10, its rim at y = 0, and a lid 30 high that
/// is solid: as points, y up.
inline const std::vector<std::pair<double, double>> kCasePoints = {
    {0, -100}, {200, -100}, {200, 0}, {190, 0}, {190, -90}, {10, -90}, {10, 0}, {0, 0}};
inline const std::vector<std::pair<double, double>> kLidPoints = {{0, 0},    {200, 0}, {200, 10},
                                                                  {150, 30}, {50, 30}, {0, 10}};

inline std::string PointsText(const std::vector<std::pair<double, double>>& points) {
  std::string text;
  for (const auto& [x, y] : points) {
    text += std::to_string(x + 20) + "," + std::to_string(50 - y) + " ";  // y down
  }
  return text;
}

/// A sheet in mm whose user unit is a millimetre, elements one a line from line 2 on.
inline std::string SvgSheet(
    const std::string& elements,
    const std::string& head = "width=\"240mm\" height=\"200mm\" viewBox=\"0 0 240 200\"") {
  return "<svg xmlns=\"http://www.w3.org/2000/svg\" " + head + ">\n" + elements + "</svg>\n";
}

inline const std::string kCaseLine =
    "<polygon id=\"case\" points=\"" + PointsText(kCasePoints) + "\"/>\n";
inline const std::string kLidLine =
    "<polygon id=\"lid\" points=\"" + PointsText(kLidPoints) + "\"/>\n";

/// Groups of a DXF file: "code value" pairs separated by |.
inline std::string DxfGroups(const std::string& pairs) {
  std::string text;
  std::size_t at = 0;
  while (at < pairs.size()) {
    std::size_t bar = std::min(pairs.find('|', at), pairs.size());
    const std::string pair = pairs.substr(at, bar - at);
    const std::size_t space = pair.find(' ');
    text += pair.substr(0, space) + "\n" + pair.substr(std::min(space + 1, pair.size())) + "\n";
    at = bar + 1;
  }
  return text;
}

inline std::string DxfPolyline(const std::string& layer,
                               const std::vector<std::pair<double, double>>& points) {
  std::string pairs = "0 LWPOLYLINE|8 " + layer + "|90 " + std::to_string(points.size()) + "|70 1";
  for (const auto& [x, y] : points) {
    pairs += "|10 " + std::to_string(x) + "|20 " + std::to_string(y);
  }
  return pairs + "|";
}

/// A drawing in mm with these entities ("code value|…|").
inline std::string DxfSheet(const std::string& entities, const std::string& units = "70 4") {
  return DxfGroups("0 SECTION|2 HEADER|9 $INSUNITS|" + units + "|0 ENDSEC|0 SECTION|2 ENTITIES|" +
                   entities + "0 ENDSEC|0 EOF");
}

/// Compares a traced box with that of kCasePoints and kLidPoints.
inline void CheckPlainBox(const TracedOutline& traced, double within_mm = 1e-9) {
  INFO(Lines(traced.problems) << Lines(traced.notes));
  REQUIRE(traced.problems.empty());
  REQUIRE(traced.case_rings.size() == 1);
  REQUIRE(traced.lid_rings.size() == 1);
  const auto matches = [&](const Ring& ring, const std::vector<std::pair<double, double>>& points) {
    REQUIRE(ring.size() == points.size());
    CHECK(SignedArea(ring) > 0.0);
    for (const auto& [x, y] : points) {
      double nearest = 1e300;
      for (const Vec2& p : ring) nearest = std::min(nearest, (p - Vec2(x, y)).norm());
      CHECK(nearest <= within_mm);
    }
  };
  matches(traced.case_rings[0], kCasePoints);
  matches(traced.lid_rings[0], kLidPoints);
}

}  // namespace lidwright
