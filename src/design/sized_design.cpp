// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/sized_design.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "finish_hinge.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/merit.h"
#include "lidwright/design/stay_choice.h"
#include "lidwright/forces/material_data.h"
#include "lidwright/forces/requirements.h"
#include "search_design.h"
#include "size_ladder.h"

namespace lidwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
// [–] What is foretold of a size may be off by this share: paths change with the width.
constexpr double kForetold = 0.85;
// [–] What is chosen for pivots yet to be found shall bear so much more than is wanted.
constexpr double kForOtherPivots = 1.5;
// [–] Sizes tried on one linkage before the search is made anew, and searches made after the first.
constexpr int kTries = 4, kRounds = 2;
// [–] The merit that a hinge of heavier arms than do must keep under, of that which they do for.
constexpr double kHeavierMerit = 0.95;
// [mm] A hole as measured is for the tube that is so much wider or narrower: press fits and glue.
constexpr double kSameHole_mm = 0.15;

std::string NameOf(const Job& job) {
  return BenchText(job.arms.thickness_mm, Bench::kHole, job.inches) + " " + job.arms.material +
         ", " + BenchText(job.arms.width_mm, Bench::kSize, job.inches) + " wide";
}

// [–] Holding in use before all, then when leaned on; more than enough is no more worth.
double WorthOfHolding(double in_use, double leaned) {
  return std::min(1.0, in_use) + 0.5 * std::min(1.0, leaned);
}

struct Tried {
  Job job;
  double in_use = 0.0, leaned = 0.0;
  bool Holds(bool leaning) const { return in_use >= 1.0 && (!leaning || leaned >= 1.0); }
};

// The lightest sizes that do on these pivots, or better than what is there; where none tried can
// be built there, the slightest that is foretold to hold or else the strongest, for pivots yet to
// be found, with that reserve. Nothing if there is no other.
std::optional<Tried> Choose(const Job& job, const PlateWish& wanted, const HingeForces& forces,
                            const GivenHinge& given, double reserve = 1.0) {
  const Tried here{job, HoldsTimes(forces, false), HoldsTimes(forces, true)};
  const auto worth = [](const Tried& t) { return WorthOfHolding(t.in_use, t.leaned); };
  std::optional<Tried> best;
  for (const bool leaning : {true, false}) {
    if (!leaning && here.Holds(false)) break;
    const SizeLadder ladder(job, wanted, forces, leaning);
    int tries = 0;
    for (const Sizes& sizes : ladder.steps()) {
      if (sizes.in_use < kForetold || (leaning && sizes.leaned < kForetold)) continue;
      if (++tries > kTries) break;
      Tried tried{ladder.With(sizes)};
      const Hinge hinge = JudgeAsGiven(BoxModel(tried.job), given);
      if (!hinge.forces || !ClearsWithAllParts(hinge)) continue;
      tried.in_use = HoldsTimes(*hinge.forces, false);
      tried.leaned = HoldsTimes(*hinge.forces, true);
      if (tried.Holds(leaning)) return tried;
      if (worth(tried) > worth(best ? *best : here)) best = tried;
    }
    if (best && best->Holds(false)) return best;
  }
  if (best) return best;
  const bool leaning = here.Holds(false);
  const SizeLadder ladder(job, wanted, forces, leaning);
  // Arms need not bear what pins and plates do not; where none is foretold to, the strongest may on
  // other pivots.
  const double enough = std::min(reserve, ladder.bears());
  const Sizes *slightest = nullptr, *strongest = nullptr;
  const auto borne = [&](const Sizes& sizes) {
    return leaning ? std::min(sizes.in_use, sizes.leaned) : sizes.in_use;
  };
  for (const Sizes& sizes : ladder.steps()) {
    // How plywood bears at an eye is not foretold from a metal strap's.
    if (job.arms.open.material && FindMaterial(sizes.sheet.material)->brittle) continue;
    if (!strongest || borne(sizes) > borne(*strongest)) strongest = &sizes;
    if (sizes.in_use < 1.0 || borne(sizes) < enough) continue;
    if (!slightest || BulkOf_mm(sizes) < BulkOf_mm(*slightest)) slightest = &sizes;
  }
  const Sizes* sizes = slightest ? slightest : strongest;
  if (sizes) {
    best = Tried{ladder.With(*sizes), sizes->in_use, std::min(sizes->leaned, ladder.bears())};
  }
  return best;
}

// [–] What a hinge is taken for: all parts made before all, then holding in use, then leaned on.
double Worth(const Hinge& hinge) {
  if (!hinge.forces) return 0.0;
  return (ClearsWithAllParts(hinge) ? 2.0 : 0.0) +
         WorthOfHolding(HoldsTimes(*hinge.forces, false), HoldsTimes(*hinge.forces, true));
}
double Worth(const Design& design) {
  return design.hinges.empty() ? -1.0 : Worth(design.hinges[0]);
}

// [N] The load on a pin that the sizes chosen bear when leaned on, as foretold on these pivots.
double BearsWith_n(const BoxModel& box, const Pivots& pivots, const Tried& chosen) {
  return LeantPin(box.task, pivots) * UseOf(box).lean_n * chosen.leaned;
}

bool SameSizes(const Job& a, const Job& b) {
  return a.arms.material == b.arms.material && a.arms.thickness_mm == b.arms.thickness_mm &&
         a.arms.width_mm == b.arms.width_mm && a.arms.bushing_mm == b.arms.bushing_mm &&
         a.plates.case_mm == b.plates.case_mm && a.plates.lid_mm == b.plates.lid_mm;
}

// What shape and holes of arms that somebody has leave open of the job.
Job OpenBesides(const Job& job, const GivenHinge& given) {
  Job left = job;
  OpenSizes& open = left.arms.open;
  if (!given.arm_a && !given.arm_b) return left;
  open.width = open.eye = false;
  const double hole_mm = given.arm_a ? given.arm_a->hole_mm : given.arm_b->hole_mm;
  for (const Tube& tube : Tubes()) {
    if (!open.bushing || tube.inch != job.inches) continue;
    if (!(std::abs(tube.outside_mm - hole_mm) < kSameHole_mm)) continue;
    left.arms.bushing_mm = tube.outside_mm;
    open.bushing = false;
  }
  return left;
}

// What no choice of sizes mends.
void AddStays(const DesignOptions& options, Design& design) {
  std::vector<Hinge>& hinges = design.hinges;
  if (std::all_of(hinges.begin(), hinges.end(), [](const Hinge& h) { return Does(h); })) return;
  const BoxModel box(design.job);
  for (Hinge& hinge : hinges) AddStayWhereNeeded(box, hinge);
  KeepChoices(hinges);
  Hinge& first = hinges.front();
  if (!first.accuracy && AllMet(first.verdicts)) AddAccuracy(box, options.threads, first);
}

// Is `next`, of heavier arms, worth them?
bool IsBetter(const Design& next, const Design& best) {
  if (!Does(best)) return Worth(next) > Worth(best);
  return Does(next) && next.hinges[0].merit.Total() < kHeavierMerit * best.hinges[0].merit.Total();
}

// A search for each of some sizes, each of them chosen by what the one before found. The best is
// kept.
class SizeSearch {
 public:
  SizeSearch(const Job& job, const DesignOptions& options)
      : job_(job), first_(options), options_(options) {
    options_.explain = false;  // a size for which there is no hinge is passed over
  }

  // With the lightest sizes, then with those that hold what was found, until one holds: the first
  // hinge, or a clearly better one that is too weak with the sizes before.
  Design Run() {
    AfterOthers none;
    none.ends_if_weak = true;
    best_ = SearchDesign(BoxModel(StartingSizes(job_)), first_, none);
    if (best_.design.hinges.empty()) {
      best_.design.job = job_;  // no sizes were chosen
      return std::move(best_.design);
    }
    sizes_.push_back(best_.design.job);
    lids_ = best_.lids;
    rounds_ = best_.design.search.rounds;
    for (int round = 0; round < kRounds && Next(); ++round) {
    }
    if (best_.cut_short) Complete();
    return std::move(best_.design);
  }

 private:
  // False if there are no other sizes to be tried.
  bool Next() {
    const bool does = Does(best_.design);
    if (does && !best_.weak) return false;
    const Hinge& hinge = does ? *best_.weak : best_.design.hinges[0];
    if (!hinge.forces) return false;
    const Pivots p = hinge.pivots;
    const GivenHinge found{p.case_a, p.case_b, p.lid_a, p.lid_b, {}, {}};
    const std::optional<Tried> chosen =
        Choose(best_.design.job, job_.plates, *hinge.forces, found, reserve_);
    if (!chosen || std::any_of(sizes_.begin(), sizes_.end(),
                               [&](const Job& other) { return SameSizes(other, chosen->job); })) {
      return false;
    }
    sizes_.push_back(chosen->job);
    const BoxModel box(chosen->job);
    DesignOptions options = options_;
    options.pin_bears_n = BearsWith_n(box, p, *chosen);
    AfterOthers after{lids_, rounds_, !does, !does};
    after.lids.insert(after.lids.begin(), p);
    SearchedDesign next = SearchDesign(box, options, after);
    rounds_ += next.design.search.rounds;
    if (IsBetter(next.design, best_.design)) {
      best_ = std::move(next);
      bears_n_ = options.pin_bears_n;
      if (!best_.lids.empty()) lids_ = best_.lids;
    } else {
      reserve_ *= kForOtherPivots;  // other pivots may ask for more than was foretold
    }
    return true;
  }

  // No sizes do: the whole search with those that come nearest to it.
  void Complete() {
    DesignOptions options = options_;
    options.pin_bears_n = bears_n_;
    SearchedDesign whole = SearchDesign(BoxModel(best_.design.job), options, {lids_, rounds_});
    if (Worth(whole.design) >= Worth(best_.design)) {
      best_ = std::move(whole);
    } else {
      AddRest(BoxModel(best_.design.job), options.threads, best_.design);
    }
  }

  const Job& job_;
  const DesignOptions& first_;
  DesignOptions options_;
  SearchedDesign best_;
  std::vector<Job> sizes_;  // that were searched with
  std::vector<Pivots> lids_;
  int rounds_ = 0;           // of all searches
  double bears_n_ = kUnset;  // DesignOptions::pin_bears_n of the best
  double reserve_ = kForOtherPivots;
};

void TellSizes(Design& design) {
  const Job& job = design.job;
  if (design.hinges.empty() || !design.hinges[0].forces) return;
  const HingeForces& forces = *design.hinges[0].forces;
  const double in_use = HoldsTimes(forces, false), leaned = HoldsTimes(forces, true);
  design.sizes = "arms of " + NameOf(job);
  std::string& text = design.sizes_why;
  if (in_use < 1.0) {
    text = "the strongest tried, and still too weak in use: a wider bay lets stronger ones in";
  } else if (leaned >= 1.0 && design.hinges[0].parts && design.hinges[0].parts->stay) {
    text = "which hold in use; a stay at each end takes what leans on the open lid";
  } else if (leaned >= 1.0) {
    text = "which hold in use and when somebody leans on the open lid";
  } else {
    text =
        "which hold in use; somebody who leans on the open lid is too much for them: a stay from "
        "case to lid takes that load";
  }
}

}  // namespace

double HoldsTimes(const HingeForces& forces, bool leaning) {
  const Strength* weakest = WeakestAsked(forces, leaning);
  return weakest ? weakest->Factor() / weakest->wanted : kInfinite;
}

Design MakeSizedDesign(const Job& job, const DesignOptions& options) {
  if (!job.arms.open.Any()) {
    Design given = MakeDesign(BoxModel(job), options);
    AddStays(options, given);
    return given;
  }
  Design best = SizeSearch(job, options).Run();
  AddStays(options, best);
  TellSizes(best);
  return best;
}

Job SizedFor(const Job& job, const GivenHinge& given, const std::optional<MadeSizes>& made) {
  const OpenSizes& open = job.arms.open;
  if (!open.Any()) return job;
  Job sized = job;
  if (made) {
    if (open.material) sized.arms.material = made->arms.material;
    if (open.thickness) sized.arms.thickness_mm = made->arms.thickness_mm;
    if (open.width) sized.arms.width_mm = made->arms.width_mm;
    if (open.bushing) sized.arms.bushing_mm = made->arms.bushing_mm;
    if (open.eye) sized.arms.eye_mm = made->arms.eye_mm;
    if (std::isnan(sized.plates.case_mm)) sized.plates.case_mm = made->plates.case_mm;
    if (std::isnan(sized.plates.lid_mm)) sized.plates.lid_mm = made->plates.lid_mm;
    KeepRoomAtEdges(sized);
    return sized;
  }
  const Job left = OpenBesides(job, given);
  if (!left.arms.open.Any()) return left;
  const Job start = StartingSizes(left);
  const BoxModel box(start);
  const Hinge hinge = JudgeAsGiven(box, given);
  if (!hinge.forces) return start;
  Hinge held = hinge;  // with a longer row of screws, or a stay
  AddStayWhereNeeded(box, held);
  if (Does(held)) return start;
  const std::optional<Tried> chosen = Choose(start, job.plates, *hinge.forces, given);
  if (!chosen) return start;
  // What is only foretold to hold may not go on these pivots.
  return Worth(JudgeAsGiven(BoxModel(chosen->job), given)) > Worth(hinge) ? chosen->job : start;
}

std::string SizesTaken(const Job& job, const Job& taken) {
  const OpenSizes& open = job.arms.open;
  std::string text;
  const auto add = [&](bool left_open, const std::string& what) {
    if (left_open) text += (text.empty() ? "" : ", ") + what;
  };
  const auto say = [&](double mm) { return BenchText(mm, Bench::kHole, job.inches); };
  add(open.material || open.thickness,
      "arms of " + say(taken.arms.thickness_mm) + " " + taken.arms.material);
  add(open.width && taken.arms.open.width, "arms " + say(taken.arms.width_mm) + " wide");
  add(open.bushing, "bushings of " + say(taken.arms.bushing_mm));
  const auto plate = [&](double wanted_mm, double taken_mm, bool there, const char* what) {
    add(there && std::isnan(wanted_mm) && !std::isnan(taken_mm), what + say(taken_mm));
  };
  plate(job.plates.case_mm, taken.plates.case_mm, job.plates.on_case, "case plates of ");
  plate(job.plates.lid_mm, taken.plates.lid_mm, job.plates.on_lid, "lid plates of ");
  return text;
}

}  // namespace lidwright
