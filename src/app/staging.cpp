// SPDX-License-Identifier: Apache-2.0
#include "staging.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "disk.h"
#include "lidwright/app/output_folder.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

// [1] Another process may clear the folder away between two of our calls; not so often.
constexpr int kTries = 100;

fs::path FolderFor(const fs::path& target) {
  return target.parent_path() / ("." + target.filename().string() + ".lidwright");
}

// Made by this user: nobody else can have put links into it.
bool IsOurOwn(const fs::path& folder) {
  struct stat status {};
  return ::lstat(folder.c_str(), &status) == 0 && S_ISDIR(status.st_mode) &&
         status.st_uid == ::geteuid() && (status.st_mode & 022) == 0;
}

}  // namespace

bool Staging::IsThere(const fs::path& target) {
  return Look(FolderFor(target)) != Found::kNothing;
}

Staging::Staging(const fs::path& target) : target_(target), folder_(FolderFor(target)) {
  int tries = 0;
  while (!TryToLock()) {
    if (++tries == kTries) throw FileError(folder_.string() + " cannot be made");
  }
  if (!HasJournal()) ClearLeftovers();
}

Staging::~Staging() {
  if (!HasJournal()) {
    ClearLeftovers();
    ::unlink((folder_ / "lock").c_str());
    ::rmdir(folder_.c_str());
  }
  ::close(lock_);
}

// False if the folder was cleared away meanwhile by who had it.
bool Staging::TryToLock() {
  if (::mkdir(folder_.c_str(), 0700) != 0 && errno != EEXIST) throw DiskError(ReasonOf(errno));
  if (!IsOurOwn(folder_)) {
    if (Look(folder_) == Found::kNothing) return false;
    throw FileError(folder_.string() + " is in the way and was not made by this user's lidwright");
  }
  const fs::path file = folder_ / "lock";
  lock_ = ::open(file.c_str(), O_RDWR | O_CREAT | O_NOFOLLOW | O_CLOEXEC, 0600);
  if (lock_ < 0 && errno == ENOENT) return false;
  if (lock_ < 0) throw DiskError(ReasonOf(errno));
  if (::flock(lock_, LOCK_EX | LOCK_NB) != 0 && errno == EWOULDBLOCK) {
    ::close(lock_);
    throw FileError("another lidwright is writing " + target_.string() +
                    " at this moment: wait for it, or name another with --out");
  }
  // Where the file system has no locks we go on without: that only loses this one guard.
  struct stat ours {
  }, there{};
  if (::fstat(lock_, &ours) == 0 && ::lstat(file.c_str(), &there) == 0 &&
      ours.st_ino == there.st_ino) {
    return true;
  }
  ::close(lock_);
  return false;
}

// Where it cannot be told there may be one.
bool Staging::HasJournal() const {
  try {
    return Look(journal()) != Found::kNothing;
  } catch (const DiskError&) {
    return true;
  }
}

void Staging::ClearLeftovers() {
  std::error_code ignored;
  for (const char* name : {"new", "old", "journal.part"}) fs::remove_all(folder_ / name, ignored);
}

}  // namespace lidwright
