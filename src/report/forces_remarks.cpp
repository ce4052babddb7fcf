// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/forces_remarks.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/cautions.h"
#include "words.h"

namespace lidwright {
namespace {

// Limits between pass and warn: common practice, no source.
constexpr double kSoft_m_s = 1.0;  // a rim that arrives faster hurts: a drop from 5 cm
constexpr double kLeans_rad =
    5.0 * kRadPerDeg;              // beyond the balance, not to come back by a draught
constexpr double kMuchMore = 1.1;  // [-] less is the same strength to buy
constexpr double kStretch_rad = 1.0 * kRadPerDeg;  // less is a place, not a stretch

std::string Deg(double rad) {
  return Fixed(rad * kDegPerRad, 0) + " deg";
}

// Forces, torques and speeds in the maker's units.
struct Say {
  bool inches = false;

  // What is needed or acts; and what is borne.
  std::string Force(double n) const { return ForceText(n, Bench::kRoom, inches); }
  std::string Borne(double n) const { return ForceText(n, Bench::kGap, inches); }
  std::string Torque(double nmm) const { return TorqueText(nmm, inches); }
  std::string Speed(double m_s) const { return SpeedText(m_s, inches); }
  std::string Mass(double kg) const { return MassText(kg, inches); }
  std::string Blow(double j) const { return EnergyText(j, inches); }
};

std::string Weight(const HingeForces& forces, const Job& job, const Say& say) {
  const MassProperties& lid = forces.feel.lid;
  const bool weighed = !std::isnan(job.loads.lid_mass_kg);
  std::string text = "The lid weighs " + say.Mass(lid.mass_kg) + " (";
  if (weighed) {
    text += "as weighed";
  } else {
    text += job.loads.wood + " at " + DensityText(job.loads.density_kg_m3, job.inches) +
            ", 12 % moisture";
    if (forces.hardware_kg > 0.0) {
      text += "; " + say.Mass(forces.hardware_kg) + " of it hardware";
    }
  }
  return text + "), its centre of mass " + BenchText(lid.centre.x(), Bench::kSize, job.inches) +
         " from the rear face and " + BenchText(lid.centre.y(), Bench::kSize, job.inches) +
         " over the rim.";
}

void AddLift(const Feel& feel, const Say& say, Remarks& remarks) {
  if (!std::isfinite(feel.largest_lift_n)) {
    return remarks.Judge(false,
                         "somewhere on the way friction locks the joints: no hand at the front "
                         "edge lifts it",
                         "grease the pins");
  }
  remarks.Judge(feel.largest_lift_n < kEasyLift_n,
                "to lift it takes at most " + say.Force(feel.largest_lift_n) + " at the front edge",
                "friction included; " + say.Force(kEasyLift_n) + " is easy");
}

void AddOverCentre(const Feel& feel, const Say& say, Remarks& remarks) {
  if (std::isnan(feel.balance_rad)) {
    return remarks.Judge(false, "open, it still wants to shut: its weight never passes over",
                         "with " + say.Torque(-feel.over_centre_nmm));
  }
  remarks.Judge(feel.over_centre_rad > kLeans_rad,
                "its weight passes over at " + Deg(feel.balance_rad) + "; open it leans " +
                    Deg(feel.over_centre_rad) + " beyond",
                "with " + say.Torque(feel.over_centre_nmm) + ": " + say.Force(feel.shut_push_n) +
                    " at the front edge, or the box tilted forward by " +
                    Deg(feel.over_centre_tilt_rad) + ", bring it back");
}

void AddStays(const Feel& feel, double friction, Remarks& remarks) {
  std::string stretches, places;
  for (const Feel::Stretch& s : feel.stays) {
    if (s.to_rad - s.from_rad < kStretch_rad) {
      places += (places.empty() ? "" : ", ") + Deg((s.from_rad + s.to_rad) / 2.0);
    } else {
      stretches += (stretches.empty() ? "" : ", ") + Deg(s.from_rad) + " to " + Deg(s.to_rad);
    }
  }
  const std::string by = "friction of " + Text(friction, 2);
  if (!stretches.empty()) return remarks.Judge(true, by + " keeps it from " + stretches);
  return remarks.Judge(false, places.empty() ? by + " keeps it nowhere by itself"
                                             : by + " balances it at " + places +
                                                   " at best, over less than a degree");
}

// What may be fitted instead of a pair of lid supports.
std::string OtherHolders(const Holdings& holdings, const Say& say) {
  std::string ways;
  if (!holdings.washers.empty()) {
    const FrictionWasher& w = holdings.washers.front();
    ways += "; a " + w.stock.name + " on the " + NameOf(w.joint) +
            " at each end does as well, squeezed with " + say.Force(w.clamp_n);
  }
  if (!holdings.springs.empty() && holdings.springs.front().left_nmm < holdings.support_nmm / 2.0) {
    const TorsionSpring& s = holdings.springs.front();
    ways += "; a torsion spring on the " + std::string(NameOf(s.joint)) + " at each end of " +
            say.Torque(s.shut_nmm) + " shut and " + say.Torque(s.open_nmm) + " open over " +
            Deg(std::abs(s.turn_rad)) + " leaves " + say.Torque(std::max(0.0, s.left_nmm)) +
            " of it to hold" + (s.pops_open ? " and needs a catch" : "");
  }
  return ways;
}

// One strength to buy, that of the risks; what every angle would take is the reason for it.
void AddHolding(const HingeForces& forces, const Say& say, Remarks& remarks) {
  const Holdings& holdings = forces.holdings;
  if (!std::isfinite(holdings.stay_nmm) || !holdings.needed) {
    return remarks.Judge(true, "it holds itself at every angle by its joints' friction");
  }
  const std::string nearer = holdings.stay_nmm > kMuchMore * holdings.support_nmm
                                 ? "; to hold it nearer to shut as well would take " +
                                       say.Torque(holdings.stay_nmm) +
                                       " in all, and make it hard to lift everywhere"
                                 : std::string();
  const std::string hand = "a hand is under it till there";
  if (!holdings.ToBuy()) {
    return remarks.Judge(
        true, "it holds itself by its joints' friction from " + Deg(kHandLeaves_rad) + " on",
        hand + nearer);
  }
  remarks.Judge(false,
                "let go it falls: a friction lid support of " +
                    say.Torque(holdings.support_nmm / 2.0) + " at each end holds it from " +
                    Deg(kHandLeaves_rad) + " on",
                hand + nearer + OtherHolders(holdings, say));
}

void AddFalls(const Feel& feel, const Say& say, Remarks& remarks) {
  const std::string soft = say.Speed(kSoft_m_s) + " is soft";
  remarks.Judge(feel.slam_m_s < kSoft_m_s,
                "let go at its highest its edge reaches the rim at " + say.Speed(feel.slam_m_s),
                say.Blow(feel.slam_j) + "; under " + soft);
  if (feel.thrown_j > 0.0) {
    remarks.Judge(feel.thrown_m_s < kSoft_m_s,
                  "falling open it reaches its stop at " + say.Speed(feel.thrown_m_s),
                  say.Blow(feel.thrown_j));
  }
}

std::string PinLoads(const HingeForces& forces, const Say& say) {
  const Feel& feel = forces.feel;
  std::string text =
      "A pin bears up to " + say.Force(feel.largest_pin_n) + " while the lid is held";
  if (!std::isnan(feel.leaning_pin_n)) {
    text += ", and the " + std::string(NameOf(feel.leaning_joint)) + " " +
            say.Force(feel.leaning_pin_n) + " if somebody leans on a corner of the open lid with " +
            say.Force(forces.load.lean_n);
  }
  if (!std::isnan(feel.stop_n)) {
    text +=
        "; each end's stop " + say.Force(feel.stop_n) + ", then " + say.Force(feel.leaning_stop_n);
  } else if (!forces.load.stop) {
    text += " (no stop was reckoned with)";
  }
  return text + ".";
}

std::string Bears(const Strength& s, const HingeForces& forces) {
  return s.part + (s.kind == LoadedPart::kArm ? " of " + forces.load.arm_material : "") + " " +
         s.how + " bears " + TimesBorne(s.Factor()) + " times the load (" + Text(s.wanted, 1) +
         " wanted)";
}

// The weakest part in use, and while somebody leans on the lid; there the weakest of each other
// kind of part too, if it is weak.
void AddStrengths(const HingeForces& forces, const Say& say, Remarks& remarks) {
  for (const bool leaning : {false, true}) {
    if (leaning && forces.stay_fitted) {
      remarks.Judge(true,
                    "somebody leaning on the open lid with " + say.Force(forces.load.lean_n) +
                        " is taken by the stay that you fit",
                    "half way up the lid and drawn square to it, it pulls about " +
                        say.Force(2.0 * forces.load.lean_n) +
                        ", all of it at one end if a corner is leaned on");
      continue;
    }
    const Strength* weakest = Weakest(forces, leaning);
    if (!weakest) continue;
    std::set<LoadedPart> told{weakest->kind};
    std::string others;
    for (const Strength& s : forces.strengths) {
      if (s.leaning != leaning || s.Factor() >= s.wanted || !told.insert(s.kind).second) continue;
      others += (others.empty() ? "" : ", ") + Bears(s, forces);
    }
    const double gives_n = forces.load.lean_n * weakest->Factor();
    const std::string more =
        leaning
            ? "the box held fast, it gives at about " + say.Borne(gives_n) +
                  (forces.load.stay ? ""
                                    : "; a stay from case to lid takes such a load off the hinge") +
                  (others.empty() ? std::string() : "; besides, " + others)
            : others;
    remarks.Judge(
        weakest->Factor() >= weakest->wanted,
        (leaning ? "somebody leaning on the open lid with " + say.Force(forces.load.lean_n) + ": "
                 : std::string("in use the weakest, ")) +
            Bears(*weakest, forces),
        more);
  }
}

void AddTips(const HingeForces& forces, const Say& say, Remarks& remarks) {
  const Tipping& tip = forces.tipping;
  if (tip.least_margin_nmm <= 0.0) {
    return remarks.Judge(false, "empty, the box tips over backwards at " + Deg(tip.at_rad));
  }
  remarks.Judge(
      true, "empty, the box stands at every angle",
      "least at " + Deg(tip.at_rad) + " with " + say.Torque(tip.least_margin_nmm) + " to spare");
  remarks.Judge(tip.pull_n > forces.load.lean_n,
                "open, the box tips over if its lid's edge is leaned on with more than " +
                    say.Borne(tip.pull_n),
                "empty; " + say.Borne(tip.pull_full_n) + " with " +
                    say.Mass(forces.load.contents_kg) + " in it; " + say.Force(forces.load.lean_n) +
                    " is reckoned with");
  for (const Stance& s : tip.cases) {
    if (s.backwards || s.leaning || s.Stands()) continue;
    remarks.Judge(false, std::string("it tips forwards ") + (s.full ? "full" : "empty") + " at " +
                             Deg(s.theta_rad));
    break;
  }
}

void Append(double from_rad, double to_rad, std::string& list) {
  list += (list.empty() ? "" : ", ") + Deg(from_rad) + " to " + Deg(to_rad);
}

// The standards' own sizes; those of the American rules for toys are in inches.
void AddFingers(const Feel& feel, const std::vector<double>& gap_mm, bool inches,
                Remarks& remarks) {
  if (gap_mm.size() != feel.theta_rad.size() || gap_mm.empty()) return;
  std::string traps, crush;
  double from = -1.0;  // where the gap has been under a finger's since
  for (const FingerStretch& s : FingerStretches(feel.theta_rad, gap_mm)) {
    if (s.gap == FingerGap::kTrap) Append(s.from_rad, s.to_rad, traps);
    if (s.gap == FingerGap::kFree) {
      if (from >= 0.0) Append(from, s.from_rad, crush);
      from = -1.0;
    } else if (from < 0.0) {
      from = s.from_rad;
    }
  }
  if (from >= 0.0) Append(from, feel.theta_rad.back(), crush);
  const std::string finger = inches ? "1 in (25 mm)" : "25 mm";
  if (crush.empty()) {
    return remarks.Judge(true, "lid and case keep " + finger + " apart: no finger is crushed");
  }
  remarks.Judge(
      false, "a finger can be crushed between lid and case at " + crush,
      "where they are nearest the gap is under ISO 13854's " + finger +
          (traps.empty() ? std::string()
                         : std::string("; between the ") +
                               (inches ? "3/16 and 1/2 in (5 and 12 mm)" : "5 and 12 mm") +
                               " of the toy rules at " + traps));
}

std::string NotCovered(const Job& job) {
  const CaseMeasures& form = job.case_form;
  const double room = (form.width_mm - 2.0 * form.end_wall_mm) *
                      (form.depth_mm - form.back_wall_mm - form.front_wall_mm) *
                      (form.height_mm - form.floor_mm);
  std::string text =
      "Not covered: your board (wood varies by half and more), glue lines, screws in end grain, "
      "wood that moves, shock. Chests that children can reach have rules of their own for lid "
      "supports";
  if (ChestRulesMayApply(room)) {
    text += ", and this box is large enough for them (" +
            std::string(job.inches ? "1.1 ft3" : "0.031 m3") + ")";
  }
  return text + ". Local codes and licensed practice come first.";
}

}  // namespace

Remarks ForcesRemarks(const HingeForces& forces, const Job& job,
                      const std::vector<double>& gap_mm) {
  const Feel& feel = forces.feel;
  const Say say{job.inches};
  Remarks remarks;
  remarks.head = {Weight(forces, job, say), PinLoads(forces, say), NotCovered(job)};
  AddLift(feel, say, remarks);
  AddOverCentre(feel, say, remarks);
  AddStays(feel, job.loads.friction, remarks);
  AddHolding(forces, say, remarks);
  AddFalls(feel, say, remarks);
  AddStrengths(forces, say, remarks);
  AddTips(forces, say, remarks);
  AddFingers(feel, gap_mm, job.inches, remarks);
  return remarks;
}

}  // namespace lidwright
