// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "commands.h"

namespace lidwright {

struct MockupCommandOptions {
  std::string job_file, out;
  int port = 0;
  bool no_browser = false;
};

/// Serves the mock-up until Ctrl-C, or until its page asks for the end. kGood when it ends so.
ExitCode MockupCommand(const MockupCommandOptions& options, const Streams& streams);

}  // namespace lidwright
