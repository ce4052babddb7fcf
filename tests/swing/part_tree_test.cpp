// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/part_tree.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/swing/clearance.h"
#include "random_parts.h"

// Trees of many parts across the width: which of their nodes meet, held to all pairs of parts
// below; what trees of all slabs say, held to the slabs one by one; and how the work grows with the
// slabs.

namespace lidwright {
namespace {

using namespace testing;

/// Parts anywhere across the width, in any order: beside each other, apart, one over the other.
std::vector<Part> Scattered(Dice& dice, Body body, int count) {
  std::vector<Part> parts;
  for (int i = 0; i < count; ++i) {
    // Whole millimetres, so that many end exactly where others begin.
    const int from = dice.Whole(-60, 60), width = dice.Whole(1, 1 + dice.Whole(0, 9));
    const std::vector<Ring> here =
        Mapped(RandomShape(dice, static_cast<Shape>(dice.Whole(0, 5)), 8.0),
               Affine::Similar(0.0, 1.0, RandomPoint(dice, -40, 40, -40, 40)));
    parts.push_back(MakePrism("part", body, from, from + width, here));
  }
  return parts;
}

bool AnyPartsOverlap(const PartTree& p_tree, const PartTree::Node& p, const PartTree& q_tree,
                     const PartTree::Node& q) {
  const auto part_of = [](const PartTree& tree, int edge) -> const Part& {
    const int part = tree.edges()[static_cast<std::size_t>(edge)].part;
    return tree.parts()[static_cast<std::size_t>(part)];
  };
  for (int i = p.first; i < p.first + p.count; ++i) {
    for (int j = q.first; j < q.first + q.count; ++j) {
      if (Overlap(part_of(p_tree, i), part_of(q_tree, j))) return true;
    }
  }
  return false;
}

TEST_CASE("two nodes meet exactly if any two parts below them share a stretch of the width") {
  Dice dice(77);
  long meeting = 0, apart = 0, apart_between_ends = 0;
  for (int k = 0; k < 24; ++k) {
    const PartTree p_tree(Scattered(dice, Body::kLid, dice.Whole(1, 9)));
    const PartTree q_tree(Scattered(dice, Body::kCase, dice.Whole(1, 9)));
    for (const PartTree::Node& p : p_tree.nodes()) {
      for (const PartTree::Node& q : q_tree.nodes()) {
        const bool met = AnyPartsOverlap(p_tree, p, q_tree, q);
        if (Meet(p_tree, p, q_tree, q) != met) FAIL_CHECK("tree " << k << ", met " << met);
        const bool ends = p.z_min_mm < q.z_max_mm && q.z_min_mm < p.z_max_mm;
        (met ? meeting : apart) += 1;
        apart_between_ends += ends && !met;
      }
    }
  }
  CHECK(meeting > 10000);
  CHECK(apart > 10000);
  CHECK(apart_between_ends > 1000);  // what the nodes' ends do not tell
}

constexpr double kHalf_mm = 160.0;  // half the width
constexpr double kFrom_rad = 12.0 * kRadPerDeg, kOpen_rad = 95.0 * kRadPerDeg;

/// A section of a box with a bowed back, an arched rim and a crown, 210 deep and 115 high. Sections
/// as far to the left as to the right are alike, so a tree that goes by place alone puts slabs of
/// both sides together.
Ring Bent(Ring ring, double z) {
  const double share = 1.0 - z * z / (kHalf_mm * kHalf_mm);
  for (Vec2& p : ring) {
    const double up = p.y() > 13.0 ? p.y() * (0.8 + 0.2 * share) : p.y();
    p = Vec2(p.x() - 6.0 * share * (1.0 - p.x() / 210.0),
             up + 4.0 * share * std::clamp((p.y() + 115.0) / 115.0, 0.0, 1.0));
  }
  return ring;
}

Ring CaseRing() {
  return {{0, -115}, {210, -115}, {210, 0}, {200, 0}, {200, -103}, {10, -103}, {10, 0}, {0, 0}};
}

/// A swept lid, its rim at y = 0: flat at back and front, steep between.
Ring LidRing() {
  constexpr int kChords = 12;
  const auto swept = [&](double low_x, double low, double high, int i) {
    const double t = 1.0 - std::abs(1.0 - static_cast<double>(i) / kChords);
    const double x = low_x + (105.0 - low_x) * t, y = low + (high - low) * t * t * (3.0 - 2.0 * t);
    return Vec2(i <= kChords ? x : 210.0 - x, y);
  };
  Ring ring{{0, 0}, {10, 0}};
  for (int i = 0; i <= 2 * kChords; ++i) ring.push_back(swept(10.0, 10.0, 38.0, i));
  ring.insert(ring.end(), {{200, 0}, {210, 0}});
  for (int i = 2 * kChords; i >= 0; --i) ring.push_back(swept(0.0, 13.0, 46.0, i));
  return ring;
}

std::vector<Part> Slabs(Body body, const Ring& ring, int count) {
  std::vector<Part> slabs;
  for (int i = 0; i < count; ++i) {
    const double from = kHalf_mm * (2.0 * i / count - 1.0),
                 to = kHalf_mm * (2.0 * (i + 1) / count - 1.0);
    slabs.push_back({"slab", body, from, to, {Bent(ring, from)}, {Bent(ring, to)}});
  }
  return slabs;
}

/// A lid on four pivots that clears, in `count` slabs.
struct BentBox {
  LidMotion motion =
      LidMotion::Make({{15.5, -48.0}, {28.0, -6.0}, {76.0, -42.0}, {69.5, 1.5}}).value();
  std::vector<Part> lid_slabs, case_slabs;
  explicit BentBox(int count)
      : lid_slabs(Slabs(Body::kLid, LidRing(), count)),
        case_slabs(Slabs(Body::kCase, CaseRing(), count)) {}
  GapReport Least(const PartPair& pair) const {
    return LeastGap(Swing(motion, kFrom_rad, kOpen_rad), {pair});
  }
  KeepReport Keeps(const PartPair& pair) const {
    return KeepsClosedGap(Swing(motion, 0.0, kFrom_rad), ShutPair(pair, 3.0));
  }
};

TEST_CASE("slabs in one tree keep what they keep one by one") {
  BentBox box(24);
  // In any order, and some of them left out, so that nodes have holes.
  Dice dice(5);
  for (std::vector<Part>* slabs : {&box.lid_slabs, &box.case_slabs}) {
    for (std::size_t i = slabs->size() - 1; i > 0; --i) {
      std::swap((*slabs)[i],
                (*slabs)[static_cast<std::size_t>(dice.Whole(0, static_cast<int>(i)))]);
    }
    slabs->resize(17);
  }
  const PartTree lid_tree(box.lid_slabs), case_tree(box.case_slabs);
  const GapReport all = box.Least({&lid_tree, &case_tree});
  const KeepReport kept = box.Keeps({&lid_tree, &case_tree});
  double seen = 1e300, separation = 1e300;
  int pairs = 0;
  for (const Part& lid : box.lid_slabs) {
    for (const Part& fixed : box.case_slabs) {
      if (!Overlap(lid, fixed)) continue;
      const PartTree one(lid), other(fixed);
      const GapReport report = box.Least({&one, &other});
      REQUIRE(report.proven());
      seen = std::min(seen, *report.seen_mm);
      const KeepReport keep = box.Keeps({&one, &other});
      CHECK(keep.kept());
      separation = std::min(separation, keep.separation_mm);
      ++pairs;
    }
  }
  CHECK(pairs >= 10);
  REQUIRE(all.proven());
  CHECK(*all.bound_mm <= seen);
  CHECK(*all.bound_mm >= seen - 2.0 * kGapTolerance_mm);
  CHECK(kept.kept());
  CHECK(kept.separation_mm == Approx(separation).epsilon(1e-12));
}

// Each slab meets one or two of the other body, so twice the slabs may cost a little over twice the
// work. Were nodes taken to fill all the width between their ends, it would be nearly four times.
TEST_CASE("the pairs of nodes that are looked at grow with the slabs, not with their square") {
  long keeps_before = 0, least_before = 0;
  for (const int count : {40, 80, 160}) {
    const BentBox box(count);
    const PartTree lid_tree(box.lid_slabs), case_tree(box.case_slabs);
    const KeepReport keeps = box.Keeps({&lid_tree, &case_tree});
    const GapReport least = box.Least({&lid_tree, &case_tree});
    CAPTURE(count, keeps.node_pairs, least.node_pairs, keeps_before, least_before);
    REQUIRE(keeps.kept());
    REQUIRE(least.proven());
    if (keeps_before > 0) {
      CHECK(static_cast<double>(keeps.node_pairs) < 2.5 * static_cast<double>(keeps_before));
      CHECK(static_cast<double>(least.node_pairs) < 2.5 * static_cast<double>(least_before));
    }
    keeps_before = keeps.node_pairs;
    least_before = least.node_pairs;
  }
}

}  // namespace
}  // namespace lidwright
