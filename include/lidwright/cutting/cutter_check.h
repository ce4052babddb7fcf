// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/cutting/cut_part.h"

namespace lidwright {

/// What a part must leave to the cutter and to the hand that holds it.
struct CutterLimits {
  double cutter_mm = 0.0;  ///< diameter; 0 for a saw or laser, which every inside corner suits
  double web_mm = 1.0;     ///< least material between holes, from a hole to the edge, and in a neck
  bool inches = false;     ///< the maker's unit, for the sentences
};

enum class CutFaultKind { kInsideRadius, kSlot, kWeb, kNeck, kOutline, kStock };

/// One thing for which a part cannot be cut, as data: where, the number found and the one needed.
struct CutFault {
  std::string part;
  CutFaultKind kind = CutFaultKind::kInsideRadius;
  double found_mm = 0.0;
  double needed_mm = 0.0;
  Vec2 at = Vec2::Zero();
  std::string what;  ///< the same as a sentence, with what would fit
};

/// The narrowest place of an outline on one side of it: the shortest chord between two points that
/// face each other, each the nearest to the other among its neighbours.
struct NarrowPlace {
  double width_mm = 0.0;
  Vec2 a = Vec2::Zero(), b = Vec2::Zero();
};
/// The narrowest slot (chord outside of the part) and the narrowest neck (inside), if under
/// `below_mm`; infinite width else. A disc of that width rolls along the whole outline on this side
/// exactly if curves are no tighter and no such chord is shorter (reach of a curve: the lesser of
/// its least radius and half its shortest chord of that kind). Curves are judged as chords within
/// kChordError_mm / 4. O(n²) in them.
NarrowPlace NarrowestSlot(const Outline& outline, double below_mm);
NarrowPlace NarrowestNeck(const Outline& outline, double below_mm);

/// Everything that stands against cutting the part, in this order: the outline itself (FaultOf);
/// inside curves tighter than the cutter, each; the narrowest slot; webs, each; the narrowest neck.
/// Empty if it can be cut. Holes are not judged against the cutter: SmallHolesDrilled sees to them.
std::vector<CutFault> FaultsFor(const CutPart& part, const CutterLimits& limits);

}  // namespace lidwright
