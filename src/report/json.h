// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "lidwright/geometry/vec.h"
#include "lidwright/job/json_lines.h"

namespace lidwright {

/// What is not known, or has no limit, is null.
inline Json Number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

inline Json Point(const Vec2& p) {
  return Json::array({Number(p.x()), Number(p.y())});
}

}  // namespace lidwright
