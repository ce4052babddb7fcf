// SPDX-License-Identifier: Apache-2.0
// Holes as they were measured: how far off they are, what that does, which to shift.
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/design/names.h"
#include "session_state.h"

namespace lidwright {
namespace {

// "0.8 mm forward and 0.3 mm down"; nothing for what cannot be measured.
std::string OffText(const Vec2& off, bool inches) {
  const auto along = [&](double mm, const char* up, const char* down) {
    const std::string text = BenchText(std::abs(mm), Bench::kHole, inches);
    const bool none = text == BenchText(0.0, Bench::kHole, inches);
    return none ? std::string() : text + " " + (mm > 0.0 ? up : down);
  };
  const std::string x = along(off.x(), "forward", "back"), y = along(off.y(), "up", "down");
  return x + (x.empty() || y.empty() ? "" : " and ") + y;
}

// Arms that are cut have their holes as far apart as was planned.
std::string ArmText(const char* arm, double longer_mm, bool inches) {
  const std::string text = BenchText(std::abs(longer_mm), Bench::kHole, inches);
  if (text == BenchText(0.0, Bench::kHole, inches)) return "";
  return std::string("Arm ") + arm + " as planned is " + text + " too " +
         (longer_mm > 0.0 ? "short" : "long") + " for them.";
}

}  // namespace

Json Session::State::Built(const Message& message) {
  const std::optional<Pivots> before = PivotsNow();
  if (!before) throw Refusal("there are no pivots yet");
  if (dragged_) throw Refusal("a pivot is still being moved");
  Moment moment = NextMoment();
  moment.planned = history_.now().planned ? history_.now().planned : before;
  Pivots measured;
  for (const PivotName& pivot : PivotNames()) {
    measured.*pivot.at = Place(message, std::string(pivot.name) + "_");
  }
  moment.moved = measured;
  wanted = 0;
  said.clear();
  good = true;
  Add(std::move(moment));
  const Json shown = Shown();
  return shown["now"]["outcome"] == "clear" ? shown : Nearest(message);
}

Json Session::State::BuiltShown() const {
  const Pivots planned = *history_.now().planned, measured = *history_.now().moved;
  const Job& job = Box().job;
  Json rows = Json::array();
  const auto tell = [&](const std::string& text, bool far) {
    if (!text.empty()) rows.push_back({{"says", text}, {"far", far}});
  };
  for (const PivotName& pivot : PivotNames()) {
    const Vec2 off = measured.*pivot.at - planned.*pivot.at;
    const std::string text = OffText(off, job.inches);
    if (text.empty()) continue;
    std::string name = PivotNameOf(pivot.pin);
    name[0] = static_cast<char>(name[0] - 'a' + 'A');
    tell(name + ": " + text + " of where it was to be.", off.norm() > job.shop.drill_error_mm);
  }
  const auto longer = [&](Vec2 Pivots::*low, Vec2 Pivots::*high) {
    return (measured.*high - measured.*low).norm() - (planned.*high - planned.*low).norm();
  };
  tell(ArmText("A", longer(&Pivots::case_a, &Pivots::lid_a), job.inches), true);
  tell(ArmText("B", longer(&Pivots::case_b, &Pivots::lid_b), job.inches), true);
  if (rows.empty()) tell("All four holes are where they were to be.", false);
  return rows;
}

}  // namespace lidwright
