// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "lidwright/arms/shop_drills.h"
#include "lidwright/arms/shop_fasteners.h"
#include "lidwright/arms/shop_holding.h"
#include "lidwright/arms/shop_sheets.h"
#include "lidwright/base/numbers.h"
#include "lidwright/job/arm_materials.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("every material of arms is sold as sheet in both units, with a density and a name") {
  for (const ArmMaterial& material : ArmMaterials()) {
    for (const bool inch : {false, true}) {
      ShopHas has;
      has.materials = {material.name};
      INFO(material.name << " " << inch);
      const std::vector<StockSheet> sheets = SheetsToTry(inch, has, 0.5, 20.0);
      CHECK(sheets.size() >= 4);
      for (const StockSheet& sheet : sheets) CHECK(sheet.inch == inch);
    }
    CHECK(SheetDensity_kg_m3(material.name) > 300.0);
  }
  std::set<std::string> names;
  for (const StockSheet& sheet : StockSheets()) {
    CHECK(names.insert(sheet.name).second);
    CHECK_FALSE(Describe(sheet.source).empty());
    CHECK(sheet.thickness_mm > 0.5);
    // An inch sheet's name reads back to its size.
    if (sheet.inch) CHECK(sheet.name.find(InchFraction(sheet.nominal_mm) + " in") == 0);
  }
  CHECK(names.count("1/4 in birch plywood") == 1);
  CHECK(names.count("3/32 in aluminium sheet") == 1);
  CHECK(names.count("3 mm brass sheet") == 1);
  CHECK(std::isnan(SheetDensity_kg_m3("cheese")));
}

TEST_CASE("sheets come lightest first, and of equal weight the easier to work") {
  for (const bool inch : {false, true}) {
    const std::vector<StockSheet> sheets = SheetsToTry(inch, {}, 1.0, 8.0);
    REQUIRE(sheets.size() > 25);
    for (std::size_t i = 1; i < sheets.size(); ++i) {
      const double before = WeightOf_kg_m2(sheets[i - 1]), now = WeightOf_kg_m2(sheets[i]);
      INFO(sheets[i - 1].name << ", " << sheets[i].name);
      CHECK(now > before * 0.98);
      if (now < before) CHECK(WorkOf(sheets[i].material) >= WorkOf(sheets[i - 1].material));
      CHECK(sheets[i].thickness_mm >= 1.0);
      CHECK(sheets[i].thickness_mm <= 8.0);
    }
  }
  // 3 mm of aluminium weigh 8.13 kg a square metre.
  ShopHas has;
  has.materials = {"aluminium"};
  has.sheets_mm = {3.0};
  const std::vector<StockSheet> only = SheetsToTry(false, has, 1.0, 8.0);
  REQUIRE(only.size() == 1);
  CHECK_THAT(WeightOf_kg_m2(only[0]), WithinRel(8.13, 1e-9));
}

TEST_CASE("number drills are the published sizes and shrink as their numbers grow") {
  // READ (pages with drill charts): #1, #2, #3, #4, #7, #10, #21, #25, #80.
  struct Row {
    const char* name;
    double in;
  };
  for (const Row& row : {Row{"#1", 0.2280},
                         {"#2", 0.2210},
                         {"#3", 0.2130},
                         {"#4", 0.2090},
                         {"#7", 0.2010},
                         {"#10", 0.1935},
                         {"#21", 0.1590},
                         {"#25", 0.1495},
                         {"#80", 0.0135}}) {
    const auto& all = Drills(true);
    const auto it =
        std::find_if(all.begin(), all.end(), [&](const Drill& d) { return d.name == row.name; });
    INFO(row.name);
    REQUIRE(it != all.end());
    CHECK_THAT(it->diameter_mm / kMmPerInch, WithinAbs(row.in, 1e-9));
  }
  double before = 1e9;
  for (int n = 1; n <= 80; ++n) {
    for (const Drill& drill : Drills(true)) {
      if (drill.name != "#" + std::to_string(n)) continue;
      CHECK(drill.diameter_mm < before);
      before = drill.diameter_mm;
    }
  }
  for (const bool inch : {false, true}) {
    const std::vector<Drill>& all = Drills(inch);
    CHECK(all.size() > 90);
    for (std::size_t i = 1; i < all.size(); ++i) {
      CHECK(all[i].diameter_mm > all[i - 1].diameter_mm + kSameDrill_mm / 2.0);
    }
  }
}

TEST_CASE("a hole gets the drill that is sold or that the maker has") {
  CHECK(DrillAtMost(3.94, false)->name == "3.9 mm");
  CHECK(DrillAtLeast(3.91, false)->name == "4 mm");
  CHECK(DrillAtMost(3.9, false)->name == "3.9 mm");  // exact sizes are themselves
  CHECK(DrillAtLeast(3.9, false)->name == "3.9 mm");
  CHECK(NearestDrill(3.175, true)->name == "1/8 in");
  CHECK(NearestDrill(2.26, true)->name == "#43");  // the tap drill of #4-40
  CHECK_FALSE(DrillAtLeast(50.0, false));
  CHECK_FALSE(DrillAtMost(0.1, true));
  ShopHas few;
  few.drills_mm = {2.0, 3.0, 4.0};
  CHECK(DrillAtMost(3.9, false, few)->name == "3 mm");
  CHECK(NearestDrill(3.9, false, few)->name == "4 mm");
  CHECK_FALSE(DrillAtMost(1.9, false, few));
}

TEST_CASE("every pin that can be bought has a bushing that runs on it, and a washer") {
  for (const bool inch : {false, true}) {
    const std::vector<BushingChoice> choices = BushingsToTry(inch);
    std::set<double> pins;
    for (std::size_t i = 0; i < choices.size(); ++i) {
      const BushingChoice& c = choices[i];
      INFO(c.rod.name << " in " << c.tube.name);
      CHECK(c.rod.inch == inch);
      CHECK(c.tube.inch == inch);
      pins.insert(c.rod.diameter_mm);
      const double spare = c.tube.inside_mm - c.rod.diameter_mm;
      CHECK((c.tube.reamed ? spare == 0.0 : spare > 0.02 && spare < 0.1));
      if (i > 0) CHECK(c.rod.diameter_mm >= choices[i - 1].rod.diameter_mm);
      const std::optional<Washer> washer = WasherFor(c.rod.diameter_mm, inch);
      REQUIRE(washer);
      CHECK(washer->inside_mm > c.rod.diameter_mm - 0.02);
      CHECK(washer->inside_mm < c.rod.diameter_mm + 1.3);
    }
    CHECK(pins.size() == (inch ? 5 : 6));
    CHECK(choices.front().rod.material == "mild steel");
  }
  CHECK(BushingsToTry(true)[0].rod.name == "3/32 in steel rod");
  CHECK(BushingsToTry(true)[0].tube.name == "1/8 in brass tube, wall 0.014 in");
  CHECK_FALSE(WasherFor(20.0, false));
}

TEST_CASE("screws, nuts and inserts belong together by their threads") {
  for (const bool inch : {false, true}) {
    const std::vector<ScrewSold> screws = ScrewsToTry(inch);
    CHECK(screws.size() == (inch ? 4 : 5));
    for (std::size_t i = 0; i < screws.size(); ++i) {
      const ScrewSold& s = screws[i];
      CHECK(std::is_sorted(s.lengths_mm.begin(), s.lengths_mm.end()));
      CHECK(s.lengths_mm.size() >= 5);
      // No screw is shorter than two and a half diameters or longer than twenty.
      CHECK(s.lengths_mm.front() > 2.4 * s.screw.diameter_mm);
      CHECK(s.lengths_mm.back() < 20.0 * s.screw.diameter_mm);
      if (i > 0) CHECK(s.screw.diameter_mm > screws[i - 1].screw.diameter_mm);
    }
  }
  // The gauge of wood screws: 0.060 in and 0.013 for each number (from memory of the standard).
  for (const ScrewSold& s : ScrewsToTry(true)) {
    const int number = std::stoi(s.screw.name.substr(1));
    CHECK_THAT(s.screw.diameter_mm / kMmPerInch, WithinAbs(0.060 + 0.013 * number, 0.0003));
  }
  for (const MachineScrew& screw : MachineScrews()) {
    const StockNut* nut = FindNut(screw.name);
    INFO(screw.name);
    REQUIRE(nut);
    CHECK(nut->inch == screw.inch);
    // A nut is 0.8 to 1.0 diameters high (small American ones from 0.75) and 1.5 to 2.3 wide.
    CHECK(nut->height_mm / screw.diameter_mm > 0.74);
    CHECK(nut->height_mm / screw.diameter_mm < 1.0);
    CHECK(nut->across_flats_mm / screw.diameter_mm > 1.5);
    CHECK(nut->across_flats_mm / screw.diameter_mm < 2.3);
  }
  CHECK(FindNut("M7") == nullptr);
  for (const StockInsert& insert : StockInserts()) {
    CHECK(FindNut(insert.thread) != nullptr);
    CHECK(insert.outside_mm > insert.hole_mm);
    CHECK(NearestDrill(insert.hole_mm, insert.inch).has_value());
    CHECK_THAT(NearestDrill(insert.hole_mm, insert.inch)->diameter_mm,
               WithinAbs(insert.hole_mm, 0.01));
  }
}

TEST_CASE("stays bear their load, the simplest first") {
  const std::vector<StockStay> light = StaysToTry(18.0, 120.0);
  REQUIRE(light.size() == 4);
  CHECK(light[0].kind == StayKind::kRibbon);
  CHECK(light[0].name == "6 mm grosgrain ribbon");
  CHECK(light[3].kind == StayKind::kFoldingStay);
  for (const double load : {5.0, 40.0, 100.0, 200.0, 400.0}) {
    for (const double length : {50.0, 120.0, 250.0}) {
      for (const StockStay& stay : StaysToTry(load, length)) {
        CHECK(stay.working_n >= load);
        CHECK(stay.least_mm <= length);
        // No weaker one of its kind and length would have done.
        for (const StockStay& other : StockStays()) {
          if (other.kind == stay.kind && other.least_mm <= length && other.most_mm >= length &&
              other.working_n >= load) {
            CHECK(other.working_n >= stay.working_n);
          }
        }
      }
    }
  }
  CHECK(StaysToTry(1000.0, 120.0).empty());
  // READ (a chain maker's page): brass 1/0, 35 lb.
  for (const StockStay& stay : StockStays()) {
    if (stay.name == "brass safety chain 1/0") CHECK_THAT(stay.working_n, WithinRel(155.7, 1e-3));
  }
  double before = 0.0;
  for (const StockStay& stay : StockStays()) {
    CHECK(stay.working_n >= before);
    before = stay.working_n;
  }
}

TEST_CASE("pads, dampers, frictions and torques grow and say where they come from") {
  for (const StockPad& pad : StockPads()) {
    CHECK_FALSE(Describe(pad.source).empty());
    CHECK(pad.most_mpa < pad.modulus_mpa);
  }
  double rate = 0.0;
  for (const StockDamper& damper : StockDampers()) {
    CHECK(damper.rate_nmm_s > rate);
    rate = damper.rate_nmm_s;
    // At the speed of the sheet it gives what its name says, within what it bears.
    CHECK(damper.rate_nmm_s * 2.0944 < damper.most_nmm);
  }
  double torque = 0.0;
  for (const StockTorque& t : StockTorques()) {
    CHECK(t.torque_nmm > torque);
    torque = t.torque_nmm;
  }
  for (const StockFriction& f : StockFrictions()) CHECK(f.outside_mm > f.inside_mm);
  for (const bool inch : {false, true}) {
    const std::vector<double> wires = SpringWires_mm(inch);
    CHECK(std::is_sorted(wires.begin(), wires.end()));
    CHECK(wires.front() > 0.4);
  }
}

TEST_CASE("what is sold by millimetres is told in inches first in an inch job") {
  int metric = 0;
  for (const StockStay& stay : StockStays()) {
    INFO(stay.name);
    CHECK(stay.NameIn(false) == stay.name);
    const std::size_t end = stay.name.find(" mm ");
    if (end == std::string::npos) {
      CHECK(stay.NameIn(true) == stay.name);
      continue;
    }
    ++metric;
    // The same size within what a 64th says, and in brackets behind it what it is sold as.
    const std::string inch = stay.NameIn(true);
    const double over = std::stod(inch), under = std::stod(inch.substr(inch.find('/') + 1));
    CHECK(over / under * 25.4 == Approx(std::stod(stay.name)).margin(25.4 / 32));
    CHECK(inch.find(" in (" + stay.name.substr(0, end) + " mm) " + stay.name.substr(end + 4)) !=
          std::string::npos);
  }
  CHECK(metric == 5);
}
