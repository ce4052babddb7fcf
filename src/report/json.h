// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "lidwright/geometry/vec.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// Keeps the order in which keys are set.
using Json = nlohmann::ordered_json;

/// What is not known, or has no limit, is null.
inline Json Number(double value) {
  return std::isfinite(value) ? Json(value) : Json(nullptr);
}

inline Json Point(const Vec2& p) {
  return Json::array({Number(p.x()), Number(p.y())});
}

/// One key or one list item a line, but lists of plain values (points, spans, texts) and lists of
/// such lists that are short on one: what a person compares stands together. Ends with a new line.
std::string Lines(const Json& json);

/// The job as WriteJobJson writes it.
Json JobJson(const Job& job);

}  // namespace lidwright
