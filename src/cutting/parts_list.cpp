// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/parts_list.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/cutting/arm_holes.h"
#include "lidwright/cutting/cut_piece.h"
#include "lidwright/cutting/nest.h"

namespace lidwright {
namespace {

constexpr double kSame_mm = 0.005;

const HardwareLine* LineFor(const std::string& name, const std::vector<HardwareLine>& buy) {
  for (const HardwareLine& line : buy) {
    if (line.name == name) return &line;
  }
  return nullptr;
}

class Lister {
 public:
  Lister(const std::vector<HingePiece>& pieces, const std::vector<HardwareLine>& buy, bool inches,
         const CutSet* cut)
      : pieces_(pieces), buy_(buy), inches_(inches), cut_(cut) {}

  PartsList Make() {
    for (const HingePiece& piece : pieces_) {
      if (piece.cut_from_sheet && piece.per_end > 0) AddFlat(piece);
    }
    for (const PieceKind kind : {PieceKind::kPin, PieceKind::kBushing, PieceKind::kSpacer,
                                 PieceKind::kWasher, PieceKind::kStop, PieceKind::kScrew}) {
      for (const HingePiece& piece : pieces_) {
        if (piece.kind == kind && !piece.cut_from_sheet && piece.per_end > 0) AddTurned(piece);
      }
    }
    for (const HingePiece& piece : pieces_) {
      if (piece.kind == PieceKind::kPad) AddPad(piece);
    }
    for (const HardwareLine& line : buy_) AddBought(line);
    for (SawRow& row : list_.saw) Finish(row);
    if (cut_) AddSheets();
    return list_;
  }

 private:
  std::string Say(double mm) const { return BenchLength(mm, inches_); }
  std::string Size(double mm) const { return BenchText(mm, Bench::kSize, inches_); }
  std::string Room(double mm) const { return BenchText(mm, Bench::kRoom, inches_); }

  void AddFlat(const HingePiece& piece) {
    // An arm as on its sheet, its holes level: so runs the grain of its blank.
    const CutPart part = CutPiece(piece, Hand::kLeft);
    double turn = LyingAngle(piece.outline);
    if (piece.kind == PieceKind::kArm && part.holes.size() == 2) {
      const Vec2 along = part.holes[1].centre - part.holes[0].centre;
      turn = -std::atan2(along.y(), along.x());
    }
    const CutPart lying = Moved(part, Pose::Make(turn, Vec2::Zero()));
    const Rect2 box = Bounds(std::vector<CutPart>{lying});
    const Vec2 size = box.high - box.low;
    const bool both = CountOf(piece) == 2 * piece.per_end;
    std::string remark = both ? "half of them mirrored" : "";
    if (!piece.note.empty()) remark += (remark.empty() ? "" : "; ") + piece.note;
    if (piece.kind == PieceKind::kArm && !piece.holes.empty()) {
      remark += (remark.empty() ? "" : "; ") + HoleText(HolesIn(piece), inches_);
    }
    list_.parts.push_back({piece.name, CountOf(piece),
                           Size(size.x()) + " by " + Size(size.y()) + ", " +
                               Say(piece.z_max_mm - piece.z_min_mm) + " thick",
                           piece.material, remark});
    list_.items[piece.name] = static_cast<int>(list_.parts.size());
  }

  ArmHoles HolesIn(const HingePiece& arm) const {
    ArmHoles holes{2.0 * arm.holes[0].radius_mm, kUnset};
    for (const HingePiece& piece : pieces_) {
      if (piece.kind == PieceKind::kBushing && piece.body == arm.body) {
        holes.bushing_mm = Diameter(piece);
      }
    }
    return holes;
  }

  double LengthOf(const HingePiece& piece) const {
    const HardwareLine* line = LineFor(piece.name, buy_);
    if (line && std::isfinite(line->length_mm)) return line->length_mm;
    return piece.z_max_mm - piece.z_min_mm;
  }

  void AddTurned(const HingePiece& piece) {
    if (piece.kind == PieceKind::kScrew) {
      // "screw 1 of the lid plate, head"
      const std::size_t of = piece.name.find(" of the "), end = piece.name.find(',');
      const std::string where =
          of == std::string::npos ? "" : "for the " + piece.name.substr(of + 8, end - of - 8);
      Gather({"screw", CountOf(piece), piece.note, piece.material, where}, piece.name);
      return;
    }
    const double out = Diameter(piece), length = LengthOf(piece);
    const double bore = piece.holes.empty() ? 0.0 : 2.0 * piece.holes[0].radius_mm;
    if (piece.kind == PieceKind::kStop && bore == 0.0 && LineFor("stop rod", buy_)) return;
    std::string size = Say(out);
    if (bore > 0.0) size += ", bored " + Say(bore);
    const bool washer = piece.kind == PieceKind::kWasher;
    size += ", " + Say(length) + (washer ? " thick" : " long");
    Gather({KindWord(piece), CountOf(piece), size, piece.material, piece.name}, piece.name);
    if (washer) return;  // bought, not sawn
    AddCut(StockFor(piece, out, bore), {CountOf(piece), length, piece.name});
  }

  // Sawn and planed by hand: its note says to what.
  void AddPad(const HingePiece& piece) {
    const std::size_t end = piece.note.find(';');
    Gather({piece.name, CountOf(piece), piece.note.substr(0, end), piece.material,
            piece.note.substr(std::min(piece.note.size(), end + 2))},
           piece.name);
  }

  std::string StockFor(const HingePiece& piece, double out, double bore) const {
    const HardwareLine* tube = LineFor("bushing", buy_);
    if (tube && bore > 0.0 && !tube->note.empty()) {
      for (const HingePiece& other : pieces_) {
        // A stop's sleeve is of the bushings' tube.
        if (other.kind == PieceKind::kBushing && std::abs(Diameter(other) - out) < kSame_mm &&
            (piece.kind == PieceKind::kBushing || piece.kind == PieceKind::kStop)) {
          return tube->note;
        }
      }
    }
    const std::string stock = Say(out) + " " + piece.material + " rod";
    return bore > 0.0 ? stock + " or tube, bored " + Say(bore) : stock;
  }

  void AddSheets() {
    for (const CutGroup& group : cut_->groups) {
      if (group.nest.sheets == 0) continue;
      std::string used;
      for (const Rect2& box : group.nest.used) {
        used += (used.empty() ? "used from one corner: " : "; ") + Room(box.high.x()) + " by " +
                Room(box.high.y());
      }
      list_.sheets.push_back(
          {group.material + ", " + Say(group.thickness_mm) + " thick", group.nest.sheets,
           Say(group.stock.width_mm) + " by " + Say(group.stock.height_mm), used});
    }
  }

  static double Diameter(const HingePiece& piece) {
    const CutPart part = CutPiece(piece, Hand::kLeft);
    const Rect2 box = Bounds(std::vector<CutPart>{part});
    return box.high.x() - box.low.x();
  }

  static const char* KindWord(const HingePiece& piece) {
    switch (piece.kind) {
      case PieceKind::kPin:
        return "pin";
      case PieceKind::kBushing:
        return "bushing";
      case PieceKind::kSpacer:
        return "spacer";
      case PieceKind::kWasher:
        return "washer";
      case PieceKind::kStop:
        return "stop sleeve";
      default:
        return "turned piece";
    }
  }

  // Adds to a row that says the same but for the remark.
  void Gather(const PartsRow& row, const std::string& piece) {
    int item = 0;
    for (PartsRow& other : list_.parts) {
      ++item;
      if (other.part != row.part || other.size != row.size || other.material != row.material) {
        continue;
      }
      other.count += row.count;
      if (!row.remark.empty() && other.remark != row.remark) other.remark += ", " + row.remark;
      list_.items[piece] = item;
      return;
    }
    list_.parts.push_back(row);
    list_.items[piece] = static_cast<int>(list_.parts.size());
  }

  void AddCut(const std::string& stock, const SawRow::Cut& cut) {
    auto row = std::find_if(list_.saw.begin(), list_.saw.end(),
                            [&](const SawRow& r) { return r.stock == stock; });
    if (row == list_.saw.end()) {
      list_.saw.push_back({stock, {}, 0.0});
      row = list_.saw.end() - 1;
    }
    for (SawRow::Cut& other : row->cuts) {
      if (std::abs(other.length_mm - cut.length_mm) >= kSame_mm) continue;
      other.count += cut.count;
      other.for_what += ", " + cut.for_what;
      return;
    }
    row->cuts.push_back(cut);
  }

  // A rod as thick as the pins is sawn from their stock.
  std::string RodFor(const HardwareLine& line) const {
    for (const HingePiece& piece : pieces_) {
      if (piece.kind != PieceKind::kPin) continue;
      const double out = Diameter(piece);
      if (line.note == Say(out) + " " + piece.material + " rod") return StockFor(piece, out, 0.0);
    }
    return line.note;
  }

  // Names of pieces, and bushings and screws by what they are, stand in the list already.
  void AddBought(const HardwareLine& line) {
    const bool rod = line.note.size() > 3 && line.note.substr(line.note.size() - 3) == "rod";
    for (const HingePiece& piece : pieces_) {
      if (piece.name == line.name) return;
      const bool bushing = piece.kind == PieceKind::kBushing && line.name == "bushing";
      const bool screw = piece.kind == PieceKind::kScrew && line.name.rfind("screw", 0) == 0;
      if (bushing || screw) return;
    }
    std::string size = line.note;
    if (std::isfinite(line.length_mm)) {
      size += (size.empty() ? "" : ", ") + Say(line.length_mm) + " long";
      if (rod) AddCut(RodFor(line), {2 * line.per_end, line.length_mm, line.name});
    }
    Gather({line.name, 2 * line.per_end, size, "", ""}, line.name);
    if (line.name == "stop rod") list_.items.insert({"stop", list_.items[line.name]});
  }

  static void Finish(SawRow& row) {
    std::stable_sort(
        row.cuts.begin(), row.cuts.end(),
        [](const SawRow::Cut& a, const SawRow::Cut& b) { return a.length_mm > b.length_mm; });
    for (const SawRow::Cut& cut : row.cuts) {
      row.total_mm += cut.count * (cut.length_mm + kSawCut_mm);
    }
  }

  const std::vector<HingePiece>& pieces_;
  const std::vector<HardwareLine>& buy_;
  bool inches_;
  const CutSet* cut_;
  PartsList list_;
};

std::string Cell(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

std::string Row(const std::vector<std::string>& cells) {
  std::string text;
  for (std::size_t i = 0; i < cells.size(); ++i) text += (i > 0 ? "," : "") + Cell(cells[i]);
  return text + "\r\n";
}

}  // namespace

PartsList MakePartsList(const std::vector<HingePiece>& pieces, const std::vector<HardwareLine>& buy,
                        bool inches, const CutSet* cut) {
  return Lister(pieces, buy, inches, cut).Make();
}

int ItemOf(const PartsList& list, const std::string& piece) {
  const auto found = list.items.find(piece);
  return found == list.items.end() ? 0 : found->second;
}

std::string PartsListCsv(const PartsList& list, bool inches) {
  std::string text = Row({"list", "item", "part", "count", "size", "material", "remark"});
  int item = 0;
  for (const PartsRow& row : list.parts) {
    text += Row({"parts", std::to_string(++item), row.part, std::to_string(row.count), row.size,
                 row.material, row.remark});
  }
  for (const SawRow& row : list.saw) {
    for (const SawRow::Cut& cut : row.cuts) {
      text += Row({"saw", "", row.stock, std::to_string(cut.count),
                   BenchLength(cut.length_mm, inches), "", cut.for_what});
    }
    text += Row({"saw", "", row.stock, "1", BenchText(row.total_mm, Bench::kRoom, inches), "",
                 "all of it, with " + BenchLength(kSawCut_mm, inches) + " lost at each cut"});
  }
  for (const SheetRow& row : list.sheets) {
    text += Row({"sheets", "", row.stock, std::to_string(row.count), row.size, "", row.used});
  }
  return text;
}

}  // namespace lidwright
