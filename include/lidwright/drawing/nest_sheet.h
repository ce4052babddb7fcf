// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/cutting/cut_set.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// Each nested sheet to scale for the wall of the shop: parts with numbers (those of the parts list
/// with L or R for the end, if it is given) and a table of their
/// names, drill marks as crosses, the grain as an arrow in each part that has one, sheet and used
/// box with dimensions. Nothing of it is meant to be cut: grain and names stand here and not in cut
/// files. Seen as in the cut files. No two texts overlap. Same set, same bytes.
std::vector<Canvas> NestSheets(const Job& job, const CutSet& set, const PartsList* list = nullptr);

}  // namespace lidwright
