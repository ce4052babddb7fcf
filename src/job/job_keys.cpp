// SPDX-License-Identifier: Apache-2.0
#include "job/job_keys.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/numbers.h"
#include "lidwright/job/arm_materials.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/woods.h"

namespace lidwright {
namespace {

constexpr double kInf = std::numeric_limits<double>::infinity();
constexpr double kFar_mm = 5000.0;  // no point of a box lies farther from its rear edge

Default Rule(const std::string& text, std::function<double()> rule) {
  return {false, text, std::move(rule)};
}

Default Mm(double value) {
  return Preset(value, Kind::kLength);
}

std::string WoodNames() {
  std::string names;
  for (const Wood& wood : Woods()) names += (names.empty() ? "" : ", ") + wood.name;
  return names;
}

std::string MaterialNames() {
  std::string names;
  for (const ArmMaterial& m : ArmMaterials()) names += (names.empty() ? "" : ", ") + m.name;
  return names;
}

}  // namespace

std::vector<Key> JobKeys(JobDraft* draft, bool has_stations) {
  JobDraft& d = *draft;
  Job& j = d.job;
  CaseMeasures& form = j.case_form;
  LidMeasures& lid = j.lid;
  const auto wall = [&d] { return d.wall_mm; };
  const auto round_figure = [&d](double mm, double in) {
    return Rule(Text(mm) + " mm, or " + Text(in) + " in if units are in",
                [&d, mm, in] { return d.units == "in" ? kMmPerInch * in : mm; });
  };
  // A leaning or cupped end moves the bay inwards, at most by this.
  const auto lean = [&j] {
    return (j.case_form.height_mm - j.case_form.floor_mm) * std::tan(j.case_form.end_flare_rad) +
           j.case_form.end_cup_mm;
  };
  const auto inner_z = [&j, lean] {
    // A lip inside the ends likewise.
    const bool lip = j.lid.lip_at_ends && j.lid.lip_mm > 0.0 && j.lid.lip_side == "inside";
    const double taken = lip ? j.lid.lip_play_mm + j.lid.lip_wall_mm : 0.0;
    return j.case_form.width_mm / 2 - j.case_form.end_wall_mm - lean() - taken - j.bay.width_mm;
  };
  const Default lid_needed{!has_stations, "required without stations", {}};
  const Default alone = LeftOut("");
  constexpr Kind kLength = Kind::kLength, kAngle = Kind::kAngle, kPoint = Kind::kPoint;
  constexpr Kind kSection = Kind::kSection, kList = Kind::kList;
  std::vector<Key> keys = {
      {"name", Kind::kText, 0, 200, &j.name, LeftOut("empty"), "What the box is called in reports"},
      {"units", Kind::kUnits, 0, 0, &d.units, Required(),
       "Unit of all bare lengths in this file, \"mm\" or \"in\""},
      {"seed", Kind::kCount, 0, 4294967295.0, &j.seed, Preset(1, Kind::kCount),
       "Start of the search's number sequence; the same seed gives the same answer"},

      {"case", kSection, 0, 0, {}, Required(), "The box below the seam"},
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
      {"case.back_bow", kLength, -300, 300, &form.back_bow_mm, Mm(0),
       "How far the back stands out at mid-width, behind its ends; negative: it is hollow"},
      {"case.front_bow", kLength, -300, 300, &form.front_bow_mm, Mm(0),
       "How far the front stands out at mid-width, before its ends; negative: it is hollow"},
      {"case.rim_arch", kLength, -300, 300, &form.rim_arch_mm, Mm(0),
       "How far the rim rises at mid-width, above the rim at the ends; negative: it sinks"},
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

      {"lid", kSection, 0, 0, {}, lid_needed, "The part above the seam"},
      {"lid.rim", kLength, 1, 1000, &lid.rim_mm, lid_needed,
       "Height of the lid's straight band above the seam"},
      {"lid.crown", kLength, 0, 1000, &lid.crown_mm, lid_needed,
       "Rise of the dome above that band at mid-width and mid-depth; 0 for a flat lid"},
      {"lid.crown_at_ends", kLength, 0, 1000, &lid.crown_at_ends_mm, Mm(0),
       "The same rise at the ends: 0 for a full dome, as much as crown for a barrel top"},
      {"lid.wall", kLength, 0.5, 200, &lid.wall_mm,
       Rule("case.wall, else case.end_wall",
            [&d] { return d.wall_mm > 0 ? d.wall_mm : d.job.case_form.end_wall_mm; }),
       "Thickness of the lid's straight band, ends included"},
      {"lid.top", kLength, 0.5, 200, &lid.top_mm, Rule("lid.wall", [&lid] { return lid.wall_mm; }),
       "Thickness of the dome"},
      {"lid.seam_gap", kLength, 0, 10, &lid.seam_gap_mm, Mm(0),
       "Gap between lid and case when closed; 0 is wood on wood"},
      {"lid.curve", Kind::kText, 0, 20, &d.curve, Word("circular"),
       "The dome's curve in the side view: circular, elliptical or superelliptic"},
      {"lid.curve_back", Kind::kText, 0, 20, &lid.curve_back, LeftOut("lid.curve"),
       "The same for the half behind the crest only"},
      {"lid.curve_front", Kind::kText, 0, 20, &lid.curve_front, LeftOut("lid.curve"),
       "The same for the half before the crest only"},
      {"lid.curve_across", Kind::kText, 0, 20, &lid.curve_across, Word("circular"),
       "Curve of the dome's rise from mid-width to the ends: circular, elliptical or "
       "superelliptic"},
      {"lid.exponent", Kind::kShare, 1.2, 8, &lid.exponent, Preset(2.5, Kind::kShare),
       "Exponent of superelliptic curves: 2 is an ellipse, more is boxier"},
      {"lid.profile", Kind::kPoints, -kFar_mm, kFar_mm, &lid.profile, LeftOut("from the curves"),
       "The dome's side profile as measured, [x, height] from back to front; its shape is scaled "
       "to the depth and lid.crown, straight between the points"},
      {"lid.profile_across", Kind::kPoints, -kFar_mm, kFar_mm, &lid.profile_across,
       LeftOut("from the curve"),
       "The dome's height across the width as measured, [z, height] from mid-width to the end; "
       "scaled to lid.crown and lid.crown_at_ends"},
      {"lid.top_at_edges", kLength, 0.5, 200, &lid.top_at_edges_mm, LeftOut("lid.top"),
       "Thickness of the dome at its edges, if it is another than in the middle"},
      {"lid.hollow", kLength, 0, 500, &lid.hollow_mm, LeftOut("walls under a dome"),
       "For a lid of one solid piece: how deep its underside is hollowed in the middle, 0 for not"},
      {"lid.lip", kLength, 0, 100, &lid.lip_mm, Mm(0),
       "How far the lip of a rebated lid reaches past the seam, along back and front; 0 for none"},
      {"lid.lip_side", Kind::kText, 0, 20, &lid.lip_side, Word("inside"),
       "Where the lip runs: inside or outside the case"},
      {"lid.lip_wall", kLength, 0.5, 100, &lid.lip_wall_mm,
       Rule("half of lid.wall, at least 0.5 mm", [&lid] { return std::max(lid.wall_mm / 2, 0.5); }),
       "Thickness of the lip"},
      {"lid.lip_play", kLength, 0, 20, &lid.lip_play_mm, Mm(0.5),
       "Gap between the lip and the case's wall, level"},
      {"lid.lip_at_ends", Kind::kFlag, 0, 1, &lid.lip_at_ends, Preset(0, Kind::kFlag),
       "Whether the lip runs along the ends as well, all round the mouth"},

      {"swing", kSection, 0, 0, {}, alone, "How the lid should open"},
      {"swing.open_deg", kAngle, 10, 180, &j.swing.open_rad, Preset(95, kAngle),
       "Opening angle wanted"},
      {"swing.gap", kLength, 0.1, 50, &j.swing.gap_mm, Mm(2),
       "Least gap between lid and case while moving"},
      {"swing.gap_from_deg", kAngle, 0.1, 90, &j.swing.gap_from_rad, Preset(10, kAngle),
       "By this angle the gap must be reached; before, it grows from the seam gap"},

      {"room", kSection, 0, 0, {}, alone, "The room around the box"},
      {"room.behind", kLength, 0, 10000, &j.room.behind_mm, Rule("unlimited", [] { return kInf; }),
       "Free room behind the case's rear face at the ends"},
      {"room.above", kLength, 0, 10000, &j.room.above_mm, Rule("unlimited", [] { return kInf; }),
       "Free room above the rim at the ends"},
      {"room.bench_below", Kind::kFlag, 0, 1, &j.room.bench_below, Preset(1, Kind::kFlag),
       "Does the bench go on behind the box, level with its bottom"},
      {"room.open_behind_x", kLength, -2000, 2000, &j.room.open_behind_x_mm,
       Rule("2 x case.back_wall", [&form] { return 2 * form.back_wall_mm; }),
       "The open lid stays behind this line"},
      {"room.mouth_free", Kind::kShare, 0, 1, &j.room.mouth_free, Preset(0.9, Kind::kShare),
       "Share of the mouth's depth that the open lid leaves free"},

      {"arms", kSection, 0, 0, {}, alone, "The hinge's arms, two at each end"},
      {"arms.width", kLength, 2, 200, &j.arms.width_mm, Mm(10), "Width of an arm between its eyes"},
      {"arms.thickness", kLength, 0.5, 50, &j.arms.thickness_mm, Mm(3),
       "Thickness of the arms' material"},
      {"arms.gap", kLength, 0, 50, &j.arms.gap_mm, Mm(1), "Least gap of an arm to everything"},
      {"arms.bushing", kLength, 0.5, 50, &j.arms.bushing_mm, Mm(4),
       "Outside diameter of the bushing pressed into the arm; less than the eye"},
      {"arms.eye", kLength, 1, 200, &j.arms.eye_mm,
       Rule("the larger of arms.width and arms.bushing + 4 mm",
            [&j] { return std::max(j.arms.width_mm, j.arms.bushing_mm + 4); }),
       "Outside diameter of the eye around the bushing"},

      {"arms.material", Kind::kText, 0, 60, &j.arms.material, Word("birch plywood"),
       "What the arms are cut from: " + MaterialNames()},

      {"plates", kSection, 0, 0, {}, alone, "What carries the pivots at each end"},
      {"plates.on_case", Kind::kFlag, 0, 1, &j.plates.on_case, Preset(1, Kind::kFlag),
       "Case pins in a plate on the case's end wall; false: straight into the wall"},
      {"plates.on_lid", Kind::kFlag, 0, 1, &j.plates.on_lid, Preset(1, Kind::kFlag),
       "Lid pins in a plate that hangs from the lid's end wall; false: straight into the wall"},
      {"plates.material", Kind::kText, 0, 60, &j.plates.material,
       LeftOut("the arms' if it is a metal, else aluminium"),
       "What the plates are cut from: one of the arms' materials"},
      {"plates.case_thickness", kLength, 0.5, 50, &j.plates.case_mm,
       LeftOut("2 mm, or 3/32 in if units are in"), "Thickness of the case plate"},
      {"plates.lid_thickness", kLength, 0.5, 50, &j.plates.lid_mm,
       LeftOut("3 mm, or 3/32 in if units are in"), "Thickness of the lid plate"},
      {"plates.packing", kLength, 0.5, 50, &j.plates.packing_mm,
       LeftOut("3 mm, or 1/8 in if units are in"),
       "Thickness of what holds the lid plate off the lid's end wall, clear of the case plate"},

      {"hardware",
       kSection,
       0,
       0,
       {},
       alone,
       "Hardware that you have or want; what is left out is picked"},
      {"hardware.pin", kLength, 0.5, 50, &j.hardware.pin_mm, LeftOut("what runs in the bushing"),
       "Diameter of the rod that the pins are sawn from"},
      {"hardware.bushing_bore", kLength, 0.5, 50, &j.hardware.bore_mm,
       LeftOut("of a tube as sold with the outside arms.bushing"),
       "Inside diameter of your tube for the bushings, whose outside is arms.bushing"},
      {"hardware.arm_press", kLength, -1, 1, &j.hardware.arm_press_mm,
       LeftOut("by the arms' material"),
       "The arms' holes are smaller than the bushing by this; negative: larger, to be glued"},
      {"hardware.pin_press", kLength, -1, 1, &j.hardware.pin_press_mm,
       LeftOut("by what holds the pin"),
       "Holes that hold pins, in plates or straight in wood, are smaller than the pin by this"},
      {"hardware.spacer", kLength, 1, 100, &j.hardware.spacer_mm, LeftOut("arms.bushing + 2 mm"),
       "Outside diameter of the spacers between plates and arms"},
      {"hardware.washer", kLength, 1, 100, &j.hardware.washer_mm,
       LeftOut("as the spacers, at least arms.bushing + 1 mm"),
       "Outside diameter of the washers fixed on the pins' inner ends"},
      {"hardware.washer_thickness", kLength, 0.2, 10, &j.hardware.washer_thickness_mm,
       LeftOut("0.7 mm"), "Thickness of these washers"},
      {"hardware.screw", Kind::kText, 0, 20, &j.hardware.screw,
       LeftOut("the largest whose head sinks in the plates"),
       "Size of the plates' wood screws (2 mm, 2.5 mm, 3 mm, 3.5 mm, 4 mm, #2, #4, #6, #8) or of "
       "machine screws bolted right through (M2, M2.5, M3, M4, M5, #4-40, #6-32, #8-32)"},
      {"hardware.screw_length", kLength, 3, 200, &j.hardware.screw_length_mm,
       LeftOut("the longest that does not come through"), "Their length"},

      {"bay", kSection, 0, 0, {}, alone, "The room at each end where plates and arms may live"},
      {"bay.width", kLength, 3, 500, &j.bay.width_mm, Mm(30), "From the end wall inwards"},
      {"bay.edge", kLength, 0, 200, &j.bay.edge_mm,
       Rule("arms.eye / 2 + 1 mm", [&j] { return j.arms.eye_mm / 2 + 1; }),
       "Least distance of a pivot from the bay's surfaces"},
      {"bay.lid_drop", kLength, 0, 2000, &j.bay.lid_drop_mm,
       Rule("half of the case's inner height",
            [&form] { return (form.height_mm - form.floor_mm) / 2; }),
       "How far below the rim the lid's pivots may hang"},

      {"shop", kSection, 0, 0, {}, alone, "What the shop works with"},
      {"shop.cutter", kLength, 0, 25, &j.shop.cutter_mm, Mm(3),
       "Diameter of the cutter; 0 for a saw or laser"},
      {"shop.grid", kLength, 0.001, 10, &j.shop.grid_mm,
       Rule("0.5 mm, or 1/64 in if units are in",
            [&d] { return d.units == "in" ? kMmPerInch / 64 : 0.5; }),
       "Pivots are snapped to multiples of this"},

      {"shop.drill_error", kLength, 0, 5, &j.shop.drill_error_mm, Mm(0.2),
       "How far off a drilled hole is as a rule, each way (standard deviation)"},
      {"shop.kerf", kLength, 0, 5, &j.shop.kerf_mm, Mm(0),
       "Width of a laser's or saw's cut, for its paths"},
      {"shop.sheet_width", kLength, 20, 5000, &j.shop.sheet_width_mm, round_figure(600, 24),
       "Length of the stock that parts are nested on, along its grain"},
      {"shop.sheet_height", kLength, 20, 5000, &j.shop.sheet_height_mm, round_figure(300, 12),
       "The stock's other side"},
      {"shop.sheet_margin", kLength, 0, 200, &j.shop.sheet_margin_mm, round_figure(5, 0.25),
       "Kept free along the stock's edges"},
      {"shop.between", kLength, 0, 100, &j.shop.between_mm, round_figure(3, 0.125),
       "Material left between parts on the stock, besides the cutter"},
      {"shop.web", kLength, 0, 20, &j.shop.web_mm, round_figure(1, 1.0 / 32),
       "Least material in a part beside a hole"},
      {"shop.tabs", Kind::kCount, 0, 20, &j.shop.tabs, Preset(3, Kind::kCount),
       "How many tabs hold a part while its outline is cut"},
      {"shop.tab_length", kLength, 0.1, 50, &j.shop.tab_mm, round_figure(4, 3.0 / 16),
       "Length of a tab"},
      {"shop.paths", Kind::kFlag, 0, 1, &j.shop.paths, Preset(0, Kind::kFlag),
       "Write the cutter's or the laser's paths, with tabs, besides the true sizes"},
      {"shop.paper",
       Kind::kText,
       0,
       10,
       &j.shop.paper,
       {false, "Letter if units are in, else A4", {}, {}},
       "Paper of the drawings and templates: A4 or Letter"},
      {"shop.place_error", kLength, 0, 20, &j.shop.place_error_mm, Mm(0.5),
       "How far off a plate is that is placed by measuring, at each end and each way"},

      {"loads", kSection, 0, 0, {}, alone, "What the lid weighs and what acts on it"},
      {"loads.wood", Kind::kText, 0, 60, &j.loads.wood, Word("black cherry"),
       "Wood of the lid: " + WoodNames()},
      {"loads.density_kg_m3", Kind::kShare, 50, 2000, &j.loads.density_kg_m3,
       Rule("from the wood, at 12 % moisture",
            [&j] {
              const Wood* wood = FindWood(j.loads.wood);
              return wood ? Density_kg_m3(*wood) : kUnset;
            }),
       "Density of the lid in kg per cubic metre, if the wood is another"},
      {"loads.lid_mass_kg", Kind::kShare, 0.001, 200, &j.loads.lid_mass_kg,
       LeftOut("from the measures and the wood"),
       "The lid as weighed with all that is screwed to it, in kg"},
      {"loads.friction", Kind::kShare, 0, 2, &j.loads.friction, Preset(0.3, Kind::kShare),
       "Coefficient of friction in the hinge's pins; 0.1 greased to 0.5 dry brass on steel"},
      {"loads.hand_n", Kind::kShare, 0, 2000, &j.loads.hand_n, Preset(50, Kind::kShare),
       "Force in newtons of somebody who leans on the open lid's edge"},
      {"loads.contents_kg", Kind::kShare, 0, 2000, &j.loads.contents_kg,
       LeftOut("200 kg per cubic metre of room"), "What the full box holds, in kg"},
      {"loads.feet_back", kLength, -500, kFar_mm, &j.loads.feet_back_mm,
       LeftOut("from the case's bottom and feet"),
       "Where the box stands at the back, from the rear face forward: it tips over this"},
      {"loads.feet_front", kLength, -500, kFar_mm, &j.loads.feet_front_mm,
       LeftOut("from the case's bottom and feet"), "The same at the front"},

      {"contents",
       kList,
       0,
       0,
       {},
       LeftOut("none"),
       "What is kept in the box: room that lid and arms leave free"},
      {"contents[].outline", Kind::kRings, -kFar_mm, kFar_mm, &d.content.rings,
       LeftOut("required unless back, front and height are given"),
       "Its outline in the side view, or a list of outlines"},
      {"contents[].back", kLength, -kFar_mm, kFar_mm, &d.content.back_mm, alone,
       "Rear face of a block that stands on the floor"},
      {"contents[].front", kLength, -kFar_mm, kFar_mm, &d.content.front_mm, alone,
       "Front face of the block"},
      {"contents[].height", kLength, 0.1, 2000, &d.content.height_mm, alone,
       "Height of the block above the floor's upper face"},
      {"contents[].from_z", kLength, -1500, 1500, &d.content.from_z_mm,
       Rule("the bay's inner face", [inner_z] { return -inner_z(); }),
       "Where it begins across the width, from mid-width"},
      {"contents[].to_z", kLength, -1500, 1500, &d.content.to_z_mm,
       Rule("the bay's inner face", inner_z), "Where it ends across the width"},

      {"pivots", kSection, 0, 0, {}, alone, "Pivots that are fixed, and where the others may lie"},
      {"pivots.case_a", kPoint, -kFar_mm, kFar_mm, &j.pivots.case_a, LeftOut("found"),
       "Case pivot of arm A"},
      {"pivots.case_b", kPoint, -kFar_mm, kFar_mm, &j.pivots.case_b, LeftOut("found"),
       "Case pivot of arm B"},
      {"pivots.lid_a", kPoint, -kFar_mm, kFar_mm, &j.pivots.lid_a, LeftOut("found"),
       "Lid pivot of arm A where it sits when the lid is shut"},
      {"pivots.lid_b", kPoint, -kFar_mm, kFar_mm, &j.pivots.lid_b, LeftOut("found"),
       "Lid pivot of arm B where it sits when the lid is shut"},
      {"pivots.case_zone", Kind::kZone, -kFar_mm, kFar_mm, &j.pivots.case_zone,
       LeftOut("from the bay"), "Rectangle in which the case pivots may lie"},
      {"pivots.lid_zone", Kind::kZone, -kFar_mm, kFar_mm, &j.pivots.lid_zone,
       LeftOut("from the bay"), "Rectangle in which the lid pivots may lie"},

      {"poses", kList, 0, 0, {}, LeftOut("none"), "Poses that the lid should pass through"},
      {"poses[].angle_deg", kAngle, 0, 180, &d.pose.angle_rad, Required(),
       "The lid's opening angle"},
      {"poses[].at", kPoint, -kFar_mm, kFar_mm, &d.pose.at, Required(),
       "Where the lid's point should then be"},
      {"poses[].point", kPoint, -kFar_mm, kFar_mm, &d.pose.point, Required(),
       "The point of the lid, given where it sits when the lid is shut"},
      {"poses[].within", kLength, 0.001, 500, &d.pose.within_mm, Mm(1), "How near is near enough"},

      {"stations",
       kList,
       0,
       0,
       {},
       LeftOut("made from the measures"),
       "Slices of case and lid by z, instead of the measured form: all, or those with z >= 0"},
      {"stations_error", kLength, 0, 5, &j.stations_error_mm, Mm(0),
       "How far the true form may lie from the stations and the straight blends between them"},
      {"stations[].z", kLength, -1500, 1500, &d.station.z_mm, Required(),
       "Place across the width, from mid-width; growing, or equal twice for a step"},
      {"stations[].case", Kind::kRings, -kFar_mm, kFar_mm, &d.station.case_rings, Required(),
       "Outline of the case there, or a list of outlines"},
      {"stations[].lid", Kind::kRings, -kFar_mm, kFar_mm, &d.station.lid_rings, Required(),
       "Outline of the lid there, lid shut, or a list of outlines"},
  };
  KeepEarlierNames({{"plates.on_case", "ground"},
                    {"plates.on_lid", "lid"},
                    {"plates.case_thickness", "ground_thickness"},
                    {"pivots.case_a", "ground_a"},
                    {"pivots.case_b", "ground_b"},
                    {"pivots.case_zone", "ground_zone"}},
                   &keys);
  return keys;
}

std::vector<KeyRow> JobKeyRows() {
  JobDraft draft;
  std::vector<KeyRow> rows;
  for (const Key& key : JobKeys(&draft, false)) {
    std::string unit, range = Text(key.min) + " to " + Text(key.max);
    switch (key.kind) {
      case Kind::kSection:
        unit = "object";
        range = "";
        break;
      case Kind::kList:
        unit = "list";
        range = "";
        break;
      case Kind::kText:
        unit = "text";
        range = "at most " + Text(key.max) + " bytes";
        break;
      case Kind::kUnits:
        unit = "text";
        range = "mm, in";
        break;
      case Kind::kFlag:
        unit = "flag";
        range = "true, false";
        break;
      case Kind::kLength:
        unit = "mm";
        break;
      case Kind::kAngle:
        unit = "deg";
        break;
      case Kind::kShare:
      case Kind::kCount:
        unit = "1";
        break;
      case Kind::kPoint:
        unit = "[x, y] in mm";
        break;
      case Kind::kZone:
        unit = "[[xmin, ymin], [xmax, ymax]] in mm";
        break;
      case Kind::kPoints:
        unit = "[[x, y], ...] in mm, in order of x";
        break;
      case Kind::kRings:
        unit = "[[x, y], ...] in mm";
        break;
      case Kind::kOutline:
        unit = "[[x, y, bulge], ...] in mm";
        break;
    }
    rows.push_back({key.path, unit, range, key.fallback.text, key.meaning});
  }
  return rows;
}

std::string JobReference() {
  std::string table =
      "| key | unit | range | default | meaning |\n"
      "| --- | --- | --- | --- | --- |\n";
  for (const KeyRow& row : JobKeyRows()) {
    table += "| `" + row.key + "` | " + row.unit + " | " + row.range + " | " + row.fallback +
             " | " + row.meaning + " |\n";
  }
  return table;
}

}  // namespace lidwright
