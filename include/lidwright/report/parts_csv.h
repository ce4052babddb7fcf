// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

/// The parts of a hinge for both ends of the box, one a line: part, count, size, remark. Commas
/// separate, texts with commas are quoted (RFC 4180).
std::string PartsCsv(const Hinge& hinge, const Job& job);

}  // namespace lidwright
