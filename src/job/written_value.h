// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "job/job_keys.h"
#include "lidwright/job/json_lines.h"

namespace lidwright {

/// The job and all that a file of it says besides. Bind a table to it only where it stays.
JobDraft DraftOf(const Job& job);

/// What stands in a file for the key's slot: of a list all its objects, read out of the draft that
/// the table is bound to; null if nothing is to be said.
Json WrittenValue(const Key& key, const std::vector<Key>& table, bool inches);

/// A value on one line, as people write it: 340, not 340.0. Bytes that are no UTF-8 become "?".
std::string PlainText(const Json& value);

/// Whether a file of the draft says the key at all.
bool IsSaid(const Key& key, const JobDraft& draft);

}  // namespace lidwright
