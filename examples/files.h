// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

/// A whole file. Throws if it cannot be read.
inline std::string Read(const std::filesystem::path& path) {
  std::ifstream file(path, std::ios::binary);
  if (!file) throw std::runtime_error("cannot read " + path.string());
  return {std::istreambuf_iterator<char>(file), {}};
}

/// Leaves a file alone that holds this already. Throws if it cannot be written.
inline void Write(const std::filesystem::path& path, const std::string& text) {
  if (std::filesystem::exists(path) && Read(path) == text) return;
  std::ofstream file(path, std::ios::binary);
  file << text;
  if (!file.flush()) throw std::runtime_error("cannot write " + path.string());
}
