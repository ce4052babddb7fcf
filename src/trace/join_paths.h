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
};

/// A closed outline, counter-clockwise.
struct Loop {
  Ring ring;
  std::string label;
  int line = 0;
  bool from_net = false;  ///< a mesh of lines that meet three at a time
};

struct Joined {
  std::vector<Loop> loops;
  std::vector<Loop> net_outsides;  ///< the outside of each net, all its meshes together
  Problems open_ends;  ///< of what could not be closed, with place; for the caller to weigh
  Notes notes;
};

/// Joins paths end to end into closed outlines. Ends within kTouch_mm are one; dangling ends within
/// gap_limit_mm of each other get a straight edge, nearest first, and a note; an end that touches
/// the middle of an open path splits it. Paths drawn twice count once, with a note.
///
/// What still dangles is taken out and described in open_ends. What then hangs together with
/// points where three or more ends meet is a net: its bounded faces are loops.
Joined JoinPaths(std::vector<FlatPath> paths, double gap_limit_mm, const std::string& file_name);

/// "(12.5, -4)".
std::string PlaceText(const Vec2& p);

}  // namespace lidwright
