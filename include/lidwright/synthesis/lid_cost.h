// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <vector>

#include "lidwright/synthesis/least_squares.h"
#include "lidwright/synthesis/lid_task.h"

namespace lidwright {

/// What a refinement should favour beyond meeting the requirements.
struct Favour {
  double arms = 0.02;           ///< weight per mm of both arms' length over 100 mm
  double play = 0.3;            ///< weight of the play factor over its target
  double play_target = 4.0;     ///< front-edge play per unit of pin play thought good
  double extra_gap_mm = 0.8;    ///< gap asked for beyond the job's, to survive snapping to the grid
  double lift = 0.0;            ///< weight of the lift factor
  double behind_x_mm = kUnset;  ///< instead of the task's limit behind, if set
};

/// The lid's requirements as residuals over the eight pivot numbers, all in mm or scaled to be
/// comparable; each is 0 where its requirement is met:
///   gap of each section at each sampled angle, both ways (lid points to the case's outline, case
///   points to the lid's); first motion at each contact; wall behind, ceiling and bench by angle;
///   access when open; pivots clear of case and lid by angle; pivots apart; angle between the arms;
///   play factor (R8) by angle; arms' length and lift as mild wishes; the job's own poses.
/// Derivatives are exact where r is smooth: distances by their gradient, the rest by dual numbers.
class LidCost {
 public:
  LidCost(const LidTask& task, const Favour& favour, int angles);

  int residuals() const { return residuals_; }

  /// False if the linkage does not reach the opening angle on its branch.
  bool Evaluate(const double* x, double* r, double* jacobian) const;

  /// Σ r² / 2 of the requirements alone, without the wishes (play, arms' length, lift, poses): 0 if
  /// every requirement holds at the samples; infinity where Evaluate fails.
  double Missed(const double* x) const;

  /// A cheap part of Missed (gaps, room, access, each at its samples) for sorting out seeds. Stops
  /// adding beyond `enough`.
  double Violation(const double* x, double enough) const;

  /// For Minimise: bounds from the zones, pinned pivots held.
  LeastSquaresProblem Problem() const;

 private:
  bool Add(const double* x, double* r, double* jacobian, double& violation) const;

  struct Sample {
    double theta_rad;
    double need_mm;
  };
  const LidTask& task_;
  Favour favour_;
  std::vector<Sample> samples_;
  int residuals_ = 0;
};

/// Lift force at the front edge, square to its path, per unit of lid weight, at one angle: by
/// virtual work the rise of the mass centre over the front edge's travel.
double LiftFactor(const LidTask& task, const Pivots& pivots, double theta_rad);

/// Largest play factor and lift factor over the swing, at 1° steps.
double WorstPlayFactor(const LidTask& task, const Pivots& pivots);
double WorstLiftFactor(const LidTask& task, const Pivots& pivots);

}  // namespace lidwright
