// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/nest.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <ctime>
#include <random>

#include "../geometry/random_outline.h"
#include "geos_shape.h"
#include "lidwright/cutting/cut_set.h"
#include "made_up_pieces.h"
#include "real_sets.h"

namespace lidwright {
namespace {

using testing::GeosShape;

// Every piece of an example, both hands, as if all were cut from one sheet.
std::vector<NestPart> PartsOf(const testing::Example& example, bool grain) {
  std::vector<NestPart> parts;
  for (const HingePiece& piece : testing::MadeUpPieces(testing::MakeDesign(example))) {
    if (!piece.cut_from_sheet) continue;
    for (const Hand hand : {Hand::kLeft, Hand::kRight}) {
      if (hand == Hand::kRight && piece.kind == PieceKind::kJig) continue;
      NestPart part{CutPiece(piece, hand), std::nullopt};
      if (grain) part.grain = Vec2(0.6, 0.8);
      parts.push_back(part);
    }
  }
  return parts;
}

Ring Fine(const Outline& outline) {
  return Flatten(outline, 1e-3);  // chords inside: true gaps are less by up to twice that
}

// Judged by GEOS: within the margins, spacing kept, each part there once and as large as it was.
void CheckNest(const std::vector<NestPart>& parts, const Stock& stock, const Nest& nest) {
  std::vector<int> seen(parts.size(), 0);
  for (const Placement& placement : nest.placements) ++seen[placement.part];
  CHECK(std::count(seen.begin(), seen.end(), 1) ==
        static_cast<std::ptrdiff_t>(parts.size() - nest.faults.size()));
  for (int sheet = 0; sheet < nest.sheets; ++sheet) {
    const std::vector<CutPart> laid = OnSheet(parts, nest, sheet);
    REQUIRE(!laid.empty());
    std::vector<std::unique_ptr<GeosShape>> shapes;
    for (const CutPart& part : laid) {
      const Ring ring = Fine(part.outline);
      const Rect2 box = Bounds(ring);
      CHECK(box.low.minCoeff() >= stock.margin_mm - 1e-9);
      CHECK(box.high.x() <= stock.width_mm - stock.margin_mm + 1e-9);
      CHECK(box.high.y() <= stock.height_mm - stock.margin_mm + 1e-9);
      const Rect2& used = nest.used[static_cast<std::size_t>(sheet)];
      CHECK(((used.high - box.high).array() >= -1e-9).all());
      shapes.push_back(std::make_unique<GeosShape>(ring));
    }
    for (std::size_t i = 0; i < shapes.size(); ++i) {
      for (std::size_t k = 0; k < i; ++k) {
        CHECK(shapes[i]->DistanceTo(*shapes[k]) >= stock.spacing_mm);
      }
    }
  }
  for (const Placement& placement : nest.placements) {
    const Outline& outline = parts[placement.part].part.outline;
    CHECK(SignedArea(Moved(outline, placement.pose)) == Approx(SignedArea(outline)));
  }
}

// A slow nester that shares nothing with the one under test: bitmaps of GEOS-free point tests on a
// grid, every place tried one by one, random orders and turns, kept: the best box. Its cells count
// by their centres only, so it may cheat by up to a cell: that makes the comparison harder.
double BruteArea(const std::vector<NestPart>& parts, const Stock& stock, int layouts, double cell) {
  std::mt19937 random(7);
  struct Bitmap {
    int w = 0, h = 0;
    std::vector<std::pair<int, int>> cells;
  };
  std::vector<std::vector<Bitmap>> bitmaps;
  const double pad = stock.spacing_mm / 2.0;
  for (const NestPart& part : parts) {
    bitmaps.emplace_back();
    const double lying = LyingAngle(part.part.outline);
    for (int k = 0; k < 4; ++k) {
      const Ring ring =
          Moved(Flatten(part.part.outline, 0.05), Pose::Make(lying + k * kPi / 2.0, Vec2::Zero()));
      const Rect2 box = Bounds(ring);
      Bitmap map;
      map.w = static_cast<int>(std::ceil((box.high.x() - box.low.x() + 2.0 * pad) / cell));
      map.h = static_cast<int>(std::ceil((box.high.y() - box.low.y() + 2.0 * pad) / cell));
      for (int y = 0; y < map.h; ++y) {
        for (int x = 0; x < map.w; ++x) {
          const Vec2 p = box.low - Vec2(pad, pad) + cell * Vec2(x + 0.5, y + 0.5);
          if (SignedDistance({ring}, p) <= pad) map.cells.push_back({x, y});
        }
      }
      std::shuffle(map.cells.begin(), map.cells.end(), random);  // a clash shows sooner
      bitmaps.back().push_back(map);
    }
  }
  const int width = static_cast<int>((stock.width_mm - 2.0 * stock.margin_mm) / cell);
  const int height = static_cast<int>((stock.height_mm - 2.0 * stock.margin_mm) / cell);
  double best = 1e300;
  std::vector<std::size_t> order(parts.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return bitmaps[a][0].cells.size() > bitmaps[b][0].cells.size();
  });
  for (int layout = 0; layout < layouts; ++layout) {
    std::vector<char> sheet(static_cast<std::size_t>(width * height), 0);
    int used_w = 0, used_h = 0;
    for (const std::size_t part : order) {
      double cost = 1e300;
      int at_x = -1, at_y = -1;
      const Bitmap* at_map = nullptr;
      for (const Bitmap& map : bitmaps[part]) {
        for (int y = 0; y + map.h <= height; ++y) {
          for (int x = 0; x + map.w <= width; ++x) {
            const double grown =
                static_cast<double>(std::max(used_w, x + map.w)) * std::max(used_h, y + map.h) +
                1e-3 * (x + y);
            if (grown >= cost) continue;
            const bool free =
                std::none_of(map.cells.begin(), map.cells.end(), [&](const std::pair<int, int>& c) {
                  return sheet[static_cast<std::size_t>((y + c.second) * width + x + c.first)];
                });
            if (!free) continue;
            cost = grown;
            at_x = x;
            at_y = y;
            at_map = &map;
          }
        }
      }
      if (!at_map) {
        used_w = used_h = 1 << 14;  // does not fit in this order
        break;
      }
      for (const auto& [x, y] : at_map->cells) {
        sheet[static_cast<std::size_t>((at_y + y) * width + at_x + x)] = 1;
      }
      used_w = std::max(used_w, at_x + at_map->w);
      used_h = std::max(used_h, at_y + at_map->h);
    }
    best = std::min(best, (used_w * cell - 2.0 * pad) * (used_h * cell - 2.0 * pad));
    std::swap(order[random() % order.size()], order[random() % order.size()]);
    if (layout % 3 == 2) std::shuffle(order.begin(), order.end(), random);
  }
  return best;
}

TEST_CASE("nested parts lie apart and within the margins, says GEOS") {
  std::size_t nests = 0;
  for (const testing::Example& example : testing::Examples()) {
    for (const bool grain : {false, true}) {
      for (const double spacing : {0.0, 2.5, 6.0}) {
        const std::vector<NestPart> parts = PartsOf(example, grain);
        const Stock stock{420.0, 300.0, 5.0, spacing, false};
        const Nest nest = NestParts(parts, stock);
        INFO(example.name << " spacing " << spacing);
        CHECK(nest.faults.empty());
        CheckNest(parts, stock, nest);
        for (const Placement& placement : nest.placements) {
          if (!grain) break;
          const Vec2 along = placement.pose.Turn(*parts[placement.part].grain);
          CHECK(std::abs(along.y()) < 1e-9);
        }
        ++nests;
      }
    }
  }
  CHECK(nests == 24);
}

TEST_CASE("random parts of lines and arcs nest as well, on several sheets") {
  testing::Dice dice(3);
  for (int round = 0; round < 6; ++round) {
    std::vector<NestPart> parts;
    for (int i = 0; i < 14; ++i) {
      CutPart part;
      part.name = "part " + std::to_string(i);
      part.outline = testing::RandomOutline(dice, {dice.Uniform(-90, 90), dice.Uniform(-90, 90)});
      parts.push_back({part, std::nullopt});
    }
    const Stock stock{120.0, 90.0, 3.0, dice.Uniform(0.0, 5.0), false};
    const Nest nest = NestParts(parts, stock);
    CHECK(nest.sheets >= 1);
    CheckNest(parts, stock, nest);
  }
}

TEST_CASE("the nest is within 10 % of what slower nesters find") {
  for (const testing::Example& example : testing::Examples()) {
    INFO(example.name);
    const std::vector<NestPart> parts = PartsOf(example, false);
    const Stock stock{400.0, 300.0, 5.0, 6.0, false};
    const double area = NestParts(parts, stock).UsedArea_mm2();
    NestOptions thorough;
    thorough.layouts = 1000;
    thorough.turns = 12;
    thorough.cell_mm = 0.4;
    thorough.seed = 99;
    const double slow = NestParts(parts, stock, thorough).UsedArea_mm2();
    const double brute = BruteArea(parts, stock, 15, 2.0);
    CAPTURE(area, slow, brute);
    CHECK(area <= 1.10 * slow);
    CHECK(area <= 1.10 * brute);
    CHECK(brute < 1.5 * slow);  // the other nester is worth comparing with
  }
}

TEST_CASE("a real hinge is nested within 10 % of what a slower nester of another make finds") {
  std::size_t nests = 0;
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    std::vector<NestPart> all;
    const CutSet set = MakeCutSet(real.set.pieces, CutWishFor(real.design.job));
    CHECK(set.faults.empty());
    for (const CutGroup& group : set.groups) {
      CheckNest(group.parts, group.stock, group.nest);
      for (const NestPart& part : group.parts) all.push_back({part.part, std::nullopt});
    }
    const Stock stock = set.groups[0].stock;
    const Nest nest = NestParts(all, stock);
    CheckNest(all, stock, nest);
    double material = 0.0;
    for (const NestPart& part : all) material += SignedArea(part.part.outline);
    const double area = nest.UsedArea_mm2(), brute = BruteArea(all, stock, 15, 2.0);
    CAPTURE(area, brute, material);
    CHECK(area <= 1.10 * brute);
    CHECK(area > material);
    ++nests;
  }
  CHECK(nests == 4);
}

// A rectangle sawn by straight cuts from edge to edge: its own size is a nest that is known.
void Saw(testing::Dice& dice, const Vec2& size, double kerf, int parts, std::vector<Vec2>& out) {
  if (parts == 1) {
    out.push_back(size);
    return;
  }
  const int first = dice.Whole(1, parts - 1), along = size.x() > size.y() ? 0 : 1;
  // In the ratio of the parts that each side is sawn into.
  const double share = static_cast<double>(first) / parts * dice.Uniform(0.9, 1.1);
  Vec2 a = size, b = size;
  a[along] = share * (size[along] - kerf);
  b[along] = size[along] - kerf - a[along];
  Saw(dice, a, kerf, first, out);
  Saw(dice, b, kerf, parts - first, out);
}

TEST_CASE("a rectangle sawn into pieces is put together again on at most 10 % more") {
  testing::Dice dice(21);
  for (int round = 0; round < 8; ++round) {
    const double kerf = dice.Uniform(2.0, 6.0);
    const Vec2 whole(dice.Uniform(150, 250), dice.Uniform(80, 140));
    std::vector<Vec2> sizes;
    Saw(dice, whole, kerf, 6, sizes);
    std::vector<NestPart> parts;
    for (const Vec2& s : sizes) {
      const Outline box{{{{0, 0}, 0}, {{s.x(), 0}, 0}, {s, 0}, {{0, s.y()}, 0}}};
      parts.push_back(
          {{"piece", Moved(box, Pose::Make(dice.Uniform(0, 6), {3, 4})), {}, {}}, std::nullopt});
    }
    const Stock stock{600.0, 300.0, 5.0, kerf, false};
    const Nest nest = NestParts(parts, stock);
    CheckNest(parts, stock, nest);
    INFO("round " << round << ": " << nest.UsedArea_mm2() / whole.prod());
    CHECK(nest.UsedArea_mm2() <= 1.10 * whole.prod());
  }
}

TEST_CASE("the whole set of every example is nested in half a second of one core") {
  for (const testing::Example& example : testing::Examples()) {
    const auto pieces = testing::MadeUpPieces(testing::MakeDesign(example));
    const std::clock_t start = std::clock();
    const CutSet set = MakeCutSet(pieces, {});
    const Nest together = NestParts(PartsOf(example, false), {});  // harder: one sheet for all
    const double seconds = static_cast<double>(std::clock() - start) / CLOCKS_PER_SEC;
    INFO(example.name << ": " << seconds << " s");
    CHECK(seconds <= 0.5);
    CHECK(set.groups.size() >= 3);
    CHECK(together.placements.size() == 9);
  }
}

TEST_CASE("a part larger than its sheet is named with what would fit, the others are nested") {
  const Outline plank{{{{0, 0}, 0}, {{200, 0}, 0}, {{200, 20}, 0}, {{0, 20}, 0}}};
  const Outline chip{{{{0, 0}, 0}, {{10, 0}, 0}, {{10, 10}, 0}, {{0, 10}, 0}}};
  const std::vector<NestPart> parts{{{"plank", plank, {}, {}}, std::nullopt},
                                    {{"chip", chip, {}, {}}, std::nullopt}};
  const Nest nest = NestParts(parts, {150.0, 100.0, 5.0, 3.0, false});
  REQUIRE(nest.faults.size() == 1);
  CHECK(nest.faults[0].what ==
        "plank: is 200 mm by 20 mm as it would lie best, too large for a sheet of 150 mm by 100 mm "
        "with margins of 5 mm; a sheet of 210 mm by 100 mm fits");
  CHECK(nest.faults[0].found_mm == 150.0);
  CHECK(nest.faults[0].needed_mm == Approx(210.0));
  REQUIRE(nest.placements.size() == 1);
  CHECK(nest.placements[0].part == 1);
  CHECK(NestParts(parts, {210.0, 100.0, 5.0, 3.0, false}).faults.empty());
  CHECK(NestParts(parts, {209.0, 100.0, 5.0, 3.0, false}).faults.size() == 1);
}

TEST_CASE("the same parts and seed give the same nest") {
  const std::vector<NestPart> parts = PartsOf(testing::Examples()[0], false);
  const Stock stock;
  const Nest a = NestParts(parts, stock), b = NestParts(parts, stock);
  REQUIRE(a.placements.size() == b.placements.size());
  for (std::size_t i = 0; i < a.placements.size(); ++i) {
    CHECK(a.placements[i].pose.origin == b.placements[i].pose.origin);
    CHECK(a.placements[i].pose.cosine == b.placements[i].pose.cosine);
  }
}

}  // namespace
}  // namespace lidwright
