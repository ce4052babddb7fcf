// SPDX-License-Identifier: Apache-2.0
#include "lidwright/app/output_folder.h"

#include <unistd.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <system_error>
#include <vector>

#include "lidwright/base/problem.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

void Save(const fs::path& path, const std::string& text) {
  std::ofstream file(path, std::ios::binary);
  file.write(text.data(), static_cast<std::streamsize>(text.size()));
  file.close();
  if (!file) throw FileError("cannot write " + path.string());
}

// A name beside the target that nobody else uses.
fs::path Beside(const fs::path& target, const std::string& what) {
  fs::path name = target;
  name.replace_filename("." + target.filename().string() + "." + what + "." +
                        std::to_string(::getpid()));
  return name;
}

fs::path Clean(const std::string& path) {
  fs::path target = fs::path(path).lexically_normal();
  if (!target.has_filename()) target = target.parent_path();  // a trailing slash
  if (target.empty() || target.filename() == "." || target.filename() == "..") {
    throw FileError("'" + path + "' cannot be an output folder: it needs a name");
  }
  return target;
}

// Removes what is half done when something fails.
class Scratch {
 public:
  explicit Scratch(fs::path path) : path_(std::move(path)) {}
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  ~Scratch() {
    std::error_code ignored;
    if (!path_.empty()) fs::remove_all(path_, ignored);
  }
  void Keep() { path_.clear(); }

 private:
  fs::path path_;
};

// " (did you mean …?)" with the file of the same folder whose name is nearest, or "".
std::string NearestFile(const fs::path& path) {
  std::vector<std::string> names;
  std::error_code error;
  const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
  for (fs::directory_iterator it(folder, error), end; !error && it != end; it.increment(error)) {
    if (it->is_regular_file(error)) names.push_back(it->path().filename().string());
  }
  std::sort(names.begin(), names.end());
  const std::string near = Nearest(path.filename().string(), names);
  return near.empty() ? "" : " (did you mean " + (path.parent_path() / near).string() + "?)";
}

}  // namespace

std::string ReadFile(const std::string& path, std::size_t limit_bytes) {
  std::error_code error;
  const fs::file_status status = fs::status(path, error);
  if (!fs::exists(status)) throw FileError(path + ": there is no such file" + NearestFile(path));
  if (fs::is_directory(status)) throw FileError(path + ": this is a folder, not a file");
  std::ifstream file(path, std::ios::binary);
  if (!file) throw FileError(path + ": cannot be read");
  // A regular file that is too large is not read first; a pipe does not say how long it is.
  const std::uintmax_t size = fs::is_regular_file(status) ? fs::file_size(path, error) : 0;
  const auto check = [&](std::uintmax_t bytes) {
    if (bytes <= limit_bytes) return;
    throw FileError(path + ": larger than " + std::to_string(limit_bytes >> 20) + " MiB");
  };
  if (!error) check(size);
  std::string text;
  std::string block(1 << 16, '\0');
  while (file) {
    file.read(block.data(), static_cast<std::streamsize>(block.size()));
    text.append(block, 0, static_cast<std::size_t>(file.gcount()));
    check(text.size());
  }
  if (file.bad()) throw FileError(path + ": cannot be read");
  return text;
}

void CheckFolder(const std::string& path, IfThere if_there) {
  const fs::path target = Clean(path);
  std::error_code error;
  if (fs::exists(fs::symlink_status(target, error))) {
    if (!fs::is_directory(target, error)) {
      throw FileError(target.string() + " is there already and is not a folder");
    }
    if (if_there == IfThere::kRefuse) {
      throw FileError(target.string() +
                      " is there already: name another folder with --out, or say --replace");
    }
    if (!fs::exists(target / kFolderMark, error)) {
      throw FileError(target.string() +
                      " was not written by lidwright and is left alone: name another folder");
    }
    if (fs::is_symlink(target, error)) {
      throw FileError(target.string() + " is a link and is left alone: name another folder");
    }
  }
  const fs::path parent = target.has_parent_path() ? target.parent_path() : fs::path(".");
  fs::create_directories(parent, error);
  if (!fs::is_directory(parent) || ::access(parent.c_str(), W_OK | X_OK) != 0) {
    throw FileError("cannot write into " + parent.string());
  }
}

void WriteFolder(const std::string& path, const FolderContents& contents, IfThere if_there) {
  CheckFolder(path, if_there);
  const fs::path target = Clean(path);
  const fs::path fresh = Beside(target, "new"), old = Beside(target, "old");
  try {
    Scratch scratch(fresh);
    fs::remove_all(fresh);
    fs::create_directories(fresh);
    for (const auto& [name, text] : contents) {
      const fs::path file = fresh / name;
      fs::create_directories(file.parent_path());
      Save(file, text);
    }
    Save(fresh / kFolderMark, "written by lidwright; may be replaced by it\n");
    const bool replaces = fs::exists(target);
    if (replaces) fs::rename(target, old);
    std::error_code error;
    fs::rename(fresh, target, error);
    if (error) {
      if (replaces) fs::rename(old, target);
      throw FileError("cannot write " + target.string() + ": " + error.message());
    }
    scratch.Keep();
    if (replaces) fs::remove_all(old, error);
  } catch (const fs::filesystem_error& error) {
    throw FileError("cannot write " + target.string() + ": " + error.code().message());
  }
}

void CheckFile(const std::string& path, IfThere if_there) {
  const fs::path target(path);
  if (if_there == IfThere::kRefuse && fs::exists(fs::symlink_status(target))) {
    throw FileError(path + " is there already: name another file, or say --replace");
  }
  if (fs::is_directory(target)) throw FileError(path + " is a folder");
  const fs::path parent = target.has_parent_path() ? target.parent_path() : fs::path(".");
  std::error_code none;
  if (!fs::is_directory(parent, none)) {
    throw FileError(path + ": there is no folder " + parent.string());
  }
  if (::access(parent.c_str(), W_OK | X_OK) != 0) {
    throw FileError("cannot write into " + parent.string());
  }
}

void WriteFile(const std::string& path, const std::string& text, IfThere if_there) {
  CheckFile(path, if_there);
  const fs::path target(path);
  const fs::path fresh = Beside(target, "new");
  Scratch scratch(fresh);
  Save(fresh, text);
  std::error_code error;
  fs::rename(fresh, target, error);
  if (error) throw FileError("cannot write " + path + ": " + error.message());
  scratch.Keep();
}

}  // namespace lidwright
