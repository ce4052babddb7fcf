// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/job/job.h"
#include "lidwright/job/json_lines.h"
#include "lidwright/job/key_rows.h"

namespace lidwright {

/// The job as a job file in the maker's unit, every default filled in, so that nothing depends on
/// what a later version takes for granted. ReadJob takes it back to the same Job. Left out are what
/// is unset or without a limit, a wood's own density (another wood brings its own), and, beside
/// stations, the measures that these show themselves.
///
/// Accuracy: a number is written as its shortest decimal of at most 9 places if that reads back to
/// the same double, else in full. In a job of inches a length that no number of inches gives is
/// written in mm ("2.5 mm"). So every job that was read from a file comes back to the last bit;
/// a length or an angle that no file can say, to within a rounding (1e-15 of it).
/// Same job, same bytes.
std::string WriteJob(const Job& job);

/// The same without the arms' sizes that the job leaves open, for a job that is yet to be worked
/// on: they are chosen by whoever reads it.
std::string WriteOpenJob(const Job& job);

/// A key of a single value, at the top or in one section (key_rows.h), and that value as somebody
/// would type it in the job's unit; "" leaves it out.
struct KeyChange {
  std::string key, text;
};
/// The same with some keys as typed.
std::string WriteOpenJob(const Job& job, const std::vector<KeyChange>& changes);

/// The same as a tree, to stand within a larger file.
Json JobJson(const Job& job);

/// What a job's tree has for a key at the top or in one section, as somebody would type it: ""
/// where it has nothing.
std::string TypedText(const Json& tree, const std::string& key);
/// The same of a job's file as it would be written.
std::string TypedText(const Job& job, const std::string& key);

/// A job's tree with one key as typed: plain numbers as numbers, flags as such, everything else as
/// text for the reader to judge; without the key where `text` is empty.
Json WithTyped(const Json& tree, const KeyRow& row, const std::string& text);

}  // namespace lidwright
