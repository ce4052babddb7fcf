// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/certify/verdict.h"

namespace lidwright {

// Members and requirements by name, the same in drawings and report. Nothing compares these texts.

/// "arm A", "lid pin of arm B", "case plate" …; empty for none.
std::string NameOf(Member member);

/// "case pivot of arm A" for its pin …
std::string PivotNameOf(Member pin);

/// "lid to case", "arm A to lid", "pose at 30 deg" …
std::string NameOf(const Verdict& verdict);
std::string NameOf(Requirement what, Member of);

}  // namespace lidwright
