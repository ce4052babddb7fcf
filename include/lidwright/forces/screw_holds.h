// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace lidwright {

/// One wood screw through a plate (and a packing that bears nothing) into wood.
struct ScrewSeat {
  double gravity = 0.0;      ///< specific gravity of the wood
  double diameter_mm = 0.0;  ///< of the thread
  double thread_mm = 0.0;    ///< in the wood
  double plate_mm = 0.0;     ///< thickness it passes
  double plate_bearing_mpa = 0.0;
  double packing_mm = 0.0;
  double grain_rad = 0.0;  ///< of the side force to the wood's grain
  double share = 1.0;      ///< of its full load, by its distances (arms/fixing_rules.h)
  bool brass = false;
  bool end_grain = false;
};

/// Loads allowed on one screw, the timber code's margin (about five) in them.
struct ScrewHold {
  double pull_n = 0.0;  ///< out of the wood: 2850 G² D lb per inch of thread (NDS, READ)
  double side_n = 0.0;  ///< across it: DowelLoadOf on the root
};

/// From end grain the code allows no pull; makers do it with half of it at most (no source): half.
/// Under six diameters of thread the code allows no side load; in proportion there (no source).
ScrewHold ScrewHoldOf(const ScrewSeat& seat);

/// Share of the allowed loads a screw uses that is pulled and pushed at once: pull / allowed +
/// side / allowed (NDS: W Z / (W cos² + Z sin²), the same line).
double ScrewUse(const ScrewHold& hold, double pull_n, double side_n);

}  // namespace lidwright
