// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "trace/join_paths.h"

namespace lidwright {

struct SortedLoops {
  std::vector<DrawnLoop> case_loops;
  std::vector<DrawnLoop> lid_loops;
  Notes notes;
  Problems problems;
};

/// Joins the paths into outlines and tells case from lid, by names or else by place; see
/// TraceSvg.
SortedLoops SortLoops(std::vector<FlatPath> paths, const TraceOptions& options);

}  // namespace lidwright
