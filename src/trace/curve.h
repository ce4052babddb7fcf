// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

/// A Bézier curve of any degree; with weights, a rational one. Two points are a straight line.
struct BezierPiece {
  std::vector<Vec2> points;
  std::vector<double> weights;  ///< as many as points and positive, or none: all 1
};

/// p(t) = centre + u cos t + v sin t, from start_rad on by sweep_rad: an arc of an ellipse.
struct ArcPiece {
  Vec2 centre = Vec2::Zero();
  Vec2 u = Vec2::Zero();
  Vec2 v = Vec2::Zero();
  double start_rad = 0.0;
  double sweep_rad = 0.0;
};

using Piece = std::variant<BezierPiece, ArcPiece>;

inline Piece LinePiece(const Vec2& a, const Vec2& b) {
  return BezierPiece{{a, b}, {}};
}

/// An edge of a polyline with a bulge; straight for 0.
Piece BulgedPiece(const Vec2& a, const Vec2& b, double bulge);

/// x ↦ linear · x + offset.
struct Affine {
  Eigen::Matrix2d linear = Eigen::Matrix2d::Identity();
  Vec2 offset = Vec2::Zero();

  Vec2 operator*(const Vec2& p) const { return linear * p + offset; }
  Affine operator*(const Affine& other) const {
    return {linear * other.linear, linear * other.offset + offset};
  }
};

Affine Translation(const Vec2& by);
Affine Scaling(double x, double y);
Affine Rotation(double angle_rad);

/// The largest coordinate of its control points, or of the box round its ellipse; infinite where
/// one of them is not finite.
double Reach(const Piece& piece);

Piece Transformed(const Piece& piece, const Affine& affine);

/// One run of curves as drawn, each piece starting where the one before ends.
struct DrawnPath {
  std::vector<Piece> pieces;
  bool closed = false;
  std::vector<std::string> names;  ///< that may say whose it is, innermost first
  std::string label;               ///< for messages: "path wall", "LINE on layer 0"
  int line = 0;                    ///< of the file
};

/// The path as a polyline within `error` of it, its first point not repeated at the end if it is
/// closed. `off`, if given, becomes a bound for how far it is from the path, 0 without curves: less
/// than `error`, unless a curve has more chords than can be. Requires error > 0.
std::vector<Vec2> Flatten(const DrawnPath& path, double error, double* off = nullptr);

/// B-spline (rational if there are weights) as Bézier pieces, one for each stretch between knots,
/// by blossoming. Requires knots.size() = points.size() + degree + 1, knots that do not fall, and
/// a stretch of knots from number `degree` to number `points.size()` that is not empty.
std::vector<Piece> SplinePieces(int degree, const std::vector<double>& knots,
                                const std::vector<Vec2>& points,
                                const std::vector<double>& weights);

}  // namespace lidwright
