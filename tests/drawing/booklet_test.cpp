// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/booklet.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <regex>
#include <set>
#include <sstream>
#include <tuple>

#include "cutting/real_sets.h"
#include "lidwright/base/bench.h"
#include "lidwright/cutting/work_steps.h"
#include "lidwright/design/risks.h"
#include "lidwright/drawing/plate_sheet.h"
#include "lidwright/drawing/stack_sheet.h"
#include "lidwright/drawing/templates.h"

namespace lidwright {
namespace {

struct Made {
  testing::RealSet real;
  PartsList list;
  std::vector<Canvas> pages;
};

// Booklets in mm and in inches, of plates of strips and of a hull; each is made once.
const std::vector<Made>& Booklets() {
  static const std::vector<Made> made = [] {
    std::vector<Made> all;
    for (testing::RealSet& real : testing::RealSets()) {
      real.design.hinges[0].parts = real.set;
      const Job& job = real.design.job;
      const CutSet cut = MakeCutSet(real.set.pieces, CutWishFor(job));
      const PartsList list = MakePartsList(real.set.pieces, real.set.buy, job.inches, &cut);
      auto pages = BenchBooklet(real.design, real.design.hinges[0], cut, list);
      all.push_back({std::move(real), list, std::move(pages)});
    }
    return all;
  }();
  return made;
}

bool Meet(const Rect2& a, const Rect2& b) {
  return a.low.x() < b.high.x() && b.low.x() < a.high.x() && a.low.y() < b.high.y() &&
         b.low.y() < a.high.y();
}

bool Has(const Canvas& page, const std::string& text) {
  return std::any_of(page.texts().begin(), page.texts().end(),
                     [&](const PlacedText& t) { return t.text.find(text) != std::string::npos; });
}

// Of drawings cut in pieces texts run over the cut.
bool CutUp(const Canvas& page) {
  return Has(page, "lay cross on cross");
}

}  // namespace

TEST_CASE("no two texts of a bench booklet overlap or leave their page, none is cut short") {
  std::size_t texts = 0;
  for (const Made& made : Booklets()) {
    for (const Canvas& page : made.pages) {
      if (CutUp(page)) continue;
      const auto& all = page.texts();
      for (std::size_t i = 0; i < all.size(); ++i) {
        INFO(made.real.name << ", " << page.title() << ": '" << all[i].text << "'");
        const Rect2& box = all[i].box;
        CHECK(box.low.minCoeff() >= 0.0);
        CHECK(box.high.x() <= page.width_mm());
        CHECK(box.high.y() <= page.height_mm());
        CHECK(all[i].text.find("\xE2\x80\xA6") == std::string::npos);
        ++texts;
        for (std::size_t k = i + 1; k < all.size(); ++k) {
          if (Meet(box, all[k].box)) FAIL_CHECK("meets '" << all[k].text << "'");
        }
      }
    }
  }
  CHECK(texts > 2000);
}

TEST_CASE("a step's words end above the next step, heads are fixed last of all") {
  std::size_t headings = 0, fixed = 0;
  for (const Made& made : Booklets()) {
    for (const Canvas& page : made.pages) {
      double lowest = 1e300;  // of the step before
      for (const PlacedText& text : page.texts()) {
        INFO(made.real.name << ", " << text.text);
        if (text.box.high.y() < 15.0) continue;  // the page's foot
        if (text.text.rfind("Step ", 0) == 0) {
          CHECK(text.box.high.y() < lowest);
          lowest = text.box.low.y();
          ++headings;
        }
        lowest = std::min(lowest, text.box.low.y());
      }
    }
    for (const WorkStep& step : WorkSteps(made.real.design.job, made.real.set)) {
      const std::size_t heads = step.text.find("fix the heads with");
      if (heads == std::string::npos) continue;
      ++fixed;
      CHECK(step.text.find(". ", heads) == std::string::npos);
    }
  }
  CHECK(headings > 20);
  CHECK(fixed > 1);
}

TEST_CASE("steps are shared out evenly: none stands alone beside a page of three") {
  std::size_t looked = 0;
  for (const Made& made : Booklets()) {
    std::vector<std::ptrdiff_t> counts;
    for (const Canvas& page : made.pages) {
      const auto steps =
          std::count_if(page.texts().begin(), page.texts().end(),
                        [](const PlacedText& text) { return text.text.rfind("Step ", 0) == 0; });
      if (steps > 0) counts.push_back(steps);
    }
    INFO(made.real.name);
    // The check table is on the last one.
    for (std::size_t i = 1; i + 1 < counts.size(); ++i) {
      CHECK(std::abs(counts[i] - counts[i - 1]) < 2);
      ++looked;
    }
  }
  CHECK(looked > 5);
}

TEST_CASE("a booklet's lettering is 2.5 mm or more and black, and its pages are the job's paper") {
  for (const Made& made : Booklets()) {
    const bool letter = made.real.design.job.shop.paper == "Letter";
    const double short_mm = letter ? 215.9 : 210.0, long_mm = letter ? 279.4 : 297.0;
    for (const Canvas& page : made.pages) {
      CHECK(std::min(page.width_mm(), page.height_mm()) == Approx(short_mm));
      CHECK(std::max(page.width_mm(), page.height_mm()) == Approx(long_mm));
      for (const Canvas::Item& item : page.items()) {
        const auto* words = std::get_if<Canvas::Words>(&item);
        if (!words) continue;
        INFO(page.title() << ": " << words->text);
        CHECK(words->height_mm >= 2.5);
        const unsigned rgb = words->colour.rgb;
        CHECK(std::max({rgb >> 16, (rgb >> 8) & 255U, rgb & 255U}) <= 0xb0U);
        CHECK(((rgb >> 8) & 255U) <= 0x40U);
      }
    }
  }
}

TEST_CASE("every page of a booklet has its number, and steps name the pages of their sheets") {
  std::size_t named = 0;
  for (const Made& made : Booklets()) {
    INFO(made.real.name);
    const std::string of = " / " + std::to_string(made.pages.size());
    for (std::size_t i = 0; i < made.pages.size(); ++i) {
      CHECK(Has(made.pages[i], std::to_string(i + 1) + of));
      for (const PlacedText& text : made.pages[i].texts()) {
        std::smatch found;
        if (!std::regex_match(text.text, found, std::regex("pages? (\\d+)( to (\\d+))?"))) continue;
        ++named;
        const std::size_t first = std::stoul(found[1]);
        const std::size_t last = found[3].matched ? std::stoul(found[3]) : first;
        REQUIRE(first > i + 1);
        REQUIRE(last <= made.pages.size());
        for (std::size_t k = first; k <= last; ++k) {
          CHECK_FALSE(Has(made.pages[k - 1], "Step "));
        }
      }
    }
  }
  CHECK(named >= 5 * Booklets().size());
}

TEST_CASE("a booklet's full-size sheets are those of the templates, line for line") {
  for (const Made& made : Booklets()) {
    INFO(made.real.name);
    const Job& job = made.real.design.job;
    std::size_t found = 0;
    const auto sheets = DrillTemplates(job, made.real.design.solid, made.real.set.pieces,
                                       made.real.set.bench_work, &made.list);
    for (const Canvas& sheet : sheets) {
      const std::string drawn = sheet.SvgItems();
      for (const Canvas& page : made.pages) {
        // The page's number is all that is added.
        if (page.SvgItems().rfind(drawn.substr(0, drawn.size() - 1), 0) == 0) ++found;
      }
    }
    CHECK(found == sheets.size());
  }
}

TEST_CASE("each part has one number in list, stack and booklet, and every one is drawn apart") {
  for (const Made& made : Booklets()) {
    INFO(made.real.name);
    const PartsList& list = made.list;
    for (const HingePiece& piece : made.real.set.pieces) {
      if (piece.per_end == 0) continue;
      INFO(piece.name);
      const int item = ItemOf(list, piece.name);
      REQUIRE(item >= 1);
      REQUIRE(item <= static_cast<int>(list.parts.size()));
    }
    const auto apart = std::find_if(made.pages.begin(), made.pages.end(), [](const Canvas& page) {
      return Has(page, "Each end, drawn apart") && Has(page, "Left end");
    });
    REQUIRE(apart != made.pages.end());
    for (const auto& [name, item] : list.items) {
      if (name == "closed-position jig" || name == "stop rod" ||
          name.find("shank") != std::string::npos) {
        continue;
      }
      const auto shown = std::count_if(
          apart->texts().begin(), apart->texts().end(),
          [&, wanted = std::to_string(item)](const PlacedText& t) { return t.text == wanted; });
      INFO(name << " is " << item);
      CHECK(shown >= 2);  // left and right
    }
    const auto stacks =
        StackSheets(made.real.design.job, made.real.design.solid, made.real.set.pieces, &list);
    CHECK(Has(stacks.at(0), std::to_string(ItemOf(list, "case pin of arm A"))));
  }
}

TEST_CASE("the order of work goes from card to swing, with the jig's own words between") {
  for (const Made& made : Booklets()) {
    const auto steps = WorkSteps(made.real.design.job, made.real.set);
    CHECK(steps.front().shows == StepScene::kCard);
    CHECK(steps.back().shows == StepScene::kSwing);
    REQUIRE(made.real.set.jig);
    for (const JigStep& of_jig : made.real.set.jig->steps) {
      CHECK(std::any_of(steps.begin(), steps.end(),
                        [&](const WorkStep& step) { return step.text == of_jig.text; }));
    }
    for (const WorkStep& step : steps) {
      INFO(step.title);
      CHECK_FALSE(step.held.empty());
      CHECK_FALSE(step.moves.empty());
      CHECK_FALSE(step.tool.empty());
      for (const std::string& name : step.pieces) CHECK(ItemOf(made.list, name) > 0);
    }
  }
}

TEST_CASE("a plate sheet measures every hole from the blank's two edges") {
  std::size_t holes = 0;
  for (const Made& made : Booklets()) {
    const auto sheets =
        PlateSheets(made.real.design.job, made.real.design.solid, made.real.set.pieces, made.list);
    std::multiset<double> radii;
    for (const Canvas& sheet : sheets) {
      CHECK(Has(sheet, "100 mm"));
      for (const Canvas::Item& item : sheet.items()) {
        const auto* disc = std::get_if<Canvas::Disc>(&item);
        if (disc && disc->name == "mark") radii.insert(disc->circle.radius_mm);
      }
    }
    for (const HingePiece& piece : made.real.set.pieces) {
      const bool plate = piece.kind == PieceKind::kCasePlate || piece.kind == PieceKind::kLidPlate;
      if (!plate) continue;
      for (const auto& circles : {piece.holes, piece.drills}) {
        for (const Circle& hole : circles) {
          const auto at = radii.find(hole.radius_mm);
          INFO(made.real.name << " " << piece.name);
          REQUIRE(at != radii.end());
          radii.erase(at);
          ++holes;
        }
      }
    }
  }
  CHECK(holes > 20);
}

TEST_CASE("tools name the sizes that holes have elsewhere, each once") {
  std::size_t sizes = 0;
  for (const Made& made : Booklets()) {
    INFO(made.real.name);
    const bool inches = made.real.design.job.inches;
    std::set<std::string> of_holes;
    for (const HingePiece& piece : made.real.set.pieces) {
      for (const auto& circles : {piece.holes, piece.drills}) {
        for (const Circle& hole : circles) {
          of_holes.insert(BenchText(2.0 * hole.radius_mm, Bench::kHole, inches));
        }
      }
    }
    for (const WoodWork& work : made.real.set.bench_work) {
      of_holes.insert(BenchText(2.0 * work.hole.radius_mm, Bench::kHole, inches));
    }
    std::string line;
    for (const PlacedText& text : made.pages.at(1).texts()) {  // tools begin there
      if (text.text.rfind("Drills and reamers: ", 0) == 0) line = text.text.substr(20);
    }
    std::set<std::string> said;
    std::istringstream words(line);
    for (std::string size; std::getline(words >> std::ws, size, ',');) {
      if (size.find(' ') == std::string::npos) continue;  // the line was broken there
      INFO(size);
      CHECK(of_holes.count(size) == 1);
      CHECK(said.insert(size).second);
      ++sizes;
    }
  }
  CHECK(sizes >= 3 * Booklets().size());
}

TEST_CASE("what the order of work uses up is to be bought, with the steps that name it") {
  int compound = 0, tape = 0;
  for (const Made& made : Booklets()) {
    INFO(made.real.name);
    const auto steps = WorkSteps(made.real.design.job, made.real.set);
    const auto first = [&](const std::string& word) {
      for (std::size_t i = 0; i < steps.size(); ++i) {
        if ((steps[i].text + steps[i].tool).find(word) != std::string::npos) return i + 1;
      }
      return std::size_t{0};
    };
    const auto stands = [&](const std::string& supply, std::size_t step) {
      // One page or two.
      return std::any_of(made.pages.begin() + 1, made.pages.begin() + 3, [&](const Canvas& page) {
        return Has(page, supply + " (step " + std::to_string(step)) ||
               Has(page, supply + " (steps " + std::to_string(step));
      });
    };
    CHECK(stands("Card", 1));
    CHECK(stands("Glue", 1));  // the card trial's
    for (const auto& [word, supply, count] :
         {std::tuple<const char*, const char*, int*>{
              "retaining compound", "Retaining compound, for metal in metal", &compound},
          {"double-sided tape", "Double-sided tape", &tape}}) {
      const std::size_t step = first(word);
      CHECK(stands(supply, step) == (step > 0));
      *count += step > 0 ? 1 : 0;
    }
  }
  CAPTURE(compound, tape);
  CHECK(compound + tape > 0);
}

namespace {

// A gentle hinge whose arm B breaks at half of 40 N on the open lid's edge: what 2.04 kg weigh.
HingeForces WeakWhenLeanedOn(double tips_at_n) {
  HingeForces forces;
  forces.load.lean_n = 40.0;
  forces.feel.slam_m_s = forces.feel.thrown_m_s = 0.0;
  forces.tipping.least_margin_nmm = 100.0;
  forces.tipping.pull_n = tips_at_n;
  Strength weak;
  weak.part = "arm B";
  weak.leaning = true;
  weak.acts = 2.0;
  weak.bears = 1.0;
  weak.wanted = 2.0;
  forces.strengths = {weak};
  return forces;
}

}  // namespace

TEST_CASE("three risks at most, the worst first, each with its remedy") {
  Design design = Booklets()[0].real.design;
  Hinge& hinge = design.hinges[0];
  HingeForces forces = WeakWhenLeanedOn(20.0);
  forces.feel.slam_m_s = 1.4;
  hinge.forces = forces;
  const auto risks = RisksOf(design, hinge);
  REQUIRE(risks.size() == kMostRisks);
  bool told = false;
  for (std::size_t i = 0; i < risks.size(); ++i) {
    CHECK_FALSE(risks[i].remedy.empty());
    if (i > 0) CHECK(static_cast<int>(risks[i].level) >= static_cast<int>(risks[i - 1].level));
    told = told || risks[i].text.find("arm B gives at about 2.0 kg") != std::string::npos;
  }
  CHECK(told);
}

TEST_CASE("who fits a stay is not told to fit one for who leans on the lid") {
  Design design = Booklets()[0].real.design;
  Hinge& hinge = design.hinges[0];
  HingeForces forces = WeakWhenLeanedOn(100.0);
  for (const bool fitted : {false, true}) {
    forces.stay_fitted = fitted;
    hinge.forces = forces;
    std::string all;
    for (const Risk& risk : RisksOf(design, hinge)) all += risk.text + risk.remedy;
    CHECK((all.find("Do not lean") == std::string::npos) == fitted);
    CHECK((all.find("stay from case to lid") == std::string::npos) == fitted);
  }
}

}  // namespace lidwright
