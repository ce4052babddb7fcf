// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/shop_sheets.h"
#include "lidwright/forces/hinge_forces.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// Pivots stand as far from the wood as the plate needs round a pin, where that is left open.
void KeepRoomAtEdges(Job& job);

/// What a search begins with where the job leaves it open: straps that bear most lids and whoever
/// leans on them, as light as plywood ones, and plates that take the heads of screws that do.
Job StartingSizes(const Job& wanted);

struct Sizes {
  StockSheet sheet;
  double width_mm, bushing_mm, plate_mm;
  double weight_kg_m;     ///< of an arm along its length
  double in_use, leaned;  ///< foretold: strength over load over what is wanted
};

/// [mm] How much of the room in the bay an arm takes.
double BulkOf_mm(const Sizes& sizes);

/// All sizes of arms that are sold for a job, the lightest first, each with the pins and plates
/// that go with it, and what they are foretold to bear where what these forces were reckoned for
/// bears what it does.
class SizeLadder {
 public:
  /// `leaning`: pins and plates for somebody who leans on the lid as well, else for use alone.
  /// Keeps references to `job` and `wanted`.
  SizeLadder(const Job& job, const PlateWish& wanted, const HingeForces& forces, bool leaning);

  const std::vector<Sizes>& steps() const { return steps_; }
  /// [–] What pins and plates are foretold to bear over what is wanted. Screws are left out: their
  /// row can be made longer.
  double bears() const { return bears_; }
  Job With(const Sizes& sizes) const;

 private:
  double Thickness(const StockSheet& sheet) const;
  bool Wanted(const StockSheet& sheet) const;

  const Job& job_;
  const PlateWish& wanted_;
  std::vector<Sizes> steps_;
  double bears_ = 0.0;
};

}  // namespace lidwright
