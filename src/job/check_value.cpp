// SPDX-License-Identifier: Apache-2.0
#include "job/check_value.h"

#include <algorithm>
#include <cmath>

#include "job/json_tree.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

std::string At(const std::string& place, std::size_t index) {
  return place + "[" + std::to_string(index) + "]";
}

class ValueCheck {
 public:
  ValueCheck(const Key& key, const std::string& place, Findings* findings)
      : key_(key), place_(place), findings_(*findings) {}

  // Each says whether the value may stand.
  bool operator()(std::monostate) const { return true; }
  bool operator()(const bool*) const { return true; }
  bool operator()(const unsigned* count) const { return Number(*count); }
  bool operator()(const double* number) const {
    if (std::isnan(*number)) return true;
    return Number(key_.kind == KeyKind::kAngle ? *number * kDegPerRad : *number);
  }
  bool operator()(const std::string* text) const {
    if (text->empty()) return true;
    if (key_.max > 0.0 && static_cast<double>(text->size()) > key_.max) {
      return Fault(place_, "must be at most " + Text(key_.max) + " bytes long");
    }
    if (Shortened(*text, text->size()) != *text) {
      return Fault(place_, "must be one line without control characters");
    }
    return key_.kind != KeyKind::kWord || CheckWord(key_, *text, place_, &findings_);
  }
  bool operator()(const std::optional<Vec2>* point) const {
    return !*point || Point(**point, place_);
  }
  bool operator()(const std::optional<Zone>* zone) const {
    if (!*zone) return true;
    const Vec2 &low = (*zone)->low, &high = (*zone)->high;
    if (!Point(low, At(place_, 0)) || !Point(high, At(place_, 1))) return false;
    return (low.array() < high.array()).all() || Fault(place_, "the rectangle is empty");
  }
  bool operator()(const std::vector<Vec2>* points) const {
    if (TooMany(points->size())) return false;
    for (std::size_t i = 0; i < points->size(); ++i) {
      if (!Point((*points)[i], At(place_, i))) return false;
      if (i == 0 || (*points)[i].x() > (*points)[i - 1].x()) continue;
      return Fault(At(place_, i), "must lie beyond the point before");
    }
    return true;
  }
  bool operator()(std::vector<Ring>* rings) const {
    std::size_t points = 0;
    for (const Ring& ring : *rings) points += ring.size();
    if (TooMany(points)) return false;
    for (std::size_t i = 0; i < rings->size(); ++i) {
      for (const Vec2& p : (*rings)[i]) {
        if (!Point(p, At(place_, i))) return false;
      }
      Ring as_written = (*rings)[i];
      for (Vec2& p : as_written) p /= findings_.mm_per_unit();
      if (const auto fault = FaultOf(as_written)) return Fault(At(place_, i), fault->what);
      for (std::size_t j = 0; j < i; ++j) {
        if (!RingsMeet((*rings)[j], (*rings)[i])) continue;
        return Fault(At(place_, i), "crosses or touches the outline " + At(place_, j));
      }
    }
    TurnByNesting(rings);
    return true;
  }
  bool operator()(const Outline*) const { return true; }  // no key of a job

 private:
  bool Fault(const std::string& place, const std::string& rule) const {
    findings_.Complain(place, rule);
    return false;
  }
  bool Number(double number) const {
    const double slack =  // an angle has been turned from degrees and back
        kSameWritten * std::max(std::abs(key_.min), std::abs(key_.max));
    const bool in_range = number >= key_.min - slack && number <= key_.max + slack;
    return in_range || Fault(place_, RangeRule(key_, findings_));
  }
  bool Point(const Vec2& p, const std::string& place) const {
    const bool in_range = (p.array() >= key_.min).all() && (p.array() <= key_.max).all();
    return in_range || Fault(place, RangeRule(key_, findings_));
  }
  bool TooMany(std::size_t points) const {
    if (points <= kMostOutlinePoints) return false;
    Fault(place_, "has more than " + std::to_string(kMostOutlinePoints) + " points");
    return true;
  }

  const Key& key_;
  const std::string& place_;
  Findings& findings_;
};

}  // namespace

std::string RangeRule(const Key& key, const Findings& findings) {
  if (key.kind == KeyKind::kAngle) {
    return "must be from " + Text(key.min) + " to " + Text(key.max) + " deg";
  }
  if (key.kind == KeyKind::kShare || key.kind == KeyKind::kCount) {
    return "must be from " + Text(key.min) + " to " + Text(key.max);
  }
  const std::string low = findings.Shown(key.min);
  return "must be from " + low.substr(0, low.find(' ')) + " to " + findings.Shown(key.max);
}

bool CheckWord(const Key& key, const std::string& word, const std::string& place,
               Findings* findings) {
  const Choices& choices = key.choices;
  const auto& words = choices.words;
  if (choices.others || std::find(words.begin(), words.end(), word) != words.end()) return true;
  std::string rule = choices.rule;
  if (rule.empty()) {
    for (const std::string& known : words) rule += (rule.empty() ? "must be " : " or ") + known;
  }
  const std::string near = choices.near ? Nearest(word, words) : "";
  std::string hint = near.empty() ? "" : "did you mean \"" + near + "\"?";
  const bool said = !words.empty() && rule.find(words.front()) != std::string::npos;
  if (hint.empty() && !said) {
    for (const std::string& known : words) hint += (hint.empty() ? "known: " : ", ") + known;
  }
  findings->Complain(place, rule, hint);
  return false;
}

void CheckValue(const Key& key, const std::string& place, Findings* findings) {
  if (!std::visit(ValueCheck(key, place, findings), key.slot)) Clear(key.slot);
}

}  // namespace lidwright
