// SPDX-License-Identifier: Apache-2.0
// The measured form against what solid.h says about it, and against closed forms.
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <random>

#include "forms.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/lid_mass.h"
#include "lidwright/solid/solid.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("the stations hold the wood that the form's words put there, and no other") {
  std::mt19937 random(7);
  for (const NamedForm& form : kForms) {
    INFO(form.name);
    const Job job = Made(form.box, form.lid);
    const BoxTruth truth(job);
    const Solid solid = MakeSolid(job);
    CHECK(FaultsOf(job, solid).empty());
    CHECK(solid.blend_error_mm + solid.chord_error_mm <= kBlendError_mm + 1e-12);
    const double face = truth.Face();
    CHECK(solid.bay.z_max_mm == Approx(face).margin(0.01));
    CHECK(solid.bay.z_max_mm <= face + 1e-6);
    const double case_error = solid.blend_error_mm + solid.case_chord_error_mm + 1e-6;
    const double lid_error = solid.blend_error_mm + solid.chord_error_mm + 1e-6;
    long wood = 0, air = 0, near = 0;
    double missing = 0.0, surplus = 0.0;
    for (std::size_t i = 0; i + 1 < solid.stations.size(); ++i) {
      const Station &a = solid.stations[i], &b = solid.stations[i + 1];
      if (b.z_mm - a.z_mm < 1e-6) continue;
      for (int k = 0; k < 3; ++k) {
        const double share = std::uniform_real_distribution<>(0.01, 0.99)(random);
        const double z = a.z_mm + share * (b.z_mm - a.z_mm);
        for (const bool lid : {false, true}) {
          const auto rings = lid ? Blend(a.lid_rings, b.lid_rings, share)
                                 : Blend(a.case_rings, b.case_rings, share);
          if (!lid && z > job.case_form.width_mm / 2.0) {  // a collar goes on
            CHECK(rings.empty());
            CHECK_FALSE(
                truth.CaseAt(job.case_form.depth_mm / 2.0, -job.case_form.height_mm + 13.0, z));
            continue;
          }
          Rect2 box;
          for (const Vec2& p : rings[0]) box.Add(p);
          const double error = lid ? lid_error : case_error;
          const auto ask = [&](const Vec2& p) {
            const bool there = lid ? truth.LidAt(p.x(), p.y(), z) : truth.CaseAt(p.x(), p.y(), z);
            const double d = SignedDistance(rings, p);
            (there ? wood : air)++;
            near += std::abs(d) < 0.2;
            if (there) missing = std::max(missing, d - error);
            // Where the ends begin sections are filled on purpose.
            if (!there && !Filled(job, truth, lid, p, z)) surplus = std::max(surplus, -d - error);
          };
          std::uniform_real_distribution<> ux(box.low.x() - 5, box.high.x() + 5),
              uy(box.low.y() - 5, box.high.y() + 5), close(-0.15, 0.15);
          for (int n = 0; n < 40; ++n) ask({ux(random), uy(random)});
          // And close to the outline, where it matters.
          for (int n = 0; n < 120; ++n) {
            const std::size_t e = random() % rings[0].size();
            const Vec2 &p = rings[0][e], &q = rings[0][(e + 1) % rings[0].size()];
            const double along = std::uniform_real_distribution<>(0, 1)(random);
            ask(p + along * (q - p) + Vec2(close(random), close(random)));
          }
        }
      }
    }
    CHECK(missing <= 0.0);
    CHECK(surplus <= 0.0);
    CHECK(std::min({wood, air, near}) > 500);
  }
}

TEST_CASE("sections are sound outlines that match from station to station, jumps doubled") {
  for (const NamedForm& form : kForms) {
    INFO(form.name);
    const Job job = Made(form.box, form.lid);
    const Solid solid = MakeSolid(job);
    int jumps = 0;
    for (std::size_t i = 0; i < solid.stations.size(); ++i) {
      const Station& s = solid.stations[i];
      INFO("z = " << s.z_mm);
      for (const auto* rings : {&s.case_rings, &s.lid_rings}) {
        if (s.beyond_bay && rings == &s.case_rings && rings->empty()) continue;
        REQUIRE(rings->size() == 1);
        const auto fault = FaultOf((*rings)[0]);
        INFO((fault ? fault->what : ""));
        CHECK_FALSE(fault);
        CHECK(SignedArea((*rings)[0]) > 0.0);
      }
      if (i > 0 && s.z_mm == solid.stations[i - 1].z_mm) ++jumps;
      if (i > 0) CHECK(s.z_mm >= solid.stations[i - 1].z_mm);
    }
    if (job.lid.lip_at_ends) {
      CHECK(jumps >= 3);
    } else {
      CHECK(jumps == (job.case_form.end_flare_rad > 0.0 ? 2 : 1));
    }
    CHECK(solid.stations.front().z_mm == 0.0);
    CHECK(solid.stations.back().z_mm == BoxTruth(job).LidEnd());
    CHECK(solid.stations.size() < 120);  // the report and the search carry every one
  }
}

TEST_CASE("a shut lid touches its case all along the seam, or keeps the seam gap") {
  for (const NamedForm& form : kForms) {
    INFO(form.name);
    const Job job = Made(form.box, form.lid);
    for (const Station& s : MakeSolid(job).stations) {
      if (s.case_rings.empty()) {  // the collar's end
        CHECK(s.z_mm >= job.case_form.width_mm / 2.0);
        continue;
      }
      double least = 1e9, deepest = 1e9;
      int touching = 0;
      for (const Vec2& p : s.lid_rings[0]) {
        const double d = SignedDistance(s.case_rings, p);
        least = std::min(least, std::abs(d));
        deepest = std::min(deepest, d);
        touching += std::abs(d) < 1e-9;
      }
      CHECK(deepest > -1e-9);
      const bool beside = job.lid.lip_mm > 0.0;  // the lip's play may be less than the seam gap
      // Square to a seam that slopes its gap is a little less than upright.
      if (!beside) CHECK(least <= job.lid.seam_gap_mm + 1e-9);
      if (!beside) CHECK(least >= 0.98 * job.lid.seam_gap_mm - 1e-9);
      if (job.lid.seam_gap_mm == 0.0) CHECK(touching >= 2);
    }
  }
}

TEST_CASE("the box stands on its feet or on the edges of its bottom") {
  // Sizes by hand: walls lean in by (height - feet) tan(flare) at the bottom.
  const auto stands = [](const std::string& box) {
    const Solid solid = MakeSolid(Made(box, ""));
    return std::array<double, 3>{solid.stands_back_mm, solid.stands_front_mm, solid.bench_mm};
  };
  CHECK(stands("") == std::array<double, 3>{0.0, 220.0, -120.0});
  CHECK(stands(R"(, "bottom_hollow": 5)") == std::array<double, 3>{0.0, 220.0, -120.0});
  const auto flared = stands(R"(, "back_flare_deg": 10, "front_flare_deg": 5, "feet": 15,
                                 "feet_inset": 7)");
  CHECK(flared[0] == Approx(105.0 * std::tan(10.0 * kRadPerDeg) + 7.0));
  CHECK(flared[1] == Approx(220.0 - 105.0 * std::tan(5.0 * kRadPerDeg) - 7.0));
  CHECK(flared[2] == -120.0);
}

TEST_CASE("a leaning end's block is as thick as the wall leans, and bevelled by its flare") {
  const Job job = Made(R"(, "end_flare_deg": 8)", "");
  const Solid solid = MakeSolid(job);
  const double lean = 108.0 * std::tan(8.0 * kRadPerDeg);  // over the inner height, 120 - 12
  CHECK(solid.block.at_rim_mm == Approx(lean));
  CHECK(solid.block.at_floor_mm == Approx(0.0).margin(1e-9));
  CHECK(solid.block.wedge_rad == Approx(8.0 * kRadPerDeg));
  CHECK(solid.block.lid_mm == Approx(lean));
  CHECK(solid.bay.z_max_mm == Approx(170.0 - 12.0 - lean));
  const MountingBlock none = MakeSolid(Made("", "")).block;
  CHECK((none.at_rim_mm == 0.0 && none.at_floor_mm == 0.0 && none.lid_mm == 0.0));
}

TEST_CASE("pivots' room is what the walls leave at their narrowest") {
  const Job job = Made(R"(, "back_flare_deg": 9, "front_cup": 8)", "");
  const Solid solid = MakeSolid(job);
  const double edge = job.bay.edge_mm;
  CHECK(solid.bay.case_zone.low.x() ==
        Approx(12.0 + 108.0 * std::tan(9.0 * kRadPerDeg) + edge).margin(0.01));
  CHECK(solid.bay.case_zone.high.x() == Approx(220.0 - 12.0 - 8.0 - edge).margin(0.01));
  // A lid without an inside leaves its pivots only the case's.
  const Solid full = MakeSolid(Made("", R"(, "hollow": 0)"));
  CHECK(full.bay.lid_zone.high.y() == Approx(-edge));
}

namespace {

// Area of a circular segment of half-chord a and rise h: r² (α − sin α) / 2.
double Segment(double a, double h) {
  const double r = (a * a + h * h) / (2.0 * h), angle = 2.0 * std::asin(a / r);
  return r * r * (angle - std::sin(angle)) / 2.0;
}

double LidVolume(const std::string& box, const std::string& lid) {
  return LidVolume_mm3(MakeSolid(Made(box, R"(, "hollow": 0)" + lid)));
}

}  // namespace

// Closed forms: circle's segment and half ellipse (any table of areas); Lamé's curve by the beta
// function; Archimedes' two thirds for parabolas. From memory, re-derived.
TEST_CASE("volumes of one-piece lids are those of the closed forms") {
  const double width = 340.0, depth = 220.0, rim = 14.0, crown = 38.0;
  const double band = width * depth * rim, share = 1e-3;  // chords within 0.02 mm of 38
  CHECK(LidVolume("", R"(, "crown_at_ends": 38)") ==
        Approx(band + width * Segment(depth / 2, crown)).epsilon(share));
  CHECK(LidVolume("", R"(, "crown_at_ends": 38, "curve": "elliptical")") ==
        Approx(band + width * kPi * depth / 2 * crown / 2).epsilon(share));
  CHECK(LidVolume("", R"(, "curve": "elliptical", "curve_across": "elliptical")") ==
        Approx(band + crown * (kPi / 2 * width / 2) * (kPi / 2 * depth / 2)).epsilon(share));
  for (const double n : {1.5, 2.5, 4.0}) {
    const double quarter = std::tgamma(1 + 1 / n) * std::tgamma(1 + 1 / n) / std::tgamma(1 + 2 / n);
    CHECK(LidVolume("", R"(, "crown_at_ends": 38, "curve": "superelliptic", "exponent": )" +
                            std::to_string(n)) ==
          Approx(band + width * depth * crown * quarter).epsilon(share));
  }
  std::string parabola, across;
  for (int i = -20; i <= 20; ++i) {
    const std::string at = "[" + std::to_string(i) + "," + std::to_string(400 - i * i) + "]";
    parabola += (parabola.empty() ? "" : ",") + at;
    if (i >= 0) across += (across.empty() ? "" : ",") + at;
  }
  CHECK(
      LidVolume("", R"(, "profile": [)" + parabola + R"(], "profile_across": [)" + across + "]") ==
      Approx(band + crown * (2.0 / 3 * width) * (2.0 / 3 * depth)).epsilon(2 * share));
  // Bowed edges: the plan is a rectangle and two segments.
  const double plan = width * depth + Segment(width / 2, 10) + Segment(width / 2, 6);
  CHECK(LidVolume(R"(, "back_bow": 10, "front_bow": 6)", R"(, "curve": "elliptical")") >
        plan * rim);
  Job flat = Made(R"(, "back_bow": 10, "front_bow": 6)", R"(, "hollow": 0)");
  flat.lid.crown_mm = 0.0;
  CHECK(LidVolume_mm3(MakeSolid(flat)) == Approx(plan * rim).epsilon(share));
}

// Prisms: a band, and a lip whose outer and inner rectangles differ.
TEST_CASE("a lip all round holds the wood of a frame") {
  const double width = 340.0, depth = 220.0, rim = 14.0, lip = 9.0, wall = 5.0, play = 0.8;
  const auto volume = [&](const std::string& box, const std::string& side) {
    Job job =
        Made(box, R"(, "hollow": 0, "lip": 9, "lip_wall": 5, "lip_play": 0.8, "lip_side": ")" +
                      side + R"(", "lip_at_ends": true)");
    job.lid.crown_mm = job.lid.crown_at_ends_mm = 0.0;
    const Solid solid = MakeSolid(job);
    CHECK(MassOfLid(job, solid).mass_kg ==
          Approx(job.loads.density_kg_m3 * LidVolume_mm3(solid) / 1e9).epsilon(1e-9));
    return LidVolume_mm3(solid);
  };
  const auto frame = [&](double w, double d) { return (w * d - (w - 10.0) * (d - 10.0)) * lip; };
  const double inside = 2.0 * (12.0 + play), outside = 2.0 * (play + wall);
  CHECK(volume("", "inside") ==
        Approx(width * depth * rim + frame(width - inside, depth - inside)).epsilon(1e-9));
  // Leaning ends: the frame is shorter by the lean over its depth.
  const double lean = lip * std::tan(6.0 * kRadPerDeg);
  CHECK(volume(R"(, "end_flare_deg": 6)", "inside") ==
        Approx(width * depth * rim + frame(width - inside - 2.0 * lean, depth - inside))
            .epsilon(1e-9));
  for (const char* box : {"", R"(, "end_flare_deg": 6)"}) {
    CHECK(volume(box, "outside") == Approx((width + outside) * (depth + outside) * rim +
                                           frame(width + outside, depth + outside))
                                        .epsilon(1e-9));
  }
}

TEST_CASE("a bay begins inside the lip at its end, and its plates stand on what is between") {
  const Solid upright = MakeSolid(Made("", R"(, "lip": 6, "lip_wall": 5, "lip_at_ends": true)"));
  REQUIRE(upright.end_lip);
  CHECK(upright.bay.z_max_mm == Approx(170.0 - 12.0 - 0.5 - 5.0));
  CHECK(upright.end_lip->rail_mm == upright.bay.z_max_mm);
  CHECK(upright.end_lip->z_max_mm == Approx(170.0 - 12.0 - 0.5));
  CHECK(upright.bay.case_zone.high.y() ==
        Approx(MakeSolid(Made("", "")).bay.case_zone.high.y() - 6.0));
  // A thick lid's end reaches farther in than the lip.
  const Job thick = Made("", R"(, "lip": 6, "lip_wall": 5, "lip_at_ends": true, "wall": 25)");
  CHECK(MakeSolid(thick).bay.z_max_mm == Approx(170.0 - 25.0));
  // Outside, nothing of the bay is taken.
  const Job collar = Made("", R"(, "lip": 6, "lip_side": "outside", "lip_at_ends": true)");
  CHECK(MakeSolid(collar).bay.z_max_mm == Approx(170.0 - 12.0));
  CHECK(LidEnd_mm(collar, MakeSolid(collar)) == Approx(170.0 + 0.5 + 6.0));
}

// Spherical cap π h² (3 R − h) / 3, its centroid 3 (2 R − h)² / (4 (3 R − h)) from the sphere's
// centre; paraboloid π a b h / 2, centroid h / 3 over its base; half ellipsoid 2/3 π a b h, 3/8 h.
// From memory, re-derived. Sections are the caps' own, given as stations, on a board 10 mm thick.
TEST_CASE("mass and centre of domes given by stations are those of the closed forms") {
  const double a = 150.0, b = 110.0, h = 40.0, board = 10.0;
  const double r = (a * a + h * h) / (2.0 * h);
  struct Cap {
    const char* name;
    double b, volume, centroid;
    std::function<double(double, double)> height;  // over (z, x from the middle)
  };
  const double cap_b = a;  // a sphere's cap is round
  const Cap caps[] = {
      {"spherical cap", cap_b, kPi * h * h * (3 * r - h) / 3,
       3 * (2 * r - h) * (2 * r - h) / (4 * (3 * r - h)) - (r - h),
       [&](double z, double x) {
         return std::sqrt(std::max(0.0, r * r - z * z - x * x)) - (r - h);
       }},
      {"paraboloid", b, kPi * a * b * h / 2, h / 3,
       [&](double z, double x) { return h * (1 - z * z / (a * a) - x * x / (b * b)); }},
      {"half ellipsoid", b, 2.0 / 3 * kPi * a * b * h, 3.0 / 8 * h, [&](double z, double x) {
         return h * std::sqrt(std::max(0.0, 1 - z * z / (a * a) - x * x / (b * b)));
       }}};
  for (const Cap& cap : caps) {
    INFO(cap.name);
    Job job = Made("", "");
    job.case_form.width_mm = 2 * a;
    job.case_form.depth_mm = 2 * cap.b;
    const auto lid = [&](double z) {
      Ring ring{{0, 0}, {2 * cap.b, 0}};
      for (int i = 0; i <= 200; ++i) {  // denser where a section is steep
        const double x = cap.b * std::cos(kPi * i / 200);
        ring.push_back({cap.b + x, board + std::max(0.0, cap.height(z, x))});
      }
      return ring;
    };
    const Ring box{{0, -120}, {2 * cap.b, -120}, {2 * cap.b, 0}, {0, 0}};
    for (int i = 0; i <= 200; ++i) {
      const double z = -a * std::cos(kPi * i / 200);
      job.stations.push_back({z, {box}, {lid(z)}});
    }
    job.loads.density_kg_m3 = 600.0;
    const Solid solid = MakeSolid(job);
    const MassProperties mass = MassOfLid(job, solid);
    const double board_volume = 4 * a * cap.b * board, all = board_volume + cap.volume;
    CHECK(mass.mass_kg == Approx(600.0 * all / 1e9).epsilon(1e-3));
    CHECK(LidVolume_mm3(solid) == Approx(all).epsilon(1e-3));
    const double centre = (board_volume * board / 2 + cap.volume * (board + cap.centroid)) / all;
    CHECK(mass.centre.y() == Approx(centre).epsilon(1e-3));
    CHECK(mass.centre.x() == Approx(cap.b).epsilon(1e-6));
  }
}

TEST_CASE("leaning ends weigh what their walls hold, not what clearances fill") {
  // The outside is a wedge-shaped prism, the inside another: depth × (mean width) × height.
  const Job job = Made(R"(, "end_flare_deg": 9)", "");
  const double lean = std::tan(9.0 * kRadPerDeg);
  const double outside = 220.0 * 120.0 * (340.0 - 120.0 * lean);
  const double inside = 196.0 * 108.0 * (316.0 - 108.0 * lean);
  const Solid solid = MakeSolid(job);
  const MassProperties mass = MassOfCase(job, solid);
  CHECK(mass.mass_kg == Approx(job.loads.density_kg_m3 * (outside - inside) / 1e9).epsilon(1e-6));
  // The lid's walls are upright: it weighs as over an upright case.
  CHECK(LidVolume_mm3(solid) == Approx(LidVolume_mm3(MakeSolid(Made("", "")))).epsilon(1e-4));
}
