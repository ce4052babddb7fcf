// SPDX-License-Identifier: Apache-2.0
// Writes the full-size and bench sheets of every example into the folder named on the command line,
// to be measured by other programs, and truth.json with what they should find. Hinges are real
// ones.
#include <cstdio>
#include <fstream>
#include <string>

#include "cutting/real_sets.h"
#include "lidwright/base/numbers.h"
#include "lidwright/cutting/cut_set.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/jig_sheet.h"
#include "lidwright/drawing/list_sheet.h"
#include "lidwright/drawing/nest_sheet.h"
#include "lidwright/drawing/stack_sheet.h"
#include "lidwright/drawing/templates.h"

namespace lidwright {
namespace {

bool WriteFile(const std::string& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file << bytes;
  return static_cast<bool>(file.flush());
}

// Where the round marks of each page stand, in millimetres from its lower left corner.
std::string Listed(const std::string& file, const std::vector<Canvas>& pages) {
  std::string text = "{\"file\": \"" + file + "\", \"pages\": [";
  for (std::size_t i = 0; i < pages.size(); ++i) {
    text += (i > 0 ? ",\n  " : "\n  ");
    text += "{\"width\": " + Exact(pages[i].width_mm()) +
            ", \"height\": " + Exact(pages[i].height_mm()) + ", \"marks\": [";
    bool first = true;
    for (const Canvas::Item& item : pages[i].items()) {
      const auto* disc = std::get_if<Canvas::Disc>(&item);
      if (!disc || disc->name != "mark") continue;
      text += (first ? "" : ", ") + ("[" + Exact(disc->circle.centre.x())) + ", " +
              Exact(disc->circle.centre.y()) + ", " + Exact(disc->circle.radius_mm) + "]";
      first = false;
    }
    text += "]}";
  }
  return text + "]}";
}

bool WriteAll(const std::string& folder) {
  bool written = true;
  std::string truth;
  std::vector<testing::RealSet> sets = testing::RealSets();
  Job inch = sets[0].design.job;  // one box in the other unit too: US Letter
  inch.inches = true;
  inch.shop.paper = "Letter";
  sets.push_back(testing::MakeRealSet("chest_in_inches", inch, sets[0].design.hinges[0].pivots));
  for (const testing::RealSet& real : sets) {
    const Job& job = real.design.job;
    const HingeSet& set = real.set;
    const CutWish wish = CutWishFor(job);
    const CutSet cut = MakeCutSet(set.pieces, wish);
    const PartsList list = MakePartsList(set.pieces, set.buy, job.inches, &cut);
    const std::pair<const char*, std::vector<Canvas>> documents[] = {
        {"templates", DrillTemplates(job, real.design.solid, set.pieces, set.bench_work)},
        {"trial", PaperTrial(real.design, real.design.hinges[0], set.pieces)},
        {"jig", set.jig ? JigSheets(job, real.design.solid, *set.jig) : std::vector<Canvas>()},
        {"stack", StackSheets(job, real.design.solid, set.pieces)},
        {"nest", NestSheets(job, cut)},
        {"parts", PartsSheets(job, list)}};
    for (const auto& [name, pages] : documents) {
      const std::string file = std::string(name) + "-" + real.name;
      if (pages.empty()) {
        std::fprintf(stderr, "%s has no pages\n", file.c_str());
        return false;
      }
      truth += (truth.empty() ? "" : ",\n") + Listed(file, pages);
      written = WriteFile(folder + "/" + file + ".pdf", WritePdf(pages)) && written;
    }
    written = WriteFile(folder + "/parts-" + real.name + ".csv", PartsListCsv(list, job.inches)) &&
              written;
  }
  return WriteFile(folder + "/truth.json", "[" + truth + "]\n") && written;
}

}  // namespace
}  // namespace lidwright

int main(int argc, char** argv) {
  if (argc != 2) {
    std::fprintf(stderr, "usage: write_bench_samples FOLDER\n");
    return 2;
  }
  return lidwright::WriteAll(argv[1]) ? 0 : 1;
}
