// SPDX-License-Identifier: Apache-2.0
#include "trace/curve.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// Control point times weight, and the weight.
using Weighted = std::vector<Eigen::Vector3d>;

// A curve of a kilometre halved so often has chords of millimetres.
constexpr int kMostHalvings = 18;
constexpr double kInfinite = std::numeric_limits<double>::infinity();

Weighted WeightedPoints(const std::vector<Vec2>& points, const std::vector<double>& weights) {
  Weighted out;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double w = weights.empty() ? 1.0 : weights[i];
    out.emplace_back(w * points[i].x(), w * points[i].y(), w);
  }
  return out;
}

Vec2 Plain(const Eigen::Vector3d& p) {
  return p.head<2>() / p.z();
}

// With positive weights the curve stays in the hull of its control points: when all of these are
// near the chord, so is the curve.
void Halve(const Weighted& control, double error, int halvings, std::vector<Vec2>* out,
           double* off) {
  const Vec2 a = Plain(control.front()), b = Plain(control.back());
  double beside = 0.0;
  for (const Eigen::Vector3d& c : control) {
    const Vec2 p = Plain(c);
    beside = std::max(beside, (p - NearestOnSegment(p, a, b)).norm());
  }
  if (beside <= error || halvings == 0) {
    out->push_back(b);
    *off = std::max(*off, beside);
    return;
  }
  Weighted left, right(control.size());
  Weighted row = control;
  for (std::size_t n = control.size(); n > 0; --n) {  // de Casteljau
    left.push_back(row[0]);
    right[n - 1] = row[n - 1];
    for (std::size_t i = 0; i + 1 < n; ++i) row[i] = (row[i] + row[i + 1]) / 2.0;
  }
  Halve(left, error, halvings - 1, out, off);
  Halve(right, error, halvings - 1, out, off);
}

void AddPoints(const BezierPiece& piece, double error, std::vector<Vec2>* out, double* off) {
  if (out->empty()) out->push_back(piece.points.front());
  Halve(WeightedPoints(piece.points, piece.weights), error, kMostHalvings, out, off);
}

// |p''| is at most the larger half axis, so a chord over dt is off by at most a dt² / 8.
void AddPoints(const ArcPiece& piece, double error, std::vector<Vec2>* out, double* off) {
  const double gram = piece.u.squaredNorm() + piece.v.squaredNorm(), det = Cross(piece.u, piece.v);
  const double a2 = (gram + std::sqrt(std::max(0.0, gram * gram - 4.0 * det * det))) / 2.0;
  const double steps = std::abs(piece.sweep_rad) * std::sqrt(std::sqrt(a2) / (8.0 * error));
  const int n = static_cast<int>(std::clamp(std::ceil(steps), 1.0, 1e5));
  const double dt = piece.sweep_rad / n;
  *off = std::max(*off, std::sqrt(a2) * dt * dt / 8.0);
  for (int i = out->empty() ? 0 : 1; i <= n; ++i) {
    const double t = piece.start_rad + piece.sweep_rad * i / n;
    out->push_back(piece.centre + std::cos(t) * piece.u + std::sin(t) * piece.v);
  }
}

}  // namespace

Piece BulgedPiece(const Vec2& a, const Vec2& b, double bulge) {
  if (bulge == 0.0 || a == b) return LinePiece(a, b);
  const Arc arc = ArcOf(a, b, bulge);
  return ArcPiece{
      arc.centre, {arc.radius_mm, 0.0}, {0.0, arc.radius_mm}, arc.start_rad, arc.sweep_rad};
}

Affine Translation(const Vec2& by) {
  return {Eigen::Matrix2d::Identity(), by};
}

Affine Scaling(double x, double y) {
  Affine affine;
  affine.linear << x, 0.0, 0.0, y;
  return affine;
}

Affine Rotation(double angle_rad) {
  const double c = std::cos(angle_rad), s = std::sin(angle_rad);
  Affine affine;
  affine.linear << c, -s, s, c;
  return affine;
}

double Reach(const Piece& piece) {
  double reach = 0.0;
  const auto look = [&reach](const Vec2& p) {
    reach = p.allFinite() ? std::max(reach, p.cwiseAbs().maxCoeff()) : kInfinite;
  };
  if (const auto* arc = std::get_if<ArcPiece>(&piece)) {
    look(arc->centre.cwiseAbs() + arc->u.cwiseAbs() + arc->v.cwiseAbs());
    if (!std::isfinite(arc->start_rad) || !std::isfinite(arc->sweep_rad)) return kInfinite;
  } else {
    for (const Vec2& p : std::get<BezierPiece>(piece).points) look(p);
  }
  return reach;
}

Piece Transformed(const Piece& piece, const Affine& affine) {
  if (const auto* arc = std::get_if<ArcPiece>(&piece)) {
    return ArcPiece{affine * arc->centre, affine.linear * arc->u, affine.linear * arc->v,
                    arc->start_rad, arc->sweep_rad};
  }
  BezierPiece bezier = std::get<BezierPiece>(piece);
  for (Vec2& p : bezier.points) p = affine * p;
  return bezier;
}

std::vector<Vec2> Flatten(const DrawnPath& path, double error, double* off) {
  LW_REQUIRE(error > 0.0, "error=" << error);
  std::vector<Vec2> points;
  double farthest = 0.0;
  for (const Piece& piece : path.pieces) {
    std::visit([&](const auto& p) { AddPoints(p, error, &points, &farthest); }, piece);
  }
  if (off != nullptr) *off = farthest;
  // A full turn ends where it began, to rounding.
  if (path.closed && points.size() > 1) {
    const double size = std::max(1.0, points.front().norm());
    if ((points.front() - points.back()).norm() <= 1e-9 * size) points.pop_back();
  }
  return points;
}

std::vector<Piece> SplinePieces(int degree, const std::vector<double>& knots,
                                const std::vector<Vec2>& points,
                                const std::vector<double>& weights) {
  const auto p = static_cast<std::size_t>(degree);
  LW_REQUIRE(degree >= 1 && knots.size() == points.size() + p + 1,
             "degree=" << degree << " knots=" << knots.size() << " points=" << points.size());
  const Weighted control = WeightedPoints(points, weights);
  std::vector<Piece> pieces;
  for (std::size_t j = p; j < points.size(); ++j) {
    if (!(knots[j] < knots[j + 1])) continue;
    BezierPiece piece;
    for (std::size_t k = 0; k <= p; ++k) {
      // The blossom with k arguments at the stretch's end and the others at its start.
      Weighted d(control.begin() + static_cast<std::ptrdiff_t>(j - p),
                 control.begin() + static_cast<std::ptrdiff_t>(j + 1));
      for (std::size_t r = 1; r <= p; ++r) {
        const double t = r <= k ? knots[j + 1] : knots[j];
        for (std::size_t i = p; i >= r; --i) {
          const double low = knots[j - p + i], high = knots[j + 1 + i - r];
          const double share = (t - low) / (high - low);
          d[i] = (1.0 - share) * d[i - 1] + share * d[i];
        }
      }
      piece.points.push_back(Plain(d[p]));
      if (!weights.empty()) piece.weights.push_back(d[p].z());
    }
    pieces.emplace_back(std::move(piece));
  }
  LW_REQUIRE(!pieces.empty(), "a spline without length");
  return pieces;
}

}  // namespace lidwright
