// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/file_format.h"

#include <charconv>

namespace lidwright {

std::string FormatText(const FileFormat& format) {
  return format.kind + (" " + std::to_string(format.version));
}

FormatFit FitOf(const std::string& text, const FileFormat& format) {
  const std::string before = std::string(format.kind) + " ";
  if (text.rfind(before, 0) != 0) return FormatFit::kOther;
  int version = 0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data() + before.size(), end, version);
  if (error != std::errc() || stop != end || version < 1) return FormatFit::kOther;
  return version > format.version ? FormatFit::kNewer : FormatFit::kReadable;
}

}  // namespace lidwright
