// SPDX-License-Identifier: Apache-2.0
// A first job, by options and by questions.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "lidwright/app/command_line.h"
#include "lidwright/job/read_job.h"
#include "scratch_folder.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

struct Ran {
  ExitCode code;
  std::string out, messages;
};

class Desk {
 public:
  std::string File() const { return (folder_ / "chest.json").string(); }
  bool Empty() const { return folder_.Entries() == 0; }
  std::string Text() const { return testing::TextOf(File()); }
  Ran Begin(std::vector<std::string> options, const char* answers = nullptr) const {
    options.insert(options.begin(), {"begin", File()});
    std::ostringstream out, messages;
    std::istringstream in(answers == nullptr ? "" : answers);
    const ExitCode code =
        RunCommandLine(options, out, messages, false, answers == nullptr ? nullptr : &in);
    return {code, out.str(), messages.str()};
  }
  Job Read() const {
    const JobReading reading = ReadJob(Text(), "chest.json");
    std::string problems;
    for (const Problem& problem : reading.problems) problems += Describe(problem) + "\n";
    INFO(problems << Text());
    REQUIRE(reading.job.has_value());
    return *reading.job;
  }

 private:
  testing::ScratchFolder folder_;
};

using testing::Has;

const std::vector<std::string> kChest = {"--width", "340", "--depth",   "22 cm", "--height", "120",
                                         "--wall",  "12",  "--lid-rim", "14",    "--crown",  "38"};

}  // namespace

TEST_CASE("begin writes a documented job from options that box accepts", "[app]") {
  const Desk desk;
  const Ran ran = desk.Begin(kChest);
  INFO(ran.messages);
  REQUIRE(ran.code == ExitCode::kGood);
  const Job job = desk.Read();
  CHECK(job.case_form.width_mm == 340);
  CHECK(job.case_form.depth_mm == 220);
  CHECK(job.lid.crown_mm == 38);
  CHECK(job.case_form.back_bow_mm == 0);
  CHECK_FALSE(std::isfinite(job.room.behind_mm));
  CHECK(Has(desk.Text(), "\"# rim_arch\": \"How far the rim rises at mid-width"));
  CHECK(Has(desk.Text(), "\"# seam_gap\": "));  // not asked, still told
  std::ostringstream out, messages;
  CHECK(RunCommandLine({"box", desk.File(), "--out", desk.File() + ".svg"}, out, messages, false) ==
        ExitCode::kGood);
}

TEST_CASE("begin never writes over a file unasked", "[app]") {
  const Desk desk;
  std::ofstream(desk.File()) << "mine";
  const Ran ran = desk.Begin(kChest, "");
  CHECK(ran.code == ExitCode::kUsage);
  CHECK(Has(ran.messages, "is there already"));
  CHECK(ran.out.empty());  // before any question
  CHECK(desk.Text() == "mine");
  std::vector<std::string> replacing = kChest;
  replacing.push_back("--replace");
  CHECK(desk.Begin(replacing).code == ExitCode::kUsage);  // no job
  CHECK(desk.Text() == "mine");
  std::ofstream(desk.File()) << R"({"format": "lidwright job 2", "units": "mm"})";
  CHECK(desk.Begin(replacing).code == ExitCode::kGood);
  CHECK(Has(desk.Text(), "\"case\""));
}

TEST_CASE("without anybody to ask begin names what is lacking", "[app]") {
  const Desk desk;
  const Ran ran = desk.Begin({"--width", "340", "--wall", "12"});
  CHECK(ran.code == ExitCode::kUsage);
  CHECK(Has(ran.messages,
            "begin needs --depth, --height, --lid-rim, --crown; on a terminal it asks for them"));
  CHECK(desk.Empty());
}

TEST_CASE("begin asks, explains what is wrong with an answer, and asks again", "[app]") {
  const Desk desk;
  const Ran ran = desk.Begin({},
                             "A \"tea\" chest\nfeet\nin\n13-3/8\n5,5\n8-5/8\n4.75\n"
                             "1/2\n3/8\n5/16\n9/16\n1 1/2\n\n200\n100\n4\n"
                             "oak\nwhite oak\non a shelf\nagainst a wall\nmaybe\nyes\n\n");
  INFO(ran.out << ran.messages);
  REQUIRE(ran.code == ExitCode::kGood);
  CHECK(Has(ran.out, "Outside, across, in: "));
  CHECK(Has(ran.out, "  must be mm or in\n"));
  CHECK(Has(ran.out, "(decimal points, not commas)"));
  CHECK(Has(ran.out, "  must be from 10 to 180\n"));
  const Job job = desk.Read();
  CHECK(job.name == "A \"tea\" chest");
  CHECK(job.inches);
  CHECK(job.case_form.width_mm == Approx(13.375 * 25.4));
  CHECK(job.case_form.back_bow_mm == Approx(0.375 * 25.4));
  CHECK(job.lid.crown_mm == Approx(1.5 * 25.4));
  CHECK(job.swing.open_rad == Approx(100 * kRadPerDeg));
  CHECK(job.room.behind_mm == Approx(4 * 25.4));
  CHECK(Has(ran.out, "  must be one of "));
  CHECK(Has(ran.out, "; did you mean \"white oak\" or \"red oak\"?\n"));
  CHECK(Has(ran.out, "(free, against a wall, fixed) [free]: "));
  CHECK(Has(ran.out, "  must be yes or no\n"));
  CHECK(Has(ran.out, " [chosen for you]: "));
  CHECK(job.loads.wood == "white oak");
  CHECK(job.loads.stands == "against a wall");
  CHECK(job.loads.stay);
  CHECK(job.arms.open.material);
  CHECK(Has(desk.Text(), "\"width\": \"13-3/8\""));  // as it was written
}

TEST_CASE("fractions without a unit keep their meaning in a job of millimetres", "[app]") {
  const Desk desk;
  std::vector<std::string> options = kChest;
  options[7] = "12 1/2";
  REQUIRE(desk.Begin(options).code == ExitCode::kGood);
  CHECK(desk.Read().case_form.back_wall_mm == 12.5);
}

TEST_CASE("measures that contradict each other are asked for once more", "[app]") {
  const Desk desk;
  std::vector<std::string> thick = kChest;
  thick[7] = "115";
  const Ran alone = desk.Begin(thick);
  CHECK(alone.code == ExitCode::kBadJob);
  CHECK(Has(alone.messages,
            "case.wall = 115: counts for case.back_wall too, which must be less than half of "
            "case.depth"));
  CHECK(desk.Empty());
  // Name, units, …: Enter keeps all but the wall.
  const Ran asked = desk.Begin(thick, "\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n\n12\n\n\n\n\n\n\n\n\n\n\n\n");
  INFO(asked.out << asked.messages);
  CHECK(asked.code == ExitCode::kGood);
  CHECK(Has(asked.out, "Enter keeps what stands in brackets"));
  CHECK(desk.Read().case_form.width_mm == 340);
}

TEST_CASE("questions that are broken off write nothing", "[app]") {
  const Desk desk;
  const Ran ran = desk.Begin({}, "Chest\nmm\n340\n");
  CHECK(ran.code == ExitCode::kUsage);
  CHECK(Has(ran.messages, "stopped, nothing was written"));
  CHECK(desk.Empty());
}

}  // namespace lidwright
