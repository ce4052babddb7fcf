// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "lidwright/app/command_line.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/read_pivots.h"
#include "lidwright/trace/mesh.h"
#include "trace/mesh_maker.h"
#include "trace/trace_text.h"

namespace lidwright {

/// A row of a table of wrong inputs: what is given, and every line of what must be answered.
///
/// In its file the input stands on a line of its own, the answer below it, each line indented by
/// four blanks; lines that begin with # are remarks. In inputs "|" is the end of a line.
struct WrongInput {
  int line = 0;
  std::string input, answer;
};

inline std::vector<WrongInput> WrongInputs(const std::string& file) {
  std::ifstream in(file);
  std::vector<WrongInput> rows;
  std::string line;
  for (int number = 1; std::getline(in, line); ++number) {
    if (line.empty() || line[0] == '#') continue;
    if (line.rfind("    ", 0) == 0 && !rows.empty()) {
      rows.back().answer += line.substr(4) + "\n";
    } else {
      rows.push_back({number, line, ""});
    }
  }
  return rows;
}

/// "path = value; path = value" put into a tree; "path = -" takes the key out. "[0]" after a name
/// counts in a list. An input that begins with "{" or "text:" is the text itself.
inline std::string Put(nlohmann::json tree, const std::string& edits) {
  if (edits.rfind("text:", 0) == 0) {
    std::string text = edits.substr(5);
    for (char& c : text) c = c == '|' ? '\n' : c;
    return text;
  }
  std::istringstream parts(edits);
  for (std::string edit; std::getline(parts, edit, ';');) {
    const std::size_t equals = edit.find(" = ");
    std::string path =
        "/" + edit.substr(edit.find_first_not_of(' '), equals - edit.find_first_not_of(' '));
    for (char& c : path) c = c == '.' ? '/' : c;
    const nlohmann::json::json_pointer at(path);
    const std::string value = edit.substr(equals + 3);
    if (value == "-") {
      tree[at.parent_pointer()].erase(at.back());
    } else {
      tree[at] = nlohmann::json::parse(value);
    }
  }
  return tree.dump();
}

inline nlohmann::json PlainJob() {
  return nlohmann::json::parse(R"({"name": "tea chest", "units": "mm",
    "case": {"width": 340, "depth": 220, "height": 120, "wall": 12, "back_bow": 10, "rim_arch": 8},
    "lid": {"rim": 14, "crown": 38}, "swing": {"open_deg": 95, "gap": 2},
    "room": {"behind": 100, "open_behind_x": 25}, "arms": {"width": 8, "gap": 1}})");
}

inline nlohmann::json PlainHinge() {
  return nlohmann::json::parse(R"({"units": "mm", "pivots": {"case_a": [30, -40],
    "case_b": [60, -70], "lid_a": [40, 5], "lid_b": [90, 10]}})");
}

/// What is answered to an input of that kind: job, hinge, svg, dxf, stl or command (then the exit
/// code first).
inline std::string AnswerTo(const std::string& kind, const std::string& input) {
  if (kind == "job") return Lines(ReadJob(Put(PlainJob(), input), "tea.json").problems);
  if (kind == "hinge") return Lines(ReadPivots(Put(PlainHinge(), input), "hinge.json").problems);
  TraceOptions options;
  options.file_name = "tea." + kind;
  if (kind == "dxf") {
    const std::string text =
        input.rfind("text:", 0) == 0
            ? Put({}, input)
            : DxfSheet(input + (input.empty() ? "" : "|") + DxfPolyline("case", kCasePoints));
    return Lines(TraceDxf(text, options).problems);
  }
  if (kind == "svg") {
    const std::string text =
        input.rfind("text:", 0) == 0 ? Put({}, input) : SvgSheet(kCaseLine + input + "\n");
    return Lines(TraceSvg(text, options).problems);
  }
  if (kind == "stl") {
    MeshReading reading = ReadStl(Put({}, "text:" + input), "tea.stl");
    if (reading.problems.empty()) reading = MendMesh(std::move(reading.mesh), "tea.stl", 1.0);
    return Lines(reading.problems);
  }
  std::vector<std::string> arguments;
  std::istringstream words(input);
  for (std::string word; words >> word;) arguments.push_back(word == "''" ? "" : word);
  std::ostringstream out, messages;
  const ExitCode code = RunCommandLine(arguments, out, messages, false, nullptr);
  return std::to_string(static_cast<int>(code)) + "\n" + messages.str();
}

}  // namespace lidwright
