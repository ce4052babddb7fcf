// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/seasons.h"

#include <string>

#include "lidwright/job/wood_grain.h"

namespace lidwright {
namespace {

// Sections of the end walls carry their name (box_assembly.cpp); the wood of walls between them has
// its own height.
bool OfEndWall(const Part& part) {
  return part.name.find("end wall") != std::string::npos;
}

PartTree SwollenTree(const PartTree& tree, const SeasonStrain& strain, const Vec2& anchor) {
  std::vector<Part> parts = tree.parts();
  for (Part& part : parts) {
    const Vec2& by = OfEndWall(part) ? strain.ends : strain.between;
    for (Ring& ring : part.at_z_min) ring = Swollen(ring, by, anchor);
    for (Ring& ring : part.at_z_max) ring = Swollen(ring, by, anchor);
  }
  return PartTree(std::move(parts));
}

std::vector<PartTree> SwollenTrees(const Assembly& box, PartKind kind, const SeasonStrain& strain,
                                   const Vec2& anchor) {
  std::vector<PartTree> trees;
  for (const PartTree* tree : box.Shapes(kind)) trees.push_back(SwollenTree(*tree, strain, anchor));
  return trees;
}

std::vector<const PartTree*> AllOf(const std::vector<PartTree>& trees) {
  std::vector<const PartTree*> all;
  for (const PartTree& tree : trees) all.push_back(&tree);
  return all;
}

}  // namespace

std::optional<SeasonFit> FitAt(double percent, const Job& job, const Assembly& box,
                               const Limits& limits, const LidMotion& motion,
                               const SeasonAnchors& anchors) {
  if (!FindWoodGrain(job.loads.wood)) return std::nullopt;
  Boards boards;
  boards.wood = job.loads.wood;
  const SeasonStrain strain = StrainOf(boards, Seasons().built_percent, percent);
  const auto lids = SwollenTrees(box, PartKind::kLid, strain, anchors.lid_at);
  const auto cases = SwollenTrees(box, PartKind::kCase, strain, anchors.case_at);
  SeasonFit fit;
  fit.percent = percent;
  if (limits.gap_from_rad < limits.open_rad) {
    const Swing moving(motion, limits.gap_from_rad, limits.open_rad);
    const GapReport report = LeastGap(moving, PairsBetween(AllOf(lids), AllOf(cases)));
    fit.gap_mm = report.bound_mm.value_or(0.0);
  }
  const CaseMeasures& form = job.case_form;
  const auto opens = [&](double x) {
    return SeamOpens_mm({x, 0.0}, strain.ends, strain.ends, anchors);
  };
  fit.back_opens_mm = opens(0.0);
  fit.front_opens_mm = opens(form.depth_mm);
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
