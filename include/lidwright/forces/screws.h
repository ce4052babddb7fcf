// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "lidwright/forces/load_case.h"

namespace lidwright {

/// Ultimate pull that draws one wood screw out of side grain: 108.25 G² D L (N, mm), G specific
/// gravity, D shank diameter, L thread in the wood. Source: Wood Handbook's 15 700 G² D lb per inch
/// of thread (READ on a page that reproduces it, with its example: #8, G 0.70, 1 in: 1262 lb).
/// End grain holds three quarters of it at most. Design loads are a fifth to a sixth.
double ScrewPullOut_n(double specific_gravity, double diameter_mm, double thread_mm);

/// Load allowed across one wood screw in side grain: C D² (N, mm), C by how heavy the wood is: 33.1
/// from G 0.62, 27.3 from 0.51, 22.3 from 0.44, else 17.4. Source: 4800, 3960, 3240, 2520 D² lb
/// for the four groups (READ in a handbook of civil formulas); the bounds in G are drawn between
/// the species listed there and from memory for the first. In full from seven diameters of thread
/// (from memory), less in proportion.
double ScrewSideLoad_n(double specific_gravity, double diameter_mm, double thread_mm);

/// What one plate's screws bear under the forces of its two pins.
struct ScrewLoads {
  double pull_n = 0.0;  ///< on the worst screw, out of the wood
  double side_n = 0.0;  ///< on the worst screw, across it
};

/// In the plate's plane the screws share the force evenly and the twist about their centre by
/// distance. The pins' forces act above the wood's face and tilt the plate over its edge on the
/// side they push to; screws pull in proportion to their distance from that edge: the handbook's
/// bolted bracket. Requires at least one screw and three points of the plate's edge.
ScrewLoads LoadsOnScrews(const PlateHold& plate, const std::array<Vec2, 2>& pins,
                         const std::array<Vec2, 2>& forces_n);

}  // namespace lidwright
