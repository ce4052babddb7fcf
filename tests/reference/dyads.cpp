// SPDX-License-Identifier: Apache-2.0
#include "reference/dyads.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

using Complex = std::complex<double>;
using Complexes = std::vector<Complex>;

Complex AsComplex(const Vec2& v) {
  return {v.x(), v.y()};
}
Vec2 AsVec(const Complex& z) {
  return {z.real(), z.imag()};
}

// The body's displacement since the first pose, with the world's origin at M's first origin.
struct Displacement {
  double c, s;  // of the turn
  Vec2 d;       // of M's origin
};
Displacement Between(const Pose& first, const Pose& pose) {
  return {pose.cosine * first.cosine + pose.sine * first.sine,
          pose.sine * first.cosine - pose.cosine * first.sine, pose.origin - first.origin};
}

Complex TurnOf(const Displacement& step) {
  return {step.c, step.s};
}

// Roots of c0 + c1 t + … + cn tⁿ as eigenvalues of the companion matrix. Leading coefficients that
// vanish against the others are dropped: their roots are at infinity.
Complexes RootsOf(std::vector<double> coefficients) {
  double largest = 0.0;
  for (double c : coefficients) largest = std::max(largest, std::abs(c));
  while (!coefficients.empty() && std::abs(coefficients.back()) <= kVanishing * largest) {
    coefficients.pop_back();
  }
  if (coefficients.size() < 2) return {};
  const Eigen::Index n = static_cast<Eigen::Index>(coefficients.size()) - 1;
  Eigen::MatrixXd companion = Eigen::MatrixXd::Zero(n, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    companion(i, n - 1) = -coefficients[static_cast<std::size_t>(i)] / coefficients.back();
    if (i > 0) companion(i, i - 1) = 1.0;
  }
  const Eigen::VectorXcd roots = companion.eigenvalues();
  return {roots.begin(), roots.end()};
}

// Row j of M(m) with M (1, G)ᵀ = 0: half of |R m + d − G|² − |m − G|², linear in G and in m.
template <typename T>
Eigen::Matrix<T, 1, 3> CircleRow(const Displacement& step, const T& x, const T& y) {
  const double dx = step.d.x(), dy = step.d.y();
  const T turned_x = step.c * x - step.s * y, turned_y = step.s * x + step.c * y;
  return {T(step.d.squaredNorm() / 2.0) + dx * turned_x + dy * turned_y, -(dx + turned_x - x),
          -(dy + turned_y - y)};
}

// Newton's method on the four circle rows in (G, m); `unknown` is (Gx, Gy, x, y). Square system, so
// the step is exact where the jacobian is regular.
template <typename T>
void Sharpen(const std::vector<Displacement>& steps, Eigen::Matrix<T, 4, 1>& unknown) {
  using Vector = Eigen::Matrix<T, 4, 1>;
  using Matrix = Eigen::Matrix<T, 4, 4>;
  const auto residuals = [&](const Vector& u, Matrix* jacobian) {
    Vector r;
    for (Eigen::Index j = 0; j < 4; ++j) {
      const Displacement& step = steps[static_cast<std::size_t>(j)];
      const auto row = CircleRow<T>(step, u(2), u(3));
      r(j) = row(0) + row(1) * u(0) + row(2) * u(1);
      if (!jacobian) continue;
      (*jacobian)(j, 0) = row(1);
      (*jacobian)(j, 1) = row(2);
      // ∂/∂m of d · R m − G · (R − 1) m.
      const T gx = step.d.x() - u(0), gy = step.d.y() - u(1);
      (*jacobian)(j, 2) = step.c * gx + step.s * gy + u(0);
      (*jacobian)(j, 3) = step.c * gy - step.s * gx + u(1);
    }
    return r;
  };
  for (int round = 0; round < 20; ++round) {
    Matrix jacobian;
    const Vector r = residuals(unknown, &jacobian);
    const Vector next = unknown - jacobian.fullPivLu().solve(r);
    if (!(residuals(next, nullptr).norm() < r.norm())) return;
    unknown = next;
  }
}

// The points where the conics pᵀ S p and pᵀ T p of a projective plane meet.
std::vector<Eigen::Vector3cd> ConicsMeet(Eigen::Matrix3d s, Eigen::Matrix3d t) {
  // Turned into general position, so that no two meeting points lie above one another.
  const Eigen::Matrix3d turn = (Eigen::AngleAxisd(0.7, Eigen::Vector3d::UnitX()) *
                                Eigen::AngleAxisd(1.1, Eigen::Vector3d::UnitY()) *
                                Eigen::AngleAxisd(-0.4, Eigen::Vector3d::UnitZ()))
                                   .toRotationMatrix();
  s = turn.transpose() * s * turn / s.norm();
  t = turn.transpose() * t * turn / t.norm();
  // With p = (x, y, 1): a y² + b(x) y + c(x), whose resultant in y is a quartic in x.
  const auto poly = [](const Eigen::Matrix3d& q) {
    return std::array<std::array<double, 3>, 3>{
        {{q(1, 1), 0, 0}, {2 * q(1, 2), 2 * q(0, 1), 0}, {q(2, 2), 2 * q(0, 2), q(0, 0)}}};
  };
  const auto p = poly(s), q = poly(t);
  const auto product = [](const std::vector<double>& l, const std::vector<double>& r) {
    std::vector<double> result(l.size() + r.size() - 1, 0.0);
    for (std::size_t i = 0; i < l.size(); ++i) {
      for (std::size_t j = 0; j < r.size(); ++j) result[i + j] += l[i] * r[j];
    }
    return result;
  };
  const auto minor = [&](std::size_t i, std::size_t j) {  // p_i q_j − p_j q_i
    const auto whole = [](const std::array<double, 3>& a) {
      return std::vector<double>(a.begin(), a.end());
    };
    std::vector<double> left = product(whole(p[i]), whole(q[j]));
    const std::vector<double> right = product(whole(p[j]), whole(q[i]));
    for (std::size_t k = 0; k < left.size(); ++k) left[k] -= right[k];
    return left;
  };
  const auto ab = minor(0, 1), ac = minor(0, 2), bc = minor(1, 2);
  std::vector<double> quartic = product(ac, ac);
  const std::vector<double> other = product(ab, bc);
  for (std::size_t k = 0; k < quartic.size(); ++k) quartic[k] -= other[k];
  quartic.resize(5);  // the rest is zero by degree

  const auto value = [](const std::vector<double>& poly_in_x, const Complex& x) {
    Complex sum = 0.0;
    for (std::size_t k = poly_in_x.size(); k-- > 0;) sum = sum * x + poly_in_x[k];
    return sum;
  };
  std::vector<Eigen::Vector3cd> points;
  for (const Complex& x : RootsOf(quartic)) {
    const Complex y = -value(ac, x) / value(ab, x);
    points.push_back((turn.cast<Complex>() * Eigen::Vector3cd(x, y, 1.0)).normalized());
  }
  return points;
}

// Conjugates side by side: the pair with the least real part of the fixed pivot's x first, and of a
// pair the one whose fixed pivot's x has the positive imaginary part.
void AppendPairs(std::vector<ComplexDyad> from, std::vector<ComplexDyad>& to) {
  const auto conjugate_gap = [](const ComplexDyad& l, const ComplexDyad& r) {
    double sum = 0.0;
    for (std::size_t k = 0; k < 2; ++k) {
      sum += std::norm(l.fixed[k] - std::conj(r.fixed[k]));
      sum += std::norm(l.moving[k] - std::conj(r.moving[k]));
    }
    return sum;
  };
  while (!from.empty()) {
    auto one = std::min_element(from.begin(), from.end(), [](const auto& l, const auto& r) {
      return l.fixed[0].real() < r.fixed[0].real();
    });
    ComplexDyad first = *one;
    from.erase(one);
    to.push_back(first);
    if (from.empty()) return;
    auto two = std::min_element(from.begin(), from.end(), [&](const auto& l, const auto& r) {
      return conjugate_gap(l, first) < conjugate_gap(r, first);
    });
    to.push_back(*two);
    from.erase(two);
    if (to.back().fixed[0].imag() > 0.0) std::swap(to.back(), to[to.size() - 2]);
  }
}

}  // namespace

Vec2 MovingPivotAt(const Dyad& dyad, const Pose& first, const Pose& pose) {
  return pose * (first.Inverse() * dyad.moving);
}

std::optional<Vec2> PoleOf(const Pose& from, const Pose& to) {
  const Displacement step = Between(from, to);
  const Complex one_minus = 1.0 - TurnOf(step);
  if (std::abs(one_minus) == 0.0) return std::nullopt;
  return Vec2(from.origin + AsVec(AsComplex(step.d) / one_minus));
}

std::optional<Dyad> TwoPoseDyad(const Pose& first, const Pose& second, const Vec2& z_mm,
                                double arm_turn_rad) {
  const Displacement step = Between(first, second);
  // e^{iβ} − 1 = 2i sin(β / 2) e^{iβ/2}
  const double half = std::sin(arm_turn_rad / 2.0);
  if (std::abs(half) <= kVanishing) return std::nullopt;
  const Complex arm_turn = Complex(0.0, 2.0 * half) * std::polar(1.0, arm_turn_rad / 2.0);
  const Complex w = (AsComplex(step.d) - AsComplex(z_mm) * (TurnOf(step) - 1.0)) / arm_turn;
  const Vec2 moving = first.origin - z_mm;
  return Dyad{moving - AsVec(w), moving};
}

std::optional<Dyad> ThreePoseDyad(const std::array<Pose, 3>& poses, double second_turn_rad,
                                  double third_turn_rad) {
  const Displacement two = Between(poses[0], poses[1]), three = Between(poses[0], poses[2]);
  const Complex b2 = std::polar(1.0, second_turn_rad) - 1.0;
  const Complex b3 = std::polar(1.0, third_turn_rad) - 1.0;
  const Complex a2 = TurnOf(two) - 1.0, a3 = TurnOf(three) - 1.0;
  const Complex determinant = b2 * a3 - a2 * b3;
  if (std::abs(determinant) <= kVanishing) return std::nullopt;
  const Complex p2 = AsComplex(two.d), p3 = AsComplex(three.d);
  const Complex w = (p2 * a3 - a2 * p3) / determinant, z = (b2 * p3 - p2 * b3) / determinant;
  const Vec2 moving = poses[0].origin - AsVec(z);
  return Dyad{moving - AsVec(w), moving};
}

std::optional<Vec2> CircleCentre(const Vec2& a, const Vec2& b, const Vec2& c) {
  const Vec2 u = b - a, v = c - a;
  const double twice_area = Cross(u, v);
  if (std::abs(twice_area) <= kVanishing * (u.squaredNorm() + v.squaredNorm())) return std::nullopt;
  return Vec2(a + Perp(Vec2(v.squaredNorm() * u - u.squaredNorm() * v)) / (2.0 * twice_area));
}

std::optional<Dyad> ThreePoseDyadAt(const std::array<Pose, 3>& poses, const Vec2& moving_mm) {
  const Dyad dyad{Vec2::Zero(), moving_mm};
  const auto centre = CircleCentre(moving_mm, MovingPivotAt(dyad, poses[0], poses[1]),
                                   MovingPivotAt(dyad, poses[0], poses[2]));
  if (!centre) return std::nullopt;
  return Dyad{*centre, moving_mm};
}

std::vector<Dyad> FourPoseDyads(const std::array<Pose, 4>& poses, const Vec2& point_mm,
                                const Vec2& direction) {
  LW_REQUIRE(direction.norm() > 0.0, "direction=" << direction.transpose());
  const Vec2 start = point_mm - poses[0].origin, along = direction.normalized();
  // M at start + t · along is A + t B; lengths in units of the task's size.
  double size = start.norm();
  for (const Pose& pose : poses) size = std::max(size, (pose.origin - poses[0].origin).norm());
  if (size == 0.0) size = 1.0;
  Eigen::Matrix3d a, b;
  for (int j = 0; j < 3; ++j) {
    Displacement step = Between(poses[0], poses[static_cast<std::size_t>(j) + 1]);
    step.d /= size;
    a.row(j) = CircleRow<double>(step, start.x() / size, start.y() / size);
    b.row(j) = CircleRow<double>(step, (start.x() + along.x() * size) / size,
                                 (start.y() + along.y() * size) / size) -
               a.row(j);
  }
  const auto adjugate = [](const Eigen::Matrix3d& m) {
    Eigen::Matrix3d result;
    result.row(0) = m.col(1).cross(m.col(2)).transpose();
    result.row(1) = m.col(2).cross(m.col(0)).transpose();
    result.row(2) = m.col(0).cross(m.col(1)).transpose();
    return result;
  };
  // det(A + t B)
  const Complexes roots = RootsOf(
      {a.determinant(), (adjugate(a) * b).trace(), (adjugate(b) * a).trace(), b.determinant()});
  std::vector<Dyad> dyads;
  for (const Complex& root : roots) {
    if (std::abs(root.imag()) > kRealDyad * (1.0 + std::abs(root))) continue;
    const Eigen::JacobiSVD<Eigen::Matrix3d> svd(a + root.real() * b, Eigen::ComputeFullV);
    const Eigen::Vector3d kernel = svd.matrixV().col(2);
    if (std::abs(kernel(0)) <= kVanishing) continue;  // a slider
    const Vec2 fixed(kernel(1) / kernel(0), kernel(2) / kernel(0));
    dyads.push_back(
        {poses[0].origin + size * fixed, poses[0].origin + start + root.real() * size * along});
  }
  return dyads;
}

FivePoseDyads SolveFivePoses(const std::array<Pose, 5>& poses) {
  FivePoseDyads result;
  std::vector<Displacement> steps;
  double size = 0.0;
  for (const Pose& pose : poses) {
    steps.push_back(Between(poses[0], pose));
    size = std::max(size, steps.back().d.norm());
  }
  if (size == 0.0) size = 1.0;  // all turns about one point
  Eigen::Matrix<double, 5, 8> linear;
  for (std::size_t j = 0; j < 5; ++j) {
    Displacement& step = steps[j];
    step.d /= size;
    const double ex = step.c * step.d.x() + step.s * step.d.y(),
                 ey = step.c * step.d.y() - step.s * step.d.x();
    linear.row(static_cast<Eigen::Index>(j)) << step.d.squaredNorm(), ex, ey, step.d.x(),
        step.d.y(), step.c, step.s, 1.0;
  }
  const Eigen::JacobiSVD<Eigen::Matrix<double, 5, 8>> svd(linear, Eigen::ComputeFullV);
  if (svd.singularValues()(4) <= kVanishing * svd.singularValues()(0)) {
    result.finitely_many = false;
    return result;
  }
  const Eigen::Matrix<double, 8, 3> plane = svd.matrixV().rightCols<3>();
  // pᵀ S p = p1 p3 + p2 p4 − 2 p0 p5 and pᵀ T p = p1 p4 − p2 p3 − 2 p0 p6.
  Eigen::Matrix<double, 8, 8> s = Eigen::Matrix<double, 8, 8>::Zero(), t = s;
  s(1, 3) = s(2, 4) = t(1, 4) = 1.0;
  t(2, 3) = -1.0;
  s(0, 5) = t(0, 6) = -2.0;
  s = (s + s.transpose()).eval();
  t = (t + t.transpose()).eval();
  steps.erase(steps.begin());  // the first pose is the reference

  std::vector<ComplexDyad> others;
  const Complex base_x = poses[0].origin.x(), base_y = poses[0].origin.y();
  for (const Eigen::Vector3cd& q :
       ConicsMeet(plane.transpose() * s * plane, plane.transpose() * t * plane)) {
    const Eigen::Matrix<Complex, 8, 1> p = plane.cast<Complex>() * q;
    if (!(std::abs(p(0)) > kVanishing)) {
      ++result.at_infinity;
      continue;
    }
    Eigen::Vector4cd u(-p(3), -p(4), p(1), p(2));
    u /= 2.0 * p(0);
    Sharpen<Complex>(steps, u);
    if (u.imag().norm() > kRealDyad * (1.0 + u.norm())) {
      others.push_back({{base_x + size * u(0), base_y + size * u(1)},
                        {base_x + size * u(2), base_y + size * u(3)}});
      continue;
    }
    Eigen::Vector4d real = u.real();
    Sharpen<double>(steps, real);
    result.real.push_back(
        {poses[0].origin + size * real.head<2>(), poses[0].origin + size * real.tail<2>()});
  }
  std::sort(result.real.begin(), result.real.end(), [](const Dyad& l, const Dyad& r) {
    return l.fixed.x() != r.fixed.x() ? l.fixed.x() < r.fixed.x() : l.fixed.y() < r.fixed.y();
  });
  for (const Dyad& dyad : result.real) {
    result.all.push_back({{dyad.fixed.x(), dyad.fixed.y()}, {dyad.moving.x(), dyad.moving.y()}});
  }
  AppendPairs(std::move(others), result.all);
  return result;
}

}  // namespace lidwright
