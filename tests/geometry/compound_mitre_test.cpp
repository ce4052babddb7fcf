// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/compound_mitre.h"

#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;
using Vec3 = Eigen::Vector3d;

TEST_CASE("a leaning corner has the marks of compound mitre saws") {
  // Published marks (READ, two pages): 38° leans: 31.62° and 33.86°; 45°: 35.26° and 30.00°;
  // upright sides 0° and 45°.
  struct Row {
    double lean, mitre, bevel;
  };
  for (const Row& row : {Row{38.0, 31.62, 33.86}, {45.0, 35.26, 30.00}, {0.0, 0.0, 45.0}}) {
    const LeaningCorner corner = CornerOf(row.lean * kRadPerDeg, row.lean * kRadPerDeg);
    CHECK_THAT(corner.first.mitre_rad / kRadPerDeg, WithinAbs(row.mitre, 0.005));
    CHECK_THAT(corner.first.bevel_rad / kRadPerDeg, WithinAbs(row.bevel, 0.005));
    CHECK(corner.second.mitre_rad == corner.first.mitre_rad);
    CHECK_THAT(corner.first.mitre_rad,
               WithinAbs(std::atan(std::sin(row.lean * kRadPerDeg)), 1e-12));
  }
  CHECK_THAT(CornerOf(0.0, 0.0).between_faces_rad, WithinAbs(kPi / 2.0, 1e-12));
}

TEST_CASE("boards cut to a corner's settings meet in one plane, whatever their leans") {
  int corners = 0;
  for (double a = -40.0; a <= 60.0; a += 12.5) {
    for (double b = -40.0; b <= 60.0; b += 12.5) {
      const double first = a * kRadPerDeg, second = b * kRadPerDeg;
      const LeaningCorner corner = CornerOf(first, second);
      // Each board in its place: along its length, up its face, out of its face.
      const Vec3 along_1(0, 0, 1), up_1(std::sin(first), std::cos(first), 0);
      const Vec3 along_2(1, 0, 0), up_2(0, std::cos(second), std::sin(second));
      const Vec3 out_1(std::cos(first), -std::sin(first), 0);
      const Vec3 out_2(0, -std::sin(second), std::cos(second));
      // The sawn face's normal, from the settings alone: off the board's length by the mitre in the
      // face, then leaned by the bevel towards the outside, whose arris is the longer one.
      const auto sawn = [](const SawSetting& set, const Vec3& along, const Vec3& up,
                           const Vec3& out) {
        const Vec3 square = std::cos(set.mitre_rad) * along - std::sin(set.mitre_rad) * up;
        return Vec3(std::cos(set.bevel_rad) * square - std::sin(set.bevel_rad) * out);
      };
      const Vec3 cut_1 = sawn(corner.first, along_1, up_1, out_1);
      const Vec3 cut_2 = sawn(corner.second, along_2, up_2, out_2);
      CHECK((cut_1 + cut_2).norm() < 1e-12);  // the two faces lie on each other
      // Both hold the arris of the outer faces.
      const Vec3 arris = out_1.cross(out_2).normalized();
      CHECK(std::abs(arris.dot(cut_1)) < 1e-12);
      CHECK_THAT(corner.between_faces_rad, WithinAbs(kPi - std::acos(out_1.dot(out_2)), 1e-12));
      ++corners;
    }
  }
  CHECK(corners == 81);
  CHECK_THROWS_AS(CornerOf(kPi / 2.0, 0.0), ContractError);
}
