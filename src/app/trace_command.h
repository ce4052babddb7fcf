// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "commands.h"
#include "made_job.h"

namespace lidwright {

/// As on the command line; lengths are texts with or without a unit.
struct TraceCommandOptions {
  std::vector<std::string> drawings, at;
  std::string width, end_wall, unit, true_depth, true_height, rim, close, case_name, lid_name, name;
  std::string back = "left", units = "mm", out;
  bool replace = false;
};

/// The text of the job that these sections make, for a file of this name; nothing where they make
/// none. Notes go to streams.out, problems to streams.messages. Fails with FileError on options
/// that make no sense.
std::optional<std::string> TracedJob(const TraceCommandOptions& wish, const std::string& file,
                                     const FileReader& read, const Streams& streams);

/// Traces sections drawn in SVG or DXF into a job file with stations.
ExitCode TraceCommand(const TraceCommandOptions& wish, const Streams& streams);

}  // namespace lidwright
