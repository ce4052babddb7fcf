// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/arm_ways.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>
#include <limits>
#include <queue>

#include "lidwright/base/check.h"
#include "loop.h"

namespace lidwright {
namespace {

constexpr double kMesh_mm = 4.0;
// [mm] Ways are looked for so far beside and beyond the pivots.
constexpr double kBeside_mm = 76.0;
constexpr double kBeyond_mm = 56.0;
// [1/mm] A way that wants a millimetre of room is so many times as long.
constexpr double kLackPrice = 4.0;
// [mm] How much lacks is not told beyond this.
constexpr double kMostLack_mm = 10.0;
// [mm] Kept beyond an arm's gap for wide meshes and angles.
constexpr double kReserve_mm = 0.4;
// [mm] Spacers stand so far over the bushing's outside, as the hardware does by default.
constexpr double kSpacerRim_mm = 1.0;
// [mm] A straight stretch may lack so much more than the meshes it replaces.
constexpr double kSeen_mm = 0.3;
// [mm] An arm leaves its eyes straight for at least this long; sharper curves than this are not
// cut.
constexpr double kLeastNeck_mm = 2.0;
constexpr double kSharpest_mm = 0.5;
// [mm] Places along a way are told so far apart.
constexpr double kPlaces_mm = 10.0;

// None leads there as far as is looked.
ArmWay TooFar() {
  ArmWay way;
  way.lacks_mm = kMostLack_mm;
  return way;
}

// Cheapest way over a lattice of meshes from (0, 0) to where `there` is true; `path` gets its
// points. `rest` is never more than what is left to go. How much a mesh lacks is only worked out
// once the way is known to lead there at least as if nothing lacked. None leads over a mesh that
// lacks more than `most_lack`.
template <typename Lack, typename There, typename Rest>
ArmWay Cheapest(const Vec2& low, const Vec2& high, double most_lack, const Lack& lack_at,
                const There& there, const Rest& rest, std::vector<Vec2>& path) {
  const int left = static_cast<int>(std::floor(low.x() / kMesh_mm)),
            down = static_cast<int>(std::floor(low.y() / kMesh_mm));
  const int columns = static_cast<int>(std::ceil(high.x() / kMesh_mm)) - left + 1;
  const int rows = static_cast<int>(std::ceil(high.y() / kMesh_mm)) - down + 1;
  constexpr float kInfinite = std::numeric_limits<float>::infinity();
  struct Node {
    float cost = kInfinite;                            // once it is reached
    float straight = kInfinite, slanting = kInfinite;  // the least it was pushed with, by steps
    float rest = -1.0f, lack = -1.0f;                  // below 0: not asked yet
    std::int32_t from = -1;
  };
  struct Entry {
    float estimate;
    std::int32_t at, from;
    bool certain;  // what lacks is counted
    bool operator>(const Entry& other) const { return estimate > other.estimate; }
  };
  thread_local std::vector<Node> nodes;
  nodes.assign(static_cast<std::size_t>(columns * rows), Node());
  const auto point = [&](int node) -> Vec2 {
    return kMesh_mm * Vec2(node % columns + left, node / columns + down);
  };
  const auto node_of = [&](int at) -> Node& { return nodes[static_cast<std::size_t>(at)]; };
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
  const auto step_of = [&](int from, int to) {
    const bool slanting = from % columns != to % columns && from / columns != to / columns;
    return static_cast<float>(kMesh_mm) * (slanting ? 1.41421f : 1.0f);
  };
  open.push({0.0f, -down * columns - left, -1, true});
  int goal = -1;
  while (!open.empty() && goal < 0) {
    const Entry entry = open.top();
    open.pop();
    const int at = entry.at;
    Node& node = node_of(at);
    if (node.cost < kInfinite) continue;
    if (node.lack < 0.0f) node.lack = static_cast<float>(lack_at(point(at)));
    if (node.lack > most_lack) {
      node.straight = node.slanting = -kInfinite;  // no step leads here again
      continue;
    }
    float cost = 0.0f;
    if (entry.from >= 0) {
      cost = node_of(entry.from).cost +
             step_of(entry.from, at) * (1.0f + static_cast<float>(kLackPrice) * node.lack);
    }
    if (!entry.certain && node.lack > 0.0f) {
      open.push({cost + node.rest, at, entry.from, true});
      continue;
    }
    node.cost = cost;
    node.from = entry.from;
    if (there(point(at))) goal = at;
    for (int dr = -1; dr <= 1; ++dr) {
      for (int dc = -1; dc <= 1; ++dc) {
        const int column = at % columns + dc, row = at / columns + dr;
        if (column < 0 || row < 0 || column >= columns || row >= rows) continue;
        const int next = row * columns + column;
        Node& beside = node_of(next);
        if (beside.cost < kInfinite) continue;
        const bool slanting = dr != 0 && dc != 0;
        const float hoped = cost + step_of(at, next);
        // A straight step as cheap is never dearer, whatever lacks.
        if (hoped >= beside.straight || (slanting && hoped >= beside.slanting)) continue;
        (slanting ? beside.slanting : beside.straight) = hoped;
        if (beside.rest < 0.0f) beside.rest = static_cast<float>(rest(point(next)));
        open.push({hoped + beside.rest, next, at, false});
      }
    }
  }
  if (goal < 0) return TooFar();
  ArmWay way;
  for (int at = goal; at >= 0; at = node_of(at).from) {
    way.lacks_mm = std::max(way.lacks_mm, static_cast<double>(node_of(at).lack));
    path.push_back(point(at));
  }
  std::reverse(path.begin(), path.end());
  double told = 0.0, length = 0.0;
  for (std::size_t i = 1; i + 1 < path.size(); ++i) {
    length += (path[i] - path[i - 1]).norm();
    if (length - told < kPlaces_mm) continue;
    told = length;
    way.places.push_back(path[i]);
  }
  return way;
}

// The corners that are left when the path is pulled taut where nothing more lacks than does on it.
template <typename Lack>
std::vector<Vec2> Taut(const std::vector<Vec2>& path, double lacks, const Lack& lack_at) {
  const auto sees = [&](const Vec2& a, const Vec2& b) {
    const int pieces = static_cast<int>(std::ceil((b - a).norm() / kMesh_mm));
    for (int k = 1; k < pieces; ++k) {
      if (lack_at(Vec2(a + (b - a) * k / pieces)) > lacks + kSeen_mm) return false;
    }
    return true;
  };
  std::vector<Vec2> taut{path.front()};
  for (std::size_t at = 0; at + 1 < path.size();) {
    // The farthest that is seen, by halving: good enough for a bound.
    std::size_t seen = at + 1, blind = path.size();
    if (sees(path[at], path.back())) seen = path.size() - 1, blind = seen + 1;
    while (blind - seen > 1) {
      const std::size_t middle = (seen + blind) / 2;
      (sees(path[at], path[middle]) ? seen : blind) = middle;
    }
    taut.push_back(path[seen]);
    at = seen;
  }
  return taut;
}

// The radius the tightest corner can be given, half of each inner stretch to each of its corners.
double TightestRadius(const std::vector<Vec2>& points, double neck_mm) {
  double tightest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i + 1 < points.size(); ++i) {
    const Vec2 in = points[i] - points[i - 1], out = points[i + 1] - points[i];
    const double turn = std::atan2(std::abs(Cross(in, out)), in.dot(out));
    const double before = i == 1 ? in.norm() - neck_mm : in.norm() / 2.0;
    const double after = i + 2 == points.size() ? out.norm() - neck_mm : out.norm() / 2.0;
    tightest = std::min(tightest, std::min(before, after) / std::tan(turn / 2.0));
  }
  return tightest;
}

// The motion at shut and at each slice.
struct Posed {
  Vec2 ra, rb;
  Pose X_CL;
};
bool PosedAll(const LidSpace& space, const PivotNumbers& x, std::vector<Posed>& all) {
  const double side = SideOf(x.data());
  all.clear();
  all.push_back({Vec2(x[4] - x[0], x[5] - x[1]), Vec2(x[6] - x[2], x[7] - x[3]), Pose()});
  // The open half first: arms meet the case's rim there.
  const auto& slices = space.slices();
  for (std::size_t k = slices.size(); k-- > 0;) {
    const Loop<double> loop(x.data(), slices[k].cosine, slices[k].sine, side);
    if (!loop.valid) return false;
    all.push_back({loop.lid_a - loop.case_a,
                   loop.lid_b - loop.case_b,
                   {slices[k].cosine, slices[k].sine, loop.origin}});
  }
  return true;
}

// The least gap of places of a moving part over its motion. Places near each other come near the
// same things in the same poses: which poses those are is found once for a block of meshes.
template <typename GapAt, typename AtLeast>
class LeastOver {
 public:
  // `gap_at(p, pose, what is enough)` changes no faster than p moves, and `at_least(p, pose)` is
  // never above it. Nothing is followed below `hopeless`.
  LeastOver(std::size_t poses, double enough, double hopeless, const GapAt& gap_at,
            const AtLeast& at_least)
      : gap_at_(gap_at), at_least_(at_least), poses_(poses), enough_(enough), hopeless_(hopeless) {
    LW_REQUIRE(poses < 64, "poses=" << poses);
    near_.assign(static_cast<std::size_t>(kColumns * kRows), 0);
  }

  double At(const Vec2& p) {
    double gap = enough_;
    std::uint64_t left = NearPoses(p);
    // Where the last place that was asked about had the least, the next often has it.
    for (std::size_t k = worst_; left != 0 && gap >= hopeless_;
         k = static_cast<std::size_t>(std::countr_zero(left))) {
      const std::uint64_t bit = std::uint64_t{1} << k;
      if ((left & bit) == 0) continue;
      left &= ~bit;
      const double here = gap_at_(p, k, gap);
      if (here < gap) {
        gap = here;
        worst_ = k;
      }
    }
    return gap;
  }

 private:
  static constexpr int kColumns = 48, kRows = 24;  // farther off, all poses are asked
  static constexpr double kBlock_mm = 3.0 * kMesh_mm;
  static constexpr double kRadius_mm = 1.4143 * kMesh_mm;  // of the meshes' corners in a block
  static constexpr std::uint64_t kAsked = std::uint64_t{1} << 63;

  std::uint64_t NearPoses(const Vec2& p) {
    const std::uint64_t all = (std::uint64_t{1} << poses_) - 1;
    const double column = std::round(p.x() / kBlock_mm), row = std::round(p.y() / kBlock_mm);
    const Vec2 middle = kBlock_mm * Vec2(column, row);
    const int c = static_cast<int>(column) + kColumns / 2;
    const int r = static_cast<int>(row) + kRows / 2;
    if (c < 0 || r < 0 || c >= kColumns || r >= kRows || (p - middle).norm() > kRadius_mm) {
      return all;
    }
    std::uint64_t& known = near_[static_cast<std::size_t>(r * kColumns + c)];
    if (known == 0) {
      known = kAsked;
      const double far_mm = enough_ + kRadius_mm;
      for (std::size_t k = 0; k < poses_; ++k) {
        if (at_least_(middle, k) < far_mm) known |= std::uint64_t{1} << k;
      }
    }
    return known & ~kAsked;
  }

  const GapAt& gap_at_;
  const AtLeast& at_least_;
  std::size_t poses_;
  double enough_, hopeless_;
  std::size_t worst_ = 0;
  static thread_local std::vector<std::uint64_t> near_;
};
template <typename GapAt, typename AtLeast>
thread_local std::vector<std::uint64_t> LeastOver<GapAt, AtLeast>::near_;

ArmWay NoWay() {
  ArmWay way;
  way.lacks_mm = 10.0 * kMostLack_mm;
  return way;
}

}  // namespace

ArmWays::ArmWays(const Job& job, const LidSpace& space)
    : space_(space),
      arm_need_mm_(job.arms.width_mm / 2.0 + job.arms.gap_mm + kReserve_mm),
      arm_width_mm_(job.arms.width_mm),
      plate_need_mm_(job.arms.eye_mm / 2.0 + job.arms.gap_mm),
      pin_mm_((std::isnan(job.hardware.spacer_mm) ? job.arms.bushing_mm + 2.0 * kSpacerRim_mm
                                                  : job.hardware.spacer_mm) /
              2.0),
      plates_(job.plates.on_lid) {
  const double half = job.arms.width_mm / 2.0, eye = job.arms.eye_mm / 2.0;
  const double inside = job.shop.cutter_mm / 2.0, fillet = std::max(inside, eye / 2.0);
  neck_mm_ = std::max(kLeastNeck_mm, std::sqrt((eye + fillet) * (eye + fillet) -
                                               (half + fillet) * (half + fillet)));
  least_radius_mm_ = half + std::max(inside, kSharpest_mm);
}

ArmWay ArmWays::Arm(const PivotNumbers& x, std::size_t arm, double most_lack_mm) const {
  thread_local std::vector<Posed> all;
  if (!PosedAll(space_, x, all)) return NoWay();
  const Vec2 pivot(x[2 * arm], x[2 * arm + 1]);
  const Vec2 shut = arm == 0 ? all[0].ra : all[0].rb;
  const double length = shut.norm(), followed_mm = std::min(most_lack_mm, kMostLack_mm);
  const auto in_case = [&](const Vec2& p, std::size_t k) -> Vec2 {
    const Vec2& r = arm == 0 ? all[k].ra : all[k].rb;
    return pivot + (p.x() * r + p.y() * Perp(r)) / length;
  };
  const auto in_lid = [&](const Vec2& at, std::size_t k) {
    return all[k].X_CL.TurnBack(at - all[k].X_CL.origin);
  };
  const auto gap_at = [&](const Vec2& p, std::size_t k, double enough) {
    const Vec2 at = in_case(p, k);
    const double from_case = std::min(enough, space_.InCase(at, enough).gap);
    return std::min(from_case, space_.InLid(in_lid(at, k), from_case).gap);
  };
  const auto at_least = [&](const Vec2& p, std::size_t k) {
    const Vec2 at = in_case(p, k);
    return std::min(space_.InCaseAtLeast(at), space_.InLidAtLeast(in_lid(at, k)));
  };
  LeastOver least(all.size(), arm_need_mm_, arm_need_mm_ - followed_mm, gap_at, at_least);
  const auto lack_at = [&](const Vec2& p) {
    return std::min(arm_need_mm_ - least.At(p), kMostLack_mm);
  };
  const Vec2 end(length, 0.0);
  std::vector<Vec2> path;
  ArmWay way = Cheapest(
      Vec2(-kBeyond_mm, -kBeside_mm), Vec2(length + kBeyond_mm, kBeside_mm), most_lack_mm, lack_at,
      [&](const Vec2& p) { return (p - end).squaredNorm() < 0.51 * kMesh_mm * kMesh_mm; },
      [&](const Vec2& p) {  // by steps along and across the lattice
        const Vec2 off = (p - end).cwiseAbs();
        return std::max(0.0, off.maxCoeff() + 0.41421 * off.minCoeff() - 0.78 * kMesh_mm);
      },
      path);
  if (path.size() > 2) {
    path.back() = end;
    const std::vector<Vec2> taut = Taut(path, way.lacks_mm, lack_at);
    double taut_mm = 0.0;
    for (std::size_t i = 1; i < taut.size(); ++i) {
      taut_mm += (taut[i] - taut[i - 1]).norm();
      way.bend = std::max(way.bend, 1.0 + 6.0 * std::abs(taut[i].y()) / arm_width_mm_);
    }
    way.crooked = std::max(1.0, taut_mm / length);
    way.lacks_mm = std::max(way.lacks_mm, least_radius_mm_ - TightestRadius(taut, neck_mm_));
  }
  for (Vec2& place : way.places) place /= length;
  return way;
}

ArmWay ArmWays::Plate(const PivotNumbers& x, std::size_t arm, double most_lack_mm) const {
  if (!plates_) return {};
  thread_local std::vector<Posed> all;
  if (!PosedAll(space_, x, all)) return NoWay();
  const Vec2 pivot(x[4 + 2 * arm], x[4 + 2 * arm + 1]);
  const Vec2 low(-kBeside_mm, -kBeyond_mm), high(kBeside_mm, 2.0 * kBeyond_mm);
  // No way is looked for where the end wall is beyond the lattice.
  const Rect2& hold = space_.lid_end_box();
  const Vec2 hold_low = (pivot + low).cwiseMax(hold.low + Vec2::Constant(kPlateHold_mm));
  const Vec2 hold_high = (pivot + high).cwiseMin(hold.high - Vec2::Constant(kPlateHold_mm));
  if ((hold_low.array() > hold_high.array()).any()) return TooFar();
  const double followed_mm = std::min(most_lack_mm, kMostLack_mm);
  const Vec2 pins[] = {{x[0], x[1]}, {x[2], x[3]}};
  const auto past_pins = [&](const Vec2& at, double gap) {
    for (const Vec2& pin : pins) gap = std::min(gap, (at - pin).norm() - pin_mm_);
    return gap;
  };
  const auto gap_at = [&](const Vec2& p, std::size_t k, double enough) {
    const Vec2 at = all[k].X_CL * (pivot + p);
    return past_pins(at, std::min(enough, space_.InCase(at, enough).gap));
  };
  const auto at_least = [&](const Vec2& p, std::size_t k) {
    const Vec2 at = all[k].X_CL * (pivot + p);
    return past_pins(at, space_.InCaseAtLeast(at));
  };
  LeastOver least(all.size(), plate_need_mm_, plate_need_mm_ - followed_mm, gap_at, at_least);
  const auto lack_at = [&](const Vec2& p) {
    return std::min(plate_need_mm_ - least.At(p), kMostLack_mm);
  };
  std::vector<Vec2> path;
  return Cheapest(
      low, high, most_lack_mm, lack_at,
      [&](const Vec2& p) { return space_.DeepInLidEnd(pivot + p) > kPlateHold_mm; },
      [&](const Vec2& p) { return std::max(0.0, kPlateHold_mm - space_.DeepInLidEnd(pivot + p)); },
      path);
}

}  // namespace lidwright
