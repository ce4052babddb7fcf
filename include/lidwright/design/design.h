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
#include "lidwright/job/write_job.h"
#include "lidwright/solid/solid.h"
#include "lidwright/synthesis/plain_hinge.h"

namespace lidwright {

/// Numbers by which hinges are compared.
struct Traits {
  double least_gap_mm = kUnset;      ///< certified, lid to case while moving
  double arms_length_mm = kUnset;    ///< both arms, pivot to pivot
  double reach_behind_mm = kUnset;   ///< how far behind the case's rear face lid and arms come
  double reach_behind_rad = kUnset;  ///< at this angle of the lid
  double mouth_free = kUnset;        ///< share of the mouth left free when open
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

/// What makes up the one merit by which hinges are compared, each share in steps of its quantity
/// that a maker would notice (merit.h, lid_merit.h): less is better. kUnset: not worked out.
struct Merit {
  double rattle = kUnset;      ///< the front edge's, with the real play
  double misfit = kUnset;      ///< of the shut lid, one in twenty, fixed as it is
  double lift = kUnset;        ///< largest lift force at the front edge
  double behind = kUnset;      ///< room taken behind the box
  double arms = kUnset;        ///< their length, pivot to pivot
  double crooked = kUnset;     ///< how much longer they are along their middle
  double hang = kUnset;        ///< how far lid pivots hang below the rim
  double over_bench = kUnset;  ///< what lacks of a finger's height over the bench
  double strength = kUnset;    ///< what the weakest part lacks of what is wanted: in use, leaned on
  double builds = kUnset;      ///< trial builds that miss something
  double Total() const;
};

/// The name of the hinge of least merit.
inline constexpr const char* kAllRound = "all-round";

/// One complete hinge: pivots, arms, and what was proven of them.
struct Hinge {
  std::string character;  ///< what it is best at: "all-round", "short arms" …; "given" for a
                          ///< maker's own pivots
  Pivots pivots;
  std::optional<Arm> arm_a, arm_b;  ///< nothing when no arm clears
  Verdicts verdicts;
  Traits traits;
  std::optional<HingeSet> parts;        ///< plates, pins, stop, jig: when both arms clear
  std::optional<HingeForces> forces;    ///< when both arms exist and the lid opens
  std::vector<double> gap_by_angle_mm;  ///< lid to case at the angles of forces->feel
  std::optional<Accuracy> accuracy;     ///< of the hinge that is drawn and cut, if it clears
  Merit merit;
};

/// All that is required of a hinge in one list: lid, pivots, arms, parts, and one unmet verdict for
/// each part that could not be made. The one place that decides whether a hinge does.
Verdicts RequirementsOf(const Hinge& hinge);
bool Does(const Hinge& hinge);
/// The same but for somebody who leans on the open lid.
bool DoesInUse(const Hinge& hinge);

/// A change of the job that lets a hinge in.
struct Remedy {
  std::string words;  ///< "room behind of at least 74 mm instead of 60"
  /// The same for a job file: exactly what was tried, where the words are rounded.
  std::vector<KeyChange> changes;
};

/// Why no hinge was found, and the smallest change that would let one in.
struct NoHinge {
  std::string failing;        ///< the requirement that stands in the way, in words
  double missed_by = kUnset;  ///< how far it is missed: what would have to be given
  std::string unit = "mm";
  std::string cannot;    ///< why no hinge can, where that is proven; else empty
  bool linkage = false;  ///< some linkage opens that far and parts the rim at once
  /// What the nearest of them misses first, if it misses anything by itself.
  std::optional<Verdict> nearest_miss;
  std::vector<Remedy> remedies;        ///< nearest first
  std::optional<Hinge> nearest_hinge;  ///< the nearest linkage as it was judged; it is no hinge
};

/// What the search looked at, and how sure its answer is.
struct SearchRecord {
  long starts = 0;         ///< linkages that were looked at
  long opening = 0;        ///< of them: the lid opens, and not hopelessly
  long descents = 0;       ///< of them: descended from
  long tried = 0;          ///< lids on the shop's grid that were put before the certificate
  long clearing = 0;       ///< of them: the lid is certified
  long armed = 0;          ///< of them: both arms are certified too
  int rounds = 0;          ///< of the search, each with starts of its own
  int rounds_at_best = 0;  ///< of them: came within 2 % of the best merit by themselves
  bool converged = false;  ///< the last rounds found nothing better
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

/// Whether there is a hinge and the one that is drawn does.
bool Does(const Design& design);

}  // namespace lidwright
