// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <ctime>

#include "lidwright/base/tolerances.h"
#include "mesh_maker.h"

using namespace lidwright;

namespace {

// 8 × 8 × 8 squares a side, so that one facet is a small share of the surface.
Mesh FineBlock() {
  Mesh mesh;
  Ring ring;
  for (int k = 0; k < 8; ++k) ring.push_back({10.0 * k, 0});
  for (int k = 0; k < 8; ++k) ring.push_back({80, 10.0 * k});
  for (int k = 8; k > 0; --k) ring.push_back({10.0 * k, 80});
  for (int k = 8; k > 0; --k) ring.push_back({0, 10.0 * k});
  std::vector<mesh_maker::Section> sections;
  for (int k = 0; k <= 8; ++k) sections.push_back({10.0 * k, ring});
  mesh_maker::AddBody(mesh, sections);
  return ReadStl(mesh_maker::Binary(mesh), "block").mesh;
}

MeshReading Mended(Mesh mesh) {
  return MendMesh(std::move(mesh), "block.stl", 1.0);
}

std::string Said(const MeshReading& reading) {
  std::string text;
  for (const std::string& note : reading.notes) text += note + "\n";
  for (const Problem& problem : reading.problems) text += "! " + Describe(problem) + "\n";
  return text;
}

// Index of a facet whose middle is nearest to `p`.
std::size_t FacetAt(const Mesh& mesh, const Vec3& p) {
  std::size_t best = 0;
  double least = 1e300;
  for (std::size_t f = 0; f < mesh.facets.size(); ++f) {
    Vec3 middle = Vec3::Zero();
    for (const std::uint32_t i : mesh.facets[f]) middle += mesh.points[i] / 3.0;
    if ((middle - p).norm() < least) {
      least = (middle - p).norm();
      best = f;
    }
  }
  return best;
}

void Erase(Mesh& mesh, const Vec3& p) {
  mesh.facets.erase(mesh.facets.begin() + static_cast<std::ptrdiff_t>(FacetAt(mesh, p)));
}

}  // namespace

TEST_CASE("a sound mesh comes through mending as it is", "[mesh]") {
  const Mesh block = FineBlock();
  const MeshReading mended = Mended(block);
  CHECK(Said(mended).empty());
  CHECK(mended.mesh.facets == block.facets);
  CHECK(Volume(mended.mesh) == Approx(80.0 * 80 * 80));
}

TEST_CASE("one missing facet and a small flat hole are closed and said", "[mesh]") {
  Mesh block = FineBlock();
  Erase(block, {25, 0, 33});
  const MeshReading one = Mended(block);
  CHECK(Said(one) == "1 hole closed flat, 0 mm off at most\n");
  CHECK(Volume(one.mesh) == Approx(80.0 * 80 * 80));

  Erase(block, {27, 0, 37});  // the other half of the square
  const MeshReading two = Mended(block);
  CHECK(Said(two) == "1 hole closed flat, 0 mm off at most\n");
  CHECK(Volume(two.mesh) == Approx(80.0 * 80 * 80));
  CHECK(two.mesh.facets.size() == FineBlock().facets.size());
}

TEST_CASE("a hole over an edge or a large one is refused with its place", "[mesh]") {
  Mesh over_edge = FineBlock();
  Erase(over_edge, {77, 0, 33});
  Erase(over_edge, {74, 0, 37});
  Erase(over_edge, {80, 3, 33});
  Erase(over_edge, {80, 6, 37});
  const MeshReading refused = Mended(over_edge);
  REQUIRE(refused.problems.size() == 1);
  CHECK(
      Describe(refused.problems[0])
          .find(
              "the surface has a hole that cannot be closed without guessing (6 open edges in all) "
              "(close it in the program that made the mesh)") != std::string::npos);
  CHECK(refused.problems[0].place.rfind("near (", 0) == 0);

  // The whole top face: an open box without walls' thickness, not to be taken for a block.
  Mesh open = FineBlock();
  std::erase_if(open.facets, [&](const auto& f) {
    return open.points[f[0]].y() == 80 && open.points[f[1]].y() == 80 &&
           open.points[f[2]].y() == 80;
  });
  REQUIRE(open.facets.size() < FineBlock().facets.size());
  CHECK(Mended(open).problems.size() == 1);
}

TEST_CASE("flipped, doubled and flat facets are set right and said", "[mesh]") {
  Mesh block = FineBlock();
  for (const double x : {5.0, 25.0, 45.0}) {
    auto& facet = block.facets[FacetAt(block, {x, 0, 33})];
    std::swap(facet[0], facet[1]);
  }
  const MeshReading turned = Mended(block);
  CHECK(Said(turned) == "3 facets ran the wrong way round, turned\n");
  CHECK(Volume(turned.mesh) == Approx(80.0 * 80 * 80));

  block = FineBlock();
  const auto twice = block.facets[FacetAt(block, {25, 0, 33})];
  block.facets.push_back({twice[1], twice[2], twice[0]});
  block.facets.push_back({3, 3, 7});
  const MeshReading once = Mended(block);
  CHECK(Said(once) ==
        "1 facet without area are left out\n1 facet given twice, one of each left out\n");
  CHECK(Volume(once.mesh) == Approx(80.0 * 80 * 80));

  block = FineBlock();
  const std::vector<std::array<std::uint32_t, 3>> all = block.facets;
  block.facets.insert(block.facets.end(), all.begin(), all.end());
  CHECK(Volume(Mended(block).mesh) == Approx(80.0 * 80 * 80));

  block = FineBlock();
  for (auto& facet : block.facets) std::swap(facet[0], facet[1]);
  const MeshReading inside_out = Mended(block);
  CHECK(Said(inside_out) == "the surface was inside out, turned\n");
  CHECK(Volume(inside_out.mesh) == Approx(80.0 * 80 * 80));
}

TEST_CASE("two bodies that share a face become one", "[mesh]") {
  Mesh both;
  mesh_maker::AddBody(both,
                      {{0, mesh_maker::Box(0, 0, 10, 10)}, {5, mesh_maker::Box(0, 0, 10, 10)}});
  mesh_maker::AddBody(both,
                      {{5, mesh_maker::Box(0, 0, 10, 10)}, {9, mesh_maker::Box(0, 0, 10, 10)}});
  const MeshReading mended = Mended(ReadStl(mesh_maker::Binary(both), "two").mesh);
  CHECK(Said(mended) == "4 facets back to back inside a body left out\n");
  CHECK(Volume(mended.mesh) == Approx(900.0));
}

TEST_CASE("corners that differ in the last digits and divided edges are joined", "[mesh]") {
  Mesh block = FineBlock();
  const std::size_t f = FacetAt(block, {25, 0, 33});
  for (std::uint32_t& corner : block.facets[f]) {
    block.points.push_back(block.points[corner] + Vec3(2e-4, -1e-4, 3e-4));
    corner = static_cast<std::uint32_t>(block.points.size() - 1);
  }
  const MeshReading joined = Mended(block);
  CHECK(Said(joined) == "3 points joined with one within 0.001 mm\n");

  block = FineBlock();
  const std::size_t g = FacetAt(block, {25, 0, 33});
  const auto old = block.facets[g];
  block.points.push_back((block.points[old[0]] + block.points[old[1]]) / 2.0);
  const auto middle = static_cast<std::uint32_t>(block.points.size() - 1);
  block.facets[g] = {old[0], middle, old[2]};
  block.facets.push_back({middle, old[1], old[2]});
  const MeshReading divided = Mended(block);
  CHECK(Said(divided) == "1 joint closed where an edge is divided on one side only\n");
  CHECK(Volume(divided.mesh) == Approx(80.0 * 80 * 80));
}

TEST_CASE("three facets on an edge are refused with the place", "[mesh]") {
  Mesh block = FineBlock();
  // A fin that stands on an edge of the block and closes on itself nowhere.
  const auto facet = block.facets[FacetAt(block, {25, 0, 33})];
  block.points.push_back({25, -30, 33});
  const auto tip = static_cast<std::uint32_t>(block.points.size() - 1);
  block.points.push_back({25, -30, 43});
  block.facets.push_back({facet[0], facet[1], tip});
  const MeshReading refused = Mended(block);
  REQUIRE(!refused.problems.empty());
  bool named = false;
  for (const Problem& problem : refused.problems) {
    named = named || problem.rule.rfind("three or another odd number of facets", 0) == 0;
  }
  CHECK(named);
  CHECK(refused.problems[0].place.rfind("near (", 0) == 0);
}

TEST_CASE("a surface without thickness is refused with that hint", "[mesh]") {
  Mesh sheet;
  sheet.points = {{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}};
  sheet.facets = {{0, 1, 2}, {0, 2, 3}};
  const MeshReading refused = Mended(sheet);
  REQUIRE(refused.problems.size() == 1);
  CHECK(refused.problems[0].hint == "a surface without thickness is no solid: give it one");
}

TEST_CASE("a soup of facets that meet nowhere is refused in time that grows as it does", "[mesh]") {
  // 40 000 facets apart, each a hole of its own; a hundred times the time of 400, not ten thousand.
  Mesh soup;
  for (int i = 0; i < 40000; ++i) {
    const double x = 5.0 * (i % 200), y = 5.0 * (i / 200);
    const std::uint32_t a = mesh_maker::Add(soup, {x, y, 0});
    mesh_maker::Add(soup, {x + 3, y, 1});
    mesh_maker::Add(soup, {x, y + 3, 2});
    soup.facets.push_back({a, a + 1, a + 2});
  }
  const std::clock_t before = std::clock();
  const MeshReading mended = Mended(soup);
  const double spent = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
  CHECK(Said(mended) ==
        "! block.stl: near (1.5, 0, 0.5): the surface has a hole that cannot be closed without "
        "guessing "
        "(120000 open edges in all) (a surface without thickness is no solid: give it one)\n");
  CHECK(spent < 2.0);  // [s] of the processor; it took 7
}

TEST_CASE("points of open edges become the nearest within reach, whichever cells they lie in",
          "[mesh]") {
  // A block cut apart along many planes, its copies of a corner up to 0.9 µm apart either way.
  for (const double off : {-0.0009, -0.0005, 0.0003, 0.0009}) {
    Mesh block = FineBlock();
    const std::size_t given = block.points.size();
    std::size_t moved = 0;
    for (auto& facet : block.facets) {
      if ((facet[0] + facet[1]) % 3 != 0) continue;
      const Vec3 p = block.points[facet[2]];
      facet[2] = mesh_maker::Add(block, p + Vec3(off, 0, 0));
      ++moved;
    }
    REQUIRE(moved > 50);
    const MeshReading mended = Mended(block);
    INFO(Said(mended));
    CHECK(mended.problems.empty());
    CHECK(Volume(mended.mesh) == Approx(80.0 * 80.0 * 80.0));
    for (const auto& facet : mended.mesh.facets) {
      for (const std::uint32_t i : facet) CHECK(i < given + moved);
    }
  }
}
