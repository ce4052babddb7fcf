// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "trace/drawing.h"
#include "trace/dxf_groups.h"

namespace lidwright {

/// One entity's curves in its own coordinates; empty after a problem. `records` from `*at` on;
/// `*at` is moved past what belongs to the entity (a POLYLINE's vertices). Nothing if the kind is
/// none that is read, or not one that lies in a plane.
std::optional<DrawnPath> ReadDxfCurve(const std::vector<DxfRecord>& records, std::size_t* at,
                                      const std::string& file_name, Problems* problems);

}  // namespace lidwright
