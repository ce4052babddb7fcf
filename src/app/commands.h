// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <iosfwd>
#include <string>

#include "lidwright/app/command_line.h"

namespace lidwright {

struct CommandOptions {
  std::string job_file, hinge_file, out, choose;
  bool replace = false;
  int threads = 0;
  int frames = 96;
};

/// Where results and messages go.
struct Streams {
  std::ostream& out;
  std::ostream& messages;
  bool terminal;
};

ExitCode FitCommand(const CommandOptions& options, const Streams& streams);
ExitCode CheckCommand(const CommandOptions& options, const Streams& streams);
ExitCode BoxCommand(const CommandOptions& options, const Streams& streams);
ExitCode KeysCommand(const Streams& streams);

}  // namespace lidwright
