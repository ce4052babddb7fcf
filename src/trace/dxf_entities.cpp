// SPDX-License-Identifier: Apache-2.0
#include "trace/dxf_entities.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr int kHighestDegree = 15;  // of splines; more is a slip of the file
constexpr double kLevel = 1e-6;     // heights nearer than this are one

struct BulgedPoint {
  Vec2 point = Vec2::Zero();
  double bulge = 0.0;
};

void AddEdges(const std::vector<BulgedPoint>& points, DrawnPath* path) {
  const std::size_t n = points.size();
  const std::size_t edges = path->closed ? n : n - 1;
  for (std::size_t i = 0; n > 1 && i < edges; ++i) {
    const BulgedPoint &a = points[i], &b = points[(i + 1) % n];
    if (a.point != b.point) path->pieces.push_back(BulgedPiece(a.point, b.point, a.bulge));
  }
}

void ReadLightPolyline(const DxfRecord& record, DxfNumbers* in, DrawnPath* path) {
  path->closed = (in->Whole(70, 0) & 1) != 0;
  std::vector<BulgedPoint> points;
  bool has_y = true;
  for (const DxfGroup& group : record.groups) {
    if (group.code == 10) {
      if (!has_y) in->Complain(group.line, "", "the vertex before has no y");
      points.push_back({{in->Value(group), 0.0}, 0.0});
      has_y = false;
    } else if (group.code == 20 && !points.empty()) {
      points.back().point.y() = in->Value(group);
      has_y = true;
    } else if (group.code == 42 && !points.empty()) {
      points.back().bulge = in->Value(group);
    }
  }
  if (!has_y) in->Complain(record.line, "", "the last vertex has no y");
  const int said = in->Whole(90, static_cast<int>(points.size()));
  if (in->good() && said != static_cast<int>(points.size())) {
    in->Complain(
        record.line, std::to_string(said),
        "the count of vertices in group 90 is wrong: there are " + std::to_string(points.size()));
  }
  if (in->good()) AddEdges(points, path);
}

// The vertices that follow a POLYLINE, up to its SEQEND.
bool ReadOldPolyline(const std::vector<DxfRecord>& records, std::size_t* at,
                     const std::string& file_name, Problems* problems, DrawnPath* path) {
  const DxfRecord& head = records[*at];
  DxfNumbers in(head, file_name, problems);
  const int flags = in.Whole(70, 0);
  path->closed = (flags & 1) != 0;
  std::vector<BulgedPoint> points;
  bool good = in.good();
  std::size_t next = *at + 1;
  for (; next < records.size() && records[next].type == "VERTEX"; ++next) {
    DxfNumbers vertex(records[next], file_name, problems);
    const bool frame = (vertex.Whole(70, 0) & 16) != 0;  // control point of a fitted curve
    const BulgedPoint point{vertex.Point(10), vertex.Real(42, 0.0)};
    good = good && vertex.good();
    if (!frame) points.push_back(point);
  }
  if (next < records.size() && records[next].type == "SEQEND") {
    *at = next;
  } else {
    in.Complain(head.line, "", "the polyline has no SEQEND");
    *at = next - 1;
    good = false;
  }
  constexpr int kNotPlane = 8 | 16 | 64;  // polylines in space, meshes, polyface meshes
  if ((flags & kNotPlane) != 0) return false;
  if (good) AddEdges(points, path);
  return true;
}

void ReadEllipse(DxfNumbers* in, DrawnPath* path) {
  const Vec2 centre = in->Point(10), major = in->Point(11);
  const double ratio = in->Positive(40);
  const double start = in->Real(41, 0.0), end = in->Real(42, 2.0 * kPi);
  if (!in->good()) return;
  double sweep = std::fmod(end - start, 2.0 * kPi);
  if (sweep <= 1e-9) sweep += 2.0 * kPi;  // equal: all of it
  path->closed = std::abs(sweep - 2.0 * kPi) <= 1e-9;
  path->pieces = {ArcPiece{centre, major, ratio * Perp(major), start, sweep}};
}

void ReadSpline(const DxfRecord& record, DxfNumbers* in, DrawnPath* path) {
  const int flags = in->Whole(70, 0);
  const int degree = in->Whole(71, 3);
  const std::vector<double> knots = in->All(40), x = in->All(10), y = in->All(20);
  std::vector<double> weights = in->All(41);
  if (!in->good()) return;
  const auto complain = [&](const std::string& rule, const std::string& hint = "") {
    in->Complain(record.line, "", rule, hint);
  };
  if (x.empty()) {
    return complain("the spline has fit points only, so its shape is not in the file",
                    "export it with control points");
  }
  if (degree < 1 || degree > kHighestDegree) {
    return complain("the degree " + std::to_string(degree) + " is not from 1 to " +
                    std::to_string(kHighestDegree));
  }
  const auto order = static_cast<std::size_t>(degree) + 1;
  if (x.size() != y.size() || x.size() < order || knots.size() != x.size() + order) {
    return complain(std::to_string(x.size()) + " control points and " +
                    std::to_string(knots.size()) + " knots do not make a spline of degree " +
                    std::to_string(degree));
  }
  if (!std::is_sorted(knots.begin(), knots.end()) || !(knots[order - 1] < knots[x.size()])) {
    return complain("the knots do not grow");
  }
  if (!weights.empty() &&
      (weights.size() != x.size() || *std::min_element(weights.begin(), weights.end()) <= 0.0)) {
    return complain("there must be a positive weight for each control point");
  }
  std::vector<Vec2> points;
  for (std::size_t i = 0; i < x.size(); ++i) points.emplace_back(x[i], y[i]);
  path->pieces = SplinePieces(degree, knots, points, weights);
  const auto& first = std::get<BezierPiece>(path->pieces.front()).points.front();
  const auto& last = std::get<BezierPiece>(path->pieces.back()).points.back();
  const double size = std::max(1.0, first.norm());
  path->closed = (flags & 1) != 0 || (first - last).norm() <= 1e-9 * size;
}

// Does the entity lie in the plane of the drawing, and seen from which side?
enum class View { kTop, kBottom, kAslant };

View ViewOf(DxfNumbers* in) {
  const double x = in->Real(210, 0.0), y = in->Real(220, 0.0), z = in->Real(230, 1.0);
  if (std::hypot(x, y) > 1e-6 * std::abs(z)) return View::kAslant;
  return z > 0.0 ? View::kTop : View::kBottom;
}

}  // namespace

std::optional<DrawnPath> ReadDxfCurve(const std::vector<DxfRecord>& records, std::size_t* at,
                                      const std::string& file_name, Problems* problems) {
  const DxfRecord& record = records[*at];
  DxfNumbers in(record, file_name, problems);
  DrawnPath path;
  path.line = record.line;
  const std::string& type = record.type;
  // Where the entity's own coordinates are seen from: LINE, ELLIPSE and SPLINE stand in the world.
  bool own_frame = false;
  if (type == "LINE") {
    const Vec2 a = in.Point(10), b = in.Point(11);
    if (in.good() && a != b) path.pieces = {LinePiece(a, b)};
  } else if (type == "ARC" || type == "CIRCLE") {
    own_frame = true;
    const Vec2 centre = in.Point(10);
    const double radius = in.Real(40, kUnset);
    if (radius == 0.0) return std::nullopt;  // seen in real files: a point
    if (radius < 0.0) in.Positive(40);
    double start = 0.0, sweep = 2.0 * kPi;
    if (type == "ARC") {
      start = in.Real(50, kUnset) * kRadPerDeg;
      sweep = std::fmod(in.Real(51, kUnset) * kRadPerDeg - start, 2.0 * kPi);
      if (sweep <= 1e-12) sweep += 2.0 * kPi;
    }
    path.closed = type == "CIRCLE";
    if (in.good()) {
      path.pieces = {ArcPiece{centre, {radius, 0.0}, {0.0, radius}, start, sweep}};
    }
  } else if (type == "ELLIPSE") {
    // The minor axis is extrusion × major axis: seen from below the parameter runs the other way.
    ReadEllipse(&in, &path);
    if (in.good() && ViewOf(&in) == View::kBottom) {
      auto& arc = std::get<ArcPiece>(path.pieces[0]);
      arc.v = -arc.v;
    }
  } else if (type == "LWPOLYLINE") {
    own_frame = true;
    ReadLightPolyline(record, &in, &path);
  } else if (type == "POLYLINE") {
    own_frame = true;
    if (!ReadOldPolyline(records, at, file_name, problems, &path)) return std::nullopt;
  } else if (type == "SPLINE") {
    ReadSpline(record, &in, &path);
  } else {
    return std::nullopt;
  }
  // Lines and splines have true places in space; seen from above, a slanting one would come out
  // too short.
  const std::vector<double> z = in.All(30), z_end = in.All(31);
  const bool slants = [&] {
    if (type == "LINE") return !z.empty() && !z_end.empty() && std::abs(z[0] - z_end[0]) > kLevel;
    if (type != "SPLINE" || z.empty()) return false;
    const auto [low, high] = std::minmax_element(z.begin(), z.end());
    return *high - *low > kLevel;
  }();
  if (slants) return std::nullopt;
  const View view = ViewOf(&in);
  const bool flat = type != "LINE" && type != "SPLINE";  // these two have true places in space
  if (flat && view == View::kAslant) return std::nullopt;
  if (own_frame && view == View::kBottom) {
    for (Piece& piece : path.pieces) piece = Transformed(piece, Scaling(-1.0, 1.0));
  }
  return path;
}

}  // namespace lidwright
