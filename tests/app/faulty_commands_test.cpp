// SPDX-License-Identifier: Apache-2.0
// The finished program with calls of the system that fail, and ended at them: what lay there stays
// whole, or the new version is there whole, and the next run works and clears up.
#include <catch2/catch.hpp>
#include <cerrno>
#include <csignal>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "faults.h"
#include "trace/mesh_maker.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

using testing::Fault;
using testing::Has;
using testing::PutBack;
using testing::Run;
using testing::RunFaulty;
using testing::ScratchFolder;
using testing::Snapshot;
using testing::SnapshotOf;
using testing::Write;

struct CommandPair {
  std::string out;          // a file, or a folder
  std::string first, then;  // what writes it, and what replaces it by another version
  int code = 0;             // what both end with
};

// A box with pivots that are given, so that nothing is looked for.
constexpr const char* kPivots = R"({"case_a": [46.5, -12.5], "case_b": [34.5, -53],
  "lid_a": [101, -9], "lid_b": [104.5, -53.5]})";

void WriteInputs(const ScratchFolder& folder) {
  const auto job = [](int crown, bool pinned) {
    nlohmann::json tree = nlohmann::json::parse(R"({"units": "mm",
      "case": {"width": 340, "depth": 220, "height": 120, "wall": 12}, "lid": {"rim": 14}})");
    tree["lid"]["crown"] = crown;
    if (pinned) tree["pivots"] = nlohmann::json::parse(kPivots);
    return tree.dump();
  };
  Write(folder / "a.json", job(30, false));
  Write(folder / "b.json", job(31, false));
  Write(folder / "pins_a.json", job(30, true));
  Write(folder / "pins_b.json", job(31, true));
  Write(folder / "hinge.json", std::string(R"({"units": "mm", "pivots": )") + kPivots + "}");
  mesh_maker::Chest chest;
  chest.dome_pieces = 6;
  Write(folder / "case.stl", mesh_maker::Binary(mesh_maker::ZUp(chest.Body(false, 80))));
  Write(folder / "lid.stl", mesh_maker::Binary(mesh_maker::ZUp(chest.Body(true, 80))));
  fs::copy(testing::SourceFolder() + "/examples/traced_chest.svg", folder / "drawing.svg");
}

std::string Command(const std::string& arguments) {
  return testing::Program() + " " + arguments + " < /dev/null";
}

// What one command does where another version of its output lies.
class CommandStory {
 public:
  explicit CommandStory(const CommandPair& pair) : pair_(pair) {
    WriteInputs(folder_);
    const Run first = RunFaulty(folder_, Command(pair.first));
    INFO(pair.first << "\n" << first.text);
    REQUIRE(first.code == pair.code);
    if (IsFolder()) Write(folder_ / (pair.out + "/notes.txt"), "glue on Tuesday");
    before_ = SnapshotOf(folder_.Path());
    fs::copy(folder_.Path(), kept_.Path(), fs::copy_options::recursive);
    const Run then = RunFaulty(folder_, Command(pair.then));
    INFO(pair.then << "\n" << then.text);
    REQUIRE(then.code == pair.code);
    after_ = SnapshotOf(folder_.Path());
    REQUIRE(before_ != after_);
  }

  // At call 1, 1 + step, … each in turn; returns how many there were.
  int AtCalls(const Fault& fault, int step) const {
    for (int at = 1, times = 0;; at += step, ++times) {
      PutBack(kept_.Path(), folder_.Path());
      bool reached = false;
      const Run run = RunFaulty(folder_, Command(pair_.then), fault, at, &reached);
      INFO(pair_.then << ", call " << at << ", code " << run.code << "\n" << run.text);
      if (!reached) {
        CHECK(run.code == pair_.code);
        CHECK(Now() == after_);
        return times;
      }
      CheckAfter(fault, run);
    }
  }

 private:
  bool IsFolder() const { return fs::is_directory(folder_ / pair_.out); }
  Snapshot Now() const { return SnapshotOf(folder_.Path()); }

  void CheckAfter(const Fault& fault, const Run& run) const {
    if (fault.signal == SIGKILL) {
      CHECK(run.code < 0);
    } else if (fault.signal != 0) {
      CHECK((run.code < 0 || run.code == 3 || run.code == pair_.code));
      CHECK((Now() == before_ || Now() == after_));  // nothing lies about
    } else {
      CHECK((run.code == 3 || run.code == pair_.code));
      if (run.code == 3 && !run.text.empty()) CHECK(Has(run.text, "lidwright: "));
    }
    CHECK(testing::CommonStays(before_, after_, Now()));
    // Whoever comes next has one of the two; the next run works, and nothing else lies about.
    if (IsFolder()) {
      RunFaulty(folder_, testing::FolderWriter() + " folder " + pair_.out + " replace 0");
      CHECK((Now() == before_ || Now() == after_));
      if (Now() == after_) return;
    } else {
      const std::string text = testing::TextOf(folder_ / pair_.out);
      CHECK((text == before_.at(pair_.out) || text == after_.at(pair_.out)));
    }
    const Run next = RunFaulty(folder_, Command(pair_.then));
    INFO("the next run: " << next.text);
    CHECK(next.code == pair_.code);
    CHECK(Now() == after_);
  }

  CommandPair pair_;
  ScratchFolder folder_, kept_;
  Snapshot before_, after_;
};

constexpr Fault kFaults[] = {{SIGTERM, 0}, {0, ENOSPC}, {0, EIO}};

const CommandPair kOneFile[] = {
    {"box.svg", "box a.json --out box.svg", "box b.json --out box.svg --replace"},
    {"box.pdf", "box a.json --out box.pdf", "box b.json --out box.pdf --replace"},
    {"made.json",
     "begin made.json --width 340 --depth 220 --height 120 --wall 12 --lid-rim 14 "
     "--crown 30",
     "begin made.json --width 350 --depth 220 --height 120 --wall 12 --lid-rim 14 "
     "--crown 30 --replace"},
    {"made.json", "trace drawing.svg --width 320 --out made.json",
     "trace drawing.svg --width 330 --out made.json --replace"},
    {"made.json", "slice case.stl lid.stl --hinge-side -y --out made.json",
     "slice case.stl lid.stl --hinge-side -y --units in --out made.json --replace"}};

// Ended at every call of so many, failing at every one of so many and a few more.
void TryFolder(const CommandPair& pair, int step_to_end, int step_to_fail) {
  const CommandStory story(pair);
  CHECK(story.AtCalls({SIGKILL, 0}, step_to_end) > 2);
  for (const Fault& fault : kFaults) CHECK(story.AtCalls(fault, step_to_fail++) > 2);
}

}  // namespace

TEST_CASE("box, begin, trace and slice that end at any call, or fail at one, leave a whole file",
          "[files]") {
  for (const CommandPair& pair : kOneFile) {
    const CommandStory story(pair);
    CHECK(story.AtCalls({SIGKILL, 0}, 1) > 8);
    for (const Fault& fault : kFaults) CHECK(story.AtCalls(fault, 4) > 2);
  }
}

// By hand and in slow tests: each call costs a run of its own.
TEST_CASE("check that fails or ends at a call leaves a whole folder", "[.][faults]") {
  TryFolder({"out", "check a.json hinge.json --frames 2 --out out",
             "check b.json hinge.json --frames 3 --out out --replace"},
            61, 97);
}

TEST_CASE("fit that fails or ends at a call leaves a whole folder", "[.][faults]") {
  TryFolder({"out", "fit pins_a.json --frames 2 --out out",
             "fit pins_b.json --frames 3 --out out --replace"},
            97, 151);
}

}  // namespace lidwright
