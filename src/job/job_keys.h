// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/keys.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// A job while it is read or written: the Job itself, and what has no place in it.
struct JobDraft {
  Job job;
  bool has_stations = false;  ///< the box is given by them and needs no measures of the lid
  std::string format, units;
  double wall_mm = kUnset;  ///< case.wall, only a default for other walls
  std::string curve;        ///< lid.curve, only a default for the two sides
  /// The list object that is being read or written.
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

/// The table of all keys of a job file, its slots in `draft`, which must outlive it and stay where
/// it is. This is the one list of keys: whatever reads, checks, completes, writes or explains a job
/// goes through it. A new key is one row here and a field in Job.
std::vector<Key> JobKeys(JobDraft* draft);

// Its parts, in the order of the file.
std::vector<Key> TopKeys(JobDraft* draft);
std::vector<Key> CaseKeys(JobDraft* draft);
std::vector<Key> LidKeys(JobDraft* draft);
std::vector<Key> SwingKeys(JobDraft* draft);
std::vector<Key> RoomKeys(JobDraft* draft);
std::vector<Key> ArmKeys(JobDraft* draft);
std::vector<Key> PlateKeys(JobDraft* draft);
std::vector<Key> HardwareKeys(JobDraft* draft);
std::vector<Key> BayKeys(JobDraft* draft);
std::vector<Key> ShopKeys(JobDraft* draft);
std::vector<Key> LoadKeys(JobDraft* draft);
std::vector<Key> ContentKeys(JobDraft* draft);
std::vector<Key> PivotKeys(JobDraft* draft);
std::vector<Key> PoseKeys(JobDraft* draft);
std::vector<Key> StationKeys(JobDraft* draft);

/// [mm] No point of a box lies farther from its rear edge.
inline constexpr double kFar_mm = 5000.0;

}  // namespace lidwright
