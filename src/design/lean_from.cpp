// SPDX-License-Identifier: Apache-2.0
#include "lean_from.h"

#include <algorithm>
#include <utility>

namespace lidwright {
namespace {

// [count] Lids from which descents lean towards each character.
constexpr std::size_t kFrom = 3;
// [times] How much a descent leans.
constexpr double kLean = 5.0;

std::vector<Leaning> Characters() {
  std::vector<Leaning> all(5);
  all[0].arms = all[1].behind = all[2].lift = all[3].hang = kLean;
  all[4].rattle = all[4].misfit = kLean;
  return all;
}

struct FeltLid {
  PivotNumbers x;
  LidFigures figures;
};

// What is felt of the lids that are worth trying.
std::vector<FeltLid> FeltOf(const LidTask& task, const LidUse& use, const KnownLids& lids) {
  std::vector<FeltLid> felt;
  for (const KnownLids::Known& known : lids.all()) {
    if (!KnownLids::WorthTrying(known.lid)) continue;
    felt.push_back({known.lid.x, FiguresOf(task, use, PivotsOf(known.lid.x.data()))});
  }
  return felt;
}

}  // namespace

std::vector<LidSearch::Leant> LeanFrom(const LidTask& task, const LidUse& use,
                                       const KnownLids& known, const PivotNumbers& best) {
  std::vector<LidSearch::Leant> wanted;
  const std::vector<FeltLid> felt = FeltOf(task, use, known);
  for (const Leaning& leaning : Characters()) {
    std::vector<std::pair<double, const PivotNumbers*>> promising;
    for (const FeltLid& lid : felt) {
      promising.push_back({LidMerit(use, lid.figures, leaning), &lid.x});
    }
    std::stable_sort(promising.begin(), promising.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<PivotNumbers> from{best};
    for (const auto& [value, x] : promising) {
      if (from.size() >= kFrom) break;
      const Pivots pivots = PivotsOf(x->data());
      const bool apart = std::all_of(from.begin(), from.end(), [&](const PivotNumbers& other) {
        return Apart_mm(PivotsOf(other.data()), pivots) >= kLeanApart_mm;
      });
      if (apart) from.push_back(*x);
    }
    for (const PivotNumbers& x : from) wanted.push_back({x, leaning});
  }
  return wanted;
}

}  // namespace lidwright
