// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "lidwright/arms/shape_arms.h"
#include "lidwright/design/design.h"
#include "lidwright/job/read_pivots.h"
#include "lidwright/synthesis/search.h"

namespace lidwright {

/// A job's box in every form the work needs, made once. Not movable: the parts of it refer to each
/// other.
class BoxModel {
 public:
  explicit BoxModel(Job job);
  BoxModel(const BoxModel&) = delete;
  BoxModel& operator=(const BoxModel&) = delete;

  const Job job;
  const Solid solid;
  const Assembly box;
  const Limits limits;
  const LidTask task;
  const ArmsTask arms;
};

struct DesignOptions {
  int threads = 0;      ///< 0: as many as the machine has; results do not depend on it
  bool explain = true;  ///< look for the smallest change if there is no hinge
  bool improve = true;  ///< go on after the first complete hinges; false is a quick first look
  /// [N] What a pin may get of somebody who leans on the lid, if that is known better than from the
  /// sizes alone: it orders the search's work.
  double pin_bears_n = kUnset;
  /// Called with what is being done and the share of it done, 0…1.
  std::function<void(const std::string&, double)> progress;
  /// Called while the search runs with each hinge that is the best so far, and the box it is for:
  /// sizes that the job leaves open change on the way. From the thread that called, between steps;
  /// what it throws ends the work. Nothing depends on whether it is given.
  std::function<void(const BoxModel&, const Hinge&)> found;
};

/// The whole work on a job: the plain hinge's verdict, the search, certificates on the shop's grid,
/// arms, up to five differing hinges, or the reasons why there is none. Deterministic.
Design MakeDesign(const BoxModel& box, const DesignOptions& options = {});

/// The one sequence of stages up to the arms: the lid, what holds the pivots, the arms (those that
/// are not given are routed), the figures to compare by. All requirements are judged, or with
/// options.all false it ends at the first that is not met, without figures. `character` of the
/// result is "given". No other parts and no forces are worked out.
Hinge CertifyHinge(const BoxModel& box, const Pivots& pivots, const std::optional<Arm>& arm_a,
                   const std::optional<Arm>& arm_b, const CertifyOptions& options = {});

/// The same with the other parts and the forces.
Hinge JudgeHinge(const BoxModel& box, const Pivots& pivots, const std::optional<Arm>& arm_a,
                 const std::optional<Arm>& arm_b);

/// The same for what a hinge file gives, with a stay where it needs one.
Hinge JudgeHinge(const BoxModel& box, const GivenHinge& given);

/// Fills the accuracy of a hinge that clears, by trial builds.
void AddAccuracy(const BoxModel& box, int threads, Hinge& hinge);
/// Of the hinge that stands first, where another did before.
void AddAccuracyOfFirst(int threads, Design& design);

/// The figures hinges are told by.
Traits TraitsOf(const BoxModel& box, const Hinge& hinge);

}  // namespace lidwright
