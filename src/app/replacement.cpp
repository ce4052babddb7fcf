// SPDX-License-Identifier: Apache-2.0
#include "replacement.h"

#include <set>
#include <sstream>

#include "disk.h"
#include "lidwright/app/output_folder.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

constexpr const char* kHead = "lidwright journal 1";
constexpr const char* kEnd = "end";

// A line for each change: "SUM BYTES SUM BYTES NAME", with "- -" for no file.
std::string JournalText(const Changes& changes) {
  const auto text = [](const std::optional<FileSum>& sum) { return sum ? SumText(*sum) : "- -"; };
  std::string lines = std::string(kHead) + "\n";
  for (const Change& change : changes) {
    lines += text(change.before) + " " + text(change.after) + " " + change.name + "\n";
  }
  return lines + kEnd + "\n";
}

// Nothing if it is no journal.
std::optional<Changes> ReadJournal(const std::string& text) {
  std::istringstream lines(text);
  std::string line;
  if (!std::getline(lines, line) || line != kHead) return std::nullopt;
  Changes changes;
  while (std::getline(lines, line)) {
    if (line == kEnd) return changes;
    std::istringstream words(line);
    std::string sums[2][2];
    for (auto& [sum, bytes] : sums) words >> sum >> bytes;
    Change change;
    words.get();
    std::getline(words, change.name);
    if (!words || !StaysWithin(change.name)) return std::nullopt;
    change.before = ReadSum(sums[0][0] + " " + sums[0][1]);
    change.after = ReadSum(sums[1][0] + " " + sums[1][1]);
    changes.push_back(std::move(change));
  }
  return std::nullopt;
}

// Every folder on the way to a file, from `folder` on: "a/b/c" gives a, a/b.
std::vector<fs::path> WayTo(const fs::path& folder, const std::string& name) {
  std::vector<fs::path> way;
  fs::path at = folder;
  for (const fs::path& part : fs::path(name).parent_path()) way.push_back(at /= part);
  return way;
}

void MakeWayTo(const fs::path& folder, const std::string& name) {
  for (const fs::path& step : WayTo(folder, name)) MakeFolder(step);
}

// Whether a regular file of that name is there. Fails with FileError as SumWithin.
bool IsThere(const fs::path& folder, const std::string& name) {
  for (const fs::path& step : WayTo(folder, name)) {
    const Found found = Look(step);
    if (found == Found::kNothing) return false;
    if (found != Found::kFolder) throw FileError(step.string() + " is no folder of lidwright's");
  }
  const Found found = Look(folder / name);
  if (found != Found::kNothing && found != Found::kFile) {
    throw FileError((folder / name).string() + " is no regular file");
  }
  return found == Found::kFile;
}

// Moves a file of `from` to `to`, unless it is another than `sum` says by now.
void MoveIfAsWas(const fs::path& from, const fs::path& to, const std::string& name,
                 const std::optional<FileSum>& sum) {
  if (SumWithin(from, name) != sum) {
    throw FileError((from / name).string() + " has been changed meanwhile: move it away");
  }
  if (IsThere(to, name)) {
    throw FileError((to / name).string() + " was put there meanwhile: move it away");
  }
  MakeWayTo(to, name);
  MoveToFree(from / name, to / name);
}

// The four places of one change's file tell how far it has come, so that both ways can be begun
// anew wherever they were cut off.
void Forward(const fs::path& target, const Changes& changes, const Staging& staging) {
  MakeFolder(staging.old());
  for (const Change& change : changes) {
    const bool placed = change.after && !IsThere(staging.fresh(), change.name);
    if (placed) continue;
    if (IsThere(target, change.name) && !IsThere(staging.old(), change.name)) {
      MoveIfAsWas(target, staging.old(), change.name, change.before);
    }
    if (change.after) MoveIfAsWas(staging.fresh(), target, change.name, change.after);
  }
}

void Back(const fs::path& target, const Changes& changes, const Staging& staging) {
  for (const Change& change : changes) {  // a journal that outlived what it speaks of
    const bool placed = change.after && !IsThere(staging.fresh(), change.name);
    if (placed && change.before && !IsThere(staging.old(), change.name)) {
      throw FileError((staging.old() / change.name).string() + " is gone");
    }
  }
  for (auto change = changes.rbegin(); change != changes.rend(); ++change) {
    const bool placed = change->after && !IsThere(staging.fresh(), change->name);
    if (placed && IsThere(target, change->name)) {
      MoveIfAsWas(target, staging.fresh(), change->name, change->after);
    }
    if (IsThere(staging.old(), change->name)) {
      MoveIfAsWas(staging.old(), target, change->name, change->before);
    }
  }
}

// Folders that the changes left empty go, deepest first; the disk has all moves after that.
void Settle(const fs::path& target, const Changes& changes) {
  std::set<fs::path> folders;
  for (const Change& change : changes) {
    for (const fs::path& step : WayTo(target, change.name)) folders.insert(step);
  }
  for (auto step = folders.rbegin(); step != folders.rend(); ++step) {
    if (Look(*step) == Found::kFolder && !RemoveIfEmpty(*step)) SyncFolder(*step);
  }
  SyncFolder(target);
}

// Once the journal is gone there is no way back, so that a disk that fails then is no failure here:
// if the journal comes back with the power, going forward once more changes nothing.
void EndJournal(const Staging& staging) {
  RemoveFile(staging.journal());
  try {
    SyncFolder(staging.folder());
  } catch (const DiskError&) {
  }
}

// One way to its end, and the journal's.
template <typename Way>
void Go(const Way& way, const fs::path& target, const Changes& changes, const Staging& staging) {
  way(target, changes, staging);
  Settle(target, changes);
  EndJournal(staging);
}

// The new version, or if that cannot be the old one. Says why it is not the new one.
std::string ForwardOrBack(const fs::path& target, const Changes& changes, const Staging& staging) {
  std::string why;
  try {
    Go(Forward, target, changes, staging);
    return "";
  } catch (const std::runtime_error& error) {
    why = error.what();
  }
  try {
    Go(Back, target, changes, staging);
    return why;
  } catch (const std::runtime_error&) {
    throw FileError("cannot write " + target.string() + ": " + why +
                    ". Some of its files are new, others old: the rest of both lies in " +
                    staging.folder().string() +
                    ". The next run of lidwright for this folder finishes it");
  }
}

}  // namespace

std::optional<FileSum> SumWithin(const fs::path& folder, const std::string& name) {
  if (!IsThere(folder, name)) return std::nullopt;
  FileSum sum;
  ReadBlocks(folder / name, [&](std::string_view block) { sum = SumOf(block, sum); });
  return sum;
}

void Replace(const fs::path& target, const Changes& changes, const Staging& staging) {
  const fs::path part = staging.folder() / "journal.part";
  SaveNew(part, JournalText(changes));
  SyncFolder(staging.folder());
  MoveOver(part, staging.journal());
  try {
    SyncFolder(staging.folder());
  } catch (const DiskError&) {
    EndJournal(staging);
    throw;
  }
  const std::string why = ForwardOrBack(target, changes, staging);
  if (!why.empty()) throw FileError("cannot write " + target.string() + ": " + why);
}

void Resume(const fs::path& target, const Staging& staging) {
  if (Look(staging.journal()) == Found::kNothing) return;
  const std::optional<Changes> changes = ReadJournal(Load(staging.journal()));
  if (!changes || Look(target) != Found::kFolder) {
    throw FileError("a run for " + target.string() + " was cut off, and what it left in " +
                    staging.folder().string() +
                    (changes ? " has lost its folder" : " cannot be read") +
                    ": look at it, then remove it");
  }
  ForwardOrBack(target, *changes, staging);
}

}  // namespace lidwright
