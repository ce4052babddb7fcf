// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fstream>
#include <iterator>
#include <stdexcept>

#include "bench/random_boxes.h"
#include "places.h"

namespace lidwright::bench {

inline constexpr unsigned kRandomBoxes = 60;

/// The boxes that a search is judged by: examples, those once missed, random ones.
inline std::vector<Box> AllBoxes() {
  std::vector<Box> all;
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    std::ifstream file(testing::SourceFolder() + "/examples/" + name + ".json");
    all.push_back({name, std::string(std::istreambuf_iterator<char>(file), {})});
  }
  const std::vector<Box> missed = MissedBoxes();
  all.insert(all.end(), missed.begin(), missed.end());
  for (unsigned seed = 1; seed <= kRandomBoxes; ++seed) all.push_back(RandomBox(seed));
  return all;
}

inline Job JobOf(const Box& box) {
  const JobReading reading = ReadJob(box.text, box.name);
  if (!reading.job) throw std::runtime_error(box.name + " is no job");
  return *reading.job;
}

}  // namespace lidwright::bench
