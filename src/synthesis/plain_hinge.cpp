// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/plain_hinge.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/parallel.h"

namespace lidwright {
namespace {

constexpr double kStep_mm = 4.0;
constexpr int kAngles = 14;
// [mm] Overlaps of the thinned search sections up to this are left to the certificate.
constexpr double kOverlap_mm = 0.5;
// [mm] A butt hinge's pin stands no farther than this behind the wood (common practice, no source).
constexpr double kButtPin_mm = 6.0;

PlainOutcome OutcomeOf(const LidTask& task, const Vec2& pivot) {
  for (const LidTask::Contact& contact : task.contacts) {
    if (contact.normal.dot(Perp(Vec2(contact.point - pivot))) <= 0.0) {
      return PlainOutcome::kRimDigsIn;
    }
  }
  PlainOutcome outcome = PlainOutcome::kWorks;
  for (int i = 0; i < kAngles; ++i) {
    const double theta = task.open_rad * (i + 1) / kAngles;
    const Pose X_CL = Pose::About(pivot, theta);
    for (const KeySection& section : task.sections) {
      for (const Vec2& p : section.lid_points) {
        if (section.case_edges.Within(X_CL * p, 0.0).distance < -kOverlap_mm) {
          return PlainOutcome::kCollides;
        }
      }
      for (const Vec2& p : section.case_points) {
        const Vec2 in_lid = X_CL.TurnBack(p - X_CL.origin);
        if (section.lid_edges.Within(in_lid, 0.0).distance < -kOverlap_mm) {
          return PlainOutcome::kCollides;
        }
      }
    }
    for (const Vec2& p : task.lid_hull) {
      const Vec2 w = X_CL * p;
      if (w.x() < task.behind_x_mm || w.y() > task.above_y_mm || w.y() < task.bench_y_mm) {
        outcome = PlainOutcome::kNoRoom;
      }
      if (i == kAngles - 1 && w.x() > task.access_x_mm && outcome == PlainOutcome::kWorks) {
        outcome = PlainOutcome::kNoAccess;
      }
    }
  }
  return outcome;
}

// The rim beside a plain hinge never gets the swing gap: it is enough that lid and case part at
// once and never come closer again than when shut.
bool Certified(const Job& job, const BoxParts& parts, const Solid& solid, const Vec2& pivot) {
  const LidMotion motion = LidMotion::MakePlain(pivot);
  const double open = job.swing.open_rad;
  const MotionBounds whole(motion, 0.0, open);
  if (!KeepsClosedGap(motion, whole, PairsBetween(parts.lid_slabs, parts.case_slabs),
                      job.swing.gap_mm)
           .kept) {
    return false;
  }
  for (const auto* others : {&parts.limits, &parts.bench, &parts.contents}) {
    const auto pairs = PairsBetween(parts.lid_slabs, *others);
    if (!pairs.empty() && !LeastGap(motion, whole, pairs).proven) return false;
  }
  const Access access = AccessAt(solid, motion.At(open));
  return access.foremost_x_mm <= job.room.open_behind_x_mm &&
         access.mouth_free >= job.room.mouth_free;
}

std::string Sentence(const PlainHinge& plain, bool inches) {
  if (plain.works) {
    const auto length = [&](double mm) { return LengthText_mm(mm, inches); };
    const std::string at =
        "at x " + length(plain.best.x()) + ", y " + length(plain.best.y()) + " from the rim's back";
    const double behind = -plain.best.x();
    if (behind <= kButtPin_mm) return "a plain hinge does, with its pin " + at;
    return "a plain hinge clears only with its pin " + length(behind) +
           " behind the ends of the back, " + at +
           ": on brackets that stand out, not let into the edge";
  }
  const auto count = [&](PlainOutcome outcome) {
    return std::count(plain.map.begin(), plain.map.end(), outcome);
  };
  const auto share = [&](PlainOutcome outcome) {
    return std::to_string(count(outcome) * 100 / static_cast<long>(plain.map.size())) + " %";
  };
  return "no plain hinge does: at " + share(PlainOutcome::kRimDigsIn) +
         " of the pins tried the rim digs in at once, at " + share(PlainOutcome::kCollides) +
         " lid and case collide, at " + share(PlainOutcome::kNoAccess) +
         " the open lid blocks the mouth, at " + share(PlainOutcome::kNoRoom) +
         " there is no room" +
         (count(PlainOutcome::kWorks) == 0
              ? ""
              : "; at " + share(PlainOutcome::kWorks) +
                    " it looks as if it would go, but none of the nearest could be proven");
}

}  // namespace

PlainHinge MapPlainHinges(const Job& job, const Solid& solid, const BoxParts& parts,
                          const LidTask& task, int threads) {
  PlainHinge plain;
  plain.step_mm = kStep_mm;
  // From well behind the box to its middle, from halfway down the back to the lid's top.
  const Vec2 low(solid.bounds.low.x() - 24.0, solid.bench_mm / 2.0);
  const Vec2 high((solid.mouth_back_mm + solid.mouth_front_mm) / 2.0, solid.bounds.high.y());
  plain.low = (low / kStep_mm).array().floor() * kStep_mm;
  plain.columns = static_cast<int>((high.x() - plain.low.x()) / kStep_mm) + 1;
  plain.rows = static_cast<int>((high.y() - plain.low.y()) / kStep_mm) + 1;
  plain.map.resize(static_cast<std::size_t>(plain.columns) * static_cast<std::size_t>(plain.rows));
  const auto pivot_at = [&](std::size_t i) -> Vec2 {
    const auto columns = static_cast<std::size_t>(plain.columns);
    return plain.low +
           kStep_mm * Vec2(static_cast<double>(i % columns), static_cast<double>(i / columns));
  };
  ParallelFor(plain.map.size(), threads,
              [&](std::size_t i) { plain.map[i] = OutcomeOf(task, pivot_at(i)); });
  // The working pins from the one nearest to the back's ends at rim height outwards.
  std::vector<std::pair<double, std::size_t>> order;
  for (std::size_t i = 0; i < plain.map.size(); ++i) {
    if (plain.map[i] == PlainOutcome::kWorks) order.push_back({pivot_at(i).norm(), i});
  }
  std::sort(order.begin(), order.end());
  for (std::size_t k = 0; k < std::min<std::size_t>(order.size(), 12) && !plain.works; ++k) {
    const Vec2 pivot = pivot_at(order[k].second);
    if (Certified(job, parts, solid, pivot)) {
      plain.works = true;
      plain.best = pivot;
    }
  }
  plain.why = Sentence(plain, job.inches);
  return plain;
}

}  // namespace lidwright
