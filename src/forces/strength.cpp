// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/strength.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [mm] The centre line is cut this often.
constexpr double kSampling_mm = 0.5;
// [–] Diameters from the hole's middle within which material counts as its eye: a diameter beside
// its wall. With the peak of HoleConcentration a pin in a wide plate then pulls 1.17 times its
// pressure on the hole, which is what handbooks give for it (about 1.2, from memory).
constexpr double kEyeReach = 1.5;
// [–] Radius over depth from which a bend's radial pull is the gentle bend's within 1e-5.
constexpr double kGentle = 300.0;

// Distance from a point inside the outline to it in direction `to`.
double EdgeDistance(const Ring& outline, const std::vector<Circle>& holes, const Vec2& from,
                    const Vec2& to) {
  const ArmSection section = SectionOf(outline, holes, from, Vec2(-Perp(to)));  // across = to
  return section.solid.empty() ? 0.0 : section.solid.back().to_mm;
}

}  // namespace

double CurvedBarStress_mpa(double moment_nmm, double depth_mm, double thickness_mm,
                           double centre_radius_mm) {
  LW_REQUIRE(depth_mm > 0.0 && thickness_mm > 0.0, "depth=" << depth_mm);
  const double area = depth_mm * thickness_mm;
  if (std::isinf(centre_radius_mm)) return std::abs(moment_nmm) * 6.0 / (area * depth_mm);
  LW_REQUIRE(centre_radius_mm > depth_mm / 2.0, "radius=" << centre_radius_mm);
  const double inner = centre_radius_mm - depth_mm / 2.0;
  const double neutral = depth_mm / std::log1p(depth_mm / inner);
  const double shift = centre_radius_mm - neutral;
  return std::abs(moment_nmm) * (neutral - inner) / (area * shift * inner);
}

double HoleConcentration(double hole_over_width) {
  LW_REQUIRE(hole_over_width >= 0.0 && hole_over_width < 1.0, "q=" << hole_over_width);
  const double q = hole_over_width;
  return 3.0 - 3.13 * q + 3.66 * q * q - 1.53 * q * q * q;
}

double RadialPull_mpa(double moment_nmm, double depth_mm, double thickness_mm,
                      double centre_radius_mm) {
  LW_REQUIRE(depth_mm > 0.0 && thickness_mm > 0.0, "depth=" << depth_mm);
  LW_REQUIRE(centre_radius_mm > depth_mm / 2.0, "radius=" << centre_radius_mm);
  const double area = depth_mm * thickness_mm, moment = std::abs(moment_nmm);
  if (centre_radius_mm > kGentle * depth_mm) return 1.5 * moment / (area * centre_radius_mm);
  const double inner = centre_radius_mm - depth_mm / 2.0;
  const double neutral = depth_mm / std::log1p(depth_mm / inner);
  const double worst = inner * std::exp(1.0 - inner / neutral);
  return moment * (neutral - worst) / (area * (centre_radius_mm - neutral) * worst);
}

EyeStress EyeStressOf(const Ring& outline, const std::vector<Circle>& holes, double thickness_mm,
                      const Circle& hole, const Vec2& force_n) {
  const double size = force_n.norm(), width = 2.0 * hole.radius_mm;
  LW_REQUIRE(size > 0.0 && thickness_mm > 0.0, "an eye without a force or a thickness");
  const Vec2 along = force_n / size;
  const ArmSection net = SectionOf(outline, holes, hole.centre, along);
  double ligaments = 0.0;
  const Vec2 across = net.Across();
  const double middle = across.dot(Vec2(hole.centre - net.at));
  for (const ArmSection::Stretch& s : net.solid) {
    // What of this stretch lies within a diameter of the hole's wall.
    const double from = std::max(s.from_mm, middle - kEyeReach * width);
    const double to = std::min(s.to_mm, middle + kEyeReach * width);
    ligaments += std::max(0.0, to - from);
  }
  LW_REQUIRE(ligaments > 0.0, "an eye without material");
  EyeStress eye;
  eye.mean_mpa = size / (ligaments * thickness_mm);
  eye.peak_mpa = eye.mean_mpa * HoleConcentration(width / (width + ligaments));
  // The pin tears out in the direction of its own push, where the eye may end.
  const double behind = EdgeDistance(outline, holes, hole.centre, along) - hole.radius_mm;
  if (behind > 0.0) eye.tear_mpa = size / (2.0 * behind * thickness_mm);
  eye.bearing_mpa = size / (width * thickness_mm);
  return eye;
}

ArmStrength::ArmStrength(const Arm& arm)
    : arm_(arm),
      thickness_mm_(arm.z_max_mm - arm.z_min_mm),
      outline_(ChordsOf(arm)),
      sections_(SectionsOf(arm, kSampling_mm)) {
  LW_REQUIRE(thickness_mm_ > 0.0, "thickness=" << thickness_mm_);
  LW_REQUIRE(!sections_.empty(), "an arm whose centre line is off its outline");
  figures_.reserve(sections_.size());
  for (const ArmSection& section : sections_) {
    figures_.push_back(FiguresOf(section, thickness_mm_));
  }
}

// Where along the centre line the stop's force comes in.
double ArmStrength::StopPlace_mm(const ArmLoad& load) const {
  double place = 0.0, nearest = 1e300;
  for (const ArmSection& section : sections_) {
    const double away = (section.at - load.stop_at).squaredNorm();
    if (away >= nearest) continue;
    nearest = away;
    place = section.from_case_pivot_mm;
  }
  return place;
}

SectionLoad ArmStrength::LoadAt(const ArmSection& section, double centre_mm, const ArmLoad& load,
                                double stop_place_mm) const {
  const Vec2 centre = section.at + centre_mm * section.Across();
  Vec2 force = load.lid_n;
  double moment = Cross(Vec2(arm_.lid_hole.centre - centre), load.lid_n);
  if (stop_place_mm > section.from_case_pivot_mm) {
    force += load.stop_n;
    moment += Cross(Vec2(load.stop_at - centre), load.stop_n);
  }
  return {force.dot(section.along), force.dot(section.Across()), moment};
}

ArmStress ArmStrength::Under(const ArmLoad& load) const {
  ArmStress stress;
  const Vec2 ground = arm_.case_hole.centre;
  const Vec2 line = (arm_.lid_hole.centre - ground).normalized();
  const double stop_place = StopPlace_mm(load);
  for (std::size_t i = 0; i < sections_.size(); ++i) {
    const ArmSection& section = sections_[i];
    const SectionFigures& figures = figures_[i];
    const Vec2 centre = section.at + figures.centre_mm * section.Across();
    stress.eccentricity_mm =
        std::max(stress.eccentricity_mm, std::abs(Cross(line, Vec2(centre - ground))));
    const SectionLoad at = LoadAt(section, figures.centre_mm, load, stop_place);
    const double edge = StressAt(section, figures, at).Largest();
    if (edge > stress.body_mpa) {
      stress.body_mpa = edge;
      stress.body_at = section.at;
    }
    stress.shear_mpa = std::max(stress.shear_mpa, 1.5 * std::abs(at.shear_n) / figures.area_mm2);
  }
  const Vec2 ground_n = -(load.lid_n + load.stop_n);
  for (const auto& [hole, force] :
       {std::pair(&arm_.case_hole, &ground_n), {&arm_.lid_hole, &load.lid_n}}) {
    if (force->norm() == 0.0) continue;
    const EyeStress eye = EyeUnder(*hole, *force);
    stress.eye_mpa = std::max(stress.eye_mpa, eye.mean_mpa);
    stress.eye_peak_mpa = std::max(stress.eye_peak_mpa, eye.peak_mpa);
    stress.tear_mpa = std::max(stress.tear_mpa, eye.tear_mpa);
    stress.bearing_mpa = std::max(stress.bearing_mpa, eye.bearing_mpa);
  }
  return stress;
}

std::vector<SectionState> ArmStrength::Along(const ArmLoad& load) const {
  std::vector<SectionState> states;
  states.reserve(sections_.size());
  const double stop_place = StopPlace_mm(load);
  for (std::size_t i = 0; i < sections_.size(); ++i) {
    const ArmSection& section = sections_[i];
    const SectionFigures& figures = figures_[i];
    SectionState state;
    state.load = LoadAt(section, figures.centre_mm, load, stop_place);
    state.edge = StressAt(section, figures, state.load);
    state.direct_mpa = state.load.pull_n / figures.area_mm2;
    state.shear_mpa = 1.5 * std::abs(state.load.shear_n) / figures.area_mm2;
    // Open: the inner edge is pulled. It is to the left if the radius is positive.
    const bool opens = state.load.moment_nmm * section.radius_mm < 0.0;
    const double radius = std::abs(section.radius_mm);
    if (opens && std::isfinite(radius) && section.solid.size() == 1 &&
        radius > figures.depth_mm / 2.0) {
      state.radial_mpa =
          RadialPull_mpa(state.load.moment_nmm, figures.depth_mm, thickness_mm_, radius);
    }
    states.push_back(state);
  }
  return states;
}

EyeStress ArmStrength::EyeUnder(const Circle& hole, const Vec2& force_n) const {
  return EyeStressOf(outline_, {arm_.case_hole, arm_.lid_hole}, thickness_mm_, hole, force_n);
}

double ArmStrength::Buckling_n(double modulus_mpa) const {
  double narrowest = 1e300;
  for (const SectionFigures& figures : figures_) {
    narrowest = std::min(narrowest, figures.area_mm2 / thickness_mm_);
  }
  const double second = narrowest * std::pow(thickness_mm_, 3) / 12.0;
  return kPi * kPi * modulus_mpa * second /
         (arm_.lid_hole.centre - arm_.case_hole.centre).squaredNorm();
}

PinStress PinStressOf(double load_n, double reach_mm, double diameter_mm) {
  LW_REQUIRE(diameter_mm > 0.0, "diameter=" << diameter_mm);
  const double area = kPi * diameter_mm * diameter_mm / 4.0;
  const double modulus = kPi * std::pow(diameter_mm, 3) / 32.0;
  return {std::abs(load_n) * reach_mm / modulus, std::abs(load_n) / area};
}

std::vector<double> SeatPressures_mpa(double load_n, double reach_mm, double diameter_mm,
                                      const std::vector<SeatLayer>& layers) {
  LW_REQUIRE(diameter_mm > 0.0 && !layers.empty(), "diameter=" << diameter_mm);
  // u m0 + φ m1 = F, u m1 + φ m2 = −F a, with m the moments of the layers' stiffness over depth.
  double m0 = 0.0, m1 = 0.0, m2 = 0.0;
  for (const SeatLayer& layer : layers) {
    const double a = layer.from_mm, b = layer.to_mm, k = layer.modulus_mpa;
    LW_REQUIRE(b > a && k > 0.0, "from=" << a << " to=" << b << " modulus=" << k);
    m0 += k * (b - a);
    m1 += k * (b * b - a * a) / 2.0;
    m2 += k * (b * b * b - a * a * a) / 3.0;
  }
  const double force = std::abs(load_n), determinant = m0 * m2 - m1 * m1;
  const double push = force * (m2 + reach_mm * m1) / determinant;
  const double lean = -force * (m1 + reach_mm * m0) / determinant;
  std::vector<double> pressures;
  for (const SeatLayer& layer : layers) {
    const auto at = [&](double depth) {
      return std::abs(layer.modulus_mpa * (push + lean * depth)) / diameter_mm;
    };
    pressures.push_back(std::max(at(layer.from_mm), at(layer.to_mm)));
  }
  return pressures;
}

}  // namespace lidwright
