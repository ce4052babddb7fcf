// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/meant.h"

#include "lidwright/base/problem.h"

namespace lidwright {

std::string DidYouMean(const std::string& typed, const std::vector<std::string>& allowed) {
  std::string meant;
  for (const std::string& name : allowed) {
    if ((" " + name + " ").find(" " + typed + " ") == std::string::npos) continue;
    meant += (meant.empty() ? "\"" : " or \"") + name + "\"";
  }
  if (meant.empty()) {
    const std::string near = Nearest(typed, allowed);
    if (!near.empty()) meant = "\"" + near + "\"";
  }
  return meant.empty() ? "" : "did you mean " + meant + "?";
}

}  // namespace lidwright
