// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "job/job_keys.h"
#include "job/station_measures.h"

namespace lidwright {
namespace {

using enum KeyKind;

std::vector<Key> All(std::vector<Key> keys, GoesWith which) {
  for (Key& key : keys) key.goes_with = which;
  return keys;
}

std::vector<Key> CaseSizes(JobDraft* draft) {
  JobDraft& d = *draft;
  CaseMeasures& form = d.job.case_form;
  const auto wall = [&d] { return d.wall_mm; };
  const auto shown = [&d](const char* path) {
    return Rule("0, or as stations show",
                [&d, path] { return LikelyMeasure_mm(d.job.stations, path); });
  };
  return {
      Section("case", Required(), "The box below the seam"),
      {"case.width", kLength, 30, 3000, &form.width_mm, Required(), "Outside, across"},
      {"case.depth", kLength, 30, 2000, &form.depth_mm, Required(),
       "Outside, back to front, at the ends"},
      {"case.height", kLength, 15, 2000, &form.height_mm, Required(),
       "Outside, from the bench to the rim at the ends"},
      {"case.wall", kLength, 0.5, 200, &d.wall_mm, LeftOut("required unless every wall is given"),
       "Thickness of all walls that are not given on their own"},
      {"case.back_wall", kLength, 0.5, 200, &form.back_wall_mm, Rule("case.wall", wall),
       "Thickness of the back"},
      {"case.front_wall", kLength, 0.5, 200, &form.front_wall_mm, Rule("case.wall", wall),
       "Thickness of the front"},
      {"case.end_wall", kLength, 0.5, 200, &form.end_wall_mm, Rule("case.wall", wall),
       "Thickness of the two ends"},
      {"case.floor", kLength, 0.5, 500, &form.floor_mm,
       Rule("case.wall + case.feet",
            [&d] {
              // The feet's own default comes after this one.
              const double feet = d.job.case_form.feet_mm;
              return d.wall_mm + (std::isnan(feet) ? 0.0 : feet);
            }),
       "From the bench to the floor's upper face, feet included"},
      {"case.back_bow", kLength, -300, 300, &form.back_bow_mm, shown("case.back_bow"),
       "How far the back stands out at mid-width, behind its ends; negative: it is hollow"},
      {"case.front_bow", kLength, -300, 300, &form.front_bow_mm, shown("case.front_bow"),
       "How far the front stands out at mid-width, before its ends; negative: it is hollow"},
      {"case.rim_arch", kLength, -300, 300, &form.rim_arch_mm, shown("case.rim_arch"),
       "How far the rim rises at mid-width, above the rim at the ends; negative: it sinks"},
  };
}

std::vector<Key> CaseForm(JobDraft* draft) {
  CaseMeasures& form = draft->job.case_form;
  return {
      {"case.rim_arch_side", kLength, -300, 300, &form.rim_arch_side_mm, Mm(0),
       "How far the rim rises at mid-depth, above its back and front corners; negative: it sinks"},
      {"case.back_flare_deg", kAngle, 0, 30, &form.back_flare_rad, Preset(0, kAngle),
       "How far the back leans outwards from the bottom to the rim; depth is taken at the rim"},
      {"case.front_flare_deg", kAngle, 0, 30, &form.front_flare_rad, Preset(0, kAngle),
       "How far the front leans outwards"},
      {"case.end_flare_deg", kAngle, 0, 30, &form.end_flare_rad, Preset(0, kAngle),
       "How far the two ends lean outwards; width is taken at the rim"},
      {"case.back_cup", kLength, -100, 100, &form.back_cup_mm, Mm(0),
       "How far the back is hollow at half height, seen from the side; negative: it bulges"},
      {"case.front_cup", kLength, -100, 100, &form.front_cup_mm, Mm(0),
       "How far the front is hollow at half height; negative: it bulges"},
      {"case.end_cup", kLength, 0, 100, &form.end_cup_mm, Mm(0),
       "How far the two ends are hollow at half height"},
      {"case.feet", kLength, 0, 500, &form.feet_mm, Mm(0),
       "Height of the feet, which is part of case.height; for clearances they run from end to end"},
      {"case.feet_inset", kLength, 0, 500, &form.feet_inset_mm, Mm(0),
       "From the back's or front's face at the bottom to the feet"},
      {"case.feet_depth", kLength, 1, 500, &form.feet_depth_mm,
       Rule("a tenth of case.depth", [&form] { return form.depth_mm / 10; }),
       "Size of one foot, back to front"},
      {"case.bottom_hollow", kLength, -200, 200, &form.bottom_hollow_mm, Mm(0),
       "How far the underside rises in its middle above its edges; negative: it hangs down "
       "between the feet"},
  };
}

std::vector<Key> LidSizes(JobDraft* draft) {
  JobDraft& d = *draft;
  LidMeasures& lid = d.job.lid;
  const Default needed{!d.has_stations, "required without stations"};
  return {
      Section("lid", needed, "The part above the seam"),
      Key{"lid.rim", kLength, 1, 1000, &lid.rim_mm, needed,
          "Height of the lid's straight band above the seam"}
          .With(GoesWith::kMeasures),
      Key{"lid.crown", kLength, 0, 1000, &lid.crown_mm, needed,
          "Rise of the dome above that band at mid-width and mid-depth; 0 for a flat lid"}
          .With(GoesWith::kMeasures),
      Key{"lid.crown_at_ends", kLength, 0, 1000, &lid.crown_at_ends_mm, Mm(0),
          "The same rise at the ends: 0 for a full dome, as much as crown for a barrel top"}
          .With(GoesWith::kMeasures),
      {"lid.wall", kLength, 0.5, 200, &lid.wall_mm,
       Rule("case.wall, else case.end_wall",
            [&d] { return d.wall_mm > 0 ? d.wall_mm : d.job.case_form.end_wall_mm; }),
       "Thickness of the lid's straight band, ends included"},
      {"lid.top", kLength, 0.5, 200, &lid.top_mm, Rule("lid.wall", [&lid] { return lid.wall_mm; }),
       "Thickness of the dome"},
      {"lid.seam_gap", kLength, 0, 10, &lid.seam_gap_mm, Mm(0),
       "Gap between lid and case when closed; 0 is wood on wood"},
  };
}

std::vector<Key> LidCurves(JobDraft* draft) {
  JobDraft& d = *draft;
  LidMeasures& lid = d.job.lid;
  const Choices curves{{"circular", "elliptical", "superelliptic"}};
  const Default both{false, "lid.curve", {}, [&d] { return d.curve; }};
  return {
      Key{"lid.curve", kWord, 0, 0, &d.curve, Word("circular"), "The dome's curve in the side view"}
          .Of(curves),
      Key{"lid.curve_back", kWord, 0, 0, &lid.curve_back, both,
          "The same for the half behind the crest only"}
          .Of(curves),
      Key{"lid.curve_front", kWord, 0, 0, &lid.curve_front, both,
          "The same for the half before the crest only"}
          .Of(curves),
      Key{"lid.curve_across", kWord, 0, 0, &lid.curve_across, Word("circular"),
          "Curve of the dome's rise from mid-width to the ends"}
          .Of(curves),
      {"lid.exponent", kShare, 1.2, 8, &lid.exponent, Preset(2.5, kShare),
       "Exponent of superelliptic curves: 2 is an ellipse, more is boxier"},
      {"lid.profile", kPoints, -kFar_mm, kFar_mm, &lid.profile, LeftOut("from the curves"),
       "The dome's side profile as measured, [x, height] from back to front; its shape is scaled "
       "to the depth and lid.crown, straight between the points"},
      {"lid.profile_across", kPoints, -kFar_mm, kFar_mm, &lid.profile_across,
       LeftOut("from the curve"),
       "The dome's height across the width as measured, [z, height] from mid-width to the end; "
       "scaled to lid.crown and lid.crown_at_ends"},
      {"lid.top_at_edges", kLength, 0.5, 200, &lid.top_at_edges_mm, LeftOut("lid.top"),
       "Thickness of the dome at its edges, if it is another than in the middle"},
      {"lid.hollow", kLength, 0, 500, &lid.hollow_mm, LeftOut("walls under a dome"),
       "For a lid of one solid piece: how deep its underside is hollowed in the middle, 0 for not"},
  };
}

std::vector<Key> LidLip(JobDraft* draft) {
  LidMeasures& lid = draft->job.lid;
  return {
      {"lid.lip", kLength, 0, 100, &lid.lip_mm, Mm(0),
       "How far the lip of a rebated lid reaches past the seam, along back and front; 0 for none"},
      Key{"lid.lip_side", kWord, 0, 0, &lid.lip_side, Word("inside"),
          "On which side of the case's wall the lip runs"}
          .Of({{"inside", "outside"}}),
      {"lid.lip_wall", kLength, 0.5, 100, &lid.lip_wall_mm,
       Rule("half of lid.wall, at least 0.5 mm", [&lid] { return std::max(lid.wall_mm / 2, 0.5); }),
       "Thickness of the lip"},
      {"lid.lip_play", kLength, 0, 20, &lid.lip_play_mm, Mm(0.5),
       "Gap between the lip and the case's wall, level"},
      Key{"lid.lip_at_ends", kFlag, 0, 1, &lid.lip_at_ends, Preset(0, kFlag),
          "Whether the lip runs along the ends as well, all round the mouth"}
          .WrittenIfOther(),
  };
}

}  // namespace

std::vector<Key> CaseKeys(JobDraft* draft) {
  std::vector<Key> keys = CaseSizes(draft);
  Append(All(CaseForm(draft), GoesWith::kMeasures), &keys);
  return keys;
}

std::vector<Key> LidKeys(JobDraft* draft) {
  std::vector<Key> keys = LidSizes(draft);
  Append(All(LidCurves(draft), GoesWith::kMeasures), &keys);
  Append(All(LidLip(draft), GoesWith::kMeasures), &keys);
  return keys;
}

std::vector<Key> StationKeys(JobDraft* draft) {
  JobDraft& d = *draft;
  return {
      Key{"stations_error", kLength, 0, 5, &d.job.stations_error_mm, Mm(0),
          "How far the true form may lie from the stations and the straight blends between them"}
          .With(GoesWith::kStations),
      List("stations", LeftOut("made from the measures"),
           "Slices of case and lid by z, instead of the measured form: all, or those with z >= 0")
          .Loaded([&d](std::size_t i) {
            if (i < d.job.stations.size()) d.station = d.job.stations[i];
            return i < d.job.stations.size();
          }),
      {"stations[].z", kLength, -1500, 1500, &d.station.z_mm, Required(),
       "Place across the width, from mid-width; growing, or equal twice for a step"},
      {"stations[].case", kRings, -kFar_mm, kFar_mm, &d.station.case_rings, Required(),
       "Outline of the case there, or a list of outlines"},
      {"stations[].lid", kRings, -kFar_mm, kFar_mm, &d.station.lid_rings, Required(),
       "Outline of the lid there, lid shut, or a list of outlines"},
  };
}

}  // namespace lidwright
