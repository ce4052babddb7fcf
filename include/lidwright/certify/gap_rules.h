// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "lidwright/certify/assembly.h"

namespace lidwright {

/// Stages of a certificate, each on its own: what is asked of the lid needs no arms, and so on.
enum class Stage { kLid, kArms, kParts, kStop };

/// Over which stretch of the swing a gap is kept.
enum class Stretch {
  kWhole,   ///< shut to open
  kFirst,   ///< shut to gap_from: nothing comes closer than when shut, contacts part
  kMoving,  ///< gap_from to open
  kToStop,  ///< shut to kStopFree_rad before open
};

/// Which of the limits a gap is held to.
enum class GapLimit {
  kNothing,
  kApart,  ///< more than a contact
  kSwingGap,
  kBenchGap,
  kArmsGap,
};

/// Parts by their kind, as a sum of PartKinds.
using PartKinds = unsigned;

/// Who keeps what gap from whom, over which stretch of the swing, and why. One row, one
/// requirement; pairs of one row are judged together for each member of `first` (kOneList) or of
/// both.
struct GapRule {
  Requirement what;
  Stage stage;
  PartKinds first, second;
  bool by_member;  ///< one verdict for each member on the first side; else one for all
  Stretch stretch;
  GapLimit limit;
  double slack_mm;
  const char* why;
};

/// The one table of gaps.
std::span<const GapRule> GapRules();

/// Does the rule speak of this pair, in this order? Parts of one body, parts that may touch and
/// parts at different z never meet.
bool Concerns(const GapRule& rule, const Assembly::Registered& first,
              const Assembly::Registered& second);

}  // namespace lidwright
