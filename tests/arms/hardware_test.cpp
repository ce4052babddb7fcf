// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/hardware.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "lidwright/base/units.h"
#include "lidwright/job/arm_materials.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;

namespace {

struct Range {
  double inside;    // a size in it
  double from, to;  // for the standard's geometric mean; the first begins at 1
  double it6, it7;  // µm, as printed
};
// ISO 286-1, table of standard tolerances (as quoted on mechguru.com, deepri.com).
const std::vector<Range> kRanges{
    {2.0, 1.0, 3.0, 6, 10}, {5.0, 3.0, 6.0, 8, 12}, {8.0, 6.0, 10.0, 9, 15}};

}  // namespace

TEST_CASE("ISO 286 limits have the grades' widths and the standard's formula within its rounding") {
  for (const Range& range : kRanges) {
    // i = 0.45 ∛D + 0.001 D [µm], IT6 = 10 i, IT7 = 16 i, D the geometric mean of the range.
    const double d = std::sqrt(range.from * range.to);
    const double i = 0.45 * std::cbrt(d) + 0.001 * d;
    CHECK_THAT(10.0 * i, WithinAbs(range.it6, 1.0));
    CHECK_THAT(16.0 * i, WithinAbs(range.it7, 1.4));
    for (const char* name : {"H7", "f7"}) {
      const SizeLimits limits = *IsoLimits(range.inside, name);
      CHECK(limits.upper_um - limits.lower_um == range.it7);
    }
    for (const char* name : {"h6", "p6", "s6"}) {
      const SizeLimits limits = *IsoLimits(range.inside, name);
      CHECK(limits.upper_um - limits.lower_um == range.it6);
    }
    CHECK(IsoLimits(range.inside, "H7")->lower_um == 0.0);
    CHECK(IsoLimits(range.inside, "h6")->upper_um == 0.0);
  }
}

TEST_CASE("ISO 286 deviations are the printed ones, range by range") {
  // ISO 286-2: p6, s6, f7 (as quoted on hzpt.com); f7 to 3 mm is −6, the page's −5 a misprint.
  struct Row {
    double size, p_low, s_low, f_high;
  };
  for (const Row& row : {Row{3.0, 6, 14, -6},
                         {3.001, 12, 19, -10},
                         {6.0, 12, 19, -10},
                         {6.001, 15, 23, -13},
                         {10.0, 15, 23, -13}}) {
    CHECK(IsoLimits(row.size, "p6")->lower_um == row.p_low);
    CHECK(IsoLimits(row.size, "s6")->lower_um == row.s_low);
    CHECK(IsoLimits(row.size, "f7")->upper_um == row.f_high);
  }
  CHECK_FALSE(IsoLimits(10.001, "H7"));
  CHECK_FALSE(IsoLimits(0.0, "H7"));
  CHECK_FALSE(IsoLimits(5.0, "H8"));
}

TEST_CASE("ISO 286 fits over 3 to 6 mm are the derived ones") {
  // Derived from those limits: clearance 0…20, 10…34, interference 0…20, 7…27 µm.
  struct Row {
    const char* shaft;
    double least, greatest;
  };
  for (const Row& row : {Row{"h6", 0, 20}, {"f7", 10, 34}, {"p6", -20, 0}, {"s6", -27, -7}}) {
    const Fit fit = *IsoFit(5.0, "H7", row.shaft);
    CHECK(fit.least_um == row.least);
    CHECK(fit.greatest_um == row.greatest);
  }
}

TEST_CASE("inch tubes have the bores that were read, and the next size slides by 0.083 mm") {
  // Table of thin metal tubing on sizes.com, wall 0.014 in; the slip is derived from it.
  struct Row {
    double outside_in, bore_in;
  };
  int found = 0;
  for (const Row& row : {Row{3.0 / 32, 0.06575},
                         {1.0 / 8, 0.0970},
                         {5.0 / 32, 0.12825},
                         {3.0 / 16, 0.1595},
                         {7.0 / 32, 0.19075},
                         {1.0 / 4, 0.2220},
                         {9.0 / 32, 0.25325},
                         {5.0 / 16, 0.2845}}) {
    for (const Tube& tube : Tubes()) {
      if (!tube.inch || std::abs(tube.outside_mm - row.outside_in * kMmPerInch) > 1e-9) continue;
      ++found;
      CHECK_THAT(tube.inside_mm / kMmPerInch, WithinAbs(row.bore_in, 1e-9));
      CHECK_THAT(tube.inside_mm - tube.pin_mm, WithinAbs(0.08255, 1e-5));
    }
  }
  CHECK(found == 8);
}

TEST_CASE("every tube has a wall and a pin that runs in it") {
  int metric = 0;
  for (const Tube& tube : Tubes()) {
    INFO(tube.name);
    CHECK(tube.inside_mm < tube.outside_mm - 0.4);
    if (tube.reamed) {
      CHECK(tube.pin_mm == tube.inside_mm);
      CHECK(IsoFit(tube.pin_mm, "H7", "f7")->least_um > 0.0);
    } else {
      CHECK(tube.inside_mm - tube.pin_mm > 0.02);
      CHECK(tube.inside_mm - tube.pin_mm < 0.1);
    }
    CHECK_FALSE(Describe(tube.source).empty());
    if (!tube.inch) ++metric;
  }
  CHECK(metric > 5);
}

TEST_CASE("every material of the arms has a press fit with its source") {
  for (const ArmMaterial& material : ArmMaterials()) {
    INFO(material.name);
    const PressFit* fit = FindPressFit(material.name);
    REQUIRE(fit);
    // Nothing but acrylic, which cracks, is pressed with less than nothing.
    CHECK((fit->interference_mm > 0.0) == (material.name != "acrylic"));
    CHECK_FALSE(Describe(fit->source).empty());
  }
  // A metal's interference lies within H7/p6.
  const Fit press = *IsoFit(5.0, "H7", "p6");
  CHECK(FindPressFit("brass")->interference_mm * 1000.0 <= -press.least_um);
}

TEST_CASE("screws grow with their heads, and pilots stay under the thread") {
  double last_metric = 0.0, last_inch = 0.0;
  for (const WoodScrew& s : WoodScrews()) {
    INFO(s.name);
    double& last = s.inch ? last_inch : last_metric;
    CHECK(s.head_mm > last);
    last = s.head_mm;
    CHECK(s.pilot_soft_mm <= s.pilot_hard_mm);
    CHECK(s.pilot_hard_mm < s.diameter_mm);
    CHECK(s.clearance_mm > s.diameter_mm);
  }
  for (const MachineScrew& s : MachineScrews()) {
    INFO(s.name);
    CHECK(s.tap_drill_mm < s.diameter_mm);
    CHECK(s.clearance_mm > s.diameter_mm);
  }
  // ISO 261: M3 has a pitch of 0.5, M4 of 0.7, M5 of 0.8; the tap drill is the diameter less it.
  for (const auto& [name, pitch] : {std::pair("M3", 0.5), {"M4", 0.7}, {"M5", 0.8}}) {
    const auto it =
        std::find_if(MachineScrews().begin(), MachineScrews().end(),
                     [&, wanted = name](const MachineScrew& s) { return s.name == wanted; });
    REQUIRE(it != MachineScrews().end());
    CHECK_THAT(it->tap_drill_mm, WithinAbs(it->diameter_mm - pitch, 1e-9));
  }
}

namespace {

// A job of arms and plates alone: what hardware is picked by.
Job Wanting(double bushing_mm, double eye_mm, double plate_mm, const std::string& arms) {
  Job job;
  job.arms.bushing_mm = bushing_mm;
  job.arms.eye_mm = eye_mm;
  job.arms.gap_mm = 1.0;
  job.arms.material = arms;
  job.plates.case_mm = job.plates.lid_mm = plate_mm;
  return job;
}

}  // namespace

TEST_CASE("the set fits the bushing asked for and says why") {
  std::vector<std::string> faults;
  const auto metric = ChooseHardware(Wanting(4.0, 8.0, 2.0, "birch plywood"), &faults);
  REQUIRE(metric);
  CHECK(faults.empty());
  CHECK(metric->bushing.outside_mm == 4.0);
  CHECK(metric->bushing.pin_mm == 3.5);
  CHECK_THAT(metric->running_mm, WithinAbs(0.05, 1e-9));
  CHECK_THAT(metric->arm_hole_mm, WithinAbs(3.9, 1e-9));
  CHECK(metric->screw.head_height_mm < 2.0);
  CHECK(metric->why.size() == 4);
  Job inches = Wanting(3.175, 6.35, 2.38125, "brass");
  inches.inches = true;
  const auto inch = ChooseHardware(inches, &faults);
  REQUIRE(inch);
  CHECK(inch->bushing.inch);
  CHECK(inch->screw.inch);
  const auto reamed = ChooseHardware(Wanting(6.0, 12.0, 3.0, "brass"), &faults);
  REQUIRE(reamed);
  CHECK(reamed->bushing.reamed);
  CHECK_THAT(reamed->running_mm, WithinAbs(0.022, 1e-9));  // middle of 10…34 µm
}

TEST_CASE("bushings of these sizes run on a rod that dealers keep") {
  const std::vector<double> kept_mm{2, 2.5, 3, 4, 5, 6};
  const std::vector<double> kept_32nds{3, 4, 5, 6, 8};
  for (const bool inches : {false, true}) {
    for (const double size :
         inches ? std::vector<double>{4, 5, 6, 7, 9} : std::vector<double>{3, 3.5, 4.5, 6, 7}) {
      const double bushing_mm = inches ? size * 25.4 / 32.0 : size;
      Job job = Wanting(bushing_mm, 3.0 * bushing_mm, 3.0, "aluminium");
      job.inches = inches;
      std::vector<std::string> faults;
      const auto set = ChooseHardware(job, &faults);
      INFO(size << (inches ? "/32 in" : " mm"));
      REQUIRE(set);
      const double rod = inches ? set->bushing.pin_mm / 25.4 * 32.0 : set->bushing.pin_mm;
      const auto& kept = inches ? kept_32nds : kept_mm;
      CHECK(std::any_of(kept.begin(), kept.end(),
                        [&](double one) { return std::abs(one - rod) < 1e-6; }));
    }
  }
}

TEST_CASE("what no hardware fits is said with part, number and what would fit") {
  const auto fault = [](const Job& job) {
    std::vector<std::string> faults;
    CHECK_FALSE(ChooseHardware(job, &faults));
    REQUIRE(faults.size() == 1);
    return faults[0];
  };
  CHECK(fault(Wanting(4.25, 9.0, 2.0, "birch plywood")) ==
        "bushing: no tube of 4.25 mm outside is sold; 4 mm or 4.5 mm would fit");
  CHECK(fault(Wanting(4.0, 6.2, 2.0, "birch plywood")) ==
        "eye of the arms: a bushing of 4 mm in an eye of 6.2 mm leaves a web of 1.1 mm; birch "
        "plywood needs 1.33 mm, so an eye of 6.67 mm would fit");
  CHECK(
      fault(Wanting(4.0, 8.0, 1.0, "birch plywood")) ==
      "fixing screws: the smallest head is 3.8 mm wide and sinks 1.2 mm; a plate of 1 mm with room "
      "for heads of 7 mm takes none; a plate of 1.6 mm with heads of 3.8 mm would fit");
  CHECK(fault(Wanting(4.0, 8.0, 2.0, "cheese")).find("\"cheese\"") != std::string::npos);
}

TEST_CASE("what the job gives of the hardware is taken, and what depends on it follows") {
  std::vector<std::string> faults;
  Job job = Wanting(4.0, 8.0, 2.0, "birch plywood");
  job.hardware.bore_mm = 3.1;
  const auto own = ChooseHardware(job, &faults);
  REQUIRE(own);
  CHECK(own->bushing.inside_mm == 3.1);
  CHECK(own->bushing.pin_mm == 3.0);  // the largest whole half millimetre that runs
  CHECK_THAT(own->running_mm, WithinAbs(0.1, 1e-12));
  CHECK(own->why[0].find("tube of yours, 4 mm outside and 3.1 mm inside; a pin of 3 mm") !=
        std::string::npos);
  job.hardware.pin_mm = 3.05;
  job.hardware.arm_press_mm = 0.04;
  job.hardware.pin_press_mm = -0.02;
  job.hardware.spacer_mm = 7.0;
  job.hardware.washer_mm = 8.5;
  job.hardware.washer_thickness_mm = 0.5;
  job.hardware.screw = "#2";
  job.hardware.screw_length_mm = 9.0;
  const auto all = ChooseHardware(job, &faults);
  REQUIRE(all);
  CHECK(faults.empty());
  CHECK(all->bushing.pin_mm == 3.05);
  CHECK(PinDiameter_mm(job) == 3.05);
  CHECK_THAT(all->arm_hole_mm, WithinAbs(3.96, 1e-12));
  CHECK_THAT(all->plate_hole_mm, WithinAbs(3.07, 1e-12));
  CHECK_THAT(all->wood_hole_mm, WithinAbs(3.07, 1e-12));
  CHECK(all->spacer_out_mm == 7.0);
  CHECK(all->washer_out_mm == 8.5);
  CHECK(all->washer_mm == 0.5);
  CHECK(all->screw.name == "#2");
  CHECK(all->screw_length_mm == 9.0);
  // A rod other than the one that a reamed tube is sold for has no ISO fit.
  Job reamed = Wanting(6.0, 12.0, 3.0, "brass");
  reamed.hardware.pin_mm = 4.9;
  const auto loose = ChooseHardware(reamed, &faults);
  REQUIRE(loose);
  CHECK_FALSE(loose->bushing.reamed);
  CHECK_THAT(loose->running_mm, WithinAbs(0.1, 1e-12));
}

TEST_CASE("given hardware that does not go together is refused with what would fit") {
  const auto fault = [](const std::function<void(Job&)>& change) {
    Job job = Wanting(4.0, 8.0, 2.0, "birch plywood");
    change(job);
    std::vector<std::string> faults;
    CHECK_FALSE(ChooseHardware(job, &faults));
    REQUIRE(faults.size() == 1);
    return faults[0];
  };
  CHECK(fault([](Job& j) { j.hardware.pin_mm = 3.0; }) ==
        "pins: a rod of 3 mm in a bushing bored 3.55 mm rattles; one of 3.35 mm to 3.54 mm would "
        "fit, or say hardware.bushing_bore if your tube is another");
  CHECK(fault([](Job& j) { j.hardware.pin_mm = 3.55; }).find("does not turn") != std::string::npos);
  CHECK(fault([](Job& j) {
          j.hardware.bore_mm = 3.9;
          j.hardware.pin_mm = 3.8;
        }) ==
        "bushing: a tube of 4 mm bored 3.9 mm has a wall of 0.05 mm and is crushed when pressed "
        "in; a bore of 3.7 mm would fit");
  CHECK(fault([](Job& j) { j.hardware.screw = "M7"; }) ==
        "fixing screws: \"M7\" is no size of screw; in the wood 2 mm, #2, 2.5 mm, #4, 3 mm, 3.5 "
        "mm, #6, 4 mm, #8; bolted right through M2, M2.5, M3, M4, M5, #4-40, #6-32, #8-32 would "
        "do");
  CHECK(fault([](Job& j) { j.hardware.screw = "4 mm"; }) ==
        "fixing screws: the head of 4 mm screws sinks 2.2 mm into a plate of 2 mm; a plate of 2.6 "
        "mm would fit");
  CHECK(fault([](Job& j) { j.hardware.spacer_mm = 4.0; }) ==
        "spacers: one of 4 mm outside has no wall round a pin of 3.5 mm; 4.4 mm would fit");
  CHECK(fault([](Job& j) { j.hardware.spacer_mm = 8.5; }) ==
        "spacers: one of 8.5 mm stands out over an eye of 8 mm; 8 mm would fit");
  CHECK(fault([](Job& j) { j.hardware.washer_mm = 4.5; }) ==
        "washers: one of 4.5 mm does not hold an arm whose bushing is 4 mm; 5 mm would fit");
  CHECK(fault([](Job& j) { j.hardware.washer_mm = 9.5; }) ==
        "washers: two of 9.5 mm on neighbouring pins would meet; 9 mm, the eye and arms.gap, "
        "would fit");
}

TEST_CASE("given hardware is judged before any search, what is left to be picked is not") {
  Job job = Wanting(4.25, 9.0, kUnset, "birch plywood");  // no such tube is sold
  CHECK(FaultsOfHardware(job).empty());
  job.hardware.washer_thickness_mm = 0.5;
  const Problems problems = FaultsOfHardware(job);
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place == "hardware");
  CHECK(problems[0].rule ==
        "bushing: no tube of 4.25 mm outside is sold; 4 mm or 4.5 mm would fit");
  job.hardware.bore_mm = 3.55;  // but the maker has one
  CHECK(FaultsOfHardware(job).empty());
}

TEST_CASE("machine screws bolt the plates right through") {
  Job job = Wanting(4.0, 8.0, 2.0, "birch plywood");
  job.hardware.screw = "M3";
  std::vector<std::string> faults;
  const auto bolts = ChooseHardware(job, &faults);
  REQUIRE(bolts);
  CHECK(bolts->bolts);
  CHECK(bolts->screw.diameter_mm == 3.0);
  CHECK(bolts->screw.clearance_mm == 3.4);  // ISO 273 medium
  // ISO 10642: the head's cone is of 90°, so it is as deep as its rim stands out over the thread.
  CHECK_THAT(bolts->screw.head_height_mm, WithinAbs((5.5 - 3.0) / 2.0, 1e-12));
  CHECK(bolts->why.back().find("M3 countersunk machine screws right through the walls") !=
        std::string::npos);
}

TEST_CASE("a packing follows a case plate that is thicker than usual") {
  Job job = Wanting(4.0, 8.0, kUnset, "birch plywood");
  CHECK(PlatesOf(job).case_mm == 2.0);
  CHECK(PlatesOf(job).packing_mm == 3.0);
  CHECK(PlatesOf(job).material == "aluminium");
  job.plates.case_mm = 3.0;
  CHECK(PlatesOf(job).packing_mm == 4.0);  // the next sheet over 3.4
  job.plates.on_case = false;
  CHECK(PlatesOf(job).packing_mm == 3.0);
  job.arms.material = "brass";
  CHECK(PlatesOf(job).material == "brass");
}

TEST_CASE("a wall too thin for any wood screw takes bolts right through, if none is asked for") {
  for (const bool inches : {false, true}) {
    Job job = Wanting(6.0, 10.0, 2.0, "aluminium");
    if (inches) job.arms.bushing_mm = 7.0 / 32.0 * kMmPerInch;
    job.inches = inches;
    std::vector<std::string> faults;
    for (const double wall_mm : {12.0, 4.0}) {
      job.case_form.end_wall_mm = job.lid.wall_mm = wall_mm;
      const auto chosen = ChooseHardware(job, &faults);
      INFO(inches << " " << wall_mm << (faults.empty() ? "" : faults[0]));
      REQUIRE(chosen);
      CHECK(chosen->bolts == (wall_mm < 10.0));
      CHECK(ScrewsHeldByWalls(job) == !chosen->bolts);
    }
    job.hardware.screw = inches ? "#2" : "2.5 mm";
    const auto asked = ChooseHardware(job, &faults);
    REQUIRE(asked);
    CHECK_FALSE(asked->bolts);
  }
}

TEST_CASE("thick plates leave the screws too little thread in thin walls") {
  // #2 screws hold with one and a half of their 2.18 mm in the wood, their tips 2 mm under its
  // face: in a wall of 1/4 in that is with a plate of 3/32 in (3.97 mm of a 1/4 in screw), not with
  // one of 1/8 in (3.18 mm).
  Job job = Wanting(7.0 / 32.0 * kMmPerInch, 10.0, 3.0 / 32.0 * kMmPerInch, "aluminium");
  job.inches = true;
  job.case_form.end_wall_mm = job.lid.wall_mm = kMmPerInch / 4.0;
  CHECK(ScrewsHeldByWalls(job));
  job.plates.case_mm = kMmPerInch / 8.0;
  CHECK_FALSE(ScrewsHeldByWalls(job));
  job.case_form.end_wall_mm = job.lid.wall_mm = 3.0 / 8.0 * kMmPerInch;
  CHECK(ScrewsHeldByWalls(job));
  job.plates.on_case = job.plates.on_lid = false;  // no screws
  job.case_form.end_wall_mm = 1.0;
  CHECK(ScrewsHeldByWalls(job));
}
