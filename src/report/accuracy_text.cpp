// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/accuracy_text.h"

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [–] Builds that may miss their gap before it is worth a warning.
constexpr double kFewBuilds = 0.05;
// [mm] Play of one pin in its bushing that the rattle is told for.
constexpr double kPlay_mm = 0.1;

std::string Small(double mm, bool inches) {
  return inches ? Fixed(mm / kMmPerInch, 3) + " in" : Fixed(mm, 2) + " mm";
}

std::string Percent(double share) {
  return share > 0.0 && share < 0.01 ? "less than 1 %" : Fixed(100.0 * share, 0) + " %";
}

}  // namespace

std::string AccuracyText(const Accuracy& a, const Job& job, double play_factor) {
  const bool inches = job.inches;
  const auto line = [](bool good, const std::string& text) {
    return std::string("  ") + (good ? "pass  " : "warn  ") + text + "\n";
  };
  std::string text = "With holes " + Small(a.drill_error_mm, inches) +
                     " off as a rule (standard deviation each way), of " +
                     std::to_string(a.builds) + " trial builds, plates fixed with the lid shut:\n";
  text += line(a.touching_share == 0.0, a.touching_share == 0.0
                                            ? "no lid touches the case"
                                            : Percent(a.touching_share) + " touch the case");
  text += line(a.short_share < kFewBuilds,
               Percent(a.short_share) +
                   " have less than the gap asked for; one in twenty has less than " +
                   Small(a.gap_5_percent_mm, inches));
  text +=
      line(a.error_it_stands_mm > 2.0 * a.drill_error_mm,
           "99 of 100 lids still clear with holes up to " + Small(a.error_it_stands_mm, inches) +
               " off as a rule; at the worst each mm off costs " + Fixed(a.worst_drop, 1) +
               " mm of gap");
  text += line(
      a.seam_5_percent_mm < 0.5,
      "if the plates were placed by measuring instead, one lid in twenty would shut more than " +
          Small(a.seam_5_percent_mm, inches) + " off its place: use the jig");
  text += line(play_factor * kPlay_mm < 0.5,
               "play of " + Small(kPlay_mm, inches) + " at the pins is up to " +
                   Small(play_factor * kPlay_mm, inches) + " at the lid's front edge");
  return text;
}

}  // namespace lidwright
