// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// A direction in the meshes' own axes: "x", "-x", "y" …
enum class MeshAxis { kX, kMinusX, kY, kMinusY, kZ, kMinusZ };

/// The axis of that name, in either case and with or without a "+"; nothing if it is none.
std::optional<MeshAxis> ReadMeshAxis(const std::string& text);

/// Units that meshes come in, with their size in mm; thou is a thousandth of an inch.
inline constexpr std::pair<const char*, double> kMeshUnits[] = {
    {"mm", 1.0},        {"cm", 10.0},
    {"in", kMmPerInch}, {"ft", 12.0 * kMmPerInch},
    {"m", 1000.0},      {"thou", kMmPerInch / 1000.0}};

struct MeshWish {
  std::string case_file, lid_file;  ///< only named in problems
  std::string name;                 ///< of the job
  MeshAxis up = MeshAxis::kZ;
  MeshAxis hinge_side = MeshAxis::kY;  ///< the way the back of the box looks; square to `up`
  double mm_per_unit = 1.0;            ///< of the meshes' numbers
  bool inches = false;                 ///< the job's unit
  double lift_lid_mm = 0.0;            ///< the lid is taken this much higher than it lies
  double error_mm = kBlendError_mm;    ///< aimed at for the stations
  std::size_t most_stations = 300;
  std::function<void(const std::string& what, double share)> progress{};  ///< may be empty
};

struct MeshJob {
  std::optional<Job> job;          ///< only when there are no problems
  std::vector<std::string> notes;  ///< what was mended, found and taken as meant, as sentences
  Problems problems;
  double error_mm = kUnset;  ///< also in the job: how far the stations and the straight blends
                             ///< between them may lie from the meshes, as measured
  std::size_t stations = 0;
  int steps = 0;  ///< stations given twice because the form jumps there
};

/// Slices a case and a lid, given as the bytes of STL files with the lid shut, into a job with
/// stations and with the measures that a job needs beside them, all others at their defaults.
///
/// The meshes are mended (MendMesh), turned and scaled into the frame of job.h and cut at the
/// widths that their shape needs: at every flat face across the width on both its sides, at the
/// ends, and between so often that straight blends keep within `error_mm`. Outlines are simplified
/// and have the same vertices from one jump to the next.
///
/// Accuracy: job->stations_error_mm covers what simplifying, blending, filled holes and a lid
/// raised to lie clear of the case may add up to. It is measured on the stations as they come out:
/// at every point of the meshes and, the other way, at the quarter points between stations. Where
/// the form jumps otherwise than by a flat face, the jump is placed within some hundredths of a
/// millimetre across the width.
/// An end of lid or case that falls short of the other's is taken as going on to it, which is on
/// the safe side, and said.
///
/// Measures: depth and height at the ends; walls as thick as they are at their thickest in the
/// upper half of the inside; end walls from the innermost place on, of an end bowed in plan from
/// where the inside has all but 2 % of its depth; the floor from its highest place in the middle.
/// "At the ends" is where back and front meet them, seen in plan: where ends are bowed, the corners
/// at which the bows begin; where corners are rounded, where these have turned by 45 degrees; then
/// within 0.2 mm.
///
/// Fails, each as a Problem: what ReadStl and MendMesh refuse; a depth outside kShallowestBox_mm …
/// kDeepestBox_mm (with the units that would make sense); a lid that lies beside, below or inside
/// the case, floats by more than kLargestSeam_mm, overlaps the case by more than kBlendError_mm or
/// ends far from the case's ends, or meets neither back nor front of the case between the end walls
/// (one of the two missed is noted: a case may have a low front); a case without room inside;
/// outlines that cross; and what a job file may not hold. Requires up and hinge_side square to each
/// other, mm_per_unit > 0.
MeshJob JobFromMeshes(const std::string& case_bytes, const std::string& lid_bytes,
                      const MeshWish& wish);

}  // namespace lidwright
