// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

namespace lidwright {

/// The bytes that a text of base64 stands for (RFC 4648, section 4, with its padding); nothing if
/// it is none.
std::optional<std::string> FromBase64(const std::string& text);

}  // namespace lidwright
