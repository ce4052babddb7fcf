// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>

#include "lidwright/arms/plates.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/hull.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

constexpr std::array<double, 6> kHalves_mm{10.0, 8.0, 7.0, 6.0, 5.0, 4.0};
// [mm] Between the plate and the case's walls and floor, to let it in.
constexpr double kFit_mm = 0.3;
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
    *fault = "case plate: the " + std::string(i < 2 ? "case pin" : "stop") + " at (" +
             Text(carried[i].x(), 1) + ", " + Text(carried[i].y(), 1) + ") has " +
             say(std::max(0.0, there)) + " around it, the plate's edge needs " +
             say(needs.pin_edge_mm) + "; pins straight in the wall would fit";
    return std::nullopt;
  }
  std::vector<double> halves;
  for (const double half : kHalves_mm) {
    if (half > least) halves.push_back(half);
  }
  halves.push_back(least);
  for (const double half : halves) {
    std::vector<Vec2> places;
    for (const Vec2& pivot : carried) {
      for (const double beyond : {0.5, 4.0, 8.0}) {
        for (int i = 0; i < kRound; ++i) {
          const double angle = 2.0 * kPi * i / kRound;
          const Vec2 p =
              pivot + (needs.screw_pin_mm + beyond) * Vec2(std::cos(angle), std::sin(angle));
          const bool apart = std::all_of(carried.begin(), carried.end(), [&](const Vec2& q) {
            return (p - q).norm() >= needs.screw_pin_mm;
          });
          if (apart && free(p) >= std::max(half, needs.screw_wood_mm)) places.push_back(p);
        }
      }
    }
    // Three screws as far apart as may be, in a plate as small as may be.
    struct Choice {
      double worth;
      std::array<std::size_t, 3> at;
    };
    std::vector<Choice> choices;
    for (std::size_t i = 0; i < places.size(); ++i) {
      for (std::size_t j = i + 1; j < places.size(); ++j) {
        const double ij = (places[i] - places[j]).norm();
        if (ij < 2.0 * needs.screw_edge_mm) continue;
        for (std::size_t k = j + 1; k < places.size(); ++k) {
          const double nearest =
              std::min({ij, (places[i] - places[k]).norm(), (places[j] - places[k]).norm()});
          if (nearest < 2.0 * needs.screw_edge_mm) continue;
          const double area =
              std::abs(Cross(Vec2(places[j] - places[i]), Vec2(places[k] - places[i]))) / 2.0;
          choices.push_back({std::sqrt(area) + 0.5 * nearest, {i, j, k}});
        }
      }
    }
    const std::size_t kept = std::min<std::size_t>(choices.size(), 40);
    std::partial_sort(choices.begin(), choices.begin() + static_cast<std::ptrdiff_t>(kept),
                      choices.end(), [](const Choice& a, const Choice& b) {
                        return a.worth > b.worth || (a.worth == b.worth && a.at < b.at);
                      });
    for (std::size_t c = 0; c < kept; ++c) {
      std::vector<Vec2> screws, all = carried;
      for (const std::size_t k : choices[c].at) screws.push_back(places[k]);
      all.insert(all.end(), screws.begin(), screws.end());
      for (const auto& outline :
           {HullOutline(all, half), StripOutline(ShortestTree(all), half, needs.inside_mm)}) {
        if (!outline) continue;
        const Ring ring = Flatten(*outline, kChordError_mm);
        const bool fits = std::all_of(ring.begin(), ring.end(), [&](const Vec2& p) {
          return room.At(p) >= kFit_mm && packing.At(p) >= gap;
        });
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
