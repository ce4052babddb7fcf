// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

/// The verdict on a plain hinge as a sentence without capital and full stop.
std::string PlainSentence(const PlainHinge& plain, bool inches);

/// Does one do whose pin stands no farther behind the wood than a butt hinge's?
bool PlainDoes(const PlainHinge& plain);

/// What comes before all else where a plain hinge does and a hidden one was found: that; and where
/// its pin goes, how it is let in, what the hidden one costs beyond it.
struct PlainAdvice {
  std::string head, rest;
  std::string Text() const { return head + " " + rest; }
};
std::optional<PlainAdvice> PlainFirst(const Design& design);

}  // namespace lidwright
