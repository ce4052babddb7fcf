// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "commands.h"
#include "made_job.h"

namespace lidwright {

/// What `lidwright slice` was told about a pair of meshes, as written.
struct SliceCommandOptions {
  std::string case_file, lid_file, up = "z", hinge_side, unit = "mm", lift, error, name;
  std::string units = "mm", out;
  bool replace = false;
};

/// Is this the name of a mesh that can be sliced?
bool IsMeshFile(const std::string& file);

/// The text of the job that the two meshes make; as TracedJob.
std::optional<std::string> SlicedJob(const SliceCommandOptions& options, const FileReader& read,
                                     const Streams& streams);

/// Slices the two meshes into a job file. Fails with FileError on options that make no sense and
/// on files; the meshes' own faults are printed.
ExitCode SliceCommand(const SliceCommandOptions& options, const Streams& streams);

}  // namespace lidwright
