// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/nest.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>

#include "cutting/nest_shapes.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

struct Spot {
  std::size_t part = 0, shape = 0;
  int sheet = 0;
  int x = 0, y = 0;  // cells, of the shape's box from the corner of the margins
};

// How a layout is made: which part comes when, and how wide it may become.
struct Recipe {
  std::vector<std::size_t> order;
  double width_share = 1.0;  // of the sheet's width
};

struct Layout {
  std::vector<Spot> spots;
  int sheets = 0;
  double area_mm2 = 0.0;  // of the used boxes

  bool BetterThan(const Layout& other) const {
    return sheets != other.sheets ? sheets < other.sheets : area_mm2 < other.area_mm2;
  }
};

// Uniform below n, the same on every machine (std's distributions are not).
std::size_t Below(std::mt19937& random, std::size_t n) {
  return static_cast<std::size_t>(random()) % n;
}

class Nester {
 public:
  Nester(const std::vector<NestPart>& parts, const Stock& stock, const NestOptions& options)
      : options_(options),
        room_(Vec2(stock.width_mm, stock.height_mm) - Vec2::Constant(2.0 * stock.margin_mm)),
        shapes_(parts, stock, options),
        random_(options.seed) {
    for (std::size_t i = 0; i < parts.size(); ++i) {
      if (!shapes_.WaysOf(i).empty()) placeable_.push_back(i);
    }
  }

  NestShapes& shapes() { return shapes_; }

  Layout Best() {
    Layout best;
    if (placeable_.empty()) return best;
    Recipe recipe{placeable_, 1.0};
    std::vector<Recipe> tried = FirstRecipes();
    best.sheets = std::numeric_limits<int>::max();
    for (int i = 0; i < options_.layouts; ++i) {
      const bool first = static_cast<std::size_t>(i) < tried.size();
      const Recipe next = first ? tried[static_cast<std::size_t>(i)] : Changed(recipe);
      const Layout layout = Lay(next);
      if (!layout.BetterThan(best)) continue;
      best = layout;
      recipe = next;
    }
    return best;
  }

 private:
  Vec2 BoxOf(std::size_t part) const {
    const Rect2& box = shapes_.Shape(shapes_.WaysOf(part)[0]).box;
    return box.high - box.low;
  }

  std::vector<Recipe> FirstRecipes() const {
    std::vector<Recipe> recipes;
    const auto sorted = [&](auto size) {
      std::vector<std::size_t> order = placeable_;
      std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return size(BoxOf(a)) > size(BoxOf(b));
      });
      return order;
    };
    const auto by_area = sorted([](const Vec2& s) { return s.x() * s.y(); });
    const auto by_length = sorted([](const Vec2& s) { return s.maxCoeff(); });
    const auto by_width = sorted([](const Vec2& s) { return s.minCoeff(); });
    for (const double share : {1.0, 0.8, 0.65, 0.5, 0.4, 0.3}) {
      for (const auto& order : {by_area, by_length, by_width}) recipes.push_back({order, share});
    }
    return recipes;
  }

  // Two parts change places, or one moves to the front; sometimes another width.
  Recipe Changed(Recipe recipe) {
    const std::size_t n = recipe.order.size();
    const std::size_t i = Below(random_, n), j = Below(random_, n);
    const std::size_t what = Below(random_, 4);
    if (what == 0) {
      recipe.width_share = 0.2 + 0.8 * static_cast<double>(Below(random_, 1001)) / 1000.0;
    }
    const auto begin = recipe.order.begin();
    if (what == 1) {
      std::rotate(begin, begin + static_cast<std::ptrdiff_t>(i),
                  begin + static_cast<std::ptrdiff_t>(i) + 1);
    } else {
      std::swap(recipe.order[i], recipe.order[j]);
    }
    return recipe;
  }

  Layout Lay(const Recipe& recipe) {
    Layout layout;
    std::vector<Vec2> used;  // box of each sheet
    for (const std::size_t part : recipe.order) {
      Spot best;
      Vec2 best_used = Vec2::Zero();
      bool placed = false;
      for (int sheet = 0; !placed; ++sheet) {
        if (sheet == layout.sheets) {
          ++layout.sheets;
          used.push_back(Vec2::Zero());
        }
        double best_cost = std::numeric_limits<double>::infinity();
        const Vec2 before = used[static_cast<std::size_t>(sheet)];
        for (const std::size_t shape : shapes_.WaysOf(part)) {
          Try(layout.spots, {part, shape, sheet, 0, 0}, before, recipe.width_share, &best_cost,
              &best, &best_used);
        }
        placed = best_cost < std::numeric_limits<double>::infinity();
        if (placed) used[static_cast<std::size_t>(sheet)] = best_used;
      }
      layout.spots.push_back(best);
    }
    for (const Vec2& box : used) layout.area_mm2 += box.x() * box.y();
    return layout;
  }

  // The best place of a shape on a sheet, if it is better than what was found so far: the one that
  // makes the used box grow least, of these the lowest, of these the leftmost. In each row of
  // offsets only the leftmost free place can be it.
  void Try(const std::vector<Spot>& spots, Spot spot, const Vec2& before, double width_share,
           double* best_cost, Spot* best, Vec2* best_used) {
    const NestShape& shape = shapes_.Shape(spot.shape);
    const double cell = shapes_.cell_mm();
    const Vec2 size = shape.box.high - shape.box.low;
    const int top = static_cast<int>(std::max(0.0, (room_.y() - size.y()) / cell + 1e-9));
    const double limit = std::max({width_share * room_.x(), size.x(), before.x()});
    const double width = std::min(room_.x(), limit);
    const int right = static_cast<int>(std::max(0.0, (width - size.x()) / cell + 1e-9));
    near_.clear();
    for (const Spot& other : spots) {
      if (other.sheet == spot.sheet) {
        near_.push_back({&shapes_.Between(other.shape, spot.shape), other.x, other.y});
      }
    }
    for (int y = 0; y <= top; ++y) {
      const double height = std::max(before.y(), y * cell + size.y());
      if (Cost({std::max(before.x(), size.x()), height}, 0, y) >= *best_cost) {
        if (y * cell + size.y() > before.y()) break;  // higher up it only gets worse
        continue;
      }
      const int x = LeftmostFree(y, right);
      if (x < 0) continue;
      const Vec2 used(std::max(before.x(), x * cell + size.x()), height);
      const double cost = Cost(used, x, y);
      if (cost >= *best_cost) continue;
      *best_cost = cost;
      spot.x = x;
      spot.y = y;
      *best = spot;
      *best_used = used;
    }
  }

  double Cost(const Vec2& used, int x, int y) const {
    return used.x() * used.y() + 1e-3 * shapes_.cell_mm() * (4.0 * y + x);
  }

  // −1 if there is none up to `right`.
  int LeftmostFree(int y, int right) {
    blocked_.clear();
    for (const Near& near : near_) {
      const int row = y - near.y - near.forbidden->first_row;
      if (row < 0 || row >= static_cast<int>(near.forbidden->rows.size())) continue;
      for (const Run& run : near.forbidden->rows[static_cast<std::size_t>(row)]) {
        if (run.last + near.x >= 0) blocked_.push_back({run.first + near.x, run.last + near.x});
      }
    }
    std::sort(blocked_.begin(), blocked_.end(),
              [](const Run& a, const Run& b) { return a.first < b.first; });
    int x = 0;
    for (const Run& run : blocked_) {
      if (run.first > x) break;
      x = std::max(x, run.last + 1);
    }
    return x <= right ? x : -1;
  }

  struct Near {
    const Forbidden* forbidden;
    int x, y;
  };

  const NestOptions& options_;
  Vec2 room_;
  NestShapes shapes_;
  std::mt19937 random_;
  std::vector<std::size_t> placeable_;
  std::vector<Near> near_;
  std::vector<Run> blocked_;
};

CutFault TooLarge(const std::string& name, const Vec2& size, const Stock& stock) {
  const auto say = [&](const Vec2& s) {
    return BenchLength(s.x(), stock.inches) + " by " + BenchLength(s.y(), stock.inches);
  };
  const Vec2 sheet(stock.width_mm, stock.height_mm);
  const Vec2 needed = size + Vec2::Constant(2.0 * stock.margin_mm);
  CutFault fault;
  fault.part = name;
  fault.kind = CutFaultKind::kStock;
  const bool along_x = needed.x() - sheet.x() >= needed.y() - sheet.y();
  fault.found_mm = along_x ? sheet.x() : sheet.y();
  fault.needed_mm = along_x ? needed.x() : needed.y();
  fault.what = name + ": is " + say(size) + " as it would lie best, too large for a sheet of " +
               say(sheet) + " with margins of " + BenchLength(stock.margin_mm, stock.inches) +
               "; a sheet of " + say(needed.cwiseMax(sheet)) + " fits";
  return fault;
}

}  // namespace

double Nest::UsedArea_mm2() const {
  double area = 0.0;
  for (const Rect2& box : used) area += (box.high - box.low).prod();
  return area;
}

Nest NestParts(const std::vector<NestPart>& parts, const Stock& stock, const NestOptions& options) {
  LW_REQUIRE(stock.width_mm > 0.0 && stock.height_mm > 0.0,
             stock.width_mm << " x " << stock.height_mm);
  LW_REQUIRE(stock.margin_mm >= 0.0 && stock.spacing_mm >= 0.0,
             "margin_mm=" << stock.margin_mm << " spacing_mm=" << stock.spacing_mm);
  LW_REQUIRE(options.layouts > 0 && options.turns > 0 && options.turns % 4 == 0,
             "layouts=" << options.layouts << " turns=" << options.turns);
  for (const NestPart& part : parts) {
    const auto fault = FaultOf(part.part);
    LW_REQUIRE(!fault, part.part.name << ": " << *fault);
  }
  Nester nester(parts, stock, options);
  const Layout layout = nester.Best();
  Nest nest;
  nest.sheets = layout.sheets;
  for (const Spot& spot : layout.spots) {
    const NestShape& shape = nester.shapes().Shape(spot.shape);
    const double cell = nester.shapes().cell_mm();
    const Vec2 corner = Vec2::Constant(stock.margin_mm) + cell * Vec2(spot.x, spot.y);
    nest.placements.push_back(
        {spot.part, spot.sheet, Pose::Make(shape.angle_rad, corner - shape.box.low)});
  }
  std::sort(nest.placements.begin(), nest.placements.end(),
            [](const Placement& a, const Placement& b) {
              return a.sheet != b.sheet ? a.sheet < b.sheet : a.part < b.part;
            });
  for (int sheet = 0; sheet < nest.sheets; ++sheet) {
    Rect2 box;
    box.Add(Vec2::Constant(stock.margin_mm));
    box.Add(Bounds(OnSheet(parts, nest, sheet)).high);
    nest.used.push_back(box);
  }
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (!nester.shapes().WaysOf(i).empty()) continue;
    nest.faults.push_back(TooLarge(parts[i].part.name, nester.shapes().LeastSize(i), stock));
  }
  return nest;
}

std::vector<CutPart> OnSheet(const std::vector<NestPart>& parts, const Nest& nest, int sheet) {
  std::vector<CutPart> laid;
  for (const Placement& placement : nest.placements) {
    if (placement.sheet != sheet) continue;
    laid.push_back(Moved(parts[placement.part].part, placement.pose));
  }
  return laid;
}

}  // namespace lidwright
