// SPDX-License-Identifier: Apache-2.0
#include "known_lids.h"

#include <algorithm>
#include <limits>

namespace lidwright {
namespace {

// [mm] A lid that looks as if it missed more than this is not worth a certificate.
constexpr double kNearlyMet_mm = 0.15;
// [mm] Nor is one whose arms seem to lack more room than this.
constexpr double kNearlyRoom_mm = 2.5;

}  // namespace

void KnownLids::Keep(const std::vector<GridLid>& lids) {
  for (const GridLid& lid : lids) {
    const bool fresh = std::none_of(known_.begin(), known_.end(),
                                    [&](const Known& k) { return k.lid.x == lid.x; });
    if (fresh) known_.push_back({lid});
  }
  std::stable_sort(known_.begin(), known_.end(),
                   [](const Known& a, const Known& b) { return ValueOf(a.lid) < ValueOf(b.lid); });
}

bool KnownLids::WorthTrying(const GridLid& lid) {
  return lid.missed_mm <= kNearlyMet_mm && lid.lacks_mm <= kNearlyRoom_mm;
}

std::vector<Pivots> KnownLids::First(std::size_t most) const {
  std::vector<Pivots> first;
  for (const Known& known : known_) {
    if (first.size() == most) break;
    first.push_back(PivotsOf(known.lid.x.data()));
  }
  return first;
}

std::vector<PivotNumbers> KnownLids::FirstApart(std::size_t most, double apart_mm) const {
  std::vector<PivotNumbers> first;
  for (const Known& known : known_) {
    if (first.size() == most) break;
    const Pivots pivots = PivotsOf(known.lid.x.data());
    const bool apart = std::all_of(first.begin(), first.end(), [&](const PivotNumbers& other) {
      return Apart_mm(PivotsOf(other.data()), pivots) >= apart_mm;
    });
    if (apart) first.push_back(known.lid.x);
  }
  return first;
}

double KnownLids::LeastMissed_mm() const {
  double least = std::numeric_limits<double>::infinity();
  for (const Known& known : known_) {
    if (WorthTrying(known.lid)) return 0.0;
    least = std::min(least, std::max(known.lid.missed_mm, known.lid.lacks_mm));
  }
  return least;
}

std::optional<Pivots> KnownLids::Nearest() const {
  std::optional<Pivots> nearest;
  double least = std::numeric_limits<double>::infinity();
  for (const Known& known : known_) {
    if (!(known.lid.missed_mm < least)) continue;
    least = known.lid.missed_mm;
    nearest = PivotsOf(known.lid.x.data());
  }
  return nearest;
}

}  // namespace lidwright
