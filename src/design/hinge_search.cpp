// SPDX-License-Identifier: Apache-2.0
#include "hinge_search.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "finish_hinge.h"
#include "known_lids.h"
#include "lean_from.h"
#include "lidwright/base/parallel.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/merit.h"
#include "lidwright/synthesis/search.h"

namespace lidwright {
namespace {

// [–] Lids keep their gaps by so many drill errors more than asked, where the box lets them: a gap
// follows the holes once to twice over, so that most of the lids that are built have it.
constexpr double kReserveInErrors = 4.0;
constexpr double kMostReserve_mm = 1.5;
// [count] Lids put before the certificate at a time, and at most in a round: some more while
// nothing is complete.
constexpr std::size_t kBatch = 6;
constexpr std::size_t kTriedInRound = 20, kTriedForFirst = 40;
// [count] Complete hinges to choose among, before only better ones are tried.
constexpr std::size_t kEnough = 20;
// [merit] What arms and certificates may add to what a lid promises before others come first.
constexpr double kWorthTrying = 1.0;
// [count] Rounds at most once something is complete, and while that does not do all it should.
constexpr int kMostRounds = 5, kMostToDo = 8;
// A search is given up before its rounds are over if after this many [count] the nearest lid misses
// more than this [mm] and came nearer by less than this [–] in all of them. Of 72 random boxes 50
// got a hinge: 48 had a lid within 0.5 mm after the first round, one after the second, one, 8.6 mm
// off till then, after the third; where there is none, the nearest stays where it was.
constexpr std::size_t kHopelessAfter = 3;
constexpr double kHopeless_mm = 2.0, kHardlyNearer = 0.2;
// [count] Rounds after which sizes count as too weak, and as too large for their parts.
constexpr int kWeakAfter = 2, kPartlessAfter = 3;
// [count] Complete hinges of which no one gets all its parts: that is not by chance.
constexpr std::size_t kTellsOfSizes = 6;
// [count] Lids that a search hands on to one with other sizes, and of them those that descend anew.
constexpr std::size_t kHandedOn = 60, kDescendAnew = 16;
// [–] Merits within this of each other are as good.
constexpr double kSame = 0.01, kAtBest = 0.02;
// [count] Complete hinges that get parts at a time, and at most in a round.
constexpr std::size_t kFinished = 4, kFinishedInRound = 24, kFinishedForFirst = 16;
// [count] How often parts are made for the next that leads in something.
constexpr int kAspectRounds = 6;
// [count] Builds that are tried of each that would be offered; rounds of that at most, more until
// the first of all is one of them.
constexpr int kBuilds = 400;
constexpr int kBuildRounds = 6, kBuildRoundsForFirst = 24;
// [count] Small moves that are tried at a time on the whole merit, more while the best does not do
// all that is required, and how often at most.
constexpr std::size_t kMoves = 8, kMovesToDo = 16;
constexpr int kMoveRounds = 3;
// [count] Hinges that are moved to make them strong enough, at most; [grid] by steps of these.
constexpr int kStrengthenRounds = 2;
constexpr std::array<double, 2> kStrengthenSteps{4.0, 12.0};
// [merit] What moves may mend of strength: half of what is wanted is there. [–] A merit that is
// clearly less has at most this share of the other.
constexpr double kNearlyStrong = 3.0, kClearlyLess = 0.97;
// [merit] What heavier arms may mend of strength; [–] what a hinge has to promise for that.
constexpr double kMendedBySizes = 8.0, kWorthHeavier = 0.85;
// [–] A gain that is worth another round of them.
constexpr double kWorthMoving = 0.003;

LidUse UseFor(const BoxModel& box, const HingeSearchOptions& options) {
  LidUse use = UseOf(box);
  if (!std::isnan(options.pin_bears_n)) {
    use.pin_bears_n = std::min(use.pin_bears_n, options.pin_bears_n);
  }
  return use;
}

class HingeSearch {
 public:
  HingeSearch(const BoxModel& box, const HingeSearchOptions& options)
      : box_(box),
        options_(options),
        use_(UseFor(box, options)),
        lids_(box.job, box.solid, box.task, use_,
              std::min(kReserveInErrors * box.job.shop.drill_error_mm, kMostReserve_mm)) {
    search_.threads = options.threads;
  }

  HingeSearchResult Run() {
    const PivotWish& wish = box_.task.pinned;
    if (wish.case_a && wish.case_b && wish.lid_a && wish.lid_b) {
      LookAt({NumbersOf({*wish.case_a, *wish.case_b, *wish.lid_a, *wish.lid_b})});
      Complete(1, true);
      FinishLeaders();
    } else {
      FromOthers();
      const bool far = options_.only_if_near && known_.LeastMissed_mm() > kHopeless_mm;
      if (!Enough() && !far && options_.most_rounds > 0) Rounds();
      if (options_.improve && !complete_.empty() && !result_.cut_short) Lean();
    }
    if (options_.improve && !result_.cut_short) {
      Move();
      FinishAspects();
      TryBuilds();
    }
    TellWeak();
    result_.lids = known_.First(kHandedOn);
    for (Candidate& candidate : complete_) result_.hinges.push_back(std::move(candidate.hinge));
    if (result_.hinges.empty()) result_.nearest = known_.Nearest();
    return std::move(result_);
  }

 private:
  struct Candidate {
    Hinge hinge;
    BuildShares shares;                    // to first order
    bool finished = false, tried = false;  // with parts; with trial builds
    bool does = false;                     // all that is required, as far as it is worked out
    bool does_in_use = false;              // the same, leaning left out
    double Merit() const { return hinge.merit.Total(); }  // as far as it is worked out
    bool Whole() const { return finished && hinge.parts && hinge.parts->complete; }
  };
  void Report(const std::string& what, double share) const {
    if (options_.progress) options_.progress(what, share);
  }

  // The best so far where it is another than the one told before.
  void TellBest() {
    if (!options_.found || complete_.empty() || !complete_.front().Whole()) return;
    const PivotNumbers pivots = NumbersOf(complete_.front().hinge.pivots);
    if (told_ == pivots) return;
    told_ = pivots;
    options_.found(complete_.front().hinge);
  }

  // One that does comes before one that is too weak to be leaned on, that before one too weak in
  // use, that before one whose parts cannot all be made, and that before one that has none yet.
  static bool Before(const Candidate& a, const Candidate& b) {
    const auto rank = [](const Candidate& c) {
      if (!c.finished) return 4;
      return !c.Whole() ? 3 : c.does ? 0 : c.does_in_use ? 1 : 2;
    };
    return rank(a) != rank(b) ? rank(a) < rank(b) : a.Merit() < b.Merit();
  }
  void Sort() { std::stable_sort(complete_.begin(), complete_.end(), Before); }

  // Puts the most promising lids before the certificate, until better ones cannot be expected.
  void Complete(std::size_t most, bool all) {
    std::size_t tried = 0;
    while (tried < most) {
      std::vector<std::size_t> batch;
      std::vector<KnownLids::Known>& known = known_.all();
      for (std::size_t i = 0; i < known.size() && batch.size() < kBatch; ++i) {
        if (known[i].tried || (!all && !KnownLids::WorthTrying(known[i].lid))) continue;
        const bool hopeful =
            complete_.size() < kEnough || ValueOf(known[i].lid) < Best() + kWorthTrying;
        if (all || hopeful) batch.push_back(i);
      }
      if (batch.empty()) break;
      std::vector<Pivots> pivots;
      for (const std::size_t i : batch) {
        known[i].tried = true;
        pivots.push_back(PivotsOf(known[i].lid.x.data()));
      }
      tried += batch.size();
      Add(Certified(pivots));
    }
  }

  void Add(std::vector<Candidate> made) {
    for (Candidate& candidate : made) complete_.push_back(std::move(candidate));
    Sort();
  }

  std::vector<Candidate> Certified(const std::vector<Pivots>& pivots) {
    std::vector<std::optional<Hinge>> hinges(pivots.size());
    std::vector<char> met(pivots.size(), 0);
    std::vector<BuildShares> shares(pivots.size());
    ParallelFor(pivots.size(), options_.threads, [&](std::size_t i) {
      bool lid_met = false;
      hinges[i] = Completed(box_, pivots[i], &lid_met);
      met[i] = lid_met ? 1 : 0;
      if (!hinges[i]) return;
      AddForces(box_, *hinges[i]);
      shares[i] = lids_.Builds(NumbersOf(pivots[i]));
      hinges[i]->merit = MeritOf(box_, use_, *hinges[i], shares[i]);
    });
    result_.record.tried += static_cast<long>(pivots.size());
    result_.record.clearing += std::count(met.begin(), met.end(), 1);
    std::vector<Candidate> made;
    for (std::size_t i = 0; i < hinges.size(); ++i) {
      if (!hinges[i]) continue;
      ++result_.record.armed;
      made.push_back({std::move(*hinges[i]), shares[i]});
    }
    return made;
  }

  // Of those with all their parts.
  double Best() const {
    const bool any = !complete_.empty() && complete_.front().Whole();
    return any ? complete_.front().Merit() : std::numeric_limits<double>::infinity();
  }

  void LookAt(const std::vector<PivotNumbers>& all) {
    std::vector<GridLid> looked(all.size());
    ParallelFor(all.size(), options_.threads,
                [&](std::size_t i) { looked[i] = lids_.Look(all[i]); });
    known_.Keep(looked);
  }

  // Whether one whole hinge is there where one is enough.
  bool Enough() const {
    return !options_.improve && !complete_.empty() && complete_.front().Whole();
  }

  // Looks at the lids of a search with other sizes, and descends from the best of them again, as
  // these sizes have other ways.
  void FromOthers() {
    if (options_.from.empty()) return;
    Report("search", 0.0);
    std::vector<PivotNumbers> handed, outside;
    for (const Pivots& pivots : options_.from) {
      // Where one hinge is enough, one whose pivots lie outside their zones is none. Descents lead
      // back into them.
      const PivotNumbers x = NumbersOf(pivots);
      (options_.improve || InZones(box_.task, x) ? handed : outside).push_back(x);
    }
    LookAt(handed);
    if (!options_.improve) {
      Complete(kBatch, false);
      FinishLeaders();
      if (Enough()) return;
    }
    std::vector<LidSearch::Leant> wanted;
    for (const PivotNumbers& x : known_.FirstApart(kDescendAnew, kLeanApart_mm)) {
      wanted.push_back({x, Leaning{}});
    }
    for (std::size_t i = 0; i < outside.size() && wanted.size() < kDescendAnew; ++i) {
      wanted.push_back({outside[i], Leaning{}});
    }
    LookAt(lids_.Lean(wanted, search_));
    Complete(kTriedInRound, false);
    FinishLeaders();
  }

  void Rounds() {
    SearchRecord& record = result_.record;
    std::vector<double> best_of_round, nearest_of_round;
    for (int round = 0; round < options_.most_rounds; ++round) {
      Report("search", static_cast<double>(round) / options_.most_rounds);
      SearchOptions here = search_;
      // What is foretold leads away from some lids that clear: not before anything is complete.
      here.foretell = round % 2 == 0 && (round == 0 || !complete_.empty());
      SearchRound found =
          lids_.Round(static_cast<std::uint64_t>(options_.rounds_before + round), here);
      record.starts += found.starts;
      record.opening += found.opening;
      record.descents += found.descents;
      ++record.rounds;
      if (found.starts == 0) return;  // no pose of the open lid is allowed
      double promised = std::numeric_limits<double>::infinity();
      for (const GridLid& lid : found.lids) {
        if (KnownLids::WorthTrying(lid)) promised = std::min(promised, ValueOf(lid));
      }
      best_of_round.push_back(promised);
      known_.Keep(found.lids);
      const double before = Best();
      Complete(complete_.empty() ? kTriedForFirst : kTriedInRound, false);
      if (complete_.empty()) {
        nearest_of_round.push_back(known_.LeastMissed_mm());
        if (Hopeless(nearest_of_round)) break;
        continue;
      }
      FinishLeaders();
      if (!options_.improve) break;
      result_.cut_short = TooWeak();
      if (result_.cut_short) break;
      record.converged = record.rounds >= options_.least_rounds && Best() > (1.0 - kSame) * before;
      const bool does = complete_.front().does;
      if ((does && record.converged) || record.rounds >= (does ? kMostRounds : kMostToDo)) break;
    }
    const double best = *std::min_element(best_of_round.begin(), best_of_round.end());
    record.rounds_at_best = static_cast<int>(
        std::count_if(best_of_round.begin(), best_of_round.end(),
                      [&](double value) { return value <= (1.0 + kAtBest) * best; }));
  }

  static bool Hopeless(const std::vector<double>& nearest_of_round) {
    if (nearest_of_round.size() < kHopelessAfter) return false;
    const double now = nearest_of_round.back();
    return now > kHopeless_mm && now > (1.0 - kHardlyNearer) * nearest_of_round.front();
  }

  // Whether other sizes are to be tried before this search goes on.
  bool TooWeak() const {
    if (!options_.ends_if_weak || result_.record.rounds < kWeakAfter) return false;
    const Candidate& first = complete_.front();
    if (first.Whole()) return !first.does;
    return result_.record.rounds >= kPartlessAfter && complete_.size() >= kTellsOfSizes;
  }

  // Descends again towards each character.
  void Lean() {
    Report("characters", 0.0);
    const PivotNumbers best = NumbersOf(complete_.front().hinge.pivots);
    std::vector<Pivots> leant;
    for (const PivotNumbers& x : lids_.Lean(LeanFrom(box_.task, use_, known_, best), search_)) {
      leant.push_back(PivotsOf(x.data()));
    }
    Add(Certified(leant));
    FinishLeaders();
  }

  void Count(Candidate& candidate) const {
    candidate.hinge.merit = MeritOf(box_, use_, candidate.hinge, candidate.shares);
  }

  // Parts, and forces with them.
  void Finish(const std::vector<std::size_t>& which) {
    ParallelFor(which.size(), options_.threads, [&](std::size_t k) {
      Candidate& candidate = complete_[which[k]];
      AddParts(box_, candidate.hinge);
      candidate.does = Does(candidate.hinge);
      candidate.does_in_use = DoesInUse(candidate.hinge);
      candidate.finished = true;
      Count(candidate);
    });
    Sort();
  }

  // Parts for those that may lead: what is not worked out yet only adds to a merit. While none
  // does all that is required, any may lead.
  void FinishLeaders() {
    Report("parts", 0.0);
    for (std::size_t count = 0; count < kFinishedInRound; count += kFinished) {
      std::vector<std::size_t> which;
      const bool open = complete_.empty() || !complete_.front().does;
      if (open && count >= kFinishedForFirst) break;
      for (std::size_t i = 0; i < complete_.size() && which.size() < kFinished; ++i) {
        const Candidate& candidate = complete_[i];
        if (!candidate.finished && (open || candidate.Merit() < Best())) which.push_back(i);
      }
      if (which.empty() || Enough()) break;
      Finish(which);
    }
    TellBest();
  }

  // Parts for those that lead in something, for the choices. One that turns out not to do what the
  // first does leads in nothing, and the next may.
  void FinishAspects() {
    for (int round = 0; round < kAspectRounds; ++round) {
      std::vector<std::size_t> which;
      for (double (*share)(const Merit&) : Aspects()) {
        const std::size_t best = LeadingIn(share);
        const bool fresh = best < complete_.size() && !complete_[best].finished &&
                           std::find(which.begin(), which.end(), best) == which.end();
        if (fresh) which.push_back(best);
      }
      if (which.empty()) return;
      Finish(which);
    }
  }

  // The place of the one with the least share, or complete_.size().
  std::size_t LeadingIn(double (*share)(const Merit&)) const {
    std::size_t best = complete_.size();
    for (std::size_t i = 0; i < complete_.size(); ++i) {
      const Candidate& candidate = complete_[i];
      const Candidate& first = complete_.front();
      const bool less_than_first =
          candidate.finished && (candidate.Whole() < first.Whole() || candidate.does < first.does);
      if (less_than_first || candidate.Merit() >= Best() + kFarOff) continue;
      const bool less = best == complete_.size() ||
                        share(candidate.hinge.merit) < share(complete_[best].hinge.merit);
      if (less) best = i;
    }
    return best;
  }

  // Trial builds of all that would be offered, until none of these is untried.
  void TryBuilds() {
    Report("trial builds", 0.0);
    for (int round = 0; round < kBuildRoundsForFirst; ++round) {
      if (round >= kBuildRounds && complete_.front().tried) return;
      std::vector<const Hinge*> hinges;
      for (const Candidate& candidate : complete_) hinges.push_back(&candidate.hinge);
      std::vector<std::size_t> which;
      for (const Choice& choice : ChoicesAmong(hinges)) {
        if (!complete_[choice.place].tried) which.push_back(choice.place);
      }
      if (which.empty()) return;
      ParallelFor(which.size(), options_.threads, [&](std::size_t k) {
        Candidate& candidate = complete_[which[k]];
        AddTrialBuilds(box_, kBuilds, 1, candidate.hinge);
        Count(candidate);
        candidate.hinge.accuracy.reset();  // the one that is drawn gets more of them
        candidate.tried = true;
      });
      Sort();
    }
  }

  // Small moves of the best hinge; before that wide ones of those that would be better, did they
  // bear somebody who leans on the lid.
  void Move() {
    if (complete_.empty() || !complete_.front().Whole()) return;
    std::vector<Pivots> moved;
    for (int round = 0; round < kStrengthenRounds; ++round) {
      const std::optional<Pivots> weak = WouldLead(moved);
      if (!weak) break;
      Report("strength", static_cast<double>(round) / kStrengthenRounds);
      moved.push_back(*weak);
      for (const double times : kStrengthenSteps) MoveFrom(*weak, times, kMovesToDo);
    }
    for (int round = 0; round < kMoveRounds; ++round) {
      Report("small moves", static_cast<double>(round) / kMoveRounds);
      const bool does = complete_.front().does;
      const double before = Best();
      MoveFrom(complete_.front().hinge.pivots, 1.0, does ? kMoves : kMovesToDo);
      if (complete_.front().does == does && Best() > (1.0 - kWorthMoving) * before) return;
    }
  }

  // Moves in one number or two, those that the lid search thinks most of first; those that promise
  // more than the best are finished.
  void MoveFrom(const Pivots& here, double times, std::size_t most) {
    std::vector<GridLid> moves = lids_.Around(NumbersOf(here), times, search_);
    moves.resize(std::min(moves.size(), most));
    std::vector<Pivots> pivots;
    for (const GridLid& lid : moves) pivots.push_back(PivotsOf(lid.x.data()));
    Add(Certified(pivots));
    FinishLeaders();
  }

  // The whole hinge of least merit that would lead, clearly, if it bore somebody who leans on the
  // lid, apart from those that have been moved.
  std::optional<Pivots> WouldLead(const std::vector<Pivots>& moved) const {
    if (!complete_.front().does) return std::nullopt;
    std::optional<Pivots> pivots;
    double least = kClearlyLess * Best();
    for (const Candidate& candidate : complete_) {
      const Merit& merit = candidate.hinge.merit;
      if (!candidate.Whole() || candidate.does || !candidate.does_in_use) continue;
      if (!(merit.strength <= kNearlyStrong) || merit.Total() - merit.strength >= least) continue;
      const bool fresh = std::all_of(moved.begin(), moved.end(), [&](const Pivots& other) {
        return Apart_mm(other, candidate.hinge.pivots) >= kLeanApart_mm;
      });
      if (!fresh) continue;
      least = merit.Total() - merit.strength;
      pivots = candidate.hinge.pivots;
    }
    return pivots;
  }

  void TellWeak() {
    if (complete_.empty() || !complete_.front().does) return;
    double least = kWorthHeavier * Best();
    for (const Candidate& candidate : complete_) {
      const Merit& merit = candidate.hinge.merit;
      if (!candidate.Whole() || candidate.does || !(merit.strength <= kMendedBySizes)) continue;
      if (merit.Total() - merit.strength >= least) continue;
      least = merit.Total() - merit.strength;
      result_.weak = candidate.hinge;
    }
  }

  const BoxModel& box_;
  const HingeSearchOptions& options_;
  const LidUse use_;
  const LidSearch lids_;
  SearchOptions search_;
  KnownLids known_;
  std::vector<Candidate> complete_;  // by growing merit
  std::optional<PivotNumbers> told_;
  HingeSearchResult result_;
};

}  // namespace

HingeSearchResult SearchHinges(const BoxModel& box, const HingeSearchOptions& options) {
  return HingeSearch(box, options).Run();
}

}  // namespace lidwright
