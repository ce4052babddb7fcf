// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/plate_legs.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/forces/dowels.h"
#include "lidwright/forces/torsion.h"
#include "lidwright/geometry/ring.h"
#include "plate_paths.h"

namespace lidwright {
namespace {

constexpr int kDirections = 36;  // cuts tried through a point, five degrees apart

std::vector<Circle> HolesOf(const PlateBody& plate) {
  std::vector<Circle> holes = plate.pins;
  holes.insert(holes.end(), plate.screws.begin(), plate.screws.end());
  return holes;
}

// The chord of the outline through a point: its ends to the right and to the left of `along`, and
// the edges they lie on.
struct Chord {
  double right_mm = -std::numeric_limits<double>::infinity();
  double left_mm = std::numeric_limits<double>::infinity();
  std::size_t right_edge = 0, left_edge = 0;
  bool Whole() const { return std::isfinite(right_mm) && std::isfinite(left_mm); }
  double Length_mm() const { return left_mm - right_mm; }
};

Chord ChordAt(const Ring& outline, const Vec2& at, const Vec2& along) {
  const Vec2 across = Perp(along);
  Chord chord;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Vec2 p = outline[i] - at, q = outline[(i + 1) % outline.size()] - at;
    const double u = along.dot(p), v = along.dot(q);
    if ((u < 0.0) == (v < 0.0)) continue;
    const double place = across.dot(p) + u / (u - v) * across.dot(Vec2(q - p));
    if (place <= 0.0 && place > chord.right_mm) {
      chord.right_mm = place;
      chord.right_edge = i;
    } else if (place > 0.0 && place < chord.left_mm) {
      chord.left_mm = place;
      chord.left_edge = i;
    }
  }
  return chord;
}

// The piece of a counter-clockwise outline that a chord parts on the side `along` points to: from
// its right end along the outline to its left end.
Ring PieceBeyond(const Ring& outline, const Vec2& at, const Vec2& along, const Chord& chord) {
  const Vec2 across = Perp(along);
  Ring piece{at + chord.right_mm * across};
  std::size_t i = chord.right_edge;
  for (std::size_t guard = 0; i != chord.left_edge && guard <= outline.size(); ++guard) {
    i = (i + 1) % outline.size();
    piece.push_back(outline[i]);
  }
  piece.push_back(at + chord.left_mm * across);
  return piece;
}

// A cut, or nothing where the point is outside; `only` is counted alone where a screw is beyond.
bool MakeCut(const PlateBody& plate, const Vec2& at, const Vec2& along, std::size_t only,
             PlateCut& cut) {
  const Chord chord = ChordAt(plate.outline, at, along);
  if (!chord.Whole()) return false;
  cut.section = SectionOf(plate.outline, HolesOf(plate), at, along);
  if (cut.section.solid.empty()) return false;
  const std::vector<Ring> beyond{PieceBeyond(plate.outline, at, along, chord)};
  const bool held = std::any_of(plate.screws.begin(), plate.screws.end(), [&](const Circle& screw) {
    return (screw.centre - at).norm() > screw.radius_mm && Contains(beyond, screw.centre);
  });
  cut.beyond.clear();
  for (std::size_t pin = 0; pin < plate.pins.size(); ++pin) {
    const bool there = Contains(beyond, plate.pins[pin].centre);
    if (held && only < plate.pins.size() ? pin == only : there) cut.beyond.push_back(pin);
  }
  return true;
}

// The shortest cut through a point of a way that still goes across it.
Vec2 NarrowestAcross(const Ring& outline, const Vec2& at, const Vec2& along) {
  // [1] Cosine of 60 degrees: a cut that leans more runs along the way.
  constexpr double kAcross = 0.5;
  Vec2 best = along;
  double least = std::numeric_limits<double>::infinity();
  for (int i = 0; i < kDirections; ++i) {
    const double turn = kPi * (static_cast<double>(i) / kDirections - 0.5);
    const Pose pose = Pose::Make(turn, Vec2::Zero());
    const Vec2 direction = pose.Turn(along);
    if (direction.dot(along) < kAcross) continue;
    const Chord chord = ChordAt(outline, at, direction);
    if (!chord.Whole() || chord.Length_mm() >= least) continue;
    least = chord.Length_mm();
    best = direction;
  }
  return best;
}

LegStress TwistOf(const PlateBody& plate, const ArmSection& section, double torsion_nmm) {
  LegStress stress;
  // Strips beside a hole turn by the same angle: torque by their J.
  double stiffness = 0.0;
  for (const ArmSection::Stretch& s : section.solid) {
    stiffness += TorsionOfBar(s.to_mm - s.from_mm, plate.thickness_mm).j_mm4;
  }
  for (const ArmSection::Stretch& s : section.solid) {
    const BarTorsion bar = TorsionOfBar(s.to_mm - s.from_mm, plate.thickness_mm);
    const double largest = std::abs(torsion_nmm) * bar.j_mm4 / stiffness / bar.w_mm3;
    // A strip narrower than the plate is thick has its wide faces at its sides.
    const bool lies = s.to_mm - s.from_mm >= plate.thickness_mm;
    const double smaller = largest * bar.narrow_over_wide;
    stress.twist_mpa = std::max(stress.twist_mpa, lies ? largest : smaller);
    stress.narrow_mpa = std::max(stress.narrow_mpa, lies ? smaller : largest);
  }
  return stress;
}

void AddEye(const PlateBody& plate, std::size_t pin, const Vec2& force,
            const StrapMaterial& material, double grain_rad, PlateUse& worst) {
  if (force.norm() == 0.0) return;
  const Circle& hole = plate.pins[pin];
  const EyeStress eye = EyeStressOf(plate.outline, plate.pins, plate.thickness_mm, hole, force);
  const double angle = std::atan2(force.y(), force.x()) - grain_rad;
  const StrapStrength strength = StrengthAt(material, angle);
  const auto keep = [&](double used, StrapFailure how) {
    if (used > worst.used) worst = {used, how, hole.centre, {}, pin, 0.0, 0.0};
  };
  const bool metal = material.kind == StrapKind::kMetal;
  keep((metal ? eye.mean_mpa : eye.peak_mpa) / strength.tension_mpa, StrapFailure::kEye);
  keep(eye.tear_mpa / strength.shear_mpa, StrapFailure::kTorn);
  const double bearing =
      std::isnan(material.bearing_mpa)
          ? DowelBearing_mpa(material.specific_gravity, 2.0 * hole.radius_mm, angle)
          : material.bearing_mpa;
  keep(eye.bearing_mpa / bearing, StrapFailure::kCrushed);
}

}  // namespace

PlateCut CutOf(const PlateBody& plate, const Vec2& at, const Vec2& along) {
  PlateCut cut;
  LW_REQUIRE(MakeCut(plate, at, along, plate.pins.size(), cut), "a cut beside the plate");
  return cut;
}

LegStress StressOf(const PlateBody& plate, const PlateCut& cut,
                   const std::vector<PinPush>& pushes) {
  LW_REQUIRE(pushes.size() == plate.pins.size() && plate.thickness_mm > 0.0,
             "pushes=" << pushes.size() << " thickness=" << plate.thickness_mm);
  const ArmSection& section = cut.section;
  const SectionFigures figures = FiguresOf(section, plate.thickness_mm);
  const Vec2 across = section.Across(), centre = section.at + figures.centre_mm * across;
  Vec2 force = Vec2::Zero();
  double in_plane = 0.0, torsion = 0.0, flat = 0.0;
  for (const std::size_t pin : cut.beyond) {
    const PinPush& push = pushes[pin];
    force += push.force_n;
    in_plane += Cross(Vec2(push.at - centre), push.force_n);
    if (plate.backed) continue;
    torsion += push.height_mm * push.force_n.dot(across);
    flat += push.height_mm * push.force_n.dot(section.along);
  }
  LegStress stress = TwistOf(plate, section, torsion);
  stress.axial_mpa = force.dot(section.along) / figures.area_mm2;
  stress.shear_mpa = 1.5 * std::abs(force.dot(across)) / figures.area_mm2;
  stress.edge_mpa = StressAt(section, plate.thickness_mm, {0.0, 0.0, in_plane}).Largest();
  stress.flat_mpa = 6.0 * std::abs(flat) / (figures.area_mm2 * plate.thickness_mm);
  return stress;
}

double LegUse(const LegStress& stress, const StrapStrength& strength) {
  const double axial = std::abs(stress.axial_mpa) /
                       (stress.axial_mpa >= 0.0 ? strength.tension_mpa : strength.compression_mpa);
  const double edge = stress.edge_mpa / strength.bending_mpa;
  const double flat = stress.flat_mpa / strength.flatwise_mpa;
  const double wide = (stress.twist_mpa + stress.shear_mpa) / strength.shear_mpa;
  const double narrow = stress.narrow_mpa / strength.shear_mpa;
  return std::max(
      {axial + edge + flat, std::hypot(axial + flat, wide), std::hypot(axial + edge, narrow)});
}

PlateStrength::PlateStrength(PlateBody plate) : plate_(std::move(plate)) {
  LW_REQUIRE(!plate_.screws.empty() && !plate_.pins.empty() && plate_.thickness_mm > 0.0,
             "screws=" << plate_.screws.size() << " pins=" << plate_.pins.size());
  const PlateWays ways(plate_);
  for (std::size_t pin = 0; pin < plate_.pins.size(); ++pin) {
    const std::vector<Vec2> way = ways.ToScrew(plate_.pins[pin].centre);
    double length = 0.0;
    for (std::size_t i = 1; i < way.size(); ++i) {
      const Vec2 step = way[i] - way[i - 1];
      length += step.norm();
      if (step.norm() == 0.0) continue;
      // The way's direction over two steps either side, back towards the pin.
      const Vec2 &ahead = way[std::min(i + 2, way.size() - 1)], &behind = way[i < 3 ? 0 : i - 3];
      const Vec2 back = (behind - ahead).normalized();
      PlateCut cut;
      if (!MakeCut(plate_, way[i], NarrowestAcross(plate_.outline, way[i], back), pin, cut)) {
        continue;
      }
      cut.pin = pin;
      cut.way_mm = length;
      cuts_.push_back(std::move(cut));
    }
  }
}

PlateUse PlateStrength::Under(const std::vector<PinPush>& pushes, const StrapMaterial& material,
                              double grain_rad) const {
  LW_REQUIRE(pushes.size() == plate_.pins.size(), "pushes=" << pushes.size());
  PlateUse worst;
  for (const PlateCut& cut : cuts_) {
    if (cut.beyond.empty()) continue;
    const LegStress stress = StressOf(plate_, cut, pushes);
    const Vec2& along = cut.section.along;
    const double used =
        LegUse(stress, StrengthAt(material, std::atan2(along.y(), along.x()) - grain_rad));
    if (used <= worst.used) continue;
    worst = {used,
             StrapFailure::kEdge,
             cut.section.at,
             stress,
             cut.pin,
             cut.way_mm,
             FiguresOf(cut.section, plate_.thickness_mm).depth_mm};
  }
  for (std::size_t pin = 0; pin < plate_.pins.size(); ++pin) {
    AddEye(plate_, pin, pushes[pin].force_n, material, grain_rad, worst);
  }
  return worst;
}

}  // namespace lidwright
