// SPDX-License-Identifier: Apache-2.0
// The printed table of keys against what the reader really does.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "lidwright/job/key_rows.h"
#include "lidwright/job/read_job.h"
#include "sample_job.h"

namespace lidwright {
namespace {

using nlohmann::json;

struct Row {
  std::string key, unit, range, fallback, meaning;
};

std::vector<Row> Rows() {
  std::vector<Row> rows;
  std::istringstream table(JobReference());
  std::string line;
  for (int n = 0; std::getline(table, line); ++n) {
    if (n < 2) continue;
    std::vector<std::string> cells;
    std::size_t at = 2;
    for (std::size_t bar; (bar = line.find(" | ", at)) != std::string::npos; at = bar + 3) {
      cells.push_back(line.substr(at, bar - at));
    }
    REQUIRE(cells.size() == 4);
    REQUIRE(line.substr(line.size() - 2) == " |");
    cells.push_back(line.substr(at, line.size() - 2 - at));
    rows.push_back(
        {cells[0].substr(1, cells[0].size() - 2), cells[1], cells[2], cells[3], cells[4]});
  }
  return rows;
}

// The sample job with a value at a key of the table; lists get one object.
std::string JobWith(const std::string& key, const json& value) {
  json job = json::parse(kSampleJob);
  json* at = &job;
  std::string rest = key;
  for (std::size_t dot; (dot = rest.find('.')) != std::string::npos; rest.erase(0, dot + 1)) {
    std::string name = rest.substr(0, dot);
    if (name.size() > 2 && name.substr(name.size() - 2) == "[]") {
      at = &(*at)[name.substr(0, name.size() - 2)][0];
    } else {
      at = &(*at)[name];
    }
  }
  (*at)[rest] = value;
  return job.dump();
}

std::string Indexed(std::string key) {
  const std::size_t list = key.find("[]");
  return list == std::string::npos ? key : key.replace(list, 2, "[0]");
}

bool Complains(const Problems& problems, const std::string& place, const std::string& rule,
               const std::string& hint = "") {
  for (const Problem& problem : problems) {
    if (problem.place == place && problem.rule.find(rule) == 0 && problem.hint.find(hint) == 0) {
      return true;
    }
  }
  return false;
}

TEST_CASE("the reference has every key once, each with a meaning and a place to go") {
  const std::vector<Row> rows = Rows();
  // Counted in the format's description: 5 at the top, then case 23, lid 21, swing 4, room 6, bay
  // 4, contents 7, arms 7, plates 7, hardware 10, shop 15, loads 11, pivots 7, poses 5, stations 4,
  // each with its own name.
  CHECK(rows.size() == 5 + 23 + 21 + 4 + 6 + 4 + 7 + 7 + 7 + 10 + 15 + 11 + 7 + 5 + 4);
  std::set<std::string> keys;
  for (const Row& row : rows) {
    INFO(row.key);
    CHECK(keys.insert(row.key).second);
    CHECK(row.meaning.size() > 5);
    CHECK(row.meaning.back() != '.');
    CHECK(row.unit != "");
    const std::size_t dot = row.key.find('.');
    if (dot == std::string::npos) continue;
    std::string parent = row.key.substr(0, dot);
    if (parent.back() == ']') parent.erase(parent.size() - 2);
    CHECK(keys.count(parent) == 1);
  }
}

TEST_CASE("the ranges in the reference are the ones the reader keeps") {
  int checked = 0;
  for (const Row& row : Rows()) {
    if (row.unit != "mm" && row.unit != "deg" && row.unit != "1") continue;
    const std::size_t to = row.range.find(" to ");
    REQUIRE(to != std::string::npos);
    const double min = std::stod(row.range.substr(0, to)),
                 max = std::stod(row.range.substr(to + 4));
    const std::string place = Indexed(row.key);
    INFO(row.key << " from " << min << " to " << max);
    const std::string rule = "must be from " + row.range + (row.unit == "1" ? "" : " " + row.unit);
    const auto complains = [&](double value) {
      return Complains(ReadJob(JobWith(row.key, value), "box.json").problems, place, rule);
    };
    const double step =
        row.key == "seed" || row.key == "shop.tabs" ? 1.0 : 1e-6 * (1.0 + std::abs(max));
    CHECK_FALSE(complains(min));
    CHECK_FALSE(complains(max));
    CHECK(complains(min - step));
    CHECK(complains(max + step));
    ++checked;
  }
  CHECK(checked > 40);
}

TEST_CASE("every key misspelt is known for what it was meant to be") {
  int checked = 0;
  for (const Row& row : Rows()) {
    const std::size_t dot = row.key.rfind('.');
    const std::string name = dot == std::string::npos ? row.key : row.key.substr(dot + 1);
    if (name.size() < 3) continue;
    const std::string parent = row.key.substr(0, row.key.size() - name.size());
    const std::string slip = name + "x";
    INFO(row.key);
    CHECK(Complains(ReadJob(JobWith(parent + slip, 1), "box.json").problems, Indexed(parent + slip),
                    "unknown key", "did you mean \"" + name + "\"?"));
    ++checked;
  }
  CHECK(checked > 60);
}

TEST_CASE("defaults that the reference states as numbers are those of a job without the key") {
  const JobReading reading = ReadJob(kSampleJob, "box.json");
  REQUIRE(reading.job.has_value());
  int checked = 0;
  // Writing the stated default into the job must change nothing; compared by the fields it feeds.
  const auto fields = [](const Job& j) {
    return std::vector<double>{j.case_form.back_bow_mm,
                               j.case_form.front_bow_mm,
                               j.case_form.rim_arch_mm,
                               j.lid.crown_at_ends_mm,
                               j.lid.seam_gap_mm,
                               j.swing.open_rad,
                               j.swing.gap_mm,
                               j.swing.gap_from_rad,
                               j.room.mouth_free,
                               j.arms.width_mm,
                               j.arms.thickness_mm,
                               j.arms.gap_mm,
                               j.arms.bushing_mm,
                               j.arms.eye_mm,
                               j.bay.width_mm,
                               j.bay.edge_mm,
                               j.shop.cutter_mm,
                               double(j.seed),
                               j.case_form.rim_arch_side_mm,
                               j.case_form.back_flare_rad,
                               j.case_form.front_flare_rad,
                               j.case_form.end_flare_rad,
                               j.case_form.back_cup_mm,
                               j.case_form.front_cup_mm,
                               j.case_form.end_cup_mm,
                               j.case_form.feet_mm,
                               j.case_form.feet_inset_mm,
                               j.case_form.bottom_hollow_mm,
                               j.lid.exponent,
                               j.lid.lip_mm,
                               j.lid.lip_play_mm};
  };
  const json sample = json::parse(kSampleJob);
  for (const Row& row : Rows()) {
    if (row.fallback.empty() || !std::isdigit(static_cast<unsigned char>(row.fallback[0])))
      continue;
    if (row.fallback.find("case.") != std::string::npos ||
        row.fallback.find(',') != std::string::npos || row.key.find("[]") != std::string::npos) {
      continue;
    }
    std::string pointer = "/" + row.key;
    std::replace(pointer.begin(), pointer.end(), '.', '/');
    if (sample.contains(json::json_pointer(pointer))) continue;  // it says so itself
    INFO(row.key << " = " << row.fallback);
    const JobReading stated = ReadJob(
        JobWith(row.key, json::parse(row.fallback.substr(0, row.fallback.find(' ')))), "box.json");
    REQUIRE(stated.job.has_value());
    CHECK(fields(*stated.job) == fields(*reading.job));
    ++checked;
  }
  CHECK(checked >= 24);
}

}  // namespace
}  // namespace lidwright
