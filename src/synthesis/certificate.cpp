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
  Verdict verdict{"opening angle",
                  false,
                  true,
                  job.swing.open_rad * kDegPerRad,
                  motion.Range().high_rad * kDegPerRad,
                  "deg",
                  kUnset,
                  {},
                  {},
                  {}};
  verdict.met = motion.Range().high_rad > job.swing.open_rad;
  verdict.found = std::min(verdict.found, verdict.required);
  if (!verdict.met) {
    verdict.remark = "the arms come parallel at " + Text(motion.Range().high_rad * kDegPerRad, 1) +
                     " deg and the lid turns back there";
  }
  return verdict;
}

Verdict FirstMotion(const Job& job, const BoxParts& parts, const LidMotion& motion) {
  Verdict verdict{"first motion", false, true, 0.0, kUnset, "mm/rad", 0.0, {}, {}, {}};
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

Verdict Gap(const std::string& what, double required, const LidMotion& motion,
            const MotionBounds& bounds, const std::vector<PartPair>& pairs) {
  Verdict verdict{what, true, true, required, kUnset, "mm", kUnset, {}, {}, {}};
  if (pairs.empty()) return verdict;
  const GapReport report = LeastGap(motion, bounds, pairs);
  verdict.found = report.bound_mm;
  verdict.proven = report.proven || report.nearest.gap_mm <= 0.0;
  verdict.met = report.proven && report.bound_mm >= required;
  verdict.nearest = report.nearest;
  Name(pairs, verdict);
  if (!report.proven) verdict.remark = report.nearest.gap_mm <= 0.0 ? "they meet" : "not proven";
  return verdict;
}

}  // namespace

bool AllMet(const Verdicts& verdicts) {
  return std::all_of(verdicts.begin(), verdicts.end(), [](const Verdict& v) { return v.met; });
}

Access AccessAt(const Job& job, const Solid& solid, const LidState& open) {
  double foremost = -1e300;
  for (const Station& station : solid.stations) {
    for (const Ring& ring : station.lid_rings) {
      for (const Vec2& p : ring) foremost = std::max(foremost, (open.X_CL * p).x());
    }
  }
  foremost += solid.blend_error_mm + solid.chord_error_mm;
  const double mouth = solid.mouth_front_mm - solid.mouth_back_mm;
  const double free = solid.mouth_front_mm - std::max(foremost, solid.mouth_back_mm);
  return {std::clamp(free / mouth, 0.0, 1.0), foremost - job.room.open_behind_x_mm};
}

Verdicts CertifyLid(const Job& job, const BoxParts& parts, const Solid& solid,
                    const LidMotion& motion) {
  Verdicts verdicts{Opening(job, motion)};
  if (!verdicts[0].met) return verdicts;
  const double open = job.swing.open_rad;
  verdicts.push_back(FirstMotion(job, parts, motion));
  const MotionBounds moving(motion, job.swing.gap_from_rad, open);
  verdicts.push_back(Gap("lid to case", job.swing.gap_mm, motion, moving,
                         PairsBetween(parts.lid_slabs, parts.case_slabs)));
  const MotionBounds whole(motion, 0.0, open);
  verdicts.push_back(Gap("lid to wall and ceiling", 0.0, motion, whole,
                         PairsBetween(parts.lid_slabs, parts.limits)));
  verdicts.push_back(Gap("lid to bench", job.swing.gap_mm, motion, whole,
                         PairsBetween(parts.lid_slabs, parts.bench)));
  if (!parts.contents.empty()) {
    verdicts.push_back(
        Gap("lid to contents", 0.0, motion, whole, PairsBetween(parts.lid_slabs, parts.contents)));
  }
  const Access access = AccessAt(job, solid, motion.At(open));
  verdicts.push_back({"open lid behind its line",
                      access.beyond_line_mm <= 0.0,
                      true,
                      0.0,
                      access.beyond_line_mm,
                      "mm",
                      open,
                      {},
                      {},
                      "forward of the line"});
  verdicts.push_back({"mouth left free",
                      access.mouth_free >= job.room.mouth_free,
                      true,
                      job.room.mouth_free,
                      access.mouth_free,
                      "share",
                      open,
                      {},
                      {},
                      {}});
  return verdicts;
}

}  // namespace lidwright
