// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "job/key_reader.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

using Type = JsonValue::Type;

std::string At(const std::string& place, std::size_t index) {
  return place + "[" + std::to_string(index) + "]";
}

bool IsPoint(const JsonValue& value) {
  return value.type == Type::kList && !value.items.empty() && value.items[0].type != Type::kList &&
         value.items[0].type != Type::kObject;
}

// Same curve run through the other way: an edge's bulge then belongs to its other end, negated.
Outline Reversed(const Outline& outline) {
  const std::size_t n = outline.vertices.size();
  Outline reversed;
  for (std::size_t k = 0; k < n; ++k) {
    reversed.vertices.push_back(
        {outline.vertices[n - 1 - k].point, -outline.vertices[(2 * n - 2 - k) % n].bulge});
  }
  return reversed;
}

}  // namespace

std::optional<Vec2> KeyReader::ReadPoint(const JsonValue& value, const Key& key,
                                         const std::string& place) {
  if (value.type != Type::kList || value.items.size() != 2) {
    ComplainAt(value, place, "must be a point: [x, y]");
    return std::nullopt;
  }
  const double x = ReadLength(value.items[0], key, At(place, 0));
  const double y = ReadLength(value.items[1], key, At(place, 1));
  if (std::isnan(x) || std::isnan(y)) return std::nullopt;
  return Vec2(x, y);
}

std::optional<Zone> KeyReader::ReadZone(const JsonValue& value, const Key& key,
                                        const std::string& place) {
  if (value.type != Type::kList || value.items.size() != 2) {
    ComplainAt(value, place, "must be a rectangle: [[xmin, ymin], [xmax, ymax]]");
    return std::nullopt;
  }
  const std::optional<Vec2> low = ReadPoint(value.items[0], key, At(place, 0));
  const std::optional<Vec2> high = ReadPoint(value.items[1], key, At(place, 1));
  if (!low || !high) return std::nullopt;
  if (!(low->array() < high->array()).all()) {
    ComplainAt(value, place, "the rectangle is empty",
               "[[xmin, ymin], [xmax, ymax]] with min < max");
    return std::nullopt;
  }
  return Zone{*low, *high};
}

std::vector<Vec2> KeyReader::ReadPoints(const JsonValue& value, const Key& key,
                                        const std::string& place) {
  if (value.type != Type::kList || value.items.size() < 2) {
    ComplainAt(value, place, "must be a line of points: [[x, y], [x, y], ...]");
    return {};
  }
  if (value.items.size() > kMostOutlinePoints) {
    ComplainAt(value, place, "has more than " + std::to_string(kMostOutlinePoints) + " points");
    return {};
  }
  std::vector<Vec2> points;
  for (std::size_t i = 0; i < value.items.size(); ++i) {
    const std::optional<Vec2> point = ReadPoint(value.items[i], key, At(place, i));
    if (!point) return {};
    if (!points.empty() && !(point->x() > points.back().x())) {
      ComplainAt(value.items[i], At(place, i), "must lie beyond the point before");
      return {};
    }
    points.push_back(*point);
  }
  return points;
}

std::optional<Ring> KeyReader::ReadRing(const JsonValue& value, const Key& key,
                                        const std::string& place) {
  if (value.type != Type::kList) {
    ComplainAt(value, place, "must be an outline: [[x, y], [x, y], [x, y], ...]");
    return std::nullopt;
  }
  if (value.items.size() > kMostOutlinePoints) {
    ComplainAt(value, place, "has more than " + std::to_string(kMostOutlinePoints) + " points");
    return std::nullopt;
  }
  Ring ring;
  for (std::size_t i = 0; i < value.items.size(); ++i) {
    const std::optional<Vec2> point = ReadPoint(value.items[i], key, At(place, i));
    if (!point) return std::nullopt;  // one fault says enough about an outline
    ring.push_back(*point);
  }
  if (ring.size() > 3 && (ring.front() - ring.back()).norm() <= kSamePoint_mm) ring.pop_back();
  // In the maker's own unit, so that the fault names the numbers that stand in the file.
  Ring as_written = ring;
  for (Vec2& point : as_written) point /= findings_.mm_per_unit();
  if (const std::optional<RingFault> fault = FaultOf(as_written)) {
    const bool at_point = fault->vertex < value.items.size();
    ComplainAt(at_point ? value.items[fault->vertex] : value,
               at_point ? At(place, fault->vertex) : place, fault->what);
    return std::nullopt;
  }
  return ring;
}

std::vector<Ring> KeyReader::ReadRings(const JsonValue& value, const Key& key,
                                       const std::string& place) {
  std::vector<Ring> rings;
  const bool single =
      value.type != Type::kList || (!value.items.empty() && IsPoint(value.items[0]));
  if (std::isnan(findings_.mm_per_unit())) return rings;
  if (single) {
    if (std::optional<Ring> ring = ReadRing(value, key, place)) rings.push_back(std::move(*ring));
  } else {
    for (std::size_t i = 0; i < value.items.size(); ++i) {
      std::optional<Ring> ring = ReadRing(value.items[i], key, At(place, i));
      if (!ring) return {};
      rings.push_back(std::move(*ring));
    }
    if (!CheckRings(value, rings, place)) return {};
  }
  TurnByNesting(&rings);
  return rings;
}

bool KeyReader::CheckRings(const JsonValue& value, const std::vector<Ring>& rings,
                           const std::string& place) {
  std::size_t points = 0;
  for (const Ring& ring : rings) points += ring.size();
  if (points > kMostOutlinePoints) {
    ComplainAt(value, place, "has more than " + std::to_string(kMostOutlinePoints) + " points");
    return false;
  }
  for (std::size_t i = 0; i < rings.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      if (!RingsMeet(rings[j], rings[i])) continue;
      ComplainAt(value.items[i], At(place, i), "crosses or touches the outline " + At(place, j));
      return false;
    }
  }
  return true;
}

Outline KeyReader::ReadOutline(const JsonValue& value, const Key& key, const std::string& place) {
  Outline outline;
  if (std::isnan(findings_.mm_per_unit())) return outline;
  if (value.type != Type::kList || value.items.size() < 2) {
    ComplainAt(value, place, "must be an outline: [[x, y, bulge], [x, y, bulge], ...]");
    return {};
  }
  if (value.items.size() > kMostArmVertices) {
    ComplainAt(value, place, "has more than " + std::to_string(kMostArmVertices) + " points");
    return {};
  }
  for (std::size_t i = 0; i < value.items.size(); ++i) {
    const JsonValue& item = value.items[i];
    const bool bulged = item.type == Type::kList && item.items.size() == 3;
    if (item.type != Type::kList || item.items.size() < 2 || item.items.size() > 3) {
      ComplainAt(item, At(place, i), "must be a point with the bulge of its edge: [x, y, bulge]");
      return {};
    }
    OutlineVertex vertex;
    vertex.point.x() = ReadLength(item.items[0], key, At(At(place, i), 0));
    vertex.point.y() = ReadLength(item.items[1], key, At(At(place, i), 1));
    static const Key kBulge{"", KeyKind::kShare, -20.0, 20.0, {}, {}, ""};
    if (bulged) vertex.bulge = ReadNumber(item.items[2], kBulge, At(At(place, i), 2));
    if (!vertex.point.allFinite() || std::isnan(vertex.bulge)) return {};
    if (!outline.vertices.empty() &&
        (vertex.point - outline.vertices.back().point).norm() <= kSamePoint_mm) {
      ComplainAt(item, At(place, i), "the point is given twice in a row");
      return {};
    }
    outline.vertices.push_back(vertex);
  }
  if ((outline.vertices.front().point - outline.vertices.back().point).norm() <= kSamePoint_mm) {
    outline.vertices.pop_back();  // closed by repeating its first point
  }
  if (outline.vertices.size() < 2) {
    ComplainAt(value, place, "the outline encloses no area");
    return {};
  }
  // Chords fine enough to tell a crossing from a near miss, coarse enough to be checked in time.
  double error_mm = kChordError_mm;
  Ring ring = Flatten(outline, error_mm);
  while (ring.size() > kMostOutlinePoints) ring = Flatten(outline, error_mm *= 4.0);
  for (Vec2& point : ring) point /= findings_.mm_per_unit();
  if (const std::optional<RingFault> fault = FaultOf(ring)) {
    ComplainAt(value, place, fault->what);
    return {};
  }
  return SignedArea(outline) < 0.0 ? Reversed(outline) : outline;
}

}  // namespace lidwright
