// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/job/json_lines.h"

namespace lidwright {

/// The mock-up's page: the form, the report's swing with its views, what was found. `shown` is what
/// the session shows; the page fetches nothing but answers from where it came.
std::string MockupPage(const Json& shown, const std::string& nonce);

}  // namespace lidwright
