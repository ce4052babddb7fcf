// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "lidwright/accuracy/placement.h"
#include "lidwright/certify/certify.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// What one error does to the lid, to first order, per mm or per radian of it. "In place": the last
/// plate is fixed (or without plates: the lid's holes are marked) with the lid shut and the arms on
/// their pins. "Measured": plates placed by measuring, arms as designed.
struct ErrorEffect {
  std::string what;    ///< "case pivot of arm A, forward", "lid plate, turned", "arm A, length"
  bool turns = false;  ///< per radian of a plate's turning about the middle of its pivots
  double gap_in_place = kUnset;  ///< of the tightest gap
  double gap_measured = kUnset;
  Vec2 seam = Vec2::Zero();            ///< of the shut lid, angle kept, measured; in place nothing
  Vec2 front_in_place = Vec2::Zero();  ///< of the open lid's front edge, its angle kept
  Vec2 front_measured = Vec2::Zero();
};

/// How often trial builds miss one requirement.
struct MissedShare {
  Requirement what = Requirement::kLidToCase;
  Member of = Member::kNone;
  double share = 0.0;
};

/// What one moisture of the wood leaves.
struct SeasonFit {
  double percent = kUnset;  ///< moisture of the wood
  double gap_mm = kUnset;   ///< certified: lid to case, from the angle on from which it is asked
  double back_opens_mm = kUnset, front_opens_mm = kUnset;  ///< the seam (negative: it bears)
};

/// How exactly a hinge must be made.
struct Accuracy {
  double gap_mm = kUnset;  ///< certified, as designed
  std::array<double, 8>
      gap_slope{};             ///< change of the tightest gap per mm of each pivot number, in place
  double gap_spread = kUnset;  ///< length of that gradient: standard deviation per mm of error
  double worst_drop = kUnset;  ///< Σ |slope|: mm of gap lost per mm if every error is against it
  double seam_spread =
      kUnset;  ///< standard deviation of the shut lid's place per mm of error, by measure
  /// Standard deviation with which 99 of 100 lids still clear and open all the way: by the slopes
  /// of the tightest gap and of the angle at which the linkage turns back, and no more than the
  /// trial below bears out.
  double error_it_stands_mm = kUnset;
  std::vector<ErrorEffect> effects;  ///< eight pivot numbers, three of each plate, two arms

  // Play in the bushings.
  double play_mm = kUnset;     ///< all of a pin's free movement in its bushing
  double rattle_mm = kUnset;   ///< all of the front edge's, at the worst angle …
  double rattle_rad = kUnset;  ///< … which is this

  // The trial of many builds.
  int builds = 0;
  double drill_error_mm = kUnset;
  double place_error_mm = kUnset;
  double unopened_share = kUnset;  ///< of builds that cannot be opened all the way
  double touching_share = kUnset;  ///< of builds that open, and whose lid touches the case
  /// Rub or do not open.
  double FailingShare() const { return touching_share + unopened_share; }
  double short_share = kUnset;   ///< of builds that open, and miss the gap to the case asked for
  double missed_share = kUnset;  ///< of builds that miss anything that is asked, or do not open
  std::vector<MissedShare>
      missed;  ///< of those that open, most often first; those of no build left out
  double gap_5_percent_mm = kUnset;  ///< of those that open, one in twenty has less than this
  /// One in twenty shuts farther off than this (ShutOf): placed with the jig (its holes and the
  /// arms' are drilled, the plates go where it says), and placed by measuring. kUnset if one in
  /// twenty or more cannot be shut at all. In place it is nothing.
  double seam_jig_mm = kUnset;
  double seam_measured_mm = kUnset;
  double stuck_jig_share = 0.0;  ///< of builds that cannot be shut
  double stuck_measured_share = 0.0;
  double gap_measured_mm = kUnset;  ///< one in twenty placed by measuring has less, to first order

  // Seasons: the driest and dampest that the wood sees; unset percent where it is not known how the
  // wood moves.
  SeasonFit dry, damp;
};

struct BuildOptions {
  int builds = 10'000;
  unsigned seed = 1;
  int threads = 0;
  double play_mm = 0.1;            ///< of a pin in its bushing (common practice, no source)
  std::optional<Vec2> front_edge;  ///< of the lid, for the rattle
};

/// The slopes come from the tightest spot (the envelope theorem: to first order only the spot's own
/// distance changes). The trial draws every pivot coordinate with the job's drill error, normally
/// distributed, and looks at each build's gap again: at every slab's own tightest angle and beside
/// it (not certified: no build is claimed to clear, shares are estimated). Whether a build misses
/// another requirement is told to first order (SpoiltByHoles), with plates and arms where their
/// holes bring them; a build that cannot be opened is counted as that and as nothing else. An arm's
/// length is off by √2 of a hole. A plate placed by measuring is off by shop.place_error at each of
/// its two pivots and each way: √½ of it as a shift, √2 of it over their distance as a turn.
/// Deterministic for a seed on any number of threads.
///
/// Rattle: each arm is free by the play at both of its pins; over 91 angles of the swing.
/// `assembly` is the box with as many of the hinge's parts as there are.
/// Requires a motion that reaches the opening angle and clears.
Accuracy AccuracyOf(const Job& job, const Assembly& assembly, const Limits& limits,
                    const LidMotion& motion, const BuildOptions& options);

}  // namespace lidwright
