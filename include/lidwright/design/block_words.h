// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/solid/solid.h"

namespace lidwright {

/// What the plates of a leaning or cupped end stand on, as a sentence: "Glue a mounting block to
/// each end: …". `degrees` is how an angle ends: "°" or " deg". Empty where ends are upright.
std::string MountingBlockText(const MountingBlock& block, bool inches, const std::string& degrees);

}  // namespace lidwright
