// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/list_sheet.h"

#include <algorithm>

#include "boxes.h"
#include "full_size.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/check.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr bool kLying = false;    // upright sheets hold more rows under fewer title blocks
constexpr double kLine_mm = 4.0;  // between lines of one row
constexpr double kPad_mm = 2.2;   // between rows

class Lister {
 public:
  Lister(const Job& job, const std::string& shows) : job_(job), shows_(shows) {
    const Vec2 paper = PaperSize(job, kLying);
    frame_ = FrameOf(paper);
    block_ = TitleBlockOf(paper);
    NextSheet();
  }

  void Add(const PrintedList& list) {
    LW_REQUIRE(list.heads.size() == list.shares.size() && list.shares.size() == list.right.size(),
               list.title);
    if (y_ < frame_.high.y() - 10.0) y_ -= 6.0;
    if (y_ - 30.0 < Low()) NextSheet();
    Head(list);
    for (const auto& row : list.rows) {
      const double height = HeightOf(list, row);
      if (y_ - height < Low()) {
        NextSheet();
        Head(list);
      }
      Row(list, row, style::kText_mm, style::kInk);
      Rule(style::kGhost);
    }
  }

  std::vector<Canvas> sheets() { return std::move(sheets_); }

 private:
  double Low() const { return block_.high.y() + 2.0; }
  double Width() const { return Size(frame_).x() - 8.0; }

  void NextSheet() {
    sheets_.push_back(MakeSheet(job_, kLying, {shows_, 0.0}));
    y_ = frame_.high.y() - 3.0;
  }

  void Head(const PrintedList& list) {
    Lettering title;
    title.height_mm = style::kTitle_mm;
    title.across = 1.0;
    sheets_.back().Write(list.title, {frame_.low.x() + 4.0, y_ - 1.0}, title);
    y_ -= 7.5;
    Row(list, list.heads, style::kSmall_mm, style::kInk);
    Rule(style::kFineEdge);
  }

  std::vector<std::string> Lines(const PrintedList& list, std::size_t column,
                                 const std::string& text, double height) const {
    const double room = list.shares[column] * Width() - (list.right[column] ? 4.0 : 2.0);
    std::vector<std::string> lines = Broken(text, room, height);
    for (std::string& line : lines) line = Fitted(line, room, height);
    return lines;
  }

  double HeightOf(const PrintedList& list, const std::vector<std::string>& row) const {
    std::size_t most = 1;
    for (std::size_t c = 0; c < std::min(row.size(), list.shares.size()); ++c) {
      most = std::max(most, Lines(list, c, row[c], style::kText_mm).size());
    }
    return kLine_mm * static_cast<double>(most) + kPad_mm;
  }

  void Row(const PrintedList& list, const std::vector<std::string>& row, double height,
           Colour colour) {
    double x = frame_.low.x() + 4.0;
    Lettering lettering;
    lettering.height_mm = height;
    lettering.colour = colour;
    for (std::size_t c = 0; c < std::min(row.size(), list.shares.size()); ++c) {
      lettering.along = list.right[c] ? 1.0 : 0.0;
      const double at = list.right[c] ? x + list.shares[c] * Width() - 4.0 : x;
      double line_y = y_ - kPad_mm / 2.0 - height - 0.4;
      for (const std::string& line : Lines(list, c, row[c], height)) {
        sheets_.back().Write(line, {at, line_y}, lettering);
        line_y -= kLine_mm;
      }
      x += list.shares[c] * Width();
    }
    y_ -= HeightOf(list, row);
  }

  void Rule(const Pen& pen) {
    const double left = frame_.low.x() + 4.0;
    sheets_.back().Draw(PageLine({{left, y_}, {left + Width(), y_}}), std::nullopt, pen);
  }

  const Job& job_;
  std::string shows_;
  Rect2 frame_, block_;
  std::vector<Canvas> sheets_;
  double y_ = 0.0;
};

}  // namespace

std::vector<Canvas> ListSheets(const Job& job, const std::string& shows,
                               const std::vector<PrintedList>& lists) {
  Lister lister(job, shows);
  for (const PrintedList& list : lists) lister.Add(list);
  return lister.sheets();
}

std::vector<Canvas> PartsSheets(const Job& job, const PartsList& list) {
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  PrintedList parts{"Parts for both ends",
                    {"item", "part", "count", "size", "material", "remark"},
                    {0.06, 0.17, 0.09, 0.25, 0.15, 0.28},
                    {false, false, true, false, false, false},
                    {}};
  for (const PartsRow& row : list.parts) {
    parts.rows.push_back({std::to_string(parts.rows.size() + 1), row.part,
                          std::to_string(row.count), row.size, row.material, row.remark});
  }
  PrintedList saw{"Rod and tube to saw",
                  {"stock", "count", "length", "for"},
                  {0.3, 0.09, 0.13, 0.48},
                  {false, true, true, false},
                  {}};
  for (const SawRow& row : list.saw) {
    for (const SawRow::Cut& cut : row.cuts) {
      saw.rows.push_back({row.stock, std::to_string(cut.count), say(cut.length_mm), cut.for_what});
    }
    saw.rows.push_back({row.stock, "", BenchText(row.total_mm, Bench::kRoom, job.inches),
                        "all of it, with " + say(kSawCut_mm) + " lost at each cut"});
  }
  PrintedList sheets{"Sheet to have",
                     {"stock", "count", "size", "used"},
                     {0.3, 0.09, 0.23, 0.38},
                     {false, true, false, false},
                     {}};
  for (const SheetRow& row : list.sheets) {
    sheets.rows.push_back({row.stock, std::to_string(row.count), row.size, row.used});
  }
  std::vector<PrintedList> lists;
  for (const PrintedList& one : {parts, saw, sheets}) {
    if (!one.rows.empty()) lists.push_back(one);
  }
  return ListSheets(job, "Parts list and cutting list", lists);
}

}  // namespace lidwright
