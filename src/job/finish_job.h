// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "job/findings.h"
#include "job/job_keys.h"

namespace lidwright {

/// Where the objects of a job's lists come from.
struct ListItems {
  /// How many objects the list of that name has; nothing if there is no such list.
  std::function<std::optional<std::size_t>(const std::string& list)> count;
  /// Reads the object of that index, at `place`, into its keys' slots; false if it is none.
  std::function<bool(const std::string& list, std::size_t i, const std::string& place)> read;
  /// Whether that object has a list of outlines at that key and nothing in it.
  std::function<bool(const std::string& list, std::size_t i, const std::string& key)> empty;
};

/// Completes a job whose keys outside of lists stand in their slots: reads the lists, fills every
/// default and complains about what does not go together.
void FinishJob(const std::vector<Key>& table, const ListItems& items, JobDraft* draft,
               Findings* findings);

}  // namespace lidwright
