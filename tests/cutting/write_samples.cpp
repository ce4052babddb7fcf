// SPDX-License-Identifier: Apache-2.0
// Writes every sample as DXF and SVG into the folder named on the command line, with truth.json:
// what a reader must find in them. The truth comes from the model by halving arcs, not from the
// code that writes.
#include <cstdio>
#include <fstream>
#include <string>
#include <tuple>

#include "lidwright/base/numbers.h"
#include "lidwright/cutting/cut_set.h"
#include "lidwright/cutting/dxf.h"
#include "lidwright/cutting/svg.h"
#include "real_sets.h"
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

// The samples, and of whole hinges every part and every nested sheet.
struct Wanted {
  std::vector<testing::Sample> samples;
  std::vector<std::string> nests;    // name, spacing
  std::vector<std::string> mirrors;  // names of a left and a right part
  std::vector<std::string> pitches;  // name, distance between its two holes
};

std::string Quoted(const std::string& text) {
  return "\"" + text + "\"";
}

void AddHinge(const testing::RealSet& real, Wanted& wanted) {
  const CutWish wish = CutWishFor(real.design.job);
  const CutSet set = MakeCutSet(real.set.pieces, wish);
  const Pivots& p = real.design.hinges[0].pivots;
  int sheets = 0, count = 0;
  for (const CutGroup& group : set.groups) {
    std::string left;
    for (const NestPart& part : group.parts) {
      const std::string name = real.name + "_part_" + std::to_string(++count);
      const std::string& called = part.part.name;
      wanted.samples.push_back({name, {part.part}});
      if (called.find(", right") != std::string::npos) {
        wanted.mirrors.push_back("[" + Quoted(left) + "," + Quoted(name) + "]");
      }
      left = name;
      for (const auto& [arm, from, to] :
           {std::tuple("arm A", p.case_a, p.lid_a), {"arm B", p.case_b, p.lid_b}}) {
        if (called.rfind(arm, 0) == 0) {
          wanted.pitches.push_back("[" + Quoted(name) + "," + Exact((to - from).norm()) + "]");
        }
      }
    }
    for (int sheet = 0; sheet < group.nest.sheets; ++sheet) {
      const std::string name = "nest_" + real.name + "_" + std::to_string(++sheets);
      wanted.samples.push_back({name, OnSheet(group.parts, group.nest, sheet)});
      wanted.nests.push_back("[" + Quoted(name) + "," + Exact(group.stock.spacing_mm) + "]");
    }
  }
}

// Cutter paths with tabs: what is left of their length comes from the part by Steiner's formula.
bool WritePaths(const std::string& folder) {
  bool written = true;
  std::vector<std::string> truth;
  for (const testing::Sample& sample : testing::Samples()) {
    for (const CutPart& part : sample.parts) {
      std::vector<CutFault> faults;
      const PathWish wish{2.0, 3, 3.0, 0.5};
      const std::optional<CutPart> path = CutterPath(part, wish, false, &faults);
      if (!path) continue;
      const std::string name = "path_" + std::to_string(truth.size());
      const double length = Length(part.outline) + kPi * wish.cutter_mm;
      truth.push_back("{\"name\":\"" + name + "\",\"runs\":" + std::to_string(wish.tabs) +
                      ",\"gap\":" + Exact(wish.tab_mm + wish.cutter_mm) +
                      ",\"length\":" + Exact(length) + "}");
      written = WriteFile(folder + "/" + name + ".dxf", WriteDxf({*path})) && written;
      written = WriteFile(folder + "/" + name + ".svg", WriteCutSvg({*path})) && written;
    }
  }
  const auto same = [](const std::string& text) { return text; };
  return WriteFile(folder + "/paths.json", Listed(truth, same) + "\n") && written;
}

int WriteAll(const std::string& folder) {
  bool written = WritePaths(folder);
  Wanted wanted;
  wanted.samples = testing::Samples();
  for (const testing::RealSet& real : testing::RealSets()) AddHinge(real, wanted);
  const std::string truth = Listed(wanted.samples, [&](const testing::Sample& sample) {
    written = WriteFile(folder + "/" + sample.name + ".dxf", WriteDxf(sample.parts)) && written;
    written = WriteFile(folder + "/" + sample.name + ".svg", WriteCutSvg(sample.parts)) && written;
    return "\n{\"name\":\"" + sample.name + "\",\"parts\":" + Listed(sample.parts, Truth) + "}";
  });
  const auto same = [](const std::string& text) { return text; };
  written = WriteFile(folder + "/truth.json", truth + "\n") && written;
  written = WriteFile(folder + "/hinges.json",
                      "{\"nests\":" + Listed(wanted.nests, same) +
                          ",\n\"mirrors\":" + Listed(wanted.mirrors, same) +
                          ",\n\"pitches\":" + Listed(wanted.pitches, same) + "}\n") &&
            written;
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
