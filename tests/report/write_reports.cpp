// SPDX-License-Identifier: Apache-2.0
// Writes report.html, hinge.json and swing.svg of jobs, and of hinges that fail, into a folder for
// the tests in the browser: write_reports FOLDER JOB…
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>

#include "lidwright/design/make_design.h"
#include "lidwright/drawing/swing_film.h"
#include "lidwright/job/read_job.h"
#include "lidwright/report/hinge_json.h"
#include "lidwright/report/html.h"

namespace {

namespace fs = std::filesystem;
using namespace lidwright;

void Write(const fs::path& folder, const Design& design) {
  ReportLinks links;
  links.version = "0.0.0 (test)";
  links.files = {{"hinge.json", "every result"}, {"overlay.pdf", "the swing in one drawing"}};
  fs::create_directories(folder);
  std::ofstream(folder / "report.html", std::ios::binary) << ReportHtml(design, links);
  std::ofstream(folder / "hinge.json", std::ios::binary) << WriteHingeJson(design);
  if (design.hinges.empty()) return;
  std::ofstream(folder / "swing.svg", std::ios::binary) << SwingFilm(design, design.hinges.front());
}

}  // namespace

int main(int count, char** arguments) {
  const fs::path folder = arguments[1];
  for (int i = 2; i < count; ++i) {
    const fs::path file = arguments[i];
    std::ifstream in(file, std::ios::binary);
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    const JobReading reading = ReadJob(text, file.string());
    if (!reading.job) {
      std::cerr << file << " cannot be read\n";
      return 1;
    }
    // With plywood arms and a stay that the maker fits: there is more than one hinge to choose
    // from.
    Job job = *reading.job;
    job.loads.stay = true;
    // One that has none, but a linkage that opens: no hinge keeps that gap in so little room.
    if (file.stem() == "sample_chest_tight") {
      job.room.behind_mm = 48.0;
      job.swing.gap_mm = 20.0;
    }
    const BoxModel box(job);
    const Design design = MakeDesign(box);
    Write(folder / file.stem(), design);
    if (i > 2) continue;
    // What somebody had built by eye, and pivots that cannot move at all.
    Design given;
    given.job = box.job;
    given.solid = box.solid;
    given.hinges = {JudgeHinge(box, {{31.0, -15.5}, {48.5, -38.0}, {74.5, -6.5}, {172.0, -40.0}},
                               std::nullopt, std::nullopt)};
    Write(folder / "given", given);
    given.hinges = {JudgeHinge(box, {{31.0, -15.0}, {61.0, -15.0}, {31.0, -35.0}, {61.0, -35.0}},
                               std::nullopt, std::nullopt)};
    Write(folder / "stuck", given);
  }
  return 0;
}
