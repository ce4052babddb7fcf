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

/// A number as some people type it, as the job's reader takes it: "320,5" as 320.5, an angle of
/// "95 deg" or "95°" as 95. Anything that could be meant otherwise, such as "1,250", stays as it
/// is.
std::string AsReaderTakesIt(const KeyRow& row, const std::string& text);

/// A tree whose bare lengths counted in inches or mm, with the same lengths in the other unit: to
/// a ten-thousandth of an inch and as 64ths where they are some, or to 0.01 mm; outlines to a
/// millionth. What has a unit of its own, and what is no length, stays.
Json InOtherUnit(const Json& tree, bool to_inches);

/// What stands for each key of a form that is left out, as somebody would type it: the value where
/// it is known, "chosen" where the search chooses.
Json StandsFor(const Job& job);

/// What a tree comes to as a job.
struct FormReading {
  std::optional<Job> job;                ///< can be read
  Problems problems{};                   ///< what is wrong with it, or stands in a hinge's way
  std::shared_ptr<const Solid> solid{};  ///< with the job
  bool ready() const { return job && problems.empty(); }
};
FormReading ReadForm(const Json& tree);

}  // namespace lidwright
