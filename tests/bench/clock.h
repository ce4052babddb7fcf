// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <fstream>
#include <iterator>
#include <limits>
#include <string>

#include "lidwright/job/read_job.h"

namespace lidwright::bench {

/// Least seconds of `runs` calls: the one that was disturbed least.
template <typename Work>
double Best(int runs, const Work& work) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < runs; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    const auto end = std::chrono::steady_clock::now();
    best = std::min(best, std::chrono::duration<double>(end - start).count());
  }
  return best;
}

/// Reads a job or prints its problems and ends.
inline Job JobFrom(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: %s JOB\n", argv[0]);
    std::exit(3);
  }
  std::ifstream file(argv[1]);
  const std::string text{std::istreambuf_iterator<char>(file), {}};
  const JobReading reading = ReadJob(text, argv[1]);
  for (const Problem& problem : reading.problems) {
    std::fprintf(stderr, "%s\n", Describe(problem).c_str());
  }
  if (!reading.job) std::exit(2);
  return *reading.job;
}

}  // namespace lidwright::bench
