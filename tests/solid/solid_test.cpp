// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/solid.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "certify/verdicts.h"
#include "design/examples.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/synthesis/box_assembly.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// Height of a circular arc over its chord, from the circle's centre: not the code's formula.
double Arc(double half, double rise, double s) {
  if (rise == 0.0) return 0.0;
  const long double r = (static_cast<long double>(half) * half + rise * rise) / (2.0L * rise);
  return static_cast<double>(std::sqrt(r * r - static_cast<long double>(s) * s) - (r - rise));
}

// The measured form at z, from the words of solid.h: outer corners of the case and the lid's dome.
struct Truth {
  double back, front, rim, rise;
  double Dome(double x, double band) const {
    const double middle = (back + front) / 2.0, half = (front - back) / 2.0;
    return band + Arc(half, rise, x - middle);
  }
};
Truth TruthAt(const Job& job, double z) {
  const double half = job.case_form.width_mm / 2.0;
  return {-Arc(half, job.case_form.back_bow_mm, z),
          job.case_form.depth_mm + Arc(half, job.case_form.front_bow_mm, z),
          Arc(half, job.case_form.rim_arch_mm, z),
          job.lid.crown_at_ends_mm + Arc(half, job.lid.crown_mm - job.lid.crown_at_ends_mm, z)};
}

}  // namespace

TEST_CASE("every box has its end walls' solid sections at both faces (R1)") {
  for (const char* name :
       {"sample_chest", "sample_chest_tight", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    const Job job = ExampleJob(name);
    const Solid solid = MakeSolid(job);
    REQUIRE(solid.mirrored);
    const double half = job.case_form.width_mm / 2.0, face = half - job.case_form.end_wall_mm;
    int at_face = 0;
    bool outer = false;
    for (const Station& s : solid.stations) {
      if (std::abs(s.z_mm - face) < 1e-9) ++at_face;
      if (std::abs(s.z_mm - half) < 1e-9) outer = s.end_wall;
      for (const auto* rings : {&s.case_rings, &s.lid_rings}) {
        REQUIRE(rings->size() == 1);
        CHECK_FALSE(FaultOf((*rings)[0]));
        CHECK(SignedArea((*rings)[0]) > 0.0);
      }
      // Solid sections hold a point well inside the box, hollow ones do not.
      const Vec2 inside(job.case_form.depth_mm / 2.0, -job.case_form.height_mm / 2.0);
      CHECK(Contains(s.case_rings, inside) == s.end_wall);
    }
    CHECK(at_face == 2);
    CHECK(outer);
    // The sections in between are the clearance checker's as well.
    const Assembly parts_box = BoxAssembly(job, solid);
    const lidwright::testing::Slabs parts(parts_box);
    const std::vector<Part>& slabs = parts.case_slabs.at(0)->parts();
    CHECK(std::any_of(slabs.begin(), slabs.end(),
                      [](const Part& p) { return p.name == "case end wall"; }));
  }
}

TEST_CASE("between its stations the ruled solid keeps to the measured form as it says") {
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    const Job job = ExampleJob(name);
    const Solid solid = MakeSolid(job);
    CHECK(solid.blend_error_mm + solid.chord_error_mm <= kBlendError_mm + 1e-12);
    double worst_case = 0.0, worst_lid = 0.0;
    for (std::size_t i = 0; i + 1 < solid.stations.size(); ++i) {
      const Station &a = solid.stations[i], &b = solid.stations[i + 1];
      if (a.z_mm == b.z_mm) continue;
      for (double share = 0.0; share <= 1.0; share += 0.05) {
        const Truth truth = TruthAt(job, a.z_mm + share * (b.z_mm - a.z_mm));
        const auto blend = [&](const Ring& p, const Ring& q) {
          Ring ring = p;
          for (std::size_t k = 0; k < p.size(); ++k) ring[k] += share * (q[k] - p[k]);
          return ring;
        };
        const Ring box = blend(a.case_rings[0], b.case_rings[0]);
        const Ring lid = blend(a.lid_rings[0], b.lid_rings[0]);
        worst_case =
            std::max({worst_case, std::abs(box[0].x() - truth.back),
                      std::abs(box[1].x() - truth.front), std::abs(box[2].y() - truth.rim)});
        // The dome: points along the true arc from the ruled outline.
        const double band = truth.rim + job.lid.seam_gap_mm + job.lid.rim_mm;
        for (int k = 1; k < 40; ++k) {
          const double x = truth.back + (truth.front - truth.back) * k / 40.0;
          const Vec2 p(x, truth.Dome(x, band));
          worst_lid = std::max(worst_lid, std::abs(SignedDistance({lid}, p)));
        }
      }
    }
    CHECK(worst_case <= solid.blend_error_mm + 1e-9);
    CHECK(worst_lid <= solid.blend_error_mm + solid.chord_error_mm + 1e-9);
    if (job.case_form.back_bow_mm > 0.0)
      CHECK(worst_case > 0.1 * solid.blend_error_mm);  // it could fail
  }
}

TEST_CASE("the volume of a flat lid and of a barrel top are those of the formulas") {
  Job job = ExampleJob("barrel_chest");
  job.case_form.back_bow_mm = job.case_form.front_bow_mm = job.case_form.rim_arch_mm = 0.0;
  const double width = job.case_form.width_mm, depth = job.case_form.depth_mm,
               wall = job.lid.wall_mm;
  SECTION("a flat lid is a board with a rim around it") {
    job.lid.crown_mm = job.lid.crown_at_ends_mm = 0.0;
    const double rim = job.lid.rim_mm, top = std::min(job.lid.top_mm, rim - 1.0);
    job.lid.top_mm = top;
    const double hollow = (width - 2.0 * std::max(wall, job.case_form.end_wall_mm)) *
                          (depth - 2.0 * wall) * (rim - top);
    CHECK(LidVolume_mm3(MakeSolid(job)) == Approx(width * depth * rim - hollow).epsilon(1e-9));
  }
  SECTION("a barrel top filled to the seam is a cylinder's segment on a block") {
    // Area of a circular segment of angle a: r² (a − sin a) / 2.
    const double half = depth / 2.0, rise = job.lid.crown_mm;
    job.lid.crown_at_ends_mm = rise;
    const double r = (half * half + rise * rise) / (2.0 * rise);
    const double angle = 2.0 * std::asin(half / r);
    const double segment = r * r * (angle - std::sin(angle)) / 2.0;
    double solid_volume = 0.0;
    for (const Station& s : MakeSolid(job).stations) {
      if (s.end_wall) solid_volume = SignedArea(s.lid_rings[0]) * width;
    }
    // Chords within 0.02 mm of the arc lose at most that much of its length.
    const double truth = (segment + depth * job.lid.rim_mm) * width;
    CHECK(solid_volume < truth);
    CHECK(solid_volume > truth - kChordError_mm * r * angle * width);
  }
}

TEST_CASE("matched rings keep their corners and their areas") {
  const Ring square{{0, 0}, {10, 0}, {10, 10}, {0, 10}};
  const Ring house{{0, 0}, {12, 0}, {12, 9}, {6, 14}, {0, 9}};
  const auto [p, q] = MatchRings(square, house);
  REQUIRE(p.size() == q.size());
  for (const auto& [matched, given] : {std::pair(&p, &square), {&q, &house}}) {
    CHECK(SignedArea(*matched) == Approx(SignedArea(*given)));
    for (const Vec2& corner : *given) {
      CHECK(std::any_of(matched->begin(), matched->end(),
                        [&](const Vec2& v) { return (v - corner).norm() < 1e-9; }));
    }
  }
}

TEST_CASE("stations that a job gives get end walls as well") {
  Job job = ExampleJob("sample_chest");
  const Solid measured = MakeSolid(job);
  for (const Station& s : measured.stations) {
    if (!s.end_wall && (job.stations.empty() || s.z_mm > job.stations.back().z_mm)) {
      job.stations.push_back({s.z_mm, s.case_rings, s.lid_rings});
    }
  }
  REQUIRE(job.stations.size() > 10);
  const Solid given = MakeSolid(job);
  CHECK(given.mirrored);
  CHECK(given.stations.back().end_wall);
  CHECK(given.stations.back().z_mm == Approx(job.case_form.width_mm / 2.0));
  const Vec2 inside(job.case_form.depth_mm / 2.0, -job.case_form.height_mm / 2.0);
  CHECK(Contains(given.stations.back().case_rings, inside));
  CHECK(given.bay.z_max_mm == Approx(measured.bay.z_max_mm));
  // The same box either way: the same certified gap within the stated errors.
  const LidMotion motion = *LidMotion::Make({{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}});
  const auto gap = [&](const Solid& solid) {
    const Assembly parts_box = BoxAssembly(job, solid);
    const lidwright::testing::Slabs parts(parts_box);
    return LeastGap(Swing(motion, job.swing.gap_from_rad, job.swing.open_rad),
                    PairsBetween(parts.lid_slabs, parts.case_slabs))
        .bound_mm.value();
  };
  CHECK(gap(given) == Approx(gap(measured)).margin(0.1));
}
