// SPDX-License-Identifier: Apache-2.0
#include "made_job.h"

#include <cctype>
#include <filesystem>
#include <ostream>

#include "lidwright/job/file_format.h"
#include "lidwright/job/read_job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

void PrintProblems(const Problems& problems, std::ostream& out) {
  for (const Problem& problem : problems) out << Describe(problem) << "\n";
  out << (problems.size() == 1 ? "1 problem" : std::to_string(problems.size()) + " problems")
      << "; nothing was written\n";
}

std::string EndingOf(const std::string& file) {
  std::string ending = std::filesystem::path(file).extension().string();
  for (char& c : ending) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return ending;
}

std::string JobFileFor(const std::string& out, const std::string& source) {
  const std::string file =
      out.empty() ? std::filesystem::path(source).stem().string() + ".json" : out;
  if (std::filesystem::path(file).extension() != ".json") {
    throw FileError(file + ": a job is written as .json");
  }
  return file;
}

Replaceable MadeJob() {
  const std::string format = "\"" + std::string(kJobFormat.kind) + " ";
  return {[format](const std::string& text) { return text.find(format) != std::string::npos; },
          "is no job that lidwright wrote"};
}

ExitCode WriteMadeJob(const std::string& text, const std::string& file, IfThere if_there,
                      const Streams& streams) {
  const JobReading back = ReadJob(text, file);
  if (!back.job) {  // such as more points than a job may hold
    PrintProblems(back.problems, streams.messages);
    return ExitCode::kBadJob;
  }
  for (Problem problem : FaultsOf(*back.job, MakeSolid(*back.job))) {
    problem.file = file;
    streams.messages << "'fit' will refuse this: " << Describe(problem) << "\n";
  }
  WriteFile(file, text, if_there, MadeJob());
  streams.out << "written to " << file << "; look at it with 'lidwright box " << file << "'\n";
  return ExitCode::kGood;
}

}  // namespace lidwright
