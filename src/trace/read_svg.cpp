// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <map>
#include <pugixml.hpp>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "trace/drawing.h"
#include "trace/svg_text.h"

namespace lidwright {
namespace {

constexpr int kDeepest = 64;           // elements and uses within each other
constexpr int kMostElements = 500000;  // with all uses carried out

// The name without its namespace's prefix.
std::string LocalName(const pugi::xml_node& node) {
  const std::string name = node.name();
  const std::size_t colon = name.find(':');
  return colon == std::string::npos ? name : name.substr(colon + 1);
}

double MmPer(const std::string& unit) {
  static const std::map<std::string, double> kUnits = {{"mm", 1.0},
                                                       {"cm", 10.0},
                                                       {"in", kMmPerInch},
                                                       {"pt", kMmPerInch / 72.0},
                                                       {"pc", kMmPerInch / 6.0},
                                                       {"px", kMmPerInch / 96.0},
                                                       {"", kMmPerInch / 96.0},
                                                       {"Q", 0.25}};
  const auto found = kUnits.find(unit);
  return found == kUnits.end() ? kUnset : found->second;
}

// From viewBox to a box of the given size at the origin (SVG 1.1, 7.7 and 7.8).
Affine ViewBoxFit(const std::vector<double>& view, const Vec2& size, const std::string& aspect) {
  Vec2 scale(size.x() / view[2], size.y() / view[3]);
  Vec2 shift = Vec2::Zero();
  if (aspect.find("none") == std::string::npos) {
    const bool slice = aspect.find("slice") != std::string::npos;
    scale.setConstant(slice ? scale.maxCoeff() : scale.minCoeff());
    const auto share = [&](const char* low, const char* high) {
      return aspect.find(low) != std::string::npos    ? 0.0
             : aspect.find(high) != std::string::npos ? 1.0
                                                      : 0.5;
    };
    const Vec2 free = size - scale.cwiseProduct(Vec2(view[2], view[3]));
    shift = {share("xMin", "xMax") * free.x(), share("YMin", "YMax") * free.y()};
  }
  return Translation(shift) * Scaling(scale.x(), scale.y()) * Translation({-view[0], -view[1]});
}

class SvgReader {
 public:
  SvgReader(const std::string& text, const std::string& file_name)
      : text_(text), file_name_(file_name) {
    for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 1)) {
      line_ends_.push_back(static_cast<std::ptrdiff_t>(at));
    }
  }

  Drawing Read() {
    pugi::xml_document document;
    const pugi::xml_parse_result result = document.load_buffer(text_.data(), text_.size());
    if (!result) {
      Complain(LineAt(result.offset), "", "",
               std::string("the text is not XML: ") + result.description());
      return std::move(out_);
    }
    pugi::xml_node root = document.document_element();
    if (LocalName(root) != "svg") {
      Complain(LineOf(root), "", root.name(), "the outermost element must be svg");
      return std::move(out_);
    }
    Index(document);
    const Affine to_user = RootFrame(root);
    for (const pugi::xml_node& child : root.children()) {
      Walk(child, to_user, {}, 0);
    }
    left_out_.NoteIn(&out_.notes);
    return std::move(out_);
  }

 private:
  int LineAt(std::ptrdiff_t offset) const {
    const auto before = std::lower_bound(line_ends_.begin(), line_ends_.end(), offset);
    return 1 + static_cast<int>(before - line_ends_.begin());
  }
  int LineOf(const pugi::xml_node& node) const { return LineAt(node.offset_debug()); }

  void Complain(int line, const std::string& place, const std::string& value,
                const std::string& rule, const std::string& hint = "") {
    if (out_.problems.size() < kMostProblems) {
      out_.problems.push_back({file_name_, line, place, Quoted(value), rule, hint});
    }
  }
  void Complain(const pugi::xml_node& node, const char* attribute, const SvgTextFault& fault) {
    const std::string text = node.attribute(attribute).value();
    Complain(LineOf(node), LabelOf(node) + " " + attribute, "\"" + text.substr(fault.at, 12) + "\"",
             fault.what, "at byte " + std::to_string(fault.at) + " of the attribute");
  }

  static std::string LabelOf(const pugi::xml_node& node) {
    const std::string id = node.attribute("id").value();
    return Quoted(LocalName(node)) + (id.empty() ? "" : " " + Quoted(id));
  }

  void Index(const pugi::xml_node& node) {  // without recursion: files may nest deeply
    std::vector<pugi::xml_node> open{node};
    while (!open.empty()) {
      const pugi::xml_node next = open.back();
      open.pop_back();
      if (const pugi::xml_attribute id = next.attribute("id")) by_id_.emplace(id.value(), next);
      for (const pugi::xml_node& child : next.children()) open.push_back(child);
    }
  }

  // The frame of the drawing: its own unit is that of the root's contents, y up.
  Affine RootFrame(const pugi::xml_node& root) {
    const Affine up = Scaling(1.0, -1.0);
    const std::optional<SvgLength> width = ReadSvgLength(root.attribute("width").value());
    const std::optional<SvgLength> height = ReadSvgLength(root.attribute("height").value());
    for (const auto& [name, length] : {std::pair("width", &width), {"height", &height}}) {
      const std::string said = root.attribute(name).value();
      if (*length || said.empty() || said == "auto") continue;
      Complain(LineOf(root), LabelOf(root) + " " + name, said,
               "must be a number, or a length in mm, cm, in, pt, pc or px");
    }
    const std::vector<double> view = ViewBox(root);
    const auto size = [](const std::optional<SvgLength>& length) {
      return length ? length->number * MmPer(length->unit) : kUnset;
    };
    Vec2 size_mm(size(width), size(height));
    whole_ = view.empty() ? Vec2(size_mm / MmPer("px")) : Vec2(view[2], view[3]);
    if (size_mm.x() <= 0.0) size_mm.x() = kUnset;
    if (size_mm.y() <= 0.0) size_mm.y() = kUnset;
    if (std::isnan(size_mm.x()) && std::isnan(size_mm.y())) return up;
    const std::optional<SvgLength>& said = std::isnan(size_mm.x()) ? height : width;
    if (view.empty()) {
      out_.mm_per_unit = MmPer("px");
      out_.unit_said = "no viewBox, so a user unit is a pixel of 1/96 in";
      return up;
    }
    // A lacking side follows from the viewBox's shape.
    if (std::isnan(size_mm.x())) size_mm.x() = size_mm.y() * view[2] / view[3];
    if (std::isnan(size_mm.y())) size_mm.y() = size_mm.x() * view[3] / view[2];
    const Affine fit = ViewBoxFit(view, size_mm, root.attribute("preserveAspectRatio").value());
    const double x = fit.linear(0, 0), y = fit.linear(1, 1);
    out_.mm_per_unit = y;
    const bool pixels = said->unit.empty() || said->unit == "px";
    out_.unit_said = "width, height and viewBox";
    if (pixels) out_.unit_said += " in pixels, taken as 1/96 in";
    return up * Scaling(x / y, 1.0);  // unlike scales only with preserveAspectRatio="none"
  }

  std::vector<double> ViewBox(const pugi::xml_node& node) {
    const pugi::xml_attribute attribute = node.attribute("viewBox");
    if (!attribute) return {};
    std::optional<SvgTextFault> fault;
    std::vector<double> view = ReadNumbers(attribute.value(), &fault);
    if (!fault && view.size() == 4 && view[2] > 0.0 && view[3] > 0.0) return view;
    Complain(LineOf(node), LabelOf(node) + " viewBox", attribute.value(),
             "must be four numbers, the last two positive");
    return {};
  }

  // What 100 % of an attribute is; of a radius, the diagonal over root 2 (SVG 1.1, 7.10).
  double Whole(const std::string& name) const {
    if (name == "x" || name == "x1" || name == "x2" || name == "cx" || name == "rx" ||
        name == "width") {
      return whole_.x();
    }
    if (name == "y" || name == "y1" || name == "y2" || name == "cy" || name == "ry" ||
        name == "height") {
      return whole_.y();
    }
    return whole_.norm() / std::sqrt(2.0);
  }

  // A number with or without unit, in user units.
  double Number(const pugi::xml_node& node, const char* name, double missing = 0.0) {
    const pugi::xml_attribute attribute = node.attribute(name);
    if (!attribute) return missing;
    const std::optional<SvgLength> length = ReadSvgLength(attribute.value());
    double unit = kUnset;
    if (length && length->unit.empty()) unit = 1.0;
    if (length && length->unit == "%") unit = Whole(name) / 100.0;
    if (std::isnan(unit) && length) unit = MmPer(length->unit) / MmPer("px");
    if (std::isfinite(unit)) return length->number * unit;
    Complain(LineOf(node), LabelOf(node) + " " + name, attribute.value(),
             "must be a number, or a length in mm, cm, in, pt, pc or px");
    return missing;
  }

  // The same of what can only be a size.
  double Size(const pugi::xml_node& node, const char* name, double missing = 0.0) {
    const double size = Number(node, name, missing);
    if (size >= 0.0 || size == missing) return size;
    Complain(LineOf(node), LabelOf(node) + " " + name, node.attribute(name).value(),
             "must not be negative");
    return missing;
  }

  // Does the attribute style set the property, to a value that begins so?
  static bool StyleSays(const pugi::xml_node& node, const std::string& property,
                        const std::string& value) {
    std::string style = node.attribute("style").value();
    std::erase_if(style, [](char c) { return c == ' ' || c == '\n' || c == '\t'; });
    return (";" + style).find(";" + property + ":" + value) != std::string::npos;
  }

  static bool Hidden(const pugi::xml_node& node) {
    const auto says = [&](const char* property, const char* value) {
      return node.attribute(property).value() == std::string(value) ||
             StyleSays(node, property, value);
    };
    return says("display", "none") || says("visibility", "hidden") ||
           says("visibility", "collapse");
  }

  static std::vector<std::string> NamesWith(const pugi::xml_node& node,
                                            const std::vector<std::string>& outer) {
    std::vector<std::string> names;
    for (const char* key : {"id", "inkscape:label", "class"}) {
      const std::string name = node.attribute(key).value();
      if (!name.empty()) names.push_back(name);
    }
    names.insert(names.end(), outer.begin(), outer.end());
    return names;
  }

  void Walk(const pugi::xml_node& node, const Affine& outer,
            const std::vector<std::string>& outer_names, int depth) {
    if (node.type() != pugi::node_element || walked_ > kMostElements) return;
    if (out_.curves > kMostCurves) return;
    if (++walked_ > kMostElements) {
      Complain(
          LineOf(node), LabelOf(node), "",
          "more than " + std::to_string(kMostElements) + " elements with all uses carried out");
      return;
    }
    if (depth > kDeepest) {
      Complain(LineOf(node), LabelOf(node), "",
               "more than " + std::to_string(kDeepest) + " elements within each other");
      return;
    }
    const std::string kind = LocalName(node);
    static const std::vector<std::string> kNeverDrawn = {
        "defs",           "symbol", "metadata", "namedview", "title",  "desc",     "linearGradient",
        "radialGradient", "filter", "marker",   "pattern",   "script", "clipPath", "mask"};
    if (std::find(kNeverDrawn.begin(), kNeverDrawn.end(), kind) != kNeverDrawn.end()) return;
    if (Hidden(node)) {
      left_out_.Add("hidden " + Quoted(kind));
      return;
    }
    std::optional<SvgTextFault> fault;
    const Affine own = ReadTransform(node.attribute("transform").value(), &fault);
    if (fault) Complain(node, "transform", *fault);
    if (StyleSays(node, "transform", "") && !StyleSays(node, "transform", "none")) {
      Complain(LineOf(node), LabelOf(node) + " style", node.attribute("style").value(),
               "transforms in styles are not read", "use the attribute transform");
    }
    const Affine frame = outer * own;
    const std::vector<std::string> names = NamesWith(node, outer_names);
    if (kind == "g" || kind == "a" || kind == "switch") {
      for (const pugi::xml_node& child : node.children()) Walk(child, frame, names, depth + 1);
    } else if (kind == "svg") {
      Nested(node, node, frame, names, depth);
    } else if (kind == "use") {
      Use(node, frame, names, depth);
    } else if (!Shape(node, kind, frame, names)) {
      left_out_.Add(Quoted(kind));
    }
    for (const char* clip : {"clip-path", "mask"}) {
      if (node.attribute(clip)) left_out_.Add(clip);
    }
  }

  // A nested svg, or a symbol placed by `use`; `placing` says where.
  void Nested(const pugi::xml_node& node, const pugi::xml_node& placing, const Affine& frame,
              const std::vector<std::string>& names, int depth) {
    Affine inner = frame;
    if (LocalName(node) == "svg" && LocalName(placing) == "svg") {
      inner = inner * Translation({Number(node, "x"), Number(node, "y")});
    }
    const std::vector<double> view = ViewBox(node);
    if (!view.empty()) {
      const pugi::xml_node& sized = placing.attribute("width") ? placing : node;
      const Vec2 size(Number(sized, "width", view[2]), Number(sized, "height", view[3]));
      inner = inner * ViewBoxFit(view, size, node.attribute("preserveAspectRatio").value());
    }
    for (const pugi::xml_node& child : node.children()) Walk(child, inner, names, depth + 1);
  }

  void Use(const pugi::xml_node& node, const Affine& frame, const std::vector<std::string>& names,
           int depth) {
    std::string target = node.attribute("href").value();
    if (target.empty()) target = node.attribute("xlink:href").value();
    const auto found =
        target.size() > 1 && target[0] == '#' ? by_id_.find(target.substr(1)) : by_id_.end();
    if (found == by_id_.end()) {
      Complain(LineOf(node), LabelOf(node), target, "refers to nothing in this file");
      return;
    }
    const Affine placed = frame * Translation({Number(node, "x"), Number(node, "y")});
    const std::string kind = LocalName(found->second);
    if (kind == "symbol" || kind == "svg") {
      Nested(found->second, node, placed, NamesWith(found->second, names), depth + 1);
    } else {
      Walk(found->second, placed, names, depth + 1);
    }
  }

  bool Shape(const pugi::xml_node& node, const std::string& kind, const Affine& frame,
             const std::vector<std::string>& names) {
    std::vector<DrawnPath> paths;
    std::optional<SvgTextFault> fault;
    if (kind == "path") {
      paths = ReadPathData(node.attribute("d").value(), &fault);
      if (fault) Complain(node, "d", *fault);
    } else if (kind == "polyline" || kind == "polygon") {
      const std::vector<double> numbers = ReadNumbers(node.attribute("points").value(), &fault);
      if (!fault && numbers.size() % 2 == 1) fault = {0, "an odd count of numbers"};
      if (fault) Complain(node, "points", *fault);
      paths.push_back(Polyline(numbers, kind == "polygon"));
    } else if (kind == "line") {
      const Vec2 a(Number(node, "x1"), Number(node, "y1"));
      const Vec2 b(Number(node, "x2"), Number(node, "y2"));
      paths.push_back({{LinePiece(a, b)}, false, {}, "", 0});
    } else if (kind == "rect") {
      paths.push_back(Rectangle(node));
    } else if (kind == "circle" || kind == "ellipse") {
      const double rx = Size(node, kind == "circle" ? "r" : "rx");
      const double ry = kind == "circle" ? rx : Size(node, "ry");
      const Vec2 centre(Number(node, "cx"), Number(node, "cy"));
      if (rx > 0.0 && ry > 0.0) {
        paths.push_back(
            {{ArcPiece{centre, {rx, 0.0}, {0.0, ry}, 0.0, 2.0 * kPi}}, true, {}, "", 0});
      }
    } else {
      return false;
    }
    for (DrawnPath& path : paths) {
      if (path.pieces.empty()) continue;
      for (Piece& piece : path.pieces) piece = Transformed(piece, frame);
      path.names = names;
      path.label = LabelOf(node);
      path.line = LineOf(node);
      if (!out_.Add(std::move(path), file_name_)) return true;
    }
    return true;
  }

  static DrawnPath Polyline(const std::vector<double>& numbers, bool closed) {
    DrawnPath path;
    path.closed = closed;
    const std::size_t n = numbers.size() / 2;
    const auto at = [&](std::size_t i) { return Vec2(numbers[2 * i], numbers[2 * i + 1]); };
    for (std::size_t i = 0; i + 1 < n; ++i) path.pieces.push_back(LinePiece(at(i), at(i + 1)));
    if (closed && n > 2) path.pieces.push_back(LinePiece(at(n - 1), at(0)));
    return path;
  }

  DrawnPath Rectangle(const pugi::xml_node& node) {
    const Vec2 low(Number(node, "x"), Number(node, "y"));
    const Vec2 size(Size(node, "width"), Size(node, "height"));
    DrawnPath path;
    if (size.x() <= 0.0 || size.y() <= 0.0) return path;
    double rx = Number(node, "rx", -1.0), ry = Number(node, "ry", -1.0);
    if (rx < 0.0) rx = std::max(ry, 0.0);
    if (ry < 0.0) ry = rx;
    rx = std::min(rx, size.x() / 2.0);
    ry = std::min(ry, size.y() / 2.0);
    const Vec2 high = low + size;
    const Vec2 corner[] = {low, {high.x(), low.y()}, high, {low.x(), high.y()}};
    const Vec2 along[] = {{rx, 0.0}, {0.0, ry}, {-rx, 0.0}, {0.0, -ry}};
    for (int i = 0; i < 4; ++i) {
      const Vec2 &a = corner[i], &b = corner[(i + 1) % 4];
      const Vec2 from = a + along[i], to = b - along[i];
      if (from != to) path.pieces.push_back(LinePiece(from, to));
      const std::optional<Piece> round =
          EllipseArc(to, b + along[(i + 1) % 4], rx, ry, 0.0, false, true);
      if (rx > 0.0 && ry > 0.0 && round) path.pieces.push_back(*round);
    }
    path.closed = true;
    return path;
  }

  const std::string& text_;
  const std::string& file_name_;
  std::vector<std::ptrdiff_t> line_ends_;
  Vec2 whole_ = Vec2::Constant(kUnset);  // what percentages are of, in user units
  Drawing out_;
  LeftOut left_out_;
  int walked_ = 0;
  std::map<std::string, pugi::xml_node> by_id_;
};

}  // namespace

Drawing ReadSvg(const std::string& text, const std::string& file_name) {
  return SvgReader(text, file_name).Read();
}

}  // namespace lidwright
