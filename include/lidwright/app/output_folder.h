// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <stdexcept>
#include <string>

namespace lidwright {

/// What goes wrong with files: a message for the user, with the path.
class FileError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The whole text of a file. Fails with FileError if it cannot be read, is a folder or is larger
/// than `limit_bytes`.
std::string ReadFile(const std::string& path, std::size_t limit_bytes);

/// File contents by path relative to the folder, such as "cut/arm_a.dxf".
using FolderContents = std::map<std::string, std::string>;

enum class IfThere {
  kRefuse,   ///< an existing folder or file is an error
  kReplace,  ///< a folder that lidwright wrote is replaced; anything else is an error
};

/// Fails with FileError unless WriteFolder could start: asked before long work.
void CheckFolder(const std::string& path, IfThere if_there);

/// Writes a folder whole or not at all: everything goes to a new folder beside it, which takes the
/// final name only when it is complete. A folder counts as written by lidwright if it holds the
/// file kFolderMark. Fails with FileError; then the disk is as it was.
void WriteFolder(const std::string& path, const FolderContents& contents, IfThere if_there);

/// Fails with FileError unless WriteFile could start: asked before long work.
void CheckFile(const std::string& path, IfThere if_there);

/// A single file, the same way: whole or not at all, never over an existing one unless kReplace.
void WriteFile(const std::string& path, const std::string& text, IfThere if_there);

inline constexpr const char* kFolderMark = ".lidwright";

}  // namespace lidwright
