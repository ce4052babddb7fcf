// SPDX-License-Identifier: Apache-2.0
#include "job/check_form.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

// [1] Rise of an arc at most, in chords: beyond a quarter (106° of arc) walls and seams would run
// so steep that thickness measured level means nothing any more. Bows may go to a half circle.
constexpr double kMostRise = 0.25;
// [1] Of the depth, what may lie beside the rim's arc from back to front on either side.
constexpr double kMostBesideArch = 0.4;

class FormCheck {
 public:
  FormCheck(const Job& job, Findings* findings)
      : bay_{job.bay.width_mm, job.arms.thickness_mm},
        box_(job.case_form),
        lid_(job.lid),
        findings_(*findings) {}

  void Case() {
    Arc("case.back_bow", box_.back_bow_mm, 0.5, box_.width_mm, "half of case.width, a half circle");
    Arc("case.front_bow", box_.front_bow_mm, 0.5, box_.width_mm,
        "half of case.width, a half circle");
    Arc("case.rim_arch", box_.rim_arch_mm, kMostRise, box_.width_mm, "a quarter of case.width");
    Arc("case.rim_arch_side", box_.rim_arch_side_mm, kMostRise, box_.depth_mm,
        "a quarter of case.depth");
    const double high = box_.height_mm - box_.feet_mm;
    Arc("case.back_cup", box_.back_cup_mm, kMostRise, high, "a quarter of the wall's height");
    Arc("case.front_cup", box_.front_cup_mm, kMostRise, high, "a quarter of the wall's height");
    Arc("case.end_cup", box_.end_cup_mm, kMostRise, high, "a quarter of the wall's height");
    Arc("case.bottom_hollow", box_.bottom_hollow_mm, kMostRise,
        std::min(box_.depth_mm, box_.width_mm), "a quarter of the bottom");
    Rim();
    Bottom(high);
    Inside(high);
  }

  void Lid() {
    if (lid_.profile.empty() && (lid_.curve_back == "circular" || lid_.curve_front == "circular")) {
      Radius("lid.crown", lid_.crown_mm, box_.depth_mm, "depth");
    }
    if (lid_.profile_across.empty() && lid_.curve_across == "circular") {
      Radius("lid.crown", lid_.crown_mm - lid_.crown_at_ends_mm, box_.width_mm, "width");
    }
    Profiles();
    if (lid_.hollow_mm > lid_.rim_mm + lid_.crown_mm - kLeastTop_mm) {
      findings_.Complain("lid.hollow",
                         "must leave wood above it: at most lid.rim + lid.crown - 1 mm, " +
                             findings_.Shown(lid_.rim_mm + lid_.crown_mm - kLeastTop_mm));
    }
    if (lid_.lip_mm > 0.0) {
      Lip();
    } else if (lid_.lip_at_ends) {
      findings_.Complain("lid.lip_at_ends", "there is no lip that could run along the ends",
                         "give lid.lip, how far it reaches past the seam");
    }
  }

 private:
  static constexpr double kLeastTop_mm = 1.0;
  static constexpr double kLeastInside_mm = 5.0;

  void Arc(const std::string& place, double rise_mm, double share, double chord_mm,
           const std::string& limit) {
    if (!(std::abs(rise_mm) > share * chord_mm)) return;
    findings_.Complain(place, "no arc rises so far: must be at most " + limit + ", " +
                                  findings_.Shown(share * chord_mm) + ", either way");
  }

  void Radius(const std::string& place, double rise_mm, double chord_mm, const std::string& way) {
    if (!(rise_mm > chord_mm / 2.0)) return;
    findings_.Complain(
        place,
        "no circle rises so far over the " + way + ": must be at most half of it, " +
            findings_.Shown(chord_mm / 2.0),
        way == "depth" ? "or give lid.curve \"elliptical\"" : "or lid.curve_across \"elliptical\"");
  }

  void Rim() {
    const double sinks = -std::min(0.0, box_.rim_arch_mm) - std::min(0.0, box_.rim_arch_side_mm);
    const double most = box_.height_mm - box_.floor_mm - kLeastInside_mm;
    if (sinks > 0.0 && sinks > most) {
      findings_.Complain(box_.rim_arch_mm < 0.0 ? "case.rim_arch" : "case.rim_arch_side",
                         "the rim would sink by " + findings_.Shown(sinks) +
                             " in its middle, down to the floor: at most " + findings_.Shown(most) +
                             " in all");
    }
    if (box_.rim_arch_side_mm == 0.0) return;
    // The rim is straight over the walls as far as they reach at any width (see solid.h).
    const bool lip = lid_.lip_mm > 0.0 && lid_.lip_side == "inside";
    const auto reach = [&](double bow, double wall) {
      const double lid = lip ? wall + lid_.lip_play_mm + lid_.lip_wall_mm : 0.0;
      return std::max(0.0, -bow) + std::max({wall, lid, lid_.wall_mm}) + 1.0 +
             std::abs(box_.rim_arch_side_mm) / 2.0;
    };
    const double taken = std::max(reach(box_.back_bow_mm, box_.back_wall_mm),
                                  reach(box_.front_bow_mm, box_.front_wall_mm));
    if (taken > kMostBesideArch * box_.depth_mm) {
      findings_.Complain("case.rim_arch_side",
                         "has no room for its arc: walls, lips and hollow edges take " +
                             findings_.Shown(taken) + " on one side, at most " +
                             findings_.Shown(kMostBesideArch * box_.depth_mm) + " are good");
    }
  }

  void Bottom(double high) {
    const double thick = box_.floor_mm - box_.feet_mm;
    if (box_.feet_mm >= box_.height_mm || thick <= 0.0) {
      findings_.Complain("case.floor",
                         "is measured from the bench: must be more than case.feet, " +
                             findings_.Shown(box_.feet_mm),
                         "", findings_.Shown(box_.floor_mm) + " by default");
      return;
    }
    if (box_.bottom_hollow_mm >= thick) {
      findings_.Complain("case.bottom_hollow", "comes through the floor: must be less than " +
                                                   findings_.Shown(thick) +
                                                   ", case.floor less case.feet");
    }
    if (-box_.bottom_hollow_mm > box_.feet_mm) {
      findings_.Complain(
          "case.bottom_hollow",
          "the box would rock on its belly: it may hang down by at most case.feet, " +
              findings_.Shown(box_.feet_mm));
    }
    if (!(box_.feet_mm > 0.0)) return;
    const double bottom =
        box_.depth_mm - high * (std::tan(box_.back_flare_rad) + std::tan(box_.front_flare_rad));
    const double taken = 2.0 * (box_.feet_inset_mm + box_.feet_depth_mm);
    if (taken >= bottom) {
      findings_.Complain("case.feet_depth",
                         "two feet with their insets take " + findings_.Shown(taken) +
                             " and the bottom is " + findings_.Shown(bottom) + " deep",
                         "", findings_.Shown(box_.feet_depth_mm) + " by default");
    }
  }

  // Room left between walls that lean, cup and bow, at its narrowest: an upper estimate of what
  // they take together.
  void Inside(double high) {
    const auto taken = [](double bow, double flare, double cup, double height) {
      return std::max(0.0, -bow) + height * std::tan(flare) + std::max(0.0, cup);
    };
    const double inside = high - (box_.floor_mm - box_.feet_mm);
    const double depth = box_.depth_mm - box_.back_wall_mm - box_.front_wall_mm -
                         taken(box_.back_bow_mm, box_.back_flare_rad, box_.back_cup_mm, inside) -
                         taken(box_.front_bow_mm, box_.front_flare_rad, box_.front_cup_mm, inside);
    const double width = box_.width_mm - 2.0 * box_.end_wall_mm -
                         2.0 * taken(0.0, box_.end_flare_rad, box_.end_cup_mm, inside);
    const bool upright = box_.back_flare_rad == 0.0 && box_.front_flare_rad == 0.0 &&
                         box_.back_cup_mm <= 0.0 && box_.front_cup_mm <= 0.0 &&
                         box_.back_bow_mm >= 0.0 && box_.front_bow_mm >= 0.0;
    if (!upright && depth < kLeastInside_mm) {
      const double most = std::max({box_.back_flare_rad, box_.front_flare_rad});
      findings_.Complain(
          most > 0.0 ? (box_.back_flare_rad >= box_.front_flare_rad ? "case.back_flare_deg"
                                                                    : "case.front_flare_deg")
          : box_.back_cup_mm > 0.0 || box_.front_cup_mm > 0.0
              ? (box_.back_cup_mm >= box_.front_cup_mm ? "case.back_cup" : "case.front_cup")
              : (box_.back_bow_mm <= box_.front_bow_mm ? "case.back_bow" : "case.front_bow"),
          "back and front come together inside: " + Lacking(depth),
          "depth is taken at the rim, flare from the upright");
    }
    if ((box_.end_flare_rad > 0.0 || box_.end_cup_mm > 0.0) && width < kLeastInside_mm) {
      findings_.Complain(box_.end_flare_rad > 0.0 ? "case.end_flare_deg" : "case.end_cup",
                         "the ends come together inside: " + Lacking(width),
                         "width is taken at the rim, flare from the upright");
    }
  }

  std::string Lacking(double room) const {
    return findings_.Shown(std::max(0.0, room)) + " are left between them, at least " +
           findings_.Shown(kLeastInside_mm) + " are needed";
  }

  void Profiles() {
    if (!lid_.profile.empty()) {
      double highest = 0.0;
      for (std::size_t i = 0; i < lid_.profile.size(); ++i) {
        highest = std::max(highest, lid_.profile[i].y());
        if (lid_.profile[i].y() >= 0.0) continue;
        findings_.Complain("lid.profile[" + std::to_string(i) + "]",
                           "heights are taken above the band: must not be negative");
      }
      if (highest <= 0.0) findings_.Complain("lid.profile", "rises nowhere");
    }
    if (lid_.profile_across.empty()) return;
    const double from = lid_.profile_across.front().y(), to = lid_.profile_across.back().y();
    if (!(from > to)) {
      findings_.Complain("lid.profile_across",
                         "must begin at mid-width and come down towards the end");
      return;
    }
    for (std::size_t i = 0; i < lid_.profile_across.size(); ++i) {
      const double y = lid_.profile_across[i].y();
      if (y <= from && y >= to) continue;
      findings_.Complain("lid.profile_across[" + std::to_string(i) + "]",
                         "must lie between the heights at mid-width and at the end");
    }
  }

  void Lip() {
    const bool inside = lid_.lip_side == "inside";
    const double lowest = std::min(0.0, box_.rim_arch_mm);
    const double most = inside ? box_.height_mm - box_.floor_mm + lowest : box_.height_mm + lowest;
    if (lid_.lip_mm >= most) {
      findings_.Complain("lid.lip", "must be less than the case is high " +
                                        std::string(inside ? "inside, " : "outside, ") +
                                        findings_.Shown(most));
    }
    if (!inside) {
      const double bulge = std::max(-box_.back_cup_mm, -box_.front_cup_mm);
      if (bulge > 0.0) {
        findings_.Complain("lid.lip_side", "an outside lip cannot go over walls that bulge",
                           "give case.back_cup and case.front_cup of 0 or more, or an inside lip");
      }
      return;
    }
    const double half = (box_.depth_mm - box_.back_wall_mm - box_.front_wall_mm) / 2.0;
    if (lid_.lip_play_mm + lid_.lip_wall_mm >= half) {
      findings_.Complain("lid.lip_wall", "two lips and their play take the whole inner depth", "",
                         findings_.Shown(lid_.lip_wall_mm) + " by default");
    }
    if (lid_.lip_at_ends) LipInsideEnds();
  }

  // Lips inside the ends take their room from the bays. What leaning ends take as well is judged
  // with the form itself (FaultsOf).
  void LipInsideEnds() {
    const double half = box_.width_mm / 2.0 - box_.end_wall_mm;
    const double taken = lid_.lip_play_mm + lid_.lip_wall_mm;
    const double least = bay_.least_mm, left = half - taken;
    if (left <= least) {
      findings_.Complain("lid.lip_at_ends",
                         "the lips inside the ends leave no bays: they and their play take " +
                             findings_.Shown(taken) + " of the " + findings_.Shown(half) +
                             " on each side of mid-width, arms need " + findings_.Shown(least),
                         half > least ? "lid.lip_wall and lid.lip_play of less than " +
                                            findings_.Shown(half - least) + " together would fit"
                                      : "");
    } else if (bay_.width_mm >= left && bay_.width_mm < half) {
      findings_.Complain("bay.width",
                         "must be less than half of the width between the lips at the ends, " +
                             findings_.Shown(left),
                         "", findings_.Shown(bay_.width_mm) + " by default");
    }
  }

  struct Bay {
    double width_mm, least_mm;
  };
  const Bay bay_;
  const CaseMeasures& box_;
  const LidMeasures& lid_;
  Findings& findings_;
};

}  // namespace

void CheckForm(const Job& job, Findings* findings) {
  FormCheck check(job, findings);
  check.Case();
  check.Lid();
}

}  // namespace lidwright
