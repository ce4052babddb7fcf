// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// How far a figure can be trusted.
enum class Standing {
  kStandard,        ///< a published standard's figure
  kHandbook,        ///< read in a handbook or on a page that copies one
  kCommonPractice,  ///< what shops do; pages disagree, or it is from memory
  kGiven,           ///< the job says so
};

struct Source {
  Standing standing = Standing::kCommonPractice;
  std::string where;
};

/// "standard: ISO 286", "common practice: …", for the parts list.
std::string Describe(const Source& source);

/// A length for the bench as widths of holes and lengths of stock are said: "3.49 mm", "1/8 in".
std::string BenchLength(double mm, bool inch);

/// Limits of a dimension against its nominal size [µm].
struct SizeLimits {
  double upper_um = 0.0;
  double lower_um = 0.0;
};

/// ISO 286 limits of a hole or shaft in a class such as "H7", "h6", "p6", "s6", "f7", for nominal
/// sizes over 0 to 10 mm; nothing outside the table. Sizes on a step belong to the range below it.
std::optional<SizeLimits> IsoLimits(double nominal_mm, const std::string& tolerance_class);

/// Clearance between a hole and a shaft of the same nominal size: least and greatest [µm], negative
/// where they interfere.
struct Fit {
  double least_um = 0.0;
  double greatest_um = 0.0;
};
std::optional<Fit> IsoFit(double nominal_mm, const std::string& hole, const std::string& shaft);

/// Tube for bushings and the rod that runs in it.
struct Tube {
  std::string name;  ///< "3/16 in brass tube, wall 0.014 in"
  double outside_mm;
  double inside_mm;  ///< as bought; `reamed` ones are reamed to it
  double pin_mm;     ///< the rod that runs in it
  bool inch;
  bool reamed;  ///< bored to H7 for an f7 pin
  Source source;
};
const std::vector<Tube>& Tubes();

/// The hole for pressing something round into a material is smaller by this (bigger if negative).
struct PressFit {
  std::string material;     ///< a name of job/arm_materials.h
  double interference_mm;   ///< on the diameter
  double web_per_diameter;  ///< least material from a hole's edge to the part's edge, per diameter
  std::string how;          ///< a word to the bench
  Source source;
};
const PressFit* FindPressFit(const std::string& material);

/// Sheet thicknesses sold, metric or inch, growing [mm].
std::vector<double> SheetSizes_mm(bool inch);

struct WoodScrew {
  std::string name;  ///< "2.5 mm", "#4"
  double diameter_mm;
  double head_mm;         ///< diameter of the countersunk head
  double head_height_mm;  ///< its depth
  double pilot_soft_mm;
  double pilot_hard_mm;
  double clearance_mm;  ///< hole in the plate
  bool inch;
  Source source;
};
const std::vector<WoodScrew>& WoodScrews();  ///< thin to thick
/// Lengths wood screws are sold in, growing [mm].
std::vector<double> WoodScrewLengths_mm(bool inch);

/// Machine screws for those who rather bolt their plates right through the walls: countersunk in
/// the plate, washer and nut outside.
struct MachineScrew {
  std::string name;
  double diameter_mm, tap_drill_mm, clearance_mm, head_mm;
  bool inch;
  Source source;
};
const std::vector<MachineScrew>& MachineScrews();
/// Lengths machine screws are sold in, growing [mm].
std::vector<double> MachineScrewLengths_mm(bool inch);

/// Plain washers.
struct Washer {
  std::string name;
  double inside_mm, outside_mm, thickness_mm;
  Source source;
};
const std::vector<Washer>& Washers();

/// Outside diameter of the spacers on the pins, as the job has it or 1 mm round the bushing.
double SpacerOutside_mm(const Job& job);

/// Diameter of the pins that ChooseHardware picks for the job.
double PinDiameter_mm(const Job& job);

/// [mm] Wood left behind the tip of a screw.
inline constexpr double kBehindScrew_mm = 2.0;
/// [1] Thread that a screw needs in the wood, in diameters (common practice, no source).
inline constexpr double kThreadDepth = 1.5;

/// Plates that pass each other keep this apart [mm].
inline constexpr double kPlatesApart_mm = 0.4;

/// The job's plates with every thickness and the material filled in, those of absent plates too:
/// the usual sheets, and a packing that holds the lid plate clear of a thicker case plate.
PlateWish PlatesOf(const Job& job);

/// What was picked for a hinge, and why.
struct Hardware {
  Tube bushing;
  PressFit arm_fit, plate_fit;
  WoodScrew screw;
  bool bolts =
      false;  ///< `screw` is a machine screw, bolted right through; pilots are clearance holes
  double screw_length_mm = kUnset;  ///< as the job has it; NaN: what the walls let in
  double arm_hole_mm = 0.0;         ///< for the bushing, in the arm
  double plate_hole_mm = 0.0;       ///< for the pin, in the plates
  double wood_hole_mm = 0.0;        ///< for a pin that goes straight into wood
  double running_mm = 0.0;          ///< clearance of the pin in its bushing, on the diameter
  double spacer_out_mm = 0.0;       ///< outside diameter of spacers
  double spacer_bore_mm = 0.0;
  double washer_out_mm = 0.0;         ///< outside diameter of the washers on the pins' inner ends
  double washer_mm = 0.0;             ///< and their thickness
  std::vector<std::string> why = {};  ///< sentences, with their source
};

/// The hardware for a job's arms and plates. What job.hardware gives is taken as it is; the rest is
/// picked: the tube as wide as arms.bushing (within kSameTube_mm; a reamed one only if no plain one
/// is) with the rod that runs in it, press fits by the materials, the largest wood screw whose head
/// sinks in the thinner plate and stays in a strip as wide as the eye, and whose thread the walls
/// hold (if they hold none, the largest all the same: the stack tells what would do). Without
/// plates there are no screws and `screw` is the smallest there is.
///
/// `faults` gets a sentence for each thing that does not go, naming the part, the number and what
/// would fit; then nothing is returned.
std::optional<Hardware> ChooseHardware(const Job& job, std::vector<std::string>* faults);

/// Whether some screw that the plates take is held by both walls, of those sold.
bool ScrewsHeldByWalls(const Job& job);

/// What the job gives of the hardware and cannot have, each with what would fit, before anything is
/// searched for; nothing if it leaves all to be picked.
Problems FaultsOfHardware(const Job& job);

/// All that makes a hinge impossible before any search: of the solid (FaultsOf), then of the
/// hardware.
Problems FaultsBeforeWork(const Job& job, const Solid& solid);

}  // namespace lidwright
