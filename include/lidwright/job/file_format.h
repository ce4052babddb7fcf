// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

// What kind of file it is and which form of it, as its key "format" says.
namespace lidwright {

struct FileFormat {
  const char* kind;
  int version;  ///< the one that is written; earlier ones are read as well
};

/// 1: no "format" at all; pivots and plates in the case were called "ground". 2: "format" is said.
inline constexpr FileFormat kJobFormat{"lidwright job", 2};
/// 1: pivots in the case were called "ground". 2: "case_a" and "case_b".
inline constexpr FileFormat kHingeFormat{"lidwright hinge", 2};

/// "lidwright job 2".
std::string FormatText(const FileFormat& format);

enum class FormatFit { kReadable, kNewer, kOther };

/// Whether a file whose "format" is `text` can be read as one of this kind.
FormatFit FitOf(const std::string& text, const FileFormat& format);

}  // namespace lidwright
