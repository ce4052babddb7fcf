// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// A caution in words, with the heading it belongs under and where it comes from.
struct Caution {
  std::string topic;  ///< "strength", "children", "fingers", "tipping", "codes"
  std::string text;
  std::string source;  ///< empty: the program's own limits
};

/// What the numbers of forces and accuracy do not cover, and whom to ask. Plain data for the
/// report.
const std::vector<Caution>& ForceCautions();

/// Is this box as large as the toy and storage chests with rules of their own? By the volume of its
/// room [mm³]: from 1.1 cubic feet (0.031 m³), the scope of the American rules on toy chests
/// (READ).
bool ChestRulesMayApply(double room_mm3);

/// How a gap that people can reach looks to fingers.
enum class FingerGap {
  kTooNarrow,  ///< at most 5 mm: the rod of the toy rules does not go in
  kTrap,       ///< a finger goes in and can be pinched
  kToyFree,    ///< from 12 mm: a finger comes out again, says the toy rule for hinge lines
  kFree        ///< from 25 mm: no finger is crushed, says ISO 13854
};
FingerGap FingerGapOf(double gap_mm);

/// Stretches of the swing by what the gap is like there, in order, joined; bounds by straight lines
/// between samples. Requires angles that grow and as many gaps.
struct FingerStretch {
  FingerGap gap = FingerGap::kFree;
  double from_rad = 0.0, to_rad = 0.0;
};
std::vector<FingerStretch> FingerStretches(const std::vector<double>& theta_rad,
                                           const std::vector<double>& gap_mm);

}  // namespace lidwright
