// SPDX-License-Identifier: Apache-2.0
// Laws of the one table of keys, over files at random that go by its own rows: what is added to
// the table is tried here without being named.
#include <algorithm>
#include <cctype>
#include <fstream>
#include <iterator>
#include <regex>

#include "app/begin_command.h"
#include "app/keys_text.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/job/complete_job.h"
#include "lidwright/job/documented_job.h"
#include "lidwright/job/write_job.h"
#include "places.h"
#include "random_job.h"

namespace lidwright {
namespace {

// In a job of inches a length that is worked out, such as half of another, may be one that no file
// can say; then it comes back to within the rounding of two conversions, 2^-52 of it.
constexpr double kRounding = 2.3e-16;

bool Same(double a, double b, double share) {
  return a == b || (std::isnan(a) && std::isnan(b)) || std::abs(a - b) <= share * std::abs(b);
}

bool Same(const Vec2& a, const Vec2& b, double share) {
  return Same(a.x(), b.x(), share) && Same(a.y(), b.y(), share);
}

template <typename Items>
bool SameItems(const Items& a, const Items& b, double share) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [share](const auto& p, const auto& q) {
    if constexpr (std::is_same_v<std::decay_t<decltype(p)>, Ring>) {
      return SameItems(p, q, share);
    } else {
      return Same(p, q, share);
    }
  });
}

struct SameSlot {
  const Slot& other;
  double share;
  bool operator()(std::monostate) const { return true; }
  bool operator()(const double* a) const { return Same(*a, *std::get<double*>(other), share); }
  bool operator()(const std::optional<Vec2>* a) const {
    const auto& b = *std::get<std::optional<Vec2>*>(other);
    return a->has_value() == b.has_value() && (!*a || Same(**a, *b, share));
  }
  bool operator()(const std::optional<Zone>* a) const {
    const auto& b = *std::get<std::optional<Zone>*>(other);
    return a->has_value() == b.has_value() &&
           (!*a || (Same((*a)->low, b->low, share) && Same((*a)->high, b->high, share)));
  }
  bool operator()(const std::vector<Vec2>* a) const {
    return SameItems(*a, *std::get<std::vector<Vec2>*>(other), share);
  }
  bool operator()(const std::vector<Ring>* a) const {
    return SameItems(*a, *std::get<std::vector<Ring>*>(other), share);
  }
  bool operator()(const Outline*) const { return false; }
  template <typename Plain>
  bool operator()(const Plain* a) const {
    return *a == *std::get<Plain*>(other);
  }
};

// The paths at which two jobs differ, list objects included.
std::string Differences(const Job& first, const Job& second, double share) {
  JobDraft a = DraftOf(first), b = DraftOf(second);
  const std::vector<Key> of_a = JobKeys(&a), of_b = JobKeys(&b);
  std::string paths;
  const auto compare = [&](std::size_t k) {
    if (!std::visit(SameSlot{of_b[k].slot, share}, of_a[k].slot)) paths += of_a[k].path + " ";
  };
  for (std::size_t k = 0; k < of_a.size(); ++k) {
    if (of_a[k].InList()) continue;
    compare(k);
    for (std::size_t i = 0; of_a[k].kind == KeyKind::kList; ++i) {
      const bool more_a = of_a[k].load(i), more_b = of_b[k].load(i);
      if (more_a != more_b) paths += of_a[k].path + "[" + std::to_string(i) + "] ";
      if (!more_a || !more_b) break;
      for (std::size_t inner = 0; inner < of_a.size(); ++inner) {
        if (of_a[inner].Parent() == of_a[k].path + "[]") compare(inner);
      }
    }
  }
  return paths;
}

Job Read(const std::string& text) {
  const JobReading reading = ReadJob(text, "box.json");
  INFO(Lines(reading.problems) << text);
  REQUIRE(reading.job.has_value());
  return *reading.job;
}

constexpr unsigned kFiles = 600;

// Every fourth file is of stations, every other one of inches.
std::string FileAtRandom(unsigned seed, std::set<std::string>* said) {
  return RandomFile(seed, seed % 2 == 1, seed % 4 >= 2 && seed % 8 >= 6).Make(said);
}

}  // namespace

TEST_CASE("a job written and read is the same job in every field, whatever keys its file had") {
  std::set<std::string> said;
  unsigned tried = 0;
  for (unsigned seed = 0; seed < kFiles; ++seed) {
    const std::string text = FileAtRandom(seed, &said);
    if (text.empty()) continue;
    ++tried;
    INFO("seed " << seed << "\n" << text);
    const Job job = Read(text);
    const std::string written = WriteJob(job);
    INFO(written);
    const Job back = Read(written);
    CHECK(Differences(back, job, job.inches ? kRounding : 0.0) == "");
    // What has been in a file once does not move any more.
    CHECK(WriteJob(back) == written);
    CHECK(Differences(Read(WriteJob(back)), back, 0.0) == "");
  }
  CHECK(tried > kFiles * 9 / 10);
  // Files at random have had every row of the table.
  for (const KeyRow& row : JobKeyRows()) {
    INFO(row.key);
    CHECK(said.count(row.key) == 1);
  }
}

TEST_CASE("every field of a job is one key's, and no two keys share one") {
  JobDraft draft;
  std::vector<std::pair<const char*, std::size_t>> spans;  // where a field begins, its size
  const auto add = [&](const auto* field) {
    spans.emplace_back(reinterpret_cast<const char*>(field), sizeof(*field));
  };
  for (const Key& key : JobKeys(&draft)) {
    std::visit(
        [&](auto slot) {
          if constexpr (!std::is_same_v<decltype(slot), std::monostate>) add(slot);
        },
        key.slot);
  }
  // The lists' objects have slots of their own, and the unit a word.
  add(&draft.job.inches);
  add(&draft.job.arms.open);  // which keys were not given
  add(&draft.job.contents);
  add(&draft.job.poses);
  add(&draft.job.stations);
  std::sort(spans.begin(), spans.end());
  const char* job = reinterpret_cast<const char*>(&draft.job);
  const char* reached = job;
  int fields = 0;
  for (const auto& [begin, size] : spans) {
    if (begin < job || begin >= job + sizeof(Job)) continue;
    ++fields;
    CHECK(begin >= reached);
    // Padding is less than any field that is not a flag, but where points are aligned for vectors.
    const bool points = begin == reinterpret_cast<const char*>(&draft.job.pivots);
    CHECK(begin - reached < (points ? static_cast<long>(alignof(PivotWish)) : 8));
    reached = begin + size;
  }
  CHECK(job + sizeof(Job) - reached < 8);
  CHECK(fields > 100);
}

TEST_CASE("a job completed from values is the one read from a file that says the same") {
  unsigned good = 0, bad = 0;
  for (unsigned seed = 0; seed < kFiles; ++seed) {
    std::set<std::string> said;
    const std::string text = FileAtRandom(seed, &said);
    if (text.empty()) continue;
    INFO("seed " << seed << "\n" << text);
    Job wish = Read(text);
    // Some keys of the job, and every so often one that does not fit the rest.
    std::mt19937 random(seed);
    if (random() % 3 == 0) wish.case_form.back_wall_mm = 0.6 * wish.case_form.depth_mm;
    if (random() % 5 == 0) wish.swing.open_rad = 4.0;
    std::vector<std::string> given;
    for (const KeyRow& row : JobKeyRows()) {
      if (row.key.find("[]") != std::string::npos || row.kind == KeyKind::kSection) continue;
      if (row.goes_with == GoesWith::kMeasures && !wish.stations.empty()) continue;
      // case.wall is no field: all walls, or three quarters of these jobs would lack one.
      const bool wall =
          row.key == "case.floor" || (row.section == "case" && row.key.ends_with("_wall"));
      if (row.required || wall || row.key == "stations" || random() % 2 == 0) {
        given.push_back(row.key);
      }
    }
    const JobReading made = CompleteJob(wish, given, "box.json");
    const std::string file = DocumentedJob(EntriesOf(wish, given), KeyRemarks::kGivenKeys, {});
    const JobReading read = ReadJob(file, "box.json");
    INFO(file);
    REQUIRE(made.job.has_value() == read.job.has_value());
    if (made.job) {
      ++good;
      CHECK(Differences(*made.job, *read.job, wish.inches ? kRounding : 0.0) == "");
      continue;
    }
    ++bad;
    std::multiset<std::string> of_made, of_read;
    for (const Problem& p : made.problems) of_made.insert(p.place + ": " + p.rule);
    for (const Problem& p : read.problems) of_read.insert(p.place + ": " + p.rule);
    CHECK(of_made == of_read);
  }
  CHECK(good > 100);
  CHECK(bad > 100);
}

TEST_CASE("the list of keys, the questions and the READMEs know the keys of the table only") {
  const std::string keys = KeysText();
  for (const KeyRow& row : JobKeyRows()) {
    INFO(row.key);
    const bool listed = keys.find("\n" + row.key + "  ") != std::string::npos ||
                        keys.find("\n" + row.key + ";") != std::string::npos ||
                        keys.find("\n" + row.key + "\n") != std::string::npos ||
                        keys.rfind(row.key + "  ", 0) == 0;
    CHECK(listed);
  }
  for (const BeginQuestion& question : BeginQuestions()) {
    INFO(question.path);
    CHECK(FindKeyRow(question.path).has_value());
  }
  std::string readme;
  for (const char* page : {"/README.md", "/examples/README.md"}) {
    std::ifstream file(testing::SourceFolder() + page);
    readme.append(std::istreambuf_iterator<char>(file), {});
  }
  const std::regex path("`([a-z_]+\\.[a-z_]+)`");
  int named = 0;
  for (std::sregex_iterator at(readme.begin(), readme.end(), path), end; at != end; ++at) {
    const std::string key = (*at)[1];
    const std::string tail = key.substr(key.find('.'));
    if (!FindKeyRow(key.substr(0, key.find('.')))) continue;  // an example's file, say
    if (tail == ".svg" || tail == ".pdf" || tail == ".csv" || tail == ".json") continue;
    INFO(key);
    CHECK(FindKeyRow(key).has_value());
    ++named;
  }
  CHECK(named > 8);
}

TEST_CASE("a row says all that a form needs") {
  for (const KeyRow& row : JobKeyRows()) {
    INFO(row.key);
    CHECK_FALSE(row.label.empty());
    CHECK(row.label.find('_') == std::string::npos);
    CHECK(row.section ==
          (row.key.find('.') == std::string::npos ? "" : row.key.substr(0, row.key.rfind('.'))));
    CHECK((row.kind == KeyKind::kWord) == !row.choices.empty());
    const bool number = row.kind == KeyKind::kLength || row.kind == KeyKind::kAngle ||
                        row.kind == KeyKind::kShare || row.kind == KeyKind::kCount;
    if (number) CHECK(row.min < row.max);
  }
  CHECK(FindKeyRow("case.back_wall")->label == "back wall");
  CHECK(FindKeyRow("swing.open_deg")->label == "open");
  CHECK(FindKeyRow("loads.density_kg_m3")->label == "density");
  CHECK(FindKeyRow("loads.wood")->other_words);
}

TEST_CASE("the screws that a job may ask for are those that the arms know") {
  std::vector<std::string> known;
  for (const WoodScrew& screw : WoodScrews()) known.push_back(screw.name);
  for (const MachineScrew& screw : MachineScrews()) known.push_back(screw.name);
  std::vector<std::string> choices = FindKeyRow("hardware.screw")->choices;
  std::sort(known.begin(), known.end());
  std::sort(choices.begin(), choices.end());
  CHECK(choices == known);
}

TEST_CASE("files of today and before are read, newer ones are refused and nothing else is said") {
  const auto said = [](const std::string& format) {
    return Lines(
        ReadJob(Edited("{\n  \"name\"", "{\"format\": " + format + ",\n \"name\""), "box.json")
            .problems);
  };
  CHECK(said("\"lidwright job 1\"") == "");
  CHECK(said("\"lidwright job 2\"") == "");
  CHECK(
      said("\"lidwright job 3\"") ==
      "box.json:1: format = \"lidwright job 3\": the file is of a newer lidwright; this one reads "
      "up to \"lidwright job 2\" (a newer lidwright is needed)\n");
  for (const char* other : {"\"lidwright job\"", "\"lidwright job 2b\"", "\"lidwright job 0\"",
                            "\"lidwright job -1\"", "\"lidwright hinge 2\"", "\"\""}) {
    INFO(other);
    CHECK(said(other) == "box.json:1: format = " + std::string(other) +
                             ": this program reads \"lidwright job 2\" (leave the key out of a "
                             "file of your own)\n");
  }
  CHECK(said("2") == "box.json:1: format = 2: must be a text in quotes\n");
  const std::string newer = R"({"format": "lidwright job 77", "chest": {"widht": true}})";
  CHECK(ReadJob(newer, "box.json").problems.size() == 1);
}

}  // namespace lidwright
