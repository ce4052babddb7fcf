// SPDX-License-Identifier: Apache-2.0
#include "keys_text.h"

#include "lidwright/job/key_rows.h"
#include "lidwright/report/answer_text.h"

namespace lidwright {

std::string KeysText() {
  std::string text;
  for (const KeyRow& row : JobKeyRows()) {
    std::string line = row.key;
    if (row.kind == KeyKind::kSection || row.kind == KeyKind::kList) {
      text += "\n";
      line += row.kind == KeyKind::kList ? "  a list of objects" : "";
    } else {
      line += "  " + (row.unit == "1" ? "number" : row.unit);
      if (!row.range.empty()) line += ", " + row.range;
    }
    if (row.fallback.rfind("required", 0) == 0) {
      line += "; " + row.fallback;
    } else if (!row.fallback.empty()) {
      line += "; default: " + row.fallback;
    }
    text += Folded(line, 4) + Folded("    " + row.meaning, 4);
  }
  return text +
         "\nLengths are in the job's unit, or texts with their own: \"12 mm\", \"5-3/16 in\".\n";
}

}  // namespace lidwright
