// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <iosfwd>
#include <string>

#include "commands.h"
#include "lidwright/app/output_folder.h"
#include "lidwright/base/problem.h"

// What the commands share that read a job or make one from something else.
namespace lidwright {

/// The bytes of a file that was named. Fails with FileError if they cannot be had or are more than
/// the limit.
using FileReader = std::function<std::string(const std::string& file, std::size_t limit_bytes)>;

/// The problems, a line each, and that nothing was written.
void PrintProblems(const Problems& problems, std::ostream& out);

/// A file's ending in small letters, its dot included.
std::string EndingOf(const std::string& file);

/// The job file to write: `out`, or if that is empty the source's name with .json. Fails with
/// FileError where `out` ends otherwise.
std::string JobFileFor(const std::string& out, const std::string& source);

/// Any job that lidwright made, edited since or not: what `--replace` writes over.
Replaceable MadeJob();

/// Writes `text`, a job's, after it has been read as anybody will read it: what cannot be read is
/// told and not written. What stands in a hinge's way there is told but no reason not to write:
/// walls, bay and arms can still be mended in the file. Fails with FileError as WriteFile.
ExitCode WriteMadeJob(const std::string& text, const std::string& file, IfThere if_there,
                      const Streams& streams);

}  // namespace lidwright
