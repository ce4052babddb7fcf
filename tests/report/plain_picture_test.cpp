// SPDX-License-Identifier: Apache-2.0
#include "report/plain_picture.h"

#include <catch2/catch.hpp>
#include <cmath>

#include <cstdlib>
#include <string>

#include "design/examples.h"
#include "lidwright/design/make_design.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/report/answer_text.h"
#include "lidwright/report/html.h"
#include "report/plain_words.h"

namespace lidwright {
namespace {

// How deep a corner of the lid lies in the case at any station, by brute force over the rings.
double Deepest_mm(const Solid& solid, const Pose& X_CL) {
  double deepest = 0.0;
  for (const Station& station : solid.stations) {
    for (const Ring& lid : station.lid_rings) {
      for (const Vec2& p : lid) {
        const Vec2 at = X_CL * p;
        if (!Contains(station.case_rings, at)) continue;
        double near = 1e300;
        for (const Ring& ring : station.case_rings) {
          for (std::size_t i = 0; i < ring.size(); ++i) {
            const Vec2 a = ring[i], along = ring[(i + 1) % ring.size()] - a;
            const double t = std::clamp((at - a).dot(along) / along.squaredNorm(), 0.0, 1.0);
            near = std::min(near, (at - a - t * along).norm());
          }
        }
        deepest = std::max(deepest, near);
      }
    }
  }
  return deepest;
}

}  // namespace

TEST_CASE("the lid of the sample chest digs in on a plain hinge as deep as is said", "[report]") {
  const BoxModel box(testing::ExampleJob("sample_chest"));
  PlainHinge none;
  const PlainPicture picture = PlainPictureOf(box.job, box.solid, none);
  REQUIRE(picture.deep_mm > 1.0);
  // At the picture's own angle a corner lies that deep; a corner of the case may lie deeper in the
  // lid than any of the lid's in the case.
  const double there = Deepest_mm(box.solid, Pose::About(picture.pin, picture.theta_rad));
  CHECK(there <= picture.deep_mm + 0.05);
  double most = 0.0;
  for (int i = 1; i <= 200; ++i) {
    const double theta = box.job.swing.open_rad * i / 200;
    most = std::max(most, Deepest_mm(box.solid, Pose::About(picture.pin, theta)));
  }
  CHECK(most <= picture.deep_mm + 0.2);
}

TEST_CASE("a plain hinge that does is shown half open and digs in nowhere", "[report]") {
  const BoxModel box(testing::ExampleJob("sample_chest"));
  PlainHinge plain;
  plain.works = true;
  plain.best = {-4.0, 0.0};
  const PlainPicture picture = PlainPictureOf(box.job, box.solid, plain);
  CHECK(picture.deep_mm == 0.0);
  CHECK(picture.pin == plain.best);
  CHECK(picture.theta_rad == Approx(box.job.swing.open_rad / 2.0));
  plain.best = {-24.0, 8.0};  // on brackets only: what is shown is the hinge that one would try
  CHECK(PlainPictureOf(box.job, box.solid, plain).pin != plain.best);
}

TEST_CASE("where a plain hinge does the answer begins with it and where its pin goes", "[report]") {
  const JobReading reading = ReadJob(
      R"({"units":"mm","name":"A straight-backed tea box","case":{"width":300,"depth":200,
          "height":110,"wall":10},"lid":{"rim":20,"crown":30}})",
      "box");
  REQUIRE(reading.job);
  const BoxModel box(*reading.job);
  DesignOptions options;
  options.improve = false;
  const Design design = MakeDesign(box, options);
  REQUIRE_FALSE(design.hinges.empty());
  REQUIRE(PlainFirst(design));
  const std::string said = PlainFirst(design)->Text();
  const std::string pin = "pin stands ";
  const std::size_t at = said.find(pin);
  REQUIRE(at != std::string::npos);
  // The pin as the words have it: the lid turned about it digs in nowhere.
  const double behind_mm = std::atof(said.c_str() + at + pin.size());
  CHECK(said.find(" behind the back's face, level with the rim;") != std::string::npos);
  for (int i = 1; i <= 100; ++i) {
    const double theta = box.job.swing.open_rad * i / 100;
    CHECK(Deepest_mm(box.solid, Pose::About({-behind_mm, 0.0}, theta)) <= 0.05);
  }
  CHECK(AnswerText(design, {}).rfind("A plain hinge does here", 0) == 0);
  const std::string page = ReportHtml(design, {{}, "0.0.0"});
  CHECK(page.find("A plain hinge does here") <
        page.find("Yes, the hidden hinge clears all the way"));
}

TEST_CASE("where no plain hinge does nothing is said of one before the answer", "[report]") {
  Design design;
  design.job = testing::ExampleJob("sample_chest");
  design.hinges.resize(1);
  CHECK_FALSE(PlainFirst(design));
  design.plain.works = true;
  design.plain.best = {-24.0, 8.0};  // on brackets only
  CHECK_FALSE(PlainFirst(design));
}

}  // namespace lidwright
