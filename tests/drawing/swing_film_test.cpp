// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/swing_film.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <regex>

#include "lidwright/base/check.h"
#include "made_up_design.h"
#include "svg_reader.h"

namespace lidwright {
namespace {

// Whether the film shows the right pose is looked at in a browser (tests/report/browser).

TEST_CASE("a film is well-formed, light, without ids and scripts, and the same each time") {
  for (const auto& example : testing::Examples()) {
    INFO(example.name);
    const Design design = testing::MakeDesign(example);
    const std::string film = SwingFilm(design, design.hinges[0]);
    CHECK(film == SwingFilm(design, design.hinges[0]));
    CHECK(film.size() < 300000);
    const auto all = testing::ReadSvg(film);
    CHECK(all[0].name == "svg");
    for (const char* name : {"pivot case-a", "pivot case-b", "pivot lid-a", "pivot lid-b"}) {
      int found = 0;
      for (const auto& circle : testing::Named(all, "circle")) found += circle.Class() == name;
      CHECK(found == 1);
    }
    for (const auto& element : all) {
      CHECK(element.attributes.count("id") == 0);
      CHECK(element.name != "script");
    }
  }
}

TEST_CASE("every moving group has a rule, and every rule begins shut and ends open") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const std::string film = SwingFilm(design, design.hinges[0]);
  const std::regex rule(R"(@keyframes (lw-[a-z-]+)\{0%,10%\{transform:[a-zA-Z]+\(([-0-9.]+).*)"
                        R"(84%,100%\{transform:[a-zA-Z]+\(([-0-9.]+))");
  std::map<std::string, std::pair<double, double>> rules;
  for (std::sregex_iterator it(film.begin(), film.end(), rule), end; it != end; ++it) {
    rules[(*it)[1]] = {std::stod((*it)[2]), std::stod((*it)[3])};
  }
  REQUIRE(rules.size() == 5);
  for (const auto& [name, ends] : rules) CHECK(ends.first == 0.0);
  // The lid turns by arm A's turn and its own against the arm: 95 degrees, clockwise positive.
  CHECK(rules.at("lw-turn-a").second + rules.at("lw-turn-lid").second ==
        Approx(-95.0).margin(2e-3));
  CHECK(rules.at("lw-grow").second == 1.0);
  for (const auto& element : testing::ReadSvg(film)) {
    const std::string name = element.Class();
    if (name.rfind("moves ", 0) == 0) CHECK(rules.count("lw-" + name.substr(6)) == 1);
  }
}

TEST_CASE("a film without time or steps is refused") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  SwingFilmOptions options;
  options.steps = 1;
  CHECK_THROWS_AS(SwingFilm(design, design.hinges[0], options), ContractError);
  options.steps = 96;
  options.opening_s = 0.0;
  CHECK_THROWS_AS(SwingFilm(design, design.hinges[0], options), ContractError);
}

TEST_CASE("a film is made in less than a fifth of a second") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const auto start = std::chrono::steady_clock::now();
  CHECK(SwingFilm(design, design.hinges[0]).size() > 20000);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  CHECK(took.count() < 0.2);
}

}  // namespace
}  // namespace lidwright
