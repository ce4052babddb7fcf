// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <string>

#include "lidwright/base/units.h"

/// Numbers as somebody at a bench can use them: one rule for each kind of quantity, so that every
/// text, table and drawing prints the same number for the same thing. Results are kept in full in
/// hinge.json only.
namespace lidwright {

enum class Bench {
  kGap,    ///< how far apart things are proven to stay: never more than there is
  kRoom,   ///< what something needs or takes: never less than that
  kSize,   ///< outlines and radii of pieces, to check them against
  kHole,   ///< places, spacings and widths of holes; thickness and lengths of stock
  kError,  ///< errors of drilling and placing, plays
  kBound,  ///< how far off something is at most
};

/// How finely a kind is said, and to which side: -1 down, 0 to the nearest, +1 up.
struct BenchRule {
  double steps_per_mm;
  double steps_per_inch;
  int side;
};

/// A rule reads half a millimetre, callipers a tenth with an easy hand and a hundredth with care;
/// in inches a rule reads 64ths, callipers thousandths. Sizes and holes that are a 64th (to a tenth
/// of a thousandth) are said as the fraction that rules and drills are marked with.
inline constexpr std::array<BenchRule, 6> kBenchRules{
    {{10, 64, -1}, {10, 64, +1}, {10, 1000, 0}, {100, 1000, 0}, {100, 1000, 0}, {100, 1000, +1}}};

/// "18.8", "15", "5/64", "4.194"; no zeros at the end; minus is "-". Not-a-number reads "-".
std::string BenchNumber(double mm, Bench kind, bool inches);

/// A hole's place for a column of them: "44.00", "1-47/64", "0.3".
std::string BenchPlace(double mm, bool inches);

/// The same with its unit: "18.8 mm", "5/64 in"; "no limit" for infinity.
std::string BenchText(double mm, Bench kind, bool inches);

/// A gap that was found where `asked_mm` was asked for (or a need beside the room there is): where
/// rounding to the safe side would pass a limit that is kept, the limit is said. It is as true a
/// bound, and nobody reads "1.5 of 1.58, passed".
std::string BenchGap(double found_mm, double asked_mm, bool inches);
std::string BenchRoom(double needed_mm, double there_is_mm, bool inches);

/// A length as somebody gave it: "2 mm", "0.07 in", "1/16 in".
std::string AsGiven(double mm, bool inches);

/// A force a part bears or a hand must bring, in newtons without the unit: tenths under 10 N, whole
/// ones above, to the safe side as a gap or a need is.
std::string ForceNumber(double n, Bench kind);

/// A share as whole per cent, down: "97 %".
std::string ShareText(double share);

/// "-1/2" with a minus sign that cannot be taken for the dash of a mixed number: "\u22121/2".
std::string WithMinus(std::string number);

}  // namespace lidwright
