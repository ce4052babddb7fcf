// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/names.h"

namespace lidwright {

/// "lid end wall / case end wall", or empty.
std::string PartsOf(const Verdict& verdict);

/// Why it is not clear, where the numbers do not say it; else empty.
std::string RemarkOf(const Verdict& verdict, bool inches);

/// "mm", "deg", "share", "mm/rad"; "clear", "violated", "undecided".
std::string WordOf(Unit unit);
std::string WordOf(Outcome outcome);

}  // namespace lidwright
