// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <random>

#include "admesh_oracle.h"
#include "lidwright/base/tolerances.h"
#include "mesh_maker.h"

using namespace lidwright;

namespace {

std::string Faults(const std::string& bytes) {
  const MeshReading reading = ReadStl(bytes, "lid.stl");
  std::string text;
  for (const Problem& problem : reading.problems) text += Describe(problem) + "\n";
  if (!reading.problems.empty()) CHECK(reading.mesh.facets.empty());
  return text;
}

Mesh Block() {
  Mesh mesh;
  mesh_maker::AddBody(
      mesh, {{-20.25, mesh_maker::Box(0, 0, 30, 10)}, {20.25, mesh_maker::Box(0, 0, 30, 10)}});
  return mesh;
}

// An ASCII file with one facet whose lines are numbered from 1.
std::string OneFacet(const std::string& third_vertex) {
  return "solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\n" + third_vertex +
         "\nendloop\nendfacet\nendsolid x\n";
}

}  // namespace

TEST_CASE("a binary and an ASCII STL file of one body read alike", "[mesh]") {
  const Mesh block = Block();
  const MeshReading binary = ReadStl(mesh_maker::Binary(block), "b");
  const MeshReading text = ReadStl(mesh_maker::Ascii(block), "t");
  REQUIRE(binary.problems.empty());
  REQUIRE(text.problems.empty());
  CHECK(binary.notes.empty());
  CHECK(text.notes.empty());
  CHECK(binary.mesh.points.size() == 8);
  CHECK(binary.mesh.facets.size() == 12);
  CHECK(binary.mesh.points == text.mesh.points);
  CHECK(binary.mesh.facets == text.mesh.facets);
  CHECK(Volume(binary.mesh) == Approx(30 * 10 * 40.5));
}

TEST_CASE("a binary file whose header begins with solid is read as binary", "[mesh]") {
  CHECK(ReadStl(mesh_maker::Binary(Block(), "solid of some program"), "b").mesh.facets.size() ==
        12);
}

TEST_CASE("words in capitals, plus signs, exponents and a normal that is none are read", "[mesh]") {
  const MeshReading reading = ReadStl(
      "SOLID\nFACET NORMAL nan nan nan OUTER LOOP VERTEX +1e1 -2.5E-1 0\r\n"
      "VERTEX 0 0 0 VERTEX 0 1 1e-60 ENDLOOP ENDFACET\nENDSOLID\n",
      "t");
  REQUIRE(reading.problems.empty());
  CHECK(reading.mesh.points[0] == Vec3(10, -0.25, 0));
  CHECK(reading.mesh.points[2] == Vec3(0, 1, 0));
}

TEST_CASE("what is odd but readable in an STL file is said", "[mesh]") {
  std::string text = mesh_maker::Ascii(Block());
  CHECK(ReadStl(text + text, "t").notes ==
        std::vector<std::string>{"2 solids in one file are taken together"});
  CHECK(ReadStl(text.substr(0, text.rfind("endsolid")), "t").notes ==
        std::vector<std::string>{"the text lacks its \"endsolid\": it may have lost facets"});
  CHECK(ReadStl(mesh_maker::Binary(Block()) + "abc", "b").notes ==
        std::vector<std::string>{"3 bytes after the last facet are passed over"});
}

TEST_CASE("each fault of an STL file is named with its place", "[mesh]") {
  const std::string binary = mesh_maker::Binary(Block());
  CHECK(Faults("") == "lid.stl: the file is empty\n");
  CHECK(Faults("solid x\nendsolid x\n") == "lid.stl: holds no facet\n");
  CHECK(Faults(std::string(84, '\0')) == "lid.stl: holds no facet\n");
  CHECK(Faults("hello") == "lid.stl: is no STL file: it holds nothing but 5 bytes\n");
  CHECK(Faults("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n") ==
        "lid.stl: is no STL file: a text that does not begin with \"solid\" (export the mesh as "
        "STL, binary or ASCII)\n");
  CHECK(Faults("PK\x03\x04" + std::string(200, '\1')) ==
        "lid.stl: is no STL file but a ZIP archive (3MF files are) (export the mesh as STL)\n");
  // Headers are filled with zeros or begin with words, "solid" among them; cut anywhere within.
  for (const std::string& words : {std::string(), std::string("made"), std::string("solid lid")}) {
    std::string header = words + std::string(84 - words.size(), '\0');
    for (std::size_t cut = words.size() + 1; cut < 84; ++cut) {
      CHECK(Faults(header.substr(0, cut)) ==
            "lid.stl: is a truncated STL file: it ends within the header, after " +
                std::to_string(cut) + " of 84 bytes (export or copy it again)\n");
    }
  }
  CHECK(Faults(binary.substr(0, binary.size() - 75)) ==
        "lid.stl: is truncated: 12 facets are promised, 10 are there (export or copy it again)\n");
  std::string gigantic = binary;
  gigantic.replace(80, 4, std::string("\xff\xff\xff\x7f", 4));
  CHECK(
      Faults(gigantic) ==
      "lid.stl: is no STL file, or too large: it claims 2147483647 facets; the most are 2000000\n");
  std::string infinite = binary;
  infinite.replace(84 + 50 + 12, 4, std::string("\0\0\x80\x7f", 4));
  CHECK(Faults(infinite) == "lid.stl: facet 2: a coordinate is not a finite number\n");

  CHECK(Faults(OneFacet("vertex 0 1,5 0")) ==
        "lid.stl:6: a number is expected here, not \"1,5\" (decimals are written with a point)\n");
  CHECK(Faults(OneFacet("vertex 0 inf 0")) ==
        "lid.stl:6: a coordinate is not a finite number: \"inf\"\n");
  CHECK(Faults(OneFacet("vertex 0 1e99 0")) ==
        "lid.stl:6: a coordinate is not a finite number: \"1e99\"\n");
  CHECK(Faults(OneFacet("vertex 0 1 0\nvertex 1 1 0")) ==
        "lid.stl:7: \"endloop\" is expected here, not \"vertex\"\n");
  CHECK(Faults("solid x\nfacette\nendsolid\n") ==
        "lid.stl:2: \"facet\" or \"endsolid\" is expected here, not \"facette\"\n");
  CHECK(Faults("solid x\n\nnothing\n") ==
        "lid.stl:3: \"facet\" or \"endsolid\" is expected here, not \"nothing\"\n");
  CHECK(Faults("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0") ==
        "lid.stl:5: is truncated: it ends in the middle of facet 1 (export or copy it again)\n");
}

TEST_CASE("a binary file that went through a text conversion is recognised", "[mesh]") {
  // LF to CRLF, as file transfer in text mode does; needs bytes that look like line ends.
  Mesh block = Block();
  for (Vec3& p : block.points) p.x() = p.x() > 0 ? 8.625F : 0.0F;  // bytes 0A 41 in the float
  std::string crlf;
  for (const char c : mesh_maker::Binary(block)) crlf += c == '\n' ? "\r\n" : std::string(1, c);
  REQUIRE(crlf.size() > 84 + 12 * 50);
  CHECK(Faults(crlf) ==
        "lid.stl: was converted as if it were text: every LF has a CR before it (copy the file "
        "again as binary)\n");
  // Bytes that are no UTF-8, replaced by an editor.
  std::string replaced;
  for (const char c : mesh_maker::Binary(Block())) {
    replaced += static_cast<signed char>(c) < 0 ? "\xEF\xBF\xBD" : std::string(1, c);
  }
  CHECK(Faults(replaced) ==
        "lid.stl: was opened and saved as text: its bytes are replaced for good (export it "
        "again)\n");
}

TEST_CASE("a file cut anywhere is refused, or what is lost is nothing", "[mesh]") {
  for (const std::string& whole : {mesh_maker::Binary(Block()), mesh_maker::Ascii(Block())}) {
    int refused = 0;
    for (std::size_t size = 0; size < whole.size(); ++size) {
      const MeshReading reading = ReadStl(whole.substr(0, size), "cut");
      if (!reading.problems.empty()) {
        ++refused;
        continue;
      }
      // Only a text can lose nothing but its last words; else facets are missing, and MendMesh
      // sees the hole.
      const MeshReading mended = MendMesh(reading.mesh, "cut", 1.0);
      CHECK((reading.mesh.facets.size() == 12 || !reading.notes.empty()));
      CHECK((reading.mesh.facets.size() >= 11 || !mended.problems.empty()));
    }
    CHECK(refused > static_cast<int>(whole.size() / 2));
  }
}

TEST_CASE("spoilt bytes never lead to a mesh with corners that are not there", "[mesh]") {
  std::mt19937_64 random(7);
  for (const std::string& whole : {mesh_maker::Binary(Block()), mesh_maker::Ascii(Block())}) {
    int read = 0;
    for (int i = 0; i < 3000; ++i) {
      std::string spoilt = whole;
      // Bytes of the file itself in other places: often a number stays a number.
      for (int k = 0; k < 2; ++k) {
        spoilt[random() % spoilt.size()] = whole[random() % whole.size()];
      }
      const MeshReading reading = ReadStl(spoilt, "spoilt");
      read += reading.problems.empty();
      for (const auto& facet : reading.mesh.facets) {
        for (const std::uint32_t corner : facet) REQUIRE(corner < reading.mesh.points.size());
      }
      for (const Vec3& p : reading.mesh.points) REQUIRE(p.allFinite());
    }
    CHECK(read > 100);  // else the loop above looked at little
  }
}

TEST_CASE("facets and volume of a read file are those that ADMesh finds", "[mesh]") {
  const mesh_maker::Chest chest;
  for (const bool lid : {false, true}) {
    const std::string bytes = mesh_maker::Binary(chest.Body(lid, 10.0));
    const AdmeshView view = AdmeshViewOf(bytes);
    const MeshReading reading = ReadStl(bytes, "chest");
    REQUIRE(reading.problems.empty());
    CHECK(view.open_facets == 0);
    CHECK(reading.mesh.facets.size() == static_cast<std::size_t>(view.facets));
    CHECK(Volume(reading.mesh) == Approx(view.volume).epsilon(1e-5));  // it adds up in floats
  }
}
