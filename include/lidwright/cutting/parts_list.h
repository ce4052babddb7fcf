// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <vector>

#include "lidwright/arms/hinge_set.h"
#include "lidwright/cutting/cut_set.h"

namespace lidwright {

/// One line of the parts list, for both ends of the box together.
struct PartsRow {
  std::string part;
  int count = 0;
  std::string size;  ///< with its unit
  std::string material;
  std::string remark;
};

/// Lengths to saw of one rod or tube.
struct SawRow {
  std::string stock;  ///< "3.18 mm steel rod", "4 mm brass tube, bored 3.2 mm"
  struct Cut {
    int count = 0;
    double length_mm = 0.0;
    std::string for_what;
  };
  std::vector<Cut> cuts;  ///< longest first, equal lengths together
  double total_mm = 0.0;  ///< with kSawCut_mm lost at each cut
};

/// Sheets of one material and thickness to have at hand.
struct SheetRow {
  std::string stock;  ///< "birch plywood, 3 mm thick"
  int count = 0;
  std::string size;
  std::string used;  ///< what the nest takes of each, from one corner
};

struct PartsList {
  std::vector<PartsRow> parts;  ///< flat pieces, then turned ones, then what is bought
  std::vector<SawRow> saw;
  std::vector<SheetRow> sheets;
  /// Which row of `parts` a piece of that name stands in, counted from 1: the number by which every
  /// sheet, list and step knows it.
  std::map<std::string, int> items;
};

/// The number of a piece, or 0 for one that is in no list.
int ItemOf(const PartsList& list, const std::string& piece);

/// [mm] Lost at each saw cut, filing included.
inline constexpr double kSawCut_mm = 2.0;

/// Parts and lengths for both ends. Flat pieces with the box they fit in, thickness and material;
/// turned ones (pins, bushings, spacers, heads) alike in size together. Lengths of pins come from
/// `buy` where it names them (they go on into the wood), else from the pieces; the tube of bushings
/// has there the name that shops sell it by. `buy` lines that name no piece are bought things.
/// Pieces with per_end 0 are counted elsewhere. Sheets are those of `cut`, if it is given.
PartsList MakePartsList(const std::vector<HingePiece>& pieces, const std::vector<HardwareLine>& buy,
                        bool inches, const CutSet* cut = nullptr);

/// All lists as one table: list, item, part, count, size, material, remark. RFC 4180: CRLF, commas,
/// texts with commas or quotes quoted.
std::string PartsListCsv(const PartsList& list, bool inches);

}  // namespace lidwright
