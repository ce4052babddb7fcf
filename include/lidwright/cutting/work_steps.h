// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/arms/hinge_set.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// What a step's picture shows.
enum class StepScene {
  kCard,
  kFlatParts,
  kTurnedParts,
  kHolesInWood,
  kLidPlateLetIn,
  kPlatesOnJig,
  kJigInCase,
  kJigInLid,
  kArmsShut,
  kLidLowered,
  kLidOpen,
  kSwing
};

/// The sheets that a step is done with.
enum class StepSheet { kCard, kPlates, kArms, kNest, kStack, kTemplates, kJig, kPivots };

/// One step of the work at the bench, the one source of its words for every sheet and page.
struct WorkStep {
  std::string title;
  std::string text;
  std::string held, moves, tool;  ///< what is held, what moves, with which tool
  StepScene shows = StepScene::kSwing;
  std::vector<StepSheet> sheets;
  std::vector<std::string> pieces;  ///< names of the pieces that are handled
  std::string write;                ///< what is measured and written down: "diameter of a pin"
  std::vector<AssemblyMove> motions = {};  ///< its moves in the box, certified
};

/// The order of work from print to swing: card, flat parts, turned parts, holes in the wood, the
/// jig's own steps (Jig::steps), the check at the end. Steps for which a set has nothing are left
/// out.
std::vector<WorkStep> WorkSteps(const Job& job, const HingeSet& set);

}  // namespace lidwright
