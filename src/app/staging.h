// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <string>

// Where the next version of a folder or file is made before it takes its place.
namespace lidwright {

/// The hidden folder beside `target` in which its next version is made: ".NAME.lidwright", for
/// nobody else to look into. It holds
///     lock           held by the process that works here, and by nobody after it has ended
///     new            the next version, a file or a folder
///     old            what the next version takes the place of
///     journal        while it is there, the target is being changed: see replacement.h
/// Without a journal the target is whole and all else here is left over.
class Staging {
 public:
  /// Whether there is one for `target`, of a run that works now or was cut off. Fails with
  /// DiskError.
  static bool IsThere(const std::filesystem::path& target);

  /// Makes it, or takes over what a run that was cut off left; without a journal that is cleared
  /// away. Fails with FileError if another process works in it or if something else has its name,
  /// with DiskError if the disk does.
  explicit Staging(const std::filesystem::path& target);

  /// Clears it away; with a journal in it only the lock is given up.
  ~Staging();
  Staging(const Staging&) = delete;
  Staging& operator=(const Staging&) = delete;

  std::filesystem::path fresh() const { return folder_ / "new"; }
  std::filesystem::path old() const { return folder_ / "old"; }
  std::filesystem::path journal() const { return folder_ / "journal"; }
  const std::filesystem::path& folder() const { return folder_; }

  /// Removes all but lock and journal. What cannot be removed stays.
  void ClearLeftovers();

 private:
  bool TryToLock();
  bool HasJournal() const;

  std::filesystem::path target_, folder_;
  int lock_ = -1;
};

}  // namespace lidwright
