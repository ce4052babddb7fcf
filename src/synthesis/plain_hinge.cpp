// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/plain_hinge.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/parallel.h"

namespace lidwright {
namespace {

constexpr double kStep_mm = 4.0;
constexpr int kAngles = 14;
// [mm] Overlaps of the thinned search sections up to this are left to the certificate.
constexpr double kOverlap_mm = 0.5;

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
bool Certified(const Assembly& box, Limits limits, const Vec2& pivot) {
  limits.gap_from_rad = limits.open_rad;
  limits.bench_gap_mm = 0.0;
  CertifyOptions options;
  options.all = false;
  return AllMet(CertifyLid(box, LidMotion::MakePlain(pivot), limits, options));
}

}  // namespace

PlainHinge MapPlainHinges(const Solid& solid, const Assembly& box, const Limits& limits,
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
    if (Certified(box, limits, pivot)) {
      plain.works = true;
      plain.best = pivot;
    }
  }
  return plain;
}

}  // namespace lidwright
