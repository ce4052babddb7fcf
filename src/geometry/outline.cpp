// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/outline.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// An edge of an outline that is an arc. Points and lengths are had from the chord and the bulge,
// not from centre and radius, which for a nearly straight arc are far away and lose the arc to
// rounding.
struct ArcEdge {
  Vec2 start, chord;
  double bulge;

  double Chord_mm() const { return chord.norm(); }
  double HalfSweep_rad() const { return 2.0 * std::atan(bulge); }
  double Length_mm() const {
    return Chord_mm() * (1.0 + bulge * bulge) * std::atan(bulge) / bulge;  // r · sweep
  }
  // Between chord and arc, positive to the right of the chord: r² (s - sin s) / 2, for small
  // bulges by its series c² (b/3 + b³/15 - b⁵/105 + …), next term 0.0032 c² b⁷.
  double SegmentArea_mm2() const {
    const double b2 = bulge * bulge, c2 = chord.squaredNorm();
    if (std::abs(bulge) < 0.01) return c2 * bulge * (1.0 / 3.0 + b2 * (1.0 / 15.0 - b2 / 105.0));
    const double radius2 = c2 * (1.0 + b2) * (1.0 + b2) / (16.0 * b2);
    return radius2 / 2.0 * (2.0 * HalfSweep_rad() - std::sin(2.0 * HalfSweep_rad()));
  }
  // Pieces such that the rise r (1 - cos(step/2)) or, outside, r (1/cos(step/2) - 1) is at most
  // error_mm: cos(step/2) = 1 / (1 + error/r), written with a tangent for the sake of small angles.
  int PiecesFor(double error_mm) const {
    const double curvature = 4.0 * std::abs(bulge) / (Chord_mm() * (1.0 + bulge * bulge));
    const double ratio = std::min(error_mm * curvature, 0.5);
    const double step = 2.0 * std::atan(std::sqrt(ratio * (2.0 + ratio)));
    return std::max(1, static_cast<int>(std::ceil(2.0 * std::abs(HalfSweep_rad()) / step)));
  }
};

void FlattenArc(const ArcEdge& arc, double error_mm, bool outside, Ring& ring) {
  const int pieces = arc.PiecesFor(error_mm);
  const double half = arc.HalfSweep_rad(), step = 2.0 * half / pieces;
  // After the turn φ a chord is c sin(φ/2) / sin(sweep/2) long, (φ - sweep)/2 off the whole chord.
  // The tangents at the turns φ and φ + step cross r tan(step/2) on from the first.
  const double sine = std::sin(half), beyond = std::tan(step / 2.0) / (2.0 * sine);
  for (int i = outside ? 0 : 1; i < pieces; ++i) {
    const double turn = i * step;
    Vec2 p = arc.start + std::sin(turn / 2.0) / sine *
                             Pose::Make(turn / 2.0 - half, Vec2::Zero()).Turn(arc.chord);
    if (outside) p += beyond * Pose::Make(turn - half, Vec2::Zero()).Turn(arc.chord);
    ring.push_back(p);
  }
}

const OutlineVertex& Next(const Outline& outline, std::size_t i) {
  return outline.vertices[(i + 1) % outline.vertices.size()];
}

ArcEdge ArcEdgeAt(const Outline& outline, std::size_t i) {
  const OutlineVertex& vertex = outline.vertices[i];
  const Vec2 chord = Next(outline, i).point - vertex.point;
  LW_REQUIRE(chord != Vec2::Zero(), "an arc without chord at " << vertex.point.transpose());
  return {vertex.point, chord, vertex.bulge};
}

// Directions in which edge i leaves its vertex and reaches the next one.
std::pair<double, double> Headings(const Outline& outline, std::size_t i) {
  const Vec2 chord = Next(outline, i).point - outline.vertices[i].point;
  const double heading = std::atan2(chord.y(), chord.x());
  const double half = 2.0 * std::atan(outline.vertices[i].bulge);
  return {heading - half, heading + half};
}

}  // namespace

Arc ArcOf(const Vec2& a, const Vec2& b, double bulge) {
  LW_REQUIRE(bulge != 0.0 && a != b, "bulge=" << bulge << " a=" << a.transpose());
  const Vec2 chord = b - a;
  Arc arc;
  arc.sweep_rad = 4.0 * std::atan(bulge);
  arc.radius_mm = chord.norm() * (1.0 + bulge * bulge) / (4.0 * std::abs(bulge));
  // The centre stands off the chord's middle by c (1 - b²) / (4 b), to the left of a→b.
  arc.centre = (a + b) / 2.0 + Perp(chord) * ((1.0 - bulge * bulge) / (4.0 * bulge));
  arc.start_rad = std::atan2(a.y() - arc.centre.y(), a.x() - arc.centre.x());
  return arc;
}

double BulgeOf(double sweep_rad) {
  return std::tan(sweep_rad / 4.0);
}

Ring Flatten(const Outline& outline, double error_mm, Chords chords) {
  LW_REQUIRE(error_mm > 0.0, "error_mm=" << error_mm);
  Ring ring;
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const OutlineVertex& vertex = outline.vertices[i];
    ring.push_back(vertex.point);
    if (vertex.bulge == 0.0) continue;
    const bool outside = chords == Chords::kOutside && vertex.bulge > 0.0;
    FlattenArc(ArcEdgeAt(outline, i), error_mm, outside, ring);
  }
  return ring;
}

Ring Flatten(const Circle& circle, double error_mm, Chords chords) {
  return Flatten(AsOutline(circle), error_mm, chords);
}

double SignedArea(const Outline& outline) {
  double area = 0.0;
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const OutlineVertex& a = outline.vertices[i];
    const OutlineVertex& b = Next(outline, i);
    area += Cross(a.point, b.point) / 2.0;
    if (a.bulge != 0.0) area += ArcEdgeAt(outline, i).SegmentArea_mm2();
  }
  return area;
}

double Length(const Outline& outline) {
  double length = 0.0;
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const OutlineVertex& a = outline.vertices[i];
    length += a.bulge == 0.0 ? (Next(outline, i).point - a.point).norm()
                             : ArcEdgeAt(outline, i).Length_mm();
  }
  return length;
}

Outline Moved(const Outline& outline, const Pose& pose) {
  Outline moved = outline;
  for (OutlineVertex& vertex : moved.vertices) vertex.point = pose * vertex.point;
  return moved;
}

Outline Mirrored(const Outline& outline) {
  // A reflection turns every arc the other way, and so does walking the other way round: the
  // bulges keep their sign, each moving to the vertex where its edge now starts.
  const std::size_t n = outline.vertices.size();
  Outline mirrored;
  for (std::size_t k = 0; k < n; ++k) {
    const std::size_t i = n - 1 - k;
    const Vec2& p = outline.vertices[i].point;
    mirrored.vertices.push_back({{-p.x(), p.y()}, outline.vertices[(i + n - 1) % n].bulge});
  }
  return mirrored;
}

Outline AsOutline(const Circle& circle) {
  const Vec2 reach(circle.radius_mm, 0.0);
  return {{{circle.centre + reach, 1.0}, {circle.centre - reach, 1.0}}};
}

double SmallestInsideRadius(const Outline& outline) {
  double smallest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const OutlineVertex& a = outline.vertices[i];
    if (a.bulge < 0.0) {
      smallest = std::min(smallest, ArcOf(a.point, Next(outline, i).point, a.bulge).radius_mm);
    }
    const std::size_t next = (i + 1) % outline.vertices.size();
    const double turn =
        std::remainder(Headings(outline, next).first - Headings(outline, i).second, 2.0 * kPi);
    if (turn < -kInsideCorner_rad) smallest = 0.0;
  }
  return smallest;
}

}  // namespace lidwright
