// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "bench/random_boxes.h"

namespace lidwright::testing {

/// A box of any measured form, each feature there or not: bows, arches, flares, cups, feet, hollow
/// bottoms, all curves, measured profiles, thick edges, lids of one piece, lips of all kinds.
inline std::string DrawAnyBox(bench::BoxDraw& draw) {
  bench::JobWriter out;
  const auto chance = [&](double share) { return draw.Chance(share); };
  const double depth = draw.Half(120.0, 330.0);
  const double width = draw.Half(std::max(200.0, 1.1 * depth), 2.0 * depth + 60.0);
  const double height = draw.Half(0.5 * depth + 25.0, 1.1 * depth);
  const double wall = draw.Half(6.0, std::min(16.0, depth / 14.0 + 3.0));
  out.Open("case");
  out.Number("width", width);
  out.Number("depth", depth);
  out.Number("height", height);
  out.Number("wall", wall);
  const auto maybe = [&](double share, const char* key, double low, double high) {
    if (chance(share)) out.Number(key, draw.Half(low, high));
  };
  maybe(0.2, "end_wall", wall, wall + 4.0);
  maybe(0.4, "back_bow", -depth / 25.0, depth / 20.0);
  maybe(0.4, "front_bow", -depth / 25.0, depth / 20.0);
  maybe(0.4, "rim_arch", -width / 60.0, width / 35.0);
  maybe(0.3, "rim_arch_side", -4.0, 5.0);
  maybe(0.3, "back_flare_deg", 1.0, 8.0);
  maybe(0.3, "front_flare_deg", 1.0, 8.0);
  maybe(0.25, "end_flare_deg", 1.0, 6.0);
  maybe(0.25, "back_cup", -4.0, 5.0);
  maybe(0.2, "front_cup", -4.0, 5.0);
  maybe(0.2, "end_cup", 1.0, 6.0);
  if (chance(0.25)) {
    out.Number("feet", draw.Half(8.0, 15.0));
    out.Number("feet_inset", draw.Half(1.0, 6.0));
    out.Number("feet_depth", draw.Half(18.0, 30.0));
  }
  maybe(0.15, "bottom_hollow", -6.0, 3.0);
  out.Close();
  out.Open("lid");
  const double crown = draw.Half(0.06 * depth, 0.22 * depth);
  out.Number("rim", draw.Half(6.0, 0.1 * depth + 18.0));
  out.Number("crown", crown);
  const double ends = draw.Share();
  if (ends < 0.35) out.Number("crown_at_ends", crown);
  if (ends > 0.7) out.Number("crown_at_ends", draw.Half(0.0, crown));
  const double curve = draw.Share();
  if (curve < 0.2) out.Word("curve", "elliptical");
  if (curve > 0.2 && curve < 0.4) {
    out.Word("curve", "superelliptic");
    out.Number("exponent", draw.Tenth(1.8, 4.0));
  }
  if (curve > 0.4 && curve < 0.5) {
    out.Word("curve_back", "elliptical");
    out.Word("curve_front", "superelliptic");
  }
  if (chance(0.2)) out.Word("curve_across", chance(0.5) ? "elliptical" : "superelliptic");
  const double make = draw.Share();
  if (make < 0.2) {
    out.Number("hollow", draw.Half(0.0, 20.0));
  } else if (make < 0.7) {
    const double top = draw.Half(5.0, 0.07 * depth + 4.0);
    out.Number("top", top);
    if (chance(0.3)) out.Number("top_at_edges", top + draw.Half(1.0, 6.0));
  }
  if (chance(0.25)) out.Number("wall", draw.Half(wall - 1.0, wall + 8.0));
  if (chance(0.2)) out.Number("seam_gap", draw.Tenth(0.2, 1.2));
  if (chance(0.4)) {
    out.Number("lip", draw.Half(2.0, 7.0));
    if (chance(0.4)) out.Word("lip_side", "outside");
    if (chance(0.4)) out.Flag("lip_at_ends", true);
  }
  out.Close();
  out.Open("swing");
  out.Number("open_deg", draw.Half(84.0, 108.0));
  out.Number("gap", draw.Tenth(0.8, 2.5));
  out.Close();
  out.Open("room");
  if (chance(0.8)) out.Number("behind", std::ceil(depth * (0.35 + 0.5 * draw.Share())));
  if (chance(0.3)) out.Number("above", std::ceil(depth * (1.0 + 0.4 * draw.Share())));
  out.Close();
  out.Open("arms");
  const double arm = draw.Half(6.0, depth / 24.0 + 4.0);
  out.Number("width", arm);
  out.Number("thickness", std::round(2.0 + 2.0 * draw.Share()));
  out.Number("bushing", arm < 7.0 ? 3.0 : arm < 12.0 ? 4.0 : 6.0);
  out.Number("eye", chance(0.5) ? arm : arm + 2.0);
  out.Number("gap", draw.Half(0.5, 1.0));
  out.Close();
  return out.Done();
}

/// The box of a seed; what contradicts itself is drawn again.
inline Job AnyBox(unsigned seed) {
  bench::BoxDraw draw(1000 + seed);
  for (;;) {
    const JobReading reading = ReadJob(DrawAnyBox(draw), "box");
    if (reading.job && FaultsOf(*reading.job, MakeSolid(*reading.job)).empty()) {
      return *reading.job;
    }
  }
}

}  // namespace lidwright::testing
