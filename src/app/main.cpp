// SPDX-License-Identifier: Apache-2.0
#include <unistd.h>

#include <iostream>

#include "lidwright/app/command_line.h"

int main(int argc, char** argv) {
  const std::vector<std::string> arguments(argv + 1, argv + argc);
  const bool terminal = isatty(STDERR_FILENO) != 0;
  std::istream* asked = isatty(STDIN_FILENO) != 0 ? &std::cin : nullptr;
  return static_cast<int>(
      lidwright::RunCommandLine(arguments, std::cout, std::cerr, terminal, asked));
}
