// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <string>

#include "lidwright/job/read_job.h"
#include "lidwright/job/write_job.h"
#include "lidwright/solid/solid.h"

namespace lidwright::fuzz {

/// A law that every input must keep: the fuzzer stops at one that does not, and keeps it.
inline void Law(bool kept, const std::string& words) {
  if (kept) return;
  std::fprintf(stderr, "law broken: %s\n", words.c_str());
  std::abort();
}

/// Every problem has words, and none of them speaks to a terminal.
inline void LawOfProblems(const Problems& problems) {
  for (const Problem& problem : problems) {
    const std::string words = Describe(problem);
    Law(!problem.rule.empty(), "a problem has words: " + words);
    for (const char c : words) {
      Law(static_cast<unsigned char>(c) >= 0x20 && c != 0x7F, "no control characters: " + words);
    }
  }
}

/// Two trees with the same keys and texts, and with numbers this share of each other apart at most.
inline bool Same(const nlohmann::json& a, const nlohmann::json& b, double share) {
  if (a.is_number() && b.is_number()) {
    const double x = a, y = b;
    return std::abs(x - y) <= share * std::max({1.0, std::abs(x), std::abs(y)});
  }
  if (a.type() != b.type() || a.size() != b.size()) return false;
  if (a.is_object()) {
    return std::equal(a.begin(), a.end(), b.begin(),
                      [&](const auto& x, const auto& y) { return Same(x, y, share); }) &&
           std::equal(a.items().begin(), a.items().end(), b.items().begin(),
                      [](const auto& x, const auto& y) { return x.key() == y.key(); });
  }
  if (a.is_array()) {
    return std::equal(a.begin(), a.end(), b.begin(),
                      [&](const auto& x, const auto& y) { return Same(x, y, share); });
  }
  return a == b;
}

/// A job that was read: written and read again it is the same to the byte, in inches the same to
/// the numbers' digits, and a solid comes of it.
inline void LawsOfJob(const Job& job) {
  const std::string text = WriteJob(job);
  const JobReading back = ReadJob(text, "back.json");
  Law(back.job.has_value(), "what was read can be read again: " +
                                (back.problems.empty() ? "" : Describe(back.problems[0])));
  Law(WriteJob(*back.job) == text, "read, written and read it is the same");
  Job other_unit = job;
  other_unit.inches = !job.inches;
  JobReading turned = ReadJob(WriteJob(other_unit), "turned.json");
  Law(turned.job.has_value(), "in the other unit it can be read: " +
                                  (turned.problems.empty() ? "" : Describe(turned.problems[0])));
  turned.job->inches = job.inches;
  const auto tree = [](const std::string& of) { return nlohmann::json::parse(of); };
  Law(Same(tree(WriteJob(*turned.job)), tree(text), 1e-9), "in the other unit it is the same job");
  const Solid solid = MakeSolid(job);
  LawOfProblems(FaultsOf(job, solid));
  Law(!solid.stations.empty() && !solid.bounds.Empty(), "a solid comes of it");
  if (job.stations.empty() || !solid.mirrored) return;
  Law(job.stations.front().z_mm >= 0.0, "only stations of one side are mirrored");
}

}  // namespace lidwright::fuzz
