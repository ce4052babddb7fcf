// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <stdexcept>
#include <string>

namespace lidwright::testing {

struct Run {
  int code = -1;  ///< negative if it did not end by itself
  std::string text;
};

/// Runs a command line of sh and keeps what it prints to its standard output.
inline Run RunShell(const std::string& command) {
  FILE* pipe = popen(command.c_str(), "r");
  if (pipe == nullptr) throw std::runtime_error("cannot run " + command);
  Run run;
  std::array<char, 4096> buffer{};
  for (std::size_t n; (n = fread(buffer.data(), 1, buffer.size(), pipe)) > 0;) {
    run.text.append(buffer.data(), n);
  }
  const int status = pclose(pipe);
  run.code = WIFEXITED(status) ? WEXITSTATUS(status) : -status;
  return run;
}

}  // namespace lidwright::testing
