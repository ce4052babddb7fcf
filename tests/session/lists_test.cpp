// SPDX-License-Identifier: Apache-2.0
// What a hand adds to the job on the page: poses of the lid and things kept in the box.
#include <catch2/catch.hpp>

#include "lidwright/base/units.h"
#include "lidwright/design/make_design.h"
#include "lidwright/job/job_limits.h"
#include "lidwright/job/read_job.h"
#include "lidwright/linkage/lid_motion.h"
#include "session/frames.h"
#include "session/lists.h"
#include "session/talk.h"

using namespace lidwright;

namespace {

Json Entry(const char* list, int number, const Json& values) {
  Json message{{"ask", "entry"}, {"list", list}, {"number", number}};
  message.update(values);
  return message;
}
const Json kBlock{{"back", "40"}, {"front", "12 cm"}, {"height", "60"}};
const Json kPose{{"angle_deg", "90"}, {"at_x", "-34.5"}, {"at_y", "1/2 in"},
                 {"point_x", "0"},    {"point_y", "0"},  {"within", "3"}};

Job JobOf(const Json& shown) {
  const JobReading read = ReadJob(shown["file"].get<std::string>(), "job.json");
  REQUIRE(read.job);
  return *read.job;
}

// The sample chest's hinge as a search gave it once.
void PutPivots(Talk* talk) {
  talk->Say({{"ask", "place"}});
  const double hinge[4][2]{{39, -4}, {73.5, -60.5}, {138.5, -10}, {26, -52}};
  for (std::size_t i = 0; i < 4; ++i) {
    talk->Say(
        {{"ask", "drag"}, {"pivot", PivotNames()[i].name}, {"at", {hinge[i][0], hinge[i][1]}}});
  }
  talk->Say({{"ask", "drop"}});
}

}  // namespace

TEST_CASE("A block lands in the job as it was typed, and stands on the floor") {
  Talk talk(SampleChest());
  const Json shown = talk.Say(Entry("contents", 0, kBlock));
  CHECK(shown["ready"] == true);
  CHECK(shown["lists"]["contents"][0]["typed"]["front"] == "12 cm");
  CHECK(shown["lists"]["contents"][0]["typed"]["from_z"] == "");
  const Job job = JobOf(shown);
  REQUIRE(job.contents.size() == 1);
  const Rect2 at = Bounds(job.contents[0].rings);
  CHECK((at.low - Vec2(40, -108)).norm() < 1e-12);
  CHECK((at.high - Vec2(120, -48)).norm() < 1e-12);
  CHECK(shown["lists"]["contents"][0]["low"] == Json({40.0, -108.0}));
  CHECK(shown["box"]["contents"].size() == 1);
  // The hand's room is the one that the job's reader asks for.
  CHECK(shown["hand"]["low"] == Json({2.0, -108.0}));
  CHECK(shown["hand"]["high"][0] == 208.0);
  const auto ready = [&](const char* key, double mm) {
    return talk.Say(Entry("contents", 0, {{key, std::to_string(mm)}}))["ready"] == true;
  };
  CHECK(ready("back", 2.0));
  CHECK_FALSE(ready("back", 1.9));
  CHECK(ready("back", 40.0));
  const double tallest = shown["hand"]["high"][1].get<double>() + 108.0;
  CHECK(ready("height", tallest - 0.1));
  CHECK_FALSE(ready("height", tallest + 0.1));
}

TEST_CASE("A pose lands in the job in the job's own unit") {
  for (const std::string units : {"mm", "in"}) {
    INFO(units);
    Talk talk;
    talk.Set("units", units);
    const Json shown = talk.Say(Entry("poses", 0, kPose));
    const double unit = units == "in" ? kMmPerInch : 1.0;
    const Job job = JobOf(shown);
    REQUIRE(job.poses.size() == 1);
    CHECK(job.poses[0].angle_rad == 90 * kRadPerDeg);
    CHECK(job.poses[0].at.x() == Approx(-34.5 * unit).margin(1e-12));
    CHECK(job.poses[0].at.y() == Approx(12.7).margin(1e-12));
    CHECK(job.poses[0].within_mm == Approx(3.0 * unit).margin(1e-12));
    CHECK(shown["lists"]["poses"][0]["mark"] == "rear");
    CHECK(shown["lists"]["poses"][0]["at"][0] == job.poses[0].at.x());
    // A fault elsewhere holds no entry up.
    const Json faulty = talk.Set("case.wall", "thick");
    CHECK(faulty["ready"] == false);
    CHECK(faulty["lists"]["poses"][0]["typed"]["at_x"] == "-34.5");
    CHECK_FALSE(faulty["lists"]["poses"][0].contains("at"));
  }
}

TEST_CASE("An entry's fault is told in the words of the terminal, and is mended where it stands") {
  Talk talk(SampleChest());
  talk.Say(Entry("poses", 0, kPose));
  const struct {
    const char *key, *text, *place;
  } faulty[] = {{"angle_deg", "170", "poses[0].angle_deg"},
                {"angle_deg", "upright", "poses[0].angle_deg"},
                {"within", "-1", "poses[0].within"},
                {"at_x", "far", "poses[0].at[0]"},
                {"at_y", "", "poses[0].at[1]"}};
  for (const auto& [key, text, place] : faulty) {
    INFO(key << " = " << text);
    const Json shown = talk.Say(Entry("poses", 0, {{key, text}}));
    CHECK(shown["ready"] == false);
    const Problems told =
        ReadJob(Json::parse(shown["file"].get<std::string>()).dump(), "").problems;
    REQUIRE(told.size() == 1);
    CHECK(Talk::FaultAt(shown, place) == DescribeInPlace(told.front()));
    CHECK(talk.Say(Entry("poses", 0, {{key, kPose[key]}}))["ready"] == true);
  }
  CHECK(Talk::FaultAt(talk.Say(Entry("contents", 0, {{"back", "40"}, {"height", "9"}})),
                      "contents[0]") != "");
}

TEST_CASE("Entries are undone and redone with everything else, back to the same bytes") {
  Talk talk(SampleChest());
  Steps steps(&talk);
  steps.Keep(talk.Say(Entry("contents", 0, kBlock)));
  talk.Say(Entry("contents", 0, {{"height", "5"}}));
  steps.Keep(talk.Say(Entry("contents", 0, {{"height", "55"}})));  // typing on is one step
  steps.Keep(talk.Say(Entry("contents", 0, {{"back", "42"}, {"front", "122"}})));
  steps.Keep(talk.Say(Entry("contents", 0, {{"back", "43"}, {"front", "123"}})));  // drags are not
  steps.Keep(talk.Say(Entry("poses", 0, kPose)));
  steps.Keep(talk.Say(Entry("poses", 1, kPose)));
  steps.Keep(talk.Say({{"ask", "remove"}, {"list", "contents"}, {"number", 0}}));
  steps.Keep(talk.Say({{"ask", "remove"}, {"list", "poses"}, {"number", 1}}));
  steps.CheckBackAndForth();
}

TEST_CASE("What is taken out leaves the job as if it had never been there") {
  Talk talk(SampleChest());
  const Json before = talk.Say({{"ask", "state"}});
  talk.Say(Entry("poses", 0, kPose));
  Json other = kPose;
  other["angle_deg"] = "45";
  talk.Say(Entry("poses", 1, other));
  const Json left = talk.Say({{"ask", "remove"}, {"list", "poses"}, {"number", 0}});
  REQUIRE(JobOf(left).poses.size() == 1);
  CHECK(JobOf(left).poses[0].angle_rad == 45 * kRadPerDeg);
  CHECK(talk.Say({{"ask", "remove"}, {"list", "poses"}, {"number", 0}})["file"] == before["file"]);
}

TEST_CASE("How near the lid comes to each pose is told with every frame") {
  Talk talk(SampleChest());
  PutPivots(&talk);
  const Json placed = talk.Say({{"ask", "state"}});
  CHECK(placed["now"]["poses"].empty());
  // Where this linkage has the lid at 60 degrees, and 5 mm off that.
  Pivots pivots;
  for (const PivotName& pivot : PivotNames()) {
    const Json& at = placed["now"]["hinge"]["pivots"][pivot.label];
    pivots.*pivot.at = {at[0].get<double>(), at[1].get<double>()};
  }
  const Vec2 there = LidMotion::Make(pivots)->At(60 * kRadPerDeg).X_CL * Vec2::Zero();
  Json pose = kPose;
  pose["angle_deg"] = "60";
  pose["at_x"] = std::to_string(there.x());
  pose["at_y"] = std::to_string(there.y());
  Json shown = talk.Say(Entry("poses", 0, pose));
  pose["at_x"] = std::to_string(there.x() - 5.0);
  shown = talk.Say(Entry("poses", 1, pose));
  const Json& passed = shown["now"]["poses"];
  REQUIRE(passed.size() == 2);
  CHECK(passed[0]["met"] == true);
  CHECK(passed[1]["number"] == 1);
  CHECK(passed[1]["met"] == false);
  CHECK(passed[1]["says"] == "The lid passes 5 mm off.");
  CHECK(shown["now"]["outcome"] == "violated");
  CHECK(shown["now"]["says"] == "violated: pose at 60 deg");
  // While a pivot is dragged as well; what is allowed decides.
  const Json frame = talk.Say({{"ask", "drag"}, {"pivot", "lid_b"}, {"at", {26, -52}}});
  CHECK(frame["poses"] == passed);
  talk.Say({{"ask", "undo"}});
  const Json wide = talk.Say(Entry("poses", 1, {{"within", "5.1"}}));
  CHECK(wide["now"]["poses"][1]["met"] == true);
}

TEST_CASE("A search is asked for what was drawn, and its work holds no more once that changes") {
  Talk talk(SampleChest());
  talk.Say(Entry("contents", 0, kBlock));
  talk.Say(Entry("poses", 0, kPose));
  talk.Say({{"ask", "find"}});
  const std::optional<SessionWork> work = talk.session.TakeWork();
  REQUIRE(work);
  CHECK(work->job.contents.size() == 1);
  REQUIRE(work->job.poses.size() == 1);
  CHECK(work->job.poses[0].at.x() == -34.5);
  talk.Say(Entry("poses", 0, {{"at_x", "-30"}, {"at_y", "10"}}));
  CHECK_FALSE(talk.session.Wanted(work->ticket));
}

TEST_CASE("An outline of a job's file is kept, and not taken for a block") {
  Json job = Json::parse(SampleChest());
  job["contents"] = {{{"outline", {{40, -100}, {80, -100}, {60, -60}}}, {"#", "a jug"}}};
  Talk talk(job.dump());
  Json shown = talk.Say({{"ask", "state"}});
  CHECK(shown["lists"]["contents"][0]["outline"] == true);
  shown = talk.Say(Entry("contents", 0, {{"from_z", "-50"}}));
  job["contents"][0]["from_z"] = -50;
  CHECK(Json::parse(shown["file"].get<std::string>()) == job);
  CHECK(Talk::FaultAt(talk.Say(Entry("contents", 0, {{"back", "40"}})), "contents[0]") != "");
}

TEST_CASE("The lid's marks are points of the lid that a tape finds") {
  const Solid solid = MakeSolid(*ReadJob(SampleChest(), "").job);
  const std::vector<LidMark> marks = LidMarks(solid);
  REQUIRE(marks.size() == 3);
  CHECK(marks[0].at.norm() < 1e-9);
  CHECK((marks[1].at - Vec2(220, 0)).norm() < 1e-9);
  CHECK(marks[2].at.y() == Approx(14 + 38 + 8).margin(0.1));
  CHECK(LidMarks(Solid{}).empty());
}

TEST_CASE("Messages about entries that are none change nothing") {
  Talk talk(SampleChest());
  talk.Say(Entry("contents", 0, kBlock));
  const std::string before = talk.Say({{"ask", "state"}}).dump();
  const Json bad[] = {Entry("stations", 0, kBlock),
                      Entry("pivots", 0, kBlock),
                      Entry("contents", 2, kBlock),
                      Entry("contents", -1, kBlock),
                      Entry("contents", 0, {{"outline", "40"}}),
                      Entry("contents", 0, {{"back", 40}}),
                      Entry("contents", 0, {{"back", std::string(2000, '4')}}),
                      Entry("contents", 1, Json::object()),
                      {{"ask", "entry"}, {"list", "contents"}, {"back", "40"}},
                      {{"ask", "remove"}, {"list", "contents"}, {"number", 1}},
                      {{"ask", "remove"}, {"list", "poses"}, {"number", 0}},
                      {{"ask", "remove"}, {"list", "case"}, {"number", 0}}};
  for (const Json& message : bad) {
    INFO(message.dump().substr(0, 80));
    CHECK(talk.Say(message)["refused"].is_string());
  }
  CHECK(talk.Say({{"ask", "state"}}).dump() == before);
}

TEST_CASE("There are no more entries than a job may have") {
  Talk talk(SampleChest());
  Json shown;
  for (std::size_t i = 0; i < kMostPoses; ++i) {
    shown = talk.Say(Entry("poses", static_cast<int>(i), kPose));
  }
  CHECK(shown["ready"] == true);
  CHECK(talk.Say(Entry("poses", kMostPoses, kPose))["refused"] ==
        "there can be no more than 20 of these");
}
