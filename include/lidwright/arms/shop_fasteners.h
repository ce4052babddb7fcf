// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/shop_sheets.h"

namespace lidwright {

/// Rod for pins, as sold.
struct StockRod {
  std::string name;      ///< "4 mm steel rod", "1/8 in brass rod"
  std::string material;  ///< "mild steel", "stainless steel" or "brass"
  double diameter_mm;
  bool inch;
  Source source;
};
/// 2, 2.5, 3, 4, 5, 6 mm and 3/32, 1/8, 5/32, 3/16, 1/4 in (common practice, no source). Silver
/// steel counts as mild steel: it is bought soft.
const std::vector<StockRod>& StockRods();

/// A pin with the bushing that runs on it.
struct BushingChoice {
  StockRod rod;
  Tube tube;
};
/// All of StockRods with each tube of Tubes() that runs on it (and the 3 mm tube for 2.5 mm rod,
/// which no other tube takes): thin pins first, of one thickness the narrower tube, then steel,
/// brass, stainless.
std::vector<BushingChoice> BushingsToTry(bool inch);

/// A wood screw with the lengths it is sold in.
struct ScrewSold {
  WoodScrew screw;
  std::vector<double> lengths_mm;  ///< growing
  Source source;
};
/// Thin first: 2 to 4 mm and #2 to #8 (common practice, no source: makers' lists differ).
std::vector<ScrewSold> ScrewsToTry(bool inch);

/// A hexagon nut for a machine screw of MachineScrews().
struct StockNut {
  std::string thread;
  double across_flats_mm, height_mm;
  bool inch;
  Source source;
};
/// ISO 4032 and small-pattern American machine screw nuts, from memory.
const std::vector<StockNut>& StockNuts();
const StockNut* FindNut(const std::string& thread);

/// A brass insert screwed or pressed into wood, with a machine screw's thread in it.
struct StockInsert {
  std::string thread;
  double hole_mm;     ///< to drill in hard wood
  double outside_mm;  ///< over its own thread
  double length_mm;
  bool inch;
  Source source;
};
/// Makers differ: common practice, no source.
const std::vector<StockInsert>& StockInserts();

/// Plain washers for a pin of the job's unit: Washers() for metric, American narrow ones (SAE, from
/// memory) for inch. The narrowest that goes over the pin, or nothing.
std::optional<Washer> WasherFor(double pin_mm, bool inch);

}  // namespace lidwright
