// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/job/job.h"

namespace lidwright {

// Job files for people to go on with. JSON has no comments, so a job file's keys that begin with #
// are remarks: the reader passes them over whatever their value is.

/// One key to be written: its path as in JobReference(), and its value as it shall stand in the
/// file ("340", "\"5-3/16\"", a whole list).
struct JobEntry {
  std::string path;
  std::string value;
};

/// The entries that say `paths` of a job, and its unit. What is unset or empty gets none. Requires
/// known paths outside of lists; a list is said whole.
std::vector<JobEntry> EntriesOf(const Job& job, const std::vector<std::string>& paths);

enum class KeyRemarks {
  kGivenKeys,  ///< what each key written means
  kAllKeys,    ///< the keys that are not written as well, each with its default
};

/// The text of a job file with these entries, in the order of JobReference(), a remark before each
/// key and `about` before all. Requires known paths; what comes out is only as right as its values:
/// ReadJob tells.
std::string DocumentedJob(const std::vector<JobEntry>& entries, KeyRemarks remarks,
                          const std::vector<std::string>& about);

/// The text in quotes, as JSON wants it. Bytes that are no UTF-8 become "?".
std::string JsonText(const std::string& text);

}  // namespace lidwright
