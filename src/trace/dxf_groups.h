// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

/// One pair of lines of a DXF file: what kind of value, and the value.
struct DxfGroup {
  int code = 0;
  std::string value;
  int line = 0;  ///< of the value
};

/// A group 0 and those up to the next one.
struct DxfRecord {
  std::string type;
  int line = 0;
  std::vector<DxfGroup> groups;

  const DxfGroup* Find(int code) const;
  /// The text of a group, or `missing`.
  std::string Text(int code, const std::string& missing = "") const;
};

/// Records of the file in order, from the first group 0 to EOF. Fails on group codes that are no
/// whole numbers, a value that is lacking, and a file without EOF.
std::vector<DxfRecord> ReadDxfRecords(const std::string& text, const std::string& file_name,
                                      Problems* problems);

/// Takes numbers out of one record and notes what is wrong with them.
class DxfNumbers {
 public:
  DxfNumbers(const DxfRecord& record, const std::string& file_name, Problems* problems)
      : record_(record), file_name_(file_name), problems_(problems) {}

  bool good() const { return good_; }
  /// The number of the first such group, or `missing`; required if that is NaN.
  double Real(int code, double missing);
  int Whole(int code, int missing);
  double Positive(int code);
  /// Groups `code` and code + 10.
  Vec2 Point(int code);
  /// All numbers of that code.
  std::vector<double> All(int code);
  double Value(const DxfGroup& group);
  void Complain(int line, const std::string& value, const std::string& rule,
                const std::string& hint = "");

 private:
  const DxfRecord& record_;
  const std::string& file_name_;
  Problems* problems_;
  bool good_ = true;
};

}  // namespace lidwright
