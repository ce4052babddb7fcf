// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <set>

#include "session/frames.h"
#include "session/places.h"
#include "session/talk.h"

using namespace lidwright;

TEST_CASE("Places behind a pivot lie on the shop's grid, the nearest first, each once") {
  Job job;
  job.shop.grid_mm = 0.5;
  const Vec2 at(31.0, -15.5);
  const std::vector<Vec2> places = PlacesAround(job, at);
  REQUIRE(places.size() == 17 * 17);
  CHECK(places.front() == at);
  std::set<std::pair<double, double>> seen;
  double before = 0.0;
  for (const Vec2& place : places) {
    const double away = (place - at).norm();
    CHECK(away >= before - 1e-9);
    before = away;
    CHECK(std::abs(std::remainder(place.x(), 0.5)) < 1e-9);
    CHECK(std::abs(std::remainder(place.y(), 0.5)) < 1e-9);
    seen.insert({place.x(), place.y()});
  }
  CHECK(seen.size() == places.size());
}

TEST_CASE("What the map says of a place is what a drag to it says of the lid") {
  Talk talk(SampleChest());
  CHECK(talk.Say({{"ask", "places"}, {"pivot", "lid_b"}, {"around", {26, -52}}, {"from", 0}})
            .contains("refused"));
  talk.Say({{"ask", "place"}});
  // A hinge that clears, as a search gave it once.
  const double hinge[4][2]{{39, -4}, {73.5, -60.5}, {138.5, -10}, {26, -52}};
  for (int i = 0; i < 4; ++i) {
    talk.Say(
        {{"ask", "drag"}, {"pivot", PivotNames()[i].name}, {"at", {hinge[i][0], hinge[i][1]}}});
  }
  talk.Say({{"ask", "drop"}});
  const Json before = talk.Say({{"ask", "state"}});
  std::vector<Json> points;
  for (int from : {0, 4, 8, 120}) {
    const Json told =
        talk.Say({{"ask", "places"}, {"pivot", "lid_b"}, {"around", {26, -52}}, {"from", from}});
    CHECK(told["done"] == false);
    for (const Json& point : told["points"]) points.push_back(point);
  }
  CHECK(talk.Say({{"ask", "state"}}) == before);  // nothing was moved
  int clear = 0, not_clear = 0;
  for (const Json& point : points) {
    INFO(point.dump());
    const Json frame =
        talk.Say({{"ask", "drag"}, {"pivot", "lid_b"}, {"at", {point[0], point[1]}}});
    CHECK((frame["outcome"] == "clear") == point[2].get<bool>());
    ++(point[2].get<bool>() ? clear : not_clear);
  }
  CHECK(clear > 0);
  CHECK(not_clear > 0);
  const Json last =
      talk.Say({{"ask", "places"}, {"pivot", "lid_b"}, {"around", {26, -52}}, {"from", 288}});
  CHECK(last["points"].size() == 1);
  CHECK(last["done"] == true);
}
