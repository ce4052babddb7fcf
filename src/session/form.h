// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/job/job.h"
#include "lidwright/job/json_lines.h"
#include "lidwright/job/key_rows.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// The box to begin with where nobody brought one.
Json PlainBox();

/// Keys of single values in the order in which a tape measure meets them, and then the others.
struct FormPart {
  std::string heading;
  std::vector<std::string> keys;
  bool first = true;  ///< shown at once, not only when asked for
};
const std::vector<FormPart>& FormParts();

/// Is it a key of a single value, one that stands in no list?
bool IsField(const KeyRow& row);

/// What a tree comes to as a job.
struct FormReading {
  std::optional<Job> job;                ///< can be read
  Problems problems{};                   ///< what is wrong with it, or stands in a hinge's way
  std::shared_ptr<const Solid> solid{};  ///< with the job
  bool ready() const { return job && problems.empty(); }
};
FormReading ReadForm(const Json& tree);

}  // namespace lidwright
