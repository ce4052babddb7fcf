// SPDX-License-Identifier: Apache-2.0
// lidwright trace as it is called: what it says, writes and refuses.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "lidwright/app/command_line.h"
#include "lidwright/job/read_job.h"
#include "places.h"
#include "scratch_folder.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;

struct Ran {
  ExitCode code;
  std::string text;
};

Ran Run(const std::vector<std::string>& arguments) {
  std::ostringstream out;
  const ExitCode code = RunCommandLine(arguments, out, out, false);
  return {code, out.str()};
}

class Desk {
 public:
  std::string File(const std::string& name) const { return (folder_ / name).string(); }
  std::string Write(const std::string& name, const std::string& text) const {
    testing::Write(File(name), text);
    return File(name);
  }
  std::string Text(const std::string& name) const { return testing::TextOf(File(name)); }

 private:
  testing::ScratchFolder folder_;
};

using testing::Has;

const std::string kExample = lidwright::testing::SourceFolder() + "/examples/traced_chest";

}  // namespace

TEST_CASE("the example drawings give one and the same job, which has a hinge", "[app]") {
  const Desk desk;
  std::vector<Job> jobs;
  for (const std::string ending : {".svg", ".dxf"}) {
    const Ran ran = Run(
        {"trace", kExample + ending, "--width", "320", "--out", desk.File("a.json"), "--replace"});
    INFO(ran.text);
    REQUIRE(ran.code == ExitCode::kGood);
    CHECK(Has(ran.text, "unit: 1 mm, from "));
    CHECK(Has(ran.text, "left out: 1 "));
    CHECK(Has(ran.text,
              "measured: depth 210 mm, height 115 mm, back 10 mm, front 10 mm, floor 12 mm"));
    jobs.push_back(*ReadJob(desk.Text("a.json"), "a.json").job);
  }
  for (std::size_t i = 0; i < jobs[0].stations.size(); ++i) {
    CHECK(jobs[0].stations[i].lid_rings == jobs[1].stations[i].lid_rings);
    CHECK(jobs[0].stations[i].case_rings == jobs[1].stations[i].case_rings);
  }
  const Ran fit = Run({"fit", desk.File("a.json"), "--out", desk.File("out"), "--frames", "2"});
  INFO(fit.text);
  CHECK(fit.code == ExitCode::kGood);
  CHECK(Has(fit.text, "requirements met; least to spare"));
}

TEST_CASE("trace says what it needs and leaves other files alone", "[app]") {
  const Desk desk;
  const std::string out = desk.Write("mine.json", "mine"), svg = kExample + ".svg";
  const auto refused = [&](const std::vector<std::string>& arguments, const std::string& why) {
    const Ran ran = Run(arguments);
    INFO(ran.text);
    CHECK(ran.code == ExitCode::kUsage);
    CHECK(Has(ran.text, why));
    CHECK(desk.Text("mine.json") == "mine");
  };
  refused({"trace", svg, "--width", "320", "--out", out}, "is there already");
  // Asked before any work: the drawing is not even there.
  refused({"trace", desk.File("none.svg"), "--width", "320", "--out", out}, "is there already");
  refused({"trace", svg}, "say the box's outside width with --width");
  refused({"trace", svg, "--width", "wide"}, "--width wide: must be a length");
  refused({"trace", svg, "--width", "-3"}, "--width -3: must be more than 0");
  refused({"trace", svg, "--width", "320", "--unit", "ell"},
          "--unit ell: must be mm, cm, m, in or ft");
  refused({"trace", svg, "--width", "320", "--unit", "mm", "--true-depth", "3"},
          "give only one of");
  refused({"trace", svg, svg, "--width", "320"}, "2 drawings need as many --at");
  refused({"trace", svg, "--width", "320", "--out", desk.File("a.txt")},
          "a job is written as .json");
  refused({"trace", svg, "--width", "320", "--out", desk.File("no/a.json")}, "there is no folder");
  refused({"trace", desk.File("none.svg"), "--width", "320", "--out", desk.File("b.json")},
          "there is no such file");
  refused({"trace", desk.Write("a.dwg", "AC1015"), "--width", "320", "--out", desk.File("b.json")},
          "save the drawing as ASCII DXF");
  refused({"trace", desk.Write("a.jpg", "JFIF"), "--width", "320", "--out", desk.File("b.json")},
          "is no drawing that can be traced");
  CHECK_FALSE(fs::exists(desk.File("b.json")));
}

TEST_CASE("a drawing that is wrong is answered with its problems and no job", "[app]") {
  const Desk desk;
  const std::string broken =
      desk.Write("broken.svg", "<svg>\n<path id='lid' d='M 0 0 L 1'/>\n</svg>");
  const Ran ran = Run({"trace", broken, "--width", "320", "--out", desk.File("a.json")});
  CHECK(ran.code == ExitCode::kBadJob);
  CHECK(Has(ran.text, "broken.svg:2: path lid d"));
  CHECK(Has(ran.text, "1 problem; nothing was written"));
  CHECK_FALSE(fs::exists(desk.File("a.json")));
}

TEST_CASE("lengths on the command line may be inches with fractions", "[app]") {
  const Desk desk;
  const Ran ran = Run({"trace", kExample + ".svg", "--width", "12-5/8", "--units", "in",
                       "--end-wall", "10 mm", "--out", desk.File("a.json")});
  INFO(ran.text);
  REQUIRE(ran.code == ExitCode::kGood);
  const Job job = *ReadJob(desk.Text("a.json"), "a.json").job;
  CHECK(job.inches);
  CHECK(job.case_form.width_mm == Approx(12.625 * 25.4));
  CHECK(job.case_form.end_wall_mm == Approx(10).margin(0.002));
  CHECK(job.case_form.depth_mm == Approx(210).margin(0.002));
}

}  // namespace lidwright
