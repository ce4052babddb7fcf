// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/units.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

// What the maker wants, in millimetres and radians, every default filled in. The frame: x from the
// back to the front, y up, z across the width with 0 in the middle; the origin is the rear outer
// face of the case at its ends, at rim height there. Job file keys carry the same names
// (case.back_wall is CaseMeasures::back_wall_mm, case.wall has no field: it is only the others'
// default); JobReference() in key_rows.h lists units, ranges and defaults.
//
// ReadJob leaves no field unset but one group: a lid given by stations may come without measures.

struct CaseMeasures {
  double width_mm = kUnset;   ///< outside, across (along z)
  double depth_mm = kUnset;   ///< outside, back to front, at the ends
  double height_mm = kUnset;  ///< outside, from the bench to the rim at the ends
  double back_wall_mm = kUnset;
  double front_wall_mm = kUnset;
  double end_wall_mm = kUnset;
  double floor_mm = kUnset;
  double back_bow_mm = 0.0;   ///< how far mid-width of the back stands out behind its ends
  double front_bow_mm = 0.0;  ///< how far mid-width of the front stands out before its ends
  double rim_arch_mm = 0.0;   ///< how far the rim at mid-width rises above the rim at the ends
  /// How far the rim at mid-depth rises above its back and front corners. Bows and arches are
  /// circular and may be negative: a hollow edge, a rim that is highest at its corners.
  double rim_arch_side_mm = 0.0;
  double back_flare_rad = 0.0;  ///< the wall leans outwards by this from the bottom to the rim
  double front_flare_rad = 0.0;
  double end_flare_rad = 0.0;
  double back_cup_mm = 0.0;   ///< how far the wall at half height stands in from its straight line
  double front_cup_mm = 0.0;  ///< (negative: out; never at the ends)
  double end_cup_mm = 0.0;
  double bottom_hollow_mm = 0.0;  ///< the underside's rise in its middle; negative: it hangs down
  double feet_mm = 0.0;           ///< height of the feet, part of the height
  double feet_inset_mm = 0.0;     ///< from the wall's face at the bottom to the foot
  double feet_depth_mm = kUnset;  ///< of one foot, back to front
};

struct LidMeasures {
  double rim_mm = kUnset;         ///< height of the straight band of the lid above the seam
  double crown_mm = 0.0;          ///< rise of the dome above that band at mid-width, mid-depth
  double crown_at_ends_mm = 0.0;  ///< the same rise at the ends: 0 full dome, = crown a barrel top
  double wall_mm = kUnset;        ///< thickness of the lid's straight band, ends included
  double top_mm = kUnset;         ///< thickness of the dome
  double seam_gap_mm = 0.0;       ///< gap between lid and case when closed; 0 is wood on wood
  /// The dome's curve in the side view, behind and before its crest, and that of its rise across
  /// the width: "circular", "elliptical" or "superelliptic".
  std::string curve_back = "circular", curve_front = "circular", curve_across = "circular";
  double exponent = 2.5;  ///< of the superelliptic ones: (x/a)^n + (y/b)^n = 1
  /// The dome's side profile as measured, [x, y] from the back to the front, instead of
  /// curve_back and curve_front; and its rise across, [z, y] from mid-width to the end. Shapes
  /// only: both are scaled to the depth, the width and the crowns.
  std::vector<Vec2> profile, profile_across;
  double top_at_edges_mm = kUnset;  ///< thickness of the dome at its edges; NaN: as in the middle
  /// A lid of one piece, its underside hollowed by this in the middle (0: solid), instead of walls
  /// under a dome of thickness `top`; NaN: walls and dome.
  double hollow_mm = kUnset;
  double lip_mm = 0.0;  ///< how far a rebated lid's lip reaches down past the seam; 0: no lip
  std::string lip_side = "inside";  ///< of the case: "inside" or "outside"
  double lip_wall_mm = kUnset;      ///< thickness of the lip
  double lip_play_mm = 0.5;         ///< between lip and case
  bool lip_at_ends = false;         ///< it runs along the ends as well, all round the mouth
};

/// One slice of the box at `z_mm`, given by the maker instead of the measured form. Rings in the
/// frame above, closed pose, outer ones counter-clockwise and holes clockwise, neither crossing nor
/// touching each other within the case or within the lid. A station may lack case or lid, not both.
struct StationOutline {
  double z_mm = 0.0;
  std::vector<Ring> case_rings;
  std::vector<Ring> lid_rings;
};

struct SwingWish {
  double open_rad = kUnset;      ///< opening angle wanted
  double gap_mm = kUnset;        ///< least gap between lid and case while moving
  double gap_from_rad = kUnset;  ///< by this angle the gap must be reached
};

struct Room {
  double behind_mm = kUnset;  ///< free behind the case's rear face at the ends; inf if none said
  double above_mm = kUnset;   ///< free room above the rim at the ends; inf if none said
  bool bench_below = true;    ///< the bench goes on behind the box at its bottom
  double open_behind_x_mm = kUnset;  ///< the open lid stays behind this line
  double mouth_free = kUnset;        ///< share of the mouth's depth the open lid leaves free, 0…1
};

struct Bay {
  double width_mm = kUnset;     ///< room for plates and arms at each end, from the end wall inwards
  double edge_mm = kUnset;      ///< least distance of a pivot from the bay's surfaces
  double lid_drop_mm = kUnset;  ///< how far below the rim the lid's pivots may hang
};

/// Room that arms and lid must leave free while the lid swings: what is kept in the box.
struct Contents {
  std::vector<Ring> rings;  ///< side-view outlines to leave free
  double z_min_mm = 0.0;
  double z_max_mm = 0.0;
};

/// Which of its arms' sizes a job leaves open: the program chooses them. And whether bay.edge is:
/// thicker pins want more.
struct OpenSizes {
  bool material = false, thickness = false, width = false, bushing = false, eye = false;
  bool bay_edge = false;
  bool Any() const { return material || thickness || width || bushing; }
};

struct ArmWish {
  double width_mm = kUnset;
  double thickness_mm = kUnset;
  double gap_mm = kUnset;                  ///< least gap of an arm to everything
  double bushing_mm = kUnset;              ///< outside diameter of the bushing pressed into the arm
  double eye_mm = kUnset;                  ///< outside diameter of the eye around the bushing
  std::string material = "birch plywood";  ///< a name of job/arm_materials.h
  OpenSizes open;
};

/// What carries the pivots. What is left out (NaN, empty) is picked.
struct PlateWish {
  bool on_case = true;         ///< false: case pins straight into the case's end wall
  bool on_lid = true;          ///< false: lid pins straight into the lid's end wall
  std::string material;        ///< a name of job/arm_materials.h
  double case_mm = kUnset;     ///< thickness of the case plate
  double lid_mm = kUnset;      ///< thickness of the lid plate
  double packing_mm = kUnset;  ///< between lid plate and lid's end wall
};

/// Hardware that the maker has or wants. What is left out (NaN, empty) is picked.
struct HardwareWish {
  double pin_mm = kUnset;        ///< diameter of the rod the pins are of
  double bore_mm = kUnset;       ///< inside diameter of the tube the bushings are of
  double arm_press_mm = kUnset;  ///< holes for bushings are smaller by this, on the diameter
  double pin_press_mm = kUnset;  ///< holes that hold pins are smaller by this, on the diameter
  double spacer_mm = kUnset;     ///< outside diameter of the spacers
  double washer_mm = kUnset;     ///< outside diameter of the washers on the pins' inner ends
  double washer_thickness_mm = kUnset;
  std::string screw;  ///< a name of arms/hardware.h's wood screws
  double screw_length_mm = kUnset;
};

struct Shop {
  double cutter_mm = kUnset;       ///< diameter of the cutter; 0 for a saw or laser
  double grid_mm = kUnset;         ///< pivots are snapped to multiples of this
  double drill_error_mm = kUnset;  ///< how far off a hole may sit, standard deviation each way
  double kerf_mm = 0.0;            ///< width of a laser's or saw's cut
  double sheet_width_mm = kUnset;  ///< of the stock, along its grain
  double sheet_height_mm = kUnset;
  double sheet_margin_mm = kUnset;  ///< left free round the stock's edge
  double between_mm = kUnset;       ///< web between parts on the sheet, besides the cutter
  double web_mm = kUnset;           ///< least material in a part beside holes
  unsigned tabs = 3;                ///< that hold a part while its outline is cut
  double tab_mm = kUnset;           ///< length of each
  bool paths = false;               ///< write the cutter's paths besides the true sizes
  std::string paper = "A4";         ///< "A4" or "Letter"
  double place_error_mm = kUnset;   ///< how far off a plate is put by measuring, the same way
};

/// What the lid is made of, and what acts on it.
struct Loads {
  std::string wood = "black cherry";  ///< a name of job/woods.h
  double density_kg_m3 = kUnset;
  double lid_mass_kg = kUnset;  ///< weighed; NaN if it is to be worked out
  double friction = 0.0;        ///< coefficient in the hinge's pins
  double hand_n = 0.0;          ///< somebody leans on the open lid's edge with this
  bool stay = false;            ///< the maker fits a chain or stay that takes what leans on the lid
  std::string stands = "free";  ///< "free" (it tips before much can act), "against a wall", "fixed"
  double contents_kg = kUnset;  ///< of the full box; NaN if it is to be guessed from its room
  double feet_back_mm = kUnset;  ///< x of the rear feet's and of the front feet's outer edges
  double feet_front_mm = kUnset;
};

/// A rectangle in which a pivot may lie.
struct Zone {
  Vec2 low = Vec2::Zero();
  Vec2 high = Vec2::Zero();
};

struct PivotWish {
  std::optional<Vec2> case_a, case_b, lid_a, lid_b;  ///< pinned pivots
  std::optional<Zone> case_zone, lid_zone;           ///< instead of the zones from the bay
};

/// A pose the lid should pass through.
struct PoseWish {
  double angle_rad = 0.0;
  Vec2 at = Vec2::Zero();  ///< where the lid's point `point` should be
  Vec2 point = Vec2::Zero();
  double within_mm = 1.0;
};

struct Job {
  std::string name;
  bool inches = false;     ///< the maker's unit, for what we print
  CaseMeasures case_form;  ///< key "case"
  LidMeasures lid;
  /// When given, replaces the measured form: at least two, by growing z from -width/2 to width/2.
  /// Two at the same z make a step.
  std::vector<StationOutline> stations;
  /// How far the true form may lie from the stations and the straight blends between them.
  double stations_error_mm = 0.0;
  SwingWish swing;
  Room room;
  Bay bay;
  std::vector<Contents> contents;
  ArmWish arms;
  PlateWish plates;
  HardwareWish hardware;
  Shop shop;
  Loads loads;
  PivotWish pivots;
  std::vector<PoseWish> poses;
  unsigned seed = 1;
};

}  // namespace lidwright
