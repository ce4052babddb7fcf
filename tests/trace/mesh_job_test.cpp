// SPDX-License-Identifier: Apache-2.0
// Chests whose form is known, as meshes: what comes back out as stations.
#include <catch2/catch.hpp>

#include "certify/verdicts.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/write_job.h"
#include "lidwright/swing/clearance.h"
#include "lidwright/synthesis/box_assembly.h"
#include "mesh_jobs.h"
#include "swing/keeps_all.h"
#include "trace/mesh_seam.h"

using namespace lidwright;
using namespace mesh_jobs;

namespace {

// The outlines at z by blending neighbouring stations vertex by vertex.
std::vector<Ring> Blended(const Job& job, double z, bool lid) {
  for (std::size_t i = 0; i + 1 < job.stations.size(); ++i) {
    const auto &a = job.stations[i], &b = job.stations[i + 1];
    if (z < a.z_mm || z > b.z_mm || a.z_mm == b.z_mm) continue;
    const double t = (z - a.z_mm) / (b.z_mm - a.z_mm);
    const auto &p = lid ? a.lid_rings : a.case_rings, &q = lid ? b.lid_rings : b.case_rings;
    REQUIRE(p.size() == q.size());
    std::vector<Ring> rings;
    for (std::size_t r = 0; r < p.size(); ++r) {
      REQUIRE(p[r].size() == q[r].size());  // the same vertices from jump to jump
      Ring ring;
      for (std::size_t k = 0; k < p[r].size(); ++k) {
        ring.push_back((1 - t) * p[r][k] + t * q[r][k]);
      }
      rings.push_back(ring);
    }
    return rings;
  }
  FAIL("no stations around z = " << z);
  return {};
}

double Off(const std::vector<Ring>& rings, const Ring& from) {
  double worst = 0.0;
  for (std::size_t k = 0; k < from.size(); ++k) {
    const Vec2 &a = from[k], &b = from[(k + 1) % from.size()];
    for (const double t : {0.0, 0.25, 0.5, 0.75}) {
      worst = std::max(worst, std::abs(SignedDistance(rings, a + t * (b - a))));
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("a chest's stations keep to its form within the error they state", "[mesh]") {
  std::vector<Chest> chests(5);
  chests[1].bow = chests[1].arch = 0;
  chests[2].crown = 70, chests[2].width = 200, chests[2].bow = 25, chests[2].arch = 0;
  chests[3].width = 700, chests[3].depth = 400, chests[3].height = 300, chests[3].wall = 18;
  chests[3].crown = 60, chests[3].rim = 40;
  chests[4].arch = 30;
  for (const Chest& chest : chests) {
    // Facets' own chords must be finer than what is asked for here.
    Chest fine = chest;
    fine.dome_pieces = 160;
    const MeshJob made = Made(fine, Wish(), 2.0);
    REQUIRE(Faults(made).empty());
    const Job& job = *made.job;
    CHECK(job.stations_error_mm <= kBlendError_mm);
    CHECK(job.stations_error_mm > 0.0);
    const double half = chest.width / 2, face = half - chest.wall;
    int asked = 0;
    for (double z = -half + 0.05; z < half; z += chest.width / 97) {
      if (std::abs(std::abs(z) - face) < 0.05) continue;
      const bool solid = std::abs(z) > face;
      // The mesh's own chords: the dome's (160 pieces) and those along z (2 mm).
      const double mesh_error = 0.01;
      for (const bool lid : {false, true}) {
        const Ring truth = lid ? fine.Lid(z, solid) : fine.Case(z, solid);
        const std::vector<Ring> blend = Blended(job, z, lid);
        CHECK(Off(blend, truth) <= job.stations_error_mm + mesh_error);
        CHECK(Off({truth}, blend[0]) <= job.stations_error_mm + mesh_error);
        ++asked;
      }
    }
    CHECK(asked > 150);
  }
}

TEST_CASE("the measures beside the stations are the chest's", "[mesh]") {
  Chest chest;
  chest.floor = 9;
  const MeshJob made = Made(chest);
  REQUIRE(Faults(made).empty());
  const Job& job = *made.job;
  CHECK(job.case_form.width_mm == Approx(340));
  CHECK(job.case_form.depth_mm == Approx(220).margin(0.002));
  CHECK(job.case_form.height_mm == Approx(120).margin(0.002));
  CHECK(job.case_form.back_wall_mm == Approx(12).margin(0.002));
  CHECK(job.case_form.front_wall_mm == Approx(12).margin(0.002));
  CHECK(job.case_form.end_wall_mm == Approx(12).margin(1e-9));  // its face is flat: no bowed end
  CHECK(job.case_form.floor_mm == Approx(9).margin(0.002));
  CHECK(job.case_form.back_bow_mm == Approx(10).margin(0.05));
  CHECK(job.case_form.rim_arch_mm == Approx(8).margin(0.05));
  CHECK(job.lid.wall_mm == Approx(12).margin(0.0021));
  CHECK(job.lid.top_mm == Approx(12).margin(0.05));
  CHECK(job.lid.seam_gap_mm == 0.0);
  // All else is what a job file without it would have.
  CHECK(job.swing.gap_mm == 2.0);
  CHECK(job.loads.wood == "black cherry");
}

TEST_CASE("stations stand twice at the inner faces and nowhere else in a plain chest", "[mesh]") {
  const MeshJob made = Made(Chest());
  REQUIRE(made.job);
  std::vector<double> twice;
  const auto& stations = made.job->stations;
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    REQUIRE(stations[i].z_mm <= stations[i + 1].z_mm);
    if (stations[i].z_mm == stations[i + 1].z_mm) twice.push_back(stations[i].z_mm);
  }
  CHECK(twice == std::vector<double>{-158, 158});
  CHECK(made.steps == 2);
  CHECK(stations.front().z_mm == -170);
  CHECK(stations.back().z_mm == 170);
}

TEST_CASE("a box by its measures and as meshes lead to the same certified gap", "[mesh]") {
  const JobReading measured = ReadJob(
      R"({"units": "mm", "case": {"width": 340, "depth": 220, "height": 120, "wall": 12,
          "back_bow": 10, "rim_arch": 8}, "lid": {"rim": 14, "crown": 38}})",
      "box.json");
  REQUIRE(measured.job);
  Chest fine;
  fine.dome_pieces = 160;
  const MeshJob made = Made(fine, Wish(), 2.0);
  REQUIRE(made.job);
  // As a job file, written and read back.
  const JobReading meshed = ReadJob(WriteJob(*made.job), "meshed.json");
  REQUIRE(meshed.job);
  CHECK(meshed.job->stations_error_mm == made.error_mm);
  const Solid solid_a = MakeSolid(*measured.job), solid_b = MakeSolid(*meshed.job);
  CHECK(FaultsOf(*meshed.job, solid_b).empty());
  CHECK(LidVolume_mm3(solid_b) == Approx(LidVolume_mm3(solid_a)).epsilon(2e-3));
  CHECK(solid_b.bay.case_zone.low.isApprox(solid_a.bay.case_zone.low, 1e-3));
  CHECK(solid_b.bay.case_zone.high.isApprox(solid_a.bay.case_zone.high, 1e-3));
  const Assembly box_a = BoxAssembly(*measured.job, solid_a);
  const Assembly box_b = BoxAssembly(*meshed.job, solid_b);
  const lidwright::testing::Slabs a(box_a), b(box_b);
  int asked = 0;
  for (const Pivots& pivots : {Pivots{{44, -49}, {22, -17.5}, {111.5, -45.5}, {69.5, -6.5}},
                               Pivots{{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}},
                               Pivots{{31, -15.5}, {48.5, -38}, {74.5, -6.5}, {172, -40}}}) {
    const auto motion = LidMotion::Make(pivots);
    REQUIRE(motion);
    const double from = 10 * kRadPerDeg;
    const double to = std::min(95 * kRadPerDeg, 0.95 * motion->Range().high_rad);
    REQUIRE(to > from);
    const Swing bounds(*motion, from, to);
    const GapReport gap_a = LeastGap(bounds, PairsBetween(a.lid_slabs, a.case_slabs));
    const GapReport gap_b = LeastGap(bounds, PairsBetween(b.lid_slabs, b.case_slabs));
    // Each nearest approach is the true form's within the two parts' stated errors.
    const double error_a = 2 * solid_a.blend_error_mm + solid_a.chord_error_mm + kChordError_mm;
    const double error_b = 2 * made.error_mm;
    CHECK(gap_a.proven() == gap_b.proven());
    CHECK(std::abs(gap_a.nearest->gap_mm - gap_b.nearest->gap_mm) <= error_a + error_b);
    if (!gap_a.proven()) continue;
    ++asked;
    // What is certified for the meshes may not exceed what the measured box really has.
    CHECK(*gap_b.bound_mm <= gap_a.nearest->gap_mm + error_a);
    CHECK(*gap_b.bound_mm >= *gap_a.bound_mm - 2 * error_b - 2 * kGapTolerance_mm);
    const KeepReport kept = testing::KeepsClosedGap(
        Swing(*motion, 0, from), PairsBetween(b.lid_slabs, b.case_slabs), meshed.job->swing.gap_mm);
    CHECK(kept.kept());
  }
  CHECK(asked >= 2);
}

TEST_CASE("axes, units and the job's unit change nothing but what they say", "[mesh]") {
  const Chest chest;
  const Mesh box = chest.Body(false, 10), lid = chest.Body(true, 10);
  const MeshJob plain = Made(box, lid);
  REQUIRE(plain.job);
  // As made, in the job's own axes: y up, back towards −x.
  MeshWish wish = Wish();
  wish.up = MeshAxis::kY;
  wish.hinge_side = MeshAxis::kMinusX;
  const MeshJob own = JobFromMeshes(mesh_maker::Binary(box), mesh_maker::Binary(lid), wish);
  REQUIRE(Faults(own).empty());
  REQUIRE(own.job->stations.size() == plain.job->stations.size());
  CHECK(own.job->stations[7].lid_rings == plain.job->stations[7].lid_rings);

  wish.mm_per_unit = kMmPerInch;
  wish.inches = true;
  const MeshJob inches = JobFromMeshes(mesh_maker::Binary(Scaled(box, 1 / kMmPerInch)),
                                       mesh_maker::Binary(Scaled(lid, 1 / kMmPerInch)), wish);
  REQUIRE(Faults(inches).empty());
  CHECK(inches.job->case_form.depth_mm == Approx(220).margin(0.003));
  const JobReading back = ReadJob(WriteJob(*inches.job), "in.json");
  REQUIRE(back.job);
  CHECK(back.job->inches);
  CHECK(FaultsOf(*back.job, MakeSolid(*back.job)).empty());
  for (const Station& s : MakeSolid(*back.job).stations) {
    // Inside the bay the case is hollow, whatever rounding the inches brought.
    if (!s.end_wall) CHECK_FALSE(Contains(s.case_rings, {110, -40}));
  }
}

TEST_CASE("ends bowed in plan make thick ends, not thick backs and fronts", "[mesh]") {
  // The bowed back is now one end or the other. The frame lies at the corners in plan, where the
  // flat back ends and the bowed end begins, not where the outermost section is.
  for (const MeshAxis hinge_side : {MeshAxis::kX, MeshAxis::kMinusX}) {
    for (const double bow : {3.0, 8.0, 10.0, 15.0}) {
      Chest chest;
      chest.arch = 0;
      chest.bow = bow;
      MeshWish wish = Wish();
      wish.hinge_side = hinge_side;
      const MeshJob made = Made(chest.Body(false, 4), chest.Body(true, 4), wish);
      INFO(bow << (hinge_side == MeshAxis::kX ? " x" : " -x") << ": " << Faults(made));
      REQUIRE(Faults(made).empty());
      // The frame's place, to what a bowed end may gain between two stations; see mesh_job.h.
      const double within = 0.2;
      CHECK(made.job->case_form.depth_mm == Approx(340).margin(2 * within));
      CHECK(made.job->case_form.back_bow_mm == Approx(0).margin(within));
      CHECK(made.job->case_form.front_bow_mm == Approx(0).margin(within));
      for (const StationOutline& s : made.job->stations) {
        if (std::abs(s.z_mm) > 80) continue;
        CHECK(Bounds(s.case_rings).low.x() == Approx(0).margin(within));
      }
      // 2 % of the depth, back and front together, is what may be left of the bow.
      CHECK(made.job->case_form.back_wall_mm >= 12 - 1e-3);
      CHECK(made.job->case_form.back_wall_mm <= 12 + 0.02 * 340);
      CHECK(made.job->case_form.end_wall_mm >= 12);
      CHECK(made.job->case_form.end_wall_mm <= 12 + bow + 0.1);
    }
  }
}

TEST_CASE("outlines that split, end or begin between the ends become jumps", "[mesh]") {
  Chest chest;
  chest.bow = chest.arch = 0;
  Mesh box = chest.Body(false, 400);
  // A cavity in the floor and a round-ended one in the lid's end: loops that come and go.
  mesh_maker::AddCavity(box, {{-60, mesh_maker::Box(60, -116, 90, -112)},
                              {-20, mesh_maker::Box(60, -116, 90, -112)}});
  std::vector<mesh_maker::Section> ball;
  for (int k = 1; k < 40; ++k) {
    const double a = 3.14159265358979 * k / 40;
    Ring circle;
    for (int i = 0; i < 40; ++i) {
      const double b = 2 * 3.14159265358979 * i / 40;
      circle.push_back({110 + 3 * std::sin(a) * std::cos(b), -114 + 3 * std::sin(a) * std::sin(b)});
    }
    ball.push_back({60 - 3 * std::cos(a), circle});
  }
  mesh_maker::AddCavity(box, ball);
  const MeshJob made = Made(box, chest.Body(true, 4));
  REQUIRE(Faults(made).empty());
  CHECK(made.job->stations_error_mm <= kBlendError_mm);
  const auto rings_at = [&](double z) { return Blended(*made.job, z, false).size(); };
  CHECK(rings_at(-61) == 1);
  CHECK(rings_at(-59.9) == 2);
  CHECK(rings_at(-20.1) == 2);
  CHECK(rings_at(0) == 1);
  CHECK(rings_at(60) == 2);
  CHECK(rings_at(64) == 1);
  const JobReading back = ReadJob(WriteJob(*made.job), "holes.json");
  REQUIRE(back.job);
  const Solid solid = MakeSolid(*back.job);
  BoxAssembly(*back.job, solid);  // requires that neighbours match
}

TEST_CASE("no point of a mesh is passed over, however narrow the place that it stands out of",
          "[mesh]") {
  Chest chest;
  Mesh lid = chest.Body(true, 0.5);
  // Single points of the top drawn up: tents of half a millimetre each way.
  std::vector<Vec3> tips;
  for (const double z : {-120.3, -77.7, -31.1, 3.3, 58.9, 101.7}) {
    std::size_t best = 0;
    for (std::size_t i = 0; i < lid.points.size(); ++i) {
      const auto off = [&](const Vec3& p) { return (p - Vec3(80, 45, z)).norm(); };
      if (off(lid.points[i]) < off(lid.points[best])) best = i;
    }
    // All points that are this corner.
    const Vec3 corner = lid.points[best];
    for (Vec3& p : lid.points) {
      if ((p - corner).norm() < 1e-9) p.y() += 1.5;
    }
    tips.push_back(corner + Vec3(0, 1.5, 0));
  }
  const MeshJob made = Made(chest.Body(false, 4), lid);
  REQUIRE(Faults(made).empty());
  for (const Vec3& tip : tips) {
    const std::vector<Ring> blend = Blended(*made.job, tip.z(), true);
    CHECK(std::abs(SignedDistance(blend, {tip.x(), tip.y()})) <= made.error_mm);
  }
}

TEST_CASE("a straight box with a flat lid is sliced, whatever its width and walls", "[mesh]") {
  // The same section from wall to wall: only its ends and inner faces ask for stations.
  std::uint64_t state = 11;
  const auto draw = [&] {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(state >> 11) * 0x1.0p-53;
  };
  for (int i = 0; i < 20; ++i) {
    const bool plain = i == 0;
    Chest chest;
    chest.width = plain ? 340 : 300 + 100 * draw();
    chest.wall = plain ? 12 : 8 + 8 * draw();
    chest.bow = chest.arch = chest.crown = 0;
    chest.rim = 30;
    MeshWish wish = Wish();
    wish.inches = i % 2 == 1;
    const MeshJob made = Made(chest.Body(false, 1000), chest.Body(true, 1000), wish);
    REQUIRE(Faults(made).empty());
    CHECK(made.stations == 7);  // the ends, both sides of both faces, one between them
    CHECK_FALSE(Says(made, "does not meet"));
    CHECK(made.job->case_form.back_wall_mm == Approx(chest.wall).margin(0.002));
    CHECK(made.job->case_form.front_wall_mm == Approx(chest.wall).margin(0.002));
    CHECK(made.job->case_form.end_wall_mm == Approx(chest.wall).margin(0.0025));
    CHECK(made.job->lid.top_mm == Approx(12).margin(0.002));
    const JobReading back = ReadJob(WriteJob(*made.job), "box.json");
    REQUIRE(back.job);
    CHECK(FaultsOf(*back.job, MakeSolid(*back.job)).empty());
  }
}

TEST_CASE("a divider across the middle is neither floor nor end wall", "[mesh]") {
  for (const double below_rim : {0.0, 10.0, 50.0}) {
    INFO(below_rim);
    Chest chest;
    chest.bow = chest.arch = chest.crown = 0;
    chest.rim = 30;
    // Two trays, 6 apart, with the divider's lower top between them; as one body after mending.
    Mesh box;
    const Ring hollow = chest.Case(0, false);
    Ring divided = hollow;
    for (Vec2& p : divided) {
      if (p.y() == -108) p.y() = -std::max(below_rim, 1e-3);
    }
    const auto cap_between = [&](double z, bool up) {
      std::vector<std::uint32_t> at;
      const Ring room = mesh_maker::Box(12, -108, 208, -std::max(below_rim, 1e-3));
      for (const Vec2& p : room) at.push_back(mesh_maker::Add(box, {p.x(), p.y(), z}));
      mesh_maker::Cap(box, at, room, up);
    };
    const auto tube = [&](const Ring& ring, double from, double to) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        const std::uint32_t p = mesh_maker::Add(box, {a.x(), a.y(), from}),
                            q = mesh_maker::Add(box, {b.x(), b.y(), from}),
                            r = mesh_maker::Add(box, {b.x(), b.y(), to}),
                            s = mesh_maker::Add(box, {a.x(), a.y(), to});
        box.facets.push_back({p, q, r});
        box.facets.push_back({p, r, s});
      }
    };
    const auto end_face = [&](double z, bool up, bool outside) {
      const Ring face = outside ? chest.Case(z, true) : mesh_maker::Box(12, -108, 208, 0);
      std::vector<std::uint32_t> at;
      for (const Vec2& p : face) at.push_back(mesh_maker::Add(box, {p.x(), p.y(), z}));
      mesh_maker::Cap(box, at, face, up);
    };
    end_face(-170, false, true);
    tube(chest.Case(0, true), -170, -158);
    end_face(-158, true, false);
    tube(hollow, -158, -3);
    cap_between(-3, false);
    tube(divided, -3, 3);
    cap_between(3, true);
    tube(hollow, 3, 158);
    end_face(158, false, false);
    tube(chest.Case(0, true), 158, 170);
    end_face(170, true, true);
    const MeshJob made = Made(box, chest.Body(true, 1000));
    CHECK(Faults(made).empty());
    if (!made.job) continue;
    CHECK(made.job->case_form.floor_mm == Approx(12).margin(0.002));
    CHECK(made.job->case_form.end_wall_mm == Approx(12).margin(0.0021));
    CHECK(made.job->case_form.back_wall_mm == Approx(12).margin(0.002));
  }
}

TEST_CASE("whatever the width and the walls, the bay begins hollow beside the end wall", "[mesh]") {
  std::uint64_t state = 5;
  const auto draw = [&] {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return static_cast<double>(state >> 11) * 0x1.0p-53;
  };
  for (int i = 0; i < 30; ++i) {
    Chest chest;
    chest.width = 300 + 100 * draw();
    chest.wall = 8 + 8 * draw();
    chest.bow = chest.arch = 0;
    MeshWish wish = Wish();
    wish.inches = i % 2 == 1;
    const MeshJob made = Made(chest.Body(false, 50), chest.Body(true, 50), wish);
    REQUIRE(Faults(made).empty());
    CHECK(made.job->case_form.end_wall_mm == Approx(chest.wall).margin(0.0025));
    const JobReading back = ReadJob(WriteJob(*made.job), "box.json");
    REQUIRE(back.job);
    for (const Station& s : MakeSolid(*back.job).stations) {
      if (!s.end_wall) CHECK_FALSE(Contains(s.case_rings, {110, -40}));
    }
  }
}

TEST_CASE("heights that differ by rounding become one, others stay", "[mesh]") {
  // 8.00005 and its neighbours would round to two different ten-thousandths.
  StationOutline station{0.0,
                         {{{0, 0}, {100, 0}, {100, 8.000049}, {0, 8.000052}}},
                         {{{0, 8.000051}, {100, 8.000048}, {100, 20.0004}, {0, 20.0009}}}};
  RoundStation(&station);
  const double rim = station.case_rings[0][2].y();
  CHECK(rim == Approx(8.00005).margin(1e-4));
  CHECK(station.case_rings[0][3].y() == rim);
  CHECK(station.lid_rings[0][0].y() == rim);
  CHECK(station.lid_rings[0][1].y() == rim);
  CHECK(station.lid_rings[0][2].y() != station.lid_rings[0][3].y());
}

TEST_CASE("a form too rough for the wish gets a coarser error, and says so", "[mesh]") {
  Chest chest;
  Mesh lid = chest.Body(true, 1.0);
  std::uint64_t state = 1;
  for (Vec3& p : lid.points) {
    if (p.y() < 20) continue;  // the top is rough as a scan's, the seam is not
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    p.y() += 0.3 * std::sin(40 * p.x() + 57 * p.z());
  }
  MeshWish wish = Wish();
  wish.most_stations = 120;
  const MeshJob made = Made(chest.Body(false, 4), lid, wish);
  REQUIRE(Faults(made).empty());
  CHECK(made.stations <= 130);
  CHECK(made.error_mm > 0.1);
  CHECK(made.error_mm < 2.0);
  CHECK(Says(made, "that is more than the 0.05 mm aimed at"));
}
