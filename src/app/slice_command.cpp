// SPDX-License-Identifier: Apache-2.0
#include "slice_command.h"

#include <filesystem>
#include <ostream>

#include "lidwright/app/output_folder.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/job/length.h"
#include "lidwright/job/write_job.h"
#include "lidwright/trace/mesh_job.h"
#include "progress.h"

namespace lidwright {
namespace {

MeshAxis AxisOf(const std::string& option, const std::string& text) {
  const std::optional<MeshAxis> axis = ReadMeshAxis(text);
  if (axis) return *axis;
  throw FileError(option + " " + text + ": must be x, -x, y, -y, z or -z");
}

double UnitOf(const std::string& unit) {
  for (const auto& [name, mm] : kMeshUnits) {
    if (unit == name) return mm;
  }
  throw FileError("--unit " + unit + ": must be mm, cm, in, ft, m or thou");
}

double LengthFrom(const std::string& option, const std::string& text, bool inches) {
  const std::optional<double> mm = ReadLength_mm(text, inches ? kMmPerInch : 1.0);
  if (mm) return *mm;
  throw FileError(option + " " + text + ": must be a length such as 0.5, \"2 mm\" or \"1/16 in\"");
}

MeshWish WishOf(const SliceCommandOptions& options) {
  MeshWish wish;
  wish.case_file = options.case_file;
  wish.lid_file = options.lid_file;
  wish.up = AxisOf("--up", options.up);
  wish.hinge_side = AxisOf("--hinge-side", options.hinge_side);
  if (static_cast<int>(wish.up) / 2 == static_cast<int>(wish.hinge_side) / 2) {
    throw FileError("--up " + options.up + " and --hinge-side " + options.hinge_side +
                    ": the back cannot look up or down");
  }
  wish.mm_per_unit = UnitOf(options.unit);
  wish.inches = options.units == "in";
  if (!options.lift.empty()) {
    wish.lift_lid_mm = LengthFrom("--lift", options.lift, wish.inches);
  }
  if (!options.error.empty()) wish.error_mm = LengthFrom("--error", options.error, wish.inches);
  if (!(wish.error_mm >= 0.02 && wish.error_mm <= 2.0)) {
    throw FileError("--error " + options.error + ": must be from 0.02 to 2 mm");
  }
  wish.name = options.name.empty() ? std::filesystem::path(options.case_file).stem().string()
                                   : options.name;
  return wish;
}

}  // namespace

bool IsMeshFile(const std::string& file) {
  return EndingOf(file) == ".stl";
}

std::optional<std::string> SlicedJob(const SliceCommandOptions& options, const FileReader& read,
                                     const Streams& streams) {
  MeshWish wish = WishOf(options);
  Progress progress(streams.messages, streams.terminal);
  wish.progress = [&](const std::string& what, double share) { progress.Show(what, share); };
  progress.Show("reading meshes", 0.0);
  const std::string case_bytes = read(options.case_file, kLargestMesh_bytes);
  const MeshJob made = JobFromMeshes(case_bytes, read(options.lid_file, kLargestMesh_bytes), wish);
  progress.Clear();
  for (const std::string& note : made.notes) streams.out << note << "\n";
  if (!made.job) {
    PrintProblems(made.problems, streams.messages);
    return std::nullopt;
  }
  return WriteOpenJob(*made.job);
}

ExitCode SliceCommand(const SliceCommandOptions& options, const Streams& streams) {
  const std::string file = JobFileFor(options.out, options.case_file);
  const IfThere if_there = options.replace ? IfThere::kReplace : IfThere::kRefuse;
  const auto read = [&](const std::string& name, std::size_t limit_bytes) {
    CheckFile(file, if_there, MadeJob());
    return ReadFile(name, limit_bytes);
  };
  const std::optional<std::string> text = SlicedJob(options, read, streams);
  if (!text) return ExitCode::kBadJob;
  return WriteMadeJob(*text, file, if_there, streams);
}

}  // namespace lidwright
