// SPDX-License-Identifier: Apache-2.0
#include "keys_text.h"

#include <sstream>
#include <vector>

#include "lidwright/job/read_job.h"
#include "lidwright/report/answer_text.h"

namespace lidwright {
namespace {

std::vector<std::string> CellsOf(const std::string& row) {
  std::vector<std::string> cells;
  std::size_t at = row.find('|');
  while (at != std::string::npos) {
    const std::size_t next = row.find('|', at + 1);
    if (next == std::string::npos) break;
    std::string cell = row.substr(at + 1, next - at - 1);
    const std::size_t first = cell.find_first_not_of(' '), last = cell.find_last_not_of(' ');
    cells.push_back(first == std::string::npos ? "" : cell.substr(first, last - first + 1));
    at = next;
  }
  return cells;
}

}  // namespace

std::string KeysText() {
  std::istringstream rows(JobReference());
  std::string text;
  for (std::string row; std::getline(rows, row);) {
    const std::vector<std::string> cells = CellsOf(row);
    if (cells.size() != 5 || cells[0].size() < 2 || cells[0][0] != '`') continue;
    const std::string key = cells[0].substr(1, cells[0].size() - 2);
    const std::string &unit = cells[1], &range = cells[2], &preset = cells[3];
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
    text += Folded(line, 4) + Folded("    " + cells[4], 4);
  }
  return text +
         "\nLengths are in the job's unit, or texts with their own: \"12 mm\", \"5-3/16 in\".\n";
}

}  // namespace lidwright
