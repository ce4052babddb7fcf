// SPDX-License-Identifier: Apache-2.0
// Every limit that the README states, from both sides: what keeps it gets on, what goes beyond is
// refused with the limit.
#include <catch2/catch.hpp>
#include <cmath>
#include <string>

#include "app/scratch_folder.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/job/job_limits.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/read_pivots.h"
#include "lidwright/trace/mesh.h"
#include "places.h"
#include "trace/trace_text.h"

namespace lidwright {
namespace {

std::string Repeated(const std::string& what, std::size_t times) {
  std::string text;
  text.reserve(what.size() * times);
  for (std::size_t i = 0; i < times; ++i) text += what;
  return text;
}

std::string JobSays(const std::string& text) {
  const Problems problems = ReadJob(text, "job.json").problems;
  return problems.empty() ? "" : Describe(problems[0]);
}

std::string DxfSays(const std::string& text) {
  std::string said;
  for (const Problem& problem : TraceDxf(text, {}).problems) said += Describe(problem) + "\n";
  return said;
}

std::string SvgSays(const std::string& elements) {
  std::string said;
  for (const Problem& problem : TraceSvg(SvgSheet(elements), {}).problems) {
    said += Describe(problem) + "\n";
  }
  return said;
}

// What is said goes beyond the limit, and not what keeps it.
void Check(const std::string& words, const std::string& within, const std::string& beyond) {
  INFO(words << "\nwithin: " << within.substr(0, 300) << "\nbeyond: " << beyond.substr(0, 300));
  CHECK(within.find(words) == std::string::npos);
  CHECK(beyond.find(words) != std::string::npos);
}

std::string Blocks(int deep) {
  std::string text = "0 SECTION|2 HEADER|9 $INSUNITS|70 4|0 ENDSEC|0 SECTION|2 BLOCKS|";
  for (int i = 0; i < deep; ++i) {
    text += "0 BLOCK|2 b" + std::to_string(i) + "|10 0|20 0|";
    if (i > 0) text += "0 INSERT|2 b" + std::to_string(i - 1) + "|10 0|20 0|";
    text += "0 ENDBLK|";
  }
  return DxfGroups(text + "0 ENDSEC|0 SECTION|2 ENTITIES|0 INSERT|2 b" + std::to_string(deep - 1) +
                   "|10 0|20 0|0 ENDSEC|0 EOF");
}

// A block of so many empty texts, inserted in so many rows of a thousand.
std::string ManyTexts(std::size_t texts, int rows) {
  return DxfGroups(
      "0 SECTION|2 HEADER|9 $INSUNITS|70 4|0 ENDSEC|0 SECTION|2 BLOCKS|"
      "0 BLOCK|2 b|10 0|20 0|" +
      Repeated("0 TEXT|", texts) +
      "0 ENDBLK|0 ENDSEC|0 SECTION|2 ENTITIES|0 INSERT|2 b|10 0|20 0|70 1000|71 " +
      std::to_string(rows) + "|0 ENDSEC|0 EOF");
}

}  // namespace

TEST_CASE("limits of a job and a hinge are kept from both sides", "[limits]") {
  const auto deep = [](std::size_t lists) {
    return "{\"a\": " + Repeated("[", lists - 1) + Repeated("]", lists - 1) + "}";
  };
  Check("more than 64 deep", JobSays(deep(kDeepestJob)), JobSays(deep(kDeepestJob + 1)));
  const auto values = [](std::size_t count) {
    return "{\"a\": [" + Repeated("1,", count - 3) + "1]}";
  };
  Check("values", JobSays(values(kMostJobValues)), JobSays(values(kMostJobValues + 1)));
  const auto bytes = [](std::size_t count) { return "{}" + std::string(count - 2, ' '); };
  Check("larger than 8 MiB", JobSays(bytes(kLargestJob_bytes)),
        JobSays(bytes(kLargestJob_bytes + 1)));
  const auto vertices = [](std::size_t count) {
    std::string points;
    for (std::size_t i = 0; i < count; ++i) {
      const double turn = 6.283185307179586 * static_cast<double>(i) / static_cast<double>(count);
      points += (i > 0 ? ",[" : "[") + std::to_string(50 + 40 * std::cos(turn)) + "," +
                std::to_string(40 * std::sin(turn)) + "]";
    }
    const std::string text =
        R"({"units":"mm","pivots":{"case_a":[31,-15],"case_b":[48,-38],"lid_a":[74,-6],)"
        R"("lid_b":[172,-40]},"arms":{"a":{"layer":0,"outline":[)" +
        points + R"(]},"b":{"layer":1,"outline":[[0,0],[9,0],[9,9]]}}})";
    const Problems problems = ReadPivots(text, "hinge.json").problems;
    return problems.empty() ? std::string() : Describe(problems[0]);
  };
  Check(std::to_string(kMostArmVertices), vertices(kMostArmVertices),
        vertices(kMostArmVertices + 1));
}

TEST_CASE("limits of a job's lists are kept from both sides", "[limits]") {
  const auto says = [](const std::string& list, const std::string& entry, std::size_t count) {
    std::string text = R"({"units":"mm","case":{"width":340,"depth":220,"height":120,"wall":12},)"
                       R"("lid":{"rim":14,"crown":38},)";
    text += "\"" + list + "\":[" + Repeated(entry + ",", count - 1) + entry + "]}";
    std::string said;
    for (const Problem& problem : ReadJob(text, "job.json").problems) {
      said += Describe(problem) + "\n";
    }
    return said;
  };
  const auto check = [&](const std::string& list, const std::string& entry, std::size_t most) {
    Check("has " + std::to_string(most + 1) + " entries, the most are " + std::to_string(most),
          says(list, entry, most), says(list, entry, most + 1));
  };
  check("stations", R"({"z":0})", kMostStations);
  check("contents", R"({"back":20,"front":40,"height":30})", kMostContents);
  check("poses", R"({"angle_deg":20,"at":[0,9],"point":[0,0]})", kMostPoses);
  // As many as are allowed are no fault.
  CHECK(says("contents", R"({"back":20,"front":40,"height":30})", kMostContents).empty());
}

TEST_CASE("limits of a drawing are kept from both sides", "[limits]") {
  Check("more than 16 blocks within each other", DxfSays(Blocks(16)), DxfSays(Blocks(17)));
  Check("more than 100000 blocks inserted", DxfSays(ManyTexts(1, 100)), DxfSays(ManyTexts(1, 101)));
  // What the reader walks over: 1000 rows of so many blocks with so many texts, and the INSERT.
  Check("with all its blocks carried out the drawing has more than 20000000 values",
        DxfSays(ManyTexts(19999, 1)), DxfSays(ManyTexts(20000, 1)));
  const auto deep = [](std::size_t groups) {
    return SvgSays(kCaseLine + Repeated("<g>", groups) + "<path d=\"M0 0\"/>" +
                   Repeated("</g>", groups));
  };
  Check("more than 64 elements within each other", deep(64), deep(65));
  const auto uses = [](std::size_t count) {
    return SvgSays(kCaseLine + "<defs><g id=\"t\">" + Repeated("<text/>", 999) + "</g></defs>" +
                   Repeated("<use href=\"#t\"/>", count));
  };
  Check("more than 500000 elements", uses(499), uses(500));
  const auto curves = [](std::size_t count) {
    return SvgSays("<path d=\"M0 0" + Repeated("h1", count) + "\"/>\n");
  };
  Check("more than 200000 curves", curves(kMostCurves), curves(kMostCurves + 1));
}

TEST_CASE("limits of a mesh are kept from both sides", "[limits]") {
  const auto says = [](std::size_t facets) {
    std::string bytes(84 + 50 * facets, '\0');
    const auto count = static_cast<std::uint32_t>(facets);
    for (int k = 0; k < 4; ++k)
      bytes[80 + static_cast<std::size_t>(k)] = static_cast<char>(count >> 8 * k);
    const Problems problems = ReadStl(bytes, "mesh.stl").problems;
    return problems.empty() ? std::string() : Describe(problems[0]);
  };
  Check("too many facets, the most are 2000000", says(kMostFacets), says(kMostFacets + 1));
}

TEST_CASE("the README states the limits that are kept", "[limits]") {
  const std::string readme = testing::TextOf(testing::SourceFolder() + "/examples/README.md");
  const std::size_t at = readme.find("\n## Limits\n");
  REQUIRE(at != std::string::npos);
  const std::string limits = readme.substr(at, readme.find("\n## ", at + 5) - at);
  for (const char* words :
       {"8 MiB", "1 000 000 values", "64 lists", "600 stations", "100 contents", "20 poses",
        "4 000 points", "1 000 vertices", "64 MiB", "200 000 curves", "100 000 blocks", "16 blocks",
        "20 000 000 values", "500 000 elements", "64 elements", "256 MiB", "2 000 000 facets"}) {
    INFO(words);
    CHECK(limits.find(words) != std::string::npos);
  }
  CHECK(kLargestJob_bytes == 8u << 20);
  CHECK(kLargestDrawing_bytes == 64u << 20);
  CHECK(kLargestMesh_bytes == 256u << 20);
  CHECK(kMostOutlinePoints == 4000);
}

}  // namespace lidwright
