// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <iosfwd>
#include <map>
#include <string>
#include <vector>

#include "commands.h"

namespace lidwright {

/// One thing that a new job needs to know.
struct BeginQuestion {
  std::string option;    ///< "--width"
  std::string path;      ///< of the job's key
  std::string fallback;  ///< the answer of somebody who only presses Enter; "" if there is none
  /// Shown for a key that may be left out: what comes of it then; "" where it is needed.
  std::string left_out = "";
};
const std::vector<BeginQuestion>& BeginQuestions();

struct BeginCommandOptions {
  std::string out = "box.json";
  std::map<std::string, std::string> answers;  ///< by the key's path, as on the command line
  bool replace = false;
};

/// Writes a documented job file from the answers given; what is lacking is asked for from `asked`,
/// or refused if there is nobody to ask. What it writes is accepted by `fit` and `box`.
ExitCode BeginCommand(const BeginCommandOptions& wish, const Streams& streams, std::istream* asked);

}  // namespace lidwright
