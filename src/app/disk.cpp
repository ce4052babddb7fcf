// SPDX-License-Identifier: Apache-2.0
#include "disk.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <system_error>

namespace lidwright {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void Fail() {
  throw DiskError(ReasonOf(errno));
}

// An open file, closed with its owner.
class Open {
 public:
  Open(const fs::path& path, int flags)
      : fd_(::open(path.c_str(), flags | O_NOFOLLOW | O_CLOEXEC, 0666)) {
    if (fd_ < 0) Fail();
  }
  ~Open() {
    if (fd_ >= 0) ::close(fd_);
  }
  Open(const Open&) = delete;
  Open& operator=(const Open&) = delete;

  int fd() const { return fd_; }
  // Some file systems tell only now that there was no room.
  void Close() {
    const int fd = fd_;
    fd_ = -1;
    if (::close(fd) != 0 && errno != EINTR) Fail();
  }
  // Some file systems know no such thing.
  void Sync() const {
    if (::fsync(fd_) != 0 && errno != EINVAL && errno != ENOTSUP) Fail();
  }

 private:
  int fd_;
};

}  // namespace

std::string ReasonOf(int number) {
  return std::generic_category().message(number);
}

Found Look(const fs::path& path) {
  struct stat status {};
  if (::lstat(path.c_str(), &status) != 0) {
    if (errno == ENOENT || errno == ENOTDIR) return Found::kNothing;
    Fail();
  }
  if (S_ISREG(status.st_mode)) return Found::kFile;
  if (S_ISDIR(status.st_mode)) return Found::kFolder;
  return S_ISLNK(status.st_mode) ? Found::kLink : Found::kOther;
}

void SaveNew(const fs::path& path, const std::string& text) {
  Open file(path, O_WRONLY | O_CREAT | O_EXCL);
  for (std::size_t done = 0; done < text.size();) {
    const ssize_t n = ::write(file.fd(), text.data() + done, text.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) Fail();
    done += static_cast<std::size_t>(n);
  }
  file.Sync();
  file.Close();
}

void ReadBlocks(const fs::path& path, const std::function<void(std::string_view)>& take) {
  const Open file(path, O_RDONLY | O_NONBLOCK);
  std::string block(1 << 16, '\0');
  for (;;) {
    const ssize_t n = ::read(file.fd(), block.data(), block.size());
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) Fail();
    if (n == 0) return;
    take(std::string_view(block).substr(0, static_cast<std::size_t>(n)));
  }
}

std::string Load(const fs::path& path) {
  std::string text;
  ReadBlocks(path, [&](std::string_view block) { text += block; });
  return text;
}

void MakeFolder(const fs::path& path) {
  if (::mkdir(path.c_str(), 0777) == 0) return;
  if (errno != EEXIST) Fail();
  if (Look(path) != Found::kFolder) throw DiskError(path.string() + " is not a folder");
}

void MoveToFree(const fs::path& from, const fs::path& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return;
  // A file system that cannot refuse by itself.
  if (errno != EINVAL && errno != ENOSYS) Fail();
  if (Look(to) != Found::kNothing) throw DiskError(ReasonOf(EEXIST));
  MoveOver(from, to);
}

void MoveOver(const fs::path& from, const fs::path& to) {
  if (::rename(from.c_str(), to.c_str()) != 0) Fail();
}

void RemoveFile(const fs::path& path) {
  if (::unlink(path.c_str()) != 0 && errno != ENOENT) Fail();
}

bool RemoveIfEmpty(const fs::path& folder) {
  if (::rmdir(folder.c_str()) == 0) return true;
  if (errno != ENOTEMPTY && errno != EEXIST) Fail();
  return false;
}

void SyncFolder(const fs::path& folder) {
  const Open open(folder.empty() ? fs::path(".") : folder, O_RDONLY | O_DIRECTORY);
  open.Sync();
}

}  // namespace lidwright
