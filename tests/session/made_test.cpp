// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>

#include "session/base64.h"
#include "session/talk.h"

using namespace lidwright;

TEST_CASE("Base64 is read as RFC 4648 has it, and nothing else is") {
  // RFC 4648, section 10.
  const std::pair<const char*, const char*> vectors[] = {{"", ""},
                                                         {"Zg==", "f"},
                                                         {"Zm8=", "fo"},
                                                         {"Zm9v", "foo"},
                                                         {"Zm9vYg==", "foob"},
                                                         {"Zm9vYmE=", "fooba"},
                                                         {"Zm9vYmFy", "foobar"}};
  for (const auto& [text, bytes] : vectors) {
    INFO(text);
    REQUIRE(FromBase64(text));
    CHECK(*FromBase64(text) == bytes);
  }
  CHECK(*FromBase64("AP+A") == std::string("\0\xff\x80", 3));
  for (const char* text :
       {"Z", "Zg", "Zg=", "Z===", "====", "Zm9v\n", "Zm 9", "Zm-_", "Zh==", "=Zg="}) {
    INFO(text);
    CHECK_FALSE(FromBase64(text));
  }
}

TEST_CASE("A drawing and a pair of meshes are handed on under their names alone") {
  Talk talk;
  talk.Say({{"ask", "trace"},
            {"name", "../../etc/chest\n.svg"},
            {"text", "<svg/>"},
            {"width", "32 cm"},
            {"back", "right"}});
  const std::optional<SessionWork> trace = talk.session.TakeWork();
  REQUIRE(trace);
  CHECK(trace->kind == SessionWork::Kind::kTrace);
  REQUIRE(trace->files.size() == 1);
  CHECK(trace->files[0].first == "chest?.svg");
  CHECK(trace->files[0].second == "<svg/>");
  CHECK(trace->wish.at("width") == "32 cm");
  CHECK(trace->wish.at("back") == "right");
  CHECK(trace->wish.at("unit") == "");
  CHECK(talk.Say({{"ask", "trace"}, {"text", ""}, {"back", "up"}}).contains("refused"));

  talk.Say({{"ask", "slice"},
            {"case_name", "C:\\boxes\\a.stl"},
            {"case", "Zm9v"},
            {"lid_name", "a.stl"},
            {"lid", "YmFy"},
            {"hinge_side", "-y"}});
  const std::optional<SessionWork> slice = talk.session.TakeWork();
  REQUIRE(slice);
  CHECK(slice->kind == SessionWork::Kind::kSlice);
  CHECK(slice->files[0] == std::pair<std::string, std::string>("a.stl", "foo"));
  CHECK(slice->files[1] == std::pair<std::string, std::string>("a.stl of the lid", "bar"));
  CHECK(slice->wish.at("hinge_side") == "-y");
  CHECK(talk.Say({{"ask", "slice"}, {"case", "Zm9v"}, {"lid", "no base64"}}).contains("refused"));
  CHECK_FALSE(talk.session.TakeWork());
}

TEST_CASE("What comes of a drawing is the box from then on, or is told and changes nothing") {
  Talk talk;
  const auto ask = [&] {
    talk.Say({{"ask", "trace"}, {"name", "a.svg"}, {"text", "<svg/>"}});
    return talk.session.TakeWork()->ticket;
  };
  const Json before = talk.Say({{"ask", "state"}});
  talk.session.Made(ask(), "", "a.svg:1: is no drawing\n");
  Json shown = talk.Say({{"ask", "state"}});
  CHECK(shown["work"]["said"] == "a.svg:1: is no drawing\n");
  CHECK(shown["work"]["good"] == false);
  CHECK(shown["fields"] == before["fields"]);
  talk.session.Made(ask(), SampleChest(), "a.svg:\n  traced\n");
  shown = talk.Say({{"ask", "state"}});
  CHECK(shown["work"]["good"] == true);
  CHECK(shown["work"]["going"] == false);
  CHECK(shown["fields"]["name"] == "A tea merchant's sample chest");
  CHECK(talk.Say({{"ask", "undo"}})["fields"] == before["fields"]);
}
