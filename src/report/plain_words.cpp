// SPDX-License-Identifier: Apache-2.0
#include "plain_words.h"

#include <algorithm>

#include "lidwright/base/bench.h"

namespace lidwright {
namespace {

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

}  // namespace lidwright
