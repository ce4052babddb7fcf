// SPDX-License-Identifier: Apache-2.0
// Writes every sample as DXF and SVG into the folder named on the command line, with truth.json:
// what a reader must find in them. The truth comes from the model by halving arcs, not from the
// code that writes.
#include <cstdio>
#include <fstream>
#include <string>

#include "lidwright/base/numbers.h"
#include "lidwright/cutting/dxf.h"
#include "lidwright/cutting/svg.h"
#include "samples.h"

namespace lidwright {
namespace {

std::string Point(const Vec2& p) {
  return "[" + Exact(p.x()) + "," + Exact(p.y()) + "]";
}

template <typename List, typename Write>
std::string Listed(const List& list, Write write) {
  std::string text;
  for (const auto& item : list) text += (text.empty() ? "" : ",") + write(item);
  return "[" + text + "]";
}

std::string Truth(const CutPart& part) {
  const auto circle = [](const Circle& c) {
    return "[" + Exact(c.centre.x()) + "," + Exact(c.centre.y()) + "," + Exact(c.radius_mm) + "]";
  };
  // 2^14 chords an arc: the area lacks less than 1e-8 of itself, the box less than 1e-6 mm.
  const Ring fine = testing::HalvedRing(part.outline, 14);
  return "{\"area\":" + Exact(SignedArea(fine)) +
         ",\"vertices\":" + std::to_string(part.outline.vertices.size()) +
         ",\"low\":" + Point(Bounds(fine).low) + ",\"high\":" + Point(Bounds(fine).high) +
         ",\"on_curve\":" + Listed(testing::HalvedRing(part.outline, 3), Point) +
         ",\"holes\":" + Listed(part.holes, circle) +
         ",\"drill_marks\":" + Listed(part.drill_marks, circle) + "}";
}

bool WriteFile(const std::string& path, const std::string& text) {
  std::ofstream file(path, std::ios::binary);
  file << text;
  return static_cast<bool>(file.flush());
}

int WriteAll(const std::string& folder) {
  bool written = true;
  const std::string truth = Listed(testing::Samples(), [&](const testing::Sample& sample) {
    written = WriteFile(folder + "/" + sample.name + ".dxf", WriteDxf(sample.parts)) && written;
    written = WriteFile(folder + "/" + sample.name + ".svg", WriteCutSvg(sample.parts)) && written;
    return "\n{\"name\":\"" + sample.name + "\",\"parts\":" + Listed(sample.parts, Truth) + "}";
  });
  written = WriteFile(folder + "/truth.json", truth + "\n") && written;
  return written ? 0 : 1;
}

}  // namespace
}  // namespace lidwright

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: write_samples FOLDER\n");
    return 2;
  }
  return lidwright::WriteAll(argv[1]);
}
