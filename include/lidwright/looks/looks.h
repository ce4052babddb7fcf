// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "lidwright/arms/hinge_parts.h"

/// What each body and part looks like in every picture: drawings, frames, film and page take their
/// tones and patterns from here, so that an arm that is dotted on paper is dotted on the screen.
/// Everything can be told without colour, by pattern, angle and pitch; colour only repeats it.
namespace lidwright {

enum class Pattern { kPlain, kLines, kCrossed, kDots };

struct Look {
  const char* name;              ///< "case", "arm-a" …: class of groups, key in the page's data
  const char* says;              ///< for a legend: "arm A"
  unsigned fill;                 ///< 0xRRGGBB
  unsigned ink;                  ///< of the pattern
  unsigned dark_fill, dark_ink;  ///< the same on a dark ground
  Pattern pattern;
  double angle_deg;  ///< of its lines from the x axis
  double pitch_mm;   ///< on paper
};

/// Wood of case and lid, the two arms.
const Look& LookOf(Body body);

/// Arms, plates, packing, spacers and washers, bushings, pins, screws, the stop, the jig.
const Look& LookOf(const HingePiece& piece);

/// Bench, wall and ceiling.
const Look& GroundLook();

/// All of them, each once.
inline constexpr std::size_t kLooks = 11;
const std::array<Look, kLooks>& AllLooks();

}  // namespace lidwright
