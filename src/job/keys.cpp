// SPDX-License-Identifier: Apache-2.0
#include "job/keys.h"

#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {

std::string Choices::Text() const {
  std::string all;
  for (const std::string& word : words) all += (all.empty() ? "" : ", ") + word;
  return all + (others ? ", or another" : "");
}

Key Key::Of(Choices which) const {
  Key key = *this;
  key.choices = std::move(which);
  return key;
}

Key Key::Once(const std::string& name) const {
  Key key = *this;
  key.earlier = name;
  return key;
}

Key Key::With(GoesWith which) const {
  Key key = *this;
  key.goes_with = which;
  return key;
}

Key Key::WrittenIfOther() const {
  Key key = *this;
  key.written_if_other = true;
  return key;
}

Key Key::Loaded(std::function<bool(std::size_t)> by) const {
  Key key = *this;
  key.load = std::move(by);
  return key;
}

std::string Key::Parent() const {
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? "" : path.substr(0, dot);
}

std::string Key::Name() const {
  const std::size_t dot = path.rfind('.');
  return dot == std::string::npos ? path : path.substr(dot + 1);
}

bool Key::InList() const {
  return path.find("[]") != std::string::npos;
}

Default Word(const std::string& word) {
  return {false, word, {}, [word] { return word; }};
}

Default Preset(double value, KeyKind kind) {
  std::string text = Text(value);
  if (kind == KeyKind::kLength && value != 0.0) text += " mm";
  if (kind == KeyKind::kFlag) text = value != 0.0 ? "true" : "false";
  return {false, text, [value] { return value; }};
}

Default RoundFigure(const std::string& units, double mm, double in) {
  return Rule(Text(mm) + " mm, or " + InchFraction(kMmPerInch * in) + " in if units are in",
              [&units, mm, in] { return units == "in" ? kMmPerInch * in : mm; });
}

Default Rule(const std::string& text, std::function<double()> number) {
  return {false, text, std::move(number)};
}

Choices UnitChoices() {
  return {{"mm", "in"}, "must be \"mm\" or \"in\"", false, false};
}

Key Section(const std::string& path, const Default& fallback, const std::string& meaning) {
  return {path, KeyKind::kSection, 0, 0, {}, fallback, meaning};
}

Key List(const std::string& path, const Default& fallback, const std::string& meaning) {
  return {path, KeyKind::kList, 0, 0, {}, fallback, meaning};
}

void Append(std::vector<Key> more, std::vector<Key>* keys) {
  for (Key& key : more) keys->push_back(std::move(key));
}

void Clear(const Slot& slot) {
  struct Visitor {
    void operator()(std::monostate) const {}
    void operator()(double* d) const { *d = kUnset; }
    void operator()(std::string* s) const { s->clear(); }
    void operator()(bool* b) const { *b = false; }
    void operator()(unsigned* u) const { *u = 0; }
    void operator()(std::optional<Vec2>* p) const { p->reset(); }
    void operator()(std::optional<Zone>* z) const { z->reset(); }
    void operator()(std::vector<Vec2>* p) const { p->clear(); }
    void operator()(std::vector<Ring>* r) const { r->clear(); }
    void operator()(Outline* o) const { o->vertices.clear(); }
  };
  std::visit(Visitor{}, slot);
}

void Store(double number, const Key& key) {
  if (double* const* real = std::get_if<double*>(&key.slot)) {
    **real = key.kind == KeyKind::kAngle ? number * kRadPerDeg : number;
  } else if (unsigned* const* count = std::get_if<unsigned*>(&key.slot)) {
    **count = static_cast<unsigned>(number);
  } else if (bool* const* flag = std::get_if<bool*>(&key.slot)) {
    **flag = number != 0.0;
  }
}

bool IsEmpty(const Slot& slot) {
  struct Visitor {
    bool operator()(std::monostate) const { return true; }
    bool operator()(const double* d) const { return std::isnan(*d); }
    bool operator()(const std::string* s) const { return s->empty(); }
    bool operator()(const bool*) const { return false; }
    bool operator()(const unsigned*) const { return false; }
    bool operator()(const std::optional<Vec2>* p) const { return !p->has_value(); }
    bool operator()(const std::optional<Zone>* z) const { return !z->has_value(); }
    bool operator()(const std::vector<Vec2>* p) const { return p->empty(); }
    bool operator()(const std::vector<Ring>* r) const { return r->empty(); }
    bool operator()(const Outline* o) const { return o->vertices.empty(); }
  };
  return std::visit(Visitor{}, slot);
}

bool IsDefault(const Key& key, double slack) {
  if (std::string* const* text = std::get_if<std::string*>(&key.slot)) {
    return key.fallback.word && **text == key.fallback.word();
  }
  if (!key.fallback.number) return false;
  double stands = kUnset;
  if (double* const* real = std::get_if<double*>(&key.slot)) stands = **real;
  if (unsigned* const* count = std::get_if<unsigned*>(&key.slot)) stands = **count;
  if (bool* const* flag = std::get_if<bool*>(&key.slot)) stands = **flag ? 1.0 : 0.0;
  double preset = key.fallback.number();
  if (key.kind == KeyKind::kAngle) preset *= kRadPerDeg;
  return stands == preset || std::abs(stands - preset) <= slack * std::abs(preset);
}

void Copy(const Slot& from, const Slot& to) {
  std::visit(
      [&to](auto source) {
        using Pointer = decltype(source);
        if constexpr (!std::is_same_v<Pointer, std::monostate>) *std::get<Pointer>(to) = *source;
      },
      from);
}

std::string Join(const std::string& place, const std::string& name) {
  return place.empty() ? name : place + "." + name;
}

}  // namespace lidwright
