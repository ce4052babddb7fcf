// SPDX-License-Identifier: Apache-2.0
#include "reference/four_bar.h"

#include <algorithm>
#include <cmath>
#include <complex>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/circle_meeting.h"

namespace lidwright {
namespace {

using Complex = std::complex<double>;

void RequireLengths(const LinkLengths& l) {
  const auto good = [](double length) { return std::isfinite(length) && length > 0.0; };
  LW_REQUIRE(good(l.ground_mm) && good(l.crank_mm) && good(l.coupler_mm) && good(l.rocker_mm),
             "ground=" << l.ground_mm << " crank=" << l.crank_mm << " coupler=" << l.coupler_mm
                       << " rocker=" << l.rocker_mm);
}

Vec2 SecondPivot(const LinkLengths& lengths) {
  return {lengths.ground_mm, 0.0};
}

// 0 if a difference of lengths is negative by rounding only.
double TouchingIsZero(double difference, double size) {
  return difference < 0.0 && difference >= -kTouchingCircles * size ? 0.0 : difference;
}

// Angle between the sides p and q of a triangle, opposite to the side `opposite`; nothing if there
// is no such triangle. tan²(angle / 2) = (o − (p − q)) (o + (p − q)) / ((p + q + o) (p + q − o)),
// good for needle triangles too (after W. Kahan's note on the area and angles of a needle-like
// triangle), where the cosine rule loses half the digits.
std::optional<double> TriangleAngle_rad(double opposite, double p, double q) {
  const double size = p + q + opposite;
  const double more = std::max(p, q), less = std::min(p, q);
  const double folded = TouchingIsZero(opposite - (more - less), size);
  const double stretched = TouchingIsZero((more - opposite) + less, size);
  if (folded < 0.0 || stretched < 0.0) return std::nullopt;
  return 2.0 *
         std::atan2(std::sqrt(folded * (opposite + (more - less))), std::sqrt(size * stretched));
}

// Distance of A from O4: f² = (a − d)² + 4 a d sin²(θ2 / 2).
double Diagonal(const LinkLengths& lengths, double crank_rad) {
  const double half = std::sin(crank_rad / 2.0);
  return std::hypot(lengths.crank_mm - lengths.ground_mm,
                    2.0 * std::sqrt(lengths.crank_mm * lengths.ground_mm) * half);
}

// The distances |A O4| that both the crank's side (a, d) and the coupler's side (b, c) allow.
struct DiagonalRange {
  double low, high;
};
std::optional<DiagonalRange> Diagonals(const LinkLengths& l) {
  DiagonalRange range{
      std::max(std::abs(l.crank_mm - l.ground_mm), std::abs(l.coupler_mm - l.rocker_mm)),
      std::min(l.crank_mm + l.ground_mm, l.coupler_mm + l.rocker_mm)};
  const double size = l.crank_mm + l.ground_mm + l.coupler_mm + l.rocker_mm;
  if (TouchingIsZero(range.high - range.low, size) < 0.0) return std::nullopt;
  range.high = std::max(range.low, range.high);
  return range;
}

// The ends of the range seen as angles between p and q. Where the range ends with p and q stretched
// the sum p + q would be off by a rounding and the angle by its root: it is π to the last bit.
AngleSpan AnglesOf(const DiagonalRange& diagonals, double p, double q) {
  const auto angle = [&](double diagonal) {
    return diagonal >= p + q ? kPi : TriangleAngle_rad(diagonal, p, q).value();
  };
  return {angle(diagonals.low), angle(diagonals.high)};
}

}  // namespace

std::optional<FourBarPosition> SolvePosition(const LinkLengths& lengths, double crank_rad,
                                             Branch branch) {
  RequireLengths(lengths);
  FourBarPosition position;
  position.a = lengths.crank_mm * Vec2(std::cos(crank_rad), std::sin(crank_rad));
  const Vec2 pivot = SecondPivot(lengths);
  const auto b = CircleMeeting(position.a, lengths.coupler_mm, pivot, lengths.rocker_mm,
                               static_cast<int>(branch));
  if (!b) return std::nullopt;
  position.b = *b;
  const Vec2 coupler = position.b - position.a, rocker = position.b - pivot;
  position.coupler_rad = std::atan2(coupler.y(), coupler.x());
  position.rocker_rad = std::atan2(rocker.y(), rocker.x());
  return position;
}

std::optional<FourBarRates> AngularVelocities(const LinkLengths& lengths,
                                              const FourBarPosition& position, double crank_rate) {
  // ω2 z×a + ω3 z×u = ω4 z×v, multiplied by v and by u.
  const Vec2 u = position.b - position.a, v = position.b - SecondPivot(lengths);
  const double dead = Cross(u, v);
  if (dead == 0.0) return std::nullopt;
  return FourBarRates{-crank_rate * Cross(position.a, v) / dead,
                      -crank_rate * Cross(position.a, u) / dead};
}

std::optional<FourBarRates> AngularAccelerations(const LinkLengths& lengths,
                                                 const FourBarPosition& position,
                                                 const FourBarRates& rates, double crank_rate,
                                                 double crank_acceleration) {
  // α2 z×a − ω2² a + α3 z×u − ω3² u = α4 z×v − ω4² v, multiplied by v and by u.
  const Vec2 a = position.a, u = position.b - a, v = position.b - SecondPivot(lengths);
  const double dead = Cross(u, v);
  if (dead == 0.0) return std::nullopt;
  const double w2 = crank_rate * crank_rate, w3 = rates.coupler * rates.coupler,
               w4 = rates.rocker * rates.rocker;
  return FourBarRates{
      (w2 * a.dot(v) + w3 * u.dot(v) - w4 * v.dot(v) - crank_acceleration * Cross(a, v)) / dead,
      (w2 * a.dot(u) + w3 * u.dot(u) - w4 * u.dot(v) - crank_acceleration * Cross(a, u)) / dead};
}

std::optional<Vec2> InstantCentre(const LinkLengths& lengths, const FourBarPosition& position) {
  const Vec2 pivot = SecondPivot(lengths), v = position.b - pivot;
  const double parallel = Cross(position.a, v);
  if (parallel == 0.0) return std::nullopt;
  // t a = O4 + s v, multiplied by v.
  return Vec2(position.a * (Cross(pivot, v) / parallel));
}

std::optional<double> TransmissionAngle_rad(const LinkLengths& lengths, double crank_rad) {
  RequireLengths(lengths);
  return TriangleAngle_rad(Diagonal(lengths, crank_rad), lengths.coupler_mm, lengths.rocker_mm);
}

std::optional<AngleSpan> TransmissionExtremes(const LinkLengths& lengths) {
  RequireLengths(lengths);
  const auto diagonals = Diagonals(lengths);
  if (!diagonals) return std::nullopt;
  return AnglesOf(*diagonals, lengths.coupler_mm, lengths.rocker_mm);
}

std::optional<AngleSpan> CrankLimits(const LinkLengths& lengths) {
  RequireLengths(lengths);
  const auto diagonals = Diagonals(lengths);
  if (!diagonals) return std::nullopt;
  return AnglesOf(*diagonals, lengths.crank_mm, lengths.ground_mm);
}

TogglePositions Toggles(const LinkLengths& lengths) {
  RequireLengths(lengths);
  // B at distance `reach` from O2, seen from O2 and from O4.
  const auto toggle = [&](double reach, bool crank_points_away) -> std::optional<TogglePosition> {
    const auto at_crank = TriangleAngle_rad(lengths.rocker_mm, lengths.ground_mm, reach);
    const auto at_rocker = TriangleAngle_rad(reach, lengths.ground_mm, lengths.rocker_mm);
    if (!at_crank || !at_rocker) return std::nullopt;
    const double away_rad = *at_crank > 0.0 ? *at_crank - kPi : kPi;
    return TogglePosition{crank_points_away ? away_rad : *at_crank, kPi - *at_rocker};
  };
  TogglePositions toggles;
  toggles.stretched = toggle(lengths.crank_mm + lengths.coupler_mm, false);
  const double folded = std::abs(lengths.crank_mm - lengths.coupler_mm);
  if (folded > 0.0) toggles.folded = toggle(folded, lengths.coupler_mm > lengths.crank_mm);
  return toggles;
}

GrashofClass Classify(const LinkLengths& lengths) {
  RequireLengths(lengths);
  std::array<double, 4> sorted{lengths.ground_mm, lengths.crank_mm, lengths.coupler_mm,
                               lengths.rocker_mm};
  std::sort(sorted.begin(), sorted.end());
  const auto [s, p, q, l] = sorted;
  const double slack = kEqualSums * (s + p + q + l);
  if (l - (s + p + q) > slack) return GrashofClass::kCannotClose;
  const double excess = (s + l) - (p + q);
  if (std::abs(excess) <= slack) return GrashofClass::kChangePoint;
  if (excess > 0.0) return GrashofClass::kTripleRocker;
  if (lengths.ground_mm == s) return GrashofClass::kDoubleCrank;
  if (lengths.crank_mm == s) return GrashofClass::kCrankRocker;
  if (lengths.rocker_mm == s) return GrashofClass::kRockerCrank;
  return GrashofClass::kDoubleRocker;
}

Vec2 CouplerPoint(const FourBarPosition& position, const Vec2& point_mm) {
  return Pose::Make(position.coupler_rad, position.a) * point_mm;
}

std::optional<Vec2> TracedPoint(const TracingFourBar& linkage, double crank_rad, Branch branch) {
  const auto position = SolvePosition(linkage.lengths, crank_rad, branch);
  if (!position) return std::nullopt;
  return linkage.X_WG * CouplerPoint(*position, linkage.point_mm);
}

std::array<TracingFourBar, 3> Cognates(const TracingFourBar& linkage) {
  RequireLengths(linkage.lengths);
  const auto [d, a, b, c] = linkage.lengths;
  const Complex s = Complex(linkage.point_mm.x(), linkage.point_mm.y()) / b, rest = 1.0 - s;
  const double near = std::abs(s), far = std::abs(rest);
  LW_REQUIRE(near > 0.0 && far > 0.0, "point=" << linkage.point_mm.transpose() << " coupler=" << b);
  const auto vec = [](const Complex& z) { return Vec2(z.real(), z.imag()); };
  const auto turned = [](const Complex& along, const Vec2& origin) {
    const Complex unit = along / std::abs(along);
    return Pose{unit.real(), unit.imag(), origin};
  };
  // Left: A2 = O_A + (P − A), C2 = O_C + s (B − O_B); its coupler A2→C2 is s (A − O_A), and its
  // arm A2→P is A − O_A, hence P stands at 1 / s of the coupler.
  // Right: B3 = O_B + (P − B), C3 = O_C + (P − C2); its coupler B3→C3 is (1 − s) (B − O_B), and
  // its arm B3→P is B − O_B.
  const TracingFourBar left{{near * d, near * b, near * a, near * c},
                            vec(near * a / s),
                            linkage.X_WG * turned(s, Vec2::Zero())};
  const TracingFourBar right{{far * d, far * b, far * c, far * a},
                             vec(far * c / rest),
                             linkage.X_WG * turned(-rest, Vec2(d, 0.0))};
  return {linkage, left, right};
}

}  // namespace lidwright
