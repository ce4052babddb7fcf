// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>

#include "lidwright/base/problem.h"
#include "lidwright/base/units.h"

namespace lidwright {

/// What a file, or whoever made a job, gave, where, and what is wrong with it.
///
/// Places are paths with indices ("contents[2].from_z").
class Findings {
 public:
  explicit Findings(std::string file) : file_(std::move(file)) {}

  /// Millimetres in the job's unit of length; while it is NaN lengths are only checked for type.
  void SetUnit(double mm_per_unit) { mm_per_unit_ = mm_per_unit; }
  double mm_per_unit() const { return mm_per_unit_; }

  /// Something stands at `place`: on that line (0: there are no lines), so written.
  void Give(const std::string& place, int line, const std::string& written) {
    given_[place] = {line, written};
  }
  bool WasGiven(const std::string& place) const { return given_.count(place) > 0; }

  /// Adds a problem about the value at `place`. If that was given, its line and text are named,
  /// else the line of what would hold it, and `otherwise` as the value.
  void Complain(const std::string& place, const std::string& rule, const std::string& hint = "",
                const std::string& otherwise = "");

  /// The same about a value whose line and text the caller knows.
  void ComplainAt(int line, const std::string& written, const std::string& place,
                  const std::string& rule, const std::string& hint = "");

  std::size_t Count() const { return problems_.size(); }

  /// "110 mm", or "4.331 in" in a job of inches.
  std::string Shown(double length_mm) const;

  /// All problems, `earlier` ones among them, by line. Those past kMostProblems are only counted.
  Problems TakeProblems(Problems earlier = {});

 private:
  struct Spot {
    int line = 0;
    std::string written;
  };
  int LineOf(const std::string& place) const;

  std::string file_;
  double mm_per_unit_ = kUnset;
  std::map<std::string, Spot> given_;
  Problems problems_;
};

}  // namespace lidwright
