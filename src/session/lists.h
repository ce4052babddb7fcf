// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <map>
#include <string>
#include <vector>

#include "lidwright/job/job.h"
#include "lidwright/job/json_lines.h"
#include "lidwright/job/key_rows.h"
#include "lidwright/solid/solid.h"

// The job's lists that a hand fills on the page: what is kept in the box, poses of the lid.
namespace lidwright {

/// [name in the job, most entries] of these lists.
struct HandList {
  const char* name;
  std::size_t most;
};
const std::array<HandList, 2>& HandLists();
/// Null if it is none of them.
const HandList* FindHandList(const std::string& name);

/// One value of an entry as it is typed: a key of the table, or a coordinate of a point, which goes
/// by "at_x" and "at_y".
struct EntryValue {
  std::string name;
  KeyRow row;
  int coordinate = -1;  ///< 0 or 1 of a point
};
/// All that can be typed of an entry, in the table's order; outlines cannot.
std::vector<EntryValue> EntryValues(const HandList& list);

/// The entries of a job's tree as typed, by the names of EntryValues: "" for what is left out.
Json EntriesTyped(const Json& form, const HandList& list);

/// The tree with these values of entry `number` as typed, "" leaving one out; with one more entry
/// where `number` is their count. A point lacks no coordinate: what was not typed is 0.
/// Requires: number at most the count of entries.
Json WithEntry(const Json& form, const HandList& list, std::size_t number,
               const std::map<std::string, std::string>& typed);
/// Without this entry; without the list once nothing is in it.
Json WithoutEntry(const Json& form, const HandList& list, std::size_t number);
std::size_t CountOf(const Json& form, const HandList& list);

/// A point of the lid that a tape finds, lid shut, to say by it where the lid is.
struct LidMark {
  const char* name;  ///< "rear"
  const char* says;  ///< "lower rear edge"
  Vec2 at = Vec2::Zero();
};
/// At the lid's ends; the top where it is highest. Empty for a solid without a lid.
std::vector<LidMark> LidMarks(const Solid& solid);

}  // namespace lidwright
