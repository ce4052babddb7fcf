// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "source_files.h"

namespace lidwright {
namespace {

namespace fs = std::filesystem;
using namespace testing;
using Words = std::vector<std::string>;

bool Has(const Words& words, const std::string& word) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

struct Rules {
  std::map<std::string, Words> layers;                 // layer → layers that it may include
  std::vector<std::pair<std::string, Words>> headers;  // beginning → places
};

Rules ReadRules(std::istream& file) {
  Rules rules;
  std::string line;
  while (std::getline(file, line)) {
    std::istringstream words(line);
    std::string kind, name, word;
    if (!(words >> kind) || kind[0] == '#') continue;
    words >> name;
    INFO(line);
    REQUIRE((kind == "layer" || kind == "header"));
    REQUIRE(name.size() > 1);
    REQUIRE(name.back() == ':');
    name.pop_back();
    Words list;
    while (words >> word) list.push_back(word);
    if (kind == "layer") {
      for (const std::string& below : list) REQUIRE(rules.layers.count(below) == 1);
      REQUIRE(rules.layers.emplace(name, list).second);
    } else {
      REQUIRE_FALSE(list.empty());
      rules.headers.emplace_back(name, list);
    }
  }
  return rules;
}

// "include/lidwright/swing/part.h" → {"swing", "swing/part"}; likewise below src/.
struct Where {
  std::string layer, stem;
};
std::optional<Where> WhereIs(const std::string& path) {
  for (const std::string root : {"include/lidwright/", "src/"}) {
    if (path.compare(0, root.size(), root) != 0) continue;
    const std::string rest = path.substr(root.size());
    const std::size_t slash = rest.find('/');
    if (slash == std::string::npos) return std::nullopt;
    return Where{rest.substr(0, slash), rest.substr(0, rest.rfind('.'))};
  }
  return std::nullopt;
}

// What the line includes, with its quote or angle; "" if it includes nothing.
std::string IncludedBy(const std::string& line) {
  std::istringstream text(line);
  char mark = 0;
  std::string word, rest;
  if (!(text >> mark) || mark != '#' || !(text >> word)) return "";
  if (word.compare(0, 7, "include") != 0) return "";
  std::getline(text, rest);
  rest = word.substr(7) + rest;
  const std::size_t start = rest.find_first_not_of(" \t");
  if (start == std::string::npos) return "";
  const char end = rest[start] == '"' ? '"' : rest[start] == '<' ? '>' : ' ';
  const std::size_t stop = rest.find(end, start + 1);
  return rest.substr(start,
                     stop == std::string::npos || end == ' ' ? stop - start : stop + 1 - start);
}

// Why a file of `where` may not include this; "" if it may.
std::string Objection(const Rules& rules, const Where& where, const std::string& included) {
  const bool quoted = included[0] == '"';
  const bool named = quoted || included[0] == '<';  // else by a macro
  const std::string name = named ? included.substr(1, included.size() - 2) : included;
  if (quoted) {
    const bool is_public = name.compare(0, 10, "lidwright/") == 0;
    const std::string rest = is_public ? name.substr(10) : name;
    const std::size_t slash = rest.find('/');
    if (slash == std::string::npos) return "";  // beside the file itself
    const std::string layer = rest.substr(0, slash);
    if (layer == where.layer) return "";
    if (!is_public) return "is not a public header of its own layer";
    if (Has(rules.layers.at(where.layer), layer)) return "";
    return "is of a layer that " + where.layer + " may not include";
  }
  for (const auto& [beginning, places] : rules.headers) {
    if (name.compare(0, beginning.size(), beginning) != 0) continue;
    if (Has(places, "anywhere") || Has(places, where.layer) || Has(places, where.stem)) return "";
    return "may not appear here";
  }
  const bool standard = name.find_first_of("/.") == std::string::npos && included[0] == '<';
  return standard ? "" : "is not in layers.txt";
}

Words Objections(const Rules& rules, const SourceFile& file) {
  Words found;
  const auto where = WhereIs(file.path);
  if (!where || rules.layers.count(where->layer) == 0) {
    if (file.path.compare(0, 6, "tests/") != 0) found.push_back(file.path + ": not in any layer");
  }
  std::istringstream lines(file.text);
  std::string line;
  int number = 0;
  bool once = false;
  while (std::getline(lines, line)) {
    ++number;
    if (number == 1 && line != "// SPDX-License-Identifier: Apache-2.0") {
      found.push_back(file.path + ": the first line is not the SPDX line");
    }
    once = once || line == "#pragma once";
    const std::string included = IncludedBy(line);
    if (!where || included.empty() || rules.layers.count(where->layer) == 0) continue;
    const std::string objection = Objection(rules, *where, included);
    if (objection.empty()) continue;
    found.push_back(file.path + ":" + std::to_string(number) + ": " + included + " " + objection);
  }
  if (number == 0) found.push_back(file.path + ": empty");
  if (number > 500) {
    found.push_back(file.path + ": " + std::to_string(number) + " lines, more than 500");
  }
  if (fs::path(file.path).extension() == ".h" && !once) {
    found.push_back(file.path + ": no #pragma once");
  }
  return found;
}

Rules RulesOfTheProject() {
  std::ifstream file(fs::path(SourceFolder()) / "tests" / "layers.txt");
  REQUIRE(file);
  return ReadRules(file);
}

TEST_CASE("no source includes what its layer may not, and each is short and licensed") {
  const Rules rules = RulesOfTheProject();
  std::size_t read = 0, includes = 0;
  for (const std::string folder : {"include", "src", "tests"}) {
    for (const SourceFile& file : SourceFilesBelow(folder)) {
      for (const std::string& objection : Objections(rules, file)) FAIL_CHECK(objection);
      if (folder == "tests") continue;
      ++read;
      std::istringstream lines(file.text);
      for (std::string line; std::getline(lines, line);)
        includes += IncludedBy(line).empty() ? 0 : 1;
    }
  }
  CHECK(read >= 20);
  CHECK(includes >= 3 * read);
}

TEST_CASE("the rules keep each library where the design puts it") {
  const Rules rules = RulesOfTheProject();
  const std::string licence = "// SPDX-License-Identifier: Apache-2.0\n";
  const auto objections = [&](const std::string& path, const std::string& line) {
    return Objections(rules, {path, licence + "#pragma once\n" + line + "\n"});
  };
  const std::pair<const char*, const char*> refused[] = {
      {"src/swing/a.cpp", "#include <ceres/ceres.h>"},
      {"src/arms/a.cpp", "#include <glog/logging.h>"},
      {"src/design/a.cpp", "#include <nlohmann/json_fwd.hpp>"},
      {"src/drawing/frames.cpp", "#include <cairo-pdf.h>"},
      {"include/lidwright/drawing/canvas_size.h", "#include <cairo/cairo.h>"},
      {"src/arms/a.cpp", "#include <geos_c.h>"},
      {"src/report/a.cpp", "#include <CLI/CLI.hpp>"},
      {"src/cutting/a.cpp", "#include <fstream>"},
      {"src/report/a.cpp", "  #  include  <filesystem>  // no"},
      {"include/lidwright/base/a.h", "#include<iostream>"},
      {"src/job/a.cpp", "#include <cstdio>"},
      {"src/base/a.cpp", "#include <boost/any.hpp>"},
      {"src/base/a.cpp", "#include <unistd.h>"},
      {"src/report/a.cpp", "#include FT_FREETYPE_H"},
      {"src/base/a.cpp", "#include \"lidwright/geometry/vec.h\""},
      {"src/solid/a.cpp", "#include \"lidwright/swing/part.h\""},
      {"src/linkage/a.cpp", "#include \"lidwright/job/job.h\""},
      {"src/forces/a.cpp", "#include \"lidwright/accuracy/a.h\""},
      {"src/cutting/a.cpp", "#include \"lidwright/drawing/canvas.h\""},
      {"src/cutting/a.cpp", "#include \"lidwright/report/html.h\""},
      {"src/report/a.cpp", "#include \"lidwright/app/run.h\""},
      {"src/arms/a.cpp", "#include \"swing/walk.h\""},
      {"src/app/a.cpp", "#include \"lidwright/nowhere/a.h\""},
  };
  for (const auto& [path, line] : refused) {
    INFO(path << " " << line);
    CHECK(objections(path, line).size() == 1);
  }
  const std::pair<const char*, const char*> allowed[] = {
      {"src/synthesis/a.cpp", "#include <ceres/ceres.h>"},
      {"src/job/a.cpp", "#include <nlohmann/json.hpp>"},
      {"src/drawing/canvas.cpp", "#include <cairo-pdf.h>"},
      {"include/lidwright/drawing/canvas.h", "#include <cairo.h>"},
      {"src/trace/a.cpp", "#include <pugixml.hpp>"},
      {"src/app/main.cpp", "#include <CLI/CLI.hpp>"},
      {"src/app/main.cpp", "#include <iostream>"},
      {"src/base/a.cpp", "#include <Eigen/Core>"},
      {"src/base/a.cpp", "// #include <ceres/ceres.h>"},
      {"src/swing/a.cpp", "#include \"lidwright/linkage/lid_motion.h\""},
      {"src/swing/a.cpp", "#include \"swing/walk.h\""},
      {"src/swing/a.cpp", "#include \"walk.h\""},
      {"src/app/a.cpp", "#include \"lidwright/cutting/svg.h\""},
  };
  for (const auto& [path, line] : allowed) {
    INFO(path << " " << line);
    CHECK(objections(path, line).empty());
  }
}

TEST_CASE("an objection says where and why") {
  const Rules rules = RulesOfTheProject();
  const SourceFile back = {
      "src/geometry/a.cpp",
      "// SPDX-License-Identifier: Apache-2.0\n\n#include \"lidwright/job/job.h\"\n"};
  CHECK(Objections(rules, back) ==
        Words{"src/geometry/a.cpp:3: \"lidwright/job/job.h\" is of a layer that geometry may not "
              "include"});
  CHECK(Objections(rules, {"src/geometry/a.h", "int x;\n"}) ==
        Words{"src/geometry/a.h: the first line is not the SPDX line",
              "src/geometry/a.h: no #pragma once"});
  CHECK(Objections(rules, {"src/misc/a.cpp", back.text}) ==
        Words{"src/misc/a.cpp: not in any layer"});
  std::string long_text = "// SPDX-License-Identifier: Apache-2.0\n";
  for (int i = 0; i < 499; ++i) long_text += "\n";
  CHECK(Objections(rules, {"src/base/a.cpp", long_text}).empty());
  CHECK(Objections(rules, {"src/base/a.cpp", long_text + "\n"}) ==
        Words{"src/base/a.cpp: 501 lines, more than 500"});
}

}  // namespace
}  // namespace lidwright
