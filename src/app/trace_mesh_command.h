// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "commands.h"

namespace lidwright {

/// What `lidwright trace` was told about a pair of meshes, as written.
struct TraceMeshOptions {
  std::string case_file, lid_file, up = "z", hinge_side, unit = "mm", lift, error, name;
  std::string units = "mm", out;
  bool replace = false;
};

/// Is this the name of a mesh that can be sliced?
bool IsMeshFile(const std::string& file);

/// Slices the two meshes into a job file. Fails with FileError on options that make no sense and
/// on files; the meshes' own faults are printed.
ExitCode TraceMeshCommand(const TraceMeshOptions& options, const Streams& streams);

}  // namespace lidwright
