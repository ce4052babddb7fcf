// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/booklet.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <utility>

#include "booklet_page.h"
#include "exploded.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/cutting/work_steps.h"
#include "lidwright/drawing/arm_sheet.h"
#include "lidwright/drawing/arrangement.h"
#include "lidwright/drawing/jig_sheet.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/list_sheet.h"
#include "lidwright/drawing/nest_sheet.h"
#include "lidwright/drawing/plate_sheet.h"
#include "lidwright/drawing/stack_sheet.h"
#include "lidwright/drawing/style.h"
#include "lidwright/drawing/templates.h"
#include "step_picture.h"
#include "supplies.h"

namespace lidwright {
namespace {

constexpr double kPicture_mm = 84.0;  // width of a step's picture
constexpr double kCheckTable_mm = 78.0;
constexpr double kNotes_mm = 30.0;     // room that is worth lines to write on
constexpr double kTallest_mm = 125.0;  // of a step's block, and the least
constexpr double kLowest_mm = 66.0;
constexpr double kStepHead_mm = 10.0, kStepFoot_mm = 2.0;
constexpr std::size_t kStepsAPage = 3;  // at most
constexpr double kApart_mm = 5.0;
constexpr double kTick_mm = 10.0;    // a line to tick of up to two lines
constexpr double kTitled_mm = 24.0;  // a title with its first one

using Pages = std::vector<Canvas>;

// A step with its sheets, and where these stand in the booklet.
struct Chapter {
  WorkStep step;
  Pages sheets;
  std::size_t first_page = 0;
  double height_mm = 0.0;  // of its block at least
};

void Append(Pages more, Pages& pages) {
  for (Canvas& page : more) pages.push_back(std::move(page));
}

Pages SheetsOf(const Design& design, const Hinge& hinge, const CutSet& cut, const PartsList& list,
               StepSheet sheet) {
  const Job& job = design.job;
  const HingeSet& set = *hinge.parts;
  switch (sheet) {
    case StepSheet::kCard:
      return PaperTrial(design, hinge, set.pieces);
    case StepSheet::kPlates:
      return PlateSheets(job, design.solid, set.pieces, list);
    case StepSheet::kArms:
      return {ArmSheet(design, hinge)};
    case StepSheet::kNest:
      return NestSheets(job, cut, &list);
    case StepSheet::kStack:
      return StackSheets(job, design.solid, set.pieces, &list);
    case StepSheet::kTemplates:
      return DrillTemplates(job, design.solid, set.pieces, set.bench_work, &list);
    case StepSheet::kJig:
      return set.jig ? JigSheets(job, design.solid, *set.jig, set.pieces, &list) : Pages{};
    case StepSheet::kPivots:
      break;
  }
  return {Arrangement(design, hinge)};
}

std::string ItemsText(const WorkStep& step, const PartsList& list) {
  std::set<int> items;
  for (const std::string& name : step.pieces) {
    if (const int item = ItemOf(list, name); item > 0) items.insert(item);
  }
  std::string text;
  for (const int item : items) text += (text.empty() ? "" : ", ") + std::to_string(item);
  return text;
}

class Maker {
 public:
  Maker(const Design& design, const Hinge& hinge, const CutSet& cut, const PartsList& list)
      : design_(design), hinge_(hinge), job_(design.job), list_(list), scene_(design, hinge) {
    for (WorkStep& step : WorkSteps(job_, *hinge.parts)) {
      Chapter chapter;
      for (const StepSheet sheet : step.sheets) {
        Append(SheetsOf(design, hinge, cut, list, sheet), chapter.sheets);
      }
      chapter.step = std::move(step);
      chapter.height_mm = HeightOf(chapter);
      chapters_.push_back(std::move(chapter));
    }
    steps_a_page_ = StepsAPage();
  }

  Pages Make() {
    Pages lists = PartsSheets(job_, list_);
    Pages tools = Tools();
    list_page_ = 2 + tools.size();
    exploded_page_ = list_page_ + lists.size();
    NumberSheets(exploded_page_ + 1);
    Pages pages{Cover()};
    Append(std::move(tools), pages);
    Append(std::move(lists), pages);
    pages.push_back(Exploded());
    std::size_t next = 0;
    for (const std::size_t count : steps_a_page_) {
      pages.push_back(StepsPage(next, count));
      for (std::size_t i = next; i < next + count; ++i) {
        Append(std::move(chapters_[i].sheets), pages);
      }
      next += count;
    }
    WriteFolios(pages);
    return pages;
  }

 private:
  static BookletPage PageOfSteps(const Job& job) { return BookletPage(job, "Order of work"); }

  // What a step's words need, and its picture at least.
  double HeightOf(const Chapter& chapter) const {
    BookletPage page = PageOfSteps(job_);
    const Rect2 block = page.Take(kLowest_mm);
    const double foot = WriteStep(page, chapter, ColumnOf(block));
    return std::max(kLowest_mm, block.high.y() - foot + kStepFoot_mm);
  }

  // How many steps go on each page: on as few pages as there can be, the room left over shared out
  // evenly, so that no page is nearly empty. The check table stands after the last.
  std::vector<std::size_t> StepsAPage() const {
    const double room = PageOfSteps(job_).Left();
    struct Best {
      std::size_t pages = 0, count = 0;  // count: steps on the last of these pages
      double uneven_mm2 = 0.0;           // squares of what is left on each
    };
    std::vector<Best> best(1);  // of the first steps
    for (std::size_t end = 1; end <= chapters_.size(); ++end) {
      double left = room - (end == chapters_.size() ? kCheckTable_mm : 0.0);
      best.emplace_back();
      for (std::size_t count = 1; count <= std::min(end, kStepsAPage); ++count) {
        left -= chapters_[end - count].height_mm;
        if (left < 0.0 && count > 1) break;
        const Best& before = best[end - count];
        const Best with{before.pages + 1, count, before.uneven_mm2 + left * left};
        const Best& had = best[end];
        if (had.count == 0 ||
            std::pair(with.pages, with.uneven_mm2) < std::pair(had.pages, had.uneven_mm2)) {
          best[end] = with;
        }
      }
    }
    std::vector<std::size_t> counts;
    for (std::size_t end = chapters_.size(); end > 0; end -= best[end].count) {
      counts.insert(counts.begin(), best[end].count);
    }
    return counts;
  }

  void NumberSheets(std::size_t page) {
    std::size_t next = 0;
    for (const std::size_t count : steps_a_page_) {
      step_pages_.resize(next + count, page);
      ++page;
      for (std::size_t i = next; i < next + count; ++i) {
        chapters_[i].first_page = page;
        page += chapters_[i].sheets.size();
      }
      next += count;
    }
  }

  Canvas Cover() const {
    BookletPage page(job_, "Hidden hinge: bench booklet");
    page.Title(job_.name.empty() ? "A box without a name" : job_.name, 5.0);
    page.Paragraph(
        "The hidden hinge, from print to swing: opens to " + AngleText(scene_.swing.to_rad) +
        ", case " + BenchText(job_.case_form.width_mm, Bench::kSize, job_.inches) + " wide and " +
        BenchText(job_.case_form.depth_mm, Bench::kSize, job_.inches) + " deep" + NeedsBehind() +
        ". Numbers in rings, in the stack and in the steps' pictures are parts, the same "
        "everywhere; beside crosses on full-size sheets stand the lines of the sheet's table.");
    std::vector<std::pair<std::string, std::size_t>> contents{
        {"Tools, and what to buy", 2},
        {"Parts list", list_page_},
        {"Each end, drawn apart", exploded_page_}};
    for (std::size_t i = 0; i < chapters_.size(); ++i) {
      contents.push_back({std::to_string(i + 1) + "  " + chapters_[i].step.title, step_pages_[i]});
    }
    const std::vector<Risk> risks = RisksOf(design_, hinge_);
    const double below = page.HeightOfRisks(risks) + page.HeightOfContents(contents.size()) + 16.0;
    const Rect2 picture = page.Take(page.Left() - below);
    page.CoverPicture(scene_, picture);
    page.Risks(risks);
    page.Contents(contents);
    page.WritingLine("Made by, date:");
    return page.Done();
  }

  // One page, or two where the lists are long.
  Pages Tools() const {
    Pages pages;
    std::optional<BookletPage> page;
    const auto room = [&](double wanted_mm) {
      if (page && page->Left() >= wanted_mm) return;
      if (page) pages.push_back(page->Done());
      page.emplace(job_, "Tools, and what to buy");
    };
    const auto list = [&](const std::string& title, const std::vector<std::string>& lines) {
      room(kTitled_mm);
      page->Title(title, style::kTitle_mm);
      for (const std::string& line : lines) {
        room(kTick_mm);
        page->Tick(line);
      }
    };
    list("Tools", ToolsFor(job_, *hinge_.parts, chapters_));
    list("To have and to buy, for both ends", ToBuy());
    if (page->Left() > kNotes_mm) {
      page->Title("Stock as measured, and notes", style::kTitle_mm);
      page->WritingLines();
    }
    pages.push_back(page->Done());
    return pages;
  }

  // The most over the swing, which may be more than the open lid takes.
  std::string NeedsBehind() const {
    const Traits& traits = hinge_.traits;
    if (std::isnan(traits.reach_behind_mm)) return "";
    return "; it needs " + BenchRoom(traits.reach_behind_mm, job_.room.behind_mm, job_.inches) +
           " free behind" +
           (std::isnan(traits.reach_behind_rad) ? std::string()
                                                : ", at " + WholeDegrees(traits.reach_behind_rad));
  }

  static std::vector<std::string> ToolsFor(const Job& job, const HingeSet& set,
                                           const std::vector<Chapter>& chapters) {
    std::vector<std::string> tools{
        "Steel ruler, square, marking knife, caliper",
        "Safety glasses, dust mask; a brush and a vacuum for chips, brass dust above all",
        "Clamps, a prop for the open lid, a stick to try the swing with"};
    std::set<double> drills, bores;  // diameters, mm
    for (const HingePiece& piece : set.pieces) {
      for (const Circle& hole : piece.drills) drills.insert(2.0 * hole.radius_mm);
      const bool sawn = piece.kind == PieceKind::kSpacer || piece.kind == PieceKind::kStop;
      if (!piece.cut_from_sheet && !sawn) continue;
      for (const Circle& hole : piece.holes) {
        (piece.cut_from_sheet ? drills : bores).insert(2.0 * hole.radius_mm);
      }
    }
    for (const WoodWork& work : set.bench_work) {
      if (work.hole.radius_mm > 0.0) drills.insert(2.0 * work.hole.radius_mm);
    }
    // One of each as it is said: rounded once, so that lists, sheets and tools name one size.
    const auto say = [&](const std::string& what, const std::set<double>& diameters) {
      std::string sizes;
      std::set<std::string> said;
      for (const double diameter_mm : diameters) {
        const std::string size = BenchLength(diameter_mm, job.inches);
        if (said.insert(size).second) sizes += (sizes.empty() ? "" : ", ") + size;
      }
      if (!sizes.empty()) tools.push_back(what + sizes);
    };
    say("Drills and reamers: ", drills);
    say("To bore spacers of rod, where no tube has that bore: ", bores);
    std::set<std::string> told;
    for (const Chapter& chapter : chapters) {
      if (told.insert(chapter.step.tool).second && chapter.step.tool != "fingers only") {
        tools.push_back("For \"" + chapter.step.title + "\": " + chapter.step.tool);
      }
    }
    return tools;
  }

  std::vector<std::string> ToBuy() const {
    std::vector<std::string> lines;
    for (const SheetRow& row : list_.sheets) {
      lines.push_back(std::to_string(row.count) + " \xC3\x97 " + row.stock + ", " + row.size +
                      (row.used.empty() ? "" : " (" + row.used + ")"));
    }
    for (const SawRow& row : list_.saw) {
      lines.push_back(row.stock + ", " + BenchText(row.total_mm, Bench::kRoom, job_.inches) +
                      " in all");
    }
    std::set<int> of_sheets;
    for (const HingePiece& piece : hinge_.parts->pieces) {
      if (piece.cut_from_sheet) of_sheets.insert(ItemOf(list_, piece.name));
    }
    int item = 0;
    for (const PartsRow& row : list_.parts) {
      ++item;
      const bool sawn = row.part == "pin" || row.part == "bushing" || row.part == "spacer" ||
                        row.part == "stop sleeve" || row.part == "stop rod";
      if (sawn || of_sheets.count(item) > 0) continue;
      lines.push_back(std::to_string(row.count) + " \xC3\x97 " + row.part + ", " + row.size +
                      (row.material.empty() ? "" : ", " + row.material) + " (part " +
                      std::to_string(item) + ")");
    }
    if (hinge_.forces && hinge_.forces->holdings.ToBuy()) {
      lines.push_back("2 \xC3\x97 friction lid support, " +
                      TorqueText(hinge_.forces->holdings.support_nmm / 2.0, job_.inches) +
                      " each, as the first page asks; their place is yours to find");
    }
    std::vector<WorkStep> steps;
    for (const Chapter& chapter : chapters_) steps.push_back(chapter.step);
    for (std::string& line : SuppliesFor(steps)) lines.push_back(std::move(line));
    return lines;
  }

  Canvas Exploded() const {
    BookletPage page(job_, "Each end, drawn apart");
    page.Title("Each end, drawn apart", style::kTitle_mm);
    page.Paragraph(
        "Seen from inside the box, the end wall behind. Numbers are those of the parts list. The "
        "right end's pieces are mirror images: mark them at once.");
    const double height = (page.Left() - 2.0 * 9.0) / 2.0;
    for (const bool left : {true, false}) {
      page.Title(left ? "Left end" : "Right end", style::kText_mm);
      page.DrawExplodedIn(hinge_.parts->pieces, list_, page.Take(height - 2.0), left);
    }
    return page.Done();
  }

  Canvas StepsPage(std::size_t first, std::size_t count) const {
    const bool last = first + count == chapters_.size();
    BookletPage page = PageOfSteps(job_);
    double more = page.Left() - (last ? kCheckTable_mm : 0.0);
    for (std::size_t i = first; i < first + count; ++i) more -= chapters_[i].height_mm;
    more = std::max(0.0, more) / static_cast<double>(count);
    for (std::size_t i = first; i < first + count; ++i) {
      const double height = chapters_[i].height_mm;
      DrawStep(page, i, page.Take(std::max(height, std::min(kTallest_mm, height + more))));
    }
    if (last) DrawCheck(page);
    if (page.Left() > kNotes_mm) {
      page.Title("Notes", style::kText_mm);
      page.WritingLines();
    }
    return page.Done();
  }

  static Rect2 PictureOf(const Rect2& block) {
    Rect2 picture = block;
    picture.high.y() -= kStepHead_mm;
    picture.low.y() += kStepFoot_mm;
    picture.high.x() = picture.low.x() + kPicture_mm;
    return picture;
  }
  static Rect2 ColumnOf(const Rect2& block) {
    Rect2 column = PictureOf(block);
    column.low.x() = column.high.x() + kApart_mm;
    column.high.x() = block.high.x();
    return column;
  }

  void DrawStep(BookletPage& page, std::size_t index, const Rect2& block) const {
    const Chapter& chapter = chapters_[index];
    page.StepHead(block, index + 1, chapter.step.title);
    page.StepPicture(scene_, chapter.step, list_, PictureOf(block));
    WriteStep(page, chapter, ColumnOf(block));
  }

  // A step's words in its column; where they end.
  double WriteStep(BookletPage& page, const Chapter& chapter, const Rect2& column) const {
    const WorkStep& step = chapter.step;
    double y = page.TextIn(column, column.high.y(), "", step.text) - 1.6;
    y = page.TextIn(column, y, "Held:", step.held);
    y = page.TextIn(column, y, "Moves:", step.moves);
    y = page.TextIn(column, y, "With:", step.tool);
    const std::string items = ItemsText(step, list_);
    if (!items.empty()) y = page.TextIn(column, y, "Parts:", items);
    if (!chapter.sheets.empty()) {
      const std::size_t to = chapter.first_page + chapter.sheets.size() - 1;
      const std::string from = std::to_string(chapter.first_page);
      y = page.TextIn(
          column, y, "Sheets:",
          to > chapter.first_page ? "pages " + from + " to " + std::to_string(to) : "page " + from);
    }
    if (!step.write.empty()) y = page.WriteIn(column, y, "Measured, " + step.write + ":");
    return y;
  }

  void DrawCheck(BookletPage& page) const {
    const auto open = PivotsAt(scene_, scene_.swing.At(scene_.swing.to_rad));
    std::vector<std::vector<std::string>> rows{
        {"pin to pin, lid open", "wanted", "left end", "right end"}};
    const auto add = [&](std::size_t a, std::size_t b, const std::string& what) {
      rows.push_back({open[a].name + " \xE2\x80\x93 " + open[b].name + what,
                      LengthText((open[a].at - open[b].at).norm(), job_.inches), "", ""});
    };
    add(0, 1, "  case");
    add(2, 3, "  lid");
    add(0, 2, "  arm A");
    add(1, 3, "  arm B");
    add(0, 3, "");
    add(1, 2, "");
    page.CheckTable(rows);
    page.Tick("Shut, the lid lies on the rim all round and is flush; it rises without a scrape.");
    page.Tick("It opens to " + AngleText(scene_.swing.to_rad) +
              " and comes to rest on both stops at once, if it has stops.");
    page.Tick(
        "Nothing catches a finger that need not; the box stands with the lid open; lid supports, "
        "if children use it, hold the lid wherever it is let go.");
  }

  const Design& design_;
  const Hinge& hinge_;
  const Job& job_;
  const PartsList& list_;
  SwingScene scene_;
  std::vector<Chapter> chapters_;
  std::vector<std::size_t> steps_a_page_, step_pages_;
  std::size_t list_page_ = 0, exploded_page_ = 0;
};

}  // namespace

std::vector<Canvas> BenchBooklet(const Design& design, const Hinge& hinge, const CutSet& cut,
                                 const PartsList& list) {
  return Maker(design, hinge, cut, list).Make();
}

}  // namespace lidwright
