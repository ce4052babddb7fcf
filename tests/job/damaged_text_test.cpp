// SPDX-License-Identifier: Apache-2.0
// Texts that a parser alone would take for whole, or would have no words for.
#include "lidwright/job/read_job.h"
#include "lidwright/job/read_pivots.h"
#include "sample_job.h"

namespace lidwright {
namespace {

std::string Said(const std::string& text) {
  return Lines(ReadJob(text, "box.json").problems);
}

std::string Named(const std::string& name) {
  return Edited("\"sample\"", "\"" + name + "\"");
}

std::string Utf16(const std::string& text, bool big) {
  std::string wide;
  for (const char c : text) wide += big ? std::string{'\0', c} : std::string{c, '\0'};
  return wide;
}

TEST_CASE("nothing is passed over behind a byte of 0") {
  const std::string whole = std::string(kSampleJob);
  REQUIRE(Said(whole).empty());
  const std::string rule = "holds a byte of 0, which is in no text (is the file damaged?)\n";
  CHECK(Said("{}\n" + std::string(1, '\0') + whole) == "box.json:2: " + rule);
  CHECK(Said(whole + std::string(1, '\0')) != "");
  CHECK(Said(whole + "\n" + std::string(1, '\0') + "} and more").find(rule) != std::string::npos);
  CHECK(Said(std::string(100, '\0')) == "box.json:1: " + rule);
  CHECK(Lines(ReadPivots("{}" + std::string(3, '\0'), "h.json").problems) == "h.json:1: " + rule);
}

TEST_CASE("a job in UTF-16 is called so") {
  const std::string words =
      "box.json: is a text in UTF-16, and JSON is in UTF-8 (save it as UTF-8)\n";
  const std::string whole = std::string(kSampleJob);
  CHECK(Said("\xFF\xFE" + Utf16(whole, false)) == words);
  CHECK(Said("\xFE\xFF" + Utf16(whole, true)) == words);
  CHECK(Said(Utf16(whole, false)) == words);
  CHECK(Said(Utf16(whole, true)) == words);
}

TEST_CASE("a name that would speak to the terminal is refused and shown without that") {
  for (const char* control : {"\xC2\x9B", "\xC2\x80", "\xC2\x9F", "\x7F"}) {  // CSI, among others
    const std::string said = Said(Named(std::string("a") + control + "2J"));
    CHECK(said.find("name = \"a?2J\": must be one line without control characters") !=
          std::string::npos);
    CHECK(said.find(control) == std::string::npos);
  }
  CHECK(Said(Named("a\xC2\xA0\xC3\x9Bz")).empty());  // U+00A0 and on are letters
}

}  // namespace
}  // namespace lidwright
