// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "gap_case.h"
#include "geos_distance.h"
#include "lidwright/base/check.h"
#include "swing/keeps_all.h"

// What goes round one pair's least gap: the parts' errors, many pairs in one call, tolerances, the
// list of pairs, the gap at one angle. Plain search (brute_gap.h) and GEOS are the oracles.

namespace lidwright {
namespace {

using namespace testing;

constexpr double kInfinity = std::numeric_limits<double>::infinity();

/// One motion and several pairs of parts on it, each with its least gap and its errors.
struct ManyPairs {
  GapCase motion;  // its parts play no role
  std::vector<GapCase> cases;
  std::vector<PartTree> first, second;
  std::vector<PartPair> pairs;
  std::vector<double> truth;  // least gap of the ruled parts less both errors

  double Least() const { return *std::min_element(truth.begin(), truth.end()); }
  // A pair's least gap with its errors added, and the least of all.
  double Sure(std::size_t i) const {
    return truth[i] + 2.0 * (cases[i].first.error_mm + cases[i].second.error_mm);
  }
  double LeastSure() const {
    double least = kInfinity;
    for (std::size_t i = 0; i < truth.size(); ++i) least = std::min(least, Sure(i));
    return least;
  }
};

/// Pairs of any bodies; the least gaps lie within a few tenths of each other, so that every one of
/// them may decide. `ruled` of each four are ruled parts.
ManyPairs RandomPairs(Dice& dice, int k, int count, double most_error, int ruled) {
  ManyPairs many;
  many.motion = RandomMotionCase(dice, 2 + k);  // on four pivots, where all bodies move
  const LoopOracle oracle = many.motion.Oracle();
  for (int i = 0; i < count; ++i) {
    GapCase c = many.motion;
    c.first.body = static_cast<Body>(dice.Whole(0, 3));
    c.second.body = static_cast<Body>((static_cast<int>(c.first.body) + dice.Whole(1, 3)) %
                                      4);  // the four of a linkage
    PutRandomParts(c, dice, oracle, dice.Whole(0, 48), i % 4 < ruled);
    c.first.error_mm = dice.Whole(0, 2) == 0 ? 0.0 : dice.Uniform(0.0, most_error);
    c.second.error_mm = dice.Whole(0, 2) == 0 ? 0.0 : dice.Uniform(0.0, most_error);
    const double errors = c.first.error_mm + c.second.error_mm;
    BringNear(c, dice, oracle, errors + 0.2 + dice.Uniform(0.0, 0.2));
    many.truth.push_back(c.Brute(oracle).gap - errors);
    many.cases.push_back(c);
  }
  for (const GapCase& c : many.cases) {
    many.first.emplace_back(c.first);
    many.second.emplace_back(c.second);
  }
  for (std::size_t i = 0; i < many.cases.size(); ++i) {
    many.pairs.push_back({&many.first[i], &many.second[i]});
  }
  return many;
}

GapReport Bound(const ManyPairs& many, const std::vector<PartPair>& pairs,
                const GapOptions& options = {}) {
  const LidMotion motion = many.motion.Motion();
  return LeastGap(Swing(motion, many.motion.from, many.motion.to), pairs, options);
}

GapReport Hinged(const Part& lid, const Part& chest, const GapOptions& options = {}) {
  const LidMotion motion = LidMotion::MakePlain({-5, 0});
  const PartTree first(lid), second(chest);
  return LeastGap(Swing(motion, 0.0, 1.0), {{&first, &second}}, options);
}

/// A lid and a case whose least gap is 3 mm, when shut.
Part Lid(double error_mm = 0.0) {
  return MakePrism("lid", Body::kLid, 0, 20, {Rectangle(100, 0, 120, 10)}, error_mm);
}
Part Chest(double error_mm = 0.0) {
  return MakePrism("case", Body::kCase, 0, 20, {Rectangle(100, -13, 120, -3)}, error_mm);
}

TEST_CASE("the errors of both parts come off the bound, none of them off the nearest points") {
  for (const auto& [e, f] : {std::pair(0.0, 0.0), {0.5, 0.0}, {0.0, 0.7}, {0.5, 0.7}, {1.4, 1.5}}) {
    const GapReport report = Hinged(Lid(e), Chest(f));
    CAPTURE(e, f);
    CHECK(report.proven());
    CHECK(report.bound_mm.value_or(0.0) <= 3.0 - e - f);
    CHECK(report.bound_mm.value_or(0.0) >= 3.0 - e - f - kGapTolerance_mm);
    CHECK(report.nearest->gap_mm == Approx(3.0));
  }
  for (const double e : {2.9999, 3.0, 3.0001, 50.0}) {  // the true surfaces may meet: said so
    for (const GapReport& report : {Hinged(Lid(e), Chest()), Hinged(Lid(e / 2), Chest(e / 2))}) {
      CHECK(report.bound_mm.value_or(0.0) == Approx(3.0 - e).margin(kGapTolerance_mm));
      CHECK(report.seen_mm.value() == Approx(3.0 + e).margin(1e-6));
      CHECK(OutcomeOf(report, 0.5) == Outcome::kUndecided);
    }
  }
}

TEST_CASE("the bound of many pairs is the least of their gaps less their errors") {
  Dice dice(501);
  long pairs = 0;
  int not_the_nearest = 0;
  double highest = -1e9, lowest = 1e9;
  for (int k = 0; k < 24; ++k) {
    const ManyPairs many = RandomPairs(dice, k, dice.Whole(2, 6), 1.5, k % 4 == 0 ? 1 : 0);
    const double least = many.Least();
    const GapReport report = Bound(many, many.pairs);
    CAPTURE(k, least, report.bound_mm.value_or(0.0), report.nearest->pair);
    CHECK(report.bound_mm.value_or(0.0) <= least + 1e-9);
    CHECK(report.bound_mm.value_or(0.0) >= least - kGapTolerance_mm - 1e-5);
    CHECK(report.proven());
    highest = std::max(highest, report.bound_mm.value_or(0.0) - least);
    lowest = std::min(lowest, report.bound_mm.value_or(0.0) - least);
    REQUIRE(report.nearest->pair < many.pairs.size());
    // The pair named is the one that is surely nearest, its errors added, and the points are its.
    const double sure = many.LeastSure();
    CHECK(many.Sure(report.nearest->pair) <= sure + kGapTolerance_mm + 1e-5);
    CHECK(report.seen_mm.value() >= sure - 1e-9);
    CHECK(report.seen_mm.value() <= sure + kGapTolerance_mm + 1e-5);
    const GapCase& c = many.cases[report.nearest->pair];
    const LoopOracle oracle = c.Oracle();
    const double here =
        DistanceAt(oracle, c.first, c.second, report.nearest->at, report.nearest->z_mm);
    CHECK(std::abs(report.nearest->gap_mm - here) < kGapTolerance_mm + 1e-8);
    // Errors decide: another pair's ruled surfaces come nearer than those of the pair that bounds.
    const GapCase& bounds = many.cases[static_cast<std::size_t>(
        std::min_element(many.truth.begin(), many.truth.end()) - many.truth.begin())];
    const double gap = least + bounds.first.error_mm + bounds.second.error_mm;
    for (const GapCase& other : many.cases) {
      not_the_nearest += other.Brute(oracle, true).gap < gap - 0.1;
    }
    // Neither the order of the pairs nor a pair said twice matters.
    std::vector<PartPair> shuffled(many.pairs.rbegin(), many.pairs.rend());
    shuffled.push_back(many.pairs[0]);
    const GapReport again = Bound(many, shuffled);
    CHECK(again.bound_mm.value_or(0.0) <= least + 1e-9);
    CHECK(again.bound_mm.value_or(0.0) >= least - kGapTolerance_mm - 1e-5);
    pairs += static_cast<long>(many.pairs.size());
  }
  INFO(pairs << " pairs, bound − true from " << lowest << " to " << highest << " mm, "
             << not_the_nearest << " pairs nearer than the one that decides");
  CHECK(pairs > 60);
  CHECK(not_the_nearest > 10);
}

TEST_CASE("one overlapping pair among many is found wherever it stands in the list") {
  Dice dice(502);
  for (int k = 0; k < 8; ++k) {
    ManyPairs many = RandomPairs(dice, k, 4, 0.3, 0);
    const LoopOracle oracle = many.motion.Oracle();
    // A part on itself, as seen from another body halfway through the swing.
    GapCase c = many.cases[0];
    const double theta = (c.from + c.to) / 2;
    const Placing placing = oracle.Place(c.first.body, c.second.body, theta);
    c.second.at_z_min = c.first.at_z_min;
    for (Ring& ring : c.second.at_z_min) {
      for (Vec2& p : ring) p = placing(p);
    }
    c.second.at_z_max = c.second.at_z_min;
    const PartTree first(c.first), second(c.second);
    for (std::size_t at = 0; at <= many.pairs.size(); ++at) {
      std::vector<PartPair> pairs = many.pairs;
      pairs.insert(pairs.begin() + static_cast<std::ptrdiff_t>(at), {&first, &second});
      const GapReport report = Bound(many, pairs);
      CHECK_FALSE(report.bound_mm.has_value());
      CHECK_FALSE(report.proven());
      CHECK(report.nearest->pair == at);
    }
  }
}

TEST_CASE("any tolerance is kept, and a finer one takes more pieces") {
  Dice dice(503);
  const double tolerances[] = {2.0, 0.3, 0.05, 0.002, 1e-4, 1e-6};
  std::array<long, std::size(tolerances)> pieces{};
  std::array<double, std::size(tolerances)> loosest{};
  for (int k = 0; k < 40; ++k) {
    const bool ruled = k % 5 == 4;
    const GapCase c = RandomCase(dice, k, ruled, k % 3 == 0 ? 3.0 : RandomTarget(dice));
    const LoopOracle oracle = c.Oracle();
    const double truth = c.Brute(oracle).gap;
    const LidMotion motion = c.Motion();
    const Swing bounds(motion, c.from, c.to);
    const PartTree first(c.first), second(c.second);
    for (std::size_t t = 0; t < std::size(tolerances); ++t) {
      if (ruled && tolerances[t] < 1e-3) continue;  // finer than the search in two variables
      GapOptions options;
      options.tolerance_mm = tolerances[t];
      const GapReport report = LeastGap(bounds, {{&first, &second}}, options);
      CAPTURE(k, truth, options.tolerance_mm, report.bound_mm.value_or(0.0));
      CHECK(report.bound_mm.value_or(0.0) <= truth + 1e-9);
      CHECK(report.bound_mm.value_or(0.0) >= truth - options.tolerance_mm - (ruled ? 1e-5 : 1e-8));
      CHECK(report.bound_mm.value_or(0.0) >= 0.0);
      CHECK(report.nearest->gap_mm >= truth - 1e-5);
      if (truth > 1.5 * options.tolerance_mm) CHECK(report.proven());
      loosest[t] =
          std::max(loosest[t], (truth - report.bound_mm.value_or(0.0)) / options.tolerance_mm);
      if (!ruled) pieces[t] += report.pieces;
    }
  }
  for (std::size_t t = 0; t + 1 < std::size(tolerances); ++t) {
    CAPTURE(tolerances[t], pieces[t], pieces[t + 1], loosest[t]);
    CHECK(pieces[t] < pieces[t + 1]);
    CHECK(loosest[t] > 0.3);  // a larger tolerance is used, not only allowed
  }
}

TEST_CASE("without pairs nothing is near, and pairs that cannot meet break the contract") {
  const LidMotion motion = LidMotion::MakePlain({-5, 0});
  const Swing bounds(motion, 0.0, 1.0);
  const GapReport report = LeastGap(bounds, {});
  CHECK(*report.bound_mm == kInfinity);
  CHECK(report.proven());
  CHECK(KeepsClosedGap(bounds, {}, 1.0).kept());
  const PartTree lid(Lid()), chest(Chest()), twin(Lid());
  Part beyond = Chest();
  beyond.z_min_mm = 20.0;  // meets the lid's in a point only
  beyond.z_max_mm = 40.0;
  const PartTree far(beyond);
  CHECK_THROWS_AS(LeastGap(bounds, {{&lid, &twin}}), ContractError);
  CHECK_THROWS_AS(LeastGap(bounds, {{&lid, &far}}), ContractError);
  CHECK_THROWS_AS(LeastGap(bounds, {{&lid, &chest}, {&lid, &far}}), ContractError);
}

TEST_CASE("pairs between two lists are all those of different bodies whose z overlap") {
  Dice dice(504);
  const auto parts = [&](int count) {
    std::vector<PartTree> list;
    for (int i = 0; i < count; ++i) {
      const double z = dice.Whole(-4, 4);  // whole numbers, so that many only touch
      list.emplace_back(MakePrism("part", static_cast<Body>(dice.Whole(0, 3)), z,
                                  z + dice.Whole(1, 3), {Rectangle(0, 0, 1, 1)}));
    }
    return list;
  };
  std::size_t found = 0, left_out = 0;
  for (int k = 0; k < 50; ++k) {
    const std::vector<PartTree> first = parts(dice.Whole(0, 12)), second = parts(7);
    const std::vector<PartPair> pairs = PairsBetween(PointersTo(first), PointersTo(second));
    std::size_t expected = 0;
    for (const PartTree& p : first) {
      for (const PartTree& q : second) {
        bool share = false;  // a whole millimetre that lies in both
        for (int z = -5; z < 8; ++z) {
          share |= p.part().z_min_mm <= z && z + 1 <= p.part().z_max_mm && q.part().z_min_mm <= z &&
                   z + 1 <= q.part().z_max_mm;
        }
        const bool wanted = share && p.part().body != q.part().body;
        const auto count = std::count_if(pairs.begin(), pairs.end(), [&](const PartPair& pair) {
          return pair.first == &p && pair.second == &q;
        });
        CHECK(count == (wanted ? 1 : 0));
        expected += wanted;
      }
    }
    CHECK(pairs.size() == expected);
    found += expected;
    left_out += first.size() * second.size() - expected;
  }
  CHECK(found > 200);
  CHECK(left_out > 200);
}

// Gives each of `first` a partner that, with the lid shut, stands in its way.
void PutInTheWay(const std::vector<PartTree>& first, ManyPairs& many) {
  many.second.clear();
  for (GapCase& c : many.cases) {
    c.second.at_z_min = c.second.at_z_max = {Rectangle(-300, -300, 600, 300)};
    many.second.emplace_back(c.second);
  }
  for (std::size_t i = 0; i < many.pairs.size(); ++i) many.pairs[i] = {&first[i], &many.second[i]};
}

TEST_CASE("who follows a gap is told the same as who asks anew, wherever the bodies were before") {
  Dice dice(506);
  int met = 0, apart = 0;
  for (int k = 0; k < 30; ++k) {
    ManyPairs many = RandomPairs(dice, k, dice.Whole(1, 5), 0.5, 0);
    const LidMotion motion = many.motion.Motion();
    if (k % 3 == 0) {  // and some whose parts stand in each other's way
      PutInTheWay(many.first, many);
    }
    GapFollower follower(many.pairs);
    for (int i = 0; i < 24; ++i) {
      // First step by step, then anywhere.
      const double share = i < 16 ? i / 15.0 : dice.Uniform(0.0, 1.0);
      const BodiesAt bodies(motion, std::lerp(many.motion.from, many.motion.to, share));
      const Nearness anew = GapAt(bodies, many.pairs).value();
      const Nearness followed = follower.At(bodies).value();
      CAPTURE(k, i, anew.gap_mm);
      CHECK(followed.gap_mm == Approx(anew.gap_mm).margin(1e-12));
      CHECK((followed.on_first - followed.on_second).norm() ==
            Approx(std::abs(anew.gap_mm)).margin(1e-8));
      (anew.gap_mm > 0.0 ? apart : met) += 1;
    }
  }
  CHECK(apart > 300);
  CHECK(met > 10);
}

TEST_CASE("the gap at one angle is GEOS's, and the pair named is the nearest") {
  const Geos geos;
  Dice dice(505);
  int met = 0, apart = 0;
  for (int k = 0; k < 30; ++k) {
    const ManyPairs many = RandomPairs(dice, k, dice.Whole(1, 5), 0.5, 0);
    const LoopOracle oracle = many.motion.Oracle();
    const LidMotion motion = many.motion.Motion();
    for (int i = 0; i < 5; ++i) {
      const double theta = dice.Uniform(many.motion.from, many.motion.to);
      std::vector<double> gaps;
      for (const GapCase& c : many.cases) {
        const auto placed = [&](const Part& part) {
          std::vector<Ring> rings = part.at_z_min;
          for (Ring& ring : rings) {
            for (Vec2& p : ring) p = oracle.Place(part.body, theta)(p);
          }
          return rings;
        };
        gaps.push_back(geos.Distance(placed(c.first), placed(c.second)));
      }
      const double least = *std::min_element(gaps.begin(), gaps.end());
      const Nearness near = GapAt(BodiesAt(motion, theta), many.pairs).value();
      CAPTURE(k, theta, least, near.gap_mm);
      CHECK(std::max(0.0, near.gap_mm) == Approx(least).margin(1e-8));
      CHECK((near.on_first - near.on_second).norm() == Approx(std::abs(near.gap_mm)).margin(1e-8));
      REQUIRE(near.pair < gaps.size());
      CHECK(gaps[near.pair] == Approx(least).margin(1e-8));
      if (least > 0.0) {
        CHECK((near.on_first - near.on_second).norm() == Approx(least).margin(1e-8));
      }
      (least > 0.0 ? apart : met) += 1;
    }
    // Cases that only the swing keeps apart: closed, a part stands in its partner's way.
    ManyPairs over = many;
    PutInTheWay(many.first, over);
    CHECK(GapAt(BodiesAt(motion, many.motion.to), over.pairs)->gap_mm <
          0.0);  // one holds the other
    ++met;
  }
  CHECK(apart > 100);
  CHECK(met >= 30);
}

TEST_CASE(
    "the quick look at many pairs says of a gap what its bound says, or that it cannot tell") {
  Dice dice(507);
  int clear = 0, violated = 0, undecided = 0;
  for (int k = 0; k < 24; ++k) {
    const ManyPairs many = RandomPairs(dice, k, dice.Whole(1, 5), 1.5, k % 4 == 0 ? 1 : 0);
    const LidMotion motion = many.motion.Motion();
    const Swing swing(motion, many.motion.from, many.motion.to);
    const GapReport report = LeastGap(swing, many.pairs);
    const double least = many.Least();
    for (const double off : {-5.0, -0.1, -0.03, -0.011, -0.005, -1e-4, 0.0, 1e-4, 0.003, 0.5}) {
      const Outcome quick = QuickOutcome(swing, many.pairs, least + off);
      const Outcome whole = OutcomeOf(report, least + off);
      CAPTURE(k, off, quick, whole);
      if (quick == Outcome::kClear) CHECK(whole == Outcome::kClear);
      if (quick == Outcome::kViolated) CHECK(whole != Outcome::kClear);
      if (off <= -0.03 && least + off > 0.0) CHECK(quick == Outcome::kClear);
      if (off >= 1e-4 && least > kGapTolerance_mm) CHECK(quick != Outcome::kClear);
      (quick == Outcome::kClear ? clear : quick == Outcome::kViolated ? violated : undecided) += 1;
    }
    // A part that holds another: no outline is near, and yet nothing is clear.
    const PartTree held(MakePrism("held", many.first[0].body(), 0, 20, {Rectangle(-1, -1, 1, 1)}));
    const PartTree holder(
        MakePrism("holder", many.second[0].body(), 0, 20, {Rectangle(-900, -900, 900, 900)}));
    CHECK(QuickOutcome(swing, {{&held, &holder}}, 0.1) != Outcome::kClear);
    CHECK(QuickOutcome(swing, {}, 1e3) == Outcome::kClear);
  }
  CHECK(clear > 50);
  CHECK(violated > 30);
  CHECK(undecided > 20);
}

}  // namespace
}  // namespace lidwright
