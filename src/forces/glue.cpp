// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/glue.h"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr double kRolling = 1.0 / 3.0;

// Area, first and second moments about the origin (Green's theorem).
struct AreaMoments {
  double area = 0.0;
  Vec2 first = Vec2::Zero();
  Eigen::Matrix2d second = Eigen::Matrix2d::Zero();
};

AreaMoments MomentsOfArea(const std::vector<Ring>& areas) {
  AreaMoments m;
  for (const Ring& ring : areas) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      const double cross = Cross(a, b);
      m.area += cross / 2.0;
      m.first += cross / 6.0 * (a + b);
      // ∫ p pᵀ over the triangle (0, a, b).
      const Vec2 sum = a + b;
      m.second += cross / 24.0 * (a * a.transpose() + b * b.transpose() + sum * sum.transpose());
    }
  }
  return m;
}

}  // namespace

const std::vector<Glue>& Glues() {
  static const std::vector<Glue> kGlues{
      {"wood glue", 8.0, 2.5, 0.15, false, 24.0, "yellow wood glue, from memory, low"},
      {"epoxy", 7.0, 2.0, 1.0, true, 24.0, "slow epoxy on wood and roughened metal, from memory"},
      {"superglue", 4.0, 1.0, 0.2, true, 1.0, "thick cyanoacrylate, from memory"},
  };
  return kGlues;
}

const Glue* FindGlue(const std::string& name) {
  for (const Glue& glue : Glues()) {
    if (glue.name == name) return &glue;
  }
  return nullptr;
}

GlueStress GlueStressOf(const std::vector<Ring>& areas, const std::vector<PinPush>& pushes) {
  const AreaMoments m = MomentsOfArea(areas);
  LW_REQUIRE(m.area > 0.0, "area=" << m.area);
  const Vec2 centre = m.first / m.area;
  const Eigen::Matrix2d second = m.second - m.area * centre * centre.transpose();
  Vec2 force = Vec2::Zero(), tilt = Vec2::Zero();
  double twist = 0.0;
  for (const PinPush& push : pushes) {
    force += push.force_n;
    tilt += push.height_mm * push.force_n;
    twist += Cross(Vec2(push.at - centre), push.force_n);
  }
  // Pressure p = g · (q − centre) with ∫ p (q − centre) dA = tilt. A force to the right above the
  // line presses on the right and pulls on the left.
  const Vec2 slope = second.inverse() * tilt;
  GlueStress stress;
  stress.area_mm2 = m.area;
  for (const Ring& ring : areas) {
    for (const Vec2& p : ring) {
      const Vec2 off = p - centre;
      const Vec2 shear = force / m.area + twist / second.trace() * Perp(off);
      stress.shear_mpa = std::max(stress.shear_mpa, shear.norm());
      stress.pull_mpa = std::max(stress.pull_mpa, -slope.dot(off));
    }
  }
  return stress;
}

double GlueUse(const GlueStress& stress, const Glue& glue, const StrapMaterial& wood,
               bool rolling) {
  double shear = wood.shear_mpa * (rolling ? kRolling : 1.0), pull = glue.pull_mpa;
  shear = std::min(shear, glue.shear_mpa);
  if (!std::isnan(wood.tension_across_mpa)) pull = std::min(pull, wood.tension_across_mpa);
  return stress.shear_mpa / shear + stress.pull_mpa / pull;
}

}  // namespace lidwright
