// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/accuracy/builds.h"
#include "lidwright/arms/arm.h"
#include "lidwright/arms/hinge_set.h"
#include "lidwright/forces/hinge_forces.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"
#include "lidwright/synthesis/plain_hinge.h"

namespace lidwright {

/// Numbers by which hinges are compared.
struct Traits {
  double least_gap_mm = kUnset;     ///< certified, lid to case while moving
  double arms_length_mm = kUnset;   ///< both arms, pivot to pivot
  double reach_behind_mm = kUnset;  ///< how far behind the case's rear face lid and arms come
  double mouth_free = kUnset;       ///< share of the mouth left free when open
  double play_factor = kUnset;  ///< front-edge play per unit of pin play, worst over the swing (R8)
  double seam_off_mm = kUnset;  ///< holes as the shop drills them, one lid in twenty shuts so far
                                ///< off; kUnset as well if so many cannot be shut
  double seam_stuck_share = 0.0;        ///< of those lids that cannot be shut
  double seam_first_order_mm = kUnset;  ///< what seam_off_mm tends to with finer drilling
  double lift_factor = kUnset;          ///< largest lift force at the front edge / lid weight
  double arms_safety = kUnset;          ///< arms in use: strength over load over the factor wanted
  double least_transmission_rad = kUnset;
  std::vector<double> dead_points_rad;  ///< lid angles where an arm lines up with the lid's pivots
  double arms_angle_rad = kUnset;       ///< least angle between the arms' lines over the swing
};

/// One complete hinge: pivots, arms, and what was proven of them.
struct Hinge {
  std::string character;  ///< "compact", "gentle", "roomy"; "given" for a maker's own pivots
  Pivots pivots;
  std::optional<Arm> arm_a, arm_b;  ///< nothing when no arm clears
  Verdicts verdicts;
  Traits traits;
  std::optional<HingeSet> parts;        ///< plates, pins, stop, jig: when both arms clear
  std::optional<HingeForces> forces;    ///< when both arms exist and the lid opens
  std::vector<double> gap_by_angle_mm;  ///< lid to case at the angles of forces->feel
  std::optional<Accuracy> accuracy;     ///< of the hinge that is drawn and cut, if it clears
};

/// All that is required of a hinge in one list: lid, pivots, arms, parts, and one unmet verdict for
/// each part that could not be made. The one place that decides whether a hinge does.
Verdicts RequirementsOf(const Hinge& hinge);
bool Does(const Hinge& hinge);

/// Why no hinge was found, and the smallest change that would let one in.
struct NoHinge {
  std::string failing;        ///< the requirement that stands in the way, in words
  double missed_by = kUnset;  ///< how far it is missed: what would have to be given
  std::string unit = "mm";
  bool linkage = false;  ///< some linkage opens that far and parts the rim at once
  /// What the nearest of them misses first, if it misses anything by itself.
  std::optional<Verdict> nearest_miss;
  std::vector<std::string>
      remedies;  ///< "room behind of at least 74 mm instead of 60", nearest first
  std::optional<Hinge> nearest_hinge;  ///< the nearest linkage as it was judged; it is no hinge
};

/// What the search looked at, for the summary.
struct SearchRecord {
  long seeds = 0;      ///< linkages drawn
  long moving = 0;     ///< of them: reach the opening angle and part at once
  long promising = 0;  ///< of them: not hopeless at sampled angles
  long refined = 0;    ///< of them: refined
  long clearing = 0;   ///< of them: the lid is certified on the shop's grid
  long armed = 0;      ///< of them: both arms are certified too
};

/// Everything one job led to: the one record that drawings, cut files and reports are made from.
struct Design {
  Job job;
  Solid solid;
  PlainHinge plain;
  std::vector<Hinge> hinges;  ///< best first; the first is the one that is drawn and cut
  std::optional<NoHinge> none;
  SearchRecord search;
  /// Of the sizes that the job left open: "arms of 3 mm aluminium, 14 mm wide", and why; empty if
  /// it left none.
  std::string sizes, sizes_why;
};

}  // namespace lidwright
