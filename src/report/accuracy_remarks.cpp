// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/accuracy_remarks.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/design/names.h"
#include "lidwright/job/wood_movement.h"

namespace lidwright {
namespace {

// [–] Builds that may miss their gap before it is worth a warning.
constexpr double kFewBuilds = 0.05;
// [mm] Play of one pin in its bushing that the rattle is told for, if none is known.
constexpr double kPlay_mm = 0.1;
// Limits between pass and warn: common practice, no source.
constexpr double kSlope = 2.0;
constexpr double kSeam_mm = 0.5;
constexpr double kRattle_mm = 1.0;

std::string Small(double mm, bool inches) {
  return BenchText(mm, Bench::kError, inches);
}

std::string Percent(double share) {
  return share > 0.0 && share < 0.01 ? "less than 1 %" : Fixed(100.0 * share, 0) + " %";
}

// [–] As many of the requirements that builds miss are named; the rest stands in hinge.json.
constexpr std::size_t kNamed = 3;

std::string MissedMost(const std::vector<MissedShare>& missed) {
  std::string text;
  for (std::size_t i = 0; i < std::min(kNamed, missed.size()); ++i) {
    text += (i == 0 ? "" : ", ") + NameOf(missed[i].what, missed[i].of) + " " +
            Percent(missed[i].share);
  }
  return text;
}

// The wood's movement over a year, lid and case of the job's wood as boards of the usual box.
void AddSeasonsTo(Remarks& remarks, const Accuracy& a, const Job& job) {
  if (std::isnan(a.dry.percent) || std::isnan(a.damp.percent) || std::isnan(a.dry.gap_mm)) return;
  const auto seam = [&](const SeasonFit& fit) {
    const double most = std::abs(fit.front_opens_mm) > std::abs(fit.back_opens_mm)
                            ? fit.front_opens_mm
                            : fit.back_opens_mm;
    if (std::isnan(most)) return std::string("is not reached");
    return std::string(most < 0.0 ? "bears by " : "opens by ") + Small(std::abs(most), job.inches);
  };
  const double least = std::min(a.dry.gap_mm, a.damp.gap_mm);
  remarks.Judge(
      least > 0.0,
      "in dry wood (" + Fixed(a.dry.percent, 0) + " % moisture) and in damp (" +
          Fixed(a.damp.percent, 0) + " %) " +
          (least > 0.0
               ? "the swinging lid clears the case by " + Small(least, job.inches) +
                     " or more, from " + Text(job.swing.gap_from_rad * kDegPerRad, 1) + " deg on"
               : std::string("the swinging lid rubs or does not open all the way")),
      "built at " + Fixed(Seasons().built_percent, 0) + " %, the shut lid's seam " + seam(a.dry) +
          " when dry and " + seam(a.damp) + " when damp");
}

// What the trial builds miss. A build that does not open is told as that alone.
void AddTrials(Remarks& remarks, const Accuracy& a, bool inches) {
  const bool all_open = !(a.unopened_share > 0.0);
  if (!all_open) {
    remarks.Judge(false, Percent(a.unopened_share) + " cannot be opened all the way",
                  "their arms come into line before that; all else is told of those that open");
  }
  remarks.Judge(a.touching_share == 0.0,
                a.touching_share == 0.0
                    ? (all_open ? "no lid touches the case" : "no other lid touches the case")
                    : Percent(a.touching_share) + " touch the case");
  remarks.Judge(a.short_share < kFewBuilds,
                Percent(a.short_share) + " have less than the gap asked for",
                "one in twenty has less than " + Small(a.gap_5_percent_mm, inches));
  const bool few = a.missed_share < kFewBuilds;
  if (!(a.missed_share > 0.0)) {
    remarks.Judge(few, "none misses anything that is asked of lid, arms and parts");
    return;
  }
  remarks.Judge(few, Percent(a.missed_share) + " keep less than is asked of lid, arms or parts" +
                         (a.missed.empty() ? "" : ", most often: " + MissedMost(a.missed)));
}

// How far off holes may be, and which of them counts most.
void AddHoles(Remarks& remarks, const Accuracy& a, bool inches) {
  remarks.Judge(a.error_it_stands_mm > 2.0 * a.drill_error_mm,
                "99 of 100 lids still clear and open all the way with holes up to " +
                    Small(a.error_it_stands_mm, inches) + " off as a rule; at the worst each " +
                    (inches ? "thousandth off costs " : "mm off costs ") + Fixed(a.worst_drop, 1) +
                    (inches ? " thousandths of gap" : " mm of gap"));
  const ErrorEffect* worst = nullptr;
  for (const ErrorEffect& e : a.effects) {
    if (e.turns) continue;
    if (!worst || std::abs(e.gap_in_place) > std::abs(worst->gap_in_place)) worst = &e;
  }
  if (worst) {
    remarks.Judge(std::abs(worst->gap_in_place) < kSlope,
                  "most sensitive: " + worst->what + "; the tightest gap changes by " +
                      Fixed(std::abs(worst->gap_in_place), 2) +
                      " of its error, the open lid's front edge by " +
                      Fixed(worst->front_in_place.norm(), 2));
  }
}

// How the shut lid comes to its place, fixed as advised or otherwise.
void AddShutting(Remarks& remarks, const Accuracy& a, bool inches, bool plates) {
  remarks.Say(
      (plates ? std::string("fix the last plate with the lid shut and the arms on their pins")
              : std::string("before the floor goes in, mark the lid's holes with the lid shut, "
                            "through the eyes of the arms on the case's pins")) +
      ": the lid then shuts true, whatever the holes' errors");
  const auto off_by = [&](double seam_mm, double stuck_share) {
    if (std::isnan(seam_mm)) return Percent(stuck_share) + " of lids cannot be shut";
    return "one lid in twenty shuts more than " + Small(seam_mm, inches) + " off its place" +
           (stuck_share > 0.0 ? " and " + Percent(stuck_share) + " cannot be shut" : "");
  };
  const std::string off = ", " + off_by(a.seam_jig_mm, a.stuck_jig_share);
  if (plates) {
    remarks.Judge(a.seam_jig_mm < kSeam_mm, "with all plates fixed by the jig alone" + off,
                  "placed by measuring to " + Small(a.place_error_mm, inches) + ", " +
                      off_by(a.seam_measured_mm, a.stuck_measured_share) +
                      ", and one in twenty has less gap than " + Small(a.gap_measured_mm, inches));
  } else {
    remarks.Judge(a.seam_jig_mm < kSeam_mm, "with all holes drilled through the jig" + off);
  }
}

void AddRattle(Remarks& remarks, const Accuracy& a, bool inches, double play_factor) {
  const double play = std::isnan(a.rattle_mm) ? kPlay_mm : a.play_mm;
  const double rattle = std::isnan(a.rattle_mm) ? 2.0 * play_factor * kPlay_mm : a.rattle_mm;
  remarks.Judge(
      rattle < kRattle_mm,
      "play of " + Small(play, inches) + " in every bushing lets the lid's front edge " +
          "rattle by up to " + Small(rattle, inches) + " in all" +
          (std::isnan(a.rattle_rad) ? std::string()
                                    : ", most at " + Fixed(a.rattle_rad * kDegPerRad, 0) + " deg"));
}

}  // namespace

Remarks AccuracyRemarks(const Accuracy& a, const Job& job, double play_factor) {
  const bool inches = job.inches, plates = job.plates.on_case || job.plates.on_lid;
  Remarks remarks;
  remarks.head.push_back(
      "With holes " + Small(a.drill_error_mm, inches) +
      " off as a rule (standard deviation each way), of " + std::to_string(a.builds) +
      " trial builds, " +
      (plates ? "plates fixed with the lid shut and the arms on their pins:"
              : "the lid's holes marked with the lid shut through the arms on their pins:"));
  AddTrials(remarks, a, inches);
  AddHoles(remarks, a, inches);
  AddShutting(remarks, a, inches, plates);
  AddSeasonsTo(remarks, a, job);
  AddRattle(remarks, a, inches, play_factor);
  return remarks;
}

}  // namespace lidwright
