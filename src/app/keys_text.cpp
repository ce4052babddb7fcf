// SPDX-License-Identifier: Apache-2.0
#include "keys_text.h"

#include "lidwright/job/read_job.h"
#include "lidwright/report/answer_text.h"

namespace lidwright {

std::string KeysText() {
  std::string text;
  for (const auto& [key, unit, range, preset, meaning] : JobKeyRows()) {
    std::string line = key;
    if (unit == "object" || unit == "list") {
      text += "\n";
      line += unit == "list" ? "  a list of objects" : "";
    } else {
      line += "  " + (unit == "1" ? "number" : unit);
      if (!range.empty()) line += ", " + range;
    }
    if (preset.rfind("required", 0) == 0) {
      line += "; " + preset;
    } else if (!preset.empty()) {
      line += "; default: " + preset;
    }
    text += Folded(line, 4) + Folded("    " + meaning, 4);
  }
  return text +
         "\nLengths are in the job's unit, or texts with their own: \"12 mm\", \"5-3/16 in\".\n";
}

}  // namespace lidwright
