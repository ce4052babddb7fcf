// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace lidwright {

/// `text` as valid UTF-8 on one line that XML can hold: broken sequences, controls and
/// noncharacters become U+FFFD, blanks of any kind one space, none at the ends.
std::string CleanText(const std::string& text);

/// With &, <, > and " escaped.
std::string XmlText(const std::string& text);

}  // namespace lidwright
