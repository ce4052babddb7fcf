// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/synthesis/box_parts.h"

namespace lidwright {

/// One requirement on a hinge, and how it came out. Lengths in mm, shares as plain numbers.
struct Verdict {
  std::string what;  ///< such as "lid to case", "arm A to lid", "room behind"
  bool met = false;
  bool proven = false;   ///< certified, not only looked at
  bool at_most = false;  ///< `found` may be at most `required`, not at least
  double required = kUnset;
  double found = kUnset;  ///< for gaps the certified bound
  std::string unit = "mm";
  double angle_rad = kUnset;  ///< lid angle where it is tightest, if there is one
  Nearness nearest;           ///< the tightest spot, for gaps
  std::string parts;   ///< the two parts of the tightest spot, "lid end wall / case end wall"
  std::string remark;  ///< in words, where numbers do not say it
};

using Verdicts = std::vector<Verdict>;

bool AllMet(const Verdicts& verdicts);

/// The verdict on the certified least gap of some pairs, of which there must be one.
Verdict GapVerdict(const std::string& what, double required_mm, const LidMotion& motion,
                   const MotionBounds& bounds, const std::vector<PartPair>& pairs);

/// Certifies the lid alone on a linkage: the motion reaches the opening angle on the closed pose's
/// branch; contacts separate and nothing comes closer than when closed until gap_from (R4); lid to
/// case gap from there to open (R1, R5); room behind and above, bench; the open lid's access (R2).
/// Every requirement is judged, whatever the others say, unless the motion does not exist.
Verdicts CertifyLid(const Job& job, const BoxParts& parts, const Solid& solid,
                    const LidMotion& motion);

/// Share of the mouth that the open lid leaves free, and the x of its foremost point, from the
/// lid's stations at the opening angle.
struct Access {
  double mouth_free = kUnset;
  double foremost_x_mm = kUnset;
};
Access AccessAt(const Solid& solid, const LidState& open);

}  // namespace lidwright
