// SPDX-License-Identifier: Apache-2.0
#include <fcntl.h>
#include <unistd.h>

#include <iostream>

#include "lidwright/app/command_line.h"

namespace {

// A stream that was closed before we began: the next file opened would take its place and get what
// is printed. What stands there instead can be neither written nor, the input, asked.
void FillClosedStreams() {
  while (true) {
    const int fd = open("/dev/null", O_RDONLY);
    if (fd <= STDERR_FILENO && fd >= 0) continue;
    if (fd > STDERR_FILENO) close(fd);
    return;
  }
}

}  // namespace

int main(int argc, char** argv) {
  FillClosedStreams();
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  const bool terminal = isatty(STDERR_FILENO) != 0;
  std::istream* asked = isatty(STDIN_FILENO) != 0 ? &std::cin : nullptr;
  return static_cast<int>(
      lidwright::RunCommandLine(arguments, std::cout, std::cerr, terminal, asked));
}
