// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// A table to print: heads, and rows of as many texts. Widths in shares of the sheet's.
struct PrintedList {
  std::string title;
  std::vector<std::string> heads;
  std::vector<double> shares;  ///< of the width, one a column
  std::vector<bool> right;     ///< columns that stand against their right edge
  std::vector<std::vector<std::string>> rows;
};

/// Parts list, cutting list and the like on sheets across, one list after the other. Texts too long
/// for their column go on in the next line.
std::vector<Canvas> ListSheets(const Job& job, const std::string& shows,
                               const std::vector<PrintedList>& lists);

/// The parts list, the lengths of rod and tube to saw and the sheets to have, on paper.
std::vector<Canvas> PartsSheets(const Job& job, const PartsList& list);

}  // namespace lidwright
