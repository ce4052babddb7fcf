// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <set>

#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "trace/drawing.h"
#include "trace/dxf_entities.h"
#include "trace/dxf_groups.h"

namespace lidwright {
namespace {

constexpr int kDeepestBlock = 16;
constexpr int kMostInserts = 100000;
// Values of a drawing with all its blocks carried out, texts and all: no file of
// kLargestDrawing_bytes has as many, but blocks that insert blocks multiply. Some 2 s.
constexpr std::size_t kMostDrawnValues = 20000000;

// The values of $INSUNITS that a box could be drawn in.
double MmPerInsUnit(int unit) {
  static const std::map<int, double> kUnits = {{1, kMmPerInch},
                                               {2, 12.0 * kMmPerInch},
                                               {4, 1.0},
                                               {5, 10.0},
                                               {6, 1000.0},
                                               {8, kMmPerInch / 1e6},
                                               {9, kMmPerInch / 1e3},
                                               {10, 36.0 * kMmPerInch},
                                               {13, 1e-3},
                                               {14, 100.0}};
  const auto found = kUnits.find(unit);
  return found == kUnits.end() ? kUnset : found->second;
}

struct Block {
  Vec2 base = Vec2::Zero();
  std::vector<DxfRecord> records;
};

// Names of layers and blocks are the same in upper and lower case.
std::string Lower(std::string name) {
  for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return name;
}

// How a block stands: its frame, and what entities on layer 0 inherit.
struct Setting {
  Affine frame;
  std::string layer;
  std::vector<std::string> names;
  int depth = 0;
};

class DxfReader {
 public:
  DxfReader(const std::string& text, const std::string& file_name) : file_name_(file_name) {
    records_ = ReadDxfRecords(text, file_name, &out_.problems);
  }

  Drawing Read() {
    if (!out_.problems.empty()) return std::move(out_);
    std::string section;
    std::vector<DxfRecord> entities;
    std::size_t headers = 0;
    for (std::size_t i = 0; i < records_.size(); ++i) {
      DxfRecord& record = records_[i];
      if (record.type == "SECTION") {
        section = record.Text(2);
        if (section == "HEADER") ReadHeader(record);
        if (section == "ENTITIES") entities_ = true;
        ++headers;
      } else if (record.type == "ENDSEC") {
        section.clear();
      } else if (section == "TABLES" && record.type == "LAYER") {
        ReadLayer(record);
      } else if (section == "BLOCKS") {
        ReadBlockRecord(std::move(record));
      } else if (section == "ENTITIES") {
        entities.push_back(std::move(record));
      }
    }
    if (headers == 0) {
      out_.problems.push_back(
          {file_name_, 0, "", "", "this is no DXF file: it has no section", ""});
    } else if (!entities_) {
      out_.problems.push_back({file_name_, 0, "", "", "it has no section ENTITIES", ""});
    }
    Walk(entities, {});
    left_out_.NoteIn(&out_.notes);
    return std::move(out_);
  }

 private:
  void ReadHeader(const DxfRecord& header) {
    std::string variable;
    int measurement = -1;
    for (const DxfGroup& group : header.groups) {
      if (group.code == 9) {
        variable = group.value;
      } else if (group.code == 70 && (variable == "$INSUNITS" || variable == "$MEASUREMENT")) {
        const double value = NumberFrom(group.value);
        if (variable == "$MEASUREMENT") measurement = WholeFrom(value, -1);
        if (variable != "$INSUNITS" || value == 0.0) continue;
        out_.mm_per_unit = MmPerInsUnit(WholeFrom(value, -1));
        out_.unit_said = "$INSUNITS " + Quoted(group.value);
        if (std::isnan(out_.mm_per_unit)) {
          out_.problems.push_back({file_name_, group.line, "$INSUNITS", Quoted(group.value),
                                   "is no unit that a box is drawn in", "4 is mm, 1 is inches"});
        }
      }
    }
    if (std::isnan(out_.mm_per_unit) && out_.problems.empty() && measurement == 1) {
      out_.mm_per_unit = 1.0;
      out_.unit_said = "$MEASUREMENT 1 (metric), taken as mm";
    }
  }

  void ReadLayer(const DxfRecord& record) {
    const double colour = NumberFrom(record.Text(62, "7"));
    const double flags = NumberFrom(record.Text(70, "0"));
    const bool frozen = (WholeFrom(flags, 0) & 1) != 0;
    if (colour < 0.0 || frozen) hidden_layers_.insert(Lower(record.Text(2)));
  }

  void ReadBlockRecord(DxfRecord record) {
    if (record.type == "BLOCK") {
      open_block_ = Lower(record.Text(2));
      DxfNumbers in(record, file_name_, &out_.problems);
      blocks_[open_block_].base = {in.Real(10, 0.0), in.Real(20, 0.0)};
    } else if (record.type == "ENDBLK") {
      open_block_.clear();
    } else if (!open_block_.empty()) {
      blocks_[open_block_].records.push_back(std::move(record));
    }
  }

  void Walk(const std::vector<DxfRecord>& records, const Setting& setting) {
    for (std::size_t i = 0; i < records.size() && out_.curves <= kMostCurves; ++i) {
      const DxfRecord& record = records[i];
      values_ += 1 + record.groups.size();
      if (values_ > kMostDrawnValues) return TooMuch(record);
      if (record.Text(67) == "1") {
        left_out_.Add(Quoted(record.type) + " in paper space");
        continue;
      }
      std::string layer = record.Text(8, "0");
      if (layer == "0" && !setting.layer.empty()) layer = setting.layer;
      const bool hidden = hidden_layers_.count(Lower(layer)) > 0;
      const bool invisible = record.Text(60) == "1";
      if (record.type == "INSERT" && !hidden && !invisible) {
        Insert(record, layer, setting);
        continue;
      }
      if (record.type == "SEQEND" || record.type == "ATTRIB") continue;  // of an INSERT
      std::optional<DrawnPath> path = ReadDxfCurve(records, &i, file_name_, &out_.problems);
      if (hidden) {
        left_out_.Add(Quoted(record.type) + " on hidden layer " + Quoted(layer));
      } else if (invisible) {
        left_out_.Add("invisible " + Quoted(record.type));
      } else if (!path) {
        left_out_.Add(Quoted(record.type));
      } else if (!path->pieces.empty()) {
        for (Piece& piece : path->pieces) piece = Transformed(piece, setting.frame);
        path->names = setting.names;
        path->names.insert(path->names.begin(), layer);
        path->label = record.type + " on layer " + Quoted(layer);
        out_.Add(std::move(*path), file_name_);
      }
    }
  }

  void TooMuch(const DxfRecord& record) {
    if (too_much_) return;
    too_much_ = true;
    DxfNumbers in(record, file_name_, &out_.problems);
    in.Complain(record.line, "",
                "with all its blocks carried out the drawing has more than " +
                    std::to_string(kMostDrawnValues) + " values",
                "leave only the section in it");
  }

  void Insert(const DxfRecord& record, const std::string& layer, const Setting& setting) {
    const std::string name = record.Text(2);
    DxfNumbers in(record, file_name_, &out_.problems);
    const auto found = blocks_.find(Lower(name));
    if (found == blocks_.end()) {
      in.Complain(record.line, Quoted(name), "there is no block of this name");
      return;
    }
    if (setting.depth >= kDeepestBlock) {
      in.Complain(record.line, Quoted(name),
                  "more than " + std::to_string(kDeepestBlock) + " blocks within each other");
      return;
    }
    const Vec2 at = in.Point(10);
    const double x = in.Real(41, 1.0), y = in.Real(42, 1.0);
    const double turn = in.Real(50, 0.0) * kRadPerDeg;
    const int columns = in.Whole(70, 1), rows = in.Whole(71, 1);
    const Vec2 step(in.Real(44, 0.0), in.Real(45, 0.0));
    const bool mirrored = in.Real(230, 1.0) < 0.0;
    const bool aslant = std::hypot(in.Real(210, 0.0), in.Real(220, 0.0)) > 1e-6;
    if (!in.good()) return;
    if (aslant) {
      left_out_.Add("INSERT");
      return;
    }
    if (columns > 1000 || rows > 1000) {
      in.Complain(record.line, Quoted(name), "more than 1000 rows or columns");
      return;
    }
    const Affine view = mirrored ? Scaling(-1.0, 1.0) : Affine{};
    Setting inner = setting;
    inner.depth = setting.depth + 1;
    inner.layer = layer;
    inner.names.insert(inner.names.begin(), {name, layer});
    for (int row = 0; row < std::max(rows, 1); ++row) {
      for (int column = 0; column < std::max(columns, 1); ++column) {
        if (too_much_) return;
        if (++inserts_ > kMostInserts) {
          if (inserts_ == kMostInserts + 1) {
            in.Complain(record.line, Quoted(name),
                        "more than " + std::to_string(kMostInserts) + " blocks inserted");
          }
          return;
        }
        inner.frame = setting.frame * view * Translation(at) * Rotation(turn) *
                      Translation({column * step.x(), row * step.y()}) * Scaling(x, y) *
                      Translation(-found->second.base);
        Walk(found->second.records, inner);
      }
    }
  }

  const std::string& file_name_;
  std::vector<DxfRecord> records_;
  Drawing out_;
  LeftOut left_out_;
  std::set<std::string> hidden_layers_;
  std::map<std::string, Block> blocks_;
  std::string open_block_;
  bool entities_ = false;
  int inserts_ = 0;
  std::size_t values_ = 0;  // group by group, of all that was walked over
  bool too_much_ = false;
};

}  // namespace

Drawing ReadDxf(const std::string& text, const std::string& file_name) {
  return DxfReader(text, file_name).Read();
}

}  // namespace lidwright
