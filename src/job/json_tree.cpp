// SPDX-License-Identifier: Apache-2.0
#include "job/json_tree.h"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <unordered_map>

#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

using nlohmann::json;
using Type = JsonValue::Type;

// Walks over the text in step with the parser's events. The parser itself is no witness for
// positions: it has read one character too many behind a number.
class Cursor {
 public:
  explicit Cursor(const std::string& text) : text_(text) {
    if (text.compare(0, 3, "\xEF\xBB\xBF") == 0) at_ = 3;  // byte order mark
  }

  // Moves to the next token and past its last byte.
  void Next() {
    while (at_ < text_.size() && std::string_view(" \t\r\n,:").find(text_[at_]) != npos) {
      if (text_[at_++] == '\n') ++line_;
    }
    begin_ = at_;
    if (at_ >= text_.size()) return;
    const char first = text_[at_++];
    if (first == '"') {
      while (at_ < text_.size() && text_[at_] != '"') at_ += text_[at_] == '\\' ? 2 : 1;
      at_ = std::min(at_ + 1, text_.size());
    } else if (std::string_view("{}[]").find(first) == npos) {
      while (at_ < text_.size() && std::string_view(" \t\r\n,:{}[]").find(text_[at_]) == npos)
        ++at_;
    }
  }

  int line() const { return line_; }
  std::size_t begin() const { return begin_; }
  std::size_t end() const { return at_; }

 private:
  static constexpr std::size_t npos = std::string_view::npos;
  const std::string& text_;
  std::size_t at_ = 0;
  std::size_t begin_ = 0;
  int line_ = 1;
};

class TreeBuilder : public nlohmann::json_sax<json> {
 public:
  TreeBuilder(const std::string& text, const std::string& file, JsonReading* reading)
      : text_(text), file_(file), reading_(reading), cursor_(text) {}

  bool null() override { return Add(Fresh(Type::kNull)); }
  bool boolean(bool flag) override {
    JsonValue value = Fresh(Type::kFlag);
    value.flag = flag;
    return Add(std::move(value));
  }
  bool number_integer(number_integer_t number) override {
    return AddNumber(static_cast<double>(number));
  }
  bool number_unsigned(number_unsigned_t number) override {
    return AddNumber(static_cast<double>(number));
  }
  bool number_float(number_float_t number, const string_t&) override { return AddNumber(number); }
  bool string(string_t& text) override {
    JsonValue value = Fresh(Type::kText);
    value.text = std::move(text);
    return Add(std::move(value));
  }
  bool binary(binary_t&) override { return false; }
  bool start_object(std::size_t) override { return Open(Type::kObject); }
  bool start_array(std::size_t) override { return Open(Type::kList); }
  bool end_object() override { return Close(); }
  bool end_array() override { return Close(); }

  bool key(string_t& key) override {
    cursor_.Next();
    Level& level = open_.back();
    const auto [earlier, fresh] = level.line_of_key.emplace(key, cursor_.line());
    if (!fresh) {
      Report(cursor_.line(), Place() + Shortened(key, kLongestKey_bytes),
             "the key is given twice, first on line " + std::to_string(earlier->second),
             "keep one of them");
    }
    level.value.keys.push_back(std::move(key));
    return true;
  }

  bool parse_error(std::size_t position, const std::string& last_token,
                   const nlohmann::detail::exception& error) override {
    // The last byte read is the one that does not fit.
    const std::size_t at = std::min(position == 0 ? 0 : position - 1, text_.size());
    const std::size_t newline = at == 0 ? std::string::npos : text_.rfind('\n', at - 1);
    const std::size_t start = newline == std::string::npos ? 0 : newline + 1;
    const int line = 1 + static_cast<int>(std::count(
                             text_.begin(), text_.begin() + static_cast<long>(start), '\n'));
    if (error.id == 406) {  // JSON all right, but beyond a double
      Report(line, "", "the number " + Shortened(last_token, 40) + " is too large", "");
      return false;
    }
    std::string before = text_.substr(start, at - start);
    before.erase(0, before.find_first_not_of(" \t\r"));
    if (before.size() > 40) before.erase(0, before.size() - 40);
    std::string said = error.what();
    const std::size_t from = said.find("syntax error ");
    if (from != std::string::npos) said.erase(0, from + 13);
    Report(line, "",
           "this is not JSON at column " + std::to_string(at - start + 1) + ": " + Plain(said),
           before.empty() ? "" : "just behind: " + Plain(before));
    return false;
  }

 private:
  struct Level {
    JsonValue value;
    std::unordered_map<std::string, int> line_of_key;
  };

  JsonValue Fresh(Type type) {
    cursor_.Next();
    JsonValue value;
    value.type = type;
    value.line = cursor_.line();
    value.begin = cursor_.begin();
    value.end = cursor_.end();
    return value;
  }

  bool AddNumber(double number) {
    JsonValue value = Fresh(Type::kNumber);
    value.number = number;
    return Add(std::move(value));
  }

  bool Add(JsonValue value) {
    if (++count_ > kMostJobValues) {
      Report(value.line, "",
             "the file holds more than " + std::to_string(kMostJobValues) + " values", "");
      return false;
    }
    if (open_.empty()) {
      reading_->root = std::move(value);
    } else {
      open_.back().value.items.push_back(std::move(value));
    }
    return true;
  }

  bool Open(Type type) {
    if (open_.size() >= kDeepestJob) {
      cursor_.Next();
      Report(cursor_.line(), "",
             "lists and objects stand in each other more than " + std::to_string(kDeepestJob) +
                 " deep",
             "");
      return false;
    }
    open_.push_back({Fresh(type), {}});
    return true;
  }

  bool Close() {
    cursor_.Next();
    JsonValue value = std::move(open_.back().value);
    open_.pop_back();
    value.end = cursor_.end();
    return Add(std::move(value));
  }

  // Path of the innermost open object, with the dot that a key needs behind it.
  std::string Place() const {
    std::string place;
    for (std::size_t i = 0; i + 1 < open_.size(); ++i) {
      const JsonValue& value = open_[i].value;
      if (value.type == Type::kObject) {
        place += (place.empty() ? "" : ".") + Shortened(value.keys.back(), kLongestKey_bytes);
      } else {
        place += "[" + std::to_string(value.items.size()) + "]";
      }
    }
    return place.empty() ? place : place + ".";
  }

  // Text that did not parse may be anything, broken UTF-8 included.
  static std::string Plain(std::string text) {
    for (char& c : text) {
      if (static_cast<unsigned char>(c) >= 0x80) c = '?';
    }
    return Shortened(text, 160);
  }

  void Report(int line, const std::string& place, const std::string& rule,
              const std::string& hint) {
    reading_->problems.push_back({file_, line, place, "", rule, hint});
  }

  const std::string& text_;
  const std::string& file_;
  JsonReading* reading_;
  Cursor cursor_;
  std::vector<Level> open_;
  std::size_t count_ = 0;
};

// What the parser would take for the end of the text, or would have no words for.
std::optional<Problem> NotUtf8(const std::string& text) {
  const std::size_t nul = text.find('\0');
  const std::string mark = text.substr(0, 2);
  if (mark == "\xFF\xFE" || mark == "\xFE\xFF" || (nul < 2 && text.size() > 3 && text[1 - nul])) {
    return Problem{"", 0, "", "", "is a text in UTF-16, and JSON is in UTF-8", "save it as UTF-8"};
  }
  if (nul == std::string::npos) return std::nullopt;
  const auto line = std::count(text.begin(), text.begin() + static_cast<long>(nul), '\n');
  return Problem{"",
                 static_cast<int>(line) + 1,
                 "",
                 "",
                 "holds a byte of 0, which is in no text",
                 "is the file damaged?"};
}

}  // namespace

const JsonValue* JsonValue::Find(const std::string& key) const {
  const auto found = std::find(keys.begin(), keys.end(), key);
  return found == keys.end() ? nullptr : &items[static_cast<std::size_t>(found - keys.begin())];
}

JsonReading ReadJson(const std::string& text, const std::string& file_name) {
  JsonReading reading;
  if (text.size() > kLargestJob_bytes) {
    reading.problems.push_back(
        {file_name, 0, "", "",
         "the file is larger than " + std::to_string(kLargestJob_bytes >> 20) + " MiB", ""});
    return reading;
  }
  if (std::optional<Problem> fault = NotUtf8(text)) {
    fault->file = file_name;
    reading.problems.push_back(std::move(*fault));
    return reading;
  }
  TreeBuilder builder(text, file_name, &reading);
  if (!json::sax_parse(text.begin(), text.end(), &builder)) reading.root.reset();
  return reading;
}

std::string Shortened(const std::string& letters, std::size_t bytes) {
  std::size_t end = std::min(bytes, letters.size());
  while (end > 0 && end < letters.size() &&
         (static_cast<unsigned char>(letters[end]) & 0xC0) == 0x80) {
    --end;
  }
  const std::string line = WithoutControls(letters.substr(0, end));
  return end < letters.size() ? line + "…" : line;
}

std::string AsWritten(const std::string& text, const JsonValue& value) {
  std::string line;
  bool blank = false;
  for (std::size_t i = value.begin; i < value.end && line.size() < 80; ++i) {
    if (std::string_view(" \t\r\n").find(text[i]) != std::string_view::npos) {
      blank = true;
      continue;
    }
    if (blank && !line.empty()) line += ' ';
    blank = false;
    line += text[i];
  }
  return Shortened(line, 40);
}

}  // namespace lidwright
