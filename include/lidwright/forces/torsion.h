// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace lidwright {

/// A rectangular bar under torsion, by Saint-Venant's series (a handbook's; tables of it READ):
/// twist per length T / (G J), largest shear T / W at the middle of the wide faces.
struct BarTorsion {
  double j_mm4 = 0.0;  ///< k a b³, k from 0.1406 (square) to 1/3 (thin)
  double w_mm3 = 0.0;  ///< k₁ a b², k₁ from 0.2082 to 1/3
  /// Shear at the middle of the narrow faces over that of the wide ones, 1 to 0.743.
  double narrow_over_wide = 1.0;
};

/// Either side may be the wider. Accuracy: 1e-9 of each. Requires positive sides.
BarTorsion TorsionOfBar(double side_mm, double other_side_mm);

}  // namespace lidwright
