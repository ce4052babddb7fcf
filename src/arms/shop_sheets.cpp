// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/shop_sheets.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/job/plywood.h"

namespace lidwright {
namespace {

constexpr double kSameWeight = 0.01;    // [1] sheets this near in weight are equally light
constexpr double kSameSheet_mm = 0.05;  // [mm] a thickness the maker names is this near
const Source kDealers{Standing::kCommonPractice, "what most dealers keep; no source"};

struct Range {
  const char* material;
  const char* called;
  std::vector<double> metric_mm;
  std::vector<int> thirtyseconds;  // of an inch
};

const std::vector<Range>& Ranges() {
  static const std::vector<Range> kRanges{
      {"hardwood", "planed hardwood", {3, 4, 5, 6, 8, 10, 12, 15}, {4, 6, 8, 12, 16}},
      {"acrylic", "acrylic sheet", {2, 3, 4, 5, 6, 8}, {2, 4, 6, 8}},
      {"phenolic", "phenolic sheet", {1.5, 2, 3, 4, 5, 6}, {2, 4, 6, 8}},
      {"aluminium", "aluminium sheet", {1, 1.5, 2, 2.5, 3, 4, 5, 6}, {1, 2, 3, 4, 6, 8}},
      {"brass", "brass sheet", {1, 1.5, 2, 2.5, 3, 4, 5}, {1, 2, 3, 4, 6, 8}},
      {"mild steel", "steel sheet", {1, 1.5, 2, 3, 4, 5}, {2, 3, 4, 6, 8}},
      {"stainless steel", "stainless sheet", {1, 1.5, 2, 3, 4}, {2, 3, 4, 6}},
  };
  return kRanges;
}

std::vector<StockSheet> MakeStock() {
  std::vector<StockSheet> stock;
  for (const PlywoodSheet& sheet : PlywoodSheets()) {
    stock.push_back({sheet.name,
                     "birch plywood",
                     sheet.nominal_mm,
                     sheet.thickness_mm,
                     sheet.inch,
                     {Standing::kCommonPractice, sheet.source}});
  }
  for (const Range& range : Ranges()) {
    for (const double mm : range.metric_mm) {
      stock.push_back({Text(mm) + " mm " + range.called, range.material, mm, mm, false, kDealers});
    }
    for (const int n : range.thirtyseconds) {
      const double mm = n * kMmPerInch / 32.0;
      stock.push_back(
          {InchFraction(mm) + " in " + range.called, range.material, mm, mm, true, kDealers});
    }
  }
  return stock;
}

template <typename T, typename Same>
bool Listed(const std::vector<T>& list, const Same& same) {
  return list.empty() || std::any_of(list.begin(), list.end(), same);
}

}  // namespace

const std::vector<StockSheet>& StockSheets() {
  static const std::vector<StockSheet> kStock = MakeStock();
  return kStock;
}

double SheetDensity_kg_m3(const std::string& material) {
  struct Row {
    const char* material;
    double kg_m3;
  };
  constexpr Row kRows[] = {
      {"birch plywood", 680.0}, {"hardwood", 560.0},         {"acrylic", 1180.0},
      {"phenolic", 1360.0},     {"aluminium", 2710.0},       {"brass", 8530.0},
      {"mild steel", 7850.0},   {"stainless steel", 7860.0},
  };
  for (const Row& row : kRows) {
    if (material == row.material) return row.kg_m3;
  }
  return kUnset;
}

double WeightOf_kg_m2(const StockSheet& sheet) {
  return SheetDensity_kg_m3(sheet.material) * sheet.thickness_mm / 1000.0;
}

int WorkOf(const std::string& material) {
  if (material == "birch plywood" || material == "hardwood") return 0;
  if (material == "acrylic" || material == "phenolic") return 1;
  return material == "aluminium" || material == "brass" ? 2 : 3;
}

std::vector<StockSheet> SheetsToTry(bool inch, const ShopHas& has, double least_mm,
                                    double most_mm) {
  std::vector<StockSheet> sheets;
  for (const StockSheet& sheet : StockSheets()) {
    if (sheet.inch != inch || sheet.thickness_mm < least_mm || sheet.thickness_mm > most_mm) {
      continue;
    }
    if (!Listed(has.materials, [&](const std::string& m) { return m == sheet.material; })) continue;
    if (!Listed(has.sheets_mm,
                [&](double mm) { return std::abs(mm - sheet.nominal_mm) < kSameSheet_mm; })) {
      continue;
    }
    sheets.push_back(sheet);
  }
  // Weights by steps of a hundredth, so that the order is one whatever is compared with what.
  const auto step = [](const StockSheet& sheet) {
    return std::lround(std::log(WeightOf_kg_m2(sheet)) / kSameWeight);
  };
  std::stable_sort(sheets.begin(), sheets.end(), [&](const StockSheet& a, const StockSheet& b) {
    if (step(a) != step(b)) return step(a) < step(b);
    return WorkOf(a.material) < WorkOf(b.material);
  });
  return sheets;
}

}  // namespace lidwright
