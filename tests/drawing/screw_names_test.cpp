// SPDX-License-Identifier: Apache-2.0
// The same name and number for a screw wherever it is drilled for or driven.
#include <catch2/catch.hpp>

#include "cutting/real_sets.h"
#include "lidwright/drawing/jig_sheet.h"
#include "lidwright/drawing/templates.h"

namespace lidwright {

TEST_CASE("templates and jig call each screw by the name and number of steps and list") {
  std::size_t named = 0, over = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    const HingeSet& set = real.set;
    const Job& job = real.design.job;
    const PartsList list = MakePartsList(set.pieces, set.buy, job.inches);
    const auto texts = [](const std::vector<Canvas>& pages) {
      std::string all = "|";
      for (const Canvas& page : pages) {
        for (const PlacedText& text : page.texts()) all += text.text + "|";
      }
      return all;
    };
    const auto has = [](const std::string& all, const std::string& text) {
      return all.find(text) != std::string::npos;
    };
    const std::string templates =
        texts(DrillTemplates(job, real.design.solid, set.pieces, set.bench_work, &list));
    const std::string jig = texts(JigSheets(job, real.design.solid, *set.jig, set.pieces, &list));
    for (const HingePiece& piece : set.pieces) {
      if (piece.kind != PieceKind::kScrew || piece.per_end == 0) continue;
      const std::string screw = piece.name.substr(0, piece.name.find(','));
      const std::string item = std::to_string(ItemOf(list, piece.name));
      INFO(screw << " is part " << item);
      CHECK((has(templates, "|pilot for " + screw + "|" + item + "|") ||
             has(templates, "|hole for " + screw + "|" + item + "|")));
      ++named;
      over += has(jig, "|over " + screw + "|" + item + "|");
    }
    CHECK_FALSE(has(jig, "over a screw"));
    const std::string pin = std::to_string(ItemOf(list, "case pin of arm A"));
    CHECK(has(templates, "|hole for the case pin of arm A|" + pin + "|"));
    CHECK(has(jig, "|case pivot of arm A|" + pin + "|"));
  }
  CHECK(named >= 12);
  CHECK(over >= 6);
}

}  // namespace lidwright
