// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/sections.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr double kChord_mm = 0.005;
constexpr double kStraightFrom = 1e4;    // [–] radius over depth
constexpr double kNearestCentre = 0.05;  // [–] of the depth

// Where the line at + t · across crosses a ring, growing t.
std::vector<double> Crossings(const Ring& ring, const Vec2& at, const Vec2& across) {
  std::vector<double> found;
  const Vec2 along = -Perp(across);
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 p = ring[i] - at, q = ring[(i + 1) % ring.size()] - at;
    const double u = along.dot(p), v = along.dot(q);
    if ((u < 0.0) == (v < 0.0)) continue;
    const double share = u / (u - v);
    found.push_back(across.dot(p) + share * across.dot(Vec2(q - p)));
  }
  std::sort(found.begin(), found.end());
  return found;
}

}  // namespace

Ring ChordsOf(const Arm& arm) {
  return Flatten(arm.outline, kChord_mm);
}

ArmSection SectionOf(const Ring& outline, const std::vector<Circle>& holes, const Vec2& at,
                     const Vec2& along) {
  ArmSection section;
  section.at = at;
  section.along = along;
  const std::vector<double> cuts = Crossings(outline, at, section.Across());
  // The piece that holds `at`, or the nearest.
  ArmSection::Stretch piece;
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i + 1 < cuts.size(); i += 2) {
    const double away = std::max({0.0, cuts[i], -cuts[i + 1]});
    if (away >= nearest) continue;
    nearest = away;
    piece = {cuts[i], cuts[i + 1]};
  }
  if (!std::isfinite(nearest)) return section;
  section.solid.push_back(piece);
  for (const Circle& hole : holes) {
    const Vec2 to = hole.centre - at;
    const double off = along.dot(to), middle = section.Across().dot(to);
    if (std::abs(off) >= hole.radius_mm) continue;
    const double half = std::sqrt(hole.radius_mm * hole.radius_mm - off * off);
    std::vector<ArmSection::Stretch> left;
    for (const ArmSection::Stretch& s : section.solid) {
      if (middle + half <= s.from_mm || middle - half >= s.to_mm) {
        left.push_back(s);
        continue;
      }
      if (middle - half > s.from_mm) left.push_back({s.from_mm, middle - half});
      if (middle + half < s.to_mm) left.push_back({middle + half, s.to_mm});
    }
    section.solid = std::move(left);
  }
  return section;
}

ArmSection SectionOf(const Arm& arm, const Ring& outline, const Vec2& at, const Vec2& along) {
  return SectionOf(outline, {arm.case_hole, arm.lid_hole}, at, along);
}

ArmSection SectionOf(const Arm& arm, const Vec2& at, const Vec2& along) {
  return SectionOf(arm, ChordsOf(arm), at, along);
}

std::vector<ArmSection> SectionsOf(const Arm& arm, double step_mm) {
  LW_REQUIRE(step_mm > 0.0 && arm.centreline.size() >= 2, "step=" << step_mm);
  const Ring outline = ChordsOf(arm);
  std::vector<ArmSection> sections;
  double before = 0.0;
  const auto add = [&](const Vec2& at, const Vec2& along, double place, double radius) {
    ArmSection section = SectionOf(arm, outline, at, along);
    if (section.solid.empty()) return;
    section.from_case_pivot_mm = place;
    section.radius_mm = radius;
    sections.push_back(std::move(section));
  };
  for (std::size_t i = 0; i + 1 < arm.centreline.size(); ++i) {
    const OutlineVertex& a = arm.centreline[i];
    const Vec2& b = arm.centreline[i + 1].point;
    const bool last = i + 2 == arm.centreline.size();
    if (a.bulge == 0.0) {
      const double length = (b - a.point).norm();
      if (length == 0.0) continue;
      const Vec2 along = (b - a.point) / length;
      const int steps = std::max(1, static_cast<int>(std::ceil(length / step_mm)));
      for (int k = 0; k < steps + (last ? 1 : 0); ++k) {
        const double s = length * k / steps;
        add(a.point + s * along, along, before + s, std::numeric_limits<double>::infinity());
      }
      before += length;
    } else {
      const Arc arc = ArcOf(a.point, b, a.bulge);
      const double length = arc.radius_mm * std::abs(arc.sweep_rad);
      const double side = arc.sweep_rad > 0.0 ? 1.0 : -1.0;
      const int steps = std::max(1, static_cast<int>(std::ceil(length / step_mm)));
      for (int k = 0; k < steps + (last ? 1 : 0); ++k) {
        const double angle = arc.start_rad + arc.sweep_rad * k / steps;
        const Vec2 out(std::cos(angle), std::sin(angle));
        add(arc.centre + arc.radius_mm * out, side * Perp(out), before + length * k / steps,
            side * arc.radius_mm);
      }
      before += length;
    }
  }
  return sections;
}

namespace {

// Is the section bent so that its curvature counts, with the centre of curvature beyond it?
bool IsCurved(const ArmSection& section, double depth_mm) {
  const double right = section.solid.front().from_mm, left = section.solid.back().to_mm;
  const double radius = section.radius_mm;
  const double nearest = std::min(std::abs(radius - right), std::abs(radius - left));
  const bool beyond = (radius - right) * (radius - left) > 0.0;
  return std::abs(radius) <= kStraightFrom * depth_mm && beyond &&
         nearest >= kNearestCentre * depth_mm;
}

}  // namespace

SectionFigures FiguresOf(const ArmSection& section, double thickness_mm) {
  SectionFigures figures;
  double first = 0.0;
  for (const ArmSection::Stretch& s : section.solid) {
    figures.area_mm2 += thickness_mm * (s.to_mm - s.from_mm);
    first += thickness_mm * (s.to_mm * s.to_mm - s.from_mm * s.from_mm) / 2.0;
  }
  LW_REQUIRE(figures.area_mm2 > 0.0, "a section without solid");
  figures.centre_mm = first / figures.area_mm2;
  figures.depth_mm = section.solid.back().to_mm - section.solid.front().from_mm;
  figures.curved = IsCurved(section, figures.depth_mm);
  double inverse = 0.0;
  for (const ArmSection::Stretch& s : section.solid) {
    if (figures.curved) {
      inverse += thickness_mm *
                 std::abs(std::log1p((s.from_mm - s.to_mm) / (section.radius_mm - s.from_mm)));
    } else {
      const double u = s.from_mm - figures.centre_mm, v = s.to_mm - figures.centre_mm;
      figures.second_mm4 += thickness_mm * (v * v * v - u * u * u) / 3.0;
    }
  }
  if (figures.curved) figures.neutral_mm = figures.area_mm2 / inverse;
  return figures;
}

double EdgeStress::Largest() const {
  return std::max(std::abs(right_mpa), std::abs(left_mpa));
}

EdgeStress StressAt(const ArmSection& section, double thickness_mm, const SectionLoad& load) {
  return StressAt(section, FiguresOf(section, thickness_mm), load);
}

EdgeStress StressAt(const ArmSection& section, const SectionFigures& figures,
                    const SectionLoad& load) {
  const double right = section.solid.front().from_mm, left = section.solid.back().to_mm;
  const double direct = load.pull_n / figures.area_mm2;
  if (!figures.curved) {
    return {direct - load.moment_nmm * (right - figures.centre_mm) / figures.second_mm4,
            direct - load.moment_nmm * (left - figures.centre_mm) / figures.second_mm4};
  }
  // r = distance from the centre of curvature; the inside is to the left if radius > 0.
  const double radius = section.radius_mm, side = radius > 0.0 ? 1.0 : -1.0;
  const double neutral = figures.neutral_mm;
  const double centre = side * (radius - figures.centre_mm);
  const double factor = -side * load.moment_nmm / (figures.area_mm2 * (centre - neutral));
  const auto at = [&](double place) {
    const double r = side * (radius - place);
    return direct + factor * (neutral - r) / r;
  };
  return {at(right), at(left)};
}

}  // namespace lidwright
