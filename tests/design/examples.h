// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>

#include "lidwright/job/read_job.h"
#include "places.h"

namespace lidwright::testing {

/// A job of examples/, which must be right.
inline Job ExampleJob(const std::string& name) {
  std::ifstream file(lidwright::testing::SourceFolder() + "/examples/" + name + ".json");
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  const JobReading reading = ReadJob(text, name);
  if (!reading.job) throw std::runtime_error(name + " cannot be read");
  return *reading.job;
}

}  // namespace lidwright::testing
