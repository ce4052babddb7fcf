// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/job/job.h"

namespace lidwright {

/// Height over its chord of a circular arc with half-chord 1·half and rise `rise`, at distance `s`
/// from the middle: rise − (R − √(R² − s²)), R = (half² + rise²) / (2 rise), written so that it
/// stays exact for flat arcs. Negative rises hang.
double ArcHeight(double half, double rise, double s);

/// How far a circle of radius `radius` has sunk at distance s from its top: radius − √(radius² −
/// s²).
double Sink(double radius, double s);

double ArcRadius(double half, double rise);

/// Height at the share t = 0 … 1 from the crest to the edge, crest 1, edge 0: of an ellipse
/// √(1 − t²), of a superellipse (1 − tⁿ)^(1/n) (Lamé), of a line of points by straight pieces.
double EllipseHeight(double exponent, double t);
double LineHeight(const std::vector<Vec2>& points, double x);

/// The rim's rise from the back to the front, A(x), the same in every section: a circular arc
/// between `from` and `to` with its crest at mid-depth, straight along its tangents beyond them,
/// rising by `rise` from x = 0 to the crest. Walls lie beyond: where a section's seam would bend
/// within a wall, or where its direction would turn from section to section, contacts could not be
/// certified.
class RimCurve {
 public:
  RimCurve() = default;  ///< level
  /// Requires 0 < from < depth / 2 < to < depth.
  RimCurve(double depth_mm, double rise_mm, double from_mm, double to_mm);

  double At(double x) const;
  /// Where its chords' vertices stand; none if it is level.
  const std::vector<double>& points() const { return points_; }

 private:
  double Curve(double x) const;
  double crest_mm_ = 0.0, rise_mm_ = 0.0, radius_mm_ = 0.0, from_mm_ = 0.0, to_mm_ = 0.0;
  std::vector<double> points_;
};

/// Chords of an arc of half-chord `half` and rise `rise` that keep within the chord error, equal
/// steps along its own chord; even, so that the top gets a vertex; 0 for a straight one.
int ArcPieces(double half, double rise);

/// The dome's outline in the side view.
class DomeCurve {
 public:
  /// Its points stand so that chords keep within kChordError_mm of the curve in the section of half
  /// depth `half_mm` and rise `rise_mm` and in all smaller ones.
  DomeCurve(const LidMeasures& lid, double half_mm, double rise_mm);

  /// The circular dome that stands on no list of points: its points lie at equal turns of the arc.
  bool circular() const { return circular_; }
  bool given() const { return !profile_.empty(); }  ///< as a list of points
  std::size_t size() const { return shares_.size(); }

  /// The i-th point of the section, from the back: distance from the middle, and its height over
  /// the band.
  double Across(std::size_t i, double half, double rise) const;
  double Height(double s, double half, double rise) const;

 private:
  LidMeasures lid_;
  bool circular_ = false;
  std::vector<double> shares_;  // of the turn if circular, else of the half depth; −1 … 1
  std::vector<Vec2> profile_;   // x −1 … 1, height with its highest at 1
};

}  // namespace lidwright
