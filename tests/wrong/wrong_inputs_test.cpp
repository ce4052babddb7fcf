// SPDX-License-Identifier: Apache-2.0
// Wrong inputs by the hundred, each with the whole of what is answered.
#include "wrong/wrong_inputs.h"

#include <catch2/catch.hpp>
#include <filesystem>

#include "app/scratch_folder.h"
#include "places.h"

namespace lidwright {
namespace {

std::size_t CheckTable(const std::string& kind) {
  const std::string file = testing::SourceFolder() + "/tests/wrong/" + kind + ".txt";
  const std::vector<WrongInput> rows = WrongInputs(file);
  for (const WrongInput& row : rows) {
    INFO(file << ":" << row.line << ": " << row.input);
    CHECK(!row.answer.empty());
    CHECK(AnswerTo(kind, row.input) == row.answer);
  }
  return rows.size();
}

TEST_CASE("two hundred wrong inputs are answered in full by place, what was read and what would do",
          "[wrong]") {
  std::size_t rows = 0;
  for (const char* kind : {"job", "hinge", "svg", "dxf", "stl"}) rows += CheckTable(kind);
  CHECK(rows >= 200);
}

TEST_CASE("wrong command lines are answered in full, with their exit code", "[wrong]") {
  CHECK(CheckTable("command") >= 25);
}

}  // namespace
}  // namespace lidwright
