// SPDX-License-Identifier: Apache-2.0
#include "hinge_search.h"

#include <algorithm>
#include <mutex>

#include "lidwright/base/parallel.h"

namespace lidwright {
namespace {

// [mm²] A candidate that misses by more at its samples is not worth a certificate.
constexpr double kNearlyMet_mm2 = 0.05;
// [count] Complete hinges from which each character's descent starts.
constexpr std::size_t kPolished = 6;

Favour Towards(const Favour& base, int character) {
  Favour favour = base;
  if (character == 0) {
    favour.arms = 0.5;
  } else if (character == 1) {
    favour.lift = 4.0;
    favour.arms = 0.005;
  } else {
    favour.extra_gap_mm = 2.5;
    favour.arms = 0.005;
  }
  return favour;
}

}  // namespace

std::optional<Hinge> Completed(const BoxModel& box, const Candidate& candidate, bool* lid_met) {
  const Pivots pivots = Snapped(box.task, candidate.pivots, box.job.shop.grid_mm);
  CertifyOptions options;
  options.all = false;
  Hinge hinge = CertifyHinge(box, pivots, {}, {}, options);
  const auto of_lid = [](const Verdict& v) { return v.what < Requirement::kPlateReaches; };
  if (lid_met) {
    *lid_met = std::all_of(hinge.verdicts.begin(), hinge.verdicts.end(),
                           [&](const Verdict& v) { return v.met() || !of_lid(v); });
  }
  if (!AllMet(hinge.verdicts)) return std::nullopt;
  return hinge;
}

HingeSearchResult SearchHinges(const BoxModel& box, const HingeSearchOptions& options) {
  HingeSearchResult result;
  SearchOptions search;
  search.seeds = options.seeds;
  search.keep = options.keep;
  search.angles = options.angles;
  search.threads = options.threads;
  search.favour = options.favour;
  const auto report = [&](const std::string& what, double share) {
    if (options.progress) options.progress(what, share);
  };
  search.progress = [&](double share) { report("search", share); };
  SearchSummary found = FindLinkages(box.task, search);
  result.record = {found.seeds, found.moving, found.promising, found.refined, 0, 0};

  std::mutex reporting;
  const auto complete = [&](const std::vector<Candidate>& candidates, const std::string& what) {
    std::vector<std::optional<Hinge>> hinges(candidates.size());
    std::vector<char> lid_met(candidates.size(), 0);
    std::size_t done = 0;
    ParallelFor(candidates.size(), options.threads, [&](std::size_t i) {
      bool met = false;
      if (candidates[i].violation <= kNearlyMet_mm2) {
        hinges[i] = Completed(box, candidates[i], &met);
      }
      lid_met[i] = met ? 1 : 0;
      const std::lock_guard<std::mutex> lock(reporting);
      report(what, static_cast<double>(++done) / static_cast<double>(candidates.size()));
    });
    result.record.clearing += std::count(lid_met.begin(), lid_met.end(), 1);
    for (std::optional<Hinge>& hinge : hinges) {
      if (!hinge) continue;
      ++result.record.armed;
      result.hinges.push_back(std::move(*hinge));
    }
  };
  complete(found.candidates, "arms");
  result.lids = std::move(found.candidates);
  if (!options.polish || result.hinges.empty()) return result;

  // Descend again from the complete ones that are best in each respect already.
  std::vector<std::pair<Pivots, int>> starts;
  for (int character = 0; character < 3; ++character) {
    std::vector<const Hinge*> order;
    for (const Hinge& hinge : result.hinges) order.push_back(&hinge);
    std::stable_sort(order.begin(), order.end(), [&](const Hinge* a, const Hinge* b) {
      const Traits &s = a->traits, &t = b->traits;
      if (character == 0) return s.arms_length_mm < t.arms_length_mm;
      if (character == 1) return s.lift_factor < t.lift_factor;
      return s.least_gap_mm > t.least_gap_mm;
    });
    for (std::size_t i = 0; i < std::min(kPolished, order.size()); ++i) {
      starts.push_back({order[i]->pivots, character});
    }
  }
  std::vector<Candidate> polished(starts.size());
  std::size_t done = 0;
  ParallelFor(starts.size(), options.threads, [&](std::size_t i) {
    polished[i] = Refine(box.task, starts[i].first, Towards(options.favour, starts[i].second),
                         options.angles);
    const std::lock_guard<std::mutex> lock(reporting);
    report("characters", static_cast<double>(++done) / static_cast<double>(starts.size()));
  });
  complete(polished, "arms of the best");
  return result;
}

}  // namespace lidwright
