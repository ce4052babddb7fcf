// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "lidwright/cutting/parts_list.h"
#include "lidwright/cutting/work_steps.h"
#include "lidwright/design/risks.h"
#include "lidwright/drawing/canvas.h"
#include "swing_scene.h"

namespace lidwright {

/// An upright page of the booklet that fills from above. All lettering is 2.5 mm or more, black.
class BookletPage {
 public:
  BookletPage(const Job& job, const std::string& chapter);

  /// What is left of the page's height [mm], and the next `height_mm` of it.
  double Left() const { return y_ - area_.low.y(); }
  Rect2 Take(double height_mm);

  void Title(const std::string& text, double height_mm);
  void Paragraph(const std::string& text);
  /// A line with a box before it to tick.
  void Tick(const std::string& text);
  void WritingLine(const std::string& text);
  /// Lines to write on to the page's end.
  void WritingLines();
  void CheckTable(const std::vector<std::vector<std::string>>& rows);

  /// The hinge half open, with thin outlines of the lid shut and open, and a key.
  void CoverPicture(const SwingScene& scene, const Rect2& area);
  double HeightOfRisks(const std::vector<Risk>& risks) const;
  void Risks(const std::vector<Risk>& risks);
  static double HeightOfContents(std::size_t lines);
  void Contents(const std::vector<std::pair<std::string, std::size_t>>& lines);
  void DrawExplodedIn(const std::vector<HingePiece>& pieces, const PartsList& list,
                      const Rect2& area, bool left);

  /// Of a step in its block: a rule, a box to tick, number and title; the picture in its frame;
  /// text in a column from y down, after a word, and the next y; a line to write on, and its y.
  void StepHead(const Rect2& block, std::size_t number, const std::string& title);
  void StepPicture(const SwingScene& scene, const WorkStep& step, const PartsList& list,
                   const Rect2& area);
  double TextIn(const Rect2& column, double y_mm, const std::string& word, const std::string& text);
  double WriteIn(const Rect2& column, double y_mm, const std::string& text);

  Canvas Done() { return std::move(canvas_); }

 private:
  double Width() const;

  Canvas canvas_;
  Rect2 area_;
  double y_ = 0.0;
};

/// Numbers the pages where each keeps room for it: "7 / 22".
void WriteFolios(std::vector<Canvas>& pages);

}  // namespace lidwright
