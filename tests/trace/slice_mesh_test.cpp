// SPDX-License-Identifier: Apache-2.0
// Sections of meshed bodies against the formulas of the bodies.
#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <numbers>
#include <random>

#include "admesh_oracle.h"
#include "mesh_maker.h"
#include "trace/mesh_slicer.h"

using namespace lidwright;

namespace {

constexpr double kTurn = 2 * std::numbers::pi;

// A surface of revolution about z through (radius, z) with pole points at both ends.
Mesh Turned(const std::vector<Vec2>& profile, int around) {
  Mesh mesh;
  const auto low = mesh_maker::Add(mesh, {0, 0, profile.front().y()});
  std::vector<std::uint32_t> before;
  for (std::size_t k = 1; k + 1 < profile.size(); ++k) {
    std::vector<std::uint32_t> now;
    for (int i = 0; i < around; ++i) {
      const double a = kTurn * i / around, r = profile[k].x();
      now.push_back(mesh_maker::Add(mesh, {r * std::cos(a), r * std::sin(a), profile[k].y()}));
    }
    for (std::size_t i = 0; i < now.size(); ++i) {
      const std::size_t j = (i + 1) % now.size();
      if (before.empty()) {
        mesh.facets.push_back({low, now[j], now[i]});
      } else {
        mesh.facets.push_back({before[i], before[j], now[j]});
        mesh.facets.push_back({before[i], now[j], now[i]});
      }
    }
    before = now;
  }
  const auto high = mesh_maker::Add(mesh, {0, 0, profile.back().y()});
  for (std::size_t i = 0; i < before.size(); ++i) {
    mesh.facets.push_back({before[i], before[(i + 1) % before.size()], high});
  }
  return mesh;
}

Mesh Sphere(double radius, int rows) {
  std::vector<Vec2> profile;
  for (int k = 0; k <= rows; ++k) {
    const double a = kTurn / 2 * k / rows;
    profile.emplace_back(radius * std::sin(a), -radius * std::cos(a));
  }
  return Turned(profile, 2 * rows);
}

// A ring whose axis is x, so that sections across z are two circles, one ring, or two again.
Mesh Torus(double big, double small, int around) {
  Mesh mesh;
  for (int i = 0; i < around; ++i) {
    for (int k = 0; k < around; ++k) {
      const double a = kTurn * i / around, b = kTurn * k / around, r = big + small * std::cos(b);
      mesh_maker::Add(mesh, {small * std::sin(b), r * std::cos(a), r * std::sin(a)});
    }
  }
  const auto at = [&](int i, int k) {
    return static_cast<std::uint32_t>((i % around) * around + k % around);
  };
  for (int i = 0; i < around; ++i) {
    for (int k = 0; k < around; ++k) {
      mesh.facets.push_back({at(i, k), at(i + 1, k + 1), at(i, k + 1)});
      mesh.facets.push_back({at(i, k), at(i + 1, k), at(i + 1, k + 1)});
    }
  }
  return mesh;
}

double AreaAt(const MeshSlicer& slicer, double z) {
  double area = 0.0;
  for (const Ring& ring : slicer.At(z)) area += SignedArea(ring);  // holes count negative
  return area;
}

}  // namespace

TEST_CASE("sections of a meshed sphere are circles within the mesh's own chords", "[mesh]") {
  const double radius = 50.0;
  const int rows = 90;
  const MeshSlicer slicer(Sphere(radius, rows));
  // A facet's middle is at most this far inside the sphere: one chord up, one around.
  const double chord = 2 * radius * (1 - std::cos(kTurn / 4 / rows));
  for (double z = -49.9; z < 49.95; z += 0.37) {
    const auto rings = slicer.At(z);
    REQUIRE(rings.size() == 1);
    CHECK(SignedArea(rings[0]) > 0.0);
    const double out = radius * radius - z * z;
    const double in = (radius - chord) * (radius - chord) - z * z;
    for (const Vec2& p : rings[0]) {
      const double off = std::hypot(p.norm(), z) - radius;  // in space, not in the section
      CHECK(off < 1e-9);
      CHECK(off > -chord);
    }
    CHECK(rings[0].size() >= 180);
    CHECK(SignedArea(rings[0]) < std::numbers::pi * out);
    CHECK(SignedArea(rings[0]) > std::numbers::pi * in);
  }
}

TEST_CASE("sections of a cone and of a box are theirs to rounding", "[mesh]") {
  // A cone is ruled: only the chords around it count, by a known factor of the area.
  const int around = 64;
  const MeshSlicer cone(Turned({{0, 0}, {30, 0}, {0, 60}}, around));
  const double polygon = around / 2.0 * std::sin(kTurn / around);
  for (const double z : {1e-6, 0.3, 10.0, 20.0, 45.5, 59.0}) {
    const double r = 30 * (1 - z / 60);
    CHECK(AreaAt(cone, z) == Approx(polygon * r * r).epsilon(1e-12));
  }
  CHECK(cone.At(0.0).empty());
  CHECK(cone.At(60.1).empty());

  Mesh box;
  mesh_maker::AddBody(box,
                      {{-3, mesh_maker::Box(-5, 1, 20, 9)}, {4, mesh_maker::Box(-5, 1, 20, 9)}});
  const MeshSlicer slicer(box);
  for (const double z : {-2.999, 0.0, 3.9, 4.0}) {
    const auto rings = slicer.At(z);
    REQUIRE(rings.size() == 1);
    CHECK(SignedArea(rings[0]) == Approx(25.0 * 8));
    CHECK(Bounds(rings[0]).low == Vec2(-5, 1));
    CHECK(Bounds(rings[0]).high == Vec2(20, 9));
  }
}

TEST_CASE("sections of a torus are two circles outside and a ring with a hole inside", "[mesh]") {
  const MeshSlicer slicer(Torus(40, 10, 120));
  const auto at_middle = slicer.At(0.1);
  REQUIRE(at_middle.size() == 2);  // two discs
  for (const Ring& ring : at_middle) {
    CHECK(SignedArea(ring) == Approx(std::numbers::pi * 100).epsilon(2e-3));
  }
  // Across the axis: turned so that z is the torus's own axis, an outer ring and a hole.
  Mesh upright = Torus(40, 10, 120);
  for (Vec3& p : upright.points) p = Vec3(p.y(), p.z(), p.x());
  const auto rings = MeshSlicer(upright).At(0.05);
  REQUIRE(rings.size() == 2);
  double outer = 0.0, hole = 0.0;
  for (const Ring& ring : rings) (SignedArea(ring) > 0 ? outer : hole) = SignedArea(ring);
  CHECK(outer == Approx(std::numbers::pi * 2500).epsilon(2e-3));
  CHECK(hole == Approx(-std::numbers::pi * 900).epsilon(2e-3));
}

TEST_CASE("sections add up to the volume that ADMesh finds, whichever way the mesh lies",
          "[mesh]") {
  const mesh_maker::Chest chest;
  std::vector<Mesh> bodies{Sphere(50, 30), Torus(40, 10, 60), chest.Body(false, 8),
                           chest.Body(true, 8)};
  Mesh hollow;
  mesh_maker::AddBody(hollow,
                      {{0, mesh_maker::Box(0, 0, 30, 30)}, {30, mesh_maker::Box(0, 0, 30, 30)}});
  mesh_maker::AddCavity(hollow,
                        {{5, mesh_maker::Box(5, 5, 20, 20)}, {25, mesh_maker::Box(5, 5, 20, 20)}});
  bodies.push_back(hollow);
  std::mt19937_64 random(11);
  const auto draw = [&] { return std::uniform_real_distribution<double>(-1, 1)(random); };
  for (const Mesh& body : bodies) {
    for (int turn = 0; turn < 3; ++turn) {
      Mesh turned = body;
      if (turn > 0) {
        const Eigen::Quaterniond q =
            Eigen::Quaterniond(draw(), draw(), draw(), draw()).normalized();
        for (Vec3& p : turned.points) p = q * p;
      }
      const MeshReading read = ReadStl(mesh_maker::Binary(turned), "body");
      REQUIRE(read.problems.empty());
      const MeshSlicer slicer(read.mesh);
      // Between two points' heights the area is quadratic in z: Gauss's two points are exact where
      // a panel holds no point, and close where it does.
      const int panels = 4000;
      const double step = (slicer.z_max() - slicer.z_min()) / panels;
      double sum = 0.0;
      for (int i = 0; i < panels; ++i) {
        const double middle = slicer.z_min() + (i + 0.5) * step;
        for (const double side : {-1.0, 1.0}) {
          sum += AreaAt(slicer, middle + side * step / 2 / std::sqrt(3.0)) * step / 2;
        }
      }
      const AdmeshView view = AdmeshViewOf(mesh_maker::Binary(turned));
      CHECK(view.open_facets == 0);
      // As made, a face across z may lie anywhere in a panel.
      CHECK(sum == Approx(view.volume).epsilon(turn == 0 ? 1e-3 : 2e-4));
      CHECK(Volume(read.mesh) == Approx(view.volume).epsilon(1e-4));
    }
  }
}

TEST_CASE("a section through points of the mesh is closed and has no slivers", "[mesh]") {
  const MeshSlicer slicer(Sphere(50, 12));
  for (const Vec3& p : slicer.mesh().points) {
    const auto rings = slicer.At(p.z());
    if (p.z() <= slicer.z_min()) continue;
    for (const Ring& ring : rings) CHECK_FALSE(FaultOf(ring));
    CHECK(rings.size() <= 1);
  }
}

TEST_CASE("which way round facets run does not change a section", "[mesh]") {
  Mesh mesh = Sphere(50, 12);
  const auto before = MeshSlicer(mesh).At(7.3);
  for (std::size_t f = 0; f < mesh.facets.size(); f += 3) {
    std::swap(mesh.facets[f][0], mesh.facets[f][1]);
  }
  const auto after = MeshSlicer(mesh).At(7.3);
  REQUIRE(after.size() == 1);
  CHECK(SignedArea(after[0]) == Approx(SignedArea(before[0])));
}
