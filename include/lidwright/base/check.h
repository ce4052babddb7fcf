// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <sstream>
#include <stdexcept>
#include <string>

namespace lidwright {

/// The caller broke a contract of the code: a defect of lidwright, never of a job.
class ContractError : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

[[noreturn]] inline void ThrowContract(const char* condition, const char* file, int line,
                                       const std::string& values) {
  std::ostringstream text;
  text << "contract broken: " << condition << " at " << file << ":" << line;
  if (!values.empty()) text << " (" << values << ")";
  throw ContractError(text.str());
}

}  // namespace lidwright

/// Throws ContractError unless `condition` holds; the rest is streamed into the message, so
/// LW_REQUIRE(h > 0, "h=" << h) names the value that broke it. Never compiled out.
#define LW_REQUIRE(condition, values)                                              \
  do {                                                                             \
    if (!(condition)) {                                                            \
      std::ostringstream lw_values;                                                \
      lw_values << values; /* NOLINT */                                            \
      ::lidwright::ThrowContract(#condition, __FILE__, __LINE__, lw_values.str()); \
    }                                                                              \
  } while (false)
