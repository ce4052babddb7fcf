// SPDX-License-Identifier: Apache-2.0
// What is written into a folder or over a file, and what becomes of what lay there: with calls of
// the system that fail, and with runs that are ended, at every single call.
#include "lidwright/app/output_folder.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <csignal>
#include <filesystem>
#include <string>

#include "faults.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

using testing::Fault;
using testing::Has;
using testing::PutBack;
using testing::Run;
using testing::RunFaulty;
using testing::RunShell;
using testing::ScratchFolder;
using testing::Snapshot;
using testing::SnapshotOf;
using testing::TextOf;
using testing::Write;

// Runs folder_writer in `folder` on "out"; with a fault at call `at`.
Run Writer(const ScratchFolder& folder, const std::string& arguments, const Fault& fault = {},
           int at = 0, bool* reached = nullptr) {
  return RunFaulty(folder, testing::FolderWriter() + " " + arguments, fault, at, reached);
}

void AddUsersFiles(const fs::path& out) {
  Write(out / "notes.txt", "glue on Tuesday");
  Write(out / "cut/mine.dxf", "a bracket");
  fs::create_directories(out / "photos");
  Write(out / "photos/lid.jpg", "JFIF");
  fs::create_symlink("/nowhere/at/all", out / "link");
}

// A folder before and after it is written by "folder_writer ARGUMENTS".
class Story {
 public:
  Story(const std::string& first, const std::string& arguments) : arguments_(arguments) {
    if (!first.empty()) {
      REQUIRE(Writer(folder, first).code == 0);
      if (fs::is_directory(folder / "out")) AddUsersFiles(folder / "out");
    }
    before = SnapshotOf(folder.Path());
    fs::copy(folder.Path(), kept_.Path(),
             fs::copy_options::recursive | fs::copy_options::copy_symlinks);
    const Run run = Writer(folder, arguments_);
    INFO(run.text);
    REQUIRE(run.code == 0);
    after = SnapshotOf(folder.Path());
    REQUIRE(before != after);
  }

  void Begin() const { PutBack(kept_.Path(), folder.Path()); }
  Run Again(const Fault& fault = {}, int at = 0, bool* reached = nullptr) const {
    return Writer(folder, arguments_, fault, at, reached);
  }
  bool IsBefore() const { return SnapshotOf(folder.Path()) == before; }
  bool IsAfter() const { return SnapshotOf(folder.Path()) == after; }
  bool CommonStays() const {
    return testing::CommonStays(before, after, SnapshotOf(folder.Path()));
  }

  ScratchFolder folder;
  Snapshot before, after;

 private:
  ScratchFolder kept_;
  std::string arguments_;
};

// The same at every call in turn until there is none of that number; returns how many there were.
template <typename Check>
int AtEveryCall(const Story& story, const Fault& fault, const Check& check) {
  for (int at = 1;; ++at) {
    story.Begin();
    bool reached = false;
    const Run run = story.Again(fault, at, &reached);
    if (!reached) {
      CHECK(run.code == 0);
      return at - 1;
    }
    INFO("call " << at << ": " << run.text);
    check(run);
  }
}

std::string Look(const std::string& arguments) {
  return arguments.substr(0, arguments.find(' ')) + " out replace 0";
}

}  // namespace

TEST_CASE("what the user put into an output folder stays when it is replaced", "[files]") {
  const Story story("folder out new 1", "folder out replace 2");
  CHECK(story.after.at("out/notes.txt") == "glue on Tuesday");
  CHECK(story.after.at("out/cut/mine.dxf") == "a bracket");
  CHECK(story.after.at("out/photos/lid.jpg") == "JFIF");
  CHECK(story.after.at("out/link") == "-> /nowhere/at/all");
  CHECK(story.after.at("out/report.html") == "version 2 of this file\n");
  CHECK(story.after.at("out/cut/only_2.dxf") == "version 2 of this file\n");
  // What only the former version had is gone, with the folder it left empty.
  CHECK(story.after.count("out/cut/only_1.dxf") == 0);
  CHECK(story.after.count("out/swing_1") == 0);
  CHECK(story.folder.Entries() == 1);  // nothing beside it
}

TEST_CASE("a run that is killed at any call leaves the old version or the new one to be had",
          "[files]") {
  for (const auto& [first, then] : {std::pair("folder out new 1", "folder out replace 2"),
                                    {"", "folder out new 2"},
                                    {"file out new 1", "file out replace 2"},
                                    {"", "file out new 2"}}) {
    const std::string arguments = then;  // clang 14 captures no structured binding
    INFO(arguments);
    const Story story(first, arguments);
    int old = 0, fresh = 0;
    const int calls = AtEveryCall(story, {SIGKILL, 0}, [&](const Run& run) {
      CHECK(run.code < 0);
      CHECK(story.CommonStays());
      // Whoever comes next has one of the two, whole, and nothing else lies about.
      Writer(story.folder, Look(arguments));
      const bool is_old = story.IsBefore();
      CHECK((is_old || story.IsAfter()));
      (is_old ? old : fresh) += 1;
      const std::string again = is_old ? arguments : "folder out replace 2";
      if (is_old) CHECK(Writer(story.folder, again).code == 0);
      CHECK(story.IsAfter());
    });
    CHECK(old > 5);
    CHECK(fresh >= 1);
    CHECK(calls == old + fresh);
  }
}

TEST_CASE("a run whose call fails leaves the old version or the new one, and a reason", "[files]") {
  struct Case {
    const char *first, *arguments;
    int error;
    std::string reason;
  };
  for (const Case& c :
       {Case{"folder out new 1", "folder out replace 2", ENOSPC, "out: No space left on device"},
        Case{"", "folder out new 2", EIO, "out: Input/output error"},
        Case{"file out new 1", "file out replace 2", EDQUOT, "out: Disk quota exceeded"}}) {
    INFO(c.arguments);
    const Story story(c.first, c.arguments);
    int refused = 0;
    AtEveryCall(story, {0, c.error}, [&](const Run& run) {
      CHECK((run.code == 0 || run.code == 3));
      if (run.code == 3) {
        ++refused;
        CHECK(Has(run.text, c.reason));
        CHECK_FALSE(Has(run.text, ".out.lidwright"));
      }
      // A leftover that could not be removed may lie there: the next run clears it away.
      Writer(story.folder, Look(c.arguments));
      CHECK((run.code == 0 ? story.IsAfter() : story.IsBefore() || story.IsAfter()));
      if (!story.IsAfter()) CHECK(story.Again().code == 0);
      CHECK(story.IsAfter());
    });
    CHECK(refused > 5);
  }
}

TEST_CASE("a call that fails where the user had removed a file leaves the rest whole", "[files]") {
  const Story story("folder out new 1", "folder out replace 2");
  story.Begin();
  fs::remove(story.folder / "out/cut/arm.dxf");
  const Snapshot before = SnapshotOf(story.folder.Path());
  const ScratchFolder kept;
  PutBack(story.folder.Path(), kept.Path());
  int refused = 0;
  for (int at = 1; at < 1000; ++at) {
    PutBack(kept.Path(), story.folder.Path());
    bool reached = false;
    const Run run = story.Again({0, EIO}, at, &reached);
    if (!reached) break;
    INFO("call " << at << ": " << run.text);
    refused += run.code != 0;
    CHECK_FALSE(fs::exists(story.folder / ".out.lidwright/journal"));
    if (run.code == 0) continue;
    Writer(story.folder, "folder out replace 0");
    CHECK((SnapshotOf(story.folder.Path()) == before || story.IsAfter()));
  }
  CHECK(refused > 20);
}

TEST_CASE("Ctrl-C and a plain kill at any call leave a whole folder and nothing beside it",
          "[files]") {
  const Story story("folder out new 1", "folder out replace 2");
  int old = 0, fresh = 0;
  AtEveryCall(story, {SIGTERM, 0}, [&](const Run& run) {
    CHECK((run.code == 0 || run.code == 3 || run.code < 0));
    const bool is_old = story.IsBefore();
    CHECK((is_old || story.IsAfter()));
    (is_old ? old : fresh) += 1;
  });
  CHECK(old > 5);
  CHECK(fresh > 5);
  // Who had them ignored, as nohup does with the hang-up, is not stopped by them.
  story.Begin();
  const Run ignoring =
      RunShell("cd " + story.folder.Path().string() + " && trap '' TERM && FAULT_AT=30 " +
               "FAULT_SIGNAL=15 LD_PRELOAD=" + testing::FaultyCalls() + " " +
               testing::FolderWriter() + " folder out replace 2 2>&1");
  CHECK(ignoring.code == 0);
  CHECK(story.IsAfter());
}

TEST_CASE("a run that ends what another began may be killed as well", "[files]") {
  const Story story("folder out new 1", "folder out replace 2");
  int halves = 0;
  AtEveryCall(story, {SIGKILL, 0}, [&](const Run&) {
    if (!fs::exists(story.folder / "out") || !fs::exists(story.folder / ".out.lidwright/journal")) {
      return;
    }
    if (++halves % 9 != 1) return;
    const ScratchFolder half;
    PutBack(story.folder.Path(), half.Path());
    for (int at = 1; at < 1000; ++at) {
      bool reached = false;
      PutBack(half.Path(), story.folder.Path());
      Writer(story.folder, "folder out replace 0", {SIGKILL, 0}, at, &reached);
      if (!reached) break;
      CHECK(story.CommonStays());
      Writer(story.folder, "folder out replace 0");
      CHECK(story.IsAfter());
    }
  });
  CHECK(halves > 10);
}

TEST_CASE("what was edited in a folder whose change was cut off is not lost", "[files]") {
  const Story story("folder out new 1", "folder out replace 2");
  int halves = 0;
  AtEveryCall(story, {SIGKILL, 0}, [&](const Run&) {
    if (!fs::exists(story.folder / ".out.lidwright/journal")) return;
    ++halves;
    Write(story.folder / "out/report.html", "mine now");
    const Run again = story.Again();
    INFO(again.text);
    CHECK(again.code == 3);
    CHECK(Has(again.text, "report.html"));
    CHECK(TextOf(story.folder / "out/report.html") == "mine now");
    fs::rename(story.folder / "out/report.html", story.folder / "kept.html");
    CHECK(story.Again().code == 0);
    CHECK(TextOf(story.folder / "kept.html") == "mine now");
    fs::remove(story.folder / "kept.html");
    CHECK(story.IsAfter());
  });
  CHECK(halves > 10);
}

TEST_CASE("what lidwright wrote and the user changed is named and left alone", "[files]") {
  const Story story("folder out new 1", "folder out replace 2");
  const auto refused = [&](const std::string& words) {
    const Snapshot now = SnapshotOf(story.folder.Path());
    for (const char* version : {"0", "2"}) {  // before long work already
      const Run run = Writer(story.folder, std::string("folder out replace ") + version);
      CHECK(run.code == 3);
      CHECK(run.text == words + "\n");
    }
    CHECK(SnapshotOf(story.folder.Path()) == now);
    story.Begin();
  };
  const std::string changed =
      "; move or rename what you want to keep, remove the rest, or name another folder with --out";
  story.Begin();
  Write(story.folder / "out/cut/arm.dxf", "version 1 of this file, with a dent\n");
  Write(story.folder / "out/report.html", "version 1 of that file\n");  // as long as before
  refused("out: changed since lidwright wrote it: cut/arm.dxf, report.html" + changed);
  fs::remove(story.folder / "out/report.html");
  fs::create_directories(story.folder / "out/report.html");
  refused("out: changed since lidwright wrote it: report.html" + changed);
  // Links are not followed, neither a file's nor a folder's.
  fs::rename(story.folder / "out/report.html", story.folder / "elsewhere.html");
  fs::create_symlink("../elsewhere.html", story.folder / "out/report.html");
  refused("out: changed since lidwright wrote it: report.html" + changed);
  fs::rename(story.folder / "out/swing_1", story.folder / "elsewhere");
  fs::create_symlink("../elsewhere", story.folder / "out/swing_1");
  refused("out: changed since lidwright wrote it: swing_1/frame.svg" + changed);
  // A file of the user's under a name that the next version has.
  Write(story.folder / "out/cut/only_2.dxf", "my second bracket");
  const Run late = story.Again();
  CHECK(late.code == 3);
  CHECK(late.text ==
        "out: not written by lidwright, but in its way: cut/only_2.dxf; move or rename it, or name "
        "another folder with --out\n");
  CHECK(TextOf(story.folder / "out/cut/only_2.dxf") == "my second bracket");
  // What the user removed is no loss.
  story.Begin();
  fs::remove(story.folder / "out/cut/arm.dxf");
  fs::remove_all(story.folder / "out/swing_1");
  CHECK(story.Again().code == 0);
  CHECK(story.IsAfter());
}

TEST_CASE("a folder without a list of what lidwright wrote is left alone", "[files]") {
  const Story story("folder out new 1", "folder out replace 2");
  const auto refused = [&](const std::string& words) {
    const Snapshot now = SnapshotOf(story.folder.Path());
    const Run run = story.Again();
    CHECK(run.code == 3);
    CHECK(Has(run.text, words));
    CHECK(SnapshotOf(story.folder.Path()) == now);
    story.Begin();
  };
  story.Begin();
  Write(story.folder / "out/.lidwright", "written by lidwright; may be replaced by it\n");
  refused(
      "out was written by an earlier lidwright, which kept no list of its files, so they cannot "
      "be told from yours: keep what you need, remove the folder, or name another");
  fs::remove(story.folder / "out/.lidwright");
  refused("out was not written by lidwright and is left alone");
  const std::string list = TextOf(story.folder / "out/.lidwright");
  Write(story.folder / "out/.lidwright", list.substr(0, list.size() - 30));  // cut off
  refused("out/.lidwright, the list of what lidwright wrote, cannot be read");
  Write(story.folder / "out/.lidwright",
        "lidwright folder 1\ncbf29ce484222325 0 ../other/file\nend\n");
  refused("cannot be read");
}

TEST_CASE("two runs into one folder: the second is told to wait", "[files]") {
  for (const auto& [first, arguments] : {std::pair("folder out new 1", "folder out replace 2"),
                                         {"", "folder out new 2"},
                                         {"file out new 1", "file out replace 2"}}) {
    INFO(arguments);
    const Story story(first, arguments);
    story.Begin();
    fs::create_directories(story.folder / ".out.lidwright/new/half");
    fs::permissions(story.folder / ".out.lidwright", fs::perms::owner_all);
    const int lock = ::open((story.folder / ".out.lidwright/lock").c_str(), O_CREAT | O_RDWR, 0600);
    REQUIRE(::flock(lock, LOCK_EX | LOCK_NB) == 0);
    const Snapshot now = SnapshotOf(story.folder.Path());
    const Run second = story.Again();
    CHECK(second.code == 3);
    CHECK(second.text ==
          "another lidwright is writing out at this moment: wait for it, or name another with "
          "--out\n");
    CHECK(SnapshotOf(story.folder.Path()) == now);
    ::close(lock);  // as its end does, whatever came after it under the same number
    CHECK(story.Again().code == 0);
    CHECK(story.IsAfter());
  }
}

TEST_CASE("links put where the next version is made lead nowhere", "[files]") {
  const Story story("file out new 1", "file out replace 2");
  story.Begin();
  fs::create_directories(story.folder / "trap");
  fs::create_symlink("trap", story.folder / ".out.lidwright");
  const Run run = story.Again();
  CHECK(run.code == 3);
  CHECK(Has(run.text, ".out.lidwright is in the way and was not made by this user's lidwright"));
  CHECK(fs::is_empty(story.folder / "trap"));
  fs::remove(story.folder / ".out.lidwright");
  fs::remove(story.folder / "trap");
  // Neither is a file replaced that is a link itself.
  fs::rename(story.folder / "out", story.folder / "elsewhere");
  fs::create_symlink("elsewhere", story.folder / "out");
  const Run link = story.Again();
  CHECK(link.code == 3);
  CHECK(link.text == "out is a link and is left alone: name another\n");
  CHECK(TextOf(story.folder / "elsewhere") == "version 1");
}

TEST_CASE("a job that lies in an output folder stays when a version without one is written",
          "[files]") {
  const ScratchFolder folder;
  const std::string out = (folder / "out").string();
  WriteFolder(out, {{"a.txt", "1"}, {"job.json", "typed by hand"}}, IfThere::kRefuse);
  WriteFolder(out, {{"a.txt", "2"}}, IfThere::kReplace);
  CHECK(TextOf(out + "/a.txt") == "2");
  CHECK(TextOf(out + "/job.json") == "typed by hand");
  WriteFolder(out, {{"job.json", "typed anew"}}, IfThere::kReplace);
  CHECK(TextOf(out + "/job.json") == "typed anew");
  CHECK_FALSE(fs::exists(out + "/a.txt"));
  // A file of the user's under a name that is sure to be written is found before long work.
  Write(out + "/report.html", "mine");
  const auto is_report = [](const std::string& name) { return name == "report.html"; };
  CHECK_NOTHROW(CheckFolder(out, IfThere::kReplace));
  CHECK_THROWS_WITH(CheckFolder(out, IfThere::kReplace, is_report),
                    out +
                        ": not written by lidwright, but in its way: report.html; move or rename "
                        "it, or name another folder with --out");
}

}  // namespace lidwright
