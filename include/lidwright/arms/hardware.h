// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace lidwright {

/// How far a figure can be trusted.
enum class Standing {
  kStandard,        ///< a published standard's figure
  kHandbook,        ///< read in a handbook or on a page that copies one
  kCommonPractice,  ///< what shops do; pages disagree, or it is from memory
};

struct Source {
  Standing standing = Standing::kCommonPractice;
  std::string where;
};

/// "standard: ISO 286", "common practice: …", for the parts list.
std::string Describe(const Source& source);

/// A length for the bench, to a hundredth of a millimetre or a thousandth of an inch: "3.49 mm".
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

/// Machine screws for those who rather bolt or tap their plates.
struct MachineScrew {
  std::string name;
  double diameter_mm, tap_drill_mm, clearance_mm, head_mm;
  bool inch;
  Source source;
};
const std::vector<MachineScrew>& MachineScrews();

/// Plain washers.
struct Washer {
  std::string name;
  double inside_mm, outside_mm, thickness_mm;
  Source source;
};
const std::vector<Washer>& Washers();

/// What was picked for a hinge, and why.
struct Hardware {
  Tube bushing;
  PressFit arm_fit, plate_fit;
  WoodScrew screw;
  double arm_hole_mm = 0.0;    ///< for the bushing, in the arm
  double plate_hole_mm = 0.0;  ///< for the pin, in the plates
  double running_mm = 0.0;     ///< clearance of the pin in its bushing, on the diameter
  double spacer_out_mm = 0.0;  ///< outside diameter of spacers, washers and heads
  double spacer_bore_mm = 0.0;
  std::vector<std::string> why;  ///< sentences, with their source
};

/// The tube as wide as `bushing_mm` (within kSameTube_mm; a reamed one only if no plain one is),
/// its pin, the largest wood screw whose head sinks in `plate_mm` and stays under
/// `largest_head_mm`. `faults` gets a sentence for each thing that does not go, naming the part,
/// the number and what would fit; then nothing is returned.
std::optional<Hardware> ChooseHardware(double bushing_mm, double eye_mm, double plate_mm,
                                       double largest_head_mm, const std::string& arm_material,
                                       const std::string& plate_material, bool inch,
                                       std::vector<std::string>* faults);

}  // namespace lidwright
