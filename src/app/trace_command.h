// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "commands.h"

namespace lidwright {

/// As on the command line; lengths are texts with or without a unit.
struct TraceCommandOptions {
  std::vector<std::string> drawings, at;
  std::string width, end_wall, unit, true_depth, true_height, rim, close, case_name, lid_name, name;
  std::string back = "left", units = "mm", out;
  bool replace = false;
};

/// Traces sections drawn in SVG or DXF into a job file with stations.
ExitCode TraceCommand(const TraceCommandOptions& wish, const Streams& streams);

}  // namespace lidwright
