// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>

#include "lid_strips.h"
#include "lidwright/arms/plates.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

using namespace lid_plate;  // NOLINT: the private half of this file

// [mm] Packing over the seam, beyond the arms' gap.
constexpr double kOverSeam_mm = 0.1;
// [times the drill's error] A lid's block hangs over the rim itself, which the shut lid of one
// build or another comes nearer to by that.
constexpr double kBlockOverRim = 3.0;
// [mm] Beyond the pivots the screws' row is expected to reach this far.
constexpr double kAlong_mm = 15.0;
// [mm] The plate's room round each pivot.
constexpr double kAround_mm = 190.0;
// [mm] Chords of outlines that are asked for a distance.
constexpr double kFine_mm = 0.01;
// [mm] Nearer than this is on a line.
constexpr double kOn_mm = 1e-3;
// [mm] Kept for the room's errors when strips look for their way: little first.
constexpr std::array<double, 3> kReserves_mm{0.0, 0.5, 1.2};
// [1] So much deeper may a recess be for each millimetre of half the plate's width.
constexpr double kWidthWorth = 0.5;
// [mm] A recess less deep than this is none.
constexpr double kNoRecess_mm = 0.05;
constexpr std::array<double, 9> kHalves_mm{12.0, 10.0, 8.0, 7.0, 6.0, 5.5, 5.0, 4.5, 4.0};

// The row over the seam: its ends, and the screws on it.
struct Row {
  double from, to;
  double low_screw, high_screw;
};

// The shortest row that has two screws on it, `apart_mm` from each other or more, with the feet
// between them if that costs little. An end of it is a foot or so far from it that there is room
// for the corner. Of rows as short as each other the first as their screws stand in `places`.
std::optional<Row> ShortestRow(const std::vector<double>& places, double low_foot, double high_foot,
                               double corner_mm, double apart_mm) {
  constexpr double kInside_mm = 5.0, kApartWorth = 0.3;
  const auto cramped = [&](double beyond) { return beyond > 0.0 && beyond < corner_mm; };
  // A row with its low screw there costs no less than one with its high screw in the high foot.
  std::vector<std::pair<double, std::size_t>> starts;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double s = places[i];
    if (cramped(low_foot - s)) continue;
    const double least = high_foot - std::min(s, low_foot) - kApartWorth * (high_foot - s) +
                         (s > low_foot ? kInside_mm : 0.0);
    starts.push_back({least - kSamePoint_mm, i});
  }
  std::sort(starts.begin(), starts.end());
  std::optional<Row> best;
  std::tuple<double, std::size_t, std::size_t> least{1e300, 0, 0};
  for (const auto& [at_least, i] : starts) {
    if (at_least > std::get<0>(least)) break;
    const double s = places[i];
    for (std::size_t j = 0; j < places.size(); ++j) {
      const double t = places[j];
      if (t - s < apart_mm || cramped(t - high_foot)) continue;
      const double from = std::min(s, low_foot), to = std::max(t, high_foot);
      const double cost = (to - from) - kApartWorth * (t - s) + (s > low_foot ? kInside_mm : 0.0) +
                          (t < high_foot ? kInside_mm : 0.0);
      if (std::tuple(cost, i, j) >= least) continue;
      least = {cost, i, j};
      best = Row{from, to, s, t};
    }
  }
  return best;
}

class LidPlateShaper {
 public:
  LidPlateShaper(const ArmsTask& task, const LidMotion& motion, const PlateNeeds& needs,
                 const std::vector<Disc>& standing)
      : needs_(needs),
        skin_(task.solid),
        pivots_{motion.pivots().lid_a, motion.pivots().lid_b},
        over_rim_(std::max(needs.screw_wood_mm,
                           needs.packing_edge_mm + task.job.arms.gap_mm + kOverSeam_mm)),
        row_(over_rim_ +
             (task.solid.block.lid_mm > 0.0 ? kBlockOverRim * task.job.shop.drill_error_mm : 0.0) +
             skin_.SeamOver(std::min(pivots_[0].x(), pivots_[1].x()) - kAlong_mm,
                            std::max(pivots_[0].x(), pivots_[1].x()) + kAlong_mm)),
        packing_half_(over_rim_ - task.job.arms.gap_mm - kOverSeam_mm) {
    for (const Vec2& pivot : pivots_) {
      ways_.emplace_back(
          skin_,
          ArmRoom(task.obstacles, motion, pivot, task.job.swing.open_rad, standing, kAround_mm),
          pivot, task.job.arms.gap_mm, row_, needs.screw_wood_mm);
    }
  }

  double LeastHalf() const { return std::max(needs_.pin_edge_mm, needs_.screw_edge_mm); }

  std::vector<Vec2> Leg(std::size_t k, double half, const std::vector<Vec2>& strip = {}) {
    return ways_[k].Leg(half, strip);
  }

  // Screws and ends of the row for given feet, where there is room for them.
  std::optional<Row> Screws(std::size_t k, double low_foot, double high_foot, double half) {
    const auto reach = [&](double x, double step) {
      while (std::abs(x - low_foot) < 120.0 && ways_[k].RowFree(x + step, half)) x += step;
      return x;
    };
    for (double x = low_foot; x <= high_foot; x += 1.0) {
      if (!ways_[k].RowFree(x, half - kRoomSlack_mm)) return std::nullopt;
    }
    const double low = reach(low_foot, -1.0), high = reach(high_foot, 1.0);
    std::vector<double> places;
    for (double x = low; x <= high; x += 1.0) {
      const Vec2 p(x, row_);
      if ((p - pivots_[0]).norm() >= needs_.screw_pin_mm &&
          (p - pivots_[1]).norm() >= needs_.screw_pin_mm) {
        places.push_back(x);
      }
    }
    for (const double foot : {low_foot, high_foot}) {
      const Vec2 p(foot, row_);
      if (std::min((p - pivots_[0]).norm(), (p - pivots_[1]).norm()) >= needs_.screw_pin_mm) {
        places.push_back(foot);
      }
    }
    return ShortestRow(places, low_foot, high_foot, Corner(half), needs_.row_mm);
  }

  // All shapes of one width, stoutest first, with `reserve` kept for the grid's errors.
  std::vector<Plate> Shapes(double half, double reserve) {
    std::vector<Plate> hulls, strips;
    const double planned = half + reserve;
    for (const std::size_t k : {std::size_t{0}, std::size_t{1}}) {
      const std::vector<Vec2> first = Leg(k, planned);
      if (first.empty()) continue;
      // The other pivot's strip joins the first one where it meets it, or in its pivot when it
      // comes near that, or straight there, or has a foot of its own on the row.
      std::vector<std::vector<Vec2>> seconds{Leg(1 - k, planned, first), Leg(1 - k, planned)};
      if (!seconds[0].empty() && (seconds[0].back() - pivots_[k]).norm() < 2.0 * Corner(half)) {
        std::vector<Vec2> through = seconds[0];
        through.back() = pivots_[k];
        seconds.push_back(through);
        while (through.size() > 1 && (through.back() - pivots_[k]).norm() < 2.0 * Corner(half)) {
          through.pop_back();
        }
        through.push_back(pivots_[k]);
        seconds.push_back(through);
      }
      seconds.push_back({pivots_[1 - k], pivots_[k]});
      for (const std::vector<Vec2>& second : seconds) {
        if (second.empty()) continue;
        const double a = first.back().x();
        const double b = OnRow(second.back()) ? second.back().x() : a;
        const auto row = Screws(k, std::min(a, b), std::max(a, b), half);
        if (!row) continue;
        if (const auto& hull = Hull(*row, half)) hulls.push_back(*hull);
        if (const auto plate = Made(Strips({first, second}, *row, half), *row, half)) {
          strips.push_back(*plate);
        }
      }
    }
    hulls.insert(hulls.end(), strips.begin(), strips.end());
    return hulls;
  }

 private:
  // With screws, packing and recess; nothing without an outline or room for a packing.
  std::optional<Plate> Made(const std::optional<Outline>& outline, const Row& row,
                            double half) const {
    if (!outline || packing_half_ <= 0.0 || !Holds(*outline, row, half)) return std::nullopt;
    const std::vector<Vec2> screws{{row.low_screw, row_}, {row.high_screw, row_}};
    const auto packing = HullOutline(screws, packing_half_);
    if (!packing) return std::nullopt;
    Plate plate{*outline, screws, half, *packing, packing_half_, 0.0};
    plate.recess_mm = std::max(skin_.Recess(*outline), skin_.Recess(*packing));
    if (plate.recess_mm < kNoRecess_mm) plate.recess_mm = 0.0;
    return plate;
  }

  // Both pins and both screws are as deep in it as its strips are wide.
  bool Holds(const Outline& outline, const Row& row, double half) const {
    const std::vector<Ring> rings{Flatten(outline, kFine_mm)};
    const std::array<Vec2, 4> held{pivots_[0], pivots_[1], Vec2(row.low_screw, row_),
                                   Vec2(row.high_screw, row_)};
    return std::all_of(held.begin(), held.end(), [&](const Vec2& p) {
      return SignedDistance(rings, p) <= 2.0 * kFine_mm - half;
    });
  }

  // Many ways of the strips end in one row.
  const std::optional<Plate>& Hull(const Row& row, double half) {
    const std::array key{row.from, row.to, row.low_screw, row.high_screw, half};
    const auto [entry, fresh] = hulls_.try_emplace(key);
    if (fresh) {
      entry->second = Made(
          HullOutline({pivots_[0], pivots_[1], {row.from, row_}, {row.to, row_}}, half), row, half);
    }
    return entry->second;
  }

  // [mm] What an inside corner takes of strips that meet at a right angle.
  double Corner(double half) const { return half + std::max(needs_.inside_mm, 1.0) + 0.5; }
  bool OnRow(const Vec2& p) const { return std::abs(p.y() - row_) < kOn_mm; }

  std::optional<Outline> Strips(const std::vector<std::vector<Vec2>>& legs, const Row& row,
                                double half) const {
    StripTree tree;
    const auto point = [&](const Vec2& p) {
      for (std::size_t i = 0; i < tree.points.size(); ++i) {
        if ((tree.points[i] - p).norm() < kOn_mm) return i;
      }
      tree.points.push_back(p);
      return tree.points.size() - 1;
    };
    std::vector<Vec2> ends;
    for (const auto& leg : legs) ends.push_back(leg.back());
    // Each stretch is cut where a leg ends on it.
    const auto stretch = [&](const Vec2& from, const Vec2& to) {
      std::vector<Vec2> cuts{from, to};
      for (const Vec2& end : ends) {
        if ((NearestOnSegment(end, from, to) - end).norm() < kOn_mm) cuts.push_back(end);
      }
      std::sort(cuts.begin(), cuts.end(), [&](const Vec2& p, const Vec2& q) {
        return (p - from).squaredNorm() < (q - from).squaredNorm();
      });
      for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const std::size_t a = point(cuts[i]), b = point(cuts[i + 1]);
        if (a != b) tree.lines.push_back({a, b});
      }
    };
    // The row runs through pivots that lie so near to it that a leg would be lost in its corner.
    std::vector<Vec2> chain;
    const auto sunk = [&](const std::vector<Vec2>& leg) {
      return leg.size() == 2 && OnRow(leg.back()) &&
             (leg.front() - leg.back()).norm() < Corner(half);
    };
    std::vector<double> on_row{row.from, row.to};
    for (const auto& leg : legs) {
      if (sunk(leg)) {
        chain.push_back(leg.front());
      } else if (OnRow(leg.back())) {
        on_row.push_back(leg.back().x());  // a row that bends to a sunk pivot passes its foot by
      }
    }
    for (const double x : on_row) {
      const bool there = std::any_of(chain.begin(), chain.end(),
                                     [&](const Vec2& p) { return std::abs(p.x() - x) < 1.0; });
      if (!there) chain.push_back({x, row_});
    }
    std::sort(chain.begin(), chain.end(),
              [](const Vec2& a, const Vec2& b) { return a.x() < b.x(); });
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) stretch(chain[i], chain[i + 1]);
    for (const auto& leg : legs) {
      if (sunk(leg)) continue;
      for (std::size_t i = 0; i + 1 < leg.size(); ++i) stretch(leg[i], leg[i + 1]);
    }
    return StripOutline(tree, half, needs_.inside_mm);
  }

  const PlateNeeds& needs_;
  const Skin skin_;
  const std::array<Vec2, 2> pivots_;
  const double over_rim_, row_, packing_half_;
  std::vector<StripWays> ways_;  // from each pivot
  std::map<std::array<double, 5>, std::optional<Plate>> hulls_;
};

}  // namespace

std::optional<Plate> ShapeLidPlate(const ArmsTask& task, const LidMotion& motion,
                                   const PlateNeeds& needs, const std::vector<Disc>& standing,
                                   const PlateProof& proof, std::string* fault) {
  LidPlateShaper shaper(task, motion, needs, standing);
  std::vector<double> halves;
  for (const double half : kHalves_mm) {
    if (half > shaper.LeastHalf()) halves.push_back(half);
  }
  halves.push_back(shaper.LeastHalf());
  std::vector<Plate> recessed;
  for (const double half : halves) {
    for (const double reserve : kReserves_mm) {
      for (Plate& plate : shaper.Shapes(half, reserve)) {
        if (plate.recess_mm > 0.0) {
          recessed.push_back(std::move(plate));
        } else if (proof(plate)) {
          return plate;
        }
      }
    }
  }
  // A recess is work, a wide plate worth some of it.
  std::stable_sort(recessed.begin(), recessed.end(), [](const Plate& a, const Plate& b) {
    return a.recess_mm - kWidthWorth * a.half_mm < b.recess_mm - kWidthWorth * b.half_mm;
  });
  for (Plate& plate : recessed) {
    if (proof(plate)) return plate;
  }
  const auto say = [&](double mm) { return BenchLength(mm, task.job.inches); };
  const double least = shaper.LeastHalf();
  for (const std::size_t k : {std::size_t{0}, std::size_t{1}}) {
    if (!shaper.Leg(k, least).empty()) continue;
    double fits = 0.0;
    for (double half = least; half > 0.5; half -= 0.25) {
      if (shaper.Leg(k, half).empty()) continue;
      fits = half;
      break;
    }
    *fault = std::string("lid plate: no strip of ") + say(2.0 * least) +
             ", which its pin and screws need, comes from the lid pivot of arm " +
             (k == 0 ? "A" : "B") + " to the lid's end wall past the case and the case pins; " +
             (fits > 0.0 ? say(2.0 * fits) + " would fit" : "none would fit, however narrow");
    return std::nullopt;
  }
  *fault = "lid plate: each lid pivot can be reached by a strip of " + say(2.0 * least) +
           ", but no plate for both with two screws " + say(needs.row_mm) +
           " apart clears everything over the swing";
  return std::nullopt;
}

}  // namespace lidwright
