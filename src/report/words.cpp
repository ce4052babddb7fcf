// SPDX-License-Identifier: Apache-2.0
#include "words.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "verdict_words.h"

namespace lidwright {

std::string Rounded(double value, int decimals, Rounding rounding) {
  const double scale = std::pow(10.0, decimals);
  const double shifted = value * scale;
  return Fixed(
      (rounding == Rounding::kDown ? std::floor(shifted + 1e-9) : std::ceil(shifted - 1e-9)) /
          scale,
      decimals);
}

std::string Quantity(double value, const std::string& unit, bool inches, Rounding rounding) {
  if (std::isnan(value)) return "-";
  if (!std::isfinite(value)) return "no limit";
  if (unit == "mm") {
    return BenchText(value, rounding == Rounding::kUp ? Bench::kRoom : Bench::kGap, inches);
  }
  if (unit == "share") return Rounded(100.0 * value, 0, rounding) + " %";
  if (unit == "of it") return Fixed(100.0 * value, 0) + " % of it";
  if (unit == WordOf(Unit::kMmPerRadian)) {  // a maker turns a lid by degrees
    const double a_degree = value / kDegPerRad;
    return Rounded(inches ? a_degree / kMmPerInch : a_degree, inches ? 3 : 2, rounding) +
           (inches ? " in/deg" : " mm/deg");
  }
  return Rounded(value, 1, rounding) + " " + unit;
}

std::string RequiredNumber(const Verdict& v, bool inches) {
  return v.unit == Unit::kMm ? AsGiven(*v.required, inches)
                             : Quantity(*v.required, WordOf(v.unit), inches);
}

std::string Required(const Verdict& v, bool inches) {
  return v.required ? (v.at_most ? "at most " : "needs ") + RequiredNumber(v, inches) : "";
}

std::string FoundNumber(const Verdict& v, bool inches) {
  const double found = v.found.value_or(kUnset);
  if (v.unit == Unit::kTimes && std::isfinite(found)) {
    return TimesBorne(found) + " " + WordOf(v.unit);
  }
  if (v.unit != Unit::kMm || !v.required || !std::isfinite(found)) {
    return Quantity(found, WordOf(v.unit), inches, v.at_most ? Rounding::kUp : Rounding::kDown);
  }
  return v.at_most ? BenchRoom(found, *v.required, inches) : BenchGap(found, *v.required, inches);
}

std::string Found(const Verdict& v, bool inches) {
  return v.found ? "has " + FoundNumber(v, inches) : "";
}

int PiecesAtEachEnd(const HingeSet& set) {
  int count = 0;
  for (const HingePiece& piece : set.pieces) {
    if (piece.kind != PieceKind::kJig) count += piece.per_end;
  }
  // A stop's rod and a stay's chain or ribbon have lines of their own in the list.
  if (set.stop && set.stop->HasSleeve()) ++count;
  if (set.stay) ++count;
  return count;
}

bool IsGapOfArms(Requirement what) {
  return what >= Requirement::kArmToCase && what <= Requirement::kArmToPins;
}

std::string LeastGap(const Hinge& hinge, const Job& job) {
  return BenchGap(hinge.traits.least_gap_mm, job.swing.gap_mm, job.inches);
}

std::string RoomBehind(const Hinge& hinge, const Job& job) {
  return BenchRoom(hinge.traits.reach_behind_mm, job.room.behind_mm, job.inches);
}

std::string WhatLacks(const NoHinge& none, bool inches) {
  if (std::isnan(none.missed_by)) return none.failing;
  return none.failing + ", short by " + Quantity(none.missed_by, none.unit, inches);
}

std::string NearestText(const NoHinge& none, bool inches) {
  if (!none.linkage) return "no linkage in the zones opens that far and parts the rim at once";
  if (!none.nearest_miss) {
    return "a linkage clears, but not beside the others that were asked for";
  }
  const Verdict& v = *none.nearest_miss;
  std::string text = "the nearest linkage found misses: " + NameOf(v);
  if (v.required && v.found) text += ", " + Required(v, inches) + " and " + Found(v, inches);
  const std::string remark = RemarkOf(v, inches);
  return remark.empty() ? text : text + " (" + remark + ")";
}

const Verdict* LeastToSpare(const Verdicts& verdicts) {
  const Verdict* tightest = nullptr;
  const auto room = [](const Verdict& v) { return *v.found - *v.required; };
  for (const Verdict& v : verdicts) {
    if (v.unit != Unit::kMm || v.at_most || !v.found || !v.required || !v.nearest) continue;
    if (!tightest || room(v) < room(*tightest)) tightest = &v;
  }
  return tightest;
}

bool IsStraight(const Arm& arm) {
  return arm.centreline.size() == 2 && arm.centreline[0].bulge == 0.0;
}

}  // namespace lidwright
