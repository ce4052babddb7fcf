// SPDX-License-Identifier: Apache-2.0
// What a page is told first: the answer, what fails, what is written already, and numbers as people
// type them.
#include <catch2/catch.hpp>

#include "lidwright/design/make_design.h"
#include "session/form.h"
#include "session/talk.h"

using namespace lidwright;

namespace {

const Json kPlaced{{"ask", "place"}};

Design WithoutHinge(const Job& job) {
  Design design;
  design.job = job;
  design.solid = MakeSolid(job);
  design.none.emplace();
  design.none->failing = "room behind";
  design.none->missed_by = 26.2;
  return design;
}

// A search whose end is this.
void Find(Talk* talk, const std::function<Design(const Job&)>& end) {
  talk->Say({{"ask", "find"}});
  const SessionWork work = *talk->session.TakeWork();
  talk->session.Found(work.ticket, end(work.job));
}

bool BeginsWith(const Json& text, const std::string& head) {
  return text.get<std::string>().rfind(head, 0) == 0;
}

KeyRow RowOf(KeyKind kind) {
  KeyRow row;
  row.kind = kind;
  return row;
}

}  // namespace

TEST_CASE("A search without an end is told as the answer, until pivots are put by hand") {
  Talk talk(SampleChest());
  CHECK_FALSE(talk.Say({{"ask", "state"}}).contains("none"));
  Find(&talk, WithoutHinge);
  const Json shown = talk.Say({{"ask", "state"}});
  CHECK(shown["none"]["says"] == "No hinge fits: room behind, short by 26.2 mm.");
  CHECK(shown["none"]["plainFirst"] == "");
  CHECK_FALSE(talk.Say(kPlaced).contains("none"));
}

TEST_CASE("That a plain hinge would do is told where it does, with a hidden one or without") {
  const auto plain = [](Design design) {
    design.plain.works = true;
    design.plain.best = {0.0, 0.0};
    design.plain.map = {PlainOutcome::kWorks};
    return design;
  };
  Talk none(SampleChest());
  Find(&none, [&](const Job& job) { return plain(WithoutHinge(job)); });
  CHECK(BeginsWith(none.Say({{"ask", "state"}})["none"]["plainFirst"],
                   "Yet a plain hinge does, with its pin at x 0 mm"));
  Talk found(SampleChest());
  Find(&found, [&](const Job& job) {
    const BoxModel box(job);
    Design design = plain(WithoutHinge(job));
    design.none.reset();
    const Pivots pivots{{17.5, -53}, {40.5, -8}, {86.5, -52.5}, {106.5, -0.5}};
    design.hinges = {JudgeHinge(box, pivots, std::nullopt, std::nullopt)};
    return design;
  });
  CHECK(BeginsWith(found.Say({{"ask", "state"}})["now"]["plainFirst"],
                   "A plain hinge does here: far less work."));
  // Of another box nothing is known yet.
  CHECK(found.Set("lid.crown", "39")["now"]["plainFirst"] == "");
}

TEST_CASE("Nothing is written before there is a hinge or a reason why there is none") {
  Talk talk(SampleChest());
  CHECK(BeginsWith(talk.Say({{"ask", "save"}})["refused"], "find a hinge first"));
  CHECK_FALSE(talk.session.TakeWork());
  Find(&talk, WithoutHinge);
  CHECK_FALSE(talk.Say({{"ask", "save"}}).contains("refused"));
  CHECK(talk.session.TakeWork());
}

TEST_CASE("What is not written yet is told until it is, and again once something changes") {
  Talk talk(SampleChest());
  const auto unsaved = [&] { return talk.Say({{"ask", "state"}})["unsaved"] == true; };
  const auto save = [&] {
    talk.Say({{"ask", "save"}});
    return talk.session.TakeWork()->ticket;
  };
  CHECK_FALSE(unsaved());
  talk.Say(kPlaced);
  CHECK(unsaved());
  talk.session.Done(save(), "the folder is there already", false, true);
  CHECK(unsaved());
  talk.session.Written(save(), "7 files are written", false);
  CHECK_FALSE(unsaved());
  talk.Say({{"ask", "nudge"}, {"pivot", "lid_a"}, {"steps", {1, 1}}});
  CHECK(unsaved());
  talk.Say({{"ask", "undo"}});
  CHECK_FALSE(unsaved());
  Find(&talk, WithoutHinge);  // the same job, and another hinge than was written
  CHECK(unsaved());
  talk.session.Packed(save(), "8 files are packed", false);
  CHECK_FALSE(unsaved());
}

TEST_CASE("A hinge that fails is told by what it misses") {
  Talk talk(SampleChest());
  const Json shown = talk.Say(kPlaced);
  REQUIRE(shown["now"]["outcome"] == "violated");
  CHECK(BeginsWith(shown["now"]["fails"], "lid to "));
}

TEST_CASE("Another unit keeps the size of what was typed, and its own unit where it has one") {
  Talk talk;
  talk.Set("lid.crown", "1-1/2 in");
  talk.Set("case.back_bow", "12.7");
  talk.Say({{"ask", "entry"},
            {"list", "contents"},
            {"number", 0},
            {"back", "40"},
            {"front", "80"},
            {"height", "25.4"}});
  const Json mm = talk.Say({{"ask", "state"}});
  const Json in = talk.Set("units", "in");
  CHECK(in["faults"].empty());
  CHECK(in["inches"] == true);
  CHECK(in["fields"]["case.width"] == "12.5984");
  CHECK(in["fields"]["case.back_bow"] == "1/2");
  CHECK(in["fields"]["lid.crown"] == "1-1/2 in");
  CHECK(in["lists"]["contents"][0]["typed"]["height"] == "1");
  for (int k = 0; k < 2; ++k) {
    const double was = mm["lists"]["contents"][0]["high"][k],
                 is = in["lists"]["contents"][0]["high"][k];
    CHECK(std::abs(was - is) < 0.003);
  }
  // Back to the numbers that were typed, and in one step to where it was.
  const Json back = talk.Set("units", "mm");
  CHECK(back["fields"]["case.width"] == "320");
  CHECK(back["fields"]["case.back_bow"] == "12.7");
  CHECK(talk.Say({{"ask", "undo"}})["fields"] == mm["fields"]);
  // A word that is no unit changes no number.
  CHECK(talk.Set("units", "ell")["fields"]["case.width"] == "320");
}

TEST_CASE("Points of an outline are counted in the new unit, and the bulge of its edges is not") {
  const Json tree = Json::parse(R"({"arms": {"a": [[25.4, 50.8, 0.5], [0, 254, -1]]},
      "pivots": {"case_a": [25.4, "1 cm"], "case_zone": [[0, -254], [127, 0]]},
      "stations": [{"z": 25.4}], "swing": {"open_deg": 95}, "name": "25.4"})");
  const Json inches = InOtherUnit(tree, true);
  CHECK(inches["pivots"]["case_a"] == Json({1, "1 cm"}));
  CHECK(inches["pivots"]["case_zone"] == Json::parse("[[0, -10], [5, 0]]"));
  CHECK(inches["stations"][0]["z"] == 1);
  CHECK(inches["swing"]["open_deg"] == 95);
  CHECK(inches["name"] == "25.4");
  CHECK(InOtherUnit(inches, false) == tree);
}

TEST_CASE("A comma and a sign of degrees are taken where they can mean one thing only") {
  const auto length = [](const char* text) {
    return AsReaderTakesIt(RowOf(KeyKind::kLength), text);
  };
  const auto angle = [](const char* text) { return AsReaderTakesIt(RowOf(KeyKind::kAngle), text); };
  CHECK(length("320,5") == "320.5");
  CHECK(length("-0,125") == "-0,125");
  CHECK(length("0,125") == "0.125");
  CHECK(length("32,05 cm") == "32.05 cm");
  CHECK(angle("95\u00b0") == "95");
  CHECK(angle("92,5 deg") == "92.5");
  for (const char* other :
       {"1,250", "1,2,3", "1.250,5", ",5", "5,", "320 , 5", "3/4,5", "deg", ""}) {
    INFO(other);
    CHECK(length(other) == other);
    CHECK(angle(other) == other);
  }
  CHECK(length("95\u00b0") == "95\u00b0");
  CHECK(AsReaderTakesIt(RowOf(KeyKind::kText), "oak, 1,5") == "oak, 1,5");
  Talk talk;
  CHECK(talk.Set("case.width", "320,5")["fields"]["case.width"] == "320.5");
  CHECK(Talk::FaultAt(talk.Set("case.width", "1,250"), "case.width") != "");
}

TEST_CASE("What stands where nothing is typed is told as a value") {
  Talk talk;
  const Json stands = talk.Say({{"ask", "state"}})["stands"];
  CHECK(stands["case.back_wall"] == "12");
  CHECK(stands["room.open_behind_x"] == "24");
  CHECK(stands["case.back_bow"] == "0");
  CHECK(stands["arms.width"] == "chosen");
  CHECK_FALSE(stands.contains("room.behind"));  // no limit
  CHECK(talk.Set("case.wall", "10")["stands"]["lid.top"] == "10");
  // Of a box that cannot be read the last that could.
  CHECK(talk.Set("case.wall", "wide")["stands"]["lid.top"] == "10");
}

TEST_CASE("A pivot that nothing can hold is told before what follows of it") {
  Talk talk(SampleChest());
  talk.Say(kPlaced);
  const Json in = talk.Say({{"ask", "drag"}, {"pivot", "case_a"}, {"at", {30, -50}}});
  CHECK(in["out"] == false);
  CHECK(in["says"].get<std::string>().find("to be held") == std::string::npos);
  const std::pair<Json, const char*> outs[] = {{{3, -50}, "too far back"},
                                               {{300, -50}, "too far forward"},
                                               {{60, -300}, "too low"},
                                               {{60, 40}, "too high"}};
  for (const auto& [at, words] : outs) {
    const Json out = talk.Say({{"ask", "drag"}, {"pivot", "case_a"}, {"at", at}});
    CHECK(out["out"] == true);
    CHECK(BeginsWith(out["says"],
                     std::string("case pivot of arm A lies ") + words + " to be held; "));
  }
}

TEST_CASE("A place that is typed on is one step, and what is wrong with it is told by its axis") {
  Talk talk(SampleChest());
  const Json placed = talk.Say(kPlaced);
  const auto put = [&](const char* x, const char* y) {
    return talk.Say({{"ask", "put"}, {"pivot", "lid_b"}, {"x", x}, {"y", y}});
  };
  for (const char* x : {"1", "10", "104,5"}) {
    CHECK_FALSE(put(x, "-1").contains("refused"));
    talk.Say({{"ask", "drop"}});
  }
  const Json typed = talk.Say({{"ask", "state"}});
  CHECK(typed["now"]["places"]["lid_b"] == Json({"104.5", "-1"}));
  CHECK(BeginsWith(put("abc", "-1")["refused"], "x must be a length"));
  CHECK(BeginsWith(put("1", "9 m")["refused"], "y must be a length"));
  CHECK(BeginsWith(put("1", "6000")["refused"], "y must be within 5000 mm"));
  CHECK(talk.Say({{"ask", "state"}}) == typed);
  CHECK(talk.Say({{"ask", "undo"}})["now"]["places"] == placed["now"]["places"]);
}
