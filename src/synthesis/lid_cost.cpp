// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_cost.h"

#include <ceres/jet.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "loop.h"

namespace lidwright {
namespace {

using Jet = ceres::Jet<double, 8>;
using JetVec = Eigen::Matrix<Jet, 2, 1>;
using Row = Eigen::Matrix<double, 1, 8>;

// [–] Arms nearer to parallel than this sine are pushed apart, with this weight in mm.
constexpr double kLeastArmsSine = 0.17;
constexpr double kArmsSineWeight_mm = 60.0;
// [mm] Pivots on one body stay at least this far apart.
constexpr double kPivotsApart_mm = 14.0;
// [–] Weight of a millimetre per radian of separating speed against a millimetre of gap.
constexpr double kRateWeight = 0.3;

JetVec Constant(const Vec2& v) {
  return {Jet(v.x()), Jet(v.y())};
}
Vec2 ValueOf(const JetVec& v) {
  return {v.x().a, v.y().a};
}
Row Slope(const JetVec& v, const Vec2& n) {
  return n.x() * v.x().v.transpose() + n.y() * v.y().v.transpose();
}

double SideOf(const double* x) {
  const Pivots p = PivotsOf(x);
  return Cross(Vec2(p.lid_a - p.case_a), Vec2(p.lid_b - p.case_b)) > 0.0 ? 1.0 : -1.0;
}

// Collects residuals, or only their squares.
class Sink {
 public:
  Sink(double* r, double* jacobian) : r_(r), jacobian_(jacobian) {}

  void Add(double value, const Row& slope) {
    if (!wishing) half_squares_ += value * value / 2.0;
    if (r_) r_[count_] = value;
    if (jacobian_) Eigen::Map<Row>(jacobian_ + 8 * count_) = slope;
    ++count_;
  }
  void Add(const Jet& value) { Add(value.a, value.v.transpose()); }
  /// max(0, value).
  void Over(double value, const Row& slope) {
    if (value > 0.0) {
      Add(value, slope);
    } else {
      Add(0.0, Row::Zero());
    }
  }
  void Over(const Jet& value) { Over(value.a, value.v.transpose()); }

  /// While set, what is added is a wish and does not count as violation.
  bool wishing = false;

  int count() const { return count_; }
  double half_squares() const { return half_squares_; }

 private:
  double* r_;
  double* jacobian_;
  int count_ = 0;
  double half_squares_ = 0.0;
};

}  // namespace

LidCost::LidCost(const LidTask& task, const Favour& favour, int angles)
    : task_(task), favour_(favour) {
  LW_REQUIRE(angles >= 3, "angles=" << angles);
  // Two before the gap is due, asking for a growing part of it, then evenly to open.
  for (const double share : {0.3, 0.65}) {
    samples_.push_back({share * task.gap_from_rad, 0.6 * share * task.gap_mm});
  }
  for (int i = 0; i < angles; ++i) {
    const double share = static_cast<double>(i) / (angles - 1);
    samples_.push_back({task.gap_from_rad + share * (task.open_rad - task.gap_from_rad),
                        task.gap_mm + favour.extra_gap_mm});
  }
  if (!std::isnan(favour.behind_x_mm)) {
    LW_REQUIRE(std::isfinite(favour.behind_x_mm), "behind=" << favour.behind_x_mm);
  }
  const int per_angle = 2 * static_cast<int>(task.sections.size()) + 3 + 4 + 2;
  residuals_ = per_angle * static_cast<int>(samples_.size()) +
               static_cast<int>(task.contacts.size()) + 1 + 2 + 2 + 4 + 3 +
               2 * static_cast<int>(task.poses.size());
}

bool LidCost::Evaluate(const double* x, double* r, double* jacobian) const {
  double violation = 0.0;
  return Add(x, r, jacobian, violation);
}

double LidCost::Missed(const double* x) const {
  double violation = 0.0;
  return Add(x, nullptr, nullptr, violation) ? violation : std::numeric_limits<double>::infinity();
}

bool LidCost::Add(const double* x, double* r, double* jacobian, double& violation) const {
  const double side = SideOf(x);
  std::array<Jet, 8> jets;
  for (int i = 0; i < 8; ++i) jets[static_cast<std::size_t>(i)] = Jet(x[i], i);
  const std::optional<LidMotion> motion = LidMotion::Make(PivotsOf(x));
  if (!motion || motion->Range().high_rad <= task_.open_rad) return false;
  Sink sink(r, jacobian);
  const double behind = std::isnan(favour_.behind_x_mm) ? task_.behind_x_mm : favour_.behind_x_mm;
  Jet lift_sum(0.0);
  const Jet play_target(favour_.play_target);
  JetVec case_a, case_b, closed_a, closed_b;
  double foremost = 0.0;
  Row foremost_slope = Row::Zero();
  for (const Sample& sample : samples_) {
    const Loop<Jet> loop(jets.data(), sample.theta_rad, side);
    if (!loop.valid) return false;
    case_a = loop.case_a;
    case_b = loop.case_b;
    closed_a = loop.closed_a;
    closed_b = loop.closed_b;
    const Pose X_CL = Pose::Make(sample.theta_rad, ValueOf(loop.origin));
    const double need = sample.need_mm;
    for (const KeySection& section : task_.sections) {
      EdgeBag::Query worst{need, Vec2::Zero()};
      for (const Vec2& p : section.lid_points) {
        const EdgeBag::Query query = section.case_edges.Within(X_CL * p, need);
        if (query.distance < worst.distance) worst = query;
      }
      sink.Over(need - worst.distance, -Slope(loop.origin, worst.away));
      worst = {need, Vec2::Zero()};
      for (const Vec2& p : section.case_points) {
        const EdgeBag::Query query = section.lid_edges.Within(X_CL.TurnBack(p - X_CL.origin), need);
        if (query.distance < worst.distance) worst = query;
      }
      sink.Over(need - worst.distance, Slope(loop.origin, X_CL.Turn(worst.away)));
    }
    // Wall behind, ceiling, bench: the hull's extreme points.
    double rearmost = 1e300, highest = -1e300, lowest = 1e300;
    foremost = -1e300;
    for (const Vec2& p : task_.lid_hull) {
      const Vec2 w = X_CL * p;
      rearmost = std::min(rearmost, w.x());
      foremost = std::max(foremost, w.x());
      highest = std::max(highest, w.y());
      lowest = std::min(lowest, w.y());
    }
    foremost_slope = Slope(loop.origin, Vec2::UnitX());
    const double margin = 0.7 * favour_.extra_gap_mm;
    sink.Over(std::isfinite(behind) ? behind - rearmost + margin : 0.0,
              -Slope(loop.origin, Vec2::UnitX()));
    sink.Over(std::isfinite(task_.above_y_mm) ? highest - task_.above_y_mm + margin : 0.0,
              Slope(loop.origin, Vec2::UnitY()));
    sink.Over(
        std::isfinite(task_.bench_y_mm) ? task_.bench_y_mm + task_.gap_mm - lowest + margin : 0.0,
        -Slope(loop.origin, Vec2::UnitY()));
    // Pivots among what passes them.
    const double pivot_need = task_.pivot_gap_mm + 1.2 * favour_.extra_gap_mm;
    for (const JetVec* ground : {&loop.case_a, &loop.case_b}) {
      EdgeBag::Query worst{pivot_need, Vec2::Zero()};
      const Vec2 in_lid = X_CL.TurnBack(ValueOf(*ground) - X_CL.origin);
      for (const EdgeBag& lid : task_.bay_lid) {
        const EdgeBag::Query query = lid.Within(in_lid, pivot_need);
        if (query.distance < worst.distance) worst = query;
      }
      sink.Over(pivot_need - worst.distance,
                -Slope(JetVec(*ground - loop.origin), X_CL.Turn(worst.away)));
    }
    for (const JetVec* lid_pivot : {&loop.lid_a, &loop.lid_b}) {
      EdgeBag::Query worst{pivot_need, Vec2::Zero()};
      for (const EdgeBag& box : task_.bay_case) {
        const EdgeBag::Query query = box.Within(ValueOf(*lid_pivot), pivot_need);
        if (query.distance < worst.distance) worst = query;
      }
      sink.Over(pivot_need - worst.distance, -Slope(*lid_pivot, worst.away));
    }
    sink.Over(Jet(kArmsSineWeight_mm) * (Jet(kLeastArmsSine) - Jet(side) * loop.ArmsSine()));
    const JetVec front = Constant(X_CL.Turn(task_.front_edge)) + loop.origin;
    sink.wishing = true;
    sink.Over(Jet(favour_.play) * (loop.PlayFactor(front) - play_target));
    sink.wishing = false;
    if (favour_.lift > 0.0) {
      const JetVec mass = Constant(X_CL.Turn(task_.mass_centre)) + loop.origin;
      const Jet rise = loop.VelocityAt(mass).y();
      const Jet travel2 = loop.VelocityAt(front).squaredNorm();
      lift_sum += rise * rise / travel2;
    }
  }
  // The last sample is the open lid.
  sink.Over(foremost - task_.access_x_mm + 0.5 * favour_.extra_gap_mm, foremost_slope);
  const Loop<Jet> shut(jets.data(), 0.0, side);
  for (const LidTask::Contact& contact : task_.contacts) {
    const JetVec velocity = shut.VelocityAt(Constant(contact.point));
    const Jet speed =
        Jet(contact.normal.x()) * velocity.x() + Jet(contact.normal.y()) * velocity.y();
    sink.Over(Jet(kRateWeight) * (Jet(task_.rate_mm) - speed));
  }
  sink.Over(Jet(kArmsSineWeight_mm) * (Jet(kLeastArmsSine) - Jet(side) * shut.ArmsSine()));
  sink.wishing = true;
  sink.Over(Jet(favour_.play) * (shut.PlayFactor(Constant(task_.front_edge)) - play_target));
  sink.wishing = false;
  using std::sqrt;
  const Jet apart(kPivotsApart_mm);
  sink.Over(apart - sqrt((case_a - case_b).squaredNorm() + Jet(1e-12)));
  sink.Over(apart - sqrt((closed_a - closed_b).squaredNorm() + Jet(1e-12)));
  const double pivot_need = task_.pivot_gap_mm + 1.2 * favour_.extra_gap_mm;
  const auto still = [&](const JetVec& pivot, const std::vector<EdgeBag>& outlines) {
    EdgeBag::Query worst{pivot_need, Vec2::Zero()};
    for (const EdgeBag& outline : outlines) {
      const EdgeBag::Query query = outline.Within(ValueOf(pivot), pivot_need);
      if (query.distance < worst.distance) worst = query;
    }
    sink.Over(pivot_need - worst.distance, -Slope(pivot, worst.away));
  };
  still(case_a, task_.bay_case);
  still(case_b, task_.bay_case);
  still(closed_a, task_.bay_lid);
  still(closed_b, task_.bay_lid);
  sink.wishing = true;
  const Jet arm_a = sqrt((closed_a - case_a).squaredNorm());
  const Jet arm_b = sqrt((closed_b - case_b).squaredNorm());
  sink.Add(Jet(favour_.arms * 0.01) * arm_a);
  sink.Add(Jet(favour_.arms * 0.01) * arm_b);
  sink.Add(Jet(favour_.lift) *
           sqrt(lift_sum / Jet(static_cast<double>(samples_.size())) + Jet(1e-12)));
  for (const PoseWish& pose : task_.poses) {
    const Loop<Jet> loop(jets.data(), pose.angle_rad, side);
    if (!loop.valid) return false;
    const Vec2 turned = Pose::Make(pose.angle_rad, Vec2::Zero()).Turn(pose.point);
    const Jet weight(1.0 / pose.within_mm);
    sink.Add(weight * (loop.origin.x() + Jet(turned.x() - pose.at.x())));
    sink.Add(weight * (loop.origin.y() + Jet(turned.y() - pose.at.y())));
  }
  violation = sink.half_squares();
  LW_REQUIRE(sink.count() == residuals_, "residuals " << sink.count() << " of " << residuals_);
  return true;
}

double LidCost::Violation(const double* x, double enough) const {
  const double infinite = std::numeric_limits<double>::infinity();
  const Pivots pivots = PivotsOf(x);
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  if (!motion || motion->Range().high_rad <= task_.open_rad) return infinite;
  const double behind = std::isnan(favour_.behind_x_mm) ? task_.behind_x_mm : favour_.behind_x_mm;
  double sum = 0.0;
  const auto over = [&](double value) {
    if (value > 0.0) sum += value * value / 2.0;
  };
  // The open pose first: it decides most often.
  for (auto sample = samples_.rbegin(); sample != samples_.rend() && sum < enough; ++sample) {
    const LidState state = motion->At(sample->theta_rad);
    double rearmost = 1e300, foremost = -1e300, highest = -1e300;
    for (const Vec2& p : task_.lid_hull) {
      const Vec2 w = state.X_CL * p;
      rearmost = std::min(rearmost, w.x());
      foremost = std::max(foremost, w.x());
      highest = std::max(highest, w.y());
    }
    if (sample == samples_.rbegin()) over(foremost - task_.access_x_mm);
    over(behind - rearmost);
    over(highest - task_.above_y_mm);
    for (const KeySection& section : task_.sections) {
      if (sum >= enough) break;
      double worst = sample->need_mm;
      for (const Vec2& p : section.case_points) {
        const Vec2 in_lid = state.X_CL.TurnBack(p - state.X_CL.origin);
        worst = std::min(worst, section.lid_edges.Within(in_lid, sample->need_mm).distance);
      }
      over(sample->need_mm - worst);
      worst = sample->need_mm;
      for (const Vec2& p : section.lid_points) {
        worst =
            std::min(worst, section.case_edges.Within(state.X_CL * p, sample->need_mm).distance);
      }
      over(sample->need_mm - worst);
    }
  }
  return sum;
}

LeastSquaresProblem LidCost::Problem() const {
  LeastSquaresProblem problem;
  problem.parameters = 8;
  problem.residuals = residuals_;
  problem.evaluate = [this](const double* x, double* r, double* jacobian) {
    return Evaluate(x, r, jacobian);
  };
  const PivotWish& wish = task_.pinned;
  const std::array<const std::optional<Vec2>*, 4> pins{&wish.case_a, &wish.case_b, &wish.lid_a,
                                                       &wish.lid_b};
  for (std::size_t k = 0; k < 4; ++k) {
    const Zone& zone = k < 2 ? task_.case_zone : task_.lid_zone;
    const Vec2 low = *pins[k] ? **pins[k] : zone.low, high = *pins[k] ? **pins[k] : zone.high;
    problem.low.insert(problem.low.end(), {low.x(), low.y()});
    problem.high.insert(problem.high.end(), {high.x(), high.y()});
  }
  return problem;
}

namespace {

template <typename Measure>
double WorstOver(const LidTask& task, const Measure& measure) {
  double worst = 0.0;
  const int steps = std::max(2, static_cast<int>(std::ceil(task.open_rad * kDegPerRad)));
  for (int i = 0; i <= steps; ++i) worst = std::max(worst, measure(task.open_rad * i / steps));
  return worst;
}

Loop<double> LoopAt(const Pivots& pivots, double theta_rad) {
  const PivotNumbers x = NumbersOf(pivots);
  return Loop<double>(x.data(), theta_rad, SideOf(x.data()));
}

}  // namespace

double LiftFactor(const LidTask& task, const Pivots& pivots, double theta_rad) {
  const Loop<double> loop = LoopAt(pivots, theta_rad);
  if (!loop.valid) return kUnset;
  const Pose X_CL = Pose::Make(theta_rad, loop.origin);
  return loop.VelocityAt(X_CL * task.mass_centre).y() /
         loop.VelocityAt(X_CL * task.front_edge).norm();
}

double WorstPlayFactor(const LidTask& task, const Pivots& pivots) {
  return WorstOver(task, [&](double theta) {
    const Loop<double> loop = LoopAt(pivots, theta);
    if (!loop.valid) return std::numeric_limits<double>::infinity();
    return loop.PlayFactor(Pose::Make(theta, loop.origin) * task.front_edge);
  });
}

double WorstLiftFactor(const LidTask& task, const Pivots& pivots) {
  return WorstOver(task, [&](double theta) { return std::abs(LiftFactor(task, pivots, theta)); });
}

}  // namespace lidwright
