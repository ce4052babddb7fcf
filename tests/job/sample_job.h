// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <catch2/catch.hpp>
#include <string>

#include "lidwright/base/problem.h"

namespace lidwright {

/// A job that is right, one section a line, for tests to spoil.
inline const std::string kSampleJob = R"({
  "name": "sample", "units": "mm",
  "case": {"width": 340, "depth": 220, "height": 120, "wall": 12, "back_bow": 10},
  "lid": {"rim": 14, "crown": 38},
  "swing": {"open_deg": 95, "gap": 2},
  "arms": {"width": 8}
}
)";

/// The job with the one place where `what` stands replaced.
inline std::string Edited(const std::string& what, const std::string& with,
                          std::string job = kSampleJob) {
  const std::size_t at = job.find(what);
  REQUIRE(at != std::string::npos);
  REQUIRE(job.find(what, at + 1) == std::string::npos);
  return job.replace(at, what.size(), with);
}

/// Every problem on a line of its own.
inline std::string Lines(const Problems& problems) {
  std::string lines;
  for (const Problem& problem : problems) lines += Describe(problem) + "\n";
  return lines;
}

}  // namespace lidwright
