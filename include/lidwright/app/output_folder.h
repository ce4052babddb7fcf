// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
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
  kReplace,  ///< what lidwright wrote is replaced; all else stays, and what is in the way is named
};

/// Says of a name within a folder, or of a file's text, whether it is one of ours.
using IsOurs = std::function<bool(const std::string&)>;

/// Which single file may be replaced: by its text, and what else it is called in the message.
struct Replaceable {
  IsOurs is_ours;
  std::string otherwise;  ///< such as "is no job that lidwright wrote"
};

/// Fails with FileError unless WriteFolder could start: asked before long work. Finishes or clears
/// away what a run left that was cut off. `will_write`, if there is one, tells the names that
/// are sure to be written, so that a file of the user's under such a name is found now.
void CheckFolder(const std::string& path, IfThere if_there, const IsOurs& will_write = {});

/// Writes a folder whole or not at all. A new one gets its name when it is complete and on the
/// disk. In one that is there, only what its manifest (kFolderMark) lists, and what is as it was
/// written, is replaced or removed; files of the user's stay, links are never followed. Whenever
/// the program is ended, what was there before or the new version can be had whole: if need be, the
/// next call finishes. Signals that end the program wait until one of the two stands there. Fails
/// with FileError; then what was there before is there again, or the message says otherwise.
void WriteFolder(const std::string& path, const FolderContents& contents, IfThere if_there);

/// Fails with FileError unless WriteFile could start: asked before long work. With kReplace an
/// existing file is an error unless it is one of `which`; so is a link.
void CheckFile(const std::string& path, IfThere if_there, const Replaceable& which);

/// A single file, the same way: whole or not at all, never over an existing one unless kReplace.
void WriteFile(const std::string& path, const std::string& text, IfThere if_there,
               const Replaceable& which);

/// The file in an output folder that lists what lidwright wrote there.
inline constexpr const char* kFolderMark = ".lidwright";

/// The job that may lie in an output folder: it stays where a next version has none, as somebody
/// typed it.
inline constexpr const char* kFolderJob = "job.json";

}  // namespace lidwright
