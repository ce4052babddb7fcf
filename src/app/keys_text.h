// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace lidwright {

/// The job's keys for a terminal, 80 columns wide: each key with unit, range and default, below it
/// what it means. Made from the rows of JobReference().
std::string KeysText();

}  // namespace lidwright
