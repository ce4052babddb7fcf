// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

namespace lidwright {

/// Keeps the order in which keys are set.
using Json = nlohmann::ordered_json;

/// One key or one list item a line, but lists of plain values (points, spans, texts) and lists of
/// such lists that are short on one: what a person compares stands together. Ends with a new line.
std::string JsonLines(const Json& json);

}  // namespace lidwright
