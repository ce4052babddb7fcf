// SPDX-License-Identifier: Apache-2.0
// Texts that are no JSON, or JSON meant to hurt: always a job or problems, never a crash.
#include <chrono>
#include <random>

#include "lidwright/job/read_job.h"
#include "sample_job.h"

namespace lidwright {
namespace {

// Reads a text and checks the promise: either a job or problems, and every problem one line.
bool Reads(const std::string& text) {
  const JobReading reading = ReadJob(text, "box.json");
  REQUIRE(reading.job.has_value() == reading.problems.empty());
  for (const Problem& problem : reading.problems) {
    REQUIRE_FALSE(problem.rule.empty());
    REQUIRE(Describe(problem).find('\n') == std::string::npos);
  }
  return reading.job.has_value();
}

std::string Said(const std::string& text) {
  return Lines(ReadJob(text, "box.json").problems);
}

double SecondsToRead(const std::string& text) {
  const auto start = std::chrono::steady_clock::now();
  CHECK_FALSE(Reads(text));
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

TEST_CASE("a text that is not JSON is told its line, its column and what stands before") {
  CHECK(Said("") ==
        "box.json:1: this is not JSON at column 1: while parsing value - unexpected end of input; "
        "expected '[', '{', or a literal\n");
  CHECK(Said(Edited("\"depth\": 220,", "\"depth\": 220,,")) ==
        "box.json:3: this is not JSON at column 39: while parsing object key - unexpected ','; "
        "expected string literal (just behind: \"case\": {\"width\": 340, \"depth\": 220,)\n");
  CHECK(Said(Edited("\"crown\": 38}", "\"crown\": 38,}")) ==
        "box.json:4: this is not JSON at column 34: while parsing object key - unexpected '}'; "
        "expected string literal (just behind: \"lid\": {\"rim\": 14, \"crown\": 38,)\n");
  CHECK(Said("{\"units\": mm}") ==
        "box.json:1: this is not JSON at column 11: while parsing value - invalid literal; last "
        "read: '\"units\": m' (just behind: {\"units\": )\n");
  CHECK(Said("{\"a\": 1 // no\n}") ==
        "box.json:1: this is not JSON at column 9: while parsing object - invalid literal; last "
        "read: "
        "'1 /'; expected '}' (just behind: {\"a\": 1 )\n");
  CHECK(Said("{}\n\n  {}") ==
        "box.json:3: this is not JSON at column 3: while parsing value - unexpected '{'; expected "
        "end of input\n");
  CHECK(
      Said("{\"a\":\n\"\xFF\"}") ==
      "box.json:2: this is not JSON at column 2: while parsing value - invalid string: ill-formed "
      "UTF-8 byte; last read: '\"?' (just behind: \")\n");
  CHECK(Said("{\"a\":\n 1e999}") == "box.json:2: the number 1e999 is too large\n");
}

TEST_CASE("lines are counted in files from anywhere") {
  CHECK(Said("\xEF\xBB\xBF" + Edited("\"crown\": 38", "\"crown\": -4")) ==
        "box.json:4: lid.crown = -4: must be from 0 to 1000 mm\n");
  std::string dos;
  for (char c : Edited("\"crown\": 38", "\"crown\":\n\n-4"))
    dos += c == '\n' ? "\r\n" : std::string(1, c);
  CHECK(Said(dos) == "box.json:6: lid.crown = -4: must be from 0 to 1000 mm\n");
  // A number right before the end of its line, and quotes and braces within texts, mislead nobody.
  CHECK(Said(Edited("\"name\": \"sample\"", "\"name\": \"a\\\\\\\"}{,:[\\\"\", \"seed\": -1\n")) ==
        "box.json:2: seed = -1: must be from 0 to 4294967295\n");
}

TEST_CASE("texts meant to hurt are refused in good time") {
  CHECK(Said(std::string(200000, '[')) ==
        "box.json:1: lists and objects stand in each other more than 64 deep\n");
  std::string deep;
  for (int i = 0; i < 100000; ++i) deep += "{\"a\":";
  CHECK(Said(deep) == "box.json:1: lists and objects stand in each other more than 64 deep\n");

  std::string values = "[1";
  for (int i = 0; i < 1000001; ++i) values += ",1";
  CHECK(Said(values + "]") == "box.json:1: the file holds more than 1000000 values\n");
  CHECK(Said(std::string((8u << 20) + 1, ' ')) == "box.json: the file is larger than 8 MiB\n");

  std::string keys = "{\"a\": 0";
  for (int i = 0; i < 400000; ++i) keys += ",\"k" + std::to_string(i) + "\": 0";
  CHECK(SecondsToRead(keys + "}") < 20.0);
  CHECK(SecondsToRead("{\"" + std::string(8000000, 'k') + "\": 0}") < 20.0);
}

TEST_CASE("a job cut off anywhere is refused, not half read") {
  const std::size_t last = kSampleJob.find_last_of('}');
  for (std::size_t length = 0; length <= last; ++length) {
    INFO(length);
    CHECK_FALSE(Reads(kSampleJob.substr(0, length)));
  }
  CHECK(Reads(kSampleJob.substr(0, last + 1)));
}

TEST_CASE("a job with any byte changed is read or refused") {
  // One of everything, so that every kind of value gets spoilt.
  const std::string whole =
      Edited("\"arms\": {", R"("room": {"bench_below": false, "mouth_free": 0.8},
    "contents": [{"outline": [[40, -100], [90, -100], [90, -60]]},
                 {"back": 40, "front": "9 cm", "height": 20, "from_z": 0}],
    "poses": [{"angle_deg": 90, "at": [-20, 30], "point": [0, 10]}],
    "pivots": {"case_a": [20, -40], "lid_zone": [[0, -40], [90, 20]]}, "seed": 3,
    "stations": [{"z": 0, "case": [[0, -120], [220, -120], [220, 0], [0, 0]], "lid": []},
                 {"z": 170, "case": [[[0, -120], [220, -120], [220, 0]]], "lid": []}],
    "arms": {)",
             Edited(", \"back_bow\": 10", "", Edited("\"rim\": 14, \"crown\": 38", "\"wall\": 9")));
  REQUIRE(Reads(whole));
  int read = 0, refused = 0;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    for (const char c : {'\0', '"', '9', '-', 'e', '.', ',', '[', '}', '\n', '\x7f', '\xC3'}) {
      std::string spoilt = whole;
      spoilt[i] = c;
      Reads(spoilt) ? ++read : ++refused;
    }
    Reads(std::string(whole).erase(i, 1)) ? ++read : ++refused;
  }
  CHECK(read > 100);
  CHECK(refused > 5000);

  std::mt19937 random(11);
  for (int i = 0; i < 3000; ++i) {  // several bytes at once, and pieces moved about
    std::string spoilt = whole;
    for (unsigned k = 1 + random() % 6; k > 0; --k) {
      const std::size_t from = random() % spoilt.size(), length = random() % 30;
      const std::string piece = spoilt.substr(from, length);
      if (random() % 2) spoilt.erase(from, length);
      spoilt.insert(random() % (spoilt.size() + 1), piece);
    }
    Reads(spoilt);
  }
}

}  // namespace
}  // namespace lidwright
