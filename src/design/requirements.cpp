// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "finish_hinge.h"
#include "lidwright/design/design.h"

namespace lidwright {

namespace {

void AddHolds(Requirement what, const Strength* weakest, Verdicts& all) {
  if (!weakest) return;
  Verdict holds = Reckoned(what, Unit::kTimes, weakest->wanted, weakest->Factor());
  if (!holds.met()) holds.detail = "the weakest: " + weakest->part + " " + weakest->how;
  all.push_back(holds);
}

}  // namespace

Verdicts RequirementsOf(const Hinge& hinge) {
  Verdicts all = hinge.verdicts;
  if (hinge.forces) {
    AddHolds(Requirement::kHoldsInUse, Weakest(*hinge.forces, false), all);
    // What leaning does hangs on the stop, which is one of the parts.
    if (hinge.parts) {
      AddHolds(Requirement::kHoldsLeaned, WeakestAsked(*hinge.forces, true), all);
    }
  }
  if (!hinge.parts) return all;
  all.insert(all.end(), hinge.parts->verdicts.begin(), hinge.parts->verdicts.end());
  for (const std::string& fault : hinge.parts->faults) {
    Verdict verdict;
    verdict.what = Requirement::kPartMade;
    verdict.outcome = Outcome::kViolated;
    verdict.detail = fault;
    all.push_back(verdict);
  }
  return all;
}

bool Does(const Hinge& hinge) {
  return AllMet(RequirementsOf(hinge));
}

bool Does(const Design& design) {
  return !design.hinges.empty() && Does(design.hinges.front());
}

bool DoesInUse(const Hinge& hinge) {
  const Verdicts all = RequirementsOf(hinge);
  return std::all_of(all.begin(), all.end(), [](const Verdict& v) {
    return v.met() || v.what == Requirement::kHoldsLeaned;
  });
}

bool ClearsWithAllParts(const Hinge& hinge) {
  const Verdicts all = RequirementsOf(hinge);
  return std::all_of(all.begin(), all.end(), [](const Verdict& v) {
    return v.met() || v.what == Requirement::kHoldsInUse || v.what == Requirement::kHoldsLeaned;
  });
}

}  // namespace lidwright
