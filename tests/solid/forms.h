// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "box_truth.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/job/read_job.h"

namespace lidwright::testing {

inline Job Made(const std::string& box, const std::string& lid) {
  const JobReading reading =
      ReadJob(R"({"units": "mm", "case": {"width": 340, "depth": 220, "height": 120, "wall": 12)" +
                  box + R"(}, "lid": {"rim": 14, "crown": 38)" + lid + "}}",
              "box.json");
  for (const Problem& problem : reading.problems) UNSCOPED_INFO(Describe(problem));
  REQUIRE(reading.job);
  return *reading.job;
}

struct NamedForm {
  const char *name, *box, *lid;
};

/// Each feature alone, then many together.
inline const NamedForm kForms[] = {
    {"as simple as can be", "", ""},
    {"bowed and arched up", R"(, "back_bow": 10, "front_bow": 6, "rim_arch": 8)", ""},
    {"hollow back, corners highest", R"(, "back_bow": -9, "rim_arch": -7)", ""},
    {"rim arched to the side", R"(, "rim_arch_side": 6)", ""},
    {"corners highest all round", R"(, "rim_arch_side": -5, "rim_arch": -6, "back_bow": 8)", ""},
    {"flared", R"(, "back_flare_deg": 9, "front_flare_deg": 4, "end_flare_deg": 7)", ""},
    {"cupped", R"(, "back_cup": 6, "front_cup": -4, "end_cup": 5)", ""},
    {"flared and cupped", R"(, "back_flare_deg": 6, "back_cup": 5, "end_flare_deg": 3, "end_cup": 9,
      "rim_arch": 5)",
     ""},
    {"flared under sunk rims", R"(, "back_flare_deg": 12, "back_cup": 4, "rim_arch_side": -8)", ""},
    {"feet", R"(, "feet": 15, "feet_inset": 6, "feet_depth": 24)", ""},
    {"belly between the feet", R"(, "feet": 15, "bottom_hollow": -11, "back_flare_deg": 5)", ""},
    {"hollow bottom", R"(, "floor": 20, "bottom_hollow": 9)", ""},
    {"elliptical", "", R"(, "curve": "elliptical", "curve_across": "elliptical")"},
    {"superelliptical", "",
     R"(, "curve": "superelliptic", "curve_across": "superelliptic", "exponent": 3)"},
    {"two curves", R"(, "back_bow": 7)",
     R"(, "curve_back": "circular", "curve_front": "superelliptic", "crown_at_ends": 12)"},
    {"profiles", "",
     R"(, "profile": [[0, 0], [30, 22], [90, 40], [180, 31], [220, 4]],
       "profile_across": [[0, 40], [90, 36], [170, 10]], "crown_at_ends": 5)"},
    {"thicker at the edges", "", R"(, "top": 8, "top_at_edges": 15)"},
    {"one piece, hollowed", R"(, "rim_arch": 6)", R"(, "hollow": 24)"},
    {"one piece, solid", "", R"(, "hollow": 0)"},
    {"lip inside", R"(, "back_flare_deg": 5, "front_flare_deg": 5, "rim_arch": 4)",
     R"(, "lip": 9, "lip_wall": 5, "lip_play": 0.8)"},
    {"lip outside", R"(, "back_bow": 6)",
     R"(, "lip": 9, "lip_side": "outside", "lip_wall": 5, "lip_play": 0.8)"},
    {"lip inside all round", R"(, "back_bow": 6, "rim_arch": 7)",
     R"(, "lip": 9, "lip_wall": 5, "lip_play": 0.8, "lip_at_ends": true)"},
    {"lip inside all round, leaning ends",
     R"(, "back_flare_deg": 5, "end_flare_deg": 7, "end_cup": 4, "rim_arch_side": -3,
       "rim_arch": -2)",
     R"(, "lip": 8, "lip_wall": 5, "lip_play": 0.8, "lip_at_ends": true)"},
    {"lip inside all round, cupped ends", R"(, "end_cup": 9, "rim_arch_side": 5)",
     R"(, "lip": 5, "lip_wall": 7, "lip_play": 0.6, "lip_at_ends": true, "wall": 7)"},
    {"lip inside all round a lid of one piece", R"(, "back_cup": 5)",
     R"(, "lip": 6, "lip_at_ends": true, "hollow": 20, "wall": 30, "lip_wall": 5)"},
    {"collar all round", R"(, "back_bow": 6, "rim_arch_side": 5, "rim_arch": 4)",
     R"(, "lip": 9, "lip_side": "outside", "lip_wall": 5, "lip_play": 0.8, "lip_at_ends": true,
       "curve_across": "elliptical", "crown_at_ends": 8)"},
    {"a seam gap", R"(, "rim_arch": 6, "rim_arch_side": 5)", R"(, "seam_gap": 1.5)"},
    {"everything",
     R"(, "back_bow": 8, "front_bow": -4, "rim_arch": -5, "rim_arch_side": 4, "back_flare_deg": 6,
       "front_flare_deg": 3, "end_flare_deg": 5, "back_cup": 3, "end_cup": 2, "feet": 12,
       "feet_inset": 4, "bottom_hollow": -6)",
     R"(, "curve_back": "elliptical", "curve_front": "circular", "curve_across": "elliptical",
       "crown_at_ends": 10, "top": 9, "top_at_edges": 12, "lip": 6, "seam_gap": 0.5)"},
    {"everything, lip all round",
     R"(, "back_bow": 8, "front_bow": -4, "rim_arch": -5, "rim_arch_side": 4, "back_flare_deg": 6,
       "front_flare_deg": 3, "end_flare_deg": 5, "back_cup": 3, "end_cup": 2, "feet": 12,
       "feet_inset": 4, "bottom_hollow": -6)",
     R"(, "curve_back": "elliptical", "curve_front": "circular", "curve_across": "elliptical",
       "crown_at_ends": 10, "top": 9, "top_at_edges": 12, "lip": 6, "seam_gap": 0.5,
       "lip_at_ends": true)"},
    {"everything, collar all round",
     R"(, "back_bow": 8, "front_bow": -4, "rim_arch": -5, "rim_arch_side": 4, "back_flare_deg": 6,
       "front_flare_deg": 3, "end_flare_deg": 5, "back_cup": 3, "end_cup": 2, "feet": 12)",
     R"(, "profile": [[0, 0], [30, 22], [90, 40], [180, 31], [220, 4]],
       "profile_across": [[0, 40], [90, 36], [170, 10]], "crown_at_ends": 5, "top": 9, "lip": 6,
       "lip_side": "outside", "lip_at_ends": true)"},
};

/// With a lip along the ends little is filled beyond the bay: where nothing may be on the lid, and
/// of the case above the lip's tip.
inline bool Filled(const Job& job, const BoxTruth& truth, bool lid, const Vec2& p, double z) {
  if (z < truth.Face() - 0.01) return false;  // the bay ends so exactly
  if (!job.lid.lip_at_ends) return true;
  const bool upright = job.case_form.end_flare_rad == 0.0 && job.case_form.end_cup_mm == 0.0;
  if (upright && job.lid.wall_mm >= job.case_form.end_wall_mm) return false;
  if (truth.TongueTo() == 0.0) return true;
  if (lid) return false;
  return p.y() < -job.lid.lip_mm - 8.0 || z > truth.TongueTo();
}

/// The ruled section between two stations, as the clearance checker has it.
inline std::vector<Ring> Blend(const std::vector<Ring>& a, const std::vector<Ring>& b,
                               double share) {
  std::vector<Ring> blend = a;
  for (std::size_t r = 0; r < a.size(); ++r) {
    REQUIRE(a[r].size() == b[r].size());
    for (std::size_t k = 0; k < a[r].size(); ++k) blend[r][k] += share * (b[r][k] - a[r][k]);
  }
  return blend;
}

}  // namespace lidwright::testing
