// SPDX-License-Identifier: Apache-2.0
#include "lidwright/session/session.h"

#include <catch2/catch.hpp>
#include <map>

#include "lidwright/base/units.h"
#include "lidwright/design/make_design.h"
#include "lidwright/job/read_job.h"
#include "session/form.h"
#include "session/talk.h"

using namespace lidwright;

namespace {

// A first hinge, without the work of the best.
Design QuickDesign(const Job& job) {
  DesignOptions options;
  options.improve = options.explain = false;
  return MakeDesign(BoxModel(job), options);
}

const Json kPlace{{"ask", "place"}};

}  // namespace

TEST_CASE("A mock-up begins with a box that can be read, and with no pivots") {
  Talk talk;
  const Json shown = talk.Say({{"ask", "state"}});
  CHECK(shown["ready"] == true);
  CHECK(shown["faults"].empty());
  CHECK_FALSE(shown.contains("now"));
  CHECK(shown["fields"]["case.width"] == "320");
  CHECK(shown["undo"] == false);
}

TEST_CASE("The form has every key of a single value once, and no other") {
  std::map<std::string, int> seen;
  for (const FormPart& part : FormParts()) {
    for (const std::string& key : part.keys) ++seen[key];
  }
  for (const KeyRow& row : JobKeyRows()) {
    INFO(row.key);
    CHECK(seen[row.key] == (IsField(row) && row.key != "format" ? 1 : 0));
  }
  CHECK(seen.size() == JobKeyRows().size());
}

TEST_CASE("A measure is kept as it was typed and read as a job file reads it") {
  Talk talk;
  Json shown = talk.Set("case.width", "13-3/8 in");
  CHECK(shown["fields"]["case.width"] == "13-3/8 in");
  CHECK(shown["box"]["halfWidth"].get<double>() == Approx(13.375 * 25.4 / 2).margin(1e-9));
  shown = talk.Set("lid.crown", " 3.1 cm ");
  CHECK(shown["fields"]["lid.crown"] == "3.1 cm");
  shown = talk.Set("room.bench_below", "false");
  CHECK(shown["box"]["benchBehind"] == false);
  const JobReading read = ReadJob(shown["file"].get<std::string>(), "job.json");
  REQUIRE(read.job);
  CHECK(read.job->lid.crown_mm == Approx(31.0).margin(1e-12));
}

TEST_CASE("A fault stands beside its field in the words of the terminal, and the last box stays") {
  Talk talk;
  for (const char* text : {"-4", "a hand", "3/0", "1e999", "12 furlongs", "9999"}) {
    INFO(text);
    const Json shown = talk.Set("case.depth", text);
    CHECK(shown["ready"] == false);
    Json tree = Json::parse(shown["file"].get<std::string>());
    const Problems told = ReadJob(tree.dump(), "").problems;
    REQUIRE_FALSE(told.empty());
    CHECK(Talk::FaultAt(shown, "case.depth") == DescribeInPlace(told.front()));
    CHECK(shown["box"]["halfWidth"] == 160.0);
  }
  CHECK(talk.Say({{"ask", "find"}}).contains("refused"));
  CHECK(talk.Set("case.depth", "210")["ready"] == true);
}

TEST_CASE("A key left out again leaves the job as it was") {
  Talk talk;
  const Json before = talk.Say({{"ask", "state"}});
  talk.Set("lid.top", "9");
  const Json after = talk.Set("lid.top", "");
  CHECK(after["file"] == before["file"]);
}

TEST_CASE("Undo and redo go through every step and back to the same bytes") {
  Talk talk(SampleChest());
  Steps steps(&talk);
  steps.Keep(talk.Set("lid.crown", "40"));
  steps.Keep(talk.Set("case.wall", "11"));
  steps.Keep(talk.Say(kPlace));
  talk.Say({{"ask", "nudge"}, {"pivot", "lid_b"}, {"steps", {3, -2}}});
  steps.Keep(talk.Say({{"ask", "drop"}}));
  steps.CheckBackAndForth();
}

TEST_CASE("Typing on at one measure is one step") {
  Talk talk;
  for (const char* text : {"3", "34", "340"}) talk.Set("case.width", text);
  CHECK(talk.Say({{"ask", "undo"}})["fields"]["case.width"] == "320");
}

TEST_CASE("What a search found is shown, chosen among and taken along") {
  Talk talk(SampleChest());
  talk.Say({{"ask", "find"}});
  const std::optional<SessionWork> work = talk.session.TakeWork();
  REQUIRE(work);
  CHECK_FALSE(talk.session.TakeWork());
  talk.session.Progress(work->ticket, "search", 0.25);
  CHECK(talk.Say({{"ask", "progress"}})["work"]["share"] == 0.25);
  const Design design = QuickDesign(work->job);
  REQUIRE_FALSE(design.hinges.empty());
  talk.session.Found(work->ticket, design);
  const Json shown = talk.Say({{"ask", "state"}});
  CHECK(shown["hinges"].size() == design.hinges.size());
  CHECK(shown["choice"] == 0);
  CHECK(shown["now"]["whole"] == true);
  CHECK(shown["now"]["outcome"] == (Does(design.hinges[0]) ? "clear" : "violated"));
  // Taken along is the design as it was found, under the job as it was given.
  talk.Say({{"ask", "save"}});
  const std::optional<SessionWork> save = talk.session.TakeWork();
  REQUIRE(save);
  CHECK(save->design);
  CHECK_FALSE(save->replace);
  CHECK(Json::parse(save->job_text) == Json::parse(SampleChest()));
  talk.session.Done(save->ticket, "there already", false, true);
  CHECK(talk.Say({{"ask", "progress"}})["work"]["there"] == true);
}

TEST_CASE("A packed set is on offer until pivots or measures are others") {
  Talk talk(SampleChest());
  talk.Say(kPlace);
  const auto on_offer = [&] { return talk.Say({{"ask", "state"}})["work"]["packed"] == true; };
  const auto pack = [&] {
    talk.Say({{"ask", "save"}, {"packed", true}});
    const std::optional<SessionWork> work = talk.session.TakeWork();
    REQUIRE(work);
    REQUIRE(work->packed);
    CHECK_FALSE(on_offer());
    talk.session.Packed(work->ticket, "30 files are packed into hinge.zip.", true);
    CHECK(on_offer());
  };
  pack();
  talk.Say({{"ask", "nudge"}, {"pivot", "lid_a"}, {"steps", {1, 1}}});
  talk.Say({{"ask", "drop"}});
  CHECK_FALSE(on_offer());
  const Json others[] = {{{"ask", "set"}, {"key", "lid.crown"}, {"text", "39"}},
                         {{"ask", "undo"}},
                         {{"ask", "redo"}},
                         kPlace,
                         {{"ask", "job"}, {"text", SampleChest()}}};
  for (const Json& other : others) {
    INFO(other.dump());
    pack();
    talk.Say(other);
    CHECK_FALSE(on_offer());
  }
}

TEST_CASE("Hinges are shown as a search finds them, each once, and gone when it ends") {
  Talk talk(SampleChest());
  talk.Say({{"ask", "find"}});
  const SessionWork work = *talk.session.TakeWork();
  const BoxModel box(work.job);
  Hinge hinge;
  hinge.pivots = {{39, -4}, {73.5, -60.5}, {138.5, -10}, {26, -52}};
  hinge.traits.reach_behind_mm = 61.25;
  talk.session.FoundSoFar(work.ticket, box, hinge);
  hinge.pivots.lid_b += Vec2(0.5, 0.0);
  talk.session.FoundSoFar(work.ticket + 1, box, hinge);  // of a search that nobody waits for
  talk.session.FoundSoFar(work.ticket, box, hinge);
  const Json all = talk.Say({{"ask", "progress"}})["soFar"];
  REQUIRE(all.size() == 2);
  CHECK(all[0]["hinge"]["pivots"]["B"] == Json({26.0, -52.0}));
  CHECK(all[1]["hinge"]["pivots"]["B"] == Json({26.5, -52.0}));
  CHECK(all[0]["says"] == "behind 61.3 mm");  // room is rounded up
  const Json fresh = talk.Say({{"ask", "progress"}, {"seen", 1}})["soFar"];
  REQUIRE(fresh.size() == 1);
  CHECK(fresh[0] == all[1]);
  CHECK(talk.Say({{"ask", "progress"}, {"seen", 2}})["soFar"].empty());
  CHECK(talk.Say({{"ask", "progress"}, {"seen", -1}}).contains("refused"));
  // Another search begins with none.
  talk.Say({{"ask", "stop"}});
  talk.Say({{"ask", "find"}});
  CHECK(talk.Say({{"ask", "progress"}})["soFar"].empty());
}

TEST_CASE("What would let a hinge in goes into the form as one step and is searched for") {
  Talk talk(SampleChest());
  CHECK(talk.Say({{"ask", "remedy"}, {"number", 0}}).contains("refused"));
  talk.Set("room.behind", "50");
  talk.Say({{"ask", "find"}});
  const SessionWork work = *talk.session.TakeWork();
  Design design;
  design.job = work.job;
  design.solid = MakeSolid(work.job);
  design.none.emplace();
  design.none->remedies = {{"room behind of 52.5 mm instead of 50 mm", {{"room.behind", "52.5"}}},
                           {"an open lid that may stand forward",
                            {{"room.open_behind_x", "35.25"}, {"room.mouth_free", "0.8"}}},
                           {"pins that no reader takes", {{"arms.width", "-1"}}}};
  talk.session.Found(work.ticket, design);
  const Json none = talk.Say({{"ask", "state"}});
  CHECK(none["answer"].get<std::string>().find("class=\"remedies\"") != std::string::npos);
  CHECK(talk.Say({{"ask", "remedy"}, {"number", 3}}).contains("refused"));
  CHECK(talk.Say({{"ask", "state"}}) == none);

  const Json changed = talk.Say({{"ask", "remedy"}, {"number", 1}});
  CHECK(changed["fields"]["room.open_behind_x"] == "35.25");
  CHECK(changed["fields"]["room.mouth_free"] == "0.8");
  CHECK(changed["fields"]["room.behind"] == "50");
  CHECK(changed["work"]["going"] == true);
  const std::optional<SessionWork> again = talk.session.TakeWork();
  REQUIRE(again);
  CHECK(again->kind == SessionWork::Kind::kFind);
  CHECK(again->job.room.open_behind_x_mm == 35.25);
  CHECK(again->job.room.mouth_free == 0.8);
  // One step back is the box with the reasons, as it was.
  talk.Say({{"ask", "undo"}});
  CHECK(talk.Say({{"ask", "state"}})["fields"] == none["fields"]);
  CHECK(talk.Say({{"ask", "state"}})["answer"] == none["answer"]);
  // What makes a job that cannot be worked on is told beside its field, and nothing is searched.
  const Json faulty = talk.Say({{"ask", "remedy"}, {"number", 2}});
  CHECK(Talk::FaultAt(faulty, "arms.width") != "");
  CHECK(faulty["work"]["going"] == false);
  CHECK_FALSE(talk.session.TakeWork());
}

TEST_CASE("Work that is not wanted any more changes nothing") {
  Talk talk(SampleChest());
  talk.Say({{"ask", "find"}});
  const int ticket = talk.session.TakeWork()->ticket;
  talk.Set("case.width", "341");
  CHECK_FALSE(talk.session.Wanted(ticket));
  const std::string before = talk.Say({{"ask", "state"}}).dump();
  Design nothing;
  nothing.job = *ReadJob(SampleChest(), "").job;
  talk.session.Found(ticket, nothing);
  talk.session.Progress(ticket, "search", 0.5);
  talk.session.Done(ticket, "words", false);
  CHECK(talk.Say({{"ask", "state"}}).dump() == before);
  talk.Say({{"ask", "find"}});
  talk.Say({{"ask", "stop"}});
  CHECK_FALSE(talk.session.TakeWork());
}

TEST_CASE("Pivots put by hand are pinned in the job that is saved, to the last bit") {
  for (const char* units : {"mm", "in"}) {
    INFO(units);
    Talk talk(
        units == std::string("mm")
            ? SampleChest()
            : R"({"units": "in", "case": {"width": 13, "depth": 8.5, "height": 5, "wall": 0.5},
                        "lid": {"rim": 0.5, "crown": 1.5}})");
    talk.Say(kPlace);
    talk.Say({{"ask", "put"}, {"pivot", "case_a"}, {"x", "31.123 mm"}, {"y", "-17/64 in"}});
    talk.Say({{"ask", "nudge"}, {"pivot", "lid_a"}, {"steps", {1, 1}}});
    talk.Say({{"ask", "drop"}});
    const Json hinge = talk.Say({{"ask", "rest"}})["hinge"];
    talk.Say({{"ask", "save"}, {"replace", true}});
    const std::optional<SessionWork> save = talk.session.TakeWork();
    REQUIRE(save);
    CHECK(save->replace);
    CHECK_FALSE(save->design);
    const Job job = *ReadJob(save->job_text, "").job;
    const auto same = [&](const std::optional<Vec2>& pin, const char* label) {
      REQUIRE(pin);
      CHECK(pin->x() == hinge["pivots"][label][0].get<double>());
      CHECK(pin->y() == hinge["pivots"][label][1].get<double>());
    };
    same(job.pivots.case_a, "A0");
    same(job.pivots.case_b, "B0");
    same(job.pivots.lid_a, "A");
    same(job.pivots.lid_b, "B");
    CHECK(job.pivots.case_a->x() == Approx(31.123).margin(1e-12));
  }
}

TEST_CASE(
    "A job that is dropped on the page replaces the one there, or is refused with its faults") {
  Talk talk;
  const std::string before = talk.Say({{"ask", "state"}}).dump();
  const Json refused =
      talk.Say({{"ask", "job"}, {"text", "{\"units\": \"mm\"}"}, {"name", "x.json"}});
  CHECK(refused["refused"].is_string());
  CHECK(refused["faults"].size() >= 2);
  CHECK(refused["faults"][0].get<std::string>().find("x.json:") == 0);
  CHECK(talk.Say({{"ask", "state"}}).dump() == before);
  const Json shown = talk.Say({{"ask", "job"}, {"text", SampleChest()}});
  CHECK(shown["fields"]["name"] == "A tea merchant's sample chest");
  CHECK(talk.Say({{"ask", "undo"}})["fields"]["case.width"] == "320");
}

TEST_CASE("Two pages do not mix: only the one that was opened last is served") {
  Talk talk;
  const auto from = [&](const char* page, const char* ask) {
    return Json::parse(talk.session.Answer(Json{{"ask", ask}, {"page", page}}.dump()));
  };
  CHECK(from("other", "undo")["elsewhere"] == true);
  CHECK(from("other", "open")["ready"] == true);
  CHECK(talk.Set("case.width", "400")["elsewhere"] == true);
  CHECK(from("other", "state")["fields"]["case.width"] == "320");
}

TEST_CASE("What was not saved is on the page that is loaded anew") {
  Talk talk(SampleChest());
  talk.Set("name", "A </script><b>box & more");
  talk.Say(kPlace);
  talk.Say({{"ask", "drag"}, {"pivot", "case_b"}, {"at", {70.2, -40.1}}});
  const std::string page = talk.session.Page("letters");
  const std::size_t from = page.find("id=\"data\">") + 10;
  const Json data = Json::parse(page.substr(from, page.find("</script>", from) - from));
  CHECK(data["fields"]["name"] == "A </script><b>box & more");
  CHECK(data["now"]["hinge"]["pivots"]["B0"] == Json({70.0, -40.0}));
  CHECK(page.find("<script nonce=\"letters\">") != std::string::npos);
  CHECK(page.find("https:") == std::string::npos);
  std::size_t addresses = 0;
  for (std::size_t at = 0; (at = page.find("http:", at)) != std::string::npos; ++at) ++addresses;
  CHECK(addresses == 1);  // the name of SVG
}

TEST_CASE("The nearest that clears is asked for, taken as one step, and undone") {
  Talk talk(SampleChest());
  CHECK(talk.Say({{"ask", "nearest"}}).contains("refused"));  // no pivots yet
  CHECK_FALSE(talk.session.TakeWork());
  const Json placed = talk.Say(kPlace);
  talk.Say({{"ask", "nudge"}, {"pivot", "lid_b"}, {"steps", {1, 0}}});
  CHECK(talk.Say({{"ask", "nearest"}}).contains("refused"));  // the hand still holds one
  talk.Say({{"ask", "undo"}});
  const Json asked = talk.Say({{"ask", "nearest"}});
  CHECK(asked["work"]["going"] == true);
  const std::optional<SessionWork> work = talk.session.TakeWork();
  REQUIRE(work);
  CHECK(work->kind == SessionWork::Kind::kNearest);
  Pivots better = work->pivots;
  const auto sought = [](const std::optional<Pivots>& pivots) {
    CorrectionSearch result;
    if (!pivots) return result;
    result.end = CorrectionEnd::kFound;
    result.found.emplace();
    result.found->pin = Member::kLidPinB;
    result.found->by = Vec2(3.25, 0.0);
    result.found->hinge.pivots = *pivots;
    return result;
  };
  CHECK(better.lid_b.x() == Approx(placed["now"]["hinge"]["pivots"]["B"][0].get<double>()));
  better.lid_b += Vec2(3.25, 0.0);
  // One that was given up since changes nothing.
  talk.session.Moved(work->ticket + 1, sought(better));
  CHECK(talk.Say({{"ask", "state"}})["now"]["hinge"]["pivots"] == placed["now"]["hinge"]["pivots"]);
  talk.session.Moved(work->ticket, sought(better));
  const Json moved = talk.Say({{"ask", "state"}});
  CHECK(moved["work"]["going"] == false);
  CHECK(moved["work"]["said"] == "Moved: lid pivot of arm B, by 3.25 mm.");
  CHECK(moved["now"]["hinge"]["pivots"]["B"][0].get<double>() == Approx(better.lid_b.x()));
  const Json undone = talk.Say({{"ask", "undo"}});
  CHECK(undone["now"]["hinge"]["pivots"] == placed["now"]["hinge"]["pivots"]);
  // None is near: nothing moves, and it is said.
  talk.Say({{"ask", "nearest"}});
  talk.session.Moved(talk.session.TakeWork()->ticket, sought({}));
  const Json none = talk.Say({{"ask", "state"}});
  CHECK(none["work"]["said"].get<std::string>().find("No move of one pivot") == 0);
  CHECK(none["work"]["good"] == false);
  CHECK(none["now"]["hinge"]["pivots"] == placed["now"]["hinge"]["pivots"]);
}
