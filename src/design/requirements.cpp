// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/design.h"

namespace lidwright {

Verdicts RequirementsOf(const Hinge& hinge) {
  Verdicts all = hinge.verdicts;
  if (const Strength* weakest = hinge.forces ? Weakest(*hinge.forces, false) : nullptr) {
    Verdict holds =
        Reckoned(Requirement::kHoldsInUse, Unit::kTimes, weakest->wanted, weakest->Factor());
    if (!holds.met()) holds.detail = "the weakest: " + weakest->part + " " + weakest->how;
    all.push_back(holds);
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

}  // namespace lidwright
