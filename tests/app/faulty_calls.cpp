// SPDX-License-Identifier: Apache-2.0
// A library to be loaded before the C library's calls on files: the call number FAULT_AT fails with
// the error FAULT_ERRNO, or ends the process by the signal FAULT_SIGNAL before it is made. Every
// call counts, of any kind, but for opening what has an absolute path: in tests these are fonts and
// the like, which a drawing can do without. The file FAULT_MARK is made when that happens, so that
// who asks for a call that never comes knows.
#include <dlfcn.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdarg>
#include <cstdlib>

namespace {

int NumberOf(const char* name) {
  const char* text = getenv(name);
  return text == nullptr ? 0 : atoi(text);
}

// Whether this call is to fail; errno is set then.
bool Fails() {
  static std::atomic<int> count{0};
  static const int at = NumberOf("FAULT_AT");
  if (++count != at) return false;
  if (const char* mark = getenv("FAULT_MARK")) {
    close(static_cast<int>(syscall(SYS_open, mark, O_CREAT | O_WRONLY, 0600)));
  }
  if (const int signal = NumberOf("FAULT_SIGNAL")) {
    raise(signal);
    return false;
  }
  errno = NumberOf("FAULT_ERRNO");
  return true;
}

template <typename Call>
Call* Next(const char* name) {
  return reinterpret_cast<Call*>(dlsym(RTLD_NEXT, name));
}

}  // namespace

#define LW_FAULTY(result, name, parameters, arguments)        \
  extern "C" result name parameters {                         \
    static auto* const next = Next<result parameters>(#name); \
    return Fails() ? -1 : next arguments;                     \
  }

LW_FAULTY(ssize_t, write, (int fd, const void* data, size_t size), (fd, data, size))
LW_FAULTY(int, fsync, (int fd), (fd))
LW_FAULTY(int, rename, (const char* from, const char* to), (from, to))
LW_FAULTY(int, renameat2,
          (int from_at, const char* from, int to_at, const char* to, unsigned flags),
          (from_at, from, to_at, to, flags))
LW_FAULTY(int, unlink, (const char* path), (path))
LW_FAULTY(int, unlinkat, (int at, const char* path, int flags), (at, path, flags))
LW_FAULTY(int, rmdir, (const char* path), (path))
LW_FAULTY(int, mkdir, (const char* path, mode_t mode), (path, mode))

#define LW_FAULTY_OPEN(name)                                           \
  extern "C" int name(const char* path, int flags, ...) {              \
    static auto* const next = Next<int(const char*, int, ...)>(#name); \
    va_list rest;                                                      \
    va_start(rest, flags);                                             \
    const unsigned mode = va_arg(rest, unsigned);                      \
    va_end(rest);                                                      \
    return *path != '/' && Fails() ? -1 : next(path, flags, mode);     \
  }

LW_FAULTY_OPEN(open)
LW_FAULTY_OPEN(open64)
