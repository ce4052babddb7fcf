// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/dxf.h"

#include "cutting/edges.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

// A real number as DXF writes them: never an exponent, always a decimal point.
std::string Real(double value, int decimals) {
  std::string text = Text(value, decimals);
  if (text.find('.') == std::string::npos) text += ".0";
  return text;
}

// Lines of a DXF file: a group code, then its value.
class Groups {
 public:
  void Add(int code, const std::string& value) {
    text_ += std::to_string(code) + "\n" + value + "\n";
  }
  void Add(int code, int value) { Add(code, std::to_string(value)); }
  void AddPoint(const Vec2& point) {
    Add(10, Real(point.x(), 9));
    Add(20, Real(point.y(), 9));
    Add(30, "0.0");
  }
  void AddEntity(const char* type, const char* layer) {
    Add(0, type);
    Add(8, layer);
  }
  const std::string& text() const { return text_; }

 private:
  std::string text_;
};

struct Layer {
  const char* name;
  int colour;  // of the index of release 12: 1 red, 5 blue, 7 black or white
};
constexpr Layer kLayers[] = {{"0", 7}, {"DRILL", 5}, {"HOLES", 1}, {"OUTLINE", 7}};

void WriteHeader(const Rect2& box, Groups& out) {
  out.Add(999, "All lengths are in millimetres");
  out.Add(0, "SECTION");
  out.Add(2, "HEADER");
  out.Add(9, "$ACADVER");
  out.Add(1, "AC1009");
  out.Add(9, "$INSUNITS");
  out.Add(70, 4);
  out.Add(9, "$MEASUREMENT");
  out.Add(70, 1);
  out.Add(9, "$EXTMIN");
  out.AddPoint(box.low);
  out.Add(9, "$EXTMAX");
  out.AddPoint(box.high);
  out.Add(0, "ENDSEC");
}

void WriteTables(Groups& out) {
  out.Add(0, "SECTION");
  out.Add(2, "TABLES");
  out.Add(0, "TABLE");
  out.Add(2, "LTYPE");
  out.Add(70, 1);
  out.Add(0, "LTYPE");
  out.Add(2, "CONTINUOUS");
  out.Add(70, 0);
  out.Add(3, "Solid line");
  out.Add(72, 65);
  out.Add(73, 0);
  out.Add(40, "0.0");
  out.Add(0, "ENDTAB");
  out.Add(0, "TABLE");
  out.Add(2, "LAYER");
  out.Add(70, static_cast<int>(std::size(kLayers)));
  for (const Layer& layer : kLayers) {
    out.Add(0, "LAYER");
    out.Add(2, layer.name);
    out.Add(70, 0);
    out.Add(62, layer.colour);
    out.Add(6, "CONTINUOUS");
  }
  out.Add(0, "ENDTAB");
  out.Add(0, "ENDSEC");
}

void WriteCircle(const Circle& circle, const char* layer, Groups& out) {
  out.AddEntity("CIRCLE", layer);
  out.AddPoint(circle.centre);
  out.Add(40, Real(circle.radius_mm, 9));
}

void WriteOutline(const Outline& outline, const char* layer, Groups& out) {
  if (const auto circle = AsCircle(outline)) return WriteCircle(*circle, layer, out);
  out.AddEntity("POLYLINE", layer);
  out.Add(66, 1);  // vertices follow
  out.AddPoint(Vec2::Zero());
  out.Add(70, 1);  // closed
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const Edge edge = EdgeOf(outline, i);
    out.AddEntity("VERTEX", layer);
    out.AddPoint(edge.from);
    if (!edge.Straight()) out.Add(42, Real(edge.bulge, 12));
  }
  out.AddEntity("SEQEND", layer);
}

// An open run: the last vertex has no edge.
void WriteRun(const OpenRun& run, const char* layer, Groups& out) {
  out.AddEntity("POLYLINE", layer);
  out.Add(66, 1);
  out.AddPoint(Vec2::Zero());
  out.Add(70, 0);  // open
  for (std::size_t i = 0; i < run.size(); ++i) {
    out.AddEntity("VERTEX", layer);
    out.AddPoint(run[i].point);
    if (i + 1 == run.size()) continue;
    const Edge edge{run[i].point, run[i + 1].point, run[i].bulge};
    if (!edge.Straight()) out.Add(42, Real(edge.bulge, 12));
  }
  out.AddEntity("SEQEND", layer);
}

void WriteCut(const CutPart& part, const char* layer, Groups& out) {
  if (part.tabs.empty()) return WriteOutline(part.outline, layer, out);
  for (const OpenRun& run : RunsBetweenTabs(part)) WriteRun(run, layer, out);
}

}  // namespace

std::string WriteDxf(const std::vector<CutPart>& parts) {
  LW_REQUIRE(!parts.empty(), "no part");
  for (const CutPart& part : parts) {
    const auto fault = FaultOf(part);
    LW_REQUIRE(!fault, part.name << ": " << *fault);
  }
  Groups out;
  WriteHeader(Bounds(parts), out);
  WriteTables(out);
  out.Add(0, "SECTION");
  out.Add(2, "ENTITIES");
  for (const CutPart& part : parts) {
    for (const Circle& mark : part.drill_marks) {
      out.AddEntity("POINT", "DRILL");
      out.AddPoint(mark.centre);
    }
  }
  for (const CutPart& part : parts) {
    for (const Circle& hole : part.holes) WriteCircle(hole, "HOLES", out);
  }
  for (const CutPart& part : parts) WriteCut(part, "OUTLINE", out);
  out.Add(0, "ENDSEC");
  out.Add(0, "EOF");
  return out.text();
}

}  // namespace lidwright
