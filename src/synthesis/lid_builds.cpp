// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_builds.h"

#include <algorithm>
#include <cmath>

#include "lid_walk.h"
#include "lidwright/base/low_discrepancy.h"

namespace lidwright {
namespace {

constexpr std::size_t kBuilds = 512;
constexpr std::uint64_t kErrorsSeed = 7;
// [σ] What has more to spare than this is never missed.
constexpr double kNever = 4.5;
// [mm/mm] Gaps follow the holes no faster than this where they matter.
constexpr double kSteepest = 6.0;

using Errors = std::array<double, 8>;

// Normal numbers, pairs by Box and Muller.
std::vector<Errors> ManyErrors() {
  const LowDiscrepancy<8> points(kErrorsSeed);
  std::vector<Errors> all(kBuilds);
  for (std::size_t i = 0; i < kBuilds; ++i) {
    const std::array<double, 8> unit = points.At(i);
    for (std::size_t k = 0; k < 8; k += 2) {
      const double size = std::sqrt(-2.0 * std::log(1.0 - unit[k]));
      all[i][k] = size * std::cos(2.0 * kPi * unit[k + 1]);
      all[i][k + 1] = size * std::sin(2.0 * kPi * unit[k + 1]);
    }
  }
  return all;
}

struct Row {
  double spare_mm;
  Eigen::Matrix<double, 8, 1> slope;
};

double ShareUnder(const std::vector<Row>& rows, double error_mm) {
  static const std::vector<Errors> kAll = ManyErrors();
  std::size_t missed = 0;
  for (const Errors& errors : kAll) {
    const Eigen::Map<const Eigen::Matrix<double, 8, 1>> e(errors.data());
    missed += std::any_of(rows.begin(), rows.end(), [&](const Row& row) {
      return row.spare_mm + error_mm * row.slope.dot(e) < 0.0;
    });
  }
  return static_cast<double>(missed) / kBuilds;
}

}  // namespace

BuildShares SharesThatMiss(const QuickJudge& judge, const PivotNumbers& x) {
  using lid_walk::Jet8;
  const LidSpace& space = judge.space();
  const double error = judge.use().drill_error_mm, far = kNever * kSteepest * error;
  std::array<Jet8, 8> jets;
  for (std::size_t k = 0; k < 8; ++k) jets[k] = Jet8(x[k], static_cast<int>(k));
  const double side = SideOf(x.data());
  std::vector<Row> gap, room;
  const auto add = [&](std::vector<Row>& rows, double spare, const auto& slope) {
    const Row row{spare, slope};
    if (spare < kNever * error * row.slope.norm()) rows.push_back(row);
  };
  for (const LidSpace::Slice& slice : space.close_slices()) {
    const Loop<Jet8> loop(jets.data(), slice.cosine, slice.sine, side);
    if (!loop.valid) return {1.0, 1.0};
    const Vec2 origin = lid_walk::ValueOf<Jet8>(loop.origin);
    for (Eigen::Index i = 0; i < 2; ++i) {
      const auto& slope = loop.origin[i].v;
      if (std::isfinite(slice.least[i])) add(room, origin[i] - slice.least[i], slope);
      if (std::isfinite(slice.most[i])) add(room, slice.most[i] - origin[i], -slope);
    }
    const double enough = slice.need_mm + far;
    const LidSpace::Look here = space.Gap(slice, origin, enough);
    if (here.gap >= enough) continue;
    add(gap, here.gap - slice.need_mm,
        Eigen::Matrix<double, 8, 1>(here.away.x() * loop.origin.x().v +
                                    here.away.y() * loop.origin.y().v));
  }
  return {ShareUnder(gap, error), ShareUnder(room, error)};
}

}  // namespace lidwright
