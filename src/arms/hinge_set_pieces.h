// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/hinge_set.h"

namespace lidwright {

/// The pin that joins an arm to case or lid.
Member PinOf(Body body, bool arm_b);

/// The pieces of each member of a hinge, from a set whose hardware and stack are chosen.
void AddArms(const Arm& arm_a, const Arm& arm_b, const Job& job, HingeSet& set);
void AddPins(const Job& job, HingeSet& set);
std::vector<HingePiece> LidPlatePieces(const Plate& plate, const Job& job, const HingeSet& set);
std::vector<HingePiece> CasePlatePieces(const Plate& plate, const Job& job, const HingeSet& set);
std::vector<HingePiece> StayPieces(const Stay& stay, const Job& job, const HingeSet& set);
HingePiece StopPiece(const Stop& stop, const Job& job, const HingeSet& set);

/// Work in the wood, the buying list, and what was picked and why, from the finished set.
void AddSentences(const Job& job, HingeSet& set);

}  // namespace lidwright
