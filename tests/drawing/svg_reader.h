// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cctype>
#include <cstdlib>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "lidwright/geometry/vec.h"

/// A strict little reader of XML, enough for the drawings: it throws on anything that is not
/// well-formed and knows none of the writer's habits.
namespace lidwright::testing {

struct Element {
  std::string name;
  std::map<std::string, std::string> attributes;
  std::string text;                 ///< directly inside, entities resolved
  std::vector<std::string> groups;  ///< classes of the elements around it, outermost first

  double Number(const std::string& key) const {
    const auto found = attributes.find(key);
    if (found == attributes.end()) throw std::runtime_error(name + " has no " + key);
    char* end = nullptr;
    const double value = std::strtod(found->second.c_str(), &end);
    if (end == found->second.c_str()) throw std::runtime_error(key + " is no number");
    return value;
  }
  std::string Class() const {
    const auto found = attributes.find("class");
    return found == attributes.end() ? "" : found->second;
  }
  bool In(const std::string& group) const {
    for (const std::string& name_of : groups) {
      if (name_of == group) return true;
    }
    return false;
  }
};

class XmlReader {
 public:
  explicit XmlReader(const std::string& text) : text_(text) {}

  std::vector<Element> Read() {
    std::vector<std::size_t> open;
    std::vector<Element> all;
    bool done = false;
    while (at_ < text_.size()) {
      if (text_[at_] != '<') {
        const std::string words = Until("<");
        for (const char c : words) {
          const auto byte = static_cast<unsigned char>(c);
          if (byte < 0x20 && c != '\n' && c != '\t' && c != '\r') Fail("control character");
        }
        if (open.empty() && words.find_first_not_of(" \n\r\t") != std::string::npos) {
          Fail("text outside the root");
        }
        if (!open.empty()) all[open.back()].text += Resolved(words);
        continue;
      }
      ++at_;
      if (Take('/')) {
        const std::string name = Name();
        Blanks();
        Expect('>');
        if (open.empty() || all[open.back()].name != name) Fail("</" + name + "> closes nothing");
        open.pop_back();
        done = open.empty();
        continue;
      }
      if (done) Fail("a second root");
      Element element;
      element.name = Name();
      for (const std::size_t i : open) {
        if (!all[i].Class().empty()) element.groups.push_back(all[i].Class());
      }
      while (Blanks(), at_ < text_.size() && text_[at_] != '>' && text_[at_] != '/') {
        const std::string key = Name();
        Expect('=');
        Expect('"');
        const std::string value = Until("\"<");
        Expect('"');
        if (!element.attributes.emplace(key, Resolved(value)).second) Fail("doubled " + key);
      }
      const bool empty = Take('/');
      Expect('>');
      all.push_back(element);
      if (!empty) open.push_back(all.size() - 1);
      if (empty && open.empty()) done = true;
    }
    if (!open.empty() || !done) Fail("not closed");
    return all;
  }

 private:
  [[noreturn]] void Fail(const std::string& what) const {
    throw std::runtime_error("not well-formed at " + std::to_string(at_) + ": " + what);
  }
  bool Take(char c) {
    if (at_ >= text_.size() || text_[at_] != c) return false;
    ++at_;
    return true;
  }
  void Expect(char c) {
    if (!Take(c)) Fail(std::string("expected ") + c);
  }
  void Blanks() {
    while (at_ < text_.size() && std::isspace(static_cast<unsigned char>(text_[at_]))) ++at_;
  }
  std::string Name() {
    const std::size_t start = at_;
    while (at_ < text_.size() &&
           (std::isalnum(static_cast<unsigned char>(text_[at_])) || text_[at_] == '-')) {
      ++at_;
    }
    if (at_ == start) Fail("expected a name");
    return text_.substr(start, at_ - start);
  }
  std::string Until(const char* stops) {
    const std::size_t end = text_.find_first_of(stops, at_);
    const std::string piece = text_.substr(at_, end == std::string::npos ? end : end - at_);
    at_ += piece.size();
    return piece;
  }
  std::string Resolved(const std::string& raw) const {
    static const std::map<std::string, std::string> kEntities = {
        {"&amp;", "&"}, {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}};
    std::string resolved;
    for (std::size_t i = 0; i < raw.size();) {
      if (raw[i] != '&') {
        resolved += raw[i++];
        continue;
      }
      const std::size_t end = raw.find(';', i);
      if (end == std::string::npos) Fail("a bare &");
      const auto entity = kEntities.find(raw.substr(i, end - i + 1));
      if (entity == kEntities.end()) Fail("unknown entity");
      resolved += entity->second;
      i = end + 1;
    }
    return resolved;
  }

  const std::string& text_;
  std::size_t at_ = 0;
};

inline std::vector<Element> ReadSvg(const std::string& text) {
  return XmlReader(text).Read();
}

inline std::vector<Element> Named(const std::vector<Element>& all, const std::string& name) {
  std::vector<Element> found;
  for (const Element& element : all) {
    if (element.name == name) found.push_back(element);
  }
  return found;
}

inline std::vector<std::string> TextsOf(const std::vector<Element>& all) {
  std::vector<std::string> texts;
  for (const Element& element : Named(all, "text")) texts.push_back(element.text);
  return texts;
}

/// The end points of the commands of a path of M, L, A and Z, in the file's frame (y down).
inline std::vector<Vec2> PointsOf(const std::string& data) {
  std::vector<Vec2> points;
  const char* at = data.c_str();
  while (*at) {
    const char command = *at++;
    if (command == 'Z' || command == ' ') continue;
    const int numbers = command == 'A' ? 7 : command == 'M' || command == 'L' ? 2 : -1;
    if (numbers < 0) throw std::runtime_error("unknown path command in " + data);
    double value[7];
    for (int i = 0; i < numbers; ++i) {
      char* end = nullptr;
      value[i] = std::strtod(at, &end);
      if (end == at) throw std::runtime_error("number missing in " + data);
      at = end;
    }
    points.push_back({value[numbers - 2], value[numbers - 1]});
  }
  return points;
}

}  // namespace lidwright::testing
