// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/seasons.h"

#include <string>

#include "lidwright/geometry/circle_meeting.h"
#include "lidwright/job/wood_grain.h"

namespace lidwright {
namespace {

// What StrainOf asks of a wood: a line in the table of grains, or the plywood's name.
bool MovementKnown(const std::string& wood) {
  return wood == "birch plywood" || FindWoodGrain(wood) != nullptr;
}

// The linkage that a season leaves, and how far it holds the lid off its place at angle 0.
struct SeasonLinkage {
  LidMotion motion;
  Vec2 lid_shift_mm = Vec2::Zero();
};

// A plate keeps its two pivots where they are to each other, pins straight in an end wall move with
// it, and arms keep their lengths. Angle 0 is where both arms meet the lid turned as when shut: its
// pivot A lies at arm A's length from case_a and at arm B's from case_b − (lid_b − lid_a), on the
// side that it was made on. Nothing if the arms do not reach there.
std::optional<SeasonLinkage> LinkageIn(const Job& job, const LidMotion& motion, const Vec2& strain,
                                       const SeasonAnchors& anchors) {
  if (job.plates.on_case && job.plates.on_lid) return SeasonLinkage{motion, Vec2::Zero()};
  Pivots p = motion.pivots();
  const Vec2 arm_a = p.lid_a - p.case_a, arm_b = p.lid_b - p.case_b;
  const int side = Cross(arm_a, arm_b) > 0.0 ? 1 : -1;
  if (!job.plates.on_case) {
    for (Vec2* pin : {&p.case_a, &p.case_b}) *pin = Swollen(*pin, strain, anchors.case_at);
  }
  if (!job.plates.on_lid) {
    for (Vec2* pin : {&p.lid_a, &p.lid_b}) *pin = Swollen(*pin, strain, anchors.lid_at);
  }
  const Vec2 from = p.case_b - (p.lid_b - p.lid_a);
  const auto lid_a = CircleMeeting(p.case_a, motion.arm_a_mm(), from, motion.arm_b_mm(), side);
  if (!lid_a) return std::nullopt;
  const Vec2 shift = *lid_a - p.lid_a;
  p.lid_a += shift;
  p.lid_b += shift;
  const std::optional<LidMotion> moved = LidMotion::Make(p);
  if (!moved) return std::nullopt;
  return SeasonLinkage{*moved, shift};
}

PartTree SwollenTree(const PartTree& tree, const SeasonStrain& strain, const Vec2& anchor,
                     const Vec2& shift) {
  std::vector<Part> parts = tree.parts();
  for (Part& part : parts) {
    const Vec2& by = part.end_wall ? strain.ends : strain.between;
    for (std::vector<Ring>* rings : {&part.at_z_min, &part.at_z_max}) {
      for (Ring& ring : *rings) {
        for (Vec2& p : ring) p = Swollen(p, by, anchor) + shift;
      }
    }
  }
  return PartTree(std::move(parts));
}

std::vector<PartTree> SwollenTrees(const Assembly& box, PartKind kind, const SeasonStrain& strain,
                                   const Vec2& anchor, const Vec2& shift) {
  std::vector<PartTree> trees;
  for (const PartTree* tree : box.Shapes(kind)) {
    trees.push_back(SwollenTree(*tree, strain, anchor, shift));
  }
  return trees;
}

std::vector<const PartTree*> AllOf(const std::vector<PartTree>& trees) {
  std::vector<const PartTree*> all;
  for (const PartTree& tree : trees) all.push_back(&tree);
  return all;
}

// Certified, lid to case from gap_from on; 0 where the lid rubs or does not open all the way.
double GapOf(const SeasonLinkage& linkage, const SeasonStrain& strain, const Assembly& box,
             const Limits& limits, const SeasonAnchors& anchors) {
  if (!(linkage.motion.Range().high_rad > limits.open_rad)) return 0.0;
  const auto lids = SwollenTrees(box, PartKind::kLid, strain, anchors.lid_at, linkage.lid_shift_mm);
  const auto cases = SwollenTrees(box, PartKind::kCase, strain, anchors.case_at, Vec2::Zero());
  const Swing moving(linkage.motion, limits.gap_from_rad, limits.open_rad);
  const GapReport report = LeastGap(moving, PairsBetween(AllOf(lids), AllOf(cases)));
  return report.bound_mm.value_or(0.0);
}

}  // namespace

std::optional<SeasonFit> FitAt(double percent, const Job& job, const Assembly& box,
                               const Limits& limits, const LidMotion& motion,
                               const SeasonAnchors& anchors) {
  if (!MovementKnown(job.loads.wood)) return std::nullopt;
  Boards boards;
  boards.wood = job.loads.wood;
  const SeasonStrain strain = StrainOf(boards, Seasons().built_percent, percent);
  SeasonFit fit;
  fit.percent = percent;
  const bool asked = limits.gap_from_rad < limits.open_rad;
  const std::optional<SeasonLinkage> linkage = LinkageIn(job, motion, strain.ends, anchors);
  if (!linkage) {
    if (asked) fit.gap_mm = 0.0;
    return fit;
  }
  if (asked) fit.gap_mm = GapOf(*linkage, strain, box, limits, anchors);
  const auto opens = [&](double x) {
    return SeamOpens_mm({x, 0.0}, strain.ends, strain.ends, anchors) + linkage->lid_shift_mm.y();
  };
  fit.back_opens_mm = opens(0.0);
  fit.front_opens_mm = opens(job.case_form.depth_mm);
  return fit;
}

void AddSeasons(const Job& job, const Assembly& box, const Limits& limits, const LidMotion& motion,
                const SeasonAnchors& anchors, Accuracy& accuracy) {
  const Seasons seasons;
  const auto dry = FitAt(seasons.dry_percent, job, box, limits, motion, anchors);
  const auto damp = FitAt(seasons.damp_percent, job, box, limits, motion, anchors);
  if (dry) accuracy.dry = *dry;
  if (damp) accuracy.damp = *damp;
}

}  // namespace lidwright
