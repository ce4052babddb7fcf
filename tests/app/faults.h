// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <map>
#include <string>

#include "places.h"
#include "run_shell.h"
#include "scratch_folder.h"

namespace lidwright::testing {

/// Everything in a folder, hidden names included: a file's text, a link's target, "/" for a folder.
using Snapshot = std::map<std::string, std::string>;

inline Snapshot SnapshotOf(const std::filesystem::path& folder) {
  Snapshot all;
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    const std::string name = std::filesystem::relative(entry.path(), folder).string();
    all[name] = entry.is_symlink()     ? "-> " + std::filesystem::read_symlink(entry).string()
                : entry.is_directory() ? "/"
                                       : TextOf(entry.path());
  }
  return all;
}

/// What `before` and `after` have alike, the user's own files above all, is in `now` as well.
inline bool CommonStays(const Snapshot& before, const Snapshot& after, const Snapshot& now) {
  for (const auto& [name, text] : before) {
    const auto later = after.find(name), there = now.find(name);
    if (later == after.end() || later->second != text) continue;
    if (there == now.end() || there->second != text) return false;
  }
  return true;
}

/// Makes `folder` what the folder `kept` is.
inline void PutBack(const std::filesystem::path& kept, const std::filesystem::path& folder) {
  namespace fs = std::filesystem;
  for (const auto& entry : fs::directory_iterator(folder)) fs::remove_all(entry.path());
  fs::copy(kept, folder, fs::copy_options::recursive | fs::copy_options::copy_symlinks);
}

/// What a call of the system does: it fails with the error, or ends the process by the signal.
struct Fault {
  int signal = 0, error = 0;
};

/// Runs a command line in `folder`, its standard output and errors together; with a fault at call
/// number `at` if that is not 0 (faulty_calls.cpp). `reached` tells whether there was such a call.
inline Run RunFaulty(const ScratchFolder& folder, const std::string& command,
                     const Fault& fault = {}, int at = 0, bool* reached = nullptr) {
  std::string before;
  const std::filesystem::path mark = folder.Path().string() + ".reached";
  if (at > 0) {
    before = "FAULT_AT=" + std::to_string(at) + " FAULT_SIGNAL=" + std::to_string(fault.signal) +
             " FAULT_ERRNO=" + std::to_string(fault.error) + " FAULT_MARK=" + mark.string() +
             " LD_PRELOAD=" + FaultyCalls() + " ";
  }
  const Run run =
      RunShell("cd " + folder.Path().string() + " && " + before + "exec " + command + " 2>&1");
  if (reached != nullptr) *reached = std::filesystem::remove(mark);
  return run;
}

}  // namespace lidwright::testing
