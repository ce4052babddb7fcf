// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/documented_job.h"
#include "lidwright/job/key_rows.h"

#include <nlohmann/json.hpp>

#include "lidwright/base/check.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/read_pivots.h"
#include "sample_job.h"

namespace lidwright {
namespace {

const std::vector<JobEntry> kEntries = {
    {"lid.crown", "38"},   {"units", "\"mm\""},   {"name", JsonText("Tea \"no. 1\"\n")},
    {"case.width", "340"}, {"case.depth", "220"}, {"case.height", "\"12 cm\""},
    {"case.wall", "12"},   {"lid.rim", "14"},     {"swing.open_deg", "100"}};

}  // namespace

TEST_CASE("keys that begin with # are remarks everywhere in a job", "[job]") {
  const std::string remarks =
      R"("#": "a chest", "# width": 3, "#units": {"deep": [1, null]}, "# 2": ["a", "b"],)";
  const std::string text = "{" + remarks + R"("units": "mm", "case": {)" + remarks +
                           R"("width": 340, "depth": 220, "height": 120, "wall": 12},
      "lid": {"# rim": "off", "rim": 14, "crown": 38},
      "poses": [{"# at": "here", "angle_deg": 9, "at": [0, 0], "point": [1, 1]}]})";
  const JobReading reading = ReadJob(text, "box.json");
  INFO(Lines(reading.problems));
  REQUIRE(reading.job.has_value());
  CHECK(reading.job->case_form.width_mm == 340);
  // Only a # in front makes a remark.
  CHECK_FALSE(ReadJob(R"({"units": "mm", "a #": 1})", "box.json").job.has_value());
  const PivotReading pivots = ReadPivots(R"({"#": "as built", "units": "mm", "pivots": {"# 1": 1,
      "case_a": [31, -15.5], "case_b": [48.5, -38], "lid_a": [74.5, -6.5],
      "lid_b": [172, -40]}})",
                                         "hinge.json");
  CHECK(pivots.hinge.has_value());
}

TEST_CASE("a documented job reads back as what was put in", "[job]") {
  for (const KeyRemarks remarks : {KeyRemarks::kGivenKeys, KeyRemarks::kAllKeys}) {
    std::vector<JobEntry> entries = kEntries;
    entries[2].value = JsonText("Tea \"no. 1\"");
    const std::string text = DocumentedJob(entries, remarks, {"First.", "Second."});
    INFO(text);
    const JobReading reading = ReadJob(text, "box.json");
    INFO(Lines(reading.problems));
    REQUIRE(reading.job.has_value());
    CHECK(reading.job->name == "Tea \"no. 1\"");
    CHECK(reading.job->case_form.height_mm == 120);
    CHECK(reading.job->lid.crown_mm == 38);
    CHECK(reading.job->swing.open_rad == Approx(100 * kRadPerDeg));
    const nlohmann::json json = nlohmann::json::parse(text);
    CHECK(json["#"] == "First.");
    CHECK(json["case"]["# width"] == "Outside, across (30 to 3000 mm; required)");
    CHECK(json["case"].contains("# back_bow") == (remarks == KeyRemarks::kAllKeys));
    CHECK(json.contains("bay") == (remarks == KeyRemarks::kAllKeys));
  }
}

TEST_CASE("with all keys every key of the reference is in the file", "[job]") {
  const std::string text = DocumentedJob(kEntries, KeyRemarks::kAllKeys, {});
  JobReading read = ReadJob(text, "box.json");
  CHECK_FALSE(read.job.has_value());  // its name has a line break
  const std::string reference = JobReference();
  std::size_t keys = 0;
  for (std::size_t at = 0; (at = reference.find("\n| `", at)) != std::string::npos; ++at) {
    std::string path = reference.substr(at + 4, reference.find('`', at + 4) - at - 4);
    if (path.find("[]") != std::string::npos) continue;
    ++keys;
    const std::size_t dot = path.find('.');
    const std::string name = dot == std::string::npos ? path : path.substr(dot + 1);
    const bool remark = text.find("\"# " + name + "\": ") != std::string::npos;
    const bool section = text.find("\"" + path + "\": {") != std::string::npos;
    INFO(path);
    CHECK((remark || section));
  }
  CHECK(keys > 40);
}

TEST_CASE("limits in remarks are in the job's unit", "[job]") {
  std::vector<JobEntry> entries = {{"units", "\"in\""}, {"lid.seam_gap", "\"1/64\""}};
  const std::string text = DocumentedJob(entries, KeyRemarks::kGivenKeys, {});
  CHECK(text.find("closed; 0 is wood on wood (0 to 0.394 in; if not given: 0)") !=
        std::string::npos);
}

TEST_CASE("an unknown key to be written is a defect of the caller", "[job]") {
  CHECK_THROWS_AS(DocumentedJob({{"case.widht", "3"}}, KeyRemarks::kGivenKeys, {}), ContractError);
}

TEST_CASE("facts of a key are those of the table", "[job]") {
  const auto width = FindKeyRow("case.width");
  REQUIRE(width.has_value());
  CHECK(width->required);
  CHECK(width->kind == KeyKind::kLength);
  CHECK(width->max == 3000);
  CHECK(FindKeyRow("swing.open_deg")->fallback == "95");
  CHECK_FALSE(FindKeyRow("case.widht").has_value());
}

}  // namespace lidwright
