// SPDX-License-Identifier: Apache-2.0
#include "lidwright/trace/mesh_job.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/job/complete_job.h"
#include "lidwright/trace/mesh.h"
#include "trace/mesh_frame.h"
#include "trace/mesh_measures.h"
#include "trace/mesh_seam.h"
#include "trace/mesh_unify.h"

namespace lidwright {
namespace {

// Of the error aimed at, this share goes to blending and that to leaving vertices out; the rest to
// the sections' own simplification and to what the final measuring finds beyond.
constexpr double kBlendShare = 0.5, kThinShare = 0.35;
// [mm] A lid that has to be raised is raised to this gap: clear of every rounding and of
// kContactSlack_mm.
constexpr double kClear_mm = 0.02;
// [mm] Between neighbouring coordinates: coarser than half of the least error that can be asked for
// would be the file's rounding and not the form.
constexpr double kCoarsestStep_mm = 0.01;

// What the meshes say of the job; all else is at its default. Measures that were not found are
// unset and count as not given.
const std::vector<std::string> kFound = {
    "name",           "case.width",      "case.depth",     "case.height",
    "case.back_wall", "case.front_wall", "case.end_wall",  "case.floor",
    "case.back_bow",  "case.front_bow",  "case.rim_arch",  "lid.wall",
    "lid.top",        "lid.seam_gap",    "stations_error", "stations"};

class Maker {
 public:
  explicit Maker(const MeshWish& wish) : wish_(wish) {}

  MeshJob Make(const std::string& case_bytes, const std::string& lid_bytes) {
    std::array<Mesh, 2> meshes;
    Tell("reading meshes", 0.0);
    Load(case_bytes, wish_.case_file, &meshes[0]);
    Tell("reading meshes", 0.5);
    Load(lid_bytes, wish_.lid_file, &meshes[1]);
    if (Failed()) return std::move(result_);
    for (Mesh& mesh : meshes) TurnMesh(wish_, &mesh);
    Take(PlacingFaults(meshes[0], meshes[1], wish_));
    if (Failed()) return std::move(result_);
    CheckDistance(meshes[0], wish_.case_file);
    CheckDistance(meshes[1], wish_.lid_file);
    if (Failed()) return std::move(result_);
    Centre(&meshes);
    Tell("slicing", 0.0);
    const MeshSlicer box(std::move(meshes[0])), lid(std::move(meshes[1]));
    std::vector<StationOutline> stations = Stations({&box, &lid});
    if (Failed()) return std::move(result_);
    Tell("measuring", 0.0);
    Complete(&stations);
    if (!Failed()) FillJob(std::move(stations));
    return std::move(result_);
  }

 private:
  bool Failed() const { return !result_.problems.empty(); }
  void Tell(const std::string& what, double share) const {
    if (wish_.progress) wish_.progress(what, share);
  }
  void Note(const std::string& text) { result_.notes.push_back(text); }
  void Take(const Problems& problems) {
    result_.problems.insert(result_.problems.end(), problems.begin(), problems.end());
  }
  void Complain(const std::string& file, const std::string& place, const std::string& rule,
                const std::string& hint) {
    result_.problems.push_back({file, 0, place, "", rule, hint});
  }

  void Load(const std::string& bytes, const std::string& file, Mesh* mesh) {
    MeshReading read = ReadStl(bytes, file);
    const std::size_t count = read.mesh.facets.size();
    if (read.problems.empty()) {
      std::vector<std::string> notes = std::move(read.notes);
      double off_mm = 0.0;
      read = MendMesh(std::move(read.mesh), file, wish_.mm_per_unit, &off_mm);
      read.notes.insert(read.notes.begin(), notes.begin(), notes.end());
      error_mm_ = std::max(error_mm_, off_mm);
    }
    Take(read.problems);
    if (count > 0) Note(file + ": " + std::to_string(count) + " facets");
    for (const std::string& note : read.notes) Note(file + ": " + note);
    *mesh = std::move(read.mesh);
  }

  // Coordinates in files are floats: far from the origin nothing small is left of a form.
  void CheckDistance(const Mesh& mesh, const std::string& file) {
    double farthest_mm = 0.0;
    for (const Vec3& p : mesh.points) {
      farthest_mm = std::max(farthest_mm, p.cwiseAbs().maxCoeff());
    }
    const double step_mm = farthest_mm * std::numeric_limits<float>::epsilon();
    if (step_mm <= kCoarsestStep_mm) return;
    Complain(file, "",
             "lies " + LengthOf(farthest_mm, wish_) +
                 " from its origin, where its coordinates have steps of " +
                 Text(step_mm, step_mm < 1.0 ? 2 : 0) + " mm",
             "move it to the origin before it is exported");
  }

  // z = 0 at mid-width of the two together.
  void Centre(std::array<Mesh, 2>* meshes) {
    double low = 1e300, high = -1e300;
    for (const Mesh& mesh : *meshes) {
      for (const auto& facet : mesh.facets) {
        for (const std::uint32_t i : facet) {
          low = std::min(low, mesh.points[i].z());
          high = std::max(high, mesh.points[i].z());
        }
      }
    }
    for (Mesh& mesh : *meshes) {
      for (Vec3& p : mesh.points) p.z() -= (low + high) / 2.0;
    }
    // The width to a thousandth: what is rounded off is less than the ends are trusted anyway.
    half_mm_ = std::round((high - low) / 2.0 * 1e4) / 1e4;
  }

  std::vector<StationOutline> Stations(const MeshPair& meshes) {
    CutChoice choice = ChooseCuts(meshes, kBlendShare * wish_.error_mm, wish_.most_stations);
    choice.stretches.front().front().z_mm = -half_mm_;
    choice.stretches.back().back().z_mm = half_mm_;
    result_.steps = static_cast<int>(choice.stretches.size()) - 1;
    std::vector<StationOutline> stations;
    double worst = 0.0;
    for (const MeshStretch& stretch : choice.stretches) {
      const std::size_t from = stations.size();
      for (const Cut& cut : stretch) stations.push_back({cut.z_mm, {}, {}});
      for (std::size_t part = 0; part < 2; ++part) {
        auto rings = Unified(stretch, part, kThinShare * choice.blend_error_mm / kBlendShare);
        for (std::size_t i = 0; i + 1 < stretch.size(); ++i) {
          if (stretch[i].held || stretch[i + 1].held) continue;  // half of a step
          const double off = Deviation(RuledSlab(rings[i], rings[i + 1]), *meshes[part],
                                       stretch[i].z_mm, stretch[i + 1].z_mm, 1e300);
          worst = std::max(worst, off);
        }
        for (std::size_t i = 0; i < rings.size(); ++i) {
          StationOutline& station = stations[from + i];
          (part == 0 ? station.case_rings : station.lid_rings) = std::move(rings[i]);
        }
      }
    }
    error_mm_ += worst + kSectionError_mm + kRounding_mm + kSliceNudge_mm;
    if (choice.steps > 0) {
      Note(std::to_string(choice.steps) + " steps where the form changes within " +
           Text(choice.step_width_mm) + " mm of width");
    }
    return stations;
  }

  // Ends that one body lacks, the origin, rounding, the seam.
  void Complete(std::vector<StationOutline>* stations) {
    Extend(stations, &StationOutline::case_rings, wish_.case_file, "case");
    Extend(stations, &StationOutline::lid_rings, wish_.lid_file, "lid");
    if (Failed()) return;
    const Vec2 origin = OriginOf(*stations);
    for (StationOutline& s : *stations) {
      for (Ring& ring : s.case_rings) {
        for (Vec2& p : ring) p -= origin;
      }
      for (Ring& ring : s.lid_rings) {
        for (Vec2& p : ring) p += Vec2(0.0, wish_.lift_lid_mm) - origin;
      }
      s.z_mm = std::round(s.z_mm * 1e4) / 1e4 + 0.0;
      RoundStation(&s);
      CheckOutlines(s);
      if (Failed()) return;
    }
    CheckSeam(stations);
  }

  void Extend(std::vector<StationOutline>* stations, std::vector<Ring> StationOutline::*rings,
              const std::string& file, const std::string& what) {
    std::size_t first = 0, last = stations->size();
    while (first < last && ((*stations)[first].*rings).empty()) ++first;
    while (last > first && ((*stations)[last - 1].*rings).empty()) --last;
    for (std::size_t i = first; i < last; ++i) {
      if (!((*stations)[i].*rings).empty()) continue;
      return Complain(file, "z = " + LengthOf((*stations)[i].z_mm, wish_),
                      "the " + what + " is interrupted there, seen from the side",
                      "is a part of it missing?");
    }
    LW_REQUIRE(first < last, "no section of the " << what);
    const double short_mm =
        std::max(half_mm_ + (*stations)[first].z_mm, half_mm_ - (*stations)[last - 1].z_mm);
    for (std::size_t i = 0; i < first; ++i) (*stations)[i].*rings = (*stations)[first].*rings;
    for (std::size_t i = last; i < stations->size(); ++i) {
      (*stations)[i].*rings = (*stations)[last - 1].*rings;
    }
    if (short_mm > 0.01) {
      Note("the " + what + " ends " + LengthOf(short_mm, wish_) + " before the " +
           (what == "lid" ? "case" : "lid") + " does and is taken as going on to its end");
    }
  }

  void CheckOutlines(const StationOutline& s) {
    for (const bool lid : {false, true}) {
      const auto fault = FaultOfOutlines(lid ? s.lid_rings : s.case_rings);
      if (!fault) continue;
      Complain(lid ? wish_.lid_file : wish_.case_file, "z = " + LengthOf(s.z_mm, wish_),
               "the section there cannot be used: " + *fault,
               "bodies that overlap or touch must be joined into one before exporting");
    }
  }

  void CheckSeam(std::vector<StationOutline>* stations) {
    const MeshSeam seam = SeamOfStations(*stations);
    const auto place = [&](double z) { return "z = " + LengthOf(z, wish_); };
    if (seam.overlap_mm > kBlendError_mm) {
      return Complain(wish_.lid_file, place(seam.overlap_z_mm),
                      "lid and case overlap by " + LengthOf(seam.overlap_mm, wish_) +
                          " near x = " + LengthOf(seam.overlap_at.x(), wish_) +
                          ", y = " + LengthOf(seam.overlap_at.y(), wish_),
                      "give the lid shut and clear of the case, or raise it with --lift");
    }
    if (seam.gap_mm > kLargestSeam_mm) {
      return Complain(wish_.lid_file, place(seam.gap_z_mm),
                      "the lid floats: it comes no nearer to the case than " +
                          LengthOf(seam.gap_mm, wish_) + ", there",
                      "give the lid shut, or set it down with a negative --lift");
    }
    seam_mm_ = seam.gap_mm;
    const bool unclear = seam.overlap_mm > 1e-9 || (seam.gap_mm > 1e-9 && seam.gap_mm < kClear_mm);
    if (unclear) {
      const double raise = std::ceil((seam.overlap_mm + kClear_mm - seam.gap_mm) * 1e3) / 1e3;
      for (StationOutline& s : *stations) {
        for (Ring& ring : s.lid_rings) {
          for (Vec2& p : ring) p.y() = std::round((p.y() + raise) * 1e6) / 1e6;
        }
      }
      error_mm_ += raise;
      seam_mm_ = kClear_mm;
      Note("lid and case fit only to " + Text(std::max(seam.overlap_mm, seam.gap_mm), 4) +
           " mm: the lid is raised by " + Text(raise, 4) + " mm, which the error covers");
    } else if (seam.gap_mm > 1e-9) {
      Note("the lid lies " + LengthOf(seam.gap_mm, wish_) + " clear of the case");
    }
  }

  // A lid out of place, or another box's, lies on the end walls and meets nothing between them. A
  // case with a low front is met at its back only.
  void CheckReach(const std::vector<StationOutline>& stations, const CaseMeasures& form) {
    const LidReach reach = ReachOfLid(stations, form.width_mm / 2.0 - form.end_wall_mm);
    if (std::min(reach.back_mm, reach.front_mm) == 1e300) return;  // nothing lies between
    const bool back = reach.back_mm <= kLargestSeam_mm, front = reach.front_mm <= kLargestSeam_mm;
    const std::string nearest = "it comes no nearer than ";
    if (!back && !front) {
      return Complain(wish_.lid_file, "",
                      "the lid does not meet the case's walls between its ends: " + nearest +
                          LengthOf(reach.back_mm, wish_) + " to the back and " +
                          LengthOf(reach.front_mm, wish_) + " to the front",
                      "are both of one box, and in place?");
    }
    if (back && front) return;
    Note("the lid does not meet the case's " + std::string(back ? "front" : "back") + ": " +
         nearest + LengthOf(back ? reach.front_mm : reach.back_mm, wish_));
  }

  void FillJob(std::vector<StationOutline> stations) {
    MeshMeasures found = MeasuresOf(stations, wish_);
    Take(found.problems);
    for (const std::string& note : found.notes) Note(note);
    CheckReach(stations, found.case_form);
    if (Failed()) return;
    found.lid.seam_gap_mm = std::floor(seam_mm_ * 1e3) / 1e3;
    for (double* mm :
         {&found.case_form.depth_mm, &found.case_form.height_mm, &found.case_form.back_wall_mm,
          &found.case_form.front_wall_mm, &found.case_form.floor_mm, &found.case_form.back_bow_mm,
          &found.case_form.front_bow_mm, &found.case_form.rim_arch_mm, &found.lid.top_mm}) {
      *mm = std::round(*mm * 1e3) / 1e3;
    }
    result_.stations = stations.size();
    result_.error_mm = std::ceil(error_mm_ * 1e3) / 1e3;
    Job job;
    job.name = wish_.name;
    job.inches = wish_.inches;
    job.case_form = found.case_form;
    job.lid = found.lid;
    job.stations = std::move(stations);
    job.stations_error_mm = result_.error_mm;
    JobReading reading = CompleteJob(job, kFound, wish_.case_file);
    for (Problem& problem : reading.problems) problem.place += " as measured";
    Take(reading.problems);
    if (Failed()) return;
    Note(std::to_string(result_.stations) + " stations, " + std::to_string(result_.steps) +
         " jumps; the form lies within " + Text(result_.error_mm) + " mm of them");
    if (result_.error_mm > 2.0 * wish_.error_mm) {
      Note("that is more than the " + Text(wish_.error_mm) + " mm aimed at");
    }
    result_.job = std::move(reading.job);
  }

  const MeshWish& wish_;
  MeshJob result_;
  double half_mm_ = 0.0, error_mm_ = 0.0, seam_mm_ = 0.0;
};

}  // namespace

MeshJob JobFromMeshes(const std::string& case_bytes, const std::string& lid_bytes,
                      const MeshWish& wish) {
  return Maker(wish).Make(case_bytes, lid_bytes);
}

}  // namespace lidwright
