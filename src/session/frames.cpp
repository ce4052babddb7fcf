// SPDX-License-Identifier: Apache-2.0
#include "frames.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/names.h"
#include "lidwright/report/page_views.h"

namespace lidwright {
namespace {

// Poses and curves while something moves are this far apart: between them a point 300 mm from the
// pivots is drawn up to 0.2 mm off its path. When the hand rests it is kPageStep_rad.
constexpr double kFrameStep_rad = 4.0 * kRadPerDeg;

// Of a small picture that shows the lid at two angles.
constexpr double kGlimpseStep_rad = 10.0 * kRadPerDeg;

std::string AngleText(double rad) {
  return Fixed(rad * kDegPerRad, 1) + "\u00b0";
}

// The first thing to say: what stands in the way, or how much there is.
std::string Says(const Verdicts& verdicts, bool inches, bool whole) {
  for (const Outcome outcome : {Outcome::kViolated, Outcome::kUndecided}) {
    for (const Verdict& v : verdicts) {
      if (v.outcome != outcome) continue;
      std::string text = OutcomeWord(outcome) + ": " + NameOf(v);
      // A pose has its angle in its name.
      if (v.angle_rad && v.what != Requirement::kPose) text += " at " + AngleText(*v.angle_rad);
      return text;
    }
  }
  std::string text = whole ? "clear: lid, arms and parts" : "the lid is clear";
  if (const Verdict* gap = Find(verdicts, Requirement::kLidToCase); gap && gap->found) {
    text += "; least gap " + BenchText(*gap->found, Bench::kGap, inches);
    if (gap->angle_rad) text += " at " + AngleText(*gap->angle_rad);
  }
  return text + (whole ? "" : "; arms not looked at yet");
}

// The first pivot that lies where nothing can hold it, in words; empty if all lie right. To a step
// of the shop's grid: a place is put on the grid after it was found in its zone.
std::string OutOfRoom(const BoxModel& box, const Pivots& pivots) {
  constexpr double kOfSums_mm = 1e-6;  // zones come of sums of lengths
  const double off = box.job.shop.grid_mm + kOfSums_mm;
  for (const PivotName& pivot : PivotNames()) {
    const bool on_lid = pivot.pin == Member::kLidPinA || pivot.pin == Member::kLidPinB;
    const Zone& zone = on_lid ? box.task.lid_zone : box.task.case_zone;
    const Vec2& at = pivots.*pivot.at;
    const char* way = at.x() < zone.low.x() - off    ? "too far back"
                      : at.x() > zone.high.x() + off ? "too far forward"
                      : at.y() < zone.low.y() - off  ? "too low"
                      : at.y() > zone.high.y() + off ? "too high"
                                                     : nullptr;
    if (way) {
      return PivotNameOf(pivot.pin) + " lies " + way + " to be held";
    }
  }
  return "";
}

// How near the lid comes to each pose that is asked for; nothing where it does not open.
Json PosesPassed(const Verdicts& verdicts, bool inches) {
  Json poses = Json::array();
  for (const Verdict& v : verdicts) {
    if (v.what != Requirement::kPose || !v.found || !v.required) continue;
    const std::string off = BenchRoom(*v.found, *v.required, inches);
    poses.push_back(
        {{"number", v.number}, {"says", "The lid passes " + off + " off."}, {"met", v.met()}});
  }
  return poses;
}

Json Frame(const BoxModel& box, const Hinge& hinge, const Verdicts& verdicts, bool whole) {
  const bool inches = box.job.inches;
  Json frame;
  frame["hinge"] =
      HingeData(box.job, box.solid, box.box, hinge, whole ? kPageStep_rad : kFrameStep_rad);
  frame["whole"] = whole;
  frame["outcome"] = OutcomeWord(OutcomeOf(verdicts));
  const std::string out = OutOfRoom(box, hinge.pivots);
  frame["says"] = (out.empty() ? "" : out + "; ") + Says(verdicts, inches, whole);
  frame["out"] = !out.empty();
  frame["proofs"] = VerdictList(verdicts, inches);
  frame["poses"] = PosesPassed(verdicts, inches);
  // As typed and read back: to the bench's rules, and in full for who wants to know.
  const double unit = inches ? kMmPerInch : 1.0;
  for (const PivotName& pivot : PivotNames()) {
    const Vec2& at = hinge.pivots.*pivot.at;
    frame["places"][pivot.name] = {Text(at.x() / unit, 4), Text(at.y() / unit, 4)};
  }
  return frame;
}

}  // namespace

const std::array<PivotName, 4>& PivotNames() {
  static const std::array<PivotName, 4> kNames{{
      {"case_a", "A0", &Pivots::case_a, Member::kCasePinA},
      {"case_b", "B0", &Pivots::case_b, Member::kCasePinB},
      {"lid_a", "A", &Pivots::lid_a, Member::kLidPinA},
      {"lid_b", "B", &Pivots::lid_b, Member::kLidPinB},
  }};
  return kNames;
}

const PivotName* FindPivot(const std::string& name) {
  for (const PivotName& pivot : PivotNames()) {
    if (name == pivot.name) return &pivot;
  }
  return nullptr;
}

Vec2 OnShopGrid(const Job& job, const Vec2& at) {
  const double grid = job.shop.grid_mm;
  const auto snapped = [&](double mm) {
    const double bounded = std::clamp(mm, -kFarthestPoint_mm, kFarthestPoint_mm);
    return grid > 0.0 ? std::round(bounded / grid) * grid : bounded;
  };
  return {snapped(at.x()), snapped(at.y())};
}

Pivots PivotsToBeginWith(const BoxModel& box) {
  const auto within = [&](const Zone& zone, double x, double y) {
    const Vec2 size = zone.high - zone.low;
    return OnShopGrid(box.job, zone.low + Vec2(x * size.x(), y * size.y()));
  };
  const Zone &low = box.task.case_zone, &high = box.task.lid_zone;
  return {within(low, 0.1, 0.9), within(low, 0.25, 0.75), within(high, 0.3, 0.6),
          within(high, 0.75, 0.4)};
}

Outcome OutcomeOf(const Verdicts& verdicts) {
  const auto any = [&](Outcome outcome) {
    return std::any_of(verdicts.begin(), verdicts.end(),
                       [&](const Verdict& v) { return v.outcome == outcome; });
  };
  return any(Outcome::kViolated)    ? Outcome::kViolated
         : any(Outcome::kUndecided) ? Outcome::kUndecided
                                    : Outcome::kClear;
}

Json LidFrame(const BoxModel& box, const Pivots& pivots) {
  Hinge hinge;
  hinge.character = "as placed";
  hinge.pivots = pivots;
  CertifyOptions options;
  options.threads = 0;  // somebody's hand waits for it
  hinge.verdicts = CertifyLid(box.box, LidMotion::Make(pivots), box.limits, options);
  return Frame(box, hinge, hinge.verdicts, false);
}

Json GlimpseOf(const BoxModel& box, const Hinge& hinge) {
  const bool inches = box.job.inches;
  std::string says;
  if (const Verdict* gap = Find(hinge.verdicts, Requirement::kLidToCase); gap && gap->found) {
    says = "gap " + BenchText(*gap->found, Bench::kGap, inches) + ", ";
  }
  says += "behind " + BenchText(hinge.traits.reach_behind_mm, Bench::kRoom, inches);
  if (!Does(hinge)) says += "; not strong enough yet";
  return {{"hinge", HingeData(box.job, box.solid, box.box, hinge, kGlimpseStep_rad)},
          {"says", says},
          {"does", Does(hinge)}};
}

Json HingeFrame(const BoxModel& box, const Hinge& hinge) {
  return Frame(box, hinge, RequirementsOf(hinge), true);
}

}  // namespace lidwright
