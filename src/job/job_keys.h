// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/keys.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// A job while it is read: the Job itself, and what has no place in it.
struct JobDraft {
  Job job;
  std::string units;
  double wall_mm = kUnset;  ///< case.wall, only a default for other walls
  std::string curve;        ///< lid.curve, only a default for the two sides
  /// The list object that is being read.
  struct {
    std::vector<Ring> rings;
    double back_mm = kUnset, front_mm = kUnset, height_mm = kUnset;
    double from_z_mm = kUnset, to_z_mm = kUnset;
  } content;
  struct {
    double angle_rad = kUnset, within_mm = kUnset;
    std::optional<Vec2> at, point;
  } pose;
  StationOutline station;
};

/// The table of all keys of a job file, its slots in `draft`, which must outlive it. Lids given by
/// stations need no measures.
std::vector<Key> JobKeys(JobDraft* draft, bool has_stations);

}  // namespace lidwright
