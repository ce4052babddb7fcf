// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/certificate.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

void Name(const std::vector<PartPair>& pairs, Verdict& verdict) {
  const PartPair& pair = pairs[verdict.nearest.pair];
  verdict.parts = pair.first->part().name + " / " + pair.second->part().name;
  verdict.angle_rad = verdict.nearest.theta_rad;
}

Verdict Opening(const Job& job, const LidMotion& motion) {
  Verdict verdict;
  verdict.what = "opening angle";
  verdict.proven = true;
  verdict.required = job.swing.open_rad * kDegPerRad;
  verdict.found = motion.Range().high_rad * kDegPerRad;
  verdict.unit = "deg";
  verdict.met = motion.Range().high_rad > job.swing.open_rad;
  verdict.found = std::min(verdict.found, verdict.required);
  if (!verdict.met) {
    verdict.remark = "the arms come parallel at " + Text(motion.Range().high_rad * kDegPerRad, 1) +
                     " deg and the lid turns back there";
  }
  return verdict;
}

Verdict FirstMotion(const Job& job, const BoxParts& parts, const LidMotion& motion) {
  Verdict verdict;
  verdict.what = "first motion";
  verdict.required = 0.0;
  verdict.unit = "mm/rad";
  verdict.angle_rad = 0.0;
  const auto pairs = PairsBetween(parts.lid_slabs, parts.case_slabs);
  const MotionBounds bounds(motion, 0.0, job.swing.gap_from_rad);
  const KeepReport keep = KeepsClosedGap(motion, bounds, pairs, job.swing.gap_mm);
  verdict.met = keep.kept;
  verdict.proven = keep.kept || keep.separation_mm <= 0.0 || keep.worst.gap_mm < 1e299;
  verdict.found = keep.separation_mm;
  if (keep.kept) return verdict;
  verdict.nearest = keep.worst;
  if (keep.worst.gap_mm < 1e299) Name(pairs, verdict);
  if (keep.separation_mm <= 0.0) {
    verdict.nearest.on_first = verdict.nearest.on_second = keep.slowest_contact;
    verdict.remark = "the rim does not part at (" + Text(keep.slowest_contact.x(), 1) + ", " +
                     Text(keep.slowest_contact.y(), 1) +
                     "): the lid's instant centre lies on the wrong side of it";
  } else {
    verdict.remark = "the lid comes closer than when shut before " +
                     Text(job.swing.gap_from_rad * kDegPerRad, 1) + " deg";
  }
  return verdict;
}

}  // namespace

Verdict GapVerdict(const std::string& what, double required_mm, const LidMotion& motion,
                   const MotionBounds& bounds, const std::vector<PartPair>& pairs) {
  const GapReport report = LeastGap(motion, bounds, pairs);
  const bool meet = report.nearest.gap_mm <= kGapTolerance_mm;
  Verdict verdict;
  verdict.what = what;
  verdict.required = required_mm;
  verdict.found = report.bound_mm;
  verdict.proven = report.proven || meet;
  verdict.met = report.proven && report.bound_mm >= required_mm;
  verdict.nearest = report.nearest;
  Name(pairs, verdict);
  if (!report.proven) verdict.remark = meet ? "they meet" : "not proven";
  return verdict;
}

bool AllMet(const Verdicts& verdicts) {
  return std::all_of(verdicts.begin(), verdicts.end(), [](const Verdict& v) { return v.met; });
}

Access AccessAt(const Solid& solid, const LidState& open) {
  double foremost = -1e300;
  for (const Station& station : solid.stations) {
    for (const Ring& ring : station.lid_rings) {
      for (const Vec2& p : ring) foremost = std::max(foremost, (open.X_CL * p).x());
    }
  }
  foremost += solid.blend_error_mm + solid.chord_error_mm;
  const double mouth = solid.mouth_front_mm - solid.mouth_back_mm;
  const double free = solid.mouth_front_mm - std::max(foremost, solid.mouth_back_mm);
  return {std::clamp(free / mouth, 0.0, 1.0), foremost};
}

Verdicts CertifyLid(const Job& job, const BoxParts& parts, const Solid& solid,
                    const LidMotion& motion) {
  Verdicts verdicts{Opening(job, motion)};
  if (!verdicts[0].met) return verdicts;
  const double open = job.swing.open_rad;
  verdicts.push_back(FirstMotion(job, parts, motion));
  const MotionBounds moving(motion, job.swing.gap_from_rad, open);
  const auto gap = [&](const std::string& what, double required_mm, const MotionBounds& bounds,
                       const std::vector<ShapedPart>& others) {
    const auto pairs = PairsBetween(parts.lid_slabs, others);
    if (!pairs.empty()) verdicts.push_back(GapVerdict(what, required_mm, motion, bounds, pairs));
  };
  gap("lid to case", job.swing.gap_mm, moving, parts.case_slabs);
  const MotionBounds whole(motion, 0.0, open);
  gap("lid to wall and ceiling", 0.0, whole, parts.limits);
  gap("lid to bench", job.swing.gap_mm, whole, parts.bench);
  gap("lid to contents", 0.0, whole, parts.contents);
  for (const PoseWish& pose : job.poses) {
    Verdict verdict;
    verdict.what = "pose at " + Text(pose.angle_rad * kDegPerRad, 1) + " deg";
    verdict.required = pose.within_mm;
    verdict.found = (motion.At(pose.angle_rad).X_CL * pose.point - pose.at).norm();
    verdict.at_most = verdict.proven = true;
    verdict.met = verdict.found <= verdict.required;
    verdict.angle_rad = pose.angle_rad;
    verdicts.push_back(verdict);
  }
  const Access access = AccessAt(solid, motion.At(open));
  Verdict line;
  line.what = "open lid's foremost x";
  line.required = job.room.open_behind_x_mm;
  line.found = access.foremost_x_mm;
  line.at_most = line.proven = true;
  line.met = line.found <= line.required;
  line.angle_rad = open;
  verdicts.push_back(line);
  Verdict mouth;
  mouth.what = "mouth left free";
  mouth.required = job.room.mouth_free;
  mouth.found = access.mouth_free;
  mouth.unit = "share";
  mouth.proven = true;
  mouth.met = mouth.found >= mouth.required;
  mouth.angle_rad = open;
  verdicts.push_back(mouth);
  return verdicts;
}

}  // namespace lidwright
