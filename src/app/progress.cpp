// SPDX-License-Identifier: Apache-2.0
#include "progress.h"

#include <algorithm>
#include <cmath>
#include <ostream>

#include "lidwright/base/numbers.h"

namespace lidwright {

void Progress::Show(const std::string& what, double share) {
  if (!terminal_) return;
  const auto now = std::chrono::steady_clock::now();
  if (what != stage_) {
    stage_ = what;
    stage_start_ = now;
  } else if (now - last_ < std::chrono::milliseconds(100)) {
    return;
  }
  last_ = now;
  const double spent = std::chrono::duration<double>(now - stage_start_).count();
  std::string line = what + ": " + Fixed(100.0 * std::clamp(share, 0.0, 1.0), 0) + " %";
  if (share > 0.05 && spent > 0.5) {
    line += ", " + Fixed(std::ceil(spent * (1.0 - share) / share), 0) + " s left";
  }
  const std::size_t width = line.size();
  if (width < shown_) line.append(shown_ - width, ' ');
  shown_ = width;
  out_ << '\r' << line << std::flush;
}

void Progress::Clear() {
  if (shown_ == 0) return;
  out_ << '\r' << std::string(shown_, ' ') << '\r' << std::flush;
  shown_ = 0;
}

}  // namespace lidwright
