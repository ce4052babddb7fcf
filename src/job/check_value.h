// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "job/findings.h"
#include "job/keys.h"

namespace lidwright {

/// "must be from 30 to 3000 mm", in the job's unit.
std::string RangeRule(const Key& key, const Findings& findings);

/// Whether a word is one of the key's choices; complains if it is not.
bool CheckWord(const Key& key, const std::string& word, const std::string& place,
               Findings* findings);

/// Complains about what stands in the key's slot and could not stand in a file, and empties the
/// slot: numbers out of range, words that are no choice, rectangles that are empty, outlines that
/// cross. Empty slots pass. Rings come out turned as ReadJob turns them.
void CheckValue(const Key& key, const std::string& place, Findings* findings);

}  // namespace lidwright
