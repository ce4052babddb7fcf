// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/builds.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <limits>
#include <numeric>
#include <random>

#include "lidwright/accuracy/hole_slopes.h"
#include "lidwright/accuracy/shut_lid.h"
#include "lidwright/base/check.h"
#include "lidwright/base/parallel.h"
#include "lidwright/synthesis/lid_task.h"

namespace lidwright {
namespace {

// [–] 99 of 100 of a normal distribution lie above its mean less this many standard deviations.
constexpr double kOneInHundred = 2.326;
constexpr double kOneInHundredShare = 0.01;
// [mm/mm] A gap that changes less than this with the holes does not change with them.
constexpr double kLevelSlope = 1e-9;
// [mm] By how much a pivot is moved to see how the angle at which the linkage turns back goes with
// it: differences of a closed form.
constexpr double kPivotStep_mm = 1e-3;
// [-] A normal distribution's deviate is sought between these, in so many halvings.
constexpr double kFarDeviate = 8.0;
constexpr int kDeviateHalvings = 60;
// [mm] Slabs whose gap is this much larger than the least one are not looked at again per build
// (plus six standard deviations).
constexpr double kOtherSpots_mm = 1.0;
constexpr std::size_t kBlock = 250;
constexpr double kInfinite = std::numeric_limits<double>::infinity();
// [rad] Around a tightest angle a build is looked at this far to both sides.
constexpr double kBeside_rad = 0.03;

// Normal numbers from a 64-bit generator by Box and Muller: the same everywhere.
class Normal {
 public:
  explicit Normal(std::uint64_t seed) : random_(seed) {}
  double operator()() {
    const double u = (static_cast<double>(random_() >> 11) + 0.5) * 0x1.0p-53;
    const double v = static_cast<double>(random_() >> 11) * 0x1.0p-53;
    return std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * kPi * v);
  }

 private:
  std::mt19937_64 random_;
};

// A pair of slabs of lid and case at its tightest.
struct Spot {
  PartPair pair;
  double theta_rad, gap_mm;
  Vec2 apart;  // unit, how the pair comes apart
};

// The angles to look at: every spot's own and a little to both sides, each stretch of
// kBeside_rad only once.
std::vector<double> AnglesOf(const std::vector<Spot>& spots, double from, double open) {
  std::vector<double> angles;
  for (const Spot& spot : spots) {
    for (const double beside : {-kBeside_rad, 0.0, kBeside_rad}) {
      angles.push_back(std::clamp(spot.theta_rad + beside, from, open));
    }
  }
  std::sort(angles.begin(), angles.end());
  angles.erase(std::unique(angles.begin(), angles.end(),
                           [](double a, double b) { return b - a < kBeside_rad / 3.0; }),
               angles.end());
  return angles;
}

double Percentile(std::vector<double> values, double share) {
  const auto at = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(at), values.end());
  return values[at];
}

// Every error: eight pivot numbers, then shift forward and up and turn of case plate and lid plate,
// then the arms' lengths.
constexpr std::size_t kErrors = 16, kArms = 14;
using Errors = std::array<double, kErrors>;
const std::array<const char*, kErrors> kNames{"case pivot of arm A, forward",
                                              "case pivot of arm A, up",
                                              "case pivot of arm B, forward",
                                              "case pivot of arm B, up",
                                              "lid pivot of arm A, forward",
                                              "lid pivot of arm A, up",
                                              "lid pivot of arm B, forward",
                                              "lid pivot of arm B, up",
                                              "case plate, forward",
                                              "case plate, up",
                                              "case plate, turned",
                                              "lid plate, forward",
                                              "lid plate, up",
                                              "lid plate, turned",
                                              "arm A, length",
                                              "arm B, length"};
// Is it an error of a plate that the job does without?
bool OfAbsentPlate(std::size_t error, const PlateWish& plates) {
  return (!plates.on_case && error >= 8 && error < 11) ||
         (!plates.on_lid && error >= 11 && error < 14);
}
bool Turns(std::size_t error) {
  return error == 10 || error == 13;
}

// How each error moves the pivots. A longer arm, fixed in place, has its lid pivot farther out.
std::array<std::array<double, 8>, kErrors> PivotMoves(const Pivots& pivots) {
  std::array<std::array<double, 8>, kErrors> moves{};
  for (std::size_t k = 0; k < 8; ++k) moves[k][k] = 1.0;
  for (const bool lid : {false, true}) {
    const auto plate = PlateMoves(pivots, lid);
    std::copy(plate.begin(), plate.end(), moves.begin() + (lid ? 11 : 8));
  }
  const Vec2 a = (pivots.lid_a - pivots.case_a).normalized();
  const Vec2 b = (pivots.lid_b - pivots.case_b).normalized();
  moves[14][4] = a.x();
  moves[14][5] = a.y();
  moves[15][6] = b.x();
  moves[15][7] = b.y();
  return moves;
}

// The lid's shift at an angle per unit of each error.
std::array<Vec2, kErrors> Shifts(const LidMotion& motion, double theta, Fixing fixing) {
  const auto moves = PivotMoves(motion.pivots());
  const auto by_pivot = LidShift(motion, theta, fixing);
  std::array<Vec2, kErrors> shifts;
  for (std::size_t i = 0; i < kErrors; ++i) {
    shifts[i] = Vec2::Zero();
    for (std::size_t k = 0; k < 8; ++k) shifts[i] += moves[i][k] * by_pivot[k];
  }
  if (fixing == Fixing::kInJig) return shifts;
  const auto by_arm = LidShiftOfArms(motion, theta);
  shifts[14] = by_arm[0];
  shifts[15] = by_arm[1];
  return shifts;
}

std::vector<ErrorEffect> EffectsOf(const LidMotion& motion, const PlateWish& plates,
                                   double tightest, const Vec2& apart, double open) {
  const auto place = Shifts(motion, tightest, Fixing::kInJig);
  const auto measure = Shifts(motion, tightest, Fixing::kByMeasure);
  const auto seam = Shifts(motion, 0.0, Fixing::kByMeasure);
  const auto open_place = Shifts(motion, open, Fixing::kInJig);
  const auto open_measure = Shifts(motion, open, Fixing::kByMeasure);
  std::vector<ErrorEffect> effects;
  for (std::size_t i = 0; i < kErrors; ++i) {
    if (OfAbsentPlate(i, plates)) continue;
    effects.push_back({kNames[i], Turns(i), apart.dot(place[i]), apart.dot(measure[i]), seam[i],
                       open_place[i], open_measure[i]});
  }
  return effects;
}

void AddRattle(const LidMotion& motion, double open, const BuildOptions& options,
               Accuracy& accuracy) {
  if (!options.front_edge) return;
  accuracy.play_mm = options.play_mm;
  constexpr int kAngles = 90;
  for (int i = 0; i <= kAngles; ++i) {
    const double theta = open * i / kAngles;
    const double rattle =
        2.0 * options.play_mm * EdgePerArmPlay(motion, theta, *options.front_edge);
    if (i > 0 && rattle <= accuracy.rattle_mm) continue;
    accuracy.rattle_mm = rattle;
    accuracy.rattle_rad = theta;
  }
}

// Builds whose plates are placed by measuring: the gap to first order, the hinge itself exactly.
class Placings {
 public:
  Placings(const LidMotion& motion, const Job& job, const std::vector<Spot>& spots)
      : designed_(AsDesigned(motion)) {
    const Pivots& p = motion.pivots();
    const double drill = job.shop.drill_error_mm, place = job.shop.place_error_mm;
    deviation_.fill(drill);
    deviation_[8] = deviation_[9] = deviation_[11] = deviation_[12] = std::sqrt(0.5) * place;
    deviation_[10] = std::sqrt(2.0) * place / (p.case_a - p.case_b).norm();
    deviation_[13] = std::sqrt(2.0) * place / (p.lid_a - p.lid_b).norm();
    deviation_[14] = deviation_[15] = std::sqrt(2.0) * drill;
    for (std::size_t i = 0; i < kErrors; ++i) {
      if (OfAbsentPlate(i, job.plates)) deviation_[i] = 0.0;
    }
    for (const Spot& spot : spots) {
      const auto shifts = Shifts(motion, spot.theta_rad, Fixing::kByMeasure);
      Errors slope{};
      for (std::size_t i = 0; i < kErrors; ++i) slope[i] = spot.apart.dot(shifts[i]);
      gaps_.emplace_back(spot.gap_mm, slope);
    }
  }
  double Deviation(std::size_t error) const { return deviation_[error]; }
  BuiltHinge Built(const Errors& errors) const {
    BuiltHinge built = designed_;
    const auto place = [&](Vec2& a, Vec2& b, std::size_t hole, std::size_t plate) {
      const Vec2 middle = (a + b) / 2.0;
      const Pose turn = Pose::About(middle, errors[plate + 2]);
      const Vec2 shift(errors[plate], errors[plate + 1]);
      a = turn * a + shift + Vec2(errors[hole], errors[hole + 1]);
      b = turn * b + shift + Vec2(errors[hole + 2], errors[hole + 3]);
    };
    place(built.pivots.case_a, built.pivots.case_b, 0, 8);
    place(built.pivots.lid_a, built.pivots.lid_b, 4, 11);
    built.arm_a_mm += errors[kArms];
    built.arm_b_mm += errors[kArms + 1];
    return built;
  }
  double Gap(const Errors& errors) const {
    double least = std::numeric_limits<double>::infinity();
    for (const auto& [gap, slope] : gaps_) {
      least = std::min(least, std::inner_product(errors.begin(), errors.end(), slope.begin(), gap));
    }
    return std::max(0.0, least);
  }

 private:
  BuiltHinge designed_;
  Errors deviation_{};
  std::vector<std::pair<double, Errors>> gaps_;
};

double Spread(const std::array<double, 8>& slope) {
  return std::sqrt(std::inner_product(slope.begin(), slope.end(), slope.begin(), 0.0));
}

// The slabs of one kind, each on its own.
std::deque<PartTree> SlabsOf(const Assembly& assembly, PartKind kind) {
  std::deque<PartTree> slabs;
  for (const PartTree* tree : assembly.Shapes(kind)) {
    for (const Part& part : tree->parts()) slabs.emplace_back(part);
  }
  return slabs;
}
std::vector<const PartTree*> PointersTo(const std::deque<PartTree>& trees) {
  std::vector<const PartTree*> pointers;
  for (const PartTree& tree : trees) pointers.push_back(&tree);
  return pointers;
}

// Every pair of slabs of lid and case; `tightest` is the one that comes nearest.
std::vector<Spot> SpotsOf(const std::vector<PartPair>& pairs, const Swing& moving,
                          GapReport& tightest) {
  std::vector<Spot> spots;
  for (const PartPair& pair : pairs) {
    const GapReport report = LeastGap(moving, {pair});
    LW_REQUIRE(report.proven(), "a lid that does not clear has no accuracy");
    const Nearness& n = *report.nearest;
    spots.push_back({pair, n.at, n.gap_mm, (n.on_first - n.on_second) / n.gap_mm});
    if (!tightest.nearest || n.gap_mm < tightest.nearest->gap_mm) tightest = report;
  }
  LW_REQUIRE(tightest.nearest.has_value(), "lid and case share no stretch of the width");
  return spots;
}

// [rad/mm] Standard deviation of the angle at which the linkage turns back, per mm of error of
// every pivot number.
double TurnBackSpread(const LidMotion& motion) {
  const PivotNumbers designed = NumbersOf(motion.pivots());
  double squares = 0.0;
  for (std::size_t k = 0; k < designed.size(); ++k) {
    PivotNumbers more = designed, less = designed;
    more[k] += kPivotStep_mm;
    less[k] -= kPivotStep_mm;
    const auto far = LidMotion::Make(PivotsOf(more.data()));
    const auto near = LidMotion::Make(PivotsOf(less.data()));
    if (!far || !near) return std::numeric_limits<double>::infinity();
    const double slope = (far->Range().high_rad - near->Range().high_rad) / (2.0 * kPivotStep_mm);
    squares += slope * slope;
  }
  return std::sqrt(squares);
}

// How many standard deviations under its mean a normal number lies in this share of all draws.
double DeviateOf(double share) {
  double low = 0.0, high = kFarDeviate;
  for (int i = 0; i < kDeviateHalvings; ++i) {
    const double middle = (low + high) / 2.0;
    (0.5 * std::erfc(middle / std::sqrt(2.0)) > share ? low : high) = middle;
  }
  return low;
}

void AddSlopes(const LidMotion& motion, const Spot& tightest, double open, Accuracy& accuracy) {
  const auto shift = LidShift(motion, tightest.theta_rad, Fixing::kInJig);
  accuracy.worst_drop = 0.0;
  for (std::size_t k = 0; k < 8; ++k) {
    accuracy.gap_slope[k] = tightest.apart.dot(shift[k]);
    accuracy.worst_drop += std::abs(accuracy.gap_slope[k]);
  }
  accuracy.gap_spread = Spread(accuracy.gap_slope);
  double seam2 = 0.0;
  for (const Vec2& s : LidShift(motion, 0.0, Fixing::kByMeasure)) seam2 += s.squaredNorm();
  accuracy.seam_spread = std::sqrt(seam2);
  accuracy.error_it_stands_mm =
      std::min(accuracy.gap_mm / (kOneInHundred * std::max(accuracy.gap_spread, kLevelSlope)),
               (motion.Range().high_rad - open) /
                   (kOneInHundred * std::max(TurnBackSpread(motion), kLevelSlope)));
}

// First order looks at one spot and knows no bends: where the trial saw more than one build in a
// hundred fail, holes may be off by less than there, in proportion to the deviates.
void HeedTrial(Accuracy& accuracy) {
  const double failed = accuracy.FailingShare();
  if (failed <= kOneInHundredShare) return;
  accuracy.error_it_stands_mm = std::min(
      accuracy.error_it_stands_mm, accuracy.drill_error_mm * DeviateOf(failed) / kOneInHundred);
}

// Many builds of one hinge, each number of each written down on its own, so that threads share
// nothing.
class Trial {
 public:
  Trial(const Job& job, const LidMotion& motion, const std::vector<Spot>& spots,
        const std::vector<Spoilable>& spoilable, const std::vector<Spot>& looked_at,
        const BuildOptions& options)
      : job_(job),
        motion_(motion),
        placings_(motion, job, spots),
        spoilable_(spoilable),
        angles_(AnglesOf(looked_at, job.swing.gap_from_rad, job.swing.open_rad)),
        designed_(NumbersOf(motion.pivots())),
        count_(static_cast<std::size_t>(options.builds)),
        gaps_(count_, 0.0),
        jig_(count_, 0.0),
        measured_(count_, 0.0),
        loose_(count_, 0.0),
        opens_(count_, 0),
        missed_(count_ * spoilable.size(), 0) {
    for (const Spot& spot : looked_at) pairs_.push_back({spot.pair});
    for (std::size_t a = 0; a < angles_.size(); ++a) {
      const BodiesAt bodies(motion, angles_[a]);
      origins_.push_back(motion.At(angles_[a]).X_CL.origin);
      for (std::size_t p = 0; p < pairs_.size(); ++p) {
        looks_.push_back({GapAt(bodies, pairs_[p])->gap_mm, a, p});
      }
    }
    std::stable_sort(looks_.begin(), looks_.end(),
                     [](const Look& a, const Look& b) { return a.gap_mm < b.gap_mm; });
    ParallelFor((count_ + kBlock - 1) / kBlock, options.threads, [&](std::size_t block) {
      Normal normal(options.seed * 0x9e3779b97f4a7c15ULL + block);
      for (std::size_t i = block * kBlock; i < std::min(count_, (block + 1) * kBlock); ++i) {
        Build(i, normal);
      }
    });
  }

  void Tell(Accuracy& accuracy) const {
    accuracy.touching_share = ShareOf([&](std::size_t i) { return opens_[i] && gaps_[i] <= 0.0; });
    accuracy.short_share = ShareOf([&](std::size_t i) { return opens_[i] && Short(i); });
    accuracy.unopened_share = ShareOf([&](std::size_t i) { return !opens_[i]; });
    accuracy.missed_share = ShareOf([&](std::size_t i) {
      const auto from = missed_.begin() + static_cast<std::ptrdiff_t>(i * spoilable_.size());
      const auto to = from + static_cast<std::ptrdiff_t>(spoilable_.size());
      return !opens_[i] || Short(i) || std::find(from, to, 1) != to;
    });
    std::vector<double> gaps;
    for (std::size_t i = 0; i < count_; ++i) {
      if (opens_[i]) gaps.push_back(gaps_[i]);
    }
    if (!gaps.empty()) accuracy.gap_5_percent_mm = Percentile(std::move(gaps), 0.05);
    accuracy.seam_jig_mm = OneInTwenty(jig_);
    accuracy.seam_measured_mm = OneInTwenty(measured_);
    accuracy.stuck_jig_share = ShareOf([&](std::size_t i) { return jig_[i] == kInfinite; });
    accuracy.stuck_measured_share =
        ShareOf([&](std::size_t i) { return measured_[i] == kInfinite; });
    accuracy.gap_measured_mm = Percentile(loose_, 0.05);
    TellMissed(accuracy.missed);
    const MissedShare lid{Requirement::kLidToCase, Member::kNone, accuracy.short_share};
    if (lid.share > 0.0) accuracy.missed.push_back(lid);
    std::stable_sort(accuracy.missed.begin(), accuracy.missed.end(),
                     [](const MissedShare& a, const MissedShare& b) { return a.share > b.share; });
  }

 private:
  bool Short(std::size_t i) const { return gaps_[i] <= job_.swing.gap_mm; }

  void Build(std::size_t i, Normal& normal) {
    PivotNumbers built = designed_, holes{};
    Errors errors{};
    for (std::size_t k = 0; k < 8; ++k) {
      built[k] += errors[k] = holes[k] = job_.shop.drill_error_mm * normal();
    }
    for (std::size_t k = 8; k < kErrors; ++k) errors[k] = placings_.Deviation(k) * normal();
    measured_[i] = Misfit(errors);
    loose_[i] = placings_.Gap(errors);
    for (std::size_t k = 8; k < kArms; ++k) errors[k] = 0.0;  // the plates lie in the jig
    jig_[i] = Misfit(errors);
    const auto lid = LidMotion::Make(PivotsOf(built.data()));
    if (!lid || lid->Range().high_rad <= job_.swing.open_rad) return;
    opens_[i] = 1;
    gaps_[i] = GapOf(*lid);
    for (std::size_t s = 0; s < spoilable_.size(); ++s) {
      missed_[i * spoilable_.size() + s] = spoilable_[s].Missed(holes);
    }
  }

  // The least gap at the angles that are looked at. A built lid at an angle is the designed one
  // shifted, so that no pair comes nearer than it was designed by more than the shift.
  double GapOf(const LidMotion& lid) const {
    std::vector<double> shift;
    for (std::size_t a = 0; a < angles_.size(); ++a) {
      shift.push_back((lid.At(angles_[a]).X_CL.origin - origins_[a]).norm());
    }
    double gap = kInfinite;
    for (const Look& look : looks_) {
      if (look.gap_mm - shift[look.angle] > gap) continue;
      gap = std::min(gap, GapAt(BodiesAt(lid, angles_[look.angle]), pairs_[look.pair])->gap_mm);
      if (gap <= 0.0) return 0.0;
    }
    return gap;
  }

  // Farther off than any if it cannot be shut.
  double Misfit(const Errors& errors) const {
    const FlatRim rim{-job_.case_form.back_bow_mm,
                      job_.case_form.depth_mm + job_.case_form.front_bow_mm, job_.swing.open_rad};
    const auto shut = ShutOf(motion_, placings_.Built(errors), rim);
    return shut ? shut->off_mm : kInfinite;
  }

  template <typename Fails>
  double ShareOf(const Fails& fails) const {
    std::size_t failed = 0;
    for (std::size_t i = 0; i < count_; ++i) failed += fails(i) ? 1 : 0;
    return static_cast<double>(failed) / static_cast<double>(count_);
  }

  void TellMissed(std::vector<MissedShare>& missed) const {
    for (std::size_t s = 0; s < spoilable_.size(); ++s) {
      const double share =
          ShareOf([&](std::size_t i) { return missed_[i * spoilable_.size() + s] != 0; });
      if (share > 0.0) missed.push_back({spoilable_[s].what, spoilable_[s].of, share});
    }
  }

  static double OneInTwenty(const std::vector<double>& off) {
    const double far = Percentile(off, 0.95);
    return far < kInfinite ? far : kUnset;
  }

  const Job& job_;
  const LidMotion& motion_;
  Placings placings_;
  const std::vector<Spoilable>& spoilable_;
  std::vector<double> angles_;
  struct Look {
    double gap_mm;  // as designed
    std::size_t angle, pair;
  };
  std::vector<std::vector<PartPair>> pairs_;  // each on its own
  std::vector<Vec2> origins_;                 // of the designed lid at the angles
  std::vector<Look> looks_;                   // nearest first
  PivotNumbers designed_;
  std::size_t count_;
  std::vector<double> gaps_, jig_, measured_, loose_;
  std::vector<char> opens_, missed_;  // of each build; of each build and requirement
};

}  // namespace

Accuracy AccuracyOf(const Job& job, const Assembly& assembly, const Limits& limits,
                    const LidMotion& motion, const BuildOptions& options) {
  LW_REQUIRE(options.builds > 0, "builds=" << options.builds);
  Accuracy accuracy;
  GapReport tightest;
  const std::deque<PartTree> lid = SlabsOf(assembly, PartKind::kLid);
  const std::deque<PartTree> case_slabs = SlabsOf(assembly, PartKind::kCase);
  const std::vector<Spot> spots =
      SpotsOf(PairsBetween(PointersTo(lid), PointersTo(case_slabs)),
              Swing(motion, limits.gap_from_rad, limits.open_rad), tightest);
  const Nearness& near = *tightest.nearest;
  accuracy.gap_mm = *tightest.bound_mm;
  const auto at = std::min_element(
      spots.begin(), spots.end(), [](const Spot& a, const Spot& b) { return a.gap_mm < b.gap_mm; });
  AddSlopes(motion, *at, limits.open_rad, accuracy);
  accuracy.effects = EffectsOf(motion, job.plates, near.at, at->apart, limits.open_rad);
  AddRattle(motion, limits.open_rad, options, accuracy);
  accuracy.builds = options.builds;
  accuracy.place_error_mm = job.shop.place_error_mm;
  accuracy.drill_error_mm = job.shop.drill_error_mm;
  const double six = 6.0 * job.shop.drill_error_mm;  // standard deviations: farther than any build
  const double reach = near.gap_mm + kOtherSpots_mm + six * accuracy.gap_spread;
  std::vector<Spot> looked_at;
  std::copy_if(spots.begin(), spots.end(), std::back_inserter(looked_at),
               [&](const Spot& s) { return s.gap_mm <= reach; });
  const std::vector<Spoilable> spoilable = SpoiltByHoles(assembly, motion, limits, six);
  Trial(job, motion, spots, spoilable, looked_at, options).Tell(accuracy);
  HeedTrial(accuracy);
  return accuracy;
}

}  // namespace lidwright
