// SPDX-License-Identifier: Apache-2.0
// Messages that are none: refused in words, and nothing has changed.
#include <catch2/catch.hpp>
#include <random>

#include "lidwright/session/limits.h"
#include "session/talk.h"

using namespace lidwright;

namespace {

const std::vector<std::string>& Good() {
  static const std::vector<std::string> kGood{
      R"({"ask":"drag","pivot":"lid_a","at":[74.5,-6.5],"page":"page"})",
      R"({"ask":"put","pivot":"case_b","x":"48.5","y":"-1-1/2 in","page":"page"})",
      R"({"ask":"nudge","pivot":"lid_b","steps":[1,-1],"page":"page"})",
      R"({"ask":"set","key":"lid.crown","text":"38","page":"page"})",
      R"({"ask":"choose","number":1,"page":"page"})",
      R"({"ask":"job","text":"{\"units\":\"mm\"}","name":"a","page":"page"})",
      R"({"ask":"save","replace":true,"page":"page"})",
      R"({"ask":"places","pivot":"lid_b","around":[26,-52],"from":3,"page":"page"})",
      R"({"ask":"slice","case":"Zm9v","lid":"YmFy","hinge_side":"y","page":"page"})",
      R"({"ask":"entry","list":"poses","number":0,"angle_deg":"90","at_x":"-3","page":"page"})",
      R"({"ask":"remove","list":"contents","number":0,"page":"page"})",
      R"({"ask":"trace","name":"a.svg","text":"<svg/>","width":"3","back":"left","page":"page"})"};
  return kGood;
}

}  // namespace

TEST_CASE("A message that cannot be followed is refused in words and changes nothing") {
  Talk talk;
  talk.Say({{"ask", "place"}});
  const std::string before = talk.Say({{"ask", "state"}}).dump();
  const std::string deep(100000, '['), wide = "{\"ask\":[" + std::string(200000, ',') + "]}";
  const std::vector<std::string> bad{
      "",
      " ",
      "null",
      "[]",
      "{}",
      "7",
      "{",
      "\"ask\"",
      deep,
      wide,
      std::string(1, '\0'),
      "{\"ask\":7,\"page\":\"page\"}",
      "{\"ask\":\"nothing\",\"page\":\"page\"}",
      "{\"ask\":\"\xff\",\"page\":\"page\"}",
      R"({"ask":"open"})",
      R"({"ask":"open","page":""})",
      R"({"ask":"open","page":7})",
      R"({"ask":"drag","page":"page"})",
      R"({"ask":"drag","pivot":"case_a","page":"page"})",
      R"({"ask":"drag","pivot":"case_c","at":[1,2],"page":"page"})",
      R"({"ask":"drag","pivot":"case_a","at":[1],"page":"page"})",
      R"({"ask":"drag","pivot":"case_a","at":[1,"2"],"page":"page"})",
      R"({"ask":"drag","pivot":"case_a","at":[1e300,0],"page":"page"})",
      R"({"ask":"drag","pivot":"case_a","at":[1e999,0],"page":"page"})",
      R"({"ask":"nudge","pivot":"case_a","steps":[1e9,0],"page":"page"})",
      R"({"ask":"put","pivot":"case_a","x":"1","y":"../../etc","page":"page"})",
      R"({"ask":"put","pivot":"case_a","x":"999999","y":"1","page":"page"})",
      R"({"ask":"choose","number":0,"page":"page"})",
      R"({"ask":"remedy","number":0,"page":"page"})",
      R"({"ask":"built","case_a_x":"1","page":"page"})",
      R"({"ask":"trace","name":"a.svg","page":"page"})",
      R"({"ask":"trace","text":"<svg/>","back":"behind","page":"page"})",
      R"({"ask":"slice","case":"Zm9v","page":"page"})",
      R"({"ask":"slice","case":"Zm9v","lid":"?","page":"page"})",
      R"({"ask":"places","pivot":"case_a","around":[1,2],"from":-1,"page":"page"})",
      R"({"ask":"places","pivot":"case_a","around":[1,2],"from":9999,"page":"page"})",
      R"({"ask":"choose","number":99999999999999999999,"page":"page"})",
      R"({"ask":"set","key":"case","text":"1","page":"page"})",
      R"({"ask":"set","key":"stations[].z","text":"1","page":"page"})",
      R"({"ask":"set","key":"../case.width","text":"1","page":"page"})",
      R"({"ask":"set","key":"case.width","text":7,"page":"page"})",
      R"({"ask":"set","key":"name","text":")" + std::string(2000, 'x') + R"(","page":"page"})",
      R"({"ask":"job","text":"{","page":"page"})",
      R"({"ask":"save","replace":1,"page":"page"})"};
  for (const std::string& message : bad) {
    INFO(message.substr(0, 80));
    const Json answer = Json::parse(talk.session.Answer(message));
    CHECK(answer["refused"].is_string());
  }
  CHECK(talk.Say({{"ask", "state"}}).dump() == before);
}

TEST_CASE("A message that is too large is told what takes it") {
  Talk talk;
  const Json answer = Json::parse(talk.session.Answer(std::string(kLargestMessage_bytes + 1, ' ')));
  CHECK(answer["refused"].get<std::string>().find("'slice'") != std::string::npos);
}

TEST_CASE(
    "Messages with letters changed at random are answered with an object, whatever they are") {
  Talk talk;
  talk.Say({{"ask", "place"}});
  std::mt19937 random(20);
  const std::string letters = "{}[]\",:0123456789-+.eE\\u/ atn\n\xc3\x01";
  int refused = 0, read = 0;
  for (int i = 0; i < 1500; ++i) {
    std::string message = Good()[random() % Good().size()];
    for (unsigned k = 0; k <= random() % 2; ++k) {
      const std::size_t at = random() % message.size();
      if (random() % 3 == 0)
        message.erase(at, 1 + random() % 3);
      else if (random() % 2 == 0)
        message.insert(at, 1, letters[random() % letters.size()]);
      else
        message[at] = letters[random() % letters.size()];
    }
    INFO(message);
    const Json answer = Json::parse(talk.session.Answer(message));
    REQUIRE(answer.is_object());
    ++(answer.contains("refused") ? refused : read);
  }
  CHECK(refused > 500);
  CHECK(read > 20);
}
