// SPDX-License-Identifier: Apache-2.0
// The finished program, tested from outside: exit codes, messages, what it writes and what it
// leaves alone.
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>

#include "places.h"
#include "run_shell.h"
#include "scratch_folder.h"

namespace {

namespace fs = std::filesystem;

using lidwright::testing::Has;
using lidwright::testing::Run;
using lidwright::testing::RunShell;
using lidwright::testing::ScratchFolder;
using lidwright::testing::TextOf;
using lidwright::testing::Write;

// Standard output and errors together.
Run Lidwright(const std::string& arguments) {
  return RunShell(lidwright::testing::Program() + " " + arguments + " 2>&1");
}

std::string Example(const std::string& name) {
  return lidwright::testing::SourceFolder() + "/examples/" + name;
}

const std::string kSmallJob = R"({"units": "mm",
  "case": {"width": 200, "depth": 120, "height": 70, "wall": 8},
  "lid": {"rim": 10, "crown": 15},
  "arms": {"width": 8}})";

}  // namespace

TEST_CASE("help fits a screen and names every command and exit code", "[app]") {
  const Run help = Lidwright("--help");
  CHECK(help.code == 0);
  for (const char* word : {"fit", "check", "box", "keys", "0 good", "1 no hinge", "2 bad job"}) {
    INFO(word);
    CHECK(Has(help.text, word));
  }
  CHECK(std::count(help.text.begin(), help.text.end(), '\n') <= 24);
}

TEST_CASE("the job's keys can be listed", "[app]") {
  const Run keys = Lidwright("keys");
  CHECK(keys.code == 0);
  CHECK(Has(keys.text, "case.back_bow"));
}

TEST_CASE("a slip in a command is answered with the nearest one", "[app]") {
  const Run run = Lidwright("fti job.json");
  CHECK(run.code == 3);
  CHECK(Has(run.text, "there is no command 'fti' (did you mean 'fit'?)"));
  CHECK(Lidwright("").code == 3);
  CHECK(Lidwright("fit").code == 3);
  CHECK(Lidwright("fit a.json --threads -3").code == 3);
  CHECK(Lidwright("fit a.json --colour red").code == 3);
}

TEST_CASE("bad jobs are told apart from bad usage and write nothing", "[app]") {
  const ScratchFolder folder;
  const auto fit = [&](const std::string& text) {
    Write(folder / "job.json", text);
    const Run run =
        Lidwright("fit " + (folder / "job.json").string() + " --out " + (folder / "out").string());
    CHECK_FALSE(fs::exists(folder / "out"));
    CHECK(folder.Entries() == 1);
    return run;
  };
  const Run malformed = fit("{\"units\": \"mm\", \"case\": {");
  CHECK(malformed.code == 2);
  CHECK(Has(malformed.text, "job.json:1"));
  const Run unknown = fit(R"({"units": "mm", "case": {"width": 200, "depht": 120}})");
  CHECK(unknown.code == 2);
  CHECK(Has(unknown.text, "depth"));
  CHECK(Has(unknown.text, "did you mean"));
  const Run thick = fit(R"({"units": "mm",
    "case": {"width": 200, "depth": 120, "height": 70, "wall": 90}, "lid": {"rim": 10}})");
  CHECK(thick.code == 2);
  CHECK(fit("").code == 2);
  CHECK(fit(std::string(100, '\0')).code == 2);
  CHECK(Lidwright("fit " + (folder / "missing.json").string()).code == 3);
  CHECK(Lidwright("fit /tmp --out " + (folder / "out").string()).code == 3);
}

TEST_CASE("a folder of the user's is never overwritten", "[app]") {
  const ScratchFolder folder;
  Write(folder / "job.json", kSmallJob);
  fs::create_directories(folder / "mine");
  Write(folder / "mine/notes.txt", "glue on Tuesday");
  Write(folder / "file", "not a folder");
  const std::string job = (folder / "job.json").string();
  for (const std::string& flags : {std::string(), std::string(" --replace")}) {
    const Run run = Lidwright("fit " + job + " --out " + (folder / "mine").string() + flags);
    CHECK(run.code == 3);
    CHECK(TextOf(folder / "mine/notes.txt") == "glue on Tuesday");
    CHECK(Lidwright("fit " + job + " --out " + (folder / "file").string() + flags).code == 3);
    CHECK(TextOf(folder / "file") == "not a folder");
  }
  CHECK(Lidwright("fit " + job + " --out /proc/nowhere/out").code == 3);
  CHECK(folder.Entries() == 3);
}

TEST_CASE("parts too large for the stock are named, and no empty file stands for them", "[app]") {
  const ScratchFolder folder;
  nlohmann::json job = nlohmann::json::parse(TextOf(Example("jewellery_casket.json")));
  job["shop"] = {{"sheet_width", 1}, {"sheet_height", 1}, {"sheet_margin", 0.1}};
  Write(folder / "job.json", job.dump());
  const std::string out = (folder / "out").string();
  const Run fit = Lidwright("fit " + (folder / "job.json").string() + " --frames 2 --out " + out);
  INFO(fit.text);
  CHECK(fit.code == 0);
  const std::string summary = TextOf(folder / "out/summary.txt");
  CHECK(Has(summary, "arm A, left: is "));
  CHECK(Has(summary, "too large for a sheet of 1 in by 1 in"));
  for (const auto& entry : fs::recursive_directory_iterator(out)) {
    INFO(entry.path());
    if (entry.is_regular_file()) CHECK(entry.file_size() > 0);
  }
}

TEST_CASE("the whole path: fit, look, feed back, same bytes on one thread and two", "[app]") {
  const ScratchFolder folder;
  const std::string job = Example("jewellery_casket.json");
  const std::string out = (folder / "one").string();
  const Run fit = Lidwright("fit " + job + " --threads 1 --frames 5 --out " + out);
  INFO(fit.text);
  REQUIRE(fit.code == 0);
  for (const char* name : {"hinge.json",
                           "summary.txt",
                           "parts.csv",
                           "box.svg",
                           "box.pdf",
                           "arrangement.svg",
                           "overlay.svg",
                           "arms.svg",
                           "charts.svg",
                           "cut/arm_a_left.dxf",
                           "cut/arm_a_right.svg",
                           "cut/case_plate_left.dxf",
                           "cut/lid_plate_right.svg",
                           "plates.pdf",
                           "bench.pdf",
                           "templates.pdf",
                           "paper_trial.pdf",
                           "jig.pdf",
                           "swing/frame_0.svg",
                           "swing/frame_4.svg"}) {
    INFO(name);
    CHECK(fs::file_size(folder / "one" / name) > 100);
  }
  // Again with other threads: every file the same.
  REQUIRE(
      Lidwright("fit " + job + " --threads 2 --frames 5 --out " + (folder / "two").string()).code ==
      0);
  int compared = 0;
  for (const auto& entry : fs::recursive_directory_iterator(folder / "one")) {
    if (!entry.is_regular_file()) continue;
    const fs::path other = folder / "two" / fs::relative(entry.path(), folder / "one").string();
    INFO(other);
    CHECK(TextOf(entry.path()) == TextOf(other));
    ++compared;
  }
  CHECK(compared >= 15);
  // Not over it unasked; over it when asked.
  CHECK(Lidwright("fit " + job + " --frames 5 --out " + out).code == 3);
  CHECK(Lidwright("fit " + job + " --frames 5 --replace --out " + out).code == 0);
  // What was written is judged good when it is fed back.
  const Run check = Lidwright("check " + job + " " + (folder / "one/hinge.json").string());
  INFO(check.text);
  CHECK(check.code == 0);
  // A pivot 12 mm off is not.
  nlohmann::json hinge = nlohmann::json::parse(TextOf(folder / "one/hinge.json"));
  auto pivots = hinge.at("pivots");
  pivots["lid_a"][1] = pivots["lid_a"][1].get<double>() + 12.0;
  Write(folder / "glued.json", nlohmann::json{{"units", "mm"}, {"pivots", pivots}}.dump());
  const Run glued = Lidwright("check " + job + " " + (folder / "glued.json").string());
  INFO(glued.text);
  CHECK(glued.code == 1);
}

TEST_CASE("no hinge is an answer with a reason and a way out", "[app][slow]") {
  const ScratchFolder folder;
  const Run run = Lidwright("fit " + Example("sample_chest_tight.json") + " --out " +
                            (folder / "out").string());
  INFO(run.text);
  CHECK(run.code == 1);
  CHECK(Has(run.text, "room behind"));
  CHECK(fs::exists(folder / "out/hinge.json"));
  CHECK_FALSE(fs::exists(folder / "out/cut"));
  // Each way out lies beside the report as a job; what is told first is fitted as it stands.
  const std::string remedy = (folder / "out/remedy_1.json").string();
  CHECK(Has(run.text, "remedy_1.json"));
  for (int number = 1; number < 20; ++number) {
    const fs::path job = folder / ("out/remedy_" + std::to_string(number) + ".json");
    if (!fs::exists(job)) break;
    INFO(job);
    CHECK(Lidwright("box " + job.string() + " --out " +
                    (folder / ("box" + std::to_string(number) + ".svg")).string())
              .code == 0);
  }
  const Run fitted = Lidwright("fit " + remedy + " --out " + (folder / "fitted").string());
  INFO(fitted.text);
  CHECK(fitted.code == 0);
}

TEST_CASE("the box can be drawn before any search", "[app]") {
  const ScratchFolder folder;
  const std::string drawing = (folder / "box.pdf").string();
  CHECK(Lidwright("box " + Example("sample_chest.json") + " --out " + drawing).code == 0);
  CHECK(TextOf(drawing).rfind("%PDF", 0) == 0);
  CHECK(Lidwright("box " + Example("sample_chest.json") + " --out " + drawing).code == 3);
  CHECK(Lidwright("box " + Example("sample_chest.json") + " --out " + (folder / "box.doc").string())
            .code == 3);
}

TEST_CASE("a box without room for the pivots, or a lid sunk into its case, is a bad job", "[app]") {
  const ScratchFolder folder;
  Write(folder / "flat.json", R"({"units": "mm",
    "case": {"width": 340, "depth": 220, "height": 31, "wall": 12, "floor": 22},
    "lid": {"rim": 14, "crown": 38}, "arms": {"width": 18}})");
  const Run flat =
      Lidwright("fit " + (folder / "flat.json").string() + " --out " + (folder / "out").string());
  INFO(flat.text);
  CHECK(flat.code == 2);
  CHECK(Has(flat.text, "no room for the case's pivots"));
  Write(folder / "sunk.json", R"({"units": "mm",
    "case": {"width": 340, "depth": 220, "height": 120, "wall": 12},
    "stations": [
     {"z": 0,   "case": [[0,-120],[220,-120],[220,0],[208,0],[208,-108],[12,-108],[12,0],[0,0]],
                "lid":  [[0,-3],[12,-3],[12,10],[208,10],[208,-3],[220,-3],[220,20],[0,20]]},
     {"z": 170, "case": [[0,-120],[220,-120],[220,0],[208,0],[208,-108],[12,-108],[12,0],[0,0]],
                "lid":  [[0,-3],[12,-3],[12,10],[208,10],[208,-3],[220,-3],[220,20],[0,20]]}]})");
  const Run sunk =
      Lidwright("fit " + (folder / "sunk.json").string() + " --out " + (folder / "out").string());
  INFO(sunk.text);
  CHECK(sunk.code == 2);
  CHECK(Has(sunk.text, "overlap when shut by 3 mm"));
}

TEST_CASE("box replaces its own drawing and no other file", "[app][files]") {
  const ScratchFolder folder;
  const std::string job = Example("rebated_box.json");
  for (const std::string ending : {".svg", ".pdf"}) {
    const std::string drawing = (folder / ("box" + ending)).string();
    const std::string command = "box " + job + " --out " + drawing + " --replace";
    REQUIRE(Lidwright(command).code == 0);
    const std::string text = TextOf(drawing);
    CHECK(Lidwright(command).code == 0);
    CHECK(TextOf(drawing) == text);
    std::string edited = text;
    edited.insert(edited.size() / 2, " ");
    for (const std::string& other : {std::string("a drawing of mine"), edited, std::string()}) {
      Write(drawing, other);
      const Run run = Lidwright(command);
      CHECK(run.code == 3);
      CHECK(run.text == "lidwright: " + drawing +
                            " is no drawing of a box as lidwright wrote it and is left alone: "
                            "name another file\n");
      CHECK(TextOf(drawing) == other);
    }
  }
}

TEST_CASE("begin writes over a job, edited or not, and over nothing else", "[app][files]") {
  const ScratchFolder folder;
  const std::string job = (folder / "a.json").string();
  const std::string command = "begin " + job +
                              " --width 340 --depth 220 --height 120 --wall 12 --lid-rim 14 "
                              "--crown 38 --replace < /dev/null";
  REQUIRE(Lidwright(command).code == 0);
  Write(job, TextOf(job) + "\n");
  CHECK(Lidwright(command).code == 0);
  Write(job, "{\"glue\": \"on Tuesday\"}");
  const Run run = Lidwright(command);
  CHECK(run.code == 3);
  CHECK(Has(run.text, "is no job that lidwright wrote and is left alone"));
  CHECK(TextOf(job) == "{\"glue\": \"on Tuesday\"}");
}

TEST_CASE("what cannot be written is a matter of files, told before any search", "[app][files]") {
  const ScratchFolder folder;
  const std::string root = folder.Path().string() + "/";
  const std::string job = Example("jewellery_casket.json"), hinge = root + "none.json";
  fs::create_symlink("loop", folder / "loop");
  std::string deep = root + "deep";  // longer than a path may be
  for (int i = 0; i < 45; ++i) deep += "/" + std::string(100, 'd');
  const std::string
      begin = "begin",
      measures =
          " --width 340 --depth 220 --height 120 --wall 12 --lid-rim 14 --crown 38 < /dev/null";
  const std::string svg = Example("traced_chest.svg") + " --width 320 --out ";
  const std::pair<std::string, std::string> places[] = {
      {root + std::string(241, 'n'), "longer than 240 bytes"},
      {root + std::string(300, 'n'), "longer than 240 bytes"},
      {deep + "/out", "File name too long"},
      {root + "loop/out", "Too many levels of symbolic links"}};
  for (const auto& [place, why] : places) {
    for (const std::string& command :
         {"box " + job + " --out " + place + ".svg", "fit " + job + " --out " + place,
          "begin " + place + ".json" + measures, "trace " + svg + place + ".json"}) {
      const Run run = Lidwright(command);
      INFO(command.substr(0, 80) << "\n" << run.text);
      CHECK(run.code == 3);
      CHECK(Has(run.text, why));
      CHECK_FALSE(Has(run.text, "internal"));
    }
  }
  for (const std::string& command : {"fit " + root + "loop", "fit " + deep, "box " + deep,
                                     "fit " + root + std::string(300, 'n')}) {
    const Run run = Lidwright(command);
    INFO(run.text);
    CHECK(run.code == 3);
    CHECK(Has(run.text, "cannot be read: "));
  }
  CHECK(folder.Entries() == 1);
}

TEST_CASE("an answer that nobody gets is no success", "[app][files]") {
  const ScratchFolder folder;
  const std::string job = Example("jewellery_casket.json");
  Write(folder / "hinge.json", R"({"units": "mm", "pivots": {"case_a": [31, -15.5],
    "case_b": [48.5, -38], "lid_a": [74.5, -6.5], "lid_b": [172, -40]}})");
  const std::string drawing = (folder / "box.svg").string();
  for (const std::string& command :
       {std::string("keys"), "box " + job + " --out " + drawing,
        "check " + job + " " + (folder / "hinge.json").string(), std::string("--help"),
        std::string("manual"), std::string("completion")}) {
    for (const char* nowhere : {"> /dev/full", ">&-"}) {
      fs::remove(drawing);
      const Run run = RunShell(lidwright::testing::Program() + " " + command + " 2>&1 " + nowhere);
      INFO(command << " " << nowhere << "\n" << run.text);
      CHECK(run.code == 3);
      CHECK(Has(run.text, "lidwright: cannot write to standard output"));
    }
  }
}

TEST_CASE("a font that is not there, or is broken, is said", "[app][files]") {
  const ScratchFolder folder;
  const std::string fonts = (folder / "fonts").string();
  fs::create_directories(fonts);
  Write(folder / "fonts.conf", "<fontconfig><dir>" + fonts + "</dir><cachedir>" +
                                   (folder / "cache").string() + "</cachedir></fontconfig>");
  Write(folder / "job.json", kSmallJob);
  const auto drawn = [&](int code) {
    const Run run =
        RunShell("FONTCONFIG_FILE=" + (folder / "fonts.conf").string() + " " +
                 lidwright::testing::Program() + " box " + (folder / "job.json").string() +
                 " --out " + (folder / "box.pdf").string() + " --replace 2>&1");
    INFO(run.text);
    CHECK(run.code == code);
    return run.text;
  };
  const std::string font = "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf";  // Debian's
  const std::string strokes =
      "warning: the font DejaVu Sans is not there: drawings are lettered in strokes without a "
      "name; the package fonts-dejavu-core has it\n";
  CHECK(Has(drawn(0), strokes));
  const std::string bytes = TextOf(font);
  Write(fs::path(fonts) / "DejaVuSans.ttf", bytes.substr(0, bytes.size() / 4));
  CHECK(Has(drawn(0), strokes));
  fs::copy_file(fs::path(font).replace_filename("DejaVuSansMono.ttf"),
                fs::path(fonts) / "DejaVuSansMono.ttf");
  CHECK(Has(drawn(0), "lettered in DejaVu Sans Mono; "));
  fs::remove(fs::path(fonts) / "DejaVuSans.ttf");
  fs::copy_file(font, fs::path(fonts) / "DejaVuSans.ttf");
  CHECK_FALSE(Has(drawn(0), "warning"));
  // Known from before, as the folder has not changed, and not to be opened any more.
  fs::resize_file(fs::path(fonts) / "DejaVuSans.ttf", 100);
  CHECK(Has(drawn(3),
            "the file of the font DejaVu Sans, or of what stands in its stead, cannot be "
            "opened"));
}
