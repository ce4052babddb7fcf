// SPDX-License-Identifier: Apache-2.0
// STL files that nobody here made: those of Debian's admesh, assimp-testmodels and gmsh-doc.
#include <catch2/catch.hpp>
#include <cstdio>
#include <random>

#include "admesh_oracle.h"
#include "lidwright/trace/mesh_job.h"
#include "mesh_maker.h"
#include "trace/mesh_slicer.h"

using namespace lidwright;

namespace {

std::string Unpacked(const std::string& path) {
  std::FILE* pipe = popen(("gzip -dcf '" + path + "'").c_str(), "r");
  REQUIRE(pipe);
  std::string bytes, block(1 << 16, '\0');
  for (std::size_t n; (n = std::fread(block.data(), 1, block.size(), pipe)) > 0;) {
    bytes.append(block, 0, n);
  }
  CHECK(pclose(pipe) == 0);
  return bytes;
}

std::vector<std::string> RealFiles() {
  std::vector<std::string> files;
  for (const std::string folder :
       {"/usr/share/doc/admesh", "/usr/share/assimp/models/STL", "/usr/share/doc/gmsh-doc"}) {
    std::error_code none;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder, none)) {
      std::string name = entry.path().filename().string();
      for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
      if (name.find(".stl") != std::string::npos) files.push_back(entry.path().string());
    }
  }
  std::sort(files.begin(), files.end());
  return files;
}

double VolumeOfSections(const MeshSlicer& slicer) {
  const int panels = 3000;
  const double step = (slicer.z_max() - slicer.z_min()) / panels;
  double sum = 0.0;
  for (int i = 0; i < panels; ++i) {
    for (const Ring& ring : slicer.At(slicer.z_min() + (i + 0.5) * step)) {
      sum += SignedArea(ring) * step;
    }
  }
  return sum;
}

}  // namespace

TEST_CASE("real STL files are read as ADMesh reads them, or refused with a reason", "[mesh]") {
  const std::vector<std::string> files = RealFiles();
  REQUIRE(files.size() >= 14);
  int whole = 0, refused = 0, mended = 0;
  for (const std::string& file : files) {
    INFO(file);
    const std::string bytes = Unpacked(file);
    const MeshReading read = ReadStl(bytes, file);
    if (!read.problems.empty()) {
      ++refused;
      CHECK(!read.problems[0].rule.empty());
      continue;
    }
    // ADMesh takes no file under 284 bytes and no text with several solids.
    const bool several = !read.notes.empty() && read.notes[0].find("solids") != std::string::npos;
    const bool asked = bytes.size() >= 284 && !several;
    const AdmeshView view = asked ? AdmeshViewOf(bytes) : AdmeshView{};
    // It drops flat facets when it matches edges; the others are as many.
    if (asked) CHECK(read.mesh.facets.size() >= static_cast<std::size_t>(view.facets));
    const MeshReading sound = MendMesh(read.mesh, file, 1.0);
    if (!sound.problems.empty()) {
      ++refused;
      if (asked) CHECK(view.open_facets > 0);  // not refused without need
      continue;
    }
    (sound.notes.empty() ? whole : mended)++;
    const double volume = Volume(sound.mesh);
    CHECK(volume > 0.0);
    if (asked && sound.notes.empty()) CHECK(std::abs(view.volume) == Approx(volume).epsilon(1e-3));
    CHECK(VolumeOfSections(MeshSlicer(sound.mesh)) == Approx(volume).epsilon(0.02));
  }
  CHECK(whole >= 3);
  CHECK(refused >= 3);
  WARN(files.size() << " files: " << whole << " whole, " << mended << " mended, " << refused
                    << " refused");
}

TEST_CASE("real STL files as case and lid end in a job or in reasons", "[mesh]") {
  const std::vector<std::string> files = RealFiles();
  REQUIRE(files.size() >= 14);
  int jobs = 0, reasons = 0;
  for (const std::string& file : files) {
    INFO(file);
    const std::string bytes = Unpacked(file);
    MeshReading read = ReadStl(bytes, file);
    if (!read.problems.empty() || read.mesh.facets.size() > 200000) continue;
    // Brought to a box's size, the lid a copy on top.
    Eigen::Vector3d low = Vec3::Constant(1e300), high = Vec3::Constant(-1e300);
    for (const Vec3& p : read.mesh.points) {
      low = low.cwiseMin(p);
      high = high.cwiseMax(p);
    }
    MeshWish wish;
    wish.case_file = wish.lid_file = file;
    wish.mm_per_unit = 200.0 / std::max(1e-9, high.y() - low.y());
    for (const double up : {1.0, 0.97}) {
      Mesh lid = read.mesh;
      for (Vec3& p : lid.points) p.z() += up * (high.z() - low.z());
      const MeshJob made = JobFromMeshes(bytes, mesh_maker::Binary(lid), wish);
      CHECK(made.job.has_value() == made.problems.empty());
      made.job ? ++jobs : ++reasons;
    }
  }
  CHECK(reasons >= 10);
  WARN(jobs << " jobs, " << reasons << " with reasons");
}

TEST_CASE("spoilt copies of real STL files end in a job or in reasons", "[mesh]") {
  std::mt19937_64 random(3);
  int tried = 0;
  for (const std::string& file : RealFiles()) {
    const std::string bytes = Unpacked(file);
    if (bytes.size() > 200000) continue;
    for (int i = 0; i < 20; ++i) {
      std::string spoilt = bytes;
      if (i % 2 == 0) spoilt.resize(random() % spoilt.size());
      for (int k = 0; k < i && !spoilt.empty(); ++k) {
        spoilt[random() % spoilt.size()] = bytes[random() % bytes.size()];
      }
      MeshWish wish;
      const MeshJob made = JobFromMeshes(spoilt, bytes, wish);
      CHECK(made.job.has_value() == made.problems.empty());
      ++tried;
    }
  }
  CHECK(tried >= 100);
}
