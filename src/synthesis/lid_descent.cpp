// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_descent.h"

#include <limits>

#include "lid_walk.h"
#include "lidwright/synthesis/least_squares.h"
#include "lidwright/synthesis/linear_program.h"

namespace lidwright {
namespace {

using lid_walk::Jet8;
using lid_walk::ValueOf;
using Slope = Eigen::Matrix<double, 8, 1>;

// [mm] The box round a step grows up to this, and a step is not tried below that.
constexpr double kWidest_mm = 16.0;
constexpr double kNarrowest_mm = 0.02;
// [–] A step is taken if this share of its promise comes true; the box grows from that share on.
constexpr double kTaken = 0.1, kKept = 0.7;
constexpr double kGrow = 2.0, kShrink = 0.35;
// Least squares come first where more is missed than this [mm], so many steps at most, while a step
// gains this share; a miss weighs so much [1/mm].
constexpr double kNearlyKept_mm = 0.3;
constexpr int kApproachSteps = 20;
constexpr double kApproachGain = 1e-2;
constexpr double kApproachWeight = 3.0;
// [–] Smaller shares of the merit are left out of them: a root has no slope at 0.
constexpr double kFaint = 0.02;
// [count] Directions for the misfit.
constexpr int kDirections = 24;
// [count] Places whose slopes are minded at a time.
constexpr std::size_t kTangents = 4;
// Figures, each with an unknown of its own that is the largest of its values, never below 0.
constexpr int kMosts = 9;
enum { kRattle, kMisfit, kLift, kBehind, kArms, kHang, kBench, kLeant, kPost };

// Where a guide has the least room: the slice, and what it is near to there.
struct LeastRoom {
  LidSpace::Look look;
  std::size_t slice = 0;
  bool in_lid = false;
  int pin = -1;
};

template <typename L>
auto ArmVector(const L& loop, std::size_t arm) -> decltype(L::case_a) {
  return arm == 0 ? decltype(L::case_a)(loop.lid_a - loop.case_a)
                  : decltype(L::case_a)(loop.lid_b - loop.case_b);
}

// The guides of arms and plates at one set of pivots, `x`.
template <typename T>
class GuidedWays {
 public:
  GuidedWays(const LidSpace& space, const ArmWays& ways, const T* x)
      : space_(space), ways_(ways), x_(x), loops_(Room()) {
    for (std::size_t i = 0; i < 8; ++i) plain_[i] = ValueOf(x[i]);
    side_ = SideOf(plain_.data());
    loops_.clear();
    for (const LidSpace::Slice& slice : space.slices()) {
      loops_.emplace_back(plain_.data(), slice.cosine, slice.sine, side_);
      if (!loops_.back().valid) return;
    }
    opens_ = true;
  }

  /// Does the loop close at every slice? Else there is nothing to be told.
  bool opens() const { return opens_; }

  /// What an arm's guide lacks [mm].
  T ArmLacks(std::size_t arm, const Vec2& place) const {
    const LeastRoom worst = ArmRoom(arm, place);
    if (worst.look.gap >= ways_.arm_need_mm()) return T(-ways_.arm_need_mm());
    const Loop<T> loop = LoopAt(worst.slice);
    const V r = ArmVector(loop, arm), pivot = arm == 0 ? loop.case_a : loop.case_b;
    const V at = pivot + T(place.x()) * r + T(place.y()) * Perp(r);
    return T(ways_.arm_need_mm()) - lid_walk::Carried(worst.look.gap, worst.look.away,
                                                      worst.in_lid ? V(at - loop.origin) : at);
  }

  /// What a plate's guide lacks [mm].
  T PlateLacks(std::size_t arm, const Vec2& place) const {
    const LeastRoom worst = PlateRoom(arm, place);
    if (worst.look.gap >= ways_.plate_need_mm()) return T(-ways_.plate_need_mm());
    const LidSpace::Slice& slice = space_.slices()[worst.slice];
    const Loop<T> loop = LoopAt(worst.slice);
    const V shut = (arm == 0 ? loop.closed_a : loop.closed_b) + place.cast<T>();
    const T c(slice.cosine), s(slice.sine);
    const V at = loop.origin + V(c * shut.x() - s * shut.y(), s * shut.x() + c * shut.y());
    const V from = worst.pin < 0 ? at : V(at - (worst.pin == 0 ? loop.case_a : loop.case_b));
    return T(ways_.plate_need_mm()) - lid_walk::Carried(worst.look.gap, worst.look.away, from);
  }

 private:
  using V = Eigen::Matrix<T, 2, 1>;

  // Kept from call to call: descents ask thousands of times.
  static std::vector<Loop<double>>& Room() {
    thread_local std::vector<Loop<double>> loops;
    return loops;
  }

  Loop<T> LoopAt(std::size_t slice) const {
    return Loop<T>(x_, space_.slices()[slice].cosine, space_.slices()[slice].sine, side_);
  }

  LeastRoom ArmRoom(std::size_t arm, const Vec2& place) const {
    const auto& slices = space_.slices();
    LeastRoom worst{{ways_.arm_need_mm(), Vec2::Zero()}};
    for (std::size_t k = 0; k < slices.size(); ++k) {
      const Vec2 r = ArmVector(loops_[k], arm),
                 pivot = arm == 0 ? loops_[k].case_a : loops_[k].case_b;
      const Vec2 at = pivot + place.x() * r + place.y() * Perp(r);
      const Pose X_CL{slices[k].cosine, slices[k].sine, loops_[k].origin};
      LidSpace::Look look = space_.InCase(at, worst.look.gap);
      if (look.gap < worst.look.gap) worst = {look, k, false, -1};
      look = space_.InLid(X_CL.TurnBack(at - X_CL.origin), worst.look.gap);
      if (look.gap < worst.look.gap) worst = {{look.gap, X_CL.Turn(look.away)}, k, true, -1};
    }
    return worst;
  }

  LeastRoom PlateRoom(std::size_t arm, const Vec2& place) const {
    const auto& slices = space_.slices();
    const Vec2 in_lid = Vec2(plain_[4 + 2 * arm], plain_[5 + 2 * arm]) + place;
    LeastRoom worst{{ways_.plate_need_mm(), Vec2::Zero()}};
    for (std::size_t k = 0; k < slices.size(); ++k) {
      const Vec2 at = Pose{slices[k].cosine, slices[k].sine, loops_[k].origin} * in_lid;
      const LidSpace::Look look = space_.InCase(at, worst.look.gap);
      if (look.gap < worst.look.gap) worst = {look, k, false, -1};
      for (int pin = 0; pin < 2; ++pin) {
        const Vec2 to = at - (pin == 0 ? loops_[k].case_a : loops_[k].case_b);
        const double gap = to.norm() - ways_.pin_mm();
        if (gap < worst.look.gap) worst = {{gap, to.normalized()}, k, false, pin};
      }
    }
    return worst;
  }

  const LidSpace& space_;
  const ArmWays& ways_;
  const T* x_;
  std::array<double, 8> plain_;
  double side_;
  std::vector<Loop<double>>& loops_;
  bool opens_ = false;
};

// What each guide lacks at the slice where it has the least room; false if the lid does not open.
template <typename T, typename Over>
bool AlongGuides(const LidSpace& space, const ArmWays& ways, const Guides& guides, const T* x,
                 const Over& over) {
  const GuidedWays<T> guided(space, ways, x);
  if (!guided.opens()) return false;
  for (std::size_t arm = 0; arm < 2; ++arm) {
    for (const Vec2& place : guides.arm[arm]) over(guided.ArmLacks(arm, place));
    for (const Vec2& place : guides.plate[arm]) over(guided.PlateLacks(arm, place));
  }
  return true;
}

// Everything the merit is made of at one point.
template <typename T>
struct Account {
  bool opens = false;
  std::vector<T> missed;                     // mm, reserve included
  std::array<std::vector<T>, kMosts> mosts;  // shares of the merit, of which the largest counts

  double Merit() const {
    double merit = 0.0;
    for (const std::vector<T>& all : mosts) {
      double most = 0.0;
      for (const T& share : all) most = std::max(most, ValueOf(share));
      merit += most;
    }
    return merit;
  }
  double Missed() const {
    double most = 0.0;
    for (const T& miss : missed) most = std::max(most, ValueOf(miss));
    return most;
  }
};

class Descending {
 public:
  Descending(const QuickJudge& judge, const ArmWays& ways, const DescentOptions& options)
      : judge_(judge), ways_(ways), options_(options), bounds_(BoundsOf(judge.task())) {}

  DescentSummary Run(const PivotNumbers& start) {
    DescentSummary summary;
    for (std::size_t i = 0; i < 8; ++i) {
      summary.x[i] = std::min(std::max(start[i], bounds_.low[i]), bounds_.high[i]);
    }
    Approach(summary.x);
    Account<double> here = Taken<double>(summary.x);
    if (!here.opens) return summary;
    double value = Value(here), box = options_.first_mm;
    summary.why = DescentEnd::kStepLimit;
    std::vector<Tangent> tangents;  // where the descent is, then where steps failed from there
    while (summary.steps < options_.most_steps) {
      ++summary.steps;
      if (tangents.empty()) tangents.push_back({summary.x, Taken<Jet8>(summary.x)});
      if (!tangents[0].account.opens) break;
      PivotNumbers next = summary.x;
      const double promise = value - Step(tangents, box, next);
      if (promise < options_.least_gain || box < kNarrowest_mm) {
        summary.why = DescentEnd::kSettled;
        break;
      }
      const Account<double> there = Taken<double>(next);
      const double gain = there.opens ? value - Value(there) : -1.0;
      if (gain >= kTaken * promise) {
        if (gain >= kKept * promise) box = std::min(kWidest_mm, kGrow * box);
        summary.x = next;
        value -= gain;
        here = there;
        tangents.clear();
        continue;
      }
      box *= kShrink;
      // Beyond an edge of the merit's other slopes hold: they are minded as well from now on.
      if (there.opens && tangents.size() < kTangents) {
        tangents.push_back({next, Taken<Jet8>(next)});
      }
    }
    summary.merit = here.Merit();
    summary.missed_mm = here.Missed();
    return summary;
  }

 private:
  template <typename T>
  static double Value(const Account<T>& account) {
    return account.Merit() + kPerMissed * account.Missed();
  }

  template <typename T>
  Account<T> Taken(const PivotNumbers& x) const {
    std::array<T, 8> numbers;
    for (int i = 0; i < 8; ++i) {
      const auto k = static_cast<std::size_t>(i);
      if constexpr (std::is_same_v<T, Jet8>) {
        numbers[k] = Jet8(x[k], i);
      } else {
        numbers[k] = x[k];
      }
    }
    Account<T> account;
    account.missed.reserve(300);
    const auto over = [&](const T& by) { account.missed.push_back(by + T(options_.reserve_mm)); };
    lid_walk::Felt<T> felt;
    account.opens = lid_walk::Walk<T>(
                        judge_.task(), judge_.use(), judge_.space(), numbers.data(), over,
                        [] { return false; }, felt) &&
                    AlongGuides(judge_.space(), ways_, options_.guides, numbers.data(), over);
    if (!account.opens) return account;
    const LidUse& use = judge_.use();
    const Leaning& lean = options_.leaning;
    const auto each = [&](int which, double weight, const std::vector<T>& values) {
      std::vector<T>& shares = account.mosts[static_cast<std::size_t>(which)];
      for (const T& v : values) shares.push_back(T(weight) * v);
    };
    each(kRattle, lean.rattle * 2.0 * use.play_mm / kRattleStep_mm, felt.play);
    each(kLift, lean.lift * use.weight_n / kLiftStep_n, felt.lift);
    each(kLift, -lean.lift * use.weight_n / kLiftStep_n, felt.lift);
    each(kBehind, lean.behind / kBehindStep_mm, felt.behind);
    each(kHang, -lean.hang / kHangStep_mm, {numbers[5], numbers[7]});
    if (use.bench) {
      for (T& height : felt.over_bench) height = T(kOverBench_mm) - height;
      each(kBench, lean.bench / kOverBenchStep_mm, felt.over_bench);
    }
    each(kArms, lean.arms / kArmsStep_mm, {felt.arms});
    each(kMisfit, lean.misfit / kMisfitStep_mm,
         {MisfitOneInTwenty(numbers.data(), use, kDirections)});
    each(kLeant, 1.0, {felt.leant});
    each(kPost, 1.0 / kPostStep_mm, {felt.post});
    return account;
  }

  struct Tangent {
    PivotNumbers x;
    Account<Jet8> account;
  };
  // Where much is missed, least squares first: every miss pulls, not only the worst.
  void Approach(PivotNumbers& x) const {
    const Account<double> start = Taken<double>(x);
    if (!start.opens || start.Missed() < kNearlyKept_mm) return;
    LeastSquaresProblem problem;
    problem.parameters = 8;
    problem.residuals = static_cast<int>(start.missed.size()) + kMosts;
    problem.low.assign(bounds_.low.begin(), bounds_.low.end());
    problem.high.assign(bounds_.high.begin(), bounds_.high.end());
    problem.evaluate = [this](const double* at, double* r, double* jacobian) {
      PivotNumbers numbers;
      std::copy(at, at + 8, numbers.begin());
      return jacobian ? Residuals<Jet8>(numbers, r, jacobian)
                      : Residuals<double>(numbers, r, jacobian);
    };
    LeastSquaresOptions options;
    options.max_iterations = kApproachSteps;
    options.function_tolerance = kApproachGain;
    options.parameter_tolerance = 1e-5;
    options.first_radius = 100.0;
    const LeastSquaresSummary end = Minimise(problem, {x.begin(), x.end()}, options);
    if (end.why != LeastSquaresEnd::kBadStart && end.why != LeastSquaresEnd::kFailed) {
      std::copy(end.x.begin(), end.x.end(), x.begin());
    }
  }

  // Half the sum of squares is the merit and what is missed, squared.
  template <typename T>
  bool Residuals(const PivotNumbers& x, double* r, double* jacobian) const {
    const Account<T> account = Taken<T>(x);
    if (!account.opens) return false;
    std::size_t row = 0;
    const auto tell = [&](const T& value) {
      if (r) r[row] = ValueOf(value);
      if constexpr (std::is_same_v<T, Jet8>) {
        for (std::size_t k = 0; k < 8; ++k) {
          jacobian[8 * row + k] = value.v[static_cast<Eigen::Index>(k)];
        }
      }
      ++row;
    };
    for (const T& miss : account.missed) {
      tell(ValueOf(miss) > 0.0 ? T(T(kApproachWeight) * miss) : T(0.0));
    }
    for (const std::vector<T>& shares : account.mosts) {
      const T* most = nullptr;
      for (const T& share : shares) {
        if (!most || ValueOf(share) > ValueOf(*most)) most = &share;
      }
      using std::sqrt;
      tell(most && ValueOf(*most) > kFaint ? T(sqrt(T(2.0) * *most)) : T(0.0));
    }
    return true;
  }

  // The moves of the numbers that are free, as shares of the box.
  struct FreeMoves {
    std::vector<Eigen::Index> free;
    std::vector<double> least, most;
    Eigen::Index count() const { return static_cast<Eigen::Index>(free.size()); }
  };
  // A value near x that an unknown is not to fall below.
  struct Line {
    double value;  // at x
    const Jet8* jet;
    Eigen::Index unknown;
  };
  FreeMoves MovesWithin(double box, const PivotNumbers& x) const;
  static std::vector<Line> LinesOf(const std::vector<Tangent>& tangents, double box,
                                   const PivotNumbers& x, Eigen::Index moves);
  // Solves the programme within the box round the first; the point it leads to and the value it
  // promises there.
  double Step(const std::vector<Tangent>& tangents, double box, PivotNumbers& x) const;

  const QuickJudge& judge_;
  const ArmWays& ways_;
  const DescentOptions& options_;
  const NumberBounds bounds_;
};

Descending::FreeMoves Descending::MovesWithin(double box, const PivotNumbers& x) const {
  FreeMoves moves;
  for (std::size_t i = 0; i < 8; ++i) {
    const double from = std::max(bounds_.low[i] - x[i], -box),
                 to = std::min(bounds_.high[i] - x[i], box);
    if (to - from < 1e-9) continue;
    moves.free.push_back(static_cast<Eigen::Index>(i));
    moves.least.push_back(from / box);
    moves.most.push_back(to / box);
  }
  return moves;
}

// All that may count somewhere in the box: what is missed, and of each figure what may be its
// largest value.
std::vector<Descending::Line> Descending::LinesOf(const std::vector<Tangent>& tangents, double box,
                                                  const PivotNumbers& x, Eigen::Index moves) {
  std::vector<Line> lines;
  const auto reach = [&](const Jet8& jet) { return box * jet.v.cwiseAbs().sum(); };
  for (const Tangent& tangent : tangents) {
    Slope back;
    for (std::size_t i = 0; i < 8; ++i) {
      back[static_cast<Eigen::Index>(i)] = x[i] - tangent.x[i];
    }
    // A slope met elsewhere says nothing above what is known to be true here.
    const auto value_here = [&](const std::vector<Jet8>& there, const std::vector<Jet8>& here,
                                std::size_t i) {
      return std::min(there[i].a + there[i].v.dot(back), here[i].a);
    };
    const std::vector<Jet8>&missed_here = tangents[0].account.missed,
          &missed_there = tangent.account.missed;
    for (std::size_t i = 0; i < missed_there.size(); ++i) {
      const double value = value_here(missed_there, missed_here, i);
      if (value + reach(missed_there[i]) > 0.0) {
        lines.push_back({value, &missed_there[i], moves + kMosts});
      }
    }
    for (std::size_t which = 0; which < kMosts; ++which) {
      const std::vector<Jet8>&here = tangents[0].account.mosts[which],
            &there = tangent.account.mosts[which];
      double floor = 0.0;
      for (const Jet8& jet : here) floor = std::max(floor, jet.a - reach(jet));
      for (std::size_t i = 0; i < there.size(); ++i) {
        const double value = value_here(there, here, i);
        if (value + reach(there[i]) > floor) {
          lines.push_back({value, &there[i], moves + static_cast<Eigen::Index>(which)});
        }
      }
    }
  }
  return lines;
}

// Unknowns: the moves of the numbers that are free, in boxes; the largest value of each figure; the
// most that is missed.
double Descending::Step(const std::vector<Tangent>& tangents, double box, PivotNumbers& x) const {
  const FreeMoves moves = MovesWithin(box, x);
  const Eigen::Index n = moves.count(), unknowns = n + kMosts + 1, missed = n + kMosts;
  const std::vector<Line> lines = LinesOf(tangents, box, x, n);
  LinearProgram program;
  const Eigen::Index rows = static_cast<Eigen::Index>(lines.size()) + 2 * n + kMosts + 1;
  program.rows.setZero(rows, unknowns);
  program.most.setZero(rows);
  program.cost.setZero(unknowns);
  Eigen::VectorXd inside = Eigen::VectorXd::Zero(unknowns);
  Eigen::Index row = 0;
  for (Eigen::Index k = 0; k < n; ++k) {
    const auto i = static_cast<std::size_t>(k);
    program.rows(row, k) = 1.0;
    program.most[row++] = moves.most[i];
    program.rows(row, k) = -1.0;
    program.most[row++] = -moves.least[i];
    const double margin = 0.05 * (moves.most[i] - moves.least[i]);
    inside[k] = std::min(std::max(0.0, moves.least[i] + margin), moves.most[i] - margin);
  }
  for (Eigen::Index k = n; k < unknowns; ++k) {
    program.rows(row++, k) = -1.0;  // none is less than nothing
    program.cost[k] = k == missed ? kPerMissed : 1.0;
  }
  for (const Line& line : lines) {
    for (Eigen::Index k = 0; k < n; ++k) {
      program.rows(row, k) = box * line.jet->v[moves.free[static_cast<std::size_t>(k)]];
    }
    program.rows(row, line.unknown) = -1.0;
    program.most[row] = -line.value;
    const double there = line.value + program.rows.row(row).head(n).dot(inside.head(n));
    inside[line.unknown] = std::max(inside[line.unknown], there);
    ++row;
  }
  inside.tail(kMosts + 1).array() += 0.5;
  const LinearSummary solved = SolveLinear(program, inside, 0.1 * options_.least_gain);
  for (Eigen::Index k = 0; k < n; ++k) {
    const auto i = static_cast<std::size_t>(moves.free[static_cast<std::size_t>(k)]);
    x[i] = std::min(std::max(x[i] + box * solved.z[k], bounds_.low[i]), bounds_.high[i]);
  }
  return program.cost.dot(solved.z);
}

}  // namespace

DescentSummary Descend(const QuickJudge& judge, const ArmWays& ways, const PivotNumbers& start,
                       const DescentOptions& options) {
  return Descending(judge, ways, options).Run(start);
}

}  // namespace lidwright
