// SPDX-License-Identifier: Apache-2.0
// Laws that every four-bar obeys, over a seeded corpus of random ones. What the laws are written
// with (loop equation, sine rule, cosine rule, difference quotients) is not what the code uses.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <random>
#include <vector>

#include "reference/four_bar.h"

namespace lidwright {
namespace {

using Complex = std::complex<double>;

constexpr Branch kBranches[] = {Branch::kOpen, Branch::kCrossed};

double Uniform(std::mt19937_64& bits, double low, double high) {
  return low + (high - low) * static_cast<double>(bits() >> 11) * 0x1p-53;
}

LinkLengths RandomLengths(std::mt19937_64& bits) {
  const auto length = [&] { return std::exp(Uniform(bits, std::log(5.0), std::log(200.0))); };
  LinkLengths lengths;
  lengths.ground_mm = length();
  lengths.crank_mm = length();
  lengths.coupler_mm = length();
  lengths.rocker_mm = length();
  return lengths;
}

double Size(const LinkLengths& l) {
  return l.ground_mm + l.crank_mm + l.coupler_mm + l.rocker_mm;
}

struct Case {
  LinkLengths lengths;
  double crank_rad;
  Branch branch;
  FourBarPosition position;
};

// Positions of random linkages that close, at least `least_sine` away from a dead point.
std::vector<Case> Corpus(double least_sine) {
  std::mt19937_64 bits(7);
  std::vector<Case> corpus;
  for (int i = 0; i < 4000; ++i) {
    const LinkLengths lengths = RandomLengths(bits);
    const double crank_rad = Uniform(bits, -kPi, kPi);
    for (Branch branch : kBranches) {
      const auto position = SolvePosition(lengths, crank_rad, branch);
      if (!position) continue;
      if (std::abs(std::sin(position->coupler_rad - position->rocker_rad)) < least_sine) continue;
      corpus.push_back({lengths, crank_rad, branch, *position});
    }
  }
  REQUIRE(corpus.size() > 1000);
  return corpus;
}

Complex Turn(double angle_rad) {
  return std::polar(1.0, angle_rad);
}

double Apart(double left_rad, double right_rad) {
  return std::abs(std::remainder(left_rad - right_rad, 2.0 * kPi));
}

}  // namespace

TEST_CASE("The loop a + b = d + c closes, and Freudenstein's equation holds") {
  double worst = 0.0, worst_freudenstein = 0.0;
  for (const Case& c : Corpus(0.0)) {
    const auto& [ground, crank, coupler, rocker] = c.lengths;
    const auto& p = c.position;
    const Complex loop = crank * Turn(c.crank_rad) + coupler * Turn(p.coupler_rad) - ground -
                         rocker * Turn(p.rocker_rad);
    worst = std::max(worst, std::abs(loop) / Size(c.lengths));
    const Vec2 pivot(ground, 0.0);
    worst = std::max(worst, std::abs(p.a.norm() - crank) / Size(c.lengths));
    worst = std::max(worst, std::abs((p.b - p.a).norm() - coupler) / Size(c.lengths));
    worst = std::max(worst, std::abs((p.b - pivot).norm() - rocker) / Size(c.lengths));
    const double side = Cross(Vec2(pivot - p.a), Vec2(p.b - p.a));
    REQUIRE(side * static_cast<int>(c.branch) >= 0.0);
    // K1 cos θ4 − K2 cos θ2 + K3 = cos(θ2 − θ4), multiplied by 2ac.
    const double k3 = crank * crank - coupler * coupler + rocker * rocker + ground * ground;
    const double freudenstein = 2.0 * ground * rocker * std::cos(p.rocker_rad) -
                                2.0 * ground * crank * std::cos(c.crank_rad) + k3 -
                                2.0 * crank * rocker * std::cos(c.crank_rad - p.rocker_rad);
    worst_freudenstein =
        std::max(worst_freudenstein, std::abs(freudenstein) / std::pow(Size(c.lengths), 2));
  }
  CHECK(worst < 1e-14);
  CHECK(worst_freudenstein < 1e-14);
}

TEST_CASE("A mirrored linkage stands mirrored on the other branch") {
  for (const Case& c : Corpus(0.0)) {
    const Branch other = c.branch == Branch::kOpen ? Branch::kCrossed : Branch::kOpen;
    const auto mirrored = SolvePosition(c.lengths, -c.crank_rad, other);
    REQUIRE(mirrored);
    CHECK(Apart(mirrored->coupler_rad, -c.position.coupler_rad) < 1e-13);
    CHECK(Apart(mirrored->rocker_rad, -c.position.rocker_rad) < 1e-13);
  }
}

TEST_CASE("A scaled, turned and shifted linkage traces the scaled, turned and shifted point") {
  std::mt19937_64 bits(8);
  for (const Case& c : Corpus(1e-2)) {
    const double scale = std::exp(Uniform(bits, -3.0, 3.0));
    const Pose moved = Pose::Make(Uniform(bits, -kPi, kPi), {Uniform(bits, -99, 99), 40.0});
    const Vec2 point(Uniform(bits, -99, 99), Uniform(bits, -99, 99));
    const auto& [ground, crank, coupler, rocker] = c.lengths;
    const TracingFourBar copy{
        {scale * ground, scale * crank, scale * coupler, scale * rocker}, scale * point, moved};
    const auto traced = TracedPoint(copy, c.crank_rad, c.branch);
    REQUIRE(traced);
    const Vec2 wanted = moved * (scale * CouplerPoint(c.position, point));
    CHECK((*traced - wanted).norm() < 1e-11 * (1.0 + scale) * (Size(c.lengths) + 200.0));
  }
}

TEST_CASE("Velocities agree with the sine rule and with difference quotients") {
  double worst_sine = 0.0, worst_quotient = 0.0;
  for (const Case& c : Corpus(0.1)) {
    const double rate = 1.7;
    const auto& p = c.position;
    const auto w = AngularVelocities(c.lengths, p, rate);
    REQUIRE(w);
    const auto& [ground, crank, coupler, rocker] = c.lengths;
    const double sine3 = crank * rate / coupler * std::sin(p.rocker_rad - c.crank_rad) /
                         std::sin(p.coupler_rad - p.rocker_rad);
    const double sine4 = crank * rate / rocker * std::sin(c.crank_rad - p.coupler_rad) /
                         std::sin(p.rocker_rad - p.coupler_rad);
    const double size = 1.0 + crank * rate * (1.0 / coupler + 1.0 / rocker);
    worst_sine = std::max(worst_sine, std::abs(sine3 - w->coupler) / size);
    worst_sine = std::max(worst_sine, std::abs(sine4 - w->rocker) / size);

    const double h = 1e-5 / size;
    const auto after = SolvePosition(c.lengths, c.crank_rad + h * rate, c.branch);
    const auto before = SolvePosition(c.lengths, c.crank_rad - h * rate, c.branch);
    REQUIRE(after);
    REQUIRE(before);
    const auto quotient = [&](double x, double y) {
      return std::remainder(x - y, 2 * kPi) / (2 * h);
    };
    const double d3 = quotient(after->coupler_rad, before->coupler_rad) - w->coupler;
    const double d4 = quotient(after->rocker_rad, before->rocker_rad) - w->rocker;
    worst_quotient = std::max({worst_quotient, std::abs(d3) / size, std::abs(d4) / size});
  }
  CHECK(worst_sine < 1e-12);
  CHECK(worst_quotient < 1e-6);
}

TEST_CASE("ω3 − ω4 is equal and opposite on the two branches") {
  std::mt19937_64 bits(9);
  int cases = 0;
  while (cases < 1000) {
    const LinkLengths lengths = RandomLengths(bits);
    const double crank_rad = Uniform(bits, -kPi, kPi);
    const auto open = SolvePosition(lengths, crank_rad, Branch::kOpen);
    const auto crossed = SolvePosition(lengths, crank_rad, Branch::kCrossed);
    REQUIRE(open.has_value() == crossed.has_value());
    if (!open || std::abs(std::sin(open->coupler_rad - open->rocker_rad)) < 0.05) continue;
    const auto w = AngularVelocities(lengths, *open, 1.0);
    const auto x = AngularVelocities(lengths, *crossed, 1.0);
    REQUIRE(w);
    REQUIRE(x);
    const double size = 1.0 + std::abs(w->coupler) + std::abs(w->rocker);
    CHECK(std::abs(w->coupler - w->rocker + x->coupler - x->rocker) < 1e-11 * size);
    ++cases;
  }
}

TEST_CASE("Accelerations agree with difference quotients of the velocities") {
  double worst = 0.0;
  for (const Case& c : Corpus(0.2)) {
    // The crank's motion θ2(t) = θ2 + ω t + α t² / 2.
    const double rate = -1.3, acceleration = 0.8;
    const auto w = AngularVelocities(c.lengths, c.position, rate);
    REQUIRE(w);
    const auto alpha = AngularAccelerations(c.lengths, c.position, *w, rate, acceleration);
    REQUIRE(alpha);
    const double size = 1.0 + w->coupler * w->coupler + w->rocker * w->rocker;
    const double h = 1e-5 / size;
    FourBarRates at[2];
    for (int k = 0; k < 2; ++k) {
      const double t = k ? h : -h;
      const auto p =
          SolvePosition(c.lengths, c.crank_rad + rate * t + acceleration * t * t / 2.0, c.branch);
      REQUIRE(p);
      at[k] = AngularVelocities(c.lengths, *p, rate + acceleration * t).value();
    }
    const double d3 = (at[1].coupler - at[0].coupler) / (2 * h) - alpha->coupler;
    const double d4 = (at[1].rocker - at[0].rocker) / (2 * h) - alpha->rocker;
    const double reach = c.lengths.crank_mm / std::min(c.lengths.coupler_mm, c.lengths.rocker_mm);
    worst =
        std::max({worst, std::abs(d3) / (size * (1 + reach)), std::abs(d4) / (size * (1 + reach))});
  }
  CHECK(worst < 1e-5);
}

TEST_CASE("Aronhold and Kennedy: the centres found from velocities lie in line by threes") {
  int cases = 0;
  for (const Case& c : Corpus(0.05)) {
    const auto& p = c.position;
    const auto w = AngularVelocities(c.lengths, p, 1.0);
    REQUIRE(w);
    const auto centre = InstantCentre(c.lengths, p);
    REQUIRE(centre);
    if (std::abs(w->coupler) < 1e-3 || std::abs(1.0 - w->rocker) < 1e-3) continue;
    ++cases;
    const Vec2 pivot(c.lengths.ground_mm, 0.0);
    // I13 from the velocity of A alone: v_A + ω3 z × (I − A) = 0.
    const Vec2 from_velocity = p.a + Perp(Perp(p.a)) / w->coupler;
    const double size = Size(c.lengths) + centre->norm();
    CHECK((from_velocity - *centre).norm() < 1e-10 * size * (1.0 + 1.0 / std::abs(w->coupler)));
    const auto in_line = [](const Vec2& i, const Vec2& j, const Vec2& k) {
      const Vec2 u = j - i, v = k - i;
      return std::abs(Cross(u, v)) <= 1e-10 * (u.squaredNorm() + v.squaredNorm());
    };
    CHECK(in_line({0.0, 0.0}, p.a, *centre));  // I12, I23, I13
    CHECK(in_line(pivot, p.b, *centre));       // I14, I34, I13
    // I24, where crank and rocker move alike: ω2 x = ω4 (x − d) on the ground line.
    const Vec2 i24(-w->rocker * c.lengths.ground_mm / (1.0 - w->rocker), 0.0);
    CHECK(in_line(p.a, p.b, i24));  // I23, I34, I24
  }
  CHECK(cases > 1000);
}

TEST_CASE("The transmission angle is the angle between coupler and rocker, by the cosine rule") {
  for (const Case& c : Corpus(0.0)) {
    const auto angle = TransmissionAngle_rad(c.lengths, c.crank_rad);
    REQUIRE(angle);
    const double between =
        std::abs(std::remainder(c.position.coupler_rad - c.position.rocker_rad, 2 * kPi));
    const auto& [d, a, b, rocker] = c.lengths;
    const double cosine =
        (b * b + rocker * rocker - a * a - d * d + 2 * a * d * std::cos(c.crank_rad)) /
        (2 * b * rocker);
    // Both oracles lose digits where lengths differ much; their own error is allowed for.
    const double size = std::pow(Size(c.lengths), 2) / (b * rocker);
    CHECK(std::abs(std::cos(*angle) - cosine) < 1e-14 * size);
    CHECK(std::abs(std::cos(*angle) - std::cos(between)) < 1e-14 * size);
  }
}

TEST_CASE("The closed forms of limits and extremes agree with trying every angle") {
  std::mt19937_64 bits(10);
  int full = 0, limited_low = 0, limited_high = 0, never = 0;
  constexpr int kSteps = 7200;
  for (int i = 0; i < 300; ++i) {
    const LinkLengths lengths = RandomLengths(bits);
    const auto limits = CrankLimits(lengths);
    const auto extremes = TransmissionExtremes(lengths);
    REQUIRE(limits.has_value() == extremes.has_value());
    REQUIRE(limits.has_value() == (Classify(lengths) != GrashofClass::kCannotClose));
    int closed = 0, misjudged = 0;
    double low = kPi, high = 0.0;
    for (int k = -kSteps; k < kSteps; ++k) {
      const double crank_rad = kPi * (k + 0.5) / kSteps;
      const bool closes = SolvePosition(lengths, crank_rad, Branch::kOpen).has_value();
      const double turn = std::abs(crank_rad);
      const bool allowed = limits && turn >= limits->low_rad && turn <= limits->high_rad;
      if (closes != allowed) ++misjudged;
      if (!closes) continue;
      ++closed;
      const double angle = TransmissionAngle_rad(lengths, crank_rad).value();
      low = std::min(low, angle);
      high = std::max(high, angle);
    }
    CHECK(misjudged == 0);
    if (!limits) {
      ++never;
      continue;
    }
    if (limits->low_rad == 0.0 && limits->high_rad == kPi) ++full;
    // At a dead point coupler and rocker lie in line.
    for (double end : {limits->low_rad, limits->high_rad}) {
      if (end == 0.0 || end == kPi) continue;
      ++(end == limits->low_rad ? limited_low : limited_high);
      const double angle =
          TransmissionAngle_rad(lengths, end).value_or(end == limits->low_rad ? 0 : kPi);
      CHECK(std::abs(std::sin(angle)) < 1e-5);
    }
    if (closed < 100) continue;  // too narrow for the grid to say anything
    CHECK(low >= extremes->low_rad - 1e-12);
    CHECK(high <= extremes->high_rad + 1e-12);
    // Near a dead point the angle runs as the root of the step.
    const double near = 4.0 * std::sqrt(kPi / kSteps) * std::sqrt(Size(lengths) / 5.0);
    CHECK(low - extremes->low_rad < near);
    CHECK(extremes->high_rad - high < near);
  }
  CHECK(full > 20);
  CHECK(limited_low > 50);
  CHECK(limited_high > 50);
  CHECK(never > 20);
}

TEST_CASE("Grashof's class agrees with which links are seen to turn fully") {
  std::mt19937_64 bits(11);
  int seen[7] = {};
  for (int i = 0; i < 2000; ++i) {
    const LinkLengths l = RandomLengths(bits);
    // The crank turns fully if every angle closes; 0 and π are the hardest ones.
    const auto turns = [](const LinkLengths& lengths) {
      for (int k = 0; k <= 16; ++k) {
        if (!SolvePosition(lengths, kPi * k / 16, Branch::kOpen)) return false;
      }
      return true;
    };
    const bool crank = turns(l);
    const bool rocker = turns({l.ground_mm, l.rocker_mm, l.coupler_mm, l.crank_mm});
    // Seen from the crank as ground, the coupler's turning is that of the link next to it.
    const bool coupler_on_crank = turns({l.crank_mm, l.coupler_mm, l.rocker_mm, l.ground_mm});
    const GrashofClass found = Classify(l);
    ++seen[static_cast<int>(found)];
    switch (found) {
      case GrashofClass::kDoubleCrank:
        CHECK((crank && rocker && !coupler_on_crank));
        break;
      case GrashofClass::kCrankRocker:
        CHECK((crank && !rocker && coupler_on_crank));
        break;
      case GrashofClass::kRockerCrank:
        CHECK((!crank && rocker && !coupler_on_crank));
        break;
      case GrashofClass::kDoubleRocker:
        CHECK((!crank && !rocker && coupler_on_crank));
        break;
      default:
        CHECK((!crank && !rocker && !coupler_on_crank));
    }
  }
  for (GrashofClass c :
       {GrashofClass::kDoubleCrank, GrashofClass::kCrankRocker, GrashofClass::kRockerCrank,
        GrashofClass::kDoubleRocker, GrashofClass::kTripleRocker, GrashofClass::kCannotClose}) {
    CHECK(seen[static_cast<int>(c)] > 50);
  }
}

TEST_CASE("At a toggle crank and coupler are in line and the rocker stands still") {
  std::mt19937_64 bits(12);
  int stretched = 0, folded = 0;
  for (int i = 0; i < 1000; ++i) {
    const LinkLengths lengths = RandomLengths(bits);
    const TogglePositions toggles = Toggles(lengths);
    const auto check = [&](const TogglePosition& toggle, bool is_stretched) {
      double best = 1.0, rate = 1.0, turn = 0.0;
      for (Branch branch : kBranches) {
        const auto p = SolvePosition(lengths, toggle.crank_rad, branch);
        if (!p) continue;
        const double apart = Apart(p->rocker_rad, toggle.rocker_rad);
        if (apart > best) continue;
        best = apart;
        turn = Apart(p->coupler_rad, toggle.crank_rad);
        rate = AngularVelocities(lengths, *p, 1.0).value_or(FourBarRates{}).rocker;
      }
      CHECK(best < 1e-6);
      CHECK(std::abs(turn - (is_stretched ? 0.0 : kPi)) < 1e-6);
      CHECK(std::abs(rate) < 1e-6);
      CHECK(std::sin(toggle.rocker_rad) >= 0.0);
    };
    // Where the crank is dead as well, nothing can be told from rates.
    const auto clear = [&](const std::optional<TogglePosition>& toggle) {
      const auto angle =
          toggle ? TransmissionAngle_rad(lengths, toggle->crank_rad) : std::optional<double>{};
      return angle && std::sin(*angle) > 1e-2;
    };
    if (clear(toggles.stretched)) check(*toggles.stretched, true), ++stretched;
    if (clear(toggles.folded)) check(*toggles.folded, false), ++folded;
  }
  CHECK(stretched > 200);
  CHECK(folded > 200);
}

}  // namespace lidwright
