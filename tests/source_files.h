// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "places.h"

namespace lidwright::testing {

struct SourceFile {
  std::string path;  ///< from the root of the sources, with slashes
  std::string text;
};

/// Every .h and .cpp below `folder` of this checkout, by path.
inline std::vector<SourceFile> SourceFilesBelow(const std::string& folder) {
  namespace fs = std::filesystem;
  std::vector<SourceFile> files;
  const fs::path root(SourceFolder());
  for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
    const std::string ending = entry.path().extension().string();
    if (!entry.is_regular_file() || (ending != ".h" && ending != ".cpp")) continue;
    std::ifstream file(entry.path(), std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    files.push_back({fs::relative(entry.path(), root).generic_string(), text.str()});
  }
  std::sort(files.begin(), files.end(),
            [](const SourceFile& a, const SourceFile& b) { return a.path < b.path; });
  return files;
}

}  // namespace lidwright::testing
