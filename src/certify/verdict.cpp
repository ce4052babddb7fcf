// SPDX-License-Identifier: Apache-2.0
#include "lidwright/certify/verdict.h"

#include <algorithm>

namespace lidwright {

bool AllMet(const Verdicts& verdicts) {
  return std::all_of(verdicts.begin(), verdicts.end(), [](const Verdict& v) { return v.met(); });
}

const Verdict* Find(const Verdicts& verdicts, Requirement what, Member of) {
  const auto found = std::find_if(verdicts.begin(), verdicts.end(), [&](const Verdict& v) {
    return v.what == what && (of == Member::kNone || v.of == of);
  });
  return found == verdicts.end() ? nullptr : &*found;
}

Verdict Reckoned(Requirement what, Unit unit, double required, double found, bool at_most) {
  Verdict verdict;
  verdict.what = what;
  verdict.unit = unit;
  verdict.at_most = at_most;
  verdict.required = required;
  verdict.found = found;
  const bool met = at_most ? found <= required : found >= required;
  verdict.outcome = met ? Outcome::kClear : Outcome::kViolated;
  return verdict;
}

}  // namespace lidwright
