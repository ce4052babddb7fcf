// SPDX-License-Identifier: Apache-2.0
#include "explain.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "finish_hinge.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/design/stay_choice.h"
#include "lidwright/job/write_job.h"

namespace lidwright {
namespace {

// [count] Rounds of a search of its own after which a changed job counts as without a hinge, where
// nothing comes of the lids that nearly clear.
constexpr int kRounds = 1;
// [count] The same once no single change let a hinge in.
constexpr int kRoundsAgain = 3;
// [count] The same where room lacks, as that is named first and by how much.
constexpr int kRoundsForRoom = 8;
// [count] The same where a lid that clears is followed.
constexpr int kFollowing = 0;
// [count] Rounds that `fit` makes while nothing is complete.
const int kAsFitted = HingeSearchOptions{}.most_rounds;
// [count] Changes that are told: more are not looked for.
constexpr std::size_t kMostRemedies = 3;

// A thing the maker could give: `give(job, amount)` changes the job; amounts grow. Between an
// amount that fails and the next that works the answer is narrowed to `within`.
struct Concession {
  std::string requirement;
  std::vector<std::string> keys;  // of a job file, those that `give` changes
  std::string unit;
  std::vector<double> amounts;
  double within;
  std::function<void(Job&, double)> give;
  std::function<std::string(const Job&)> say;  // of the changed job
  bool room = false;                           ///< looked for long at once
};

// The lid open, whatever opens it, is as deep from back to front as it is.
struct OpenLidRoom {
  explicit OpenLidRoom(const LidTask& task) : there_mm(task.access_x_mm - task.behind_x_mm) {
    const Pose turn = Pose::Make(task.open_rad, Vec2::Zero());
    Rect2 open;
    for (const Vec2& p : task.lid_hull) open.Add(turn.Turn(p));
    deep_mm = open.high.x() - open.low.x();
  }
  double Lack_mm() const { return std::max(0.0, deep_mm - there_mm); }

  double deep_mm = 0.0;  // of the lid
  double there_mm;       // between the wall behind and how far forward it may stand
};

std::string WhyNoHingeCan(const BoxModel& box, const OpenLidRoom& room) {
  if (!(room.Lack_mm() > 0.0)) return "";
  const bool inches = box.job.inches;
  return "no hinge can: open at " + Text(box.task.open_rad * kDegPerRad, 1) +
         " deg the lid takes " + LengthText_mm(room.deep_mm, inches) +
         " from back to front, and there are " + LengthText_mm(room.there_mm, inches) +
         " between the wall behind and how far forward it may stand over the mouth";
}

// Whether a search is worth while: pivots have room, and the open lid has.
bool HasRoom(const BoxModel& box) {
  return FaultsOf(box.job, box.solid).empty() && !(OpenLidRoom(box.task).Lack_mm() > 0.0);
}

// Where a search for a changed job begins, and how long it goes on.
struct Effort {
  std::vector<Pivots> near;  // lids
  int rounds = 0;            // of its own
  bool only_if_near = false;
};

// Nothing if there is no hinge: one that could be put together with all its parts, a stay among
// them where it needs one. Whether these hold hangs on sizes, not on what is given here. Else its
// pivots and after them the lids that promise most, whether they clear or not.
std::vector<Pivots> LidsAround(const Job& job, const DesignOptions& options, const Effort& effort) {
  const BoxModel box(job);
  if (!HasRoom(box)) return {};
  HingeSearchOptions search;
  search.threads = options.threads;
  search.improve = false;
  search.most_rounds = effort.rounds;
  search.from = effort.near;
  search.only_if_near = effort.only_if_near && !effort.near.empty();
  HingeSearchResult found = SearchHinges(box, search);
  if (found.hinges.empty()) return {};
  Hinge& first = found.hinges.front();
  if (!ClearsWithAllParts(first)) AddStayWhereNeeded(box, first);
  if (!ClearsWithAllParts(first)) return {};
  found.lids.insert(found.lids.begin(), first.pivots);
  return found.lids;
}

// Lengths as the job's maker measures them.
auto LengthWords(const Job& job) {
  return [inches = job.inches](double value) { return LengthText_mm(value, inches); };
}

// `lack_mm` is what the open lid lacks from back to front, whatever the hinge.
void AddRoom(const Job& job, double lack_mm, std::vector<Concession>& all) {
  const auto mm = LengthWords(job);
  if (std::isfinite(job.room.behind_mm)) {
    std::vector<double> amounts{10, 20, 40, 80};
    for (double& amount : amounts) amount += std::ceil(lack_mm);
    all.push_back({"room behind",
                   {"room.behind"},
                   "mm",
                   amounts,
                   2.0,
                   [](Job& j, double by) { j.room.behind_mm += by; },
                   [&job, mm](const Job& j) {
                     return "room behind of " + mm(j.room.behind_mm) + " instead of " +
                            mm(job.room.behind_mm);
                   },
                   true});
  }
  if (std::isfinite(job.room.above_mm)) {
    all.push_back({"room above",
                   {"room.above"},
                   "mm",
                   {20, 60, 150},
                   5.0,
                   [](Job& j, double by) { j.room.above_mm += by; },
                   [&job, mm](const Job& j) {
                     return "room above of " + mm(j.room.above_mm) + " instead of " +
                            mm(job.room.above_mm);
                   },
                   true});
  }
}

void AddSwing(const Job& job, std::vector<Concession>& all) {
  const auto mm = LengthWords(job);
  const auto deg = [](double rad) { return Text(rad * kDegPerRad, 1) + " deg"; };
  all.push_back({"opening angle",
                 {"swing.open_deg"},
                 "deg",
                 {5, 10, 20, 30},
                 2.5,
                 [](Job& j, double by) { j.swing.open_rad -= by * kRadPerDeg; },
                 [&job, deg](const Job& j) {
                   return "opening to " + deg(j.swing.open_rad) + " instead of " +
                          deg(job.swing.open_rad);
                 }});
  all.push_back({"swing gap",
                 {"swing.gap"},
                 "of it",
                 {0.25, 0.5, 0.75},
                 0.25,
                 [](Job& j, double by) { j.swing.gap_mm *= 1.0 - by; },
                 [&job, mm](const Job& j) {
                   return "a swing gap of " + mm(j.swing.gap_mm) + " instead of " +
                          mm(job.swing.gap_mm);
                 }});
}

void AddAccess(const Job& job, std::vector<Concession>& all) {
  const auto mm = LengthWords(job);
  all.push_back(
      {"access with the lid open",
       {"room.open_behind_x", "room.mouth_free"},
       "mm",
       {10, 25, 60},
       5.0,
       [](Job& j, double by) {
         j.room.open_behind_x_mm += by;
         j.room.mouth_free = std::max(
             0.0, j.room.mouth_free - by / (j.case_form.depth_mm - j.case_form.back_wall_mm));
       },
       [mm](const Job& j) {
         return "an open lid that may stand forward to x = " + mm(j.room.open_behind_x_mm) +
                ", leaving " + Text(100.0 * j.room.mouth_free, 0) + " % of the mouth free";
       }});
}

// The lid's rim, and where its pivots may hang.
void AddLid(const Job& job, std::vector<Concession>& all) {
  const auto mm = LengthWords(job);
  if (job.stations.empty()) {
    all.push_back({"height of the lid's rim",
                   {"lid.rim"},
                   "of it",
                   {0.25, 0.5},
                   0.25,
                   [](Job& j, double by) { j.lid.rim_mm *= 1.0 - by; },
                   [&job, mm](const Job& j) {
                     return "a lid rim of " + mm(j.lid.rim_mm) + " instead of " +
                            mm(job.lid.rim_mm);
                   }});
  }
  if (!job.pivots.lid_zone) {
    all.push_back({"how far lid pivots may hang",
                   {"bay.lid_drop"},
                   "mm",
                   {15, 30, 60},
                   15.0,
                   [](Job& j, double by) { j.bay.lid_drop_mm += by; },
                   [&job, mm](const Job& j) {
                     return "lid pivots that may hang " + mm(j.bay.lid_drop_mm) +
                            " below the rim instead of " + mm(job.bay.lid_drop_mm);
                   }});
  }
}

// Plates and arms.
void AddHardware(const Job& job, std::vector<Concession>& all) {
  const auto mm = LengthWords(job);
  if (!job.plates.on_case || !job.plates.on_lid) {
    all.push_back(
        {"pins straight in the wood",
         {"plates.on_case", "plates.on_lid"},
         "",
         {1},
         1.0,
         [](Job& j, double) { j.plates.on_case = j.plates.on_lid = true; },
         [](const Job&) { return std::string("plates instead of pins straight in the wood"); }});
  }
  all.push_back({"width of the arms",
                 {"arms.width", "arms.eye"},
                 "of it",
                 {0.2, 0.4},
                 0.2,
                 [](Job& j, double by) {
                   const double web = j.arms.eye_mm - j.arms.bushing_mm;
                   j.arms.width_mm *= 1.0 - by;
                   j.arms.eye_mm = std::max(j.arms.width_mm, j.arms.bushing_mm + web * (1.0 - by));
                 },
                 [&job, mm](const Job& j) {
                   return "arms " + mm(j.arms.width_mm) + " wide instead of " +
                          mm(job.arms.width_mm);
                 }});
}

// In the order in which they are asked of the maker. Requires that the job outlives them.
std::vector<Concession> ConcessionsFor(const Job& job, double lack_mm) {
  std::vector<Concession> all;
  AddRoom(job, lack_mm, all);
  AddSwing(job, all);
  AddAccess(job, all);
  AddLid(job, all);
  AddHardware(job, all);
  return all;
}

// What the lid that misses least in the search misses when it is certified.
void TellNearest(const BoxModel& box, const HingeSearchResult& found, NoHinge& none) {
  none.linkage = found.nearest.has_value();
  if (!none.linkage) return;
  CertifyOptions options;
  options.depths = true;
  const Hinge& hinge =
      none.nearest_hinge.emplace(CertifyHinge(box, *found.nearest, {}, {}, options));
  none.nearest_hinge->character = "nearest";
  const auto miss = std::find_if(hinge.verdicts.begin(), hinge.verdicts.end(),
                                 [](const Verdict& v) { return !v.met(); });
  if (miss != hinge.verdicts.end()) none.nearest_miss = *miss;
}

Remedy RemedyOf(const Concession& concession, const Job& changed) {
  Remedy remedy{concession.say(changed), {}};
  for (const std::string& key : concession.keys) {
    remedy.changes.push_back({key, TypedText(changed, key)});
  }
  return remedy;
}

bool Sensible(const Job& job) {
  return job.swing.open_rad > job.swing.gap_from_rad + 0.05 &&
         job.bay.lid_drop_mm < job.case_form.height_mm - job.case_form.floor_mm;
}

// How little of one thing lets a hinge in.
class Giving {
 public:
  Giving(const Job& job, const DesignOptions& options, const Concession& concession)
      : job_(job), options_(options), concession_(concession) {}

  Job With(double amount) const {
    Job job = job_;
    concession_.give(job, amount);
    return job;
  }

  /// The smallest amount for which a hinge was found: for the largest that leaves room it has to be
  /// found at all (`again`: for any), from there the lids that clear are followed while the amount
  /// shrinks. What is told is found without them as well, as by who fits the changed job.
  std::optional<double> Least(const std::vector<Pivots>& near, bool again) const {
    std::vector<double> amounts;  // to be tried, the largest last
    for (const double amount : concession_.amounts) {
      if (!Sensible(With(amount))) break;
      if (HasRoom(BoxModel(With(amount)))) amounts.push_back(amount);
    }
    const Effort first{near,
                       concession_.room ? kRoundsForRoom
                       : again          ? kRoundsAgain
                                        : kRounds,
                       !concession_.room && !again};
    std::vector<Pivots> lids;
    std::vector<double> worked;  // ever less
    while (lids.empty() && !amounts.empty()) {
      lids = LidsAround(With(amounts.back()), options_, first);
      if (!lids.empty()) worked.push_back(amounts.back());
      amounts.pop_back();
      if (!again) break;
    }
    if (lids.empty()) return std::nullopt;
    double fails = 0.0;
    const auto clears = [&](double amount) {
      std::vector<Pivots> still = LidsAround(With(amount), options_, {lids, kFollowing});
      if (still.empty()) {
        fails = amount;
        return false;
      }
      worked.push_back(amount);
      lids = std::move(still);
      return true;
    };
    while (!amounts.empty() && clears(amounts.back())) amounts.pop_back();
    while (Open(fails, worked.back())) clears((worked.back() + fails) / 2.0);
    return FoundAnew(std::move(worked));
  }

 private:
  bool Open(double fails, double works) const { return works - fails > concession_.within * 1.01; }

  // Of amounts, ever less, the smallest for which a search from nothing finds a hinge, or one
  // between it and the next.
  std::optional<double> FoundAnew(std::vector<double> amounts) const {
    const auto found = [&](double amount) {
      return !LidsAround(With(amount), options_, {{}, kAsFitted}).empty();
    };
    if (found(amounts.back())) return amounts.back();
    double fails = 0.0;
    do {
      fails = amounts.back();
      amounts.pop_back();
      if (amounts.empty()) return std::nullopt;
    } while (!found(amounts.back()));
    double works = amounts.back();
    while (Open(fails, works)) {
      const double middle = (works + fails) / 2.0;
      (found(middle) ? works : fails) = middle;
    }
    return works;
  }

  const Job& job_;
  const DesignOptions& options_;
  const Concession& concession_;
};

}  // namespace

NoHinge ExplainNoHinge(const BoxModel& box, const HingeSearchResult& found,
                       const DesignOptions& options) {
  NoHinge none;
  const OpenLidRoom room(box.task);
  none.cannot = WhyNoHingeCan(box, room);
  none.failing = none.cannot.empty() ? "no single requirement: several stand against each other"
                                     : "the room for the open lid from back to front";
  TellNearest(box, found, none);
  if (!options.explain) return none;
  const std::vector<Concession> all = ConcessionsFor(box.job, room.Lack_mm());
  // Quickly first; where no change lets a hinge in so, each gets a longer search.
  for (const bool again : {false, true}) {
    for (std::size_t k = 0; k < all.size() && none.remedies.size() < kMostRemedies; ++k) {
      const Concession& concession = all[k];
      if (options.progress) {
        const double share = static_cast<double>(k) / static_cast<double>(all.size());
        options.progress("looking for the smallest change",
                         again ? (1.0 + share) / 2.0 : share / 2.0);
      }
      if (concession.room && again) continue;  // had its long search
      const Giving giving(box.job, options, concession);
      const std::optional<double> least = giving.Least(found.lids, again);
      if (!least) continue;
      if (none.remedies.empty()) {
        none.failing = concession.requirement;
        if (!concession.unit.empty()) none.missed_by = *least;
        none.unit = concession.unit;
      }
      none.remedies.push_back(RemedyOf(concession, giving.With(*least)));
    }
    if (!none.remedies.empty()) break;
  }
  return none;
}

}  // namespace lidwright
