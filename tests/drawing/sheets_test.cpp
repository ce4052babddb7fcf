// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <set>

#include "lidwright/base/units.h"
#include "lidwright/drawing/arm_sheet.h"
#include "lidwright/drawing/arrangement.h"
#include "lidwright/drawing/box_drawing.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/drawing/swing_frames.h"
#include "made_up_design.h"
#include "svg_reader.h"

namespace lidwright {
namespace {

using testing::ReadSvg;

struct Sheet {
  std::string name;
  Canvas canvas;
};

std::vector<Sheet> SheetsOf(const Design& design, int frames) {
  const Hinge& hinge = design.hinges[0];
  std::vector<Sheet> sheets = {{"box", BoxDrawing(design.job, design.solid)},
                               {"overlay", Overlay(design, hinge)},
                               {"arrangement", Arrangement(design, hinge)},
                               {"arms", ArmSheet(design, hinge)}};
  SwingFrameOptions options;
  options.count = frames;
  for (const Canvas& canvas : SwingFrameCanvases(design, hinge, options)) {
    sheets.push_back({"frame", canvas});
  }
  return sheets;
}

void CheckTexts(const Sheet& sheet) {
  const auto& texts = sheet.canvas.texts();
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const Rect2& a = texts[i].box;
    if (a.low.x() < 0.0 || a.low.y() < 0.0 || a.high.x() > sheet.canvas.width_mm() ||
        a.high.y() > sheet.canvas.height_mm()) {
      FAIL_CHECK(sheet.name << ": '" << texts[i].text << "' leaves the page");
    }
    for (std::size_t k = i + 1; k < texts.size(); ++k) {
      const Rect2& b = texts[k].box;
      if (a.low.x() < b.high.x() && b.low.x() < a.high.x() && a.low.y() < b.high.y() &&
          b.low.y() < a.high.y()) {
        FAIL_CHECK(sheet.name << ": '" << texts[i].text << "' meets '" << texts[k].text << "'");
      }
    }
  }
}

std::multiset<std::string> Words(const Canvas& canvas) {
  std::multiset<std::string> words;
  for (const PlacedText& text : canvas.texts()) words.insert(text.text);
  return words;
}

TEST_CASE("no two texts of any example's drawings overlap, and all are well-formed") {
  std::size_t texts = 0;
  for (const auto& example : testing::Examples()) {
    INFO(example.name);
    const Design design = testing::MakeDesign(example);
    for (const Sheet& sheet : SheetsOf(design, 96)) {
      CheckTexts(sheet);
      texts += sheet.canvas.texts().size();
      const auto read = testing::TextsOf(ReadSvg(sheet.canvas.Svg()));
      CHECK(read.size() == sheet.canvas.texts().size());
    }
  }
  CHECK(texts > 4 * (60 + 96 * 7));
}

// A job of random but valid measures, long and flat ones included.
Job RandomJob(std::mt19937& random) {
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const auto spread = [&](double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  };
  Job job = testing::ReadExample("sample_chest");
  job.inches = random() % 2 == 0;
  job.name = "A box of random measures with a name that is too long to stand in any title block";
  CaseMeasures& form = job.case_form;
  form.width_mm = spread(120.0, 1600.0);
  form.depth_mm = spread(80.0, 900.0);
  form.height_mm = spread(40.0, 900.0);
  const double wall = 0.05 * std::min({form.width_mm, form.depth_mm, form.height_mm}) + 1.0;
  form.back_wall_mm = form.front_wall_mm = form.end_wall_mm = form.floor_mm = wall;
  form.back_bow_mm = random() % 2 ? between(0.0, 0.05) * form.depth_mm : 0.0;
  form.front_bow_mm = random() % 2 ? between(0.0, 0.05) * form.depth_mm : 0.0;
  form.rim_arch_mm = random() % 2 ? between(0.0, 0.06) * form.height_mm : 0.0;
  job.lid.rim_mm = wall + between(1.0, 20.0);
  job.lid.crown_mm = between(0.0, 0.25) * std::min(form.depth_mm, form.width_mm);
  job.lid.crown_at_ends_mm = between(0.0, 1.0) * job.lid.crown_mm;
  job.lid.wall_mm = job.lid.top_mm = wall;
  job.swing.open_rad = between(20.0, 120.0) * kRadPerDeg;
  job.room.behind_mm = form.back_bow_mm + spread(1.0, 900.0);
  job.room.above_mm =
      random() % 2 ? job.lid.rim_mm + job.lid.crown_mm + form.rim_arch_mm + spread(1.0, 900.0)
                   : std::numeric_limits<double>::infinity();
  job.room.open_behind_x_mm = 2.0 * wall;
  job.bay.width_mm = 0.1 * form.width_mm;
  job.bay.edge_mm = 0.05 * form.depth_mm;
  job.bay.lid_drop_mm = form.height_mm / 2.0 - wall;
  const double size = std::min(form.depth_mm, form.height_mm);
  job.arms = {0.06 * size, 2.0, 0.5, 0.02 * size, 0.06 * size, "birch plywood", {}};
  const double floor = -form.height_mm + wall;
  job.contents = {{{{{2.0 * wall, floor},
                     {form.depth_mm - 2.0 * wall, floor},
                     {form.depth_mm - 2.0 * wall, floor + 0.2 * form.height_mm},
                     {2.0 * wall, floor + 0.2 * form.height_mm}}},
                   -0.3 * form.width_mm,
                   0.3 * form.width_mm}};
  return job;
}

TEST_CASE("no two texts overlap on boxes of random measures and pivots either") {
  std::mt19937 random(5);
  int drawn = 0;
  for (int i = 0; i < 60; ++i) {
    INFO("box " << i);
    const Job job = RandomJob(random);
    const Solid solid = MakeSolid(job);
    const auto in = [&](const Zone& zone) {
      std::uniform_real_distribution<double> share(0.0, 1.0);
      return Vec2(zone.low.x() + share(random) * (zone.high.x() - zone.low.x()),
                  zone.low.y() + share(random) * (zone.high.y() - zone.low.y()));
    };
    const BayRoom& bay = solid.bay;
    const Design design = testing::MakeDesign(
        job, {in(bay.case_zone), in(bay.case_zone), in(bay.lid_zone), in(bay.lid_zone)});
    for (const Sheet& sheet : SheetsOf(design, 6)) {
      CheckTexts(sheet);
      CHECK_NOTHROW(ReadSvg(sheet.canvas.Svg()));
      ++drawn;
    }
  }
  CHECK(drawn == 60 * 10);
}

TEST_CASE("the same design gives the same bytes, in SVG and in PDF") {
  const Design first = testing::MakeDesign(testing::Examples()[0]);
  const Design second = testing::MakeDesign(testing::Examples()[0]);
  const auto a = SheetsOf(first, 3), b = SheetsOf(second, 3);
  for (std::size_t i = 0; i < a.size(); ++i) {
    CHECK(a[i].canvas.Svg() == b[i].canvas.Svg());
    CHECK(a[i].canvas.Pdf() == b[i].canvas.Pdf());
  }
  CHECK(SwingFrames(first, first.hinges[0], 5) == SwingFrames(second, second.hinges[0], 5));
}

TEST_CASE("the box drawing carries the measures that were given") {
  const Job job = testing::ReadExample("sample_chest");
  const Canvas canvas = BoxDrawing(job, MakeSolid(job));
  const auto words = Words(canvas);
  const std::pair<const char*, std::size_t> expected[] = {{"340", 1},
                                                          {"220", 2},
                                                          {"120", 1},
                                                          {"14", 1},
                                                          {"38", 1},
                                                          {"8", 1},
                                                          {"10", 1},
                                                          {"12", 4},
                                                          {"30", 1},
                                                          {"100", 1},
                                                          {"180", 1},
                                                          {"95\xC2\xB0", 1},
                                                          {"8 \xC3\x97 3", 1},
                                                          {"1 : 4", 1},
                                                          {"A4", 1},
                                                          {"hinge bay", 1},
                                                          {"wall", 1},
                                                          {"case pivots", 1},
                                                          {"lid pivots", 1},
                                                          {"open lid keeps behind", 1},
                                                          {"A tea merchant's sample chest", 1}};
  for (const auto& [text, count] : expected) {
    INFO(text);
    CHECK(words.count(text) == count);
  }
  CHECK(canvas.width_mm() == 297.0);
  CHECK(canvas.height_mm() == 210.0);
}

TEST_CASE("an inch job is drawn in fractions on Letter paper") {
  const Job job = testing::ReadExample("jewellery_casket");
  const Canvas canvas = BoxDrawing(job, MakeSolid(job));
  const auto words = Words(canvas);
  const std::pair<const char*, std::size_t> expected[] = {
      {"9\"", 1},   {"6\"", 2},    {"3-1/2\"", 1}, {"3/8\"", 3},
      {"1/4\"", 2}, {"3/16\"", 1}, {"contents", 2}};
  for (const auto& [text, count] : expected) {
    INFO(text);
    CHECK(words.count(text) == count);
  }
  CHECK(canvas.width_mm() == Approx(279.4));
  CHECK(canvas.height_mm() == Approx(215.9));
}

// Bounds of the largest filled path of a group: y down.
Rect2 LargestFill(const std::vector<testing::Element>& all, const std::string& group,
                  const std::string& fill) {
  Rect2 largest;
  for (const auto& path : testing::Named(all, "path")) {
    if (!path.In(group) || path.attributes.at("fill") != fill) continue;
    Rect2 box;
    for (const Vec2& p : testing::PointsOf(path.attributes.at("d"))) box.Add(p);
    if (largest.Empty() || (box.high - box.low).prod() > (largest.high - largest.low).prod()) {
      largest = box;
    }
  }
  REQUIRE_FALSE(largest.Empty());
  return largest;
}

TEST_CASE("the three views have the scale that is named and stand in line with each other") {
  const Job job = testing::ReadExample("sample_chest");
  const auto all = ReadSvg(BoxDrawing(job, MakeSolid(job)).Svg());  // says 1 : 4, see above
  const std::string case_wood = "#f1e4cf", lid_wood = "#e6cfa9";
  const Rect2 front = LargestFill(all, "front", case_wood);
  const Rect2 side = LargestFill(all, "section", case_wood);
  const Rect2 plan = LargestFill(all, "plan", lid_wood);
  CHECK(front.high.x() - front.low.x() == Approx(340.0 / 4.0).margin(0.002));
  CHECK(front.high.y() - front.low.y() == Approx(128.0 / 4.0).margin(0.002));
  CHECK(side.high.x() - side.low.x() == Approx(230.0 / 4.0).margin(0.002));
  CHECK(plan.high.y() - plan.low.y() == Approx(230.0 / 4.0).margin(0.002));
  CHECK(plan.low.x() == Approx(front.low.x()).margin(0.002));
  CHECK(plan.high.x() == Approx(front.high.x()).margin(0.002));
  CHECK(side.high.y() == Approx(front.high.y()).margin(0.002));
  CHECK(side.low.y() == Approx(front.low.y()).margin(0.002));
  CHECK(side.low.x() > front.high.x());
  CHECK(plan.low.y() > front.high.y());
}

TEST_CASE("pivots are measured from the faces at the end wall, bow and arch taken into account") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  // The end wall begins at z = 340/2 − 12. A circular arc with rise h over half a chord c stands at
  // √(r² − z²) − (r − h), r = (c² + h²) / 2h.
  const auto arc = [](double half, double rise, double z) {
    const double r = (half * half + rise * rise) / (2.0 * rise);
    return std::sqrt(r * r - z * z) - (r - rise);
  };
  const ReachableFaces faces = FacesAtEnd(design.job, design.solid);
  CHECK(faces.back_x_mm == Approx(12.0 - arc(170.0, 10.0, 158.0)).margin(1e-6));
  CHECK(faces.rim_y_mm == Approx(arc(170.0, 8.0, 158.0)).margin(1e-6));

  const auto words = Words(Overlay(design, design.hinges[0]));
  const Pivots& p = design.hinges[0].pivots;
  for (const Vec2& pivot : {p.case_a, p.case_b, p.lid_a, p.lid_b}) {
    CHECK(words.count(PlaceText(pivot.x() - faces.back_x_mm, false)) == 1);
    CHECK(words.count(PlaceText(pivot.y() - faces.rim_y_mm, false)) == 1);
  }
  CHECK(words.count("A\xE2\x82\x80 " + LengthText(17.0 - faces.back_x_mm, false)) == 1);
  CHECK(words.count("A\xE2\x82\x80 " + LengthText(-21.5 - faces.rim_y_mm, false)) == 1);
}

TEST_CASE("a flared wall's inner face is taken at the rim, not at its foot") {
  Job job = testing::ReadExample("sample_chest");
  // Walls lean outwards by 20 over 120; the inner face meets the rim at x = 13.
  const Ring box = {{20.0, -120.0},  {200.0, -120.0}, {220.0, 0.0}, {207.0, 0.0},
                    {188.0, -108.0}, {32.0, -108.0},  {13.0, 0.0},  {0.0, 0.0}};
  const Ring lid = {{0.0, 0.0}, {220.0, 0.0}, {220.0, 20.0}, {0.0, 20.0}};
  job.stations = {{0.0, {box}, {lid}}, {170.0, {box}, {lid}}};
  job.stations.insert(job.stations.begin(), {-170.0, {box}, {lid}});
  const ReachableFaces faces = FacesAtEnd(job, MakeSolid(job));
  CHECK(faces.back_x_mm == Approx(13.0).margin(1e-3));
  CHECK(faces.rim_y_mm == Approx(0.0).margin(1e-12));
  CheckTexts({"box", BoxDrawing(job, MakeSolid(job))});
}

// Two texts on one line of which the second could be read as the end of the first.
std::vector<std::string> ReadAsOne(const Canvas& canvas, const Rect2& area) {
  std::vector<std::string> found;
  const auto& texts = canvas.texts();
  for (std::size_t i = 0; i < texts.size(); ++i) {
    for (std::size_t k = 0; k < texts.size(); ++k) {
      const Rect2 &a = texts[i].box, &b = texts[k].box;
      if (i == k || texts[i].upright || texts[k].upright) continue;
      if (a.low.y() < area.low.y() || b.low.y() < area.low.y()) continue;
      const double height = std::min(a.high.y() - a.low.y(), b.high.y() - b.low.y());
      const double shared = std::min(a.high.y(), b.high.y()) - std::max(a.low.y(), b.low.y());
      const double apart = b.low.x() - a.high.x();
      if (shared > 0.5 * height && apart >= 0.0 && apart < height) {
        found.push_back(texts[i].text + " | " + texts[k].text);
      }
    }
  }
  return found;
}

TEST_CASE("no two numbers beside an arm read as one") {
  std::mt19937 random(11);
  std::uniform_real_distribution<double> bulges(-0.8, 0.8), lengths(18.0, 70.0);
  for (int i = 0; i < 60; ++i) {
    Design design = testing::MakeDesign(testing::Examples()[i % 2 == 0 ? 0 : 3]);
    Hinge& hinge = design.hinges[0];
    for (std::optional<Arm>* arm : {&hinge.arm_a, &hinge.arm_b}) {
      *arm = testing::MakeArm({20.0, -20.0}, {20.0 + lengths(random), -20.0}, bulges(random), 8.0,
                              4.0);
    }
    const Canvas canvas = ArmSheet(design, hinge);
    const double table = 7.0 + 26.0;  // what lies under the title block's top is in columns
    INFO("arms " << i);
    CHECK(ReadAsOne(canvas, {{0.0, table}, {canvas.width_mm(), canvas.height_mm()}}) ==
          std::vector<std::string>{});
  }
}

TEST_CASE("an arm in inches is as long as it says, between its holes") {
  Design design = testing::MakeDesign(testing::Examples()[3]);
  REQUIRE(design.job.inches);
  Hinge& hinge = design.hinges[0];
  hinge.arm_b = testing::MakeArm({20.0, -20.0}, {20.0 + 25.4 * 4.194, -20.0}, 0.0, 6.35, 3.175);
  const auto words = Words(ArmSheet(design, hinge));
  CHECK(words.count("4.194\"") == 2);  // at the arm and in the table
  CHECK(words.count("4-3/16\"") == 0);
  CHECK(words.count("1/4\"") >= 1);
}

TEST_CASE("arms are drawn and told with the holes that are drilled, and their bushings") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  Hinge& hinge = design.hinges[0];
  hinge.parts.emplace();
  HingePiece arm;
  arm.body = Body::kArmA;
  arm.holes = {{hinge.pivots.case_a, 1.9}, {hinge.pivots.lid_a, 1.9}};
  hinge.parts->pieces = {arm};
  const Canvas canvas = ArmSheet(design, hinge);
  const auto words = Words(canvas);
  CHECK(words.count("\xE2\x8C\x80 3.8") == 2);
  CHECK(words.count("3.8") == 1);         // to drill
  CHECK(words.count("3.95") >= 1);        // the bushing
  CHECK(words.count("by its fit") == 1);  // arm B has no parts
}

TEST_CASE(
    "the headline's gap is marked on the overlay however roomy, and no text lies on hatching") {
  int labels = 0;
  for (const auto& example : testing::Examples()) {
    INFO(example.name);
    Design design = testing::MakeDesign(example);
    Hinge& hinge = design.hinges[0];
    Verdict bench =
        testing::MakeGap(Requirement::kLidToBench, Member::kNone, 3.37, design.job.swing.open_rad,
                         {-35.0, design.solid.bench_mm + 1.7});
    bench.required = 2.0;
    hinge.verdicts = {
        testing::MakeGap(Requirement::kLidToCase, Member::kNone, 18.85, 0.17, {-5.0, 10.0}), bench};
    const Canvas canvas = Overlay(design, hinge);
    std::size_t marked = 0;
    for (const Canvas::Item& item : canvas.items()) {
      const auto* disc = std::get_if<Canvas::Disc>(&item);
      marked += disc && disc->name == "tightest" ? 1 : 0;
    }
    CHECK(marked == 2);
    const auto words = Words(canvas);
    CHECK(std::count_if(words.begin(), words.end(), [](const std::string& word) {
            return word.find("lid to case") != std::string::npos;
          }) == 1);
    for (const PlacedText& text : canvas.texts()) {
      if (text.text.find("lid to") == std::string::npos) continue;
      INFO(text.text);
      CHECK(canvas.HatchIn(text.box) == 0.0);
      ++labels;
    }
  }
  CHECK(labels == 8);
}

TEST_CASE("the arm sheet measures the arms themselves") {
  Design design = testing::MakeDesign(testing::Examples()[1]);
  Hinge& hinge = design.hinges[0];
  const Canvas canvas = ArmSheet(design, hinge);
  const auto words = Words(canvas);
  const Pivots& p = hinge.pivots;
  // In the table and as a dimension; a circle's chord c and bulge b give its radius
  // c (1 + b²) / 4b.
  const double pitch_a = (p.lid_a - p.case_a).norm(), pitch_b = (p.lid_b - p.case_b).norm();
  CHECK(words.count(LengthText(pitch_a, false)) == 2);
  CHECK(words.count(LengthText(pitch_b, false)) == 2);
  const double radius = pitch_a * (1.0 + 0.35 * 0.35) / (4.0 * 0.35);
  const std::string inner = "R " + LengthText(radius - 4.0, false, Bench::kSize);
  const std::string outer = "R " + LengthText(radius + 4.0, false, Bench::kSize);
  CHECK(words.count(inner) == 1);
  CHECK(words.count(outer) == 1);
  CHECK(words.count("R 4") == 2);
  CHECK(words.count("\xE2\x8C\x80 3.95") == 4);
  CHECK(words.count("8") == 3);  // both widths, and arm B is no higher than wide
  CHECK(words.count("on spacers") == 1);
  // Arm A sags: its inside radius is named above it, its outside radius below.
  double inner_y = 0.0, outer_y = 0.0;
  for (const PlacedText& text : canvas.texts()) {
    if (text.text == inner) inner_y = text.box.low.y();
    if (text.text == outer) outer_y = text.box.low.y();
  }
  CHECK(inner_y > outer_y + 8.0);
  hinge.arm_b.reset();
  const auto lone = Words(ArmSheet(design, hinge));
  CHECK(lone.count("Arm B") == 0);
  CHECK(lone.count("For an arm that is missing here no way was found.") == 1);
  hinge.arm_a.reset();
  CheckTexts({"arms", ArmSheet(design, hinge)});
}

}  // namespace
}  // namespace lidwright
