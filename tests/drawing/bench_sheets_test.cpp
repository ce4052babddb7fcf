// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "cutting/made_up_pieces.h"
#include "cutting/real_sets.h"
#include "drawing/full_size.h"
#include "lidwright/drawing/jig_sheet.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/list_sheet.h"
#include "lidwright/drawing/nest_sheet.h"
#include "lidwright/drawing/stack_sheet.h"
#include "lidwright/drawing/templates.h"

namespace lidwright {
namespace {

void CheckTexts(const Canvas& canvas) {
  const auto& texts = canvas.texts();
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const Rect2& a = texts[i].box;
    if (a.low.minCoeff() < 0.0 || a.high.x() > canvas.width_mm() ||
        a.high.y() > canvas.height_mm()) {
      FAIL_CHECK(canvas.title() << ": '" << texts[i].text << "' leaves the page");
    }
    for (std::size_t k = i + 1; k < texts.size(); ++k) {
      const Rect2& b = texts[k].box;
      if (a.low.x() < b.high.x() && b.low.x() < a.high.x() && a.low.y() < b.high.y() &&
          b.low.y() < a.high.y()) {
        FAIL_CHECK(canvas.title() << ": '" << texts[i].text << "' meets '" << texts[k].text << "'");
      }
    }
  }
}

std::vector<Circle> MarksOn(const Canvas& canvas) {
  std::vector<Circle> marks;
  for (const Canvas::Item& item : canvas.items()) {
    const auto* disc = std::get_if<Canvas::Disc>(&item);
    if (disc && disc->name == "mark") marks.push_back(disc->circle);
  }
  return marks;
}
std::vector<Circle> MarksOn(const std::vector<Canvas>& pages) {
  std::vector<Circle> marks;
  for (const Canvas& page : pages) {
    for (const Circle& mark : MarksOn(page)) marks.push_back(mark);
  }
  return marks;
}

// Of drawings cut in pieces texts run over the cut.
bool CutUp(const std::vector<Canvas>& pages) {
  return std::any_of(pages.begin(), pages.end(), [](const Canvas& page) {
    return std::any_of(page.texts().begin(), page.texts().end(), [](const PlacedText& text) {
      return text.text.find("lay cross on cross") != std::string::npos;
    });
  });
}

Design DesignOf(const testing::Example& example, bool inches) {
  Job job = testing::ReadExample(example.name);
  job.inches = inches;
  return testing::MakeDesign(job, example.pivots);
}

TEST_CASE("no two texts of the bench's sheets overlap or leave their page") {
  int sheets = 0;
  for (const testing::Example& example : testing::Examples()) {
    for (const bool inches : {false, true}) {
      INFO(example.name);
      const Design design = DesignOf(example, inches);
      const std::vector<HingePiece> pieces = testing::MadeUpPieces(design);
      for (const Canvas& sheet : StackSheets(design.job, design.solid, pieces)) {
        CheckTexts(sheet);
        ++sheets;
      }
      const auto templates = DrillTemplates(design.job, design.solid, pieces, {});
      if (CutUp(templates)) continue;
      for (const Canvas& sheet : templates) {
        CheckTexts(sheet);
        ++sheets;
      }
    }
  }
  CHECK(sheets >= 8 + 3 * 2 * 4);
  const Job job = testing::ReadExample("sample_chest");
  PrintedList list{"Parts", {"part", "count", "size"}, {0.3, 0.1, 0.6}, {false, true, false}, {}};
  for (int i = 0; i < 70; ++i) {
    list.rows.push_back({"a part with a name", std::to_string(i),
                         std::string(static_cast<std::size_t>(i * 5), 'x') + " and some words"});
  }
  const auto pages = ListSheets(job, "Parts list", {list, list});
  CHECK(pages.size() >= 4);
  std::size_t counted = 0;
  for (const Canvas& page : pages) {
    CheckTexts(page);
    for (const PlacedText& text : page.texts()) counted += text.text == "a part with a name";
  }
  CHECK(counted == 140);
}

TEST_CASE("no two texts of a real hinge's sheets overlap or leave their page, none is cut short") {
  std::size_t sheets = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    const Job& job = real.design.job;
    const HingeSet& set = real.set;
    const CutSet cut = MakeCutSet(set.pieces, CutWishFor(job));
    INFO(real.name);
    std::vector<Canvas> pages;
    const auto add = [&](std::vector<Canvas> more, bool tiled) {
      if (tiled && CutUp(more)) return;
      for (Canvas& page : more) pages.push_back(std::move(page));
    };
    add(DrillTemplates(job, real.design.solid, set.pieces, set.bench_work), true);
    add(PaperTrial(real.design, real.design.hinges[0], set.pieces), true);
    add(JigSheets(job, real.design.solid, *set.jig), true);
    add(StackSheets(job, real.design.solid, set.pieces), false);
    add(NestSheets(job, cut), false);
    add(PartsSheets(job, MakePartsList(set.pieces, set.buy, job.inches, &cut)), false);
    for (const Canvas& page : pages) {
      CheckTexts(page);
      for (const PlacedText& text : page.texts()) {
        INFO(page.title() << ": " << text.text);
        CHECK(text.text.find("\xE2\x80\xA6") == std::string::npos);
      }
      ++sheets;
    }
  }
  CHECK(sheets >= 40);
}

TEST_CASE("a real hinge's templates drill what its plates and pins need, each end mirrored") {
  std::size_t looked = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    const HingeSet& set = real.set;
    const auto pages =
        DrillTemplates(real.design.job, real.design.solid, set.pieces, set.bench_work);
    if (CutUp(pages)) continue;
    ++looked;
    const std::vector<Circle> marks = MarksOn(pages);
    auto next = marks.begin();
    for (const Body body : {Body::kCase, Body::kLid}) {
      std::vector<Vec2> wanted;  // where the designed pieces have their axes
      for (const HingePiece& piece : set.pieces) {
        const bool goes_in = piece.kind == PieceKind::kScrew || piece.kind == PieceKind::kStop ||
                             (piece.kind == PieceKind::kPin && body == Body::kCase);
        if (piece.body != body || !goes_in || piece.per_end == 0) continue;
        wanted.push_back((piece.outline.vertices[0].point + piece.outline.vertices[1].point) / 2.0);
      }
      const auto count = static_cast<std::ptrdiff_t>(wanted.size());
      REQUIRE(marks.end() - next >= 2 * count);
      const std::vector<Circle> left(next, next + count), right(next + count, next + 2 * count);
      next += 2 * count;
      // Every distance between two holes is there, at one end mirrored.
      for (std::size_t i = 1; i < left.size(); ++i) {
        const Vec2 a = left[i].centre - left[0].centre, b = right[i].centre - right[0].centre;
        CHECK((Vec2(-a.x(), a.y()) - b).norm() < 1e-9);
      }
      for (std::size_t i = 0; i < right.size(); ++i) {
        std::size_t found = 0;
        for (const Vec2& to : wanted) {
          for (const Vec2& first : wanted) {
            const Vec2 step = right[i].centre - right[0].centre;
            found += (to - first - step).norm() < 1e-9;
          }
        }
        CHECK(found >= 1);
      }
    }
    CHECK(next == marks.end());
  }
  CHECK(looked >= 3);
}

// Widths of the closed shapes drawn on a page.
std::vector<double> WidthsOn(const Canvas& canvas) {
  std::vector<double> widths;
  for (const Canvas::Item& item : canvas.items()) {
    const auto* shape = std::get_if<Canvas::Shape>(&item);
    if (!shape || shape->path.size() != 1 || shape->path[0].vertices.size() != 4) continue;
    Rect2 box;
    for (const OutlineVertex& v : shape->path[0].vertices) box.Add(v.point);
    widths.push_back(box.high.x() - box.low.x());
  }
  return widths;
}

TEST_CASE("the stack is drawn to the scale it says, with every thickness of the plan") {
  std::size_t looked = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    const Job& job = real.design.job;
    const HingeSet& set = real.set;
    const auto pages = StackSheets(job, real.design.solid, set.pieces);
    REQUIRE(pages.size() == 1);
    std::vector<std::string> texts;
    double scale = 0.0;
    for (const PlacedText& text : pages[0].texts()) {
      texts.push_back(text.text);
      if (text.text.find(" : 1") != std::string::npos) scale = std::stod(text.text);
      if (text.text.rfind("1 : ", 0) == 0) scale = 1.0 / std::stod(text.text.substr(4));
    }
    REQUIRE(scale > 0.0);
    const std::vector<double> widths = WidthsOn(pages[0]);
    const auto shown = [&](const std::string& text) {
      return std::find(texts.begin(), texts.end(), text) != texts.end();
    };
    for (const PivotStack& stack : set.stack->pivots) {
      INFO(real.name << " " << stack.pivot);
      CHECK(shown(stack.pivot));
      CHECK(shown(LengthText(stack.pin_length_mm, job.inches)));
      for (const LayerSpan& span :
           {stack.pin, stack.spacer, stack.head, stack.arm_b ? set.stack->arm_b : set.stack->arm_a,
            stack.body == Body::kCase ? set.stack->case_plate : set.stack->lid_plate}) {
        const double thick = span.z_max_mm - span.z_min_mm;
        CHECK(shown(PlaceText(thick, job.inches)));
        CHECK(std::any_of(widths.begin(), widths.end(),
                          [&](double width) { return std::abs(width - scale * thick) < 1e-9; }));
        ++looked;
      }
    }
  }
  CHECK(looked == 4 * 4 * 5);
}

TEST_CASE("every leader of a stack ends on the part it numbers, packing beside the pin included") {
  std::size_t beside = 0, dots = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    const auto& pieces = real.set.pieces;
    for (const Canvas& page : StackSheets(real.design.job, real.design.solid, pieces)) {
      std::vector<Rect2> drawn;
      for (const Canvas::Item& item : page.items()) {
        if (const auto* shape = std::get_if<Canvas::Shape>(&item)) {
          for (const Trail& trail : shape->path) {
            if (!trail.closed || trail.vertices.size() != 4) continue;
            Rect2 box;
            for (const OutlineVertex& v : trail.vertices) box.Add(v.point);
            if (box.high.x() - box.low.x() < 60.0) drawn.push_back(box);
          }
        }
        const auto* dot = std::get_if<Canvas::Disc>(&item);
        if (!dot) continue;
        ++dots;
        const Vec2& at = dot->circle.centre;
        CHECK(std::any_of(drawn.begin(), drawn.end(), [&](const Rect2& box) {
          return at.x() > box.low.x() && at.x() < box.high.x() && at.y() > box.low.y() - 0.01 &&
                 at.y() < box.high.y() + 0.01;
        }));
      }
      for (const PlacedText& text : page.texts()) {
        beside += text.text == "packing beside" ? 1 : 0;
      }
    }
  }
  CHECK(dots > 60);
  CHECK(beside > 0);
}

TEST_CASE("a part that the cut meets again far away is pointed at where it is drawn") {
  const auto real = testing::RealSets();
  std::vector<HingePiece> pieces;
  for (const HingePiece& piece : real[0].set.pieces) {
    if (piece.kind == PieceKind::kPin && piece.body == Body::kCase) {
      pieces.push_back(piece);
      break;
    }
  }
  REQUIRE(pieces.size() == 1);
  const Rect2 pin = Bounds(Flatten(pieces[0].outline, 0.01));
  const Vec2 c = (pin.low + pin.high) / 2.0;
  // A comb of two teeth, open to the left: across the pin (the cut runs along x) it is met from -4
  // to 4 and from 20 to 30.
  HingePiece comb;
  comb.name = "case plate";
  comb.kind = PieceKind::kCasePlate;
  comb.body = Body::kCase;
  comb.z_max_mm = pieces[0].z_max_mm;
  comb.z_min_mm = comb.z_max_mm - 2.0;
  for (const Vec2& p : std::vector<Vec2>{
           {-4, -4}, {4, -4}, {4, 6}, {20, 6}, {20, -4}, {30, -4}, {30, 10}, {-4, 10}}) {
    comb.outline.vertices.push_back({c + p, 0.0});
  }
  pieces.push_back(comb);
  const auto page = StackSheets(real[0].design.job, real[0].design.solid, pieces).at(0);
  std::vector<double> tops, dots;
  for (const Canvas::Item& item : page.items()) {
    if (const auto* dot = std::get_if<Canvas::Disc>(&item)) dots.push_back(dot->circle.centre.y());
  }
  REQUIRE(dots.size() == 2);
  double scale = 0.0;
  for (const PlacedText& text : page.texts()) {
    if (text.text.find(" : 1") != std::string::npos) scale = std::stod(text.text);
  }
  // The pin's dot lies 1 mm within its half, the comb's 0.4 mm on paper below its top, 4 mm off the
  // axis; dots are drawn from left to right.
  const double pins = std::min(dots[0], dots[1]), combs = std::max(dots[0], dots[1]);
  const double axis = pins - scale * ((pin.high.x() - pin.low.x()) / 2.0 - 1.0);
  CHECK(combs == Approx(axis + scale * 4.0 - 0.4).margin(0.05));
}

TEST_CASE("the jig says by how much and why its distances are not the template's") {
  std::size_t said = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    const Job& job = real.design.job;
    const Solid& solid = real.design.solid;
    const ReachableFaces faces = FacesAtEnd(job, solid);
    const Jig& jig = *real.set.jig;
    std::string words;
    for (const Canvas& page : JigSheets(job, solid, jig)) {
      for (const PlacedText& text : page.texts()) words += text.text + " ";
    }
    const double off = std::abs(faces.back_x_mm - jig.back_x_mm);
    const bool differs = off >= 0.005 || std::abs(faces.rim_y_mm - jig.rim_y_mm) >= 0.005;
    CHECK((words.find("are not those of the drilling template") != std::string::npos) == differs);
    if (off < 0.005) continue;
    const std::string by = "from the back it is " + BenchText(off, Bench::kHole, job.inches);
    CHECK(words.find(by) != std::string::npos);
    ++said;
  }
  CHECK(said > 0);
}

double Between(const std::vector<Circle>& marks, std::size_t i, std::size_t k) {
  return (marks.at(i).centre - marks.at(k).centre).norm();
}

TEST_CASE("paper trial and jig have the linkage's own four pivots, at full size") {
  std::size_t trials = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    const Pivots& p = real.design.hinges[0].pivots;
    const auto jig = JigSheets(real.design.job, real.design.solid, *real.set.jig);
    if (jig.size() == 1) {
      const auto marks = MarksOn(jig[0]);
      const Vec2 all[] = {p.case_a, p.case_b, p.lid_a, p.lid_b};
      for (std::size_t i = 1; i < 4; ++i) {
        CHECK((marks.at(i).centre - marks.at(0).centre - (all[i] - all[0])).norm() < 1e-9);
      }
    }
    const auto trial = PaperTrial(real.design, real.design.hinges[0], real.set.pieces);
    if (trial.size() != 3) continue;
    ++trials;
    CHECK(Between(MarksOn(trial[0]), 0, 1) == Approx((p.lid_a - p.case_a).norm()));
    CHECK(Between(MarksOn(trial[0]), 2, 3) == Approx((p.lid_b - p.case_b).norm()));
    CHECK(Between(MarksOn(trial[1]), 0, 1) == Approx((p.case_b - p.case_a).norm()));
    CHECK(Between(MarksOn(trial[2]), 0, 1) == Approx((p.lid_b - p.lid_a).norm()));
  }
  CHECK(trials >= 2);
}

TEST_CASE("a template's holes lie as in the wood, measured from its edges, left mirrored") {
  const Design design = DesignOf(testing::Examples()[0], false);
  const std::vector<HingePiece> pieces = testing::MadeUpPieces(design);
  const std::vector<WoodWork> wood{{"hole for a pin", Body::kCase, {{17.0, -21.5}, 1.6}, 8.0, ""},
                                   {"hole for a pin", Body::kCase, {{21.0, -44.0}, 1.6}, 8.0, ""},
                                   {"recess", Body::kCase, {}, 2.0, "no hole"},
                                   {"pilot", Body::kLid, {{100.0, 12.0}, 1.0}, 10.0, ""}};
  const auto pages = DrillTemplates(design.job, design.solid, pieces, wood);
  REQUIRE_FALSE(CutUp(pages));
  const std::vector<Circle> marks = MarksOn(pages);  // case left and right, lid left and right
  REQUIRE(marks.size() == 2 + 2 + 1 + 1);
  const std::vector<Circle> left(marks.begin(), marks.begin() + 2);
  const std::vector<Circle> right(marks.begin() + 2, marks.begin() + 4);
  const Vec2 step = right[1].centre - right[0].centre, mirrored = left[1].centre - left[0].centre;
  CHECK((step - Vec2(4.0, -22.5)).norm() < 1e-9);
  CHECK((mirrored - Vec2(-4.0, -22.5)).norm() < 1e-9);
  CHECK(right[0].radius_mm == 1.6);
  // Table and ordinates say the same as FacesAtEnd: 12 mm of back wall at the end, rim a little
  // over 0.
  const ReachableFaces faces = FacesAtEnd(design.job, design.solid);
  std::size_t found = 0;
  for (const PlacedText& text : pages[0].texts()) {
    found += text.text == LengthText(17.0 - faces.back_x_mm, false);
    found += text.text == LengthText(-21.5 - faces.rim_y_mm, false);
  }
  CHECK(found == 4);
}

TEST_CASE("a lid whose lip is at the back alone is measured from its end wall's edge") {
  Job job = testing::ReadExample("rebated_box");
  REQUIRE_FALSE(job.lid.lip_at_ends);
  REQUIRE(job.lid.lip_mm == 4.0);
  const std::vector<WoodWork> wood{{"pilot", Body::kLid, {{60.0, 13.0}, 1.0}, 10.0, "", ""}};
  const auto says = [&](double y, const std::string& words) {
    std::size_t numbers = 0, told = 0;
    for (const Canvas& page : DrillTemplates(job, MakeSolid(job), {}, wood)) {
      for (const PlacedText& text : page.texts()) {
        numbers += text.text == PlaceText(y, false);
        told += text.text.find(words) != std::string::npos;
      }
    }
    return numbers == 4 && told >= 2;  // in table and ordinate of both ends
  };
  CHECK(says(13.0 - job.lid.seam_gap_mm, "lower edge of the end wall"));
  job.lid.lip_at_ends = true;
  CHECK(says(13.0 + job.lid.lip_mm, "lower edge of the lid"));
}

TEST_CASE("the lid's edges are where the section at the end wall has them") {
  for (const testing::Example& example : testing::Examples()) {
    const Design design = DesignOf(example, false);
    const ReachableFaces lid = LidFacesAtEnd(design.job, design.solid);
    const ReachableFaces box = FacesAtEnd(design.job, design.solid);
    INFO(example.name);
    // Case and lid have one outer form, so their inner faces differ by their walls.
    CHECK(lid.back_x_mm - box.back_x_mm ==
          Approx(design.job.lid.wall_mm - design.job.case_form.back_wall_mm).margin(1e-6));
    CHECK(lid.rim_y_mm == Approx(box.rim_y_mm + design.job.lid.seam_gap_mm).margin(1e-6));
  }
}

TEST_CASE("tiles show every place of a page, with crosses at the same places of it") {
  Canvas whole(500.0, 420.0, "large");
  for (int i = 0; i < 50; ++i) {
    for (int j = 0; j < 42; ++j) {
      whole.Draw(Circle{{5.0 + 10.0 * i, 5.0 + 10.0 * j}, 1.0}, std::nullopt, Pen{}, "dot");
    }
  }
  for (const bool inches : {false, true}) {
    Job job;
    job.inches = inches;
    const auto tiles = Tiles(whole, job);
    CHECK(tiles.size() == 6);
    std::vector<Vec2> seen;
    std::vector<std::vector<Vec2>> crosses;  // in the whole's coordinates
    for (const Canvas& tile : tiles) {
      const Rect2 window{{kTileMargin_mm, kTileFoot_mm},
                         {tile.width_mm() - kTileMargin_mm, tile.height_mm() - kTileMargin_mm}};
      Vec2 offset = Vec2::Zero();
      bool first = true, seams = false;
      crosses.emplace_back();
      for (const Canvas::Item& item : tile.items()) {
        if (const auto* disc = std::get_if<Canvas::Disc>(&item)) {
          if (first) offset = disc->circle.centre - Vec2(5.0, 5.0);
          first = false;
          const Vec2& c = disc->circle.centre;
          if ((c - window.low).minCoeff() >= 0.0 && (window.high - c).minCoeff() >= 0.0) {
            seen.push_back(c - offset);
          }
        } else if (const auto* group = std::get_if<Canvas::GroupStart>(&item)) {
          seams = group->name == "seams";
        } else if (const auto* shape = std::get_if<Canvas::Shape>(&item); shape && seams) {
          const auto& v = shape->path[0].vertices;
          crosses.back().push_back((v[0].point + v[1].point) / 2.0 - offset);
        } else if (std::get_if<Canvas::GroupEnd>(&item)) {
          seams = false;
        }
      }
    }
    std::size_t covered = 0;
    for (int i = 0; i < 50; ++i) {
      for (int j = 0; j < 42; ++j) {
        const Vec2 dot(5.0 + 10.0 * i, 5.0 + 10.0 * j);
        covered += std::any_of(seen.begin(), seen.end(),
                               [&](const Vec2& s) { return (s - dot).norm() < 1e-6; });
      }
    }
    CHECK(covered == 50 * 42);
    // Every cross is on another tile as well.
    for (std::size_t a = 0; a < crosses.size(); ++a) {
      CHECK(!crosses[a].empty());
      for (const Vec2& cross : crosses[a]) {
        bool met = false;
        for (std::size_t b = 0; b < crosses.size(); ++b) {
          if (b == a) continue;
          for (const Vec2& other : crosses[b]) met = met || (other - cross).norm() < 1e-6;
        }
        CHECK(met);
      }
    }
  }
}

TEST_CASE("a cut through a piece meets its material and not its holes") {
  HingePiece ring = testing::TurnedPiece("ring", PieceKind::kSpacer, Body::kCase, {10, 5}, 8.0, 3.0,
                                         0, 1, "brass");
  for (const double angle : {0.0, 0.7, 2.0}) {
    const auto met =
        CutThrough(ring.outline, ring.holes, {10, 5}, {std::cos(angle), std::sin(angle)});
    REQUIRE(met.size() == 2);
    CHECK(met[0].first == Approx(-4.0).margin(0.01));
    CHECK(met[0].second == Approx(-1.5).margin(0.01));
    CHECK(met[1].first == Approx(1.5).margin(0.01));
    CHECK(met[1].second == Approx(4.0).margin(0.01));
  }
  CHECK(CutThrough(ring.outline, ring.holes, {10, 20}, {1, 0}).empty());
}

}  // namespace
}  // namespace lidwright
