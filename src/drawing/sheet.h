// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// What the title block says besides the job's name and unit.
struct SheetWords {
  std::string shows;   ///< what the drawing shows
  double scale = 1.0;  ///< 0 for a drawing without one
};

/// The sheet that a maker's printer holds: A4, or US Letter where the unit is the inch [mm].
Vec2 PaperSize(const Job& job, bool landscape);

/// The frame's inside on such a sheet.
Rect2 FrameOf(const Vec2& paper);

/// Where the title block stands: at the lower right of the frame.
Rect2 TitleBlockOf(const Vec2& paper);

/// A sheet with its frame and title block.
Canvas MakeSheet(const Job& job, bool landscape, const SheetWords& words);

/// The largest of the usual scales (1:1, 1:2, 1:2.5, 1:3, 1:4, 1:5 … 1:200, enlarging ones too if
/// asked for) at which the drawing fits; the smallest if none does.
double UsualScale(const std::function<bool(double)>& fits, bool enlarge = false);

/// "1 : 2.5", "2 : 1".
std::string ScaleText(double scale);

/// The number of a part in a ring, its centre at `at`.
void DrawItem(Canvas& canvas, const Vec2& at, int item);
inline constexpr double kItem_mm = 3.0;  ///< radius of the ring

/// Columns of text from the top left corner down, the first row in capitals' height as the others
/// but underlined. `right` says which columns stand against their right edge. Texts too long for
/// their column are cut. Returns the lower edge.
struct Column {
  double width_mm = 0.0;
  bool right = false;
};
double DrawTable(Canvas& canvas, const Vec2& top_left, const std::vector<Column>& columns,
                 const std::vector<std::vector<std::string>>& rows);
double TableHeight(std::size_t rows);

/// A swatch for the key of a drawing.
enum class Swatch {
  kCase,
  kLid,
  kArmA,
  kArmB,
  kPlate,
  kPacking,
  kStop,
  kStay,
  kEndWall,
  kZone,
  kContents,
  kTrack,
  kMark
};
struct KeyEntry {
  Swatch swatch;
  std::string text;
};
/// Entries side by side in as many columns as fit `width_mm`. Returns the lower edge.
double DrawKey(Canvas& canvas, const Vec2& top_left, double width_mm,
               const std::vector<KeyEntry>& entries);
/// Plates, packing and stop as far as a hinge has them.
void AddPartsTo(std::vector<KeyEntry>& entries, const Hinge& hinge);
double KeyHeight(double width_mm, const std::vector<KeyEntry>& entries);

}  // namespace lidwright
