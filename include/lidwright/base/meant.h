// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// Which of the allowed names somebody may have meant, as a question: those that have `typed` among
/// their words, else the one that is written most alike. "did you mean "red oak" or "white oak"?"
/// for "oak"; empty where nothing is like it.
std::string DidYouMean(const std::string& typed, const std::vector<std::string>& allowed);

}  // namespace lidwright
