// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/base/bench.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/units.h"
#include "lidwright/design/design.h"

namespace lidwright {

// Numbers as words for the maker, in the job's unit; lengths by the one rule of base/bench.h.
// Bounds are rounded away from what would claim more than was proven.

enum class Rounding { kDown, kUp };

std::string Rounded(double value, int decimals, Rounding rounding);

/// A value of a verdict or of what is missing, by its unit: "mm", "share", "of it", "deg", …
std::string Quantity(double value, const std::string& unit, bool inches,
                     Rounding rounding = Rounding::kDown);

/// "needs 2 mm" or "at most 25 mm", and "has 2.6 mm"; empty where there is no number. The two with
/// Number are the numbers alone; RequiredNumber requires that there is one.
std::string RequiredNumber(const Verdict& verdict, bool inches);
std::string Required(const Verdict& verdict, bool inches);
std::string Found(const Verdict& verdict, bool inches);
std::string FoundNumber(const Verdict& verdict, bool inches);

/// Pieces at each end; the jig is no part of the hinge.
int PiecesAtEachEnd(const HingeSet& set);

/// A gap that an arm keeps.
bool IsGapOfArms(Requirement what);

/// A hinge's least gap from lid to case, and the room it takes behind.
std::string LeastGap(const Hinge& hinge, const Job& job);
std::string RoomBehind(const Hinge& hinge, const Job& job);

/// What stands in the way of a hinge, with its number where it has one: a clause.
std::string WhatLacks(const NoHinge& none, bool inches);

/// What the nearest linkage found misses, as a sentence without capital and full stop.
std::string NearestText(const NoHinge& none, bool inches);

/// The gap with the least beyond what is asked for, or null.
const Verdict* LeastToSpare(const Verdicts& verdicts);

bool IsStraight(const Arm& arm);

}  // namespace lidwright
