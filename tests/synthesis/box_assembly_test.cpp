// SPDX-License-Identifier: Apache-2.0
// The parts that the one clearance checker is given, against the box they stand for.
#include "lidwright/synthesis/box_assembly.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "lidwright/geometry/ring.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

const std::vector<std::string> kExamples{"sample_chest", "barrel_chest", "jewellery_casket"};

double Area(const std::vector<Ring>& rings) {
  double area = 0.0;
  for (const Ring& ring : rings) area += SignedArea(ring);
  return area;
}

bool Holds(const std::vector<const PartTree*>& parts, double z, const Vec2& p) {
  std::vector<Part> all;
  for (const PartTree* tree : parts) {
    all.insert(all.end(), tree->parts().begin(), tree->parts().end());
  }
  for (const Part& part : all) {
    if (z < part.z_min_mm || z > part.z_max_mm) continue;
    const double share = (z - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
    std::vector<Ring> cut = part.at_z_min;
    for (std::size_t r = 0; r < cut.size(); ++r) {
      for (std::size_t k = 0; k < cut[r].size(); ++k) {
        cut[r][k] = (1.0 - share) * part.at_z_min[r][k] + share * part.at_z_max[r][k];
      }
    }
    if (Contains(cut, p)) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("slabs fill the width from the middle to the outer face without a gap") {
  for (const std::string& name : kExamples) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    for (const auto* slabs : {&model.parts.case_slabs, &model.parts.lid_slabs}) {
      REQUIRE(slabs->size() == 1);
      REQUIRE(slabs->at(0)->parts().size() >= 2);
      double at = 0.0;
      bool end_wall = false;
      for (const Part& part : slabs->at(0)->parts()) {
        CHECK(part.z_min_mm == Approx(at).margin(1e-9));
        CHECK(part.z_max_mm > part.z_min_mm);
        at = part.z_max_mm;
        CHECK(Area(part.at_z_min) > 0.0);
        CHECK(Area(part.at_z_max) > 0.0);
        REQUIRE(part.at_z_min.size() == part.at_z_max.size());
        for (std::size_t r = 0; r < part.at_z_min.size(); ++r) {
          CHECK(part.at_z_min[r].size() == part.at_z_max[r].size());
        }
        // A slab is named and solid as an end wall exactly where the end wall is (R1).
        const bool named = part.name.find("end wall") != std::string::npos;
        const double face = model.job.case_form.width_mm / 2.0 -
                            std::max(model.job.case_form.end_wall_mm, model.job.lid.wall_mm);
        CHECK(named == (part.z_min_mm >= face - 1e-9));
        end_wall = end_wall || named;
      }
      CHECK(at == Approx(model.job.case_form.width_mm / 2.0));
      CHECK(end_wall);
    }
    for (const Part& slab : model.parts.case_slabs[0]->parts()) {
      CHECK(slab.body == Body::kCase);
      CHECK(slab.error_mm >= model.solid.blend_error_mm);
    }
    for (const Part& slab : model.parts.lid_slabs[0]->parts()) {
      CHECK(slab.body == Body::kLid);
      CHECK(slab.error_mm >= model.solid.blend_error_mm + model.solid.chord_error_mm);
    }
  }
}

TEST_CASE("what stands around the box stands where the job says") {
  Job job = ExampleJob("sample_chest");
  job.room.behind_mm = 71.0;
  job.room.above_mm = 205.0;
  const LidModel model(job);
  // Points a hair to each side of each face, over the whole width.
  for (const double z : {-169.0, 0.0, 169.0}) {
    for (const double y : {-119.0, 0.0, 150.0}) {
      CHECK(Holds(model.parts.limits, z, {-71.01, y}));
      CHECK_FALSE(Holds(model.parts.limits, z, {-70.99, y}));
    }
    CHECK(Holds(model.parts.limits, z, {100.0, 205.01}));
    CHECK_FALSE(Holds(model.parts.limits, z, {100.0, 204.99}));
    CHECK(Holds(model.parts.bench, z, {-50.0, -120.01}));
    CHECK_FALSE(Holds(model.parts.bench, z, {-50.0, -119.99}));
  }
  job.room.behind_mm = job.room.above_mm = std::numeric_limits<double>::infinity();
  job.room.bench_below = false;
  const LidModel open(job);
  CHECK(open.parts.limits.empty());
  CHECK(open.parts.bench.empty());
}

TEST_CASE("contents beside one end of a mirrored box count at the other, where the parts are") {
  Job job = ExampleJob("sample_chest");
  const Ring block{{40, -100}, {90, -100}, {90, -40}, {40, -40}};
  job.contents = {{{block}, -150.0, -120.0}};
  const LidModel model(job);
  REQUIRE(model.solid.mirrored);
  CHECK(Holds(model.parts.contents, 135.0, {60.0, -60.0}));
  CHECK(Holds(model.parts.contents, -135.0, {60.0, -60.0}));
}

TEST_CASE("a solid point of the box at any z lies in a slab, a hollow one in none") {
  Draw draw(3);
  for (const std::string& name : kExamples) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    const Job& job = model.job;
    int solid = 0, hollow = 0;
    for (int i = 0; i < 4000; ++i) {
      const double half = job.case_form.width_mm / 2.0, z = draw(0.0, half);
      const Vec2 p(draw(0.0, job.case_form.depth_mm), draw(-job.case_form.height_mm, 0.0));
      // The case of the measured form below the rim's ends, written out: walls, floor, end walls.
      const bool in_wall = p.x() < job.case_form.back_wall_mm - job.case_form.back_bow_mm ||
                           p.x() > job.case_form.depth_mm - job.case_form.front_wall_mm ||
                           p.y() < -job.case_form.height_mm + job.case_form.floor_mm ||
                           z > half - job.case_form.end_wall_mm;
      const bool clear = p.x() > job.case_form.back_wall_mm + 0.5 &&
                         p.x() < job.case_form.depth_mm - job.case_form.front_wall_mm - 0.5 &&
                         p.y() > -job.case_form.height_mm + job.case_form.floor_mm + 0.5 &&
                         z < half - std::max(job.case_form.end_wall_mm, job.lid.wall_mm) - 0.5;
      if (in_wall) {
        ++solid;
        CHECK(Holds(model.parts.case_slabs, z, p));
      } else if (clear) {
        ++hollow;
        CHECK_FALSE(Holds(model.parts.case_slabs, z, p));
      }
    }
    CHECK(solid > 300);
    CHECK(hollow > 1000);
  }
}
