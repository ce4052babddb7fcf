// SPDX-License-Identifier: Apache-2.0
#include "lidwright/looks/looks.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <tuple>

#include "drawing/made_up_design.h"
#include "lidwright/drawing/arm_sheet.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/report/html.h"

namespace lidwright {
namespace {

TEST_CASE("no two bodies look alike, by pattern or by tone") {
  std::set<std::tuple<Pattern, double, double, unsigned>> looks;
  std::set<std::string> names;
  for (const Look& look : AllLooks()) {
    const bool plain = look.pattern == Pattern::kPlain;
    looks.insert({look.pattern, plain ? 0.0 : look.angle_deg, plain ? 0.0 : look.pitch_mm,
                  plain ? look.fill : 0u});
    names.insert(look.name);
  }
  CHECK(looks.size() == kLooks);
  CHECK(names.size() == kLooks);
}

TEST_CASE("packing, plates and arms are told apart") {
  HingePiece packing, plate, arm;
  packing.kind = PieceKind::kSpacer;  // cut from sheet
  plate.kind = PieceKind::kLidPlate;
  arm.kind = PieceKind::kArm;
  arm.body = Body::kArmB;
  CHECK(std::string(LookOf(packing).name) == "packing");
  CHECK(std::string(LookOf(plate).name) == "plate");
  CHECK(&LookOf(arm) == &LookOf(Body::kArmB));
  packing.cut_from_sheet = false;
  CHECK(std::string(LookOf(packing).name) == "spacer");
}

// Patterns that are drawn within groups of this class, as (dotted, angle of their lines in
// degrees).
std::set<std::pair<bool, int>> PatternsIn(const Canvas& canvas, const std::string& group) {
  std::set<std::pair<bool, int>> found;
  std::vector<std::string> open;
  for (const Canvas::Item& item : canvas.items()) {
    if (const auto* start = std::get_if<Canvas::GroupStart>(&item)) open.push_back(start->name);
    if (std::holds_alternative<Canvas::GroupEnd>(item)) open.pop_back();
    const auto* shape = std::get_if<Canvas::Shape>(&item);
    if (!shape || shape->path.size() < 4 || open.empty() || open.back() != group) continue;
    const auto& v = shape->path[0].vertices;
    if (v.size() != 2) continue;
    const Vec2 along = v[1].point - v[0].point;
    const double angle = std::atan2(along.y(), along.x()) * kDegPerRad;
    found.insert(
        {!shape->pen->dash_mm.empty(), static_cast<int>(std::lround(angle + 360.0)) % 180});
  }
  return found;
}

TEST_CASE("an arm is drawn on the page with the pattern it has on paper") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const Hinge& hinge = design.hinges.front();
  const std::string page = ReportHtml(design, {});
  const std::string begin = "<script type=\"application/json\" id=\"data\">";
  const std::size_t from = page.find(begin) + begin.size();
  const auto data = nlohmann::json::parse(page.substr(from, page.find("</script>", from) - from));
  int compared = 0;
  for (const auto& look : data.at("looks")) {
    const std::string name = look.at("name"), pattern = look.at("pattern");
    if (name != "arm-a" && name != "arm-b" && name != "case" && name != "lid") continue;
    std::set<std::pair<bool, int>> wanted;
    if (pattern != "plain") wanted.insert({pattern == "dots", look.at("angle").get<int>()});
    INFO(name << " " << pattern);
    CHECK(PatternsIn(Overlay(design, hinge), name) == wanted);
    ++compared;
  }
  CHECK(compared == 4);
  CHECK(PatternsIn(ArmSheet(design, hinge), "arm-a").empty());
  CHECK(PatternsIn(ArmSheet(design, hinge), "arm-b") == std::set<std::pair<bool, int>>{{true, 30}});
}

}  // namespace
}  // namespace lidwright
