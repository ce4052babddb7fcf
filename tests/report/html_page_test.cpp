// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>

#include "design/examples.h"
#include "lidwright/design/make_design.h"
#include "lidwright/report/html.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("the report stands alone, says the certified gap and is the same each time", "[slow]") {
  const BoxModel box(ExampleJob("jewellery_casket"));
  DesignOptions options;
  const Design design = MakeDesign(box, options);
  REQUIRE_FALSE(design.hinges.empty());
  const ReportLinks links{{{"hinge.json", "every result"}}, "0.0.0"};
  const std::string page = ReportHtml(design, links);
  CHECK(page.size() < 1'500'000);
  CHECK(page == ReportHtml(design, links));
  const auto has = [&](const std::string& text) { return page.find(text) != std::string::npos; };
  // Nothing is fetched: no address of a network, no script or style from a file.
  CHECK_FALSE(has("src=\"http"));
  CHECK_FALSE(has("href=\"http"));
  CHECK_FALSE(has("<script src"));
  CHECK_FALSE(has("<link rel=\"stylesheet\""));
  CHECK_FALSE(has("url(http"));
  CHECK(has("default-src 'none'"));  // and its own policy forbids it
  CHECK(has("href=\"hinge.json\""));
  for (const char* word : {"ISO 13854", "children", "local codes", "0.0.0"}) {
    INFO(word);
    CHECK(has(word));
  }
  // The answer with its risks first, then what it stands on, in the order of the work.
  std::size_t at = 0;
  for (const char* part : {"swing", "answer", "parts", "marking", "accuracy", "bench", "look",
                           "feel", "proofs", "watch", "job"}) {
    INFO(part);
    const std::size_t found = page.find("<section id=\"" + std::string(part) + "\"");
    REQUIRE(found != std::string::npos);
    CHECK(found > at);
    at = found;
  }
  const auto where = [&](const std::string& text) { return page.find(text); };
  CHECK(where("<ol class=\"risks\"") < where("<section id=\"answer\""));
  CHECK(where("friction included") > where("<section id=\"feel\""));
}

TEST_CASE("a job without a hinge has a report that says what would let one in", "[slow]") {
  const BoxModel box(ExampleJob("sample_chest_tight"));
  Design design;
  design.job = box.job;
  design.solid = box.solid;
  design.plain = MapPlainHinges(box.solid, box.box, box.limits, box.task, 0);
  design.none = NoHinge{"room behind",
                        15.0,
                        "mm",
                        "",
                        false,
                        {},
                        {{"room behind of 75 mm instead of 60 mm", {}}},
                        {}};
  const std::string page = ReportHtml(design, {{}, "0.0.0"});
  CHECK(page.find("oom behind of 75\u00a0mm instead of") != std::string::npos);
}
