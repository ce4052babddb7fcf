// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/soft_shut.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/forces/virtual_work.h"

namespace lidwright {
namespace {

constexpr int kSteps = 1500;
constexpr int kBisections = 60;
constexpr double kMmPerM = 1000.0;
// [kg mm²/s²] in a joule, and in a newton millimetre.
constexpr double kPerJoule = 1e6, kPerNmm = 1e3;
// [1] Of the pad's thickness it may be pressed.
constexpr double kHalf = 0.5;
constexpr int kReleases = 12;

double Between(const std::vector<double>& x, const std::vector<double>& y, double at) {
  const auto above = std::lower_bound(x.begin(), x.end(), at);
  if (above == x.begin()) return y.front();
  if (above == x.end()) return y.back();
  const auto i = static_cast<std::size_t>(above - x.begin());
  const double t = (at - x[i - 1]) / (x[i] - x[i - 1]);
  return (1.0 - t) * y[i - 1] + t * y[i];
}

// What acts at one angle: drive and brake of the lid's angle, and its inertia.
struct Acting {
  double drive = 0.0;    // [kg mm²/s²] shuts
  double resists = 0.0;  // [kg mm²/s²] friction
  double brakes = 0.0;   // [kg mm²/s] per speed
  double inertia = 0.0;  // [kg mm²]
  double edge_mm = 0.0;  // way of the front edge per radian
  double torque = 0.0;   // [N·mm s] on the most loaded damper, per speed
};

class Fall {
 public:
  Fall(const LoadCase& load, const LidMotion& motion, const Vec2& front, const LiftCurve& curve,
       const std::vector<LidDamper>& dampers)
      : load_(load), motion_(motion), front_(front), curve_(curve), dampers_(dampers) {}

  Acting At(double theta) const {
    const LidState state = motion_.At(theta);
    Acting acting;
    acting.drive = kPerNmm * Between(curve_.theta_rad, curve_.moment_nmm, theta);
    acting.resists = kPerNmm * Between(curve_.theta_rad, curve_.friction_nmm, theta);
    acting.inertia = MovingInertia_kg_mm2(motion_, state, load_);
    acting.edge_mm = VelocityOf(motion_, state, Body::kLid, state.X_CL * front_).norm();
    for (const LidDamper& damper : dampers_) {
      if (theta > damper.below_rad) continue;
      const double rate = JointRate(state, damper.joint);
      acting.brakes += 2.0 * kPerNmm * damper.rate_nmm_s * rate * rate;
      acting.torque = std::max(acting.torque, damper.rate_nmm_s * std::abs(rate));
    }
    return acting;
  }

  Shutting From(double from, int steps) const {
    Shutting shutting;
    const double step = from / steps;
    double energy = 0.0, speed = 0.0;
    for (int i = 1; i <= steps; ++i) {
      const double theta = from - i * step;
      const Acting acting = At(std::max(0.0, theta));
      energy = Next(energy, step, acting);
      if (energy <= 0.0) {
        shutting.rest_rad = theta + step;
        return shutting;
      }
      const double now = std::sqrt(2.0 * energy / acting.inertia);
      shutting.time_s += 2.0 * step / (speed + now);
      speed = now;
      shutting.fastest_m_s = std::max(shutting.fastest_m_s, now * acting.edge_mm / kMmPerM);
      shutting.speed_m_s = now * acting.edge_mm / kMmPerM;
      shutting.damper_nmm = std::max(shutting.damper_nmm, acting.torque * now);
    }
    shutting.shuts = true;
    shutting.energy_j = energy / kPerJoule;
    return shutting;
  }

 private:
  // The energy after a step that solves E = before + step (drive − friction − brakes ω(E)), or
  // nothing left.
  static double Next(double before, double step, const Acting& a) {
    const double free = before + step * (a.drive - a.resists);
    if (free <= 0.0) return 0.0;
    double low = 0.0, high = free;
    for (int i = 0; i < kBisections; ++i) {
      const double middle = (low + high) / 2.0;
      const double lost = step * a.brakes * std::sqrt(2.0 * middle / a.inertia);
      (middle + lost > free ? high : low) = middle;
    }
    return (low + high) / 2.0;
  }

  const LoadCase& load_;
  const LidMotion& motion_;
  const Vec2 front_;
  const LiftCurve& curve_;
  const std::vector<LidDamper>& dampers_;
};

}  // namespace

Shutting ShutFrom(double from_rad, const LoadCase& load, const LidMotion& motion,
                  const Vec2& front_edge, const LiftCurve& curve,
                  const std::vector<LidDamper>& dampers) {
  LW_REQUIRE(from_rad > 0.0 && from_rad <= curve.theta_rad.back(), "from=" << from_rad);
  const Fall fall(load, motion, front_edge, curve, dampers);
  const Shutting coarse = fall.From(from_rad, kSteps), fine = fall.From(from_rad, 2 * kSteps);
  if (!coarse.shuts || !fine.shuts) return fine;
  Shutting shutting = fine;  // the error halves with the step
  const auto extrapolate = [](double c, double f) { return std::max(0.0, 2.0 * f - c); };
  shutting.speed_m_s = extrapolate(coarse.speed_m_s, fine.speed_m_s);
  shutting.energy_j = extrapolate(coarse.energy_j, fine.energy_j);
  shutting.fastest_m_s = extrapolate(coarse.fastest_m_s, fine.fastest_m_s);
  shutting.time_s = extrapolate(coarse.time_s, fine.time_s);
  return shutting;
}

std::optional<DamperChoice> ChooseDamper(const LoadCase& load, const LidMotion& motion,
                                         const Vec2& front_edge, const LiftCurve& curve) {
  const double open = curve.theta_rad.back();
  for (const StockDamper& damper : StockDampers()) {
    std::optional<DamperChoice> best;
    for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
      DamperChoice choice{damper, {joint, damper.rate_nmm_s}, {}};
      bool soft = true;
      for (int i = 1; i <= kReleases && soft; ++i) {
        const Shutting now =
            ShutFrom(open * i / kReleases, load, motion, front_edge, curve, {choice.at});
        if (now.speed_m_s > choice.shutting.speed_m_s || i == 1) choice.shutting = now;
        soft = (!now.shuts || now.speed_m_s <= kSoft_m_s) && now.damper_nmm <= damper.most_nmm;
      }
      if (soft && (!best || choice.shutting.speed_m_s < best->shutting.speed_m_s)) best = choice;
    }
    if (best) return best;
  }
  return std::nullopt;
}

Landing LandingOn(const StockPad& pad, double area_mm2, double energy_j) {
  LW_REQUIRE(area_mm2 > 0.0 && energy_j >= 0.0, "area=" << area_mm2);
  const double stiffness = pad.modulus_mpa * area_mm2 / pad.thickness_mm;  // [N/mm]
  Landing landing;
  landing.pressed_mm = std::sqrt(2.0 * kMmPerM * energy_j / stiffness);
  landing.force_n = stiffness * landing.pressed_mm;
  landing.hard = landing.pressed_mm > kHalf * pad.thickness_mm;
  return landing;
}

double PadArea_mm2(const StockPad& pad, double energy_j) {
  // ½ (E A / t) (t / 2)² = energy.
  return 8.0 * kMmPerM * energy_j / (pad.modulus_mpa * pad.thickness_mm);
}

}  // namespace lidwright
