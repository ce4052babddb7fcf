// SPDX-License-Identifier: Apache-2.0
// The finished program as people meet it on a command line.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "places.h"
#include "run_shell.h"
#include "scratch_folder.h"

namespace {

namespace fs = std::filesystem;

using lidwright::testing::Has;
using lidwright::testing::Run;
using lidwright::testing::RunShell;
using lidwright::testing::ScratchFolder;

// In bash, with the program on the path as 'lidwright'; both outputs together.
Run Shell(const std::string& script) {
  const std::string path = fs::path(lidwright::testing::Program()).parent_path().string();
  std::string quoted;
  for (const char c : "export PATH=" + path + ":$PATH\nexec 2>&1\n" + script) {
    quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  }
  return RunShell("bash -c '" + quoted + "'");
}

std::vector<std::string> LinesOf(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream all(text);
  for (std::string line; std::getline(all, line);) lines.push_back(line);
  return lines;
}

const std::string kExamples = lidwright::testing::SourceFolder() + "/examples/";

}  // namespace

TEST_CASE("every help fits a screen of 24 lines of 80 columns", "[app]") {
  for (const char* command :
       {"", "begin", "trace", "slice", "fit", "check", "box", "keys", "completion", "manual"}) {
    const Run help = Shell(std::string("lidwright ") + command + " --help");
    INFO(help.text);
    CHECK(help.code == 0);
    const auto lines = LinesOf(help.text);
    CHECK(lines.size() > 4);
    CHECK(lines.size() <= 24);
    for (const std::string& line : lines) CHECK(line.size() <= 80);
    CHECK(help.text == Shell(std::string("lidwright help ") + command).text);
  }
}

TEST_CASE("the keys are listed in 80 columns, none left out", "[app]") {
  const Run keys = Shell("lidwright keys");
  CHECK(keys.code == 0);
  for (const std::string& line : LinesOf(keys.text)) CHECK(line.size() <= 80);
  for (const char* line : {"case.width  mm, 30 to 3000; required", "units  text, mm, in; required",
                           "arms.width  mm, 2 to 200; default: 10 mm",
                           "room.bench_below  flag, true, false; default"}) {
    INFO(line);
    CHECK(Has(keys.text, line));
  }
}

TEST_CASE("wrong command lines are answered in words, with what would be right", "[app]") {
  const std::pair<const char*, const char*> cases[] = {
      {"lidwright", "say what to do: begin trace slice fit check mockup box keys"},
      {"lidwright fti a.json", "there is no command 'fti' (did you mean 'fit'?)"},
      {"lidwright --verson", "there is no option '--verson' (did you mean '--version'?)"},
      {"lidwright fit", "fit needs more: lidwright fit JOB"},
      {"lidwright slice a.stl", "slice needs more: lidwright slice CASE LID"},
      {"lidwright check a.json", "check needs more: lidwright check JOB HINGE"},
      {"lidwright fit --hlep", "fit has no option '--hlep' (did you mean '--help'?)"},
      {"lidwright fit a.json --thread 2",
       "fit has no option '--thread' (did you mean '--threads'?)"},
      {"lidwright fit a.json --thread=2", "no option '--thread' (did you mean '--threads'?)"},
      {"lidwright fit a.json b.json", "'b.json' is too much: lidwright fit JOB"},
      {"lidwright fit a.json --frames 1", "--frames: '1' must be a whole number from 2 to 720"},
      {"lidwright fit a.json --threads -3", "--threads: '-3' must be a whole number from 0 to 256"},
      {"lidwright fit a.json --threads x", "--threads: 'x' must be a whole number from 0 to 256"},
      {"lidwright fit a.json --out ''", "--out: needs a name"},
      {"lidwright slice a.stl --hinge-side -y", "slice needs more: lidwright slice CASE LID"},
      {"lidwright slice a.stl b.stl --hinge-side -y --unot mm",
       "slice has no option '--unot' (did you mean '--unit'?)"},
      {"lidwright slice a.stl b.stl c.stl --hinge-side -y --up -z", "'c.stl' is too much"},
      {"lidwright fit a.json --out", "--out"},
  };
  for (const auto& [line, answer] : cases) {
    const Run run = Shell(line);
    INFO(line << "\n" << run.text);
    CHECK(run.code == 3);
    CHECK(run.text.rfind("lidwright: ", 0) == 0);
    CHECK(Has(run.text, answer));
    CHECK(LinesOf(run.text).size() == 2);
  }
}

TEST_CASE("files that are missing, mistaken for each other or in the way are named", "[app]") {
  const ScratchFolder scratch;
  const std::string folder = scratch.Path().string();
  const std::string go = "cd " + folder + "; ";
  std::ofstream(folder + "/hinge.json")
      << R"({"units": "mm", "pivots": {"case_a": [31, -15.5], "case_b": [48.5, -38],
             "lid_a": [74.5, -6.5], "lid_b": [172, -40]}})";
  fs::copy(kExamples + "sample_chest.json", folder + "/chest.json");
  const std::tuple<const char*, int, const char*> cases[] = {
      {"lidwright fit chets.json", 3, "there is no such file (did you mean chest.json?)"},
      {"lidwright fit hinge.json", 2, "hinge.json: this is a hinge, not a job"},
      {"lidwright check hinge.json chest.json", 2, "hinge.json: this is a hinge, not a job"},
      {"lidwright check chest.json chest.json", 2, "chest.json: this is a job, not a hinge"},
      {"lidwright box chest.json --out nowhere/a.svg", 3, "there is no folder nowhere"},
      {"lidwright box chest.json --out a.png", 3, "a drawing is written as .svg or .pdf"},
      {"lidwright fit chest.json --out chest.json", 3, "is there already and is not a folder"},
      {"lidwright fit chest.json --out chest.json/x", 3, "cannot write into chest.json"},
      {"lidwright fit chest.json --out /proc/x/y", 3, "cannot write into /proc/x"},
  };
  for (const auto& [line, code, answer] : cases) {
    const Run run = Shell(go + line);
    INFO(line << "\n" << run.text);
    CHECK(run.code == code);
    CHECK(Has(run.text, answer));
    CHECK(LinesOf(run.text).size() == 1);
  }
  CHECK(std::distance(fs::directory_iterator(folder), fs::directory_iterator()) == 2);
}

TEST_CASE("bash completes commands, options and files", "[app]") {
  const ScratchFolder scratch;
  const std::string folder = scratch.Path().string();
  fs::create_directories(folder + "/jobs");
  for (const char* name : {"chest.json", "chart.svg", "notes.txt", "my chest.json"}) {
    std::ofstream(folder + "/" + name) << "x";
  }
  const auto complete = [&](const std::string& words) {
    const Run run = Shell("cd " + folder + "; source <(lidwright completion); COMP_WORDS=(" +
                          words + "); COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _lidwright; " +
                          "for one in \"${COMPREPLY[@]}\"; do echo \"$one\"; done | sort");
    CHECK(run.code == 0);
    std::string joined;
    for (const std::string& line : LinesOf(run.text)) joined += line + "|";
    return joined;
  };
  CHECK(complete("lidwright f") == "fit|");
  CHECK(complete("lidwright c") == "check|completion|");
  CHECK(complete("lidwright fit --t") == "--threads|");
  CHECK(complete("lidwright fit --") == "--choose|--frames|--help|--out|--replace|--threads|");
  CHECK(complete("lidwright trace ch") == "chart.svg|");
  CHECK(complete("lidwright trace chart.svg ch") == "chart.svg|");
  CHECK(complete("lidwright box --") == "--help|--out|--replace|");
  CHECK(complete("lidwright fit \"\"") == "chest.json|jobs|my chest.json|");
  CHECK(complete("lidwright fit --threads 2 ch") == "chest.json|");
  CHECK(complete("lidwright check chest.json \"\"") == "chest.json|jobs|my chest.json|");
  CHECK(complete("lidwright fit chest.json \"\"") == "");
  CHECK(complete("lidwright fit chest.json --out \"\"") == "jobs|");
  CHECK(complete("lidwright fit chest.json --threads \"\"") == "");
  CHECK(complete("lidwright box chest.json --out ch") == "chart.svg|");
  CHECK(Shell("source <(lidwright completion); complete -p lidwright").text ==
        "complete -F _lidwright lidwright\n");
}

TEST_CASE("the manual page is read without a warning and names everything", "[app]") {
  const Run page = Shell("lidwright manual | groff -man -ww -Tascii -rLL=78n | sed 's/.\\x08//g'");
  INFO(page.text);
  CHECK(page.code == 0);
  CHECK_FALSE(Has(page.text, "warning"));
  CHECK_FALSE(Has(page.text, "error:"));
  for (const char* word : {"NAME", "SYNOPSIS", "EXIT STATUS", "fit JOB", "check JOB HINGE", "--out",
                           "--replace", "--threads", "--frames", "completion", "CAUTIONS"}) {
    INFO(word);
    CHECK(Has(page.text, word));
  }
  // groff itself would have said something.
  CHECK(Has(Shell("printf '.TH X 1\\n.nonsense\\n' | groff -man -ww -Tascii").text, "nonsense"));
}

TEST_CASE("fit answers in a short table, silent about progress in a pipe", "[app]") {
  const ScratchFolder scratch;
  const std::string folder = scratch.Path().string();
  const Run fit = Shell("lidwright fit " + kExamples + "jewellery_casket.json --frames 2 --out " +
                        folder + "/out");
  INFO(fit.text);
  REQUIRE(fit.code == 0);
  const auto lines = LinesOf(fit.text);
  CHECK(lines.size() <= 36);  // one of them the sizes, up to five the hinges
  for (std::size_t i = 0; i + 1 < lines.size(); ++i) CHECK(lines[i].size() <= 80);
  CHECK_FALSE(Has(fit.text, "\r"));
  CHECK_FALSE(Has(fit.text, "\x1b"));  // pass and warn are words, not colours
  CHECK(Has(fit.text, "  pass  "));
  CHECK(Has(fit.text, "  warn  "));
  CHECK(Has(fit.text, " in "));
  CHECK(Has(lines.back(), "report.html"));

  // A judgement too: 80 columns, the words, and what fails in a sentence of its own.
  std::ofstream(folder + "/glued.json") << R"({"units": "mm", "pivots": {
    "case_a": [20, -20], "case_b": [30, -40], "lid_a": [50, -10], "lid_b": [90, -30]}})";
  const Run check =
      Shell("lidwright check " + kExamples + "jewellery_casket.json " + folder + "/glued.json");
  INFO(check.text);
  CHECK(check.code == 1);
  for (const std::string& line : LinesOf(check.text)) CHECK(line.size() <= 80);
  CHECK(Has(check.text, "  pass  "));
  CHECK(Has(check.text, "  FAIL  "));
  CHECK(Has(check.text, "requirements are not met:"));

  // And the gallery takes figures and picture from the folder, in the job's unit.
  std::ofstream(folder + "/README.md")
      << "before\n<!-- gallery: made by examples/run -->\nold\n<!-- /gallery -->\nafter\n";
  fs::create_directories(folder + "/pages");
  fs::copy_file(folder + "/README.md", folder + "/pages/README.md");
  fs::rename(folder + "/out", folder + "/casket");
  const Run gallery = Shell(lidwright::testing::Gallery() + " " + folder + " " + folder +
                            "/pages " + folder + "/README.md casket");
  INFO(gallery.text);
  REQUIRE(gallery.code == 0);
  std::ifstream file(folder + "/README.md");
  const std::string page{std::istreambuf_iterator<char>(file), {}};
  CHECK(page.rfind("before\n", 0) == 0);
  CHECK(Has(page, "\nafter\n"));
  CHECK_FALSE(Has(page, "old"));
  CHECK(Has(page, "**A jewellery casket**<br>9 × 6 × 3.5 in, dome 1, back bowed 0.25"));
  const std::string before = "the lid clears the case by ";
  const std::size_t at = fit.text.find(before) + before.size();
  const std::string gap = fit.text.substr(at, fit.text.find(" or more", at) - at);
  CHECK(Has(gap, " in"));
  CHECK(Has(page, "The lid clears by " + gap));  // the same number as in the answer
  CHECK(fs::file_size(folder + "/pages/pictures/casket.svg") ==
        fs::file_size(folder + "/casket/swing.svg"));
  // The README's own picture does not move, the examples' does.
  CHECK(Has(page, "pictures/casket_still.svg"));
  std::ifstream still_file(folder + "/pages/pictures/casket_still.svg");
  const std::string still{std::istreambuf_iterator<char>(still_file), {}};
  CHECK(Has(still, "<svg"));
  CHECK_FALSE(Has(still, "animation"));
  std::ifstream list_file(folder + "/pages/README.md");
  const std::string list{std::istreambuf_iterator<char>(list_file), {}};
  CHECK(Has(list, "before\n"));
  CHECK(Has(list, "pictures/casket.svg"));
}

TEST_CASE("on a terminal fit says what it does and how far it is, and cleans up", "[app]") {
  const ScratchFolder scratch;
  const std::string folder = scratch.Path().string();
  // 'script' gives the program a terminal.
  const Run fit = Shell("script -qec 'lidwright fit " + kExamples +
                        "jewellery_casket.json --frames 2 --out " + folder + "/out' /dev/null");
  INFO(fit.text);
  REQUIRE(fit.code == 0);
  CHECK(Has(fit.text, " %"));
  CHECK(Has(fit.text, "\rdrawings"));
  const std::size_t last = fit.text.rfind(" %");
  const std::size_t answer = fit.text.find("A jewellery casket:");
  REQUIRE(answer != std::string::npos);
  CHECK(fit.text[answer - 1] == '\r');  // the line of progress was taken away
  CHECK(last > 0);
}

TEST_CASE("on a terminal trace and check say what they do, and clean up", "[app]") {
  const ScratchFolder scratch;
  const std::string folder = scratch.Path().string();
  const Run trace = Shell("script -qec 'lidwright trace " + kExamples +
                          "traced_chest.svg --width 320 --out " + folder + "/t.json' /dev/null");
  INFO(trace.text);
  REQUIRE(trace.code == 0);
  CHECK(Has(trace.text, "\rtracing " + kExamples + "traced_chest.svg: 0 %"));
  std::ofstream(folder + "/built.json")
      << R"({"units":"mm","pivots":{"case_a":[31,-15],"case_b":[48,-38],"lid_a":[74,-6],)"
      << R"("lid_b":[172,-40]}})";
  const Run check = Shell("script -qec 'lidwright check " + kExamples + "sample_chest.json " +
                          folder + "/built.json' /dev/null");
  INFO(check.text);
  CHECK(Has(check.text, "\rcertificate: 0 %"));
  CHECK(Has(check.text, "\r" + std::string(16, ' ') + "\r"));  // the line was taken away
}
