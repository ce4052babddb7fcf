// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "lidwright/synthesis/lid_task.h"

namespace lidwright {

/// What has to be known of a box, besides its pivots, to say what a maker feels of its hinge.
struct LidUse {
  double play_mm = 0.1;  ///< all of a pin's free movement in its bushing
  /// What an arm is off along its line when all is fixed, standard deviation. The last plate fixed
  /// with the lid shut: what it still shifts while its screws are driven, 0.05 mm (common practice,
  /// no source). Plates placed by measuring: twice the drill's error (two pivots, two holes).
  double off_along_arm_mm = 0.05;
  double drill_error_mm = 0.2;  ///< of a hole each way, standard deviation
  double weight_n = 0.0;        ///< of the lid
  double rim_back_mm = 0.0;     ///< x of the rim's rear end at mid-width …
  double rim_front_mm = 0.0;    ///< … and of its front end
  bool bench = true;            ///< the bench goes on behind the box …
  double bench_mm = 0.0;        ///< … at this y; the level of the box's bottom either way
  double lean_n = 0.0;  ///< at one end, of somebody who leans on the open lid's edge; 0: nobody
  double pin_bears_n = kUnset;  ///< what a pin may get of it, with the sizes at hand
  double post_mm = 0.0;  ///< from an arm's middle line to the middle of a post that stops it; 0: no
                         ///< post is wanted
};

/// The same without what is foretold of leaning and of a post.
LidUse LidAlone(LidUse use);

/// From a job: the lid's weight as weighed, or of its wood. Play and fixing depend on parts that
/// are chosen later: 0.1 mm (common practice, no source) and a last plate fixed with the lid shut
/// until somebody knows better.
LidUse LidUseOf(const Job& job, const Solid& solid);

/// What a maker feels of a lid on four pivots, before there are arms. Every figure but the last two
/// is better when it is less.
struct LidFigures {
  double rattle_mm = kUnset;  ///< the front edge's free movement with the real play, at its worst
  double misfit_mm = kUnset;  ///< one lid in twenty shuts farther off, fixed as it is
  double lift_n = kUnset;     ///< largest lift force at the front edge, square to its path
  double behind_mm = kUnset;  ///< how far behind the case's rear face the lid comes
  double arms_mm = kUnset;    ///< both arms, pivot to pivot
  double hang_mm = kUnset;    ///< how far the lower lid pivot hangs below the rim, shut
  double over_bench_mm = kUnset;  ///< least height of the lid over the bench while it swings; less
                                  ///< than 0: below its level
  double arms_sine = kUnset;      ///< least sine of the angle between the arms' lines
  double behind_rad = kUnset;     ///< angle of behind_mm, only where FiguresOf tells it
};

/// [N/N] Load of the worse pin per force of somebody who leans on the open lid, as foretold from
/// the pivots alone with a post kUsualPost_mm from an arm's case pivot; kUnset if the lid does not
/// open.
double LeantPin(const LidTask& task, const Pivots& pivots);

/// The figures of pivots, the worst over the swing at steps of a degree: all kUnset if the motion
/// does not reach the opening angle. rattle = 2 · play · play factor (R8): two pins to an arm.
/// Accuracy: the worst lies at most half a degree's change beyond.
LidFigures FiguresOf(const LidTask& task, const LidUse& use, const Pivots& pivots);

/// What a search leans towards: each figure's share of the merit is taken so many times.
struct Leaning {
  double rattle = 1.0, misfit = 1.0, lift = 1.0, behind = 1.0, arms = 1.0, hang = 1.0, bench = 1.0;
};

/// The lid's share of the one merit by which hinges are compared: less is better, 0 is perfect.
/// Each quantity is measured in the step of it that a maker would notice and give something for; a
/// step of one counts as much as a step of another (see the constants). Arms' crookedness, strength
/// and the share of trial builds that miss come on top once there are arms, and are never negative:
/// this is a lower bound of the whole.
/// NaN if the figures are unset.
double LidMerit(const LidUse& use, const LidFigures& figures, const Leaning& leaning = {});

/// The steps. Reasons are judgements of the trade, no source.
inline constexpr double kRattleStep_mm = 0.2;   ///< play that a hand feels at the front edge
inline constexpr double kMisfitStep_mm = 0.3;   ///< a step in the seam that a finger feels
inline constexpr double kLiftStep_n = 10.0;     ///< a kilogram more to lift
inline constexpr double kBehindStep_mm = 50.0;  ///< a box moved forward on its shelf by a hand's
                                                ///< width less
inline constexpr double kArmsStep_mm = 100.0;   ///< a pair of arms, long as a hand: room, weight
inline constexpr double kHangStep_mm = 40.0;    ///< parts that hang a thumb's length into the box
inline constexpr double kOverBench_mm = 10.0;   ///< a finger under the open lid: more is no better
inline constexpr double kOverBenchStep_mm = 5.0;  ///< what lacks of that: twice its share each

/// [–] One build in twenty that misses something counts 1.
inline constexpr double kBuildsWeight = 20.0;
/// [–] A pair of arms half as long again as straight ones counts 1: bent arms flex, and are more to
/// saw and to finish.
inline constexpr double kCrookedWeight = 2.0;

/// [–] Half as strong as wanted counts 3: nothing that a maker enjoys makes up for what breaks.
inline constexpr double kStrengthWeight = 3.0;

/// [mm] From its pivot, where a post usually meets an arm.
inline constexpr double kUsualPost_mm = 25.0;
/// [mm] A post that lacks so much of a place in the case counts 1: the arm that is found later may
/// run otherwise.
inline constexpr double kPostStep_mm = 3.0;

/// What strength is foretold to lack where somebody leans on the open lid, as a share of the merit:
/// below 0 where there is more than enough. `pin` is the load of the worse pin per newton of the
/// hand. It orders the search's work; a hinge's merit is taken from its true strengths.
template <typename T>
T LeantLacking(const T& pin, const LidUse& use) {
  using std::log;
  return T(kStrengthWeight / std::log(2.0)) * log(T(use.lean_n / use.pin_bears_n) * pin);
}

/// Misfit that one lid in twenty exceeds, from the pivots alone and with its derivatives: T is
/// double or a dual number over the eight pivot numbers. Each arm is off along its line by
/// `off_along_arm_mm`, normally and by itself, which shifts the shut lid (the loop's
/// linearisation); the lid turns back about the instant centre until the first end of the rim
/// touches; the misfit is the larger movement of the two ends. It grows in proportion along each
/// direction of the shift, so the share of lids beyond q is a mean over directions of exp(−q² / 2
/// o²), o the misfit of one standard deviation that way. Accuracy: `directions` equally spaced; 48
/// are good to a thousandth.
template <typename T>
T MisfitOneInTwenty(const T* pivots, const LidUse& use, int directions);

}  // namespace lidwright
