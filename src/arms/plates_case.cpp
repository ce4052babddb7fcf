// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "lidwright/arms/plates.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/hull.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

constexpr std::array<double, 6> kHalves_mm{10.0, 8.0, 7.0, 6.0, 5.0, 4.0};
// [count] Places looked at round each pivot for a screw.
constexpr int kRound = 16;
constexpr double kAngleStep_rad = 2.5 * kRadPerDeg;

// Distance to the lid plate's packing over the swing.
class PackingRoom {
 public:
  PackingRoom(const LidMotion& motion, double open_rad, const std::optional<Plate>& plate) {
    if (!plate) return;
    half_ = plate->packing_half_mm;
    a_ = plate->screws.front();
    b_ = plate->screws.back();
    const int steps = std::max(2, static_cast<int>(std::ceil(open_rad / kAngleStep_rad)));
    for (int i = 0; i <= steps; ++i)
      X_LC_.push_back(motion.At(open_rad * i / steps).X_CL.Inverse());
  }
  double At(const Vec2& p) const {
    double least = 1e300;
    for (const Pose& X_LC : X_LC_) {
      const Vec2 q = X_LC * p;
      least = std::min(least, (NearestOnSegment(q, a_, b_) - q).norm() - half_);
    }
    return least;
  }

 private:
  std::vector<Pose> X_LC_;
  Vec2 a_ = Vec2::Zero(), b_ = Vec2::Zero();
  double half_ = 0.0;
};

// The tree of shortest lines that joins all points (Prim).
StripTree ShortestTree(const std::vector<Vec2>& points) {
  StripTree tree{points, {}};
  std::vector<char> in(points.size(), 0);
  in[0] = 1;
  for (std::size_t k = 1; k < points.size(); ++k) {
    double least = 1e300;
    std::pair<std::size_t, std::size_t> best{0, 0};
    for (std::size_t i = 0; i < points.size(); ++i) {
      for (std::size_t j = 0; j < points.size(); ++j) {
        if (!in[i] || in[j] || (points[i] - points[j]).norm() >= least) continue;
        least = (points[i] - points[j]).norm();
        best = {i, j};
      }
    }
    in[best.second] = 1;
    tree.lines.push_back(best);
  }
  return tree;
}

// Does every vertex do? Asked all round first, then in between: what is in the way of one vertex is
// in the way of its neighbours too.
template <typename Does>
bool AllAlong(const Ring& ring, const Does& does) {
  constexpr std::size_t kStride = 16;
  for (std::size_t first = 0; first < kStride; ++first) {
    for (std::size_t i = first; i < ring.size(); i += kStride) {
      if (!does(ring[i])) return false;
    }
  }
  return true;
}

// A place for a screw and the room around it.
struct Place {
  Vec2 at;
  double room_mm;
};

// Places round each of the points, `apart_mm` from all of them.
std::vector<Place> PlacesRound(const std::vector<Vec2>& points, double apart_mm,
                               const std::function<double(const Vec2&)>& room) {
  std::vector<Place> places;
  for (const Vec2& point : points) {
    for (const double beyond : {0.5, 4.0, 8.0}) {
      for (int i = 0; i < kRound; ++i) {
        const double angle = 2.0 * kPi * i / kRound;
        const Vec2 p = point + (apart_mm + beyond) * Vec2(std::cos(angle), std::sin(angle));
        const bool apart = std::all_of(points.begin(), points.end(),
                                       [&](const Vec2& q) { return (p - q).norm() >= apart_mm; });
        if (apart) places.push_back({p, room(p)});
      }
    }
  }
  return places;
}

// Three screws as far apart as may be: the best first.
struct Choice {
  double worth;
  std::array<std::size_t, 3> at;
  bool operator<(const Choice& o) const {
    return worth > o.worth || (worth == o.worth && at < o.at);
  }
};

// [count] Choices of screws for which plates are shaped.
constexpr std::size_t kChoices = 40;
// [mm] More than what a worth can be off by rounding.
constexpr double kWorthRounding_mm = 1e-9;

// The best choices of three places that are at least `apart_mm` from each other. A triangle's area
// is at most half the product of two sides, so that most pairs need no third.
std::vector<Choice> BestChoices(const std::vector<Vec2>& places, double apart_mm) {
  const std::size_t n = places.size();
  std::vector<double> apart(n * n);
  double farthest = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      apart[i * n + j] = (places[i] - places[j]).norm();
      farthest = std::max(farthest, apart[i * n + j]);
    }
  }
  std::vector<Choice> best;  // a heap, its worst in front
  const auto hopeless = [&](double worth) {
    return best.size() == kChoices && worth + kWorthRounding_mm < best.front().worth;
  };
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = i + 1; j < n; ++j) {
      const double ij = apart[i * n + j];
      if (ij < apart_mm || hopeless(std::sqrt(ij * farthest / 2.0) + 0.5 * ij)) continue;
      for (std::size_t k = j + 1; k < n; ++k) {
        const double nearest = std::min({ij, apart[i * n + k], apart[j * n + k]});
        if (nearest < apart_mm) continue;
        const double area =
            std::abs(Cross(Vec2(places[j] - places[i]), Vec2(places[k] - places[i]))) / 2.0;
        const Choice choice{std::sqrt(area) + 0.5 * nearest, {i, j, k}};
        if (best.size() == kChoices) {
          if (!(choice < best.front())) continue;
          std::pop_heap(best.begin(), best.end());
          best.pop_back();
        }
        best.push_back(choice);
        std::push_heap(best.begin(), best.end());
      }
    }
  }
  std::sort_heap(best.begin(), best.end());
  return best;
}

}  // namespace

std::optional<Plate> ShapeCasePlate(const ArmsTask& task, const LidMotion& motion,
                                    const PlateNeeds& needs, const std::vector<Vec2>& also,
                                    const std::optional<Plate>& lid_plate, const PlateProof& proof,
                                    std::string* fault) {
  const CaseRoom room(task, motion);
  const PackingRoom packing(motion, task.job.swing.open_rad, lid_plate);
  const double gap = task.job.arms.gap_mm;
  const auto free = [&](const Vec2& p) { return std::min(room.At(p), packing.At(p) - gap); };
  std::vector<Vec2> carried{motion.pivots().case_a, motion.pivots().case_b};
  carried.insert(carried.end(), also.begin(), also.end());
  const double least = std::max(needs.pin_edge_mm, needs.screw_edge_mm);
  const auto say = [&](double mm) { return BenchLength(mm, task.job.inches); };
  for (std::size_t i = 0; i < carried.size(); ++i) {
    const double there = free(carried[i]);
    if (there >= needs.pin_edge_mm) continue;
    *fault = "case plate: the " + std::string(i < 2 ? "case pin" : "stop") + " at " +
             PointText(carried[i].x(), carried[i].y(), task.job.inches) + " has " +
             say(std::max(0.0, there)) + " around it, the plate's edge needs " +
             say(needs.pin_edge_mm) + "; pins straight in the wall would fit";
    return std::nullopt;
  }
  std::vector<double> halves;
  for (const double half : kHalves_mm) {
    if (half > least) halves.push_back(half);
  }
  halves.push_back(least);
  const std::vector<Place> round = PlacesRound(carried, needs.screw_pin_mm, free);
  for (const double half : halves) {
    std::vector<Vec2> places;
    for (const Place& place : round) {
      if (place.room_mm >= std::max(half, needs.screw_wood_mm)) places.push_back(place.at);
    }
    // In a plate as small as may be.
    for (const Choice& choice : BestChoices(places, 2.0 * needs.screw_edge_mm)) {
      std::vector<Vec2> screws, all = carried;
      for (const std::size_t k : choice.at) screws.push_back(places[k]);
      all.insert(all.end(), screws.begin(), screws.end());
      for (const auto& outline :
           {HullOutline(all, half), StripOutline(ShortestTree(all), half, needs.inside_mm)}) {
        if (!outline) continue;
        const Ring ring = Flatten(*outline, kChordError_mm);
        const bool fits = AllAlong(
            ring, [&](const Vec2& p) { return packing.At(p) >= gap && room.At(p) >= 0.0; });
        Plate plate{*outline, screws, half, {}, 0.0, 0.0};
        if (fits && proof(plate)) return plate;
      }
    }
  }
  *fault = "case plate: no plate " + say(2.0 * least) +
           " wide with three screws clears the lid over the swing; pins straight in the wall "
           "would fit";
  return std::nullopt;
}

}  // namespace lidwright
