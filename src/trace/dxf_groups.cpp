// SPDX-License-Identifier: Apache-2.0
#include "trace/dxf_groups.h"

#include <charconv>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "trace/drawing.h"

namespace lidwright {
namespace {

// Takes the lines of a text one by one.
class Lines {
 public:
  explicit Lines(const std::string& text) : text_(text) {}
  bool Next(std::string* line) {
    if (number_ == 0 && text_.rfind("\xEF\xBB\xBF", 0) == 0) at_ = 3;  // a byte order mark
    if (at_ >= text_.size()) return false;
    const std::size_t end = std::min(text_.find('\n', at_), text_.size());
    *line = Trimmed(text_.substr(at_, end - at_));
    at_ = end + 1;
    ++number_;
    return true;
  }
  int number() const { return number_; }

 private:
  const std::string& text_;
  std::size_t at_ = 0;
  int number_ = 0;
};

}  // namespace

const DxfGroup* DxfRecord::Find(int code) const {
  for (const DxfGroup& group : groups) {
    if (group.code == code) return &group;
  }
  return nullptr;
}

std::string DxfRecord::Text(int code, const std::string& missing) const {
  const DxfGroup* group = Find(code);
  return group == nullptr ? missing : group->value;
}

std::vector<DxfRecord> ReadDxfRecords(const std::string& text, const std::string& file_name,
                                      Problems* problems) {
  const auto complain = [&](int line, const std::string& value, const std::string& rule,
                            const std::string& hint) {
    problems->push_back(
        {file_name, line, value.empty() ? "" : "group code", Quoted(value), rule, hint});
  };
  std::vector<DxfRecord> records;
  if (text.rfind("AutoCAD Binary DXF", 0) == 0) {
    complain(1, "", "this is a binary DXF file", "save the drawing as ASCII DXF");
    return records;
  }
  Lines lines(text);
  std::string code_text, value;
  while (lines.Next(&code_text)) {
    int code = 0;
    const char* end = code_text.data() + code_text.size();
    const auto [stop, error] = std::from_chars(code_text.data(), end, code);
    const int code_line = lines.number();
    if (error != std::errc() || stop != end || code_text.empty()) {
      const bool first = records.empty();
      complain(code_line, code_text,
               first ? "this is no DXF file: a whole number should stand here"
                     : "a whole number should stand here",
               "");
      return records;
    }
    if (!lines.Next(&value)) {
      complain(code_line, code_text, "the file ends between a group code and its value",
               "it is cut off: export it again");
      return records;
    }
    if (code == 0) {
      if (value == "EOF") return records;
      records.push_back({value, lines.number(), {}});
    } else if (!records.empty()) {
      records.back().groups.push_back({code, value, lines.number()});
    }  // else a comment before the first section
  }
  complain(lines.number(), "", records.empty() ? "this is no DXF file" : "the file has no EOF",
           records.empty() ? "" : "it is cut off: export it again");
  return records;
}

void DxfNumbers::Complain(int line, const std::string& value, const std::string& rule,
                          const std::string& hint) {
  good_ = false;
  if (problems_->size() >= kMostProblems) return;
  problems_->push_back({file_name_, line, Quoted(record_.type), Quoted(value), rule, hint});
}

double DxfNumbers::Value(const DxfGroup& group) {
  const double value = NumberFrom(group.value);
  if (std::isnan(value)) {
    const bool comma = group.value.find(',') != std::string::npos;
    Complain(group.line, group.value,
             "group " + std::to_string(group.code) + " must be a finite number",
             comma ? "decimal points, not commas" : "");
  }
  return value;
}

double DxfNumbers::Real(int code, double missing) {
  if (const DxfGroup* group = record_.Find(code)) return Value(*group);
  if (std::isnan(missing)) {
    Complain(record_.line, "", "group " + std::to_string(code) + " is lacking");
  }
  return missing;
}

int DxfNumbers::Whole(int code, int missing) {
  const double value = Real(code, missing);
  if (std::isnan(value)) return missing;
  if (value != std::round(value) || std::abs(value) > 1e6) {
    Complain(record_.Find(code)->line, record_.Text(code),
             "group " + std::to_string(code) + " must be a whole number");
    return missing;
  }
  return static_cast<int>(value);
}

double DxfNumbers::Positive(int code) {
  const double value = Real(code, kUnset);
  if (value <= 0.0) {
    Complain(record_.Find(code)->line, record_.Text(code),
             "group " + std::to_string(code) + " must be more than 0");
  }
  return value;
}

Vec2 DxfNumbers::Point(int code) {
  return {Real(code, kUnset), Real(code + 10, kUnset)};
}

std::vector<double> DxfNumbers::All(int code) {
  std::vector<double> values;
  for (const DxfGroup& group : record_.groups) {
    if (group.code == code) values.push_back(Value(group));
  }
  return values;
}

}  // namespace lidwright
