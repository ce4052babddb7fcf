// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/grain.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/forces/columns.h"
#include "lidwright/forces/dowels.h"

namespace lidwright {
namespace {

constexpr int kCoarse_deg = 5, kFine_deg = 1;

// An angle to a line without sense, 0 … π/2.
double Acute(double angle) {
  const double turned = std::abs(std::remainder(angle, kPi));
  return std::min(turned, kPi / 2.0);
}

// StrengthAt every half degree, straight lines between: within 0.01 % of it.
class StrengthTable {
 public:
  explicit StrengthTable(const StrapMaterial& material) {
    for (int i = 0; i <= kSteps; ++i) {
      const StrapStrength s = StrengthAt(material, kPi / 2.0 * i / kSteps);
      rows_.push_back({s.bending_mpa, s.tension_mpa, s.compression_mpa, s.shear_mpa});
    }
  }
  StrapStrength At(double angle) const {
    const double place = Acute(angle) / (kPi / 2.0) * kSteps;
    const std::size_t i = std::min(static_cast<std::size_t>(place), std::size_t{kSteps - 1});
    const double t = place - static_cast<double>(i);
    const auto mix = [&](std::size_t k) { return (1.0 - t) * rows_[i][k] + t * rows_[i + 1][k]; };
    StrapStrength s;
    s.bending_mpa = mix(0);
    s.tension_mpa = mix(1);
    s.compression_mpa = mix(2);
    s.shear_mpa = mix(3);
    return s;
  }

 private:
  static constexpr int kSteps = 180;
  std::vector<std::array<double, 4>> rows_;
};

// What any of the loads does at one section that another does not outdo, whatever the strengths.
struct Worst {
  struct Bent {
    double bent_mpa = 0.0, direct_mpa = 0.0;  // bent most at an edge; N / A, pull positive
    std::size_t load = 0;
  };
  std::vector<Bent> bent;
  double shear_mpa = 0.0, radial_mpa = 0.0;
  std::size_t shear_load = 0, radial_load = 0;
};

// Keeps of loads that pull (or push) those that no other one bends and pulls (pushes) more.
void KeepUndone(std::vector<Worst::Bent> all, std::vector<Worst::Bent>& into) {
  std::stable_sort(all.begin(), all.end(), [](const Worst::Bent& a, const Worst::Bent& b) {
    return a.bent_mpa > b.bent_mpa;
  });
  double most = -1.0;
  for (const Worst::Bent& one : all) {
    if (std::abs(one.direct_mpa) <= most) continue;
    most = std::abs(one.direct_mpa);
    into.push_back(one);
  }
}

// A pin's push in an eye.
struct EyePush {
  EyeStress stress;
  Vec2 at = Vec2::Zero();
  double direction_rad = 0.0, diameter_mm = 0.0;
  std::size_t load = 0;
};

class Uses {
 public:
  Uses(const ArmStrength& arm, const std::vector<ArmLoad>& loads, const StrapMaterial& material)
      : arm_(arm), loads_(loads), material_(material), strengths_(material) {
    Gather();
    for (std::size_t l = 0; l < loads.size(); ++l) {
      AddEye(arm.arm().lid_hole, loads[l].lid_n, l);
      AddEye(arm.arm().case_hole, -(loads[l].lid_n + loads[l].stop_n), l);
    }
  }

  StrapUse At(double grain_rad) const {
    StrapUse worst;
    const std::vector<ArmSection>& sections = arm_.sections();
    for (std::size_t s = 0; s < sections.size(); ++s) {
      const double angle = AngleTo(sections[s].along, grain_rad);
      Section(worst_[s], strengths_.At(angle), strengths_.At(angle + kPi / 2.0).tension_mpa,
              {0.0, StrapFailure::kNone, sections[s].at, angle, 0}, worst);
    }
    for (const EyePush& push : pushes_) Eye(push, grain_rad, worst);
    Strut(grain_rad, worst);
    return worst;
  }

 private:
  static double AngleTo(const Vec2& along, double grain_rad) {
    return std::atan2(along.y(), along.x()) - grain_rad;
  }

  static void Keep(double used, StrapFailure how, StrapUse at, std::size_t load, StrapUse& worst) {
    if (used <= worst.used) return;
    at.used = used;
    at.how = how;
    at.load = load;
    worst = at;
  }

  void Gather() {
    const std::size_t count = arm_.sections().size();
    worst_.resize(count);
    std::vector<std::vector<Worst::Bent>> pulled(count), pushed(count);
    for (std::size_t l = 0; l < loads_.size(); ++l) {
      const std::vector<SectionState> states = arm_.Along(loads_[l]);
      for (std::size_t s = 0; s < count; ++s) {
        const SectionState& state = states[s];
        const double direct = state.direct_mpa;
        const double bent = std::max(std::abs(state.edge.left_mpa - direct),
                                     std::abs(state.edge.right_mpa - direct));
        (direct >= 0.0 ? pulled : pushed)[s].push_back({bent, direct, l});
        Worst& worst = worst_[s];
        if (state.shear_mpa > worst.shear_mpa) {
          worst.shear_mpa = state.shear_mpa;
          worst.shear_load = l;
        }
        if (state.radial_mpa > worst.radial_mpa) {
          worst.radial_mpa = state.radial_mpa;
          worst.radial_load = l;
        }
      }
    }
    for (std::size_t s = 0; s < count; ++s) {
      KeepUndone(std::move(pulled[s]), worst_[s].bent);
      KeepUndone(std::move(pushed[s]), worst_[s].bent);
    }
  }

  void AddEye(const Circle& hole, const Vec2& force, std::size_t load) {
    if (force.norm() == 0.0) return;
    pushes_.push_back({arm_.EyeUnder(hole, force), hole.centre, std::atan2(force.y(), force.x()),
                       2.0 * hole.radius_mm, load});
  }

  static void Section(const Worst& state, const StrapStrength& along, double split_mpa,
                      const StrapUse& at, StrapUse& worst) {
    for (const Worst::Bent& one : state.bent) {
      const double straight = one.direct_mpa >= 0.0 ? one.direct_mpa / along.tension_mpa
                                                    : -one.direct_mpa / along.compression_mpa;
      Keep(one.bent_mpa / along.bending_mpa + straight, StrapFailure::kEdge, at, one.load, worst);
    }
    Keep(state.shear_mpa / along.shear_mpa, StrapFailure::kShear, at, state.shear_load, worst);
    Keep(state.radial_mpa / split_mpa, StrapFailure::kSplit, at, state.radial_load, worst);
  }

  void Eye(const EyePush& push, double grain_rad, StrapUse& worst) const {
    const double angle = push.direction_rad - grain_rad;
    const StrapStrength strength = strengths_.At(angle);
    const StrapUse at{0.0, StrapFailure::kNone, push.at, angle, push.load};
    const EyeStress& eye = push.stress;
    const bool yields = material_.kind == StrapKind::kMetal;
    Keep((yields ? eye.mean_mpa : eye.peak_mpa) / strength.tension_mpa, StrapFailure::kEye, at,
         push.load, worst);
    Keep(eye.tear_mpa / strength.shear_mpa, StrapFailure::kTorn, at, push.load, worst);
    const double bearing =
        std::isnan(material_.bearing_mpa)
            ? DowelBearing_mpa(material_.specific_gravity, push.diameter_mm, angle)
            : material_.bearing_mpa;
    Keep(eye.bearing_mpa / bearing, StrapFailure::kCrushed, at, push.load, worst);
  }

  void Strut(double grain_rad, StrapUse& worst) const {
    const Vec2 ground = arm_.arm().case_hole.centre;
    const Vec2 line = (arm_.arm().lid_hole.centre - ground).normalized();
    const double bears = StrutLoad_n(arm_, material_, grain_rad);
    const StrapUse at{0.0, StrapFailure::kNone, ground, AngleTo(line, grain_rad), 0};
    for (std::size_t l = 0; l < loads_.size(); ++l) {
      Keep(-loads_[l].lid_n.dot(line) / bears, StrapFailure::kBuckled, at, l, worst);
    }
  }

  const ArmStrength& arm_;
  const std::vector<ArmLoad>& loads_;
  const StrapMaterial& material_;
  StrengthTable strengths_;
  std::vector<Worst> worst_;  // by section
  std::vector<EyePush> pushes_;
};

}  // namespace

double Hankinson(double along, double across, double angle_rad, double power) {
  LW_REQUIRE(along > 0.0 && across > 0.0 && power > 0.0, "along=" << along << " across=" << across);
  const double s = std::pow(std::abs(std::sin(angle_rad)), power);
  const double c = std::pow(std::abs(std::cos(angle_rad)), power);
  return along * across / (along * s + across * c);
}

StrapStrength StrengthAt(const StrapMaterial& m, double angle_rad) {
  StrapStrength s;
  s.shear_mpa = m.shear_mpa;
  switch (m.kind) {
    case StrapKind::kMetal:
    case StrapKind::kPlastic:
      s.bending_mpa = s.tension_mpa = s.flatwise_mpa = m.tension_mpa;
      s.compression_mpa = m.compression_mpa;
      s.modulus_mpa = s.flatwise_modulus_mpa = m.modulus_mpa;
      break;
    case StrapKind::kSolidWood:
      s.bending_mpa = s.tension_mpa = s.flatwise_mpa =
          Hankinson(m.tension_mpa, m.tension_across_mpa, angle_rad, kHankinsonPulled);
      s.compression_mpa =
          Hankinson(m.compression_mpa, m.compression_across_mpa, angle_rad, kHankinsonPressed);
      s.modulus_mpa = s.flatwise_modulus_mpa =
          Hankinson(m.modulus_mpa, kModulusAcross * m.modulus_mpa, angle_rad, kHankinsonPressed);
      break;
    case StrapKind::kPlywood:
      s.tension_mpa = s.bending_mpa = TensionStrength_mpa(*m.laminate, angle_rad);
      s.compression_mpa = CompressionStrength_mpa(*m.laminate, angle_rad);
      s.flatwise_mpa = FlatwiseStrength_mpa(*m.laminate, angle_rad);
      s.modulus_mpa = InPlaneModulus_mpa(*m.laminate, angle_rad);
      s.flatwise_modulus_mpa = FlatwiseModulus_mpa(*m.laminate, angle_rad);
      break;
  }
  return s;
}

StrapUse UseOf(const ArmStrength& arm, const std::vector<ArmLoad>& loads,
               const StrapMaterial& material, double grain_rad) {
  return Uses(arm, loads, material).At(grain_rad);
}

double StrutLoad_n(const ArmStrength& arm, const StrapMaterial& material, double grain_rad) {
  const double thickness = arm.arm().z_max_mm - arm.arm().z_min_mm;
  double narrowest = std::numeric_limits<double>::infinity();
  for (const ArmSection& section : arm.sections()) {
    narrowest = std::min(narrowest, FiguresOf(section, thickness).area_mm2 / thickness);
  }
  const Vec2 line = arm.arm().lid_hole.centre - arm.arm().case_hole.centre;
  const StrapStrength along = StrengthAt(material, std::atan2(line.y(), line.x()) - grain_rad);
  return StrutLoad_n(RectangularStrut(line.norm(), narrowest, thickness, along.flatwise_modulus_mpa,
                                      along.compression_mpa));
}

double SteepestRun_rad(const ArmStrength& arm, double grain_rad) {
  double steepest = 0.0;
  for (const ArmSection& section : arm.sections()) {
    const double angle = std::atan2(section.along.y(), section.along.x()) - grain_rad;
    steepest = std::max(steepest, Acute(angle));
  }
  return steepest;
}

GrainChoice ChooseGrain(const ArmStrength& arm, const std::vector<ArmLoad>& loads,
                        const StrapMaterial& material) {
  const Uses uses(arm, loads, material);
  GrainChoice choice;
  if (material.kind == StrapKind::kMetal || material.kind == StrapKind::kPlastic) {
    choice.use = uses.At(0.0);
    return choice;
  }
  choice.refused = true;
  choice.steepest_rad = kPi;
  const bool solid = material.kind == StrapKind::kSolidWood;
  // Whether a direction beats what is chosen; the least steep one stands in where all are refused.
  const auto consider = [&](int degrees) {
    const double grain = ((degrees % 180 + 180) % 180) * kRadPerDeg;
    const double steepest = SteepestRun_rad(arm, grain);
    const bool refused = solid && steepest > kAcrossGrain_rad;
    if (refused && (!choice.refused || steepest >= choice.steepest_rad)) return;
    const StrapUse use = uses.At(grain);
    if (!refused && !choice.refused && use.used >= choice.use.used) return;
    choice = {refused, grain, steepest, use};
  };
  for (int degrees = 0; degrees < 180; degrees += kCoarse_deg) consider(degrees);
  const int middle = static_cast<int>(std::lround(choice.grain_rad / kRadPerDeg));
  for (int off = -kCoarse_deg + 1; off < kCoarse_deg; off += kFine_deg) consider(middle + off);
  return choice;
}

}  // namespace lidwright
