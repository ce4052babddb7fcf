// SPDX-License-Identifier: Apache-2.0
#include "job/check_job.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "lidwright/base/meant.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/job/woods.h"

namespace lidwright {
namespace {

// Complains if a length breaks its limit and returns whether it keeps it. `limit_name` says what
// the limit is made of. NaN on either side passes.
class Limits {
 public:
  explicit Limits(Findings* findings) : findings_(*findings) {}

  bool Below(const std::string& place, double length_mm, double limit_mm,
             const std::string& limit_name) {
    return Keep(!(length_mm >= limit_mm), place, length_mm, "less than ", limit_mm, limit_name);
  }
  bool AtMost(const std::string& place, double length_mm, double limit_mm,
              const std::string& limit_name) {
    return Keep(!(length_mm > limit_mm), place, length_mm, "at most ", limit_mm, limit_name);
  }
  bool AtLeast(const std::string& place, double length_mm, double limit_mm,
               const std::string& limit_name) {
    return Keep(!(length_mm < limit_mm), place, length_mm, "at least ", limit_mm, limit_name);
  }

 private:
  bool Keep(bool kept, const std::string& place, double length_mm, const std::string& relation,
            double limit_mm, const std::string& limit_name) {
    if (kept) return true;
    const std::string rule = "must be " + relation + limit_name + ", " + findings_.Shown(limit_mm);
    if (FollowsWall(place)) {
      findings_.Complain("case.wall", "counts for " + place + " too, which " + rule);
      return false;
    }
    findings_.Complain(place, rule, "", findings_.Shown(length_mm) + " by default");
    return false;
  }

  // Is it left out, and as thick as the one wall that was typed?
  bool FollowsWall(const std::string& place) const {
    static const std::set<std::string> kFollow{"case.back_wall", "case.front_wall", "case.end_wall",
                                               "case.floor",     "lid.wall",        "lid.top"};
    return kFollow.count(place) > 0 && !findings_.WasGiven(place) &&
           findings_.WasGiven("case.wall");
  }

  Findings& findings_;
};

// Whether what is given of the hardware goes together, before any search.
void CheckHardware(const Job& job, Findings* findings) {
  const HardwareWish& hardware = job.hardware;
  Limits must(findings);
  must.Below("hardware.bushing_bore", hardware.bore_mm, job.arms.bushing_mm, "arms.bushing");
  must.Below("hardware.pin", hardware.pin_mm, hardware.bore_mm, "hardware.bushing_bore");
  must.Below("hardware.pin", hardware.pin_mm, job.arms.bushing_mm, "arms.bushing");
  const auto needs = [&](bool there, const std::string& place, const std::string& plate) {
    if (there || !findings->WasGiven(place)) return;
    findings->Complain(place, "is given, but " + plate + " is false: there is no such plate",
                       "leave one of the two out");
  };
  for (const auto& [plate, place] :
       {std::pair(job.plates.on_case, "plates.on_case"), {job.plates.on_lid, "plates.on_lid"}}) {
    if (plate || (job.case_form.end_flare_rad == 0.0 && job.case_form.end_cup_mm == 0.0)) continue;
    findings->Complain(place, "must be true where the ends lean or are hollow",
                       "pins stand level only in a plate on a mounting block");
  }
  if (!job.plates.on_case && job.lid.lip_at_ends && job.lid.lip_mm > 0.0 &&
      job.lid.lip_side == "inside") {
    findings->Complain("plates.on_case", "must be true where the lip runs inside along the ends",
                       "pins straight in the wall would stand in the lip's way");
  }
  needs(job.plates.on_case, "plates.case_thickness", "plates.on_case");
  needs(job.plates.on_lid, "plates.lid_thickness", "plates.on_lid");
  needs(job.plates.on_lid, "plates.packing", "plates.on_lid");
  for (const char* place : {"plates.material", "hardware.screw", "hardware.screw_length"}) {
    needs(job.plates.on_case || job.plates.on_lid, place,
          "each of plates.on_case and plates.on_lid");
  }
}

std::string WoodMeant(const std::string& typed) {
  std::vector<std::string> names;
  for (const Wood& wood : Woods()) names.push_back(wood.name);
  return DidYouMean(typed, names);
}

}  // namespace

void CheckMeasures(const JobDraft& draft, Findings* findings) {
  const Job& job = draft.job;
  const CaseMeasures& form = job.case_form;
  const LidMeasures& lid = job.lid;
  Limits must(findings);

  const bool wall_needed = std::isnan(form.back_wall_mm) || std::isnan(form.front_wall_mm) ||
                           std::isnan(form.end_wall_mm) || std::isnan(form.floor_mm);
  const bool every_wall = findings->WasGiven("case.back_wall") &&
                          findings->WasGiven("case.front_wall") &&
                          findings->WasGiven("case.end_wall") && findings->WasGiven("case.floor");
  if (findings->WasGiven("case") && !findings->WasGiven("case.wall") && wall_needed &&
      !every_wall) {
    findings->Complain("case.wall", "is missing",
                       "or give all of back_wall, front_wall, end_wall and floor");
  }
  // What builds on walls that leave no room inside is not judged as well.
  const bool back =
      must.Below("case.back_wall", form.back_wall_mm, form.depth_mm / 2, "half of case.depth");
  const bool front =
      must.Below("case.front_wall", form.front_wall_mm, form.depth_mm / 2, "half of case.depth");
  const bool deep = back && front;
  const bool wide =
      must.Below("case.end_wall", form.end_wall_mm, form.width_mm / 2, "half of case.width");
  must.Below("case.floor", form.floor_mm, form.height_mm, "case.height");
  must.Below("lid.wall", lid.wall_mm, std::min(form.depth_mm, form.width_mm) / 2,
             "half of the box");
  if (std::isnan(lid.hollow_mm)) {
    must.Below("lid.top", lid.top_mm, lid.rim_mm + lid.crown_mm, "the lid, lid.rim + lid.crown");
  }
  must.AtMost("lid.crown_at_ends", lid.crown_at_ends_mm, lid.crown_mm, "lid.crown");
  must.AtMost("lid.seam_gap", lid.seam_gap_mm, job.swing.gap_mm, "swing.gap");

  if (job.swing.gap_from_rad >= job.swing.open_rad) {
    findings->Complain(
        "swing.gap_from_deg",
        "must be less than swing.open_deg, " + Text(job.swing.open_rad * kDegPerRad) + " deg", "",
        Text(job.swing.gap_from_rad * kDegPerRad) + " deg by default");
  }

  must.AtLeast("room.behind", job.room.behind_mm, form.back_bow_mm, "case.back_bow");
  must.AtLeast("room.above", job.room.above_mm,
               lid.rim_mm + lid.crown_mm + std::max(0.0, form.rim_arch_mm),
               "the closed lid, lid.rim + lid.crown + case.rim_arch");
  must.Below("arms.bushing", job.arms.bushing_mm, job.arms.eye_mm, "arms.eye");
  must.AtLeast("bay.width", job.bay.width_mm, job.arms.thickness_mm, "arms.thickness");
  if (wide) {
    must.Below("bay.width", job.bay.width_mm, form.width_mm / 2 - form.end_wall_mm,
               "half of the inner width");
  }
  if (deep) {
    must.Below("room.open_behind_x", job.room.open_behind_x_mm, form.depth_mm, "case.depth");
    must.Below("bay.edge", job.bay.edge_mm,
               (form.depth_mm - form.back_wall_mm - form.front_wall_mm) / 2,
               "half of the inner depth");
  }
  if (form.floor_mm < form.height_mm)  // else that is told
    must.AtMost("bay.lid_drop", job.bay.lid_drop_mm, form.height_mm - form.floor_mm,
                "the case's inner height");
  must.Below("loads.feet_back", job.loads.feet_back_mm, job.loads.feet_front_mm,
             "loads.feet_front");
  must.AtMost("shop.cutter", job.shop.cutter_mm, job.arms.eye_mm, "arms.eye");
  must.Below("shop.sheet_margin", 2.0 * job.shop.sheet_margin_mm,
             std::min(job.shop.sheet_width_mm, job.shop.sheet_height_mm),
             "half of the stock's lesser side");
  CheckHardware(job, findings);
  if (!FindWood(job.loads.wood) && !findings->WasGiven("loads.density_kg_m3")) {
    findings->Complain("loads.wood", "is no wood that lidwright knows; give loads.density_kg_m3",
                       WoodMeant(job.loads.wood));
  }
}

void CheckPivots(const Job& job, Findings* findings) {
  struct Pin {
    const char* name;
    const std::optional<Vec2>& at;
  };
  const Pin pins[] = {{"pivots.case_a", job.pivots.case_a},
                      {"pivots.case_b", job.pivots.case_b},
                      {"pivots.lid_a", job.pivots.lid_a},
                      {"pivots.lid_b", job.pivots.lid_b}};
  const CaseMeasures& form = job.case_form;
  const double x_min = -std::max(0.0, form.back_bow_mm);
  const double x_max = form.depth_mm + std::max(0.0, form.front_bow_mm);
  for (const Pin& pin : pins) {
    if (!pin.at) continue;
    if (pin.at->x() < x_min || pin.at->x() > x_max || pin.at->y() < -form.height_mm) {
      findings->Complain(pin.name, "lies outside the box",
                         "x from " + findings->Shown(x_min) + " to " + findings->Shown(x_max) +
                             ", y from " + findings->Shown(-form.height_mm));
    }
  }
  // Two holes in one plate (both case, both lid) or in one arm (both A, both B).
  constexpr std::pair<int, int> kTogether[] = {{0, 1}, {2, 3}, {0, 2}, {1, 3}};
  for (const auto& [i, j] : kTogether) {
    if (!pins[i].at || !pins[j].at) continue;
    if ((*pins[i].at - *pins[j].at).norm() < job.arms.bushing_mm) {
      findings->Complain(
          pins[j].name, std::string("lies on ") + pins[i].name,
          "keep them farther apart than arms.bushing, " + findings->Shown(job.arms.bushing_mm));
    }
  }
}

}  // namespace lidwright
