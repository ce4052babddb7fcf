// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <system_error>
#include <vector>

#include "lidwright/app/output_folder.h"
#include "lidwright/base/problem.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

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
  if (!fs::status_known(status)) throw FileError(path + ": cannot be read: " + error.message());
  if (!fs::exists(status)) throw FileError(path + ": there is no such file" + NearestFile(path));
  if (fs::is_directory(status)) throw FileError(path + ": this is a folder, not a file");
  std::ifstream file(path, std::ios::binary);
  if (!file) throw FileError(path + ": cannot be read");
  // A regular file that is too large is not read first; a pipe does not say how long it is.
  error.clear();
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

}  // namespace lidwright
