// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <limits>

#include "job/job_keys.h"
#include "lidwright/job/arm_materials.h"

namespace lidwright {
namespace {

using enum KeyKind;

Choices Materials() {
  Choices materials{{}, "is no material that lidwright knows"};
  for (const ArmMaterial& m : ArmMaterials()) materials.words.push_back(m.name);
  return materials;
}

// Those of arms/hardware.h.
Choices Screws() {
  return {{"2 mm", "2.5 mm", "3 mm", "3.5 mm", "4 mm", "#2", "#4", "#6", "#8", "M2", "M2.5", "M3",
           "M4", "M5", "#4-40", "#6-32", "#8-32"},
          "is no size of screw that lidwright knows"};
}

}  // namespace

std::vector<Key> SwingKeys(JobDraft* draft) {
  Job& j = draft->job;
  return {
      Section("swing", LeftOut(""), "How the lid should open"),
      {"swing.open_deg", kAngle, 10, 180, &j.swing.open_rad, Preset(95, kAngle),
       "Opening angle wanted"},
      {"swing.gap", kLength, 0.1, 50, &j.swing.gap_mm, RoundFigure(draft->units, 2, 5.0 / 64),
       "Least gap between lid and case while moving"},
      {"swing.gap_from_deg", kAngle, 0.1, 90, &j.swing.gap_from_rad, Preset(10, kAngle),
       "By this angle the gap must be reached; before, it grows from the seam gap"},
  };
}

std::vector<Key> RoomKeys(JobDraft* draft) {
  Job& j = draft->job;
  const Default unlimited =
      Rule("unlimited", [] { return std::numeric_limits<double>::infinity(); });
  return {
      Section("room", LeftOut(""), "The room around the box"),
      {"room.behind", kLength, 0, 10000, &j.room.behind_mm, unlimited,
       "Free room behind the case's rear face at the ends"},
      {"room.above", kLength, 0, 10000, &j.room.above_mm, unlimited,
       "Free room above the rim at the ends"},
      {"room.bench_below", kFlag, 0, 1, &j.room.bench_below, Preset(1, kFlag),
       "Does the bench go on behind the box, level with its bottom"},
      {"room.open_behind_x", kLength, -2000, 2000, &j.room.open_behind_x_mm,
       Rule("2 x case.back_wall", [&j] { return 2 * j.case_form.back_wall_mm; }),
       "The open lid keeps behind this line"},
      {"room.mouth_free", kShare, 0, 1, &j.room.mouth_free, Preset(0.9, kShare),
       "Share of the mouth's depth that the open lid leaves free"},
  };
}

std::vector<Key> ArmKeys(JobDraft* draft) {
  Job& j = draft->job;
  const auto round_figure = [draft](double mm, double in) {
    return RoundFigure(draft->units, mm, in);
  };
  return {
      Section("arms", LeftOut(""), "The hinge's arms, two at each end"),
      {"arms.width", kLength, 2, 200, &j.arms.width_mm, round_figure(10, 3.0 / 8),
       "Width of an arm between its eyes"},
      {"arms.thickness", kLength, 0.5, 50, &j.arms.thickness_mm, round_figure(3, 1.0 / 8),
       "Thickness of the arms' material"},
      {"arms.gap", kLength, 0, 50, &j.arms.gap_mm, round_figure(1, 3.0 / 64),
       "Least gap of an arm to everything"},
      {"arms.bushing", kLength, 0.5, 50, &j.arms.bushing_mm, round_figure(4, 5.0 / 32),
       "Outside diameter of the bushing pressed into the arm; less than the eye"},
      {"arms.eye", kLength, 1, 200, &j.arms.eye_mm,
       Rule("the larger of arms.width and arms.bushing + 4 mm",
            [&j] { return std::max(j.arms.width_mm, j.arms.bushing_mm + 4); }),
       "Outside diameter of the eye around the bushing"},
      Key{"arms.material", kWord, 0, 0, &j.arms.material, Word("birch plywood"),
          "What the arms are cut from"}
          .Of(Materials()),
  };
}

std::vector<Key> PlateKeys(JobDraft* draft) {
  Job& j = draft->job;
  return {
      Section("plates", LeftOut(""), "What carries the pivots at each end"),
      Key{"plates.on_case", kFlag, 0, 1, &j.plates.on_case, Preset(1, kFlag),
          "Case pins in a plate on the case's end wall; false: straight into the wall"}
          .Once("ground"),
      Key{"plates.on_lid", kFlag, 0, 1, &j.plates.on_lid, Preset(1, kFlag),
          "Lid pins in a plate that hangs from the lid's end wall; false: straight into the wall"}
          .Once("lid"),
      Key{"plates.material", kWord, 0, 0, &j.plates.material,
          LeftOut("the arms' if it is a metal, else aluminium"), "What the plates are cut from"}
          .Of(Materials()),
      Key{"plates.case_thickness", kLength, 0.5, 50, &j.plates.case_mm,
          LeftOut("2 mm, or 3/32 in if units are in"), "Thickness of the case plate"}
          .Once("ground_thickness"),
      {"plates.lid_thickness", kLength, 0.5, 50, &j.plates.lid_mm,
       LeftOut("3 mm, or 3/32 in if units are in"), "Thickness of the lid plate"},
      {"plates.packing", kLength, 0.5, 50, &j.plates.packing_mm,
       LeftOut("3 mm, or 1/8 in if units are in"),
       "Thickness of what holds the lid plate off the lid's end wall, clear of the case plate"},
  };
}

std::vector<Key> HardwareKeys(JobDraft* draft) {
  Job& j = draft->job;
  return {
      Section("hardware", LeftOut(""),
              "Hardware that you have or want; what is left out is picked"),
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
      {"hardware.spacer", kLength, 1, 100, &j.hardware.spacer_mm,
       LeftOut("rod as sold, 1.5 mm or 1/16 in over arms.bushing or more"),
       "Outside diameter of the spacers between plates and arms"},
      {"hardware.washer", kLength, 1, 100, &j.hardware.washer_mm,
       LeftOut("as the spacers, at least arms.bushing + 1 mm"),
       "Outside diameter of the washers fixed on the pins' inner ends"},
      {"hardware.washer_thickness", kLength, 0.2, 10, &j.hardware.washer_thickness_mm,
       LeftOut("0.5 mm"), "Thickness of these washers"},
      Key{"hardware.screw", kWord, 0, 0, &j.hardware.screw,
          LeftOut("the largest that plates and walls take, bolts if none"),
          "Size of the plates' wood screws, or of machine screws (M2, #4-40 and the like) bolted "
          "right through"}
          .Of(Screws()),
      {"hardware.screw_length", kLength, 3, 200, &j.hardware.screw_length_mm,
       LeftOut("the longest that does not come through"), "Their length"},
  };
}

std::vector<Key> BayKeys(JobDraft* draft) {
  Job& j = draft->job;
  return {
      Section("bay", LeftOut(""), "The room at each end where plates and arms may live"),
      {"bay.width", kLength, 3, 500, &j.bay.width_mm, RoundFigure(draft->units, 30, 1.1875),
       "From the end wall inwards"},
      {"bay.edge", kLength, 0, 200, &j.bay.edge_mm,
       Rule("arms.eye / 2 + 1 mm", [&j] { return j.arms.eye_mm / 2 + 1; }),
       "Least distance of a pivot from the bay's surfaces"},
      {"bay.lid_drop", kLength, 0, 2000, &j.bay.lid_drop_mm,
       Rule("half of the case's inner height",
            [&j] { return (j.case_form.height_mm - j.case_form.floor_mm) / 2; }),
       "How far below the rim the lid's pivots may hang"},
  };
}

std::vector<Key> PivotKeys(JobDraft* draft) {
  Job& j = draft->job;
  return {
      Section("pivots", LeftOut(""), "Pivots that are fixed, and where the others may lie"),
      Key{"pivots.case_a", kPoint, -kFar_mm, kFar_mm, &j.pivots.case_a, LeftOut("found"),
          "Case pivot of arm A"}
          .Once("ground_a"),
      Key{"pivots.case_b", kPoint, -kFar_mm, kFar_mm, &j.pivots.case_b, LeftOut("found"),
          "Case pivot of arm B"}
          .Once("ground_b"),
      {"pivots.lid_a", kPoint, -kFar_mm, kFar_mm, &j.pivots.lid_a, LeftOut("found"),
       "Lid pivot of arm A where it sits when the lid is shut"},
      {"pivots.lid_b", kPoint, -kFar_mm, kFar_mm, &j.pivots.lid_b, LeftOut("found"),
       "Lid pivot of arm B where it sits when the lid is shut"},
      Key{"pivots.case_zone", kZone, -kFar_mm, kFar_mm, &j.pivots.case_zone,
          LeftOut("from the bay"), "Rectangle in which the case pivots may lie"}
          .Once("ground_zone"),
      {"pivots.lid_zone", kZone, -kFar_mm, kFar_mm, &j.pivots.lid_zone, LeftOut("from the bay"),
       "Rectangle in which the lid pivots may lie"},
  };
}

std::vector<Key> PoseKeys(JobDraft* draft) {
  JobDraft& d = *draft;
  return {
      List("poses", LeftOut("none"), "Poses that the lid should pass through")
          .Loaded([&d](std::size_t i) {
            if (i >= d.job.poses.size()) return false;
            const PoseWish& pose = d.job.poses[i];
            d.pose = {pose.angle_rad, pose.within_mm, pose.at, pose.point};
            return true;
          }),
      {"poses[].angle_deg", kAngle, 0, 180, &d.pose.angle_rad, Required(),
       "The lid's opening angle"},
      {"poses[].at", kPoint, -kFar_mm, kFar_mm, &d.pose.at, Required(),
       "Where the lid's point should then be"},
      {"poses[].point", kPoint, -kFar_mm, kFar_mm, &d.pose.point, Required(),
       "The point of the lid, given where it sits when the lid is shut"},
      {"poses[].within", kLength, 0.001, 500, &d.pose.within_mm, Mm(1), "How near is near enough"},
  };
}

}  // namespace lidwright
