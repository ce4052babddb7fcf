// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <vector>

#include "lidwright/trace/drawing_outline.h"
#include "trace/curve.h"

namespace lidwright {

/// What a reader found in a drawing's text: curves in the drawing's units, y up.
struct Drawing {
  std::vector<DrawnPath> paths;
  double mm_per_unit = kUnset;  ///< as the file says
  std::string unit_said;        ///< how the file says it, "" if it does not
  Notes notes;
  Problems problems;
  std::size_t curves = 0;  ///< in all paths

  /// Takes the path, or, once there are more than kMostCurves, says so once and takes nothing.
  bool Add(DrawnPath path, const std::string& file_name);
};

/// Counts what was left out, by reason, for one note each.
class LeftOut {
 public:
  void Add(const std::string& what) { ++counts_[what]; }
  /// "left out: 3 TEXT, 1 HATCH"; nothing if there is nothing.
  void NoteIn(Notes* notes) const;

 private:
  std::map<std::string, int> counts_;
};

/// At most 40 bytes of what a file says, fit for a message: control characters become "?".
std::string Quoted(const std::string& text);

/// `value` as a whole number; `otherwise` if it is none, or not a number, or beyond any count.
int WholeFrom(double value, int otherwise);

/// A plain decimal number that fills the whole text (spaces around it are allowed): finite, no
/// "inf", no hexadecimal. NaN if it is none.
double NumberFrom(const std::string& text);

Drawing ReadSvg(const std::string& text, const std::string& file_name);
Drawing ReadDxf(const std::string& text, const std::string& file_name);

/// Scales, joins, sorts into case and lid and moves into the side view's frame.
TracedOutline OutlineFrom(Drawing drawing, const TraceOptions& options);

}  // namespace lidwright
