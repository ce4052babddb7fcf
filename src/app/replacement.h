// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "manifest.h"
#include "staging.h"

// How one version of a folder's files takes the place of another.
namespace lidwright {

/// One file that changes. What is there is what `before` says, and what will be is `after`.
struct Change {
  std::string name;
  std::optional<FileSum> before, after;
};
using Changes = std::vector<Change>;

/// Puts the files of staging.fresh() into `target`, a folder that is there, as `changes` say. The
/// moment the journal has its name decides: ended before, the old version stands there untouched;
/// ended after, Resume brings the new one, for nothing is removed until all is in its place.
/// Fails with FileError; what could be moved is moved back then. Requires all of staging.fresh() to
/// be on the disk.
void Replace(const std::filesystem::path& target, const Changes& changes, const Staging& staging);

/// Goes on with what a Replace left that was cut off, and back where that cannot be. Nothing is
/// done without a journal. Fails with FileError if neither can be, and says what is in the way.
void Resume(const std::filesystem::path& target, const Staging& staging);

/// The sum of a regular file within `folder`; nothing if no file of that name is there. Fails with
/// FileError if something else is, or a link on the way to it.
std::optional<FileSum> SumWithin(const std::filesystem::path& folder, const std::string& name);

}  // namespace lidwright
