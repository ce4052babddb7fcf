// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/arms/stack.h"
#include "lidwright/arms/stop.h"

namespace lidwright {

/// What a picture of a step at the jig shows.
enum class JigScene { kPlatesOnJig, kJigInCase, kJigInLid, kArmsShut, kLidLowered, kLidOpen };

/// The step at which the stop is put in: before the arms, where plates hold them with the lid
/// plate.
inline JigScene StopComesIn(const PlateWish& plates) {
  if (plates.on_lid) return JigScene::kArmsShut;
  return plates.on_case ? JigScene::kLidOpen : JigScene::kJigInCase;
}

/// One step of the jig's use, in the maker's words.
struct JigStep {
  std::string text;   ///< all of it
  std::string title;  ///< in a few words: "Load the jig"
  std::string held;   ///< what is held meanwhile, and how
  std::string moves;  ///< what moves
  std::string tool;   ///< what it takes
  JigScene shows = JigScene::kPlatesOnJig;
  std::string last = "";  ///< what is done after all else, also what the order of work adds
};

/// A flat template that takes the arms' place while the plates are fixed, lid shut.
struct Jig {
  HingePiece piece;        ///< fixed to the case; its holes are the four pivots where they sit shut
  double back_x_mm = 0.0;  ///< its back edge lies on the inner face of the back wall, here
  double rim_y_mm = 0.0;   ///< its upper edge is level with the rim along the end wall's inner edge
  double level_mm = 0.0;   ///< how long that edge is
  std::string before_drilling;  ///< what is done before any hole is drilled in the wood, or nothing
  std::vector<JigStep> steps;   ///< how it is used
};

/// The shut hinge's template: a plate over all four pivots in the innermost arms' layer next to the
/// plates, its back edge on the inner face of the back wall and its upper edge level with the rim,
/// so that a square over the rim sets its height. Around lid pivots near or over the rim it rises
/// into the lid. It fits in with the lid shut: everything else stays kJigFit_mm off case and lid.
/// Through bigger holes over its screws the case plate is screwed while the jig holds it. The steps
/// say how high the lid plate stands and where `stop` goes in.
/// Nothing, and a sentence in `fault`, if it cannot be held (no level edge is left) or a hole comes
/// too near its edge.
std::optional<Jig> MakeJig(const Job& job, const Solid& solid, const Assembly& box,
                           const Pivots& pivots, const StackPlan& plan, const Hardware& hardware,
                           const std::optional<Plate>& case_plate,
                           const std::optional<Plate>& lid_plate, const std::optional<Stop>& stop,
                           std::string* fault);

inline constexpr double kJigFit_mm = 0.5;
/// [mm] Holes over their pins.
inline constexpr double kJigHole_mm = 0.05;

/// A ruled part's rings at a z within it.
std::vector<Ring> RingsAt(const Part& part, double z_mm);

/// Cross-section of ruled parts at z: their rings there.
std::vector<Ring> SectionAt(const std::vector<const PartTree*>& parts, double z_mm);

}  // namespace lidwright
