// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// Height over its chord of a circular arc with half-chord 1·half and rise `rise`, at distance `s`
/// from the middle: rise − (R − √(R² − s²)), R = (half² + rise²) / (2 rise), written so that it
/// stays exact for flat arcs.
double ArcHeight(double half, double rise, double s);

/// Sections of the measured form.
class MeasuredForm {
 public:
  explicit MeasuredForm(const Job& job);
  /// The hollow section at z, or the solid one of an end wall.
  Station At(double z_mm, bool end_wall) const;

 private:
  Ring CaseRing(double z_mm, bool end_wall) const;
  Ring LidRing(double z_mm, bool end_wall) const;

  const CaseMeasures box_;
  const LidMeasures lid_;
  int dome_pieces_;
};

}  // namespace lidwright
