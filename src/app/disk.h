// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <functional>
#include <stdexcept>
#include <string>
#include <string_view>

// The few things done to the disk, each as one call of the system, none of which follows a link
// at the end of its path.
namespace lidwright {

/// Why the system refused, in its words and without a path: who called knows what it was for.
class DiskError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

enum class Found { kNothing, kFile, kFolder, kLink, kOther };

/// What stands under a path. Fails with DiskError where that cannot be told: too long a name, a
/// loop of links on the way, no permission.
Found Look(const std::filesystem::path& path);

/// Makes a file that was not there, with all of `text`, and waits until the disk has it.
void SaveNew(const std::filesystem::path& path, const std::string& text);

/// Hands on a regular file block by block, so that one of any size can be looked at.
void ReadBlocks(const std::filesystem::path& path,
                const std::function<void(std::string_view)>& take);

/// A regular file's whole text.
std::string Load(const std::filesystem::path& path);

/// Makes a folder with the user's usual rights; one that is there is fine.
void MakeFolder(const std::filesystem::path& path);

/// Gives a file or folder another name. Fails with DiskError if that is taken already.
void MoveToFree(const std::filesystem::path& from, const std::filesystem::path& to);

/// Gives a file another name; a file of that name is gone after that.
void MoveOver(const std::filesystem::path& from, const std::filesystem::path& to);

/// Removes a file or link; none is fine.
void RemoveFile(const std::filesystem::path& path);

/// Removes a folder that holds nothing, and says whether it did.
bool RemoveIfEmpty(const std::filesystem::path& folder);

/// Waits until the disk has what was made, moved and removed in a folder.
void SyncFolder(const std::filesystem::path& folder);

/// What the system calls the error `number` (of errno).
std::string ReasonOf(int number);

}  // namespace lidwright
