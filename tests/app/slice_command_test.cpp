// SPDX-License-Identifier: Apache-2.0
#include <sys/resource.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

#include "lidwright/app/command_line.h"
#include "lidwright/job/read_job.h"
#include "trace/mesh_maker.h"

using namespace lidwright;
namespace fs = std::filesystem;

namespace {

// A folder of its own with a chest's two meshes in it.
class Bench {
 public:
  Bench() : folder_(fs::temp_directory_path() / ("lidwright_mesh_" + std::to_string(::getpid()))) {
    fs::create_directories(folder_);
    const mesh_maker::Chest chest;
    Write("case.stl", mesh_maker::Binary(mesh_maker::ZUp(chest.Body(false, 20))));
    Write("lid.stl", mesh_maker::Ascii(mesh_maker::ZUp(chest.Body(true, 20))));
  }
  ~Bench() { fs::remove_all(folder_); }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  std::string At(const std::string& name) const { return (folder_ / name).string(); }
  void Write(const std::string& name, const std::string& bytes) const {
    std::ofstream(At(name), std::ios::binary) << bytes;
  }
  std::string Read(const std::string& name) const {
    std::ifstream file(At(name), std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }
  ExitCode Slice(std::vector<std::string> more, bool terminal = false) {
    std::vector<std::string> all{"slice", At("case.stl"), At("lid.stl"), "--out", At("job.json")};
    all.insert(all.end(), more.begin(), more.end());
    out.str("");
    messages.str("");
    return RunCommandLine(all, out, messages, terminal);
  }

  std::ostringstream out, messages;

 private:
  fs::path folder_;
};

}  // namespace

TEST_CASE("on a terminal slice says what it does, and cleans up", "[mesh]") {
  Bench bench;
  REQUIRE(bench.Slice({"--up", "z", "--hinge-side", "-y"}, true) == ExitCode::kGood);
  const std::string said = bench.messages.str();
  INFO(said);
  std::size_t at = 0;
  for (const char* stage : {"\rreading meshes: 0 %", "\rslicing: 0 %", "\rmeasuring: 0 %"}) {
    at = said.find(stage, at);
    CHECK(at != std::string::npos);
  }
  REQUIRE_FALSE(said.empty());
  CHECK(said.back() == '\r');  // the line was taken away
}

TEST_CASE("a pair of meshes becomes a job file that can be read and drawn", "[mesh]") {
  Bench bench;
  REQUIRE(bench.Slice({"--up", "z", "--hinge-side", "-y", "--name", "A chest"}) == ExitCode::kGood);
  CHECK(bench.messages.str().empty());
  CHECK(bench.out.str().find("2 jumps; the form lies within 0.0") != std::string::npos);
  const std::string text = bench.Read("job.json");
  const JobReading reading = ReadJob(text, "job.json");
  REQUIRE(reading.job);
  CHECK(reading.job->name == "A chest");
  CHECK(reading.job->stations_error_mm > 0.0);
  CHECK(reading.job->stations.size() > 10);
  std::ostringstream out, messages;
  CHECK(RunCommandLine({"box", bench.At("job.json"), "--out", bench.At("box.svg")}, out, messages,
                       false) == ExitCode::kGood);

  // A second time it is there already, and then the same bytes.
  CHECK(bench.Slice({"--hinge-side", "-y"}) == ExitCode::kUsage);
  CHECK(bench.messages.str().find("is there already") != std::string::npos);
  CHECK(bench.out.str().empty());
  CHECK(bench.Slice({"--hinge-side", "-y", "--name", "A chest", "--replace"}) == ExitCode::kGood);
  CHECK(bench.Read("job.json") == text);
  // Asked before any work: the meshes are not even looked at.
  bench.Write("case.stl", "no mesh");
  CHECK(bench.Slice({"--hinge-side", "-y"}) == ExitCode::kUsage);
  CHECK(bench.messages.str().find("is there already") != std::string::npos);
}

TEST_CASE("what is wrong with a pair of meshes or its options is said, nothing written", "[mesh]") {
  Bench bench;
  CHECK(bench.Slice({"--hinge-side", "-z"}) == ExitCode::kUsage);
  CHECK(bench.messages.str() ==
        "lidwright: --up z and --hinge-side -z: the back cannot look up or down\n");
  CHECK(bench.Slice({"--hinge-side", "left"}) == ExitCode::kUsage);
  CHECK(bench.messages.str() == "lidwright: --hinge-side left: must be x, -x, y, -y, z or -z\n");
  CHECK(bench.Slice({"--hinge-side", "-y", "--unit", "yd"}) == ExitCode::kUsage);
  CHECK(bench.Slice({"--hinge-side", "-y", "--unit", "m"}) == ExitCode::kBadJob);
  CHECK(bench.messages.str().find("did you mean --unit mm (230 mm deep)") != std::string::npos);
  CHECK(bench.messages.str().find("1 problem; nothing was written\n") != std::string::npos);
  CHECK(bench.Slice({"--hinge-side", "-y", "--up", "-z"}) == ExitCode::kBadJob);
  bench.Write("lid.stl", "no mesh at all, but some text");
  CHECK(bench.Slice({"--hinge-side", "-y"}) == ExitCode::kBadJob);
  CHECK(bench.messages.str().find("a text that does not begin with \"solid\"") !=
        std::string::npos);
  CHECK_FALSE(fs::exists(bench.At("job.json")));
}

TEST_CASE("a gigantic file is refused by its size, and slice is listed among the commands",
          "[mesh]") {
  Bench bench;
  fs::resize_file(bench.At("case.stl"), 3'000'000'000);  // a hole in the file: no room on the disk
  rusage before{}, after{};
  getrusage(RUSAGE_SELF, &before);
  CHECK(bench.Slice({"--hinge-side", "-y"}) == ExitCode::kUsage);
  getrusage(RUSAGE_SELF, &after);
  CHECK(bench.messages.str() == "lidwright: " + bench.At("case.stl") + ": larger than 256 MiB\n");
  CHECK(after.ru_maxrss - before.ru_maxrss < 50 * 1024);  // kB: it was not read

  std::ostringstream out, messages;
  CHECK(RunCommandLine({"--help"}, out, messages, false) == ExitCode::kGood);
  CHECK(out.str().find("SUBCOMMAND") == std::string::npos);
  CHECK(out.str().find("Subcommands") == std::string::npos);
  CHECK(out.str().find("Commands:") < out.str().find("\n  slice "));
  std::ostringstream help;
  CHECK(RunCommandLine({"slice", "--help"}, help, messages, false) == ExitCode::kGood);
  CHECK(help.str().find("print this and exit") != std::string::npos);
}

TEST_CASE("who wants a mesh traced is told of slicing", "[mesh]") {
  const Bench bench;
  std::ostringstream out, messages;
  CHECK(RunCommandLine({"trace", bench.At("case.stl"), "--width", "340"}, out, messages, false) ==
        ExitCode::kUsage);
  CHECK(messages.str().find("is a mesh: 'lidwright slice CASE LID' makes a job from a pair") !=
        std::string::npos);
}
