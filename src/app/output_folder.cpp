// SPDX-License-Identifier: Apache-2.0
#include "lidwright/app/output_folder.h"

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <vector>

#include "disk.h"
#include "held_signals.h"
#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "manifest.h"
#include "replacement.h"
#include "staging.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

// [bytes] Of a name: what we make beside it has a longer one, and file systems end at 255.
constexpr std::size_t kLongestName = 240;
// [1] Names told in a message; of more, the number.
constexpr std::size_t kToldNames = 6;
// What stood in kFolderMark before there were manifests.
constexpr const char* kMarkWithoutManifest = "written by lidwright; may be replaced by it\n";

// Turns what the disk says into a message about the path the user knows.
template <typename Work>
auto About(const std::string& path, const Work& work) {
  try {
    return work();
  } catch (const DiskError& error) {
    throw FileError("cannot write " + path + ": " + error.what());
  } catch (const fs::filesystem_error& error) {
    throw FileError("cannot write " + path + ": " + error.code().message());
  }
}

void CheckLength(const fs::path& target) {
  if (target.filename().string().size() <= kLongestName) return;
  throw FileError(target.string() + ": the name is longer than " + std::to_string(kLongestName) +
                  " bytes: name another");
}

fs::path Clean(const std::string& path) {
  fs::path target = fs::path(path).lexically_normal();
  if (!target.has_filename()) target = target.parent_path();  // a trailing slash
  if (target.empty() || target.filename() == "." || target.filename() == "..") {
    throw FileError("'" + path + "' cannot be an output folder: it needs a name");
  }
  CheckLength(target);
  return target;
}

fs::path ParentOf(const fs::path& target) {
  return target.has_parent_path() ? target.parent_path() : fs::path(".");
}

std::string Told(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < std::min(names.size(), kToldNames); ++i) {
    text += (i == 0 ? "" : ", ") + names[i];
  }
  if (names.size() <= kToldNames) return text;
  return text + " and " + std::to_string(names.size() - kToldNames) + " more";
}

Manifest ManifestOf(const fs::path& target) {
  if (Look(target / kFolderMark) != Found::kFile) {
    throw FileError(target.string() +
                    " was not written by lidwright and is left alone: name another folder");
  }
  const std::string text = Load(target / kFolderMark);
  const std::optional<Manifest> manifest = ReadManifest(text);
  if (manifest) return *manifest;
  const std::string why = text == kMarkWithoutManifest
                              ? " was written by an earlier lidwright, which kept no list of its "
                                "files, so they cannot be told from yours"
                              : "/.lidwright, the list of what lidwright wrote, cannot be read";
  throw FileError(target.string() + why +
                  ": keep what you need, remove the folder, or name another");
}

// Only what is as it was written may go.
void RefuseChanged(const fs::path& target, const Manifest& manifest) {
  std::vector<std::string> changed;
  for (const auto& [name, sum] : manifest) {
    try {
      const std::optional<FileSum> found = SumWithin(target, name);
      if (!found || *found == sum) continue;
    } catch (const FileError&) {  // a link, a folder
    }
    changed.push_back(name);
  }
  if (changed.empty()) return;
  throw FileError(target.string() + ": changed since lidwright wrote it: " + Told(changed) +
                  "; move or rename what you want to keep, remove the rest, or name another folder "
                  "with --out");
}

void RefuseForeign(const fs::path& target, const std::vector<std::string>& foreign) {
  if (foreign.empty()) return;
  throw FileError(target.string() + ": not written by lidwright, but in its way: " + Told(foreign) +
                  "; move or rename it, or name another folder with --out");
}

// The user's files in the folder itself that are sure to be in the way.
std::vector<std::string> InTheWay(const fs::path& target, const Manifest& manifest,
                                  const IsOurs& will_write) {
  std::vector<std::string> names;
  for (const fs::directory_entry& entry : fs::directory_iterator(target)) {
    const std::string name = entry.path().filename().string();
    if (will_write && will_write(name) && manifest.count(name) == 0) names.push_back(name);
  }
  std::sort(names.begin(), names.end());
  return names;
}

void CheckWritable(const fs::path& folder) {
  if (::access(folder.c_str(), W_OK | X_OK) == 0) return;
  throw FileError("cannot write into " + folder.string());
}

// Fails unless the folder that is there may get a next version.
Manifest CheckReplaceable(const fs::path& target, Found found, IfThere if_there) {
  if (found == Found::kFile || found == Found::kOther) {
    throw FileError(target.string() + " is there already and is not a folder");
  }
  if (if_there == IfThere::kRefuse) {
    throw FileError(target.string() +
                    " is there already: name another folder with --out, or say --replace");
  }
  if (found == Found::kLink) {
    throw FileError(target.string() + " is a link and is left alone: name another folder");
  }
  const Manifest manifest = ManifestOf(target);
  RefuseChanged(target, manifest);
  CheckWritable(target);
  for (const auto& [name, sum] : manifest) {
    const fs::path folder = (target / name).parent_path();
    if (Look(folder) == Found::kFolder) CheckWritable(folder);
  }
  return manifest;
}

// Whatever a run left that was cut off.
void Recover(const fs::path& target) {
  if (!Staging::IsThere(target)) return;
  const HeldSignals held;
  const Staging staging(target);
  Resume(target, staging);
}

void StopIfAsked(const std::string& path) {
  if (HeldSignals::Waits()) throw FileError("stopped; " + path + " is as it was");
}

// The next version, complete and on the disk. What stays of the one before is listed as well.
Manifest Make(const fs::path& fresh, const std::string& path, const FolderContents& contents,
              const Manifest& before) {
  Manifest made;
  std::vector<fs::path> folders{fresh};
  MakeFolder(fresh);
  for (const auto& [name, text] : contents) {
    LW_REQUIRE(StaysWithin(name) && name != kFolderMark, "name=" << name);
    StopIfAsked(path);
    fs::path at = fresh;
    for (const fs::path& part : fs::path(name).parent_path()) {
      at /= part;
      if (std::find(folders.begin(), folders.end(), at) != folders.end()) continue;
      MakeFolder(at);
      folders.push_back(at);
    }
    SaveNew(fresh / name, text);
    made[name] = SumOf(text);
  }
  if (made.count(kFolderJob) == 0 && before.count(kFolderJob) > 0) {
    made[kFolderJob] = before.at(kFolderJob);
  }
  SaveNew(fresh / kFolderMark, ManifestText(made));
  for (const fs::path& folder : folders) SyncFolder(folder);
  return made;
}

// From one manifest to the next; the manifest itself comes last.
Changes ChangesOf(const fs::path& target, const Manifest& before, const Manifest& after,
                  const FolderContents& contents) {
  Changes changes;
  std::vector<std::string> foreign;
  for (const auto& [name, sum] : after) {
    if (contents.count(name) == 0) continue;  // stays
    try {
      const std::optional<FileSum> there = SumWithin(target, name);
      const auto known = before.find(name);
      if (there && (known == before.end() || known->second != *there)) foreign.push_back(name);
      if (there != sum) changes.push_back({name, there, sum});
    } catch (const FileError&) {  // a link, a folder
      foreign.push_back(name);
    }
  }
  RefuseForeign(target, foreign);
  for (const auto& [name, sum] : before) {
    if (after.count(name) == 0) changes.push_back({name, sum, std::nullopt});
  }
  changes.push_back({kFolderMark, SumWithin(target, kFolderMark), SumOf(ManifestText(after))});
  return changes;
}

void CheckTextThere(const fs::path& target, Found found, IfThere if_there,
                    const Replaceable& which) {
  const std::string path = target.string();
  if (found == Found::kNothing) return;
  if (found == Found::kFolder) throw FileError(path + " is a folder");
  if (if_there == IfThere::kRefuse) {
    throw FileError(path + " is there already: name another file, or say --replace");
  }
  if (found == Found::kLink) throw FileError(path + " is a link and is left alone: name another");
  if (found != Found::kFile || !which.is_ours(ReadFile(path, kLargestMesh_bytes))) {
    throw FileError(path + " " + which.otherwise + " and is left alone: name another file");
  }
}

}  // namespace

void CheckFolder(const std::string& path, IfThere if_there, const IsOurs& will_write) {
  const fs::path target = Clean(path);
  About(target.string(), [&] {
    std::error_code error;
    const fs::path parent = ParentOf(target);
    fs::create_directories(parent, error);
    if (!fs::is_directory(parent)) {
      throw FileError("cannot write into " + parent.string() +
                      (error ? ": " + error.message() : std::string()));
    }
    Recover(target);
    const Found found = Look(target);
    if (found != Found::kNothing) {
      const Manifest manifest = CheckReplaceable(target, found, if_there);
      RefuseForeign(target, InTheWay(target, manifest, will_write));
    }
    CheckWritable(parent);
  });
}

void WriteFolder(const std::string& path, const FolderContents& contents, IfThere if_there) {
  CheckFolder(path, if_there);
  const fs::path target = Clean(path);
  const HeldSignals held;
  About(target.string(), [&] {
    const Staging staging(target);
    const Found found = Look(target);
    const bool replaces = found != Found::kNothing;
    Manifest before;
    if (replaces) before = CheckReplaceable(target, found, if_there);
    const Manifest after = Make(staging.fresh(), target.string(), contents, before);
    const Changes changes = replaces ? ChangesOf(target, before, after, contents) : Changes();
    SyncFolder(staging.folder());
    StopIfAsked(target.string());
    if (replaces) {
      Replace(target, changes, staging);
    } else {
      MoveToFree(staging.fresh(), target);
      SyncFolder(ParentOf(target));
    }
  });
}

void CheckFile(const std::string& path, IfThere if_there, const Replaceable& which) {
  const fs::path target(path);
  if (!target.has_filename()) throw FileError(path + " cannot be a file: it needs a name");
  CheckLength(target);
  About(path, [&] {
    CheckTextThere(target, Look(target), if_there, which);
    const fs::path parent = ParentOf(target);
    std::error_code none;
    if (!fs::is_directory(parent, none)) {
      throw FileError(path + ": there is no folder " + parent.string());
    }
    CheckWritable(parent);
    Recover(target);
  });
}

void WriteFile(const std::string& path, const std::string& text, IfThere if_there,
               const Replaceable& which) {
  CheckFile(path, if_there, which);
  const fs::path target(path);
  const HeldSignals held;
  About(path, [&] {
    const Staging staging(target);
    SaveNew(staging.fresh(), text);
    SyncFolder(staging.folder());
    StopIfAsked(path);
    const Found found = Look(target);
    CheckTextThere(target, found, if_there, which);
    if (found == Found::kNothing) {
      MoveToFree(staging.fresh(), target);
    } else {
      MoveOver(staging.fresh(), target);
    }
    SyncFolder(ParentOf(target));
  });
}

}  // namespace lidwright
