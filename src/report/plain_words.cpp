// SPDX-License-Identifier: Apache-2.0
#include "plain_words.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "words.h"

namespace lidwright {
namespace {

// [mm] Less than this is level, or flush.
constexpr double kLevel_mm = 0.05;
// [mm] A butt hinge's pin stands no farther than this behind the wood (common practice, no source).
constexpr double kButtPin_mm = 6.0;

}  // namespace

bool PlainDoes(const PlainHinge& plain) {
  return plain.works && -plain.best.x() <= kButtPin_mm;
}

std::string PlainSentence(const PlainHinge& plain, bool inches) {
  if (plain.works) {
    const auto length = [&](double mm) { return BenchText(mm, Bench::kHole, inches); };
    const std::string at =
        "at x " + length(plain.best.x()) + ", y " + length(plain.best.y()) + " from the rim's back";
    const double behind = -plain.best.x();
    if (PlainDoes(plain)) return "a plain hinge does, with its pin " + at;
    return "a plain hinge clears only with its pin " + length(behind) +
           " behind the ends of the back, " + at +
           ": on brackets that stand out, not let into the edge";
  }
  const auto count = [&](PlainOutcome outcome) {
    return std::count(plain.map.begin(), plain.map.end(), outcome);
  };
  const auto share = [&](PlainOutcome outcome) {
    return std::to_string(count(outcome) * 100 / static_cast<long>(plain.map.size())) + " %";
  };
  return "no plain hinge does: at " + share(PlainOutcome::kRimDigsIn) +
         " of the pins tried the rim digs in at once, at " + share(PlainOutcome::kCollides) +
         " lid and case collide, at " + share(PlainOutcome::kNoAccess) +
         " the open lid blocks the mouth, at " + share(PlainOutcome::kNoRoom) +
         " there is no room" +
         (count(PlainOutcome::kWorks) == 0
              ? ""
              : "; at " + share(PlainOutcome::kWorks) +
                    " it looks as if it would go, but none of the nearest could be proven");
}

namespace {

// How the leaves lie. Let in flush they need a rim that is straight along the back, at the pin.
std::string LeavesWords(const Job& job, const Vec2& pin) {
  constexpr double kFlush_mm = 3.0, kStraight_mm = 0.5;
  const bool arched = std::abs(job.case_form.rim_arch_mm) > kStraight_mm;
  if (!arched && std::abs(pin.y()) <= kFlush_mm) {
    return "; leaves let in flush with rim and lid, the knuckle outside.";
  }
  return std::string(arched ? "; the rim is arched, so no leaf lies flush in it: straps"
                            : "; the pin is off the rim: straps") +
         " screwed to the outside of back and lid, all knuckles on one straight line.";
}

}  // namespace

std::optional<PlainAdvice> PlainFirst(const Design& design) {
  if (design.hinges.empty() || !PlainDoes(design.plain)) return std::nullopt;
  const bool inches = design.job.inches;
  const Vec2& pin = design.plain.best;
  const auto place = [&](double mm, const char* more, const char* less, const char* none) {
    if (std::abs(mm) < kLevel_mm) return std::string(none);
    return BenchText(std::abs(mm), Bench::kHole, inches) + (mm > 0.0 ? more : less);
  };
  PlainAdvice advice{"A plain hinge does here: far less work.",
                     "Its pin stands " +
                         place(pin.x(), " before the back's face", " behind the back's face",
                               "in the back's face") +
                         ", " +
                         place(pin.y(), " above the rim", " below the rim", "level with the rim") +
                         LeavesWords(design.job, pin)};
  const Hinge& hinge = design.hinges.front();
  if (!hinge.parts || !hinge.parts->complete) return advice;
  advice.rest += " The hidden one costs " + std::to_string(PiecesAtEachEnd(*hinge.parts)) +
                 " parts at each end, and " + RoomBehind(hinge, design.job) + " behind.";
  return advice;
}

}  // namespace lidwright
