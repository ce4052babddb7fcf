// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/design/design.h"

namespace lidwright {

/// One of the hinges that choices are made among.
struct Choice {
  std::size_t place;  ///< among them
  std::string name;   ///< what it is best at
};

/// What is offered of complete hinges, the best first: that, and up to four that are each better
/// than all offered before in one thing that a maker feels, and named by it. None is offered whose
/// merit is far from the first's, that hardly differs from another, or that has no parts yet.
std::vector<Choice> ChoicesAmong(const std::vector<const Hinge*>& hinges);

/// Shares of the merit by which choices are told apart, as far as pivots settle them.
std::vector<double (*)(const Merit&)> Aspects();

/// [merit] What is best at something may be so much worse in all.
inline constexpr double kFarOff = 6.0;

/// After parts of hinges that were chosen have changed: one that does all that is required leads,
/// and is the all-round one, before one that does not; the others stay as long as they do as much
/// and are better than it in what they are named by.
void KeepChoices(std::vector<Hinge>& hinges);

/// Puts the hinge of a name first, to be drawn and cut; the others keep their order. `wanted` is
/// its name, capitals and dashes for blanks allowed, or its place from 1. False if there is none.
bool Choose(Design& design, const std::string& wanted);

}  // namespace lidwright
