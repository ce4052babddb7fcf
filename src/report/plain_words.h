// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/synthesis/plain_hinge.h"

namespace lidwright {

/// The verdict on a plain hinge as a sentence without capital and full stop.
std::string PlainSentence(const PlainHinge& plain, bool inches);

/// Does one do whose pin stands no farther behind the wood than a butt hinge's?
bool PlainDoes(const PlainHinge& plain);

}  // namespace lidwright
