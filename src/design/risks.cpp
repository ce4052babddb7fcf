// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/risks.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [J] The blow of a bag of sugar from 10 cm, and of all that can hold a small neck down (a
// judgement, no source).
constexpr double kHardBlow_j = 1.0;
constexpr double kHardFall_m_s = 1.0;  // a rim that arrives faster hurts: a drop from 5 cm
constexpr double kManyMiss = 0.1;      // share of trial builds
constexpr double kManyFail = 0.02;     // the same, that rub or do not open

std::string Degrees(double rad) {
  return Fixed(rad * kDegPerRad, 0) + "\xC2\xB0";
}

void AddBuilds(const Hinge& hinge, bool inches, std::vector<Risk>& risks) {
  if (!ManyBuildsFail(hinge)) return;
  const Accuracy& a = *hinge.accuracy;
  const auto of_100 = [](double share) { return std::round(100.0 * share); };
  const bool rub = of_100(a.touching_share) > 0.0, stick = of_100(a.unopened_share) > 0.0;
  risks.push_back({RiskLevel::kCare,
                   "Drilled with holes " + BenchText(a.drill_error_mm, Bench::kError, inches) +
                       " off, about " + Fixed(of_100(a.FailingShare()), 0) + " of 100 lids " +
                       (rub && stick ? "rub or do not open all the way."
                        : rub        ? "rub on the case."
                                     : "do not open all the way."),
                   "With holes " + BenchText(a.error_it_stands_mm, Bench::kError, inches) +
                       " off it is 1 of 100. Try it in scrap first; measure that, and run "
                       "'lidwright check' on it."});
}

void AddBreaking(const HingeForces& forces, bool inches, std::vector<Risk>& risks) {
  const Strength* use = Weakest(forces, false);
  if (use && use->Factor() < use->wanted) {
    risks.push_back({RiskLevel::kDanger,
                     "In plain use the " + use->part + " is too weak: it bears " +
                         TimesBorne(use->Factor()) + " times its load, " + Text(use->wanted, 1) +
                         " are wanted.",
                     "Make it of stronger or thicker sheet: change the job and run it again."});
  }
  const Strength* lean = WeakestAsked(forces, true);
  if (lean && lean->Factor() < lean->wanted) {
    const double gives_n = forces.load.lean_n * lean->Factor();
    risks.push_back({lean->Factor() < 1.0 ? RiskLevel::kDanger : RiskLevel::kCare,
                     "Do not lean on the open lid: the " + lean->part + " gives at about " +
                         HeftText(gives_n, Bench::kGap, inches) + " on its edge.",
                     forces.load.stay
                         ? "Its stays bear no more: keep hands and arms off the open lid."
                         : "Fit a stay from case to lid at each end, a chain or a cord: "
                           "it takes the load off the hinge."});
  }
}

// What leans on the edge of the open lid when the weakest part gives, the box held fast; nothing
// where no part is judged.
std::string GivesAt(const HingeForces& forces, bool inches) {
  const Strength* lean = WeakestAsked(forces, true);
  if (!lean || !std::isfinite(lean->Factor())) return "";
  return HeftText(forces.load.lean_n * lean->Factor(), Bench::kGap, inches);
}

bool Tips(const HingeForces& forces) {
  return forces.tipping.least_margin_nmm <= 0.0 || forces.tipping.pull_n <= forces.load.lean_n;
}

// Where all holds that was asked for: how much that is.
void AddLimit(const HingeForces& forces, bool inches, std::vector<Risk>& risks) {
  const Strength* lean = WeakestAsked(forces, true);
  const std::string gives = GivesAt(forces, inches);
  if (gives.empty() || lean->Factor() < lean->wanted || Tips(forces)) return;
  risks.push_back(
      {RiskLevel::kCare,
       "Do not lean hard on the open lid: the hinge gives at about " + gives + " on its edge.",
       "It bears a hand. Keep arms and loads off it, and tell who uses it."});
}

void AddTipping(const HingeForces& forces, bool inches, std::vector<Risk>& risks) {
  const Tipping& tip = forces.tipping;
  const std::string gives = GivesAt(forces, inches);
  const std::string remedy =
      "Fix the box to what it stands on, or load its bottom first." +
      (gives.empty() ? gives : " Fixed, its hinge still gives at about " + gives + ".");
  if (tip.least_margin_nmm <= 0.0) {
    risks.push_back(
        {RiskLevel::kDanger,
         "Empty, the box tips over backwards when the lid comes to " + Degrees(tip.at_rad) + ".",
         remedy});
  } else if (tip.pull_n <= forces.load.lean_n) {
    risks.push_back({RiskLevel::kCare,
                     "Do not lean on the open lid: more than " +
                         HeftText(tip.pull_n, Bench::kGap, inches) +
                         " on its edge tips the empty box over.",
                     remedy});
  }
}

void AddFalling(const HingeForces& forces, const std::string& onto, bool inches,
                std::vector<Risk>& risks) {
  const double fast_m_s = std::max(forces.feel.slam_m_s, forces.feel.thrown_m_s);
  if (!(fast_m_s >= kHardFall_m_s)) return;
  std::string remedy = "Never let go of it half-way; prop it while hands are in the box.";
  if (forces.holdings.ToBuy()) {
    remedy = "Fit a friction lid support (" +
             TorqueText(forces.holdings.support_nmm / 2.0, inches) +
             ") at each end: it holds from " + Degrees(kHandLeaves_rad) +
             " on. Until they are fitted, prop the lid.";
  }
  const std::optional<double> open_rad = FallsOpenFrom_rad(forces.feel);
  const bool shuts = forces.feel.slam_m_s >= kHardFall_m_s;
  const bool opens = open_rad && forces.feel.thrown_m_s >= kHardFall_m_s;
  const std::string falls =
      std::string(shuts ? " shut" : "") + (shuts && opens ? ", and" : "") +
      (opens ? " past " + Degrees(*open_rad) + " open " + onto : std::string()) + ".";
  const bool heavy = std::max(forces.feel.slam_j, forces.feel.thrown_j) >= kHardBlow_j;
  risks.push_back(
      heavy ? Risk{RiskLevel::kDanger, "Never let go of the lid: it falls hard" + falls,
                   "Falling lids have killed children. " + remedy}
            : Risk{RiskLevel::kCare,
                   "Do not let go of the lid: it falls fast" + falls + " That hurts fingers.",
                   remedy});
}

}  // namespace

const char* NameOf(RiskLevel level) {
  switch (level) {
    case RiskLevel::kDanger:
      return "danger";
    case RiskLevel::kCare:
      return "care";
    case RiskLevel::kWaste:
      break;
  }
  return "waste";
}

std::string OntoWhat(const Hinge& hinge) {
  if (hinge.parts && hinge.parts->pad) return "onto its pads";
  const bool stop = !hinge.parts || hinge.parts->stop;
  return !stop && hinge.parts->stay ? "until its stays are taut" : "onto its stop";
}

bool ManyBuildsFail(const Hinge& hinge) {
  return hinge.accuracy && hinge.accuracy->FailingShare() > kManyFail;
}

std::optional<double> FallsOpenFrom_rad(const Feel& feel) {
  if (std::isnan(feel.balance_rad) || !(feel.over_centre_rad > 0.0)) return std::nullopt;
  return feel.balance_rad;
}

std::vector<Risk> RisksOf(const Design& design, const Hinge& hinge) {
  const bool inches = design.job.inches;
  std::vector<Risk> risks;
  if (!Does(hinge)) {
    risks.push_back({RiskLevel::kDanger, "This hinge does not meet all that was asked of it.",
                     "Read what it misses in report.html before anything is cut."});
  }
  AddBuilds(hinge, inches, risks);
  if (hinge.forces) {
    AddBreaking(*hinge.forces, inches, risks);
    AddFalling(*hinge.forces, OntoWhat(hinge), inches, risks);
    AddTipping(*hinge.forces, inches, risks);
    AddLimit(*hinge.forces, inches, risks);
  }
  risks.push_back(
      {RiskLevel::kCare,
       "Keep fingers off the rim and out of the ends: lid, arms and case can crush them.",
       "Move the lid by its front edge, and mind the other hand."});
  if (hinge.parts && hinge.parts->stay && hinge.parts->stay->fixing.bolted) {
    risks.push_back({RiskLevel::kWaste,
                     "The stays' bolts go right through case and lid and show outside.",
                     "Drill them with scrap clamped behind, and end them in cap nuts."});
  }
  if (hinge.accuracy && !ManyBuildsFail(hinge) && hinge.accuracy->missed_share > kManyMiss) {
    risks.push_back({RiskLevel::kWaste,
                     "Drilled with an error of " +
                         BenchText(hinge.accuracy->drill_error_mm, Bench::kError, inches) + ", " +
                         Fixed(100.0 * hinge.accuracy->missed_share, 0) +
                         " of 100 hinges keep less than was asked somewhere.",
                     "Try the first in scrap; measure it, and run 'lidwright check' on it."});
  }
  std::stable_sort(risks.begin(), risks.end(), [](const Risk& a, const Risk& b) {
    return static_cast<int>(a.level) < static_cast<int>(b.level);
  });
  if (risks.size() > kMostRisks) risks.resize(kMostRisks);
  return risks;
}

}  // namespace lidwright
