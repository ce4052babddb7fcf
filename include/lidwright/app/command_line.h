// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

namespace lidwright {

inline constexpr const char* kVersion = "0.1.0";

/// What the program tells its caller.
enum class ExitCode {
  kGood = 0,
  kNoHinge = 1,   ///< none was found, or the given one does not do
  kBadJob = 2,    ///< the job or hinge file is wrong
  kUsage = 3,     ///< wrong command line, or a file or folder that cannot be used
  kInternal = 4,  ///< a defect of lidwright
};

/// Runs the program as from a shell. `terminal` says whether `messages` is one, for the progress
/// line; `asked` is where somebody answers questions, nullptr if nobody does. Never throws.
ExitCode RunCommandLine(const std::vector<std::string>& arguments, std::ostream& out,
                        std::ostream& messages, bool terminal, std::istream* asked = nullptr);

}  // namespace lidwright
