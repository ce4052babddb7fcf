// SPDX-License-Identifier: Apache-2.0
#include "dimensions.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "labels.h"
#include "lidwright/drawing/style.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr double kTextLift_mm = 0.9;  // of a text above its line
constexpr double kAside_mm = 2.2;     // from a stroke to a text outside
constexpr int kMostLines = 12;

}  // namespace

DimensionSide::DimensionSide(Canvas& canvas, bool upright, double first_mm, int direction)
    : canvas_(canvas), upright_(upright), first_mm_(first_mm), direction_(direction) {}

Vec2 DimensionSide::At(double along_mm, double across_mm) const {
  return upright_ ? Vec2(across_mm, along_mm) : Vec2(along_mm, across_mm);
}

double DimensionSide::Reach_mm() const {
  const double lines = static_cast<double>(std::max<std::size_t>(lines_.size(), 1)) - 1.0;
  return first_mm_ + direction_ * (lines * style::kDimStep_mm + style::kDimOver_mm + kTextLift_mm +
                                   style::kText_mm);
}

bool DimensionSide::Add(const Vec2& a, const Vec2& b, const std::string& text) {
  const int k = upright_ ? 1 : 0;
  const double low = std::min(a[k], b[k]), high = std::max(a[k], b[k]);
  Lettering lettering;
  lettering.height_mm = style::kText_mm;
  lettering.upright = upright_;
  lettering.colour = style::kDimInk;
  lettering.along = 0.5;
  lettering.behind = style::kPaper;
  const double length = LengthOf(text, lettering.height_mm);
  // The text stands above its line: to the left of an upright one.
  const double lift = upright_ ? -kTextLift_mm : kTextLift_mm;

  for (int line = 0; line < kMostLines; ++line) {
    if (lines_.size() <= static_cast<std::size_t>(line)) lines_.emplace_back();
    const double across = first_mm_ + direction_ * line * style::kDimStep_mm;
    for (const int place : {0, 1, -1}) {  // between the strokes, beyond, before
      if (place == 0 && length + 1.6 > high - low) continue;
      const double middle = place == 0   ? (low + high) / 2.0
                            : place == 1 ? high + kAside_mm + length / 2.0
                                         : low - kAside_mm - length / 2.0;
      const Span span{std::min(low, middle - length / 2.0), std::max(high, middle + length / 2.0)};
      auto& taken = lines_[static_cast<std::size_t>(line)];
      const bool meets = std::any_of(taken.begin(), taken.end(), [&](const Span& other) {
        return span.from < other.to - 0.01 && other.from + 0.01 < span.to;
      });
      const Vec2 at = At(middle, across + lift);
      const Rect2 box = canvas_.BoxOf(text, at, lettering);
      if (meets || !canvas_.Free(box, style::kTextClear_mm) || ReadsOn(canvas_, box, upright_))
        continue;
      Rect2 run;  // nor may the line run through a text
      run.Add(At(span.from, across - 0.1));
      run.Add(At(span.to, across + 0.1));
      if (!canvas_.Free(run, 0.2)) continue;
      taken.push_back(span);
      canvas_.Write(text, at, lettering);
      Path strokes;
      for (const Vec2& p : {a, b}) {
        const double end = across + direction_ * style::kDimOver_mm;
        const double start = p[1 - k] + direction_ * style::kDimGap_mm;
        if (direction_ * (end - start) > 0.0) {
          DrawAroundTexts(canvas_, At(p[k], start), At(p[k], end), style::kDim);
        }
        const Vec2 slant = Vec2(0.5, 0.5).normalized() * style::kDimStroke_mm / 2.0;
        const Vec2 foot = At(p[k], across);
        strokes.push_back(PageLine({foot - slant, foot + slant})[0]);
      }
      canvas_.Draw(strokes, std::nullopt, style::kFineEdge);
      const Vec2 from = At(place == 1 ? low : span.from, across);
      const Vec2 to = At(place == -1 ? high : span.to, across);
      canvas_.Draw(PageLine({from, to}), std::nullopt, style::kDim);
      return true;
    }
  }
  return false;
}

void DrawOrdinates(Canvas& canvas, std::vector<Ordinate> ordinates, bool row_along_x, double row_mm,
                   int direction) {
  const int k = row_along_x ? 0 : 1;
  std::stable_sort(ordinates.begin(), ordinates.end(),
                   [k](const Ordinate& a, const Ordinate& b) { return a.point[k] < b.point[k]; });
  Lettering lettering;
  lettering.height_mm = style::kText_mm;
  lettering.colour = style::kDimInk;
  lettering.upright = row_along_x;
  lettering.across = 0.5;
  // Texts of a row along x stand upright and end (or begin) at the row.
  lettering.along = direction > 0 ? 0.0 : 1.0;
  const double pitch = style::kText_mm + 2.0 * style::kTextClear_mm + 0.6;
  // Pushed apart: groups of texts that would meet are spread about their mean.
  struct Group {
    double sum = 0.0;
    int count = 0;
    double Low(double step) const { return sum / count - step * (count - 1) / 2.0; }
    double High(double step) const { return sum / count + step * (count - 1) / 2.0; }
  };
  std::vector<Group> groups;
  for (const Ordinate& ordinate : ordinates) {
    groups.push_back({ordinate.point[k], 1});
    while (groups.size() > 1 &&
           groups[groups.size() - 2].High(pitch) + pitch > groups.back().Low(pitch)) {
      groups[groups.size() - 2].sum += groups.back().sum;
      groups[groups.size() - 2].count += groups.back().count;
      groups.pop_back();
    }
  }
  const auto at = [&](double along, double across) {
    return row_along_x ? Vec2(along, across) : Vec2(across, along);
  };
  std::size_t next = 0;
  for (const Group& group : groups) {
    for (int i = 0; i < group.count; ++i, ++next) {
      const Ordinate& ordinate = ordinates[next];
      const double place = group.Low(pitch) + i * pitch;
      const double knee = row_mm - direction * 4.0;
      const Vec2 start = at(ordinate.point[k], ordinate.point[1 - k]);
      canvas.Draw(PageLine({start, at(ordinate.point[k], knee), at(place, row_mm - direction * 1.0),
                            at(place, row_mm)}),
                  std::nullopt, style::kDim);
      canvas.Write(ordinate.text, at(place, row_mm + direction * 0.8), lettering);
    }
  }
}

}  // namespace lidwright
