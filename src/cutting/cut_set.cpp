// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cut_set.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/cutting/dxf.h"
#include "lidwright/cutting/svg.h"

namespace lidwright {
namespace {

constexpr double kSameSheet_mm = 0.005;  // sheets thinner or thicker by less are one

CutGroup& GroupFor(const HingePiece& piece, const CutWish& wish, CutSet& set) {
  const double thickness = piece.z_max_mm - piece.z_min_mm;
  for (CutGroup& group : set.groups) {
    if (group.material == piece.material &&
        std::abs(group.thickness_mm - thickness) < kSameSheet_mm) {
      return group;
    }
  }
  CutGroup group;
  group.material = piece.material;
  group.thickness_mm = thickness;
  group.stock = {wish.sheet_width_mm, wish.sheet_height_mm, wish.margin_mm,
                 std::max(wish.cutter_mm, wish.kerf_mm) + wish.between_mm, wish.inches};
  set.groups.push_back(group);
  return set.groups.back();
}

std::string FileName(const std::string& name) {
  std::string file;
  for (const char c : name) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (c >= 'A' && c <= 'Z') {
      file += static_cast<char>(c - 'A' + 'a');
    } else if (letter || c == '-') {
      file += c;
    } else if (!file.empty() && file.back() != '_') {
      file += '_';
    }
  }
  while (!file.empty() && file.back() == '_') file.pop_back();
  return file.empty() ? "part" : file;
}

void AddBoth(const std::string& name, const std::vector<CutPart>& parts,
             std::map<std::string, std::string>& files) {
  files[name + ".dxf"] = WriteDxf(parts);
  files[name + ".svg"] = WriteCutSvg(parts);
}

// The paths of all parts; nothing if one has none.
std::optional<std::vector<CutPart>> PathsOf(const std::vector<CutPart>& parts, const CutWish& wish,
                                            std::vector<CutFault>* faults) {
  PathWish path_wish;
  path_wish.cutter_mm = wish.cutter_mm > 0.0 ? wish.cutter_mm : wish.kerf_mm;
  path_wish.tabs = wish.tabs;
  path_wish.tab_mm = wish.tab_mm;
  std::vector<CutPart> paths;
  for (const CutPart& part : parts) {
    const std::optional<CutPart> path = CutterPath(part, path_wish, wish.inches, faults);
    if (!path) return std::nullopt;
    paths.push_back(*path);
  }
  return paths;
}

}  // namespace

CutWish CutWishFor(const Job& job) {
  const Shop& shop = job.shop;
  CutWish wish;
  wish.cutter_mm = shop.cutter_mm;
  wish.kerf_mm = shop.kerf_mm;
  wish.web_mm = shop.web_mm;
  wish.between_mm = shop.between_mm;
  wish.sheet_width_mm = shop.sheet_width_mm;
  wish.sheet_height_mm = shop.sheet_height_mm;
  wish.margin_mm = shop.sheet_margin_mm;
  wish.tabs = static_cast<int>(shop.tabs);
  wish.tab_mm = shop.tab_mm;
  wish.paths = shop.paths;
  wish.inches = job.inches;
  return wish;
}

bool HasGrain(const std::string& material) {
  return material == "birch plywood" || material == "hardwood";
}

Vec2 GrainAlong(const HingePiece& piece) {
  if (piece.kind == PieceKind::kArm && piece.holes.size() == 2) {
    const Vec2 along = piece.holes[1].centre - piece.holes[0].centre;
    if (along.norm() > 0.0) return along.normalized();
  }
  return Pose::Make(-LyingAngle(piece.outline), Vec2::Zero()).Turn({1.0, 0.0});
}

CutSet MakeCutSet(const std::vector<HingePiece>& pieces, const CutWish& wish) {
  CutSet set;
  const CutterLimits limits{wish.cutter_mm, wish.web_mm, wish.inches};
  for (const HingePiece& piece : pieces) {
    if (!piece.cut_from_sheet || piece.per_end <= 0) continue;
    const CutPart as_drawn = SmallHolesDrilled(CutPiece(piece, Hand::kLeft), wish.cutter_mm);
    const std::vector<CutFault> faults = FaultsFor(as_drawn, limits);
    set.faults.insert(set.faults.end(), faults.begin(), faults.end());
    if (!faults.empty() && faults[0].kind == CutFaultKind::kOutline) continue;
    CutGroup& group = GroupFor(piece, wish, set);
    const bool both = CountOf(piece) == 2 * piece.per_end;
    for (const Hand hand : {Hand::kLeft, Hand::kRight}) {
      if (hand == Hand::kRight && !both) continue;
      NestPart part{SmallHolesDrilled(CutPiece(piece, hand), wish.cutter_mm), std::nullopt};
      if (both) part.part.name += hand == Hand::kLeft ? ", left" : ", right";
      if (HasGrain(piece.material)) {
        part.grain = GrainAlong(piece);
        if (hand == Hand::kRight) part.grain->x() = -part.grain->x();
      }
      for (int i = 0; i < piece.per_end; ++i) group.parts.push_back(part);
    }
  }
  for (CutGroup& group : set.groups) {
    group.nest = NestParts(group.parts, group.stock);
    set.faults.insert(set.faults.end(), group.nest.faults.begin(), group.nest.faults.end());
  }
  return set;
}

std::map<std::string, std::string> CutFiles(const CutSet& set, const CutWish& wish,
                                            std::vector<CutFault>* faults) {
  std::map<std::string, std::string> files;
  for (const CutGroup& group : set.groups) {
    for (const NestPart& part : group.parts) {
      const std::string name = FileName(part.part.name);
      if (files.count(name + ".dxf")) continue;  // several alike
      AddBoth(name, {part.part}, files);
      if (!wish.paths) continue;
      if (const auto paths = PathsOf({part.part}, wish, faults)) {
        AddBoth(name + "_path", *paths, files);
      }
    }
    std::string sheet_name =
        "sheet " + group.material + " " +
        (wish.inches ? FileName(Text(group.thickness_mm / kMmPerInch, 3)) + " in "
                     : FileName(Text(group.thickness_mm, 2)) + " mm ");
    for (int sheet = 0; sheet < group.nest.sheets; ++sheet) {
      const std::vector<CutPart> parts = OnSheet(group.parts, group.nest, sheet);
      const std::string name = FileName(sheet_name + std::to_string(sheet + 1));
      AddBoth(name, parts, files);
      if (!wish.paths) continue;
      std::vector<CutFault> again;  // the same as those of the single parts
      if (const auto paths = PathsOf(parts, wish, &again)) AddBoth(name + "_path", *paths, files);
    }
  }
  return files;
}

}  // namespace lidwright
