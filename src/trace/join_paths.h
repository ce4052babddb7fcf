// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/geometry/vec.h"
#include "lidwright/trace/drawing_outline.h"

namespace lidwright {

/// A drawn path as a polyline in mm.
struct FlatPath {
  std::vector<Vec2> points;  ///< first not repeated at the end if closed
  bool closed = false;
  std::vector<std::string> names;
  std::string label;
  int line = 0;
  double chord_error_mm = 0.0;  ///< how far it may be from the curves as drawn
};

/// A closed outline, counter-clockwise.
struct DrawnLoop {
  Ring ring;
  std::string label;
  int line = 0;
  bool from_net = false;      ///< a mesh of lines that meet three at a time
  bool drawn_closed = false;  ///< by one path, not joined from several
  double chord_error_mm = 0.0;
};

struct Joined {
  std::vector<DrawnLoop> loops;
  /// If there is a net: all lines that were joined, as they are linked, instead of faces the caller
  /// may look for fields.
  std::vector<FlatPath> net_lines;
  Problems open_ends;  ///< of what could not be closed, with place; for the caller to weigh
  Notes notes;
};

/// Joins paths end to end into closed outlines. Ends within kTouch_mm are one; dangling ends within
/// gap_limit_mm of each other get a straight edge, nearest first, and a note; an end that touches
/// the middle of an open path splits it. Paths drawn twice count once, with a note.
///
/// What still dangles is taken out and described in open_ends. What then hangs together with
/// points where three or more ends meet is a net: its bounded faces are loops.
///
/// Where the paths are known to be `boards` of one body, a run that begins and ends on one edge of
/// a closed path is closed along it: a board whose glue line is drawn with the other one only.
Joined JoinPaths(std::vector<FlatPath> paths, double gap_limit_mm, const std::string& file_name,
                 bool boards = false);

/// "(12.5, -4)".
std::string PlaceText(const Vec2& p);

}  // namespace lidwright
