// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <iosfwd>
#include <string>

namespace lidwright {

/// One line on a terminal that says what is being done; nothing elsewhere.
class Progress {
 public:
  Progress(std::ostream& out, bool terminal) : out_(out), terminal_(terminal) {}
  ~Progress() { Clear(); }
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;

  void Show(const std::string& what, double share);
  void Clear();

 private:
  std::ostream& out_;
  bool terminal_;
  std::string stage_;
  std::size_t shown_ = 0;
  std::chrono::steady_clock::time_point stage_start_{}, last_{};
};

}  // namespace lidwright
