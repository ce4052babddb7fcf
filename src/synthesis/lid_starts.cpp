// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_starts.h"

#include <algorithm>
#include <cmath>

#include "lidwright/synthesis/quick_judge.h"

namespace lidwright {
namespace {

// [mm] Open places are this far apart, and within this of being allowed.
constexpr double kPlaceStep_mm = 3.0;
constexpr double kSlack_mm = 0.5;
// [–] No wall behind: the open lid is looked for within so many of its own heights behind the box.
constexpr double kFarBehind = 3.0;
// [–] Places that take little room are drawn more often: the share u of the sorted list is read at
// u to this power.
constexpr double kNearFirst = 1.5;

}  // namespace

LidStarts::LidStarts(const LidTask& task, const LidSpace& space) : task_(task), points_(task.seed) {
  const PivotWish& wish = task.pinned;
  pinned_ = wish.case_a || wish.case_b || wish.lid_a || wish.lid_b;
  const std::size_t open = space.slices().size() - 1;
  const LidSpace::Slice& slice = space.slices()[open];
  // Where nothing bounds the open lid, it is looked for around the box.
  const Vec2 size = slice.high - slice.low;
  Vec2 low = slice.least, high = slice.most;
  if (!std::isfinite(low.x())) low.x() = -kFarBehind * size.x() - slice.low.x();
  if (!std::isfinite(low.y())) low.y() = -size.y() - slice.low.y();
  if (!std::isfinite(high.y())) high.y() = size.y() - slice.low.y();
  for (double y = low.y(); y <= high.y(); y += kPlaceStep_mm) {
    for (double x = low.x(); x <= high.x(); x += kPlaceStep_mm) {
      const Vec2 place(x, y);
      if (space.At(open, place).gap >= slice.need_mm - kSlack_mm) open_.push_back(place);
    }
  }
  std::stable_sort(open_.begin(), open_.end(),
                   [](const Vec2& p, const Vec2& q) { return p.x() > q.x(); });
}

PivotNumbers LidStarts::Anywhere(const std::array<double, 8>& unit) const {
  PivotNumbers x;
  const NumberBounds bounds = BoundsOf(task_);
  for (std::size_t i = 0; i < 8; ++i) {
    x[i] = bounds.low[i] + unit[i] * (bounds.high[i] - bounds.low[i]);
  }
  return x;
}

std::optional<PivotNumbers> LidStarts::At(std::uint64_t number) const {
  const std::array<double, 8> unit = points_.At(number);
  if (pinned_) return Anywhere(unit);
  if (open_.empty()) return std::nullopt;
  const double share = std::pow(unit[7], kNearFirst);
  const auto index = static_cast<std::size_t>(share * static_cast<double>(open_.size()));
  const Pose X_CL = Pose::Make(task_.open_rad, open_[std::min(index, open_.size() - 1)]);
  PivotNumbers x;
  for (std::size_t arm = 0; arm < 2; ++arm) {
    const Zone &lid = task_.lid_zone, &box = task_.case_zone;
    const Vec2 shut(lid.low.x() + unit[3 * arm] * (lid.high.x() - lid.low.x()),
                    lid.low.y() + unit[3 * arm + 1] * (lid.high.y() - lid.low.y()));
    const Vec2 now = X_CL * shut;
    const Vec2 middle = (shut + now) / 2.0, along = Perp(Vec2(now - shut)).normalized();
    // The part of middle + t · along in the case pivots' zone.
    double from = -1e300, to = 1e300;
    for (Eigen::Index i = 0; i < 2; ++i) {
      if (std::abs(along[i]) < 1e-12) {
        if (middle[i] < box.low[i] || middle[i] > box.high[i]) return std::nullopt;
        continue;
      }
      const double a = (box.low[i] - middle[i]) / along[i],
                   b = (box.high[i] - middle[i]) / along[i];
      from = std::max(from, std::min(a, b));
      to = std::min(to, std::max(a, b));
    }
    if (!(from < to)) return std::nullopt;
    const Vec2 pivot = middle + (from + unit[3 * arm + 2] * (to - from)) * along;
    if ((pivot - shut).norm() < kShortestArm_mm) return std::nullopt;
    x[2 * arm] = pivot.x();
    x[2 * arm + 1] = pivot.y();
    x[2 * arm + 4] = shut.x();
    x[2 * arm + 5] = shut.y();
  }
  return x;
}

}  // namespace lidwright
