// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "design/independent_eye.h"
#include "swing/least_over.h"

namespace lidwright::testing {

/// [mm] The eye's least gaps stand at most this above the least at any angle.
inline constexpr double kEyeWithin_mm = 0.01;

/// The least gaps of a lid at all angles, not at samples: sections at every station and half way
/// between, poses by Newton, distances by GEOS, angles by branch and bound.
class LeastSeen {
 public:
  /// Requires a motion that opens the lid.
  LeastSeen(const Job& job, const Solid& solid, const Pivots& pivots, const Geos& geos)
      : job_(job), geos_(geos), oracle_(pivots), sections_(SectionsOf(solid, {})) {
    const double open = job.swing.open_rad;
    oracle_.Follow(open);
    for (const SeenSection& s : sections_) {
      for (const Ring& ring : s.lid) hull_.insert(hull_.end(), ring.begin(), ring.end());
    }
    // The lid turns at one and its pivot A moves at α' a: no point of it is faster than this. The
    // rates are smooth; a twentieth more than at every degree is never reached between.
    double farthest = 0.0;
    for (const Vec2& p : hull_) farthest = std::max(farthest, (p - pivots.lid_a).norm());
    const int degrees = static_cast<int>(std::ceil(open * kDegPerRad));
    for (int i = 0; i <= degrees; ++i) {
      const double rate = std::abs(oracle_.Rates(open * i / degrees).a);
      speed_ = std::max(speed_, 1.05 * rate * (pivots.lid_a - pivots.case_a).norm() + farthest);
    }
  }

  /// From gap_from on; 0 where they meet.
  double ToCase() const {
    double least = 1e300;
    for (const SeenSection& s : sections_) {
      if (s.box.empty() || s.lid.empty()) continue;
      const StandingRegion standing(geos_, s.box);
      least = LeastOver(
          job_.swing.gap_from_rad, job_.swing.open_rad, speed_, kEyeWithin_mm,
          [&](double theta) { return standing.To(s.lid, oracle_.Place(Body::kLid, theta)); },
          least);
    }
    return least;
  }
  double ToContents(const Solid& solid) const {
    double least = 1e300;
    for (const Contents& c : job_.contents) {
      const StandingRegion standing(geos_, c.rings);
      for (const SeenSection& s : sections_) {
        const bool here = (s.z >= c.z_min_mm && s.z <= c.z_max_mm) ||
                          (solid.mirrored && -s.z >= c.z_min_mm && -s.z <= c.z_max_mm);
        if (!here) continue;
        least = LeastOver(
            0.0, job_.swing.open_rad, speed_, kEyeWithin_mm,
            [&](double theta) { return standing.To(s.lid, oracle_.Place(Body::kLid, theta)); },
            least);
      }
    }
    return least;
  }
  /// Least x and y of the lid over the whole swing.
  double Rearmost() const { return LeastAlong(Vec2(1.0, 0.0)); }
  double Lowest() const { return LeastAlong(Vec2(0.0, 1.0)); }
  /// Least x at so many even steps of the swing.
  double RearmostAt(int steps) const {
    double least = 1e300;
    for (int i = 0; i <= steps; ++i) {
      const Placing lid = oracle_.Place(Body::kLid, job_.swing.open_rad * i / steps);
      for (const Vec2& p : hull_) least = std::min(least, lid(p).x());
    }
    return least;
  }

 private:
  double LeastAlong(const Vec2& n) const {
    return LeastOver(
        0.0, job_.swing.open_rad, speed_, kEyeWithin_mm,
        [&](double theta) {
          const Placing lid = oracle_.Place(Body::kLid, theta);
          double least = 1e300;
          for (const Vec2& p : hull_) least = std::min(least, n.dot(lid(p)));
          return least;
        },
        1e300, -1e300);
  }

  const Job& job_;
  const Geos& geos_;
  LoopOracle oracle_;
  std::vector<SeenSection> sections_;
  std::vector<Vec2> hull_;  // all points of the lid
  double speed_ = 0.0;      // mm per radian, of no point more
};

/// [mm] What a gap of two bodies with these errors may be told too small: the errors of both, as
/// the certificate takes them off, and what it stops halving at.
inline double BoundsReserve_mm(const Solid& solid) {
  return 2.0 * solid.blend_error_mm + solid.chord_error_mm + solid.case_chord_error_mm +
         kGapTolerance_mm;
}

}  // namespace lidwright::testing
