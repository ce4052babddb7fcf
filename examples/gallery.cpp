// SPDX-License-Identifier: Apache-2.0
// Makes the gallery from what lidwright wrote: gallery RESULTS EXAMPLES README JOB...
// For each JOB the folder RESULTS/JOB is read. Its picture goes to EXAMPLES/pictures/JOB.svg, its
// row between the marks of EXAMPLES/README.md, with the film, and of README, with a still of it.
// The first JOB's drawings show the path of a job in README. Nothing of these is made by hand.
#include <filesystem>
#include <iostream>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

#include "files.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"

namespace {

namespace fs = std::filesystem;
using Json = nlohmann::json;

// The job's own numbers, in its own unit.
std::string BoxLine(const Json& job) {
  const Json box = job.at("case"), lid = job.value("lid", Json::object());
  const auto plain = [&](const Json& value) { return lidwright::Text(value.get<double>(), 4); };
  std::string text = plain(box.at("width")) + " × " + plain(box.at("depth")) + " × " +
                     plain(box.at("height")) + " " + job.at("units").get<std::string>();
  const auto add = [&](const Json& at, const char* key, const char* what) {
    if (at.value(key, 0.0) != 0.0) text += ", " + std::string(what) + " " + plain(at.at(key));
  };
  add(lid, "crown", "dome");
  add(box, "back_bow", "back bowed");
  add(box, "rim_arch", "rim arched");
  return text;
}

// Results are in millimetres whatever the job's unit.
std::string HingeLine(const Json& result) {
  if (result.at("hinges").empty()) {
    const Json& none = result.at("none");
    std::string text = "No hinge: " + none.at("failing").get<std::string>() + " is in the way.";
    if (!none.at("remedies").empty()) {
      text += " One way out: " + none.at("remedies").at(0).get<std::string>() + ".";
    }
    return text;
  }
  const Json& best = result.at("hinges").at(0);
  const Json& traits = best.at("traits");
  const Json& job = result.at("job");
  const bool inches = job.at("units") == "in";
  const double unit_mm = inches ? lidwright::kMmPerInch : 1.0;
  // Without a limit the key is null.
  const auto limit = [&](const char* of, const char* key) {
    const Json value = job.value(of, Json::object()).value(key, Json());
    return value.is_number() ? value.get<double>() * unit_mm : lidwright::kUnset;
  };
  return "The lid clears by " +
         lidwright::BenchGap(traits.at("least_gap").get<double>(), limit("swing", "gap"), inches) +
         ", needs " +
         lidwright::BenchRoom(traits.at("reach_behind").get<double>(), limit("room", "behind"),
                              inches) +
         " behind, leaves " + lidwright::ShareText(traits.at("mouth_free").get<double>()) +
         " of the mouth free, takes " +
         lidwright::ForceText(best.at("forces").at("largest_lift_n").get<double>(),
                              lidwright::Bench::kRoom, inches) +
         " to lift. " +
         (result.at("hinges").size() == 1
              ? "One hinge."
              : std::to_string(result.at("hinges").size()) + " hinges to choose from.");
}

// A film without its style stands still, as for who wants little motion: shut and open in one.
std::string Still(std::string film) {
  const std::string end = "</style>\n";
  const std::size_t from = film.find("<style>"), to = film.find(end);
  if (from != std::string::npos && to != std::string::npos) {
    film.erase(from, to + end.size() - from);
  }
  return film;
}

// Puts `table` between the marks of a page.
void Fill(const fs::path& page_file, const std::string& table) {
  const std::string begin = "<!-- gallery: made by examples/run -->\n", end = "<!-- /gallery -->";
  std::string page = Read(page_file);
  const std::size_t from = page.find(begin), to = page.find(end);
  if (from == std::string::npos || to == std::string::npos || to < from) {
    throw std::runtime_error(page_file.string() + " has no marks of the gallery");
  }
  page.replace(from + begin.size(), to - from - begin.size(), table);
  Write(page_file, page);
}

// The rows, with pictures in `pictures` as seen from the page, named so after the job.
std::string Table(const fs::path& results, const std::vector<std::string>& jobs,
                  const std::string& pictures, const std::string& ending_of_pictures,
                  const std::string& files, const fs::path& examples) {
  std::string text = "| | box | hinge |\n| --- | --- | --- |\n";
  for (const std::string& job : jobs) {
    const Json result = Json::parse(Read(results / job / "hinge.json"));
    const std::string name = result.at("job").at("name").get<std::string>();
    // What was traced has its drawing there, not its job.
    // What the box is given by: measures, a drawing, or meshes that a script makes.
    std::string file = job + ".py";
    for (const char* ending : {".svg", ".json"}) {
      if (fs::exists(examples / (job + ending))) file = job + ending;
    }
    text += "| <img src=\"" + pictures + job + ending_of_pictures + "\" width=\"300\" alt=\"" +
            name + "\"> | **" + name + "**<br>" + BoxLine(result.at("job")) + "<br>[" + file +
            "](" + files + file + ") | " + HingeLine(result) + " |\n";
  }
  return text;
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 5) {
    std::cerr << "usage: gallery RESULTS EXAMPLES README JOB...\n";
    return 2;
  }
  try {
    const fs::path results = arguments[1], examples = arguments[2], readme = arguments[3];
    const std::vector<std::string> jobs(arguments + 4, arguments + count);
    fs::create_directories(examples / "pictures");
    const fs::path pictures = examples / "pictures";
    for (const std::string& job : jobs) {
      const fs::path film = results / job / "swing.svg";  // a box without a hinge stands still
      const std::string picture = Read(fs::exists(film) ? film : results / job / "box.svg");
      Write(pictures / (job + ".svg"), picture);
      Write(pictures / (job + "_still.svg"), Still(picture));
    }
    for (const char* drawing : {"box", "arrangement", "overlay"}) {
      const fs::path drawn = results / jobs.front() / (std::string(drawing) + ".svg");
      if (fs::exists(drawn))
        Write(pictures / (std::string("path_") + drawing + ".svg"), Read(drawn));
    }
    Fill(examples / "README.md", Table(results, jobs, "pictures/", ".svg", "", examples));
    Fill(readme, Table(results, jobs, "examples/pictures/", "_still.svg", "examples/", examples));
  } catch (const std::exception& error) {
    std::cerr << "gallery: " << error.what() << "\n";
    return 1;
  }
}
