// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "lidwright/base/tolerances.h"
#include "lidwright/swing/motion_bounds.h"
#include "lidwright/swing/part.h"

namespace lidwright {

/// A part made ready for clearance: its edges in a tree of bounding circles. Build once, use for
/// every motion; the part's motion plays no role here.
class ShapedPart {
 public:
  explicit ShapedPart(Part part);

  const Part& part() const { return part_; }

  struct Edge {  // from (a) to (b) at z_min (0) and z_max (1)
    Vec2 a0, b0, a1, b1;
    Vec2 before0, before1;  // the vertex before a
    Vec2 after0, after1;    // the vertex after b
  };
  struct Node {
    Vec2 centre;
    double radius = 0.0;
    int first = 0, count = 0;   // edges
    int left = -1, right = -1;  // children, -1 in a leaf
    double shift = 0.0;         // leaves: no point of the edge is farther than this, at any z,
                                // from the edge at the nearer station
  };
  const std::vector<Edge>& edges() const { return edges_; }
  const std::vector<Node>& nodes() const { return nodes_; }
  /// Distance from `p` to the farthest vertex.
  double Reach(const Vec2& p) const;

 private:
  int Build(int first, int count);
  Part part_;
  std::vector<Edge> edges_;
  std::vector<Node> nodes_;
};

/// Two parts on different bodies with overlapping z, and the gap they must keep.
struct PartPair {
  const ShapedPart* first = nullptr;
  const ShapedPart* second = nullptr;
};

/// Where a least gap is: the two nearest points in the case's frame at the angle.
struct Nearness {
  double gap_mm = kUnsetGap;  ///< distance of the two ruled surfaces there, 0 when they meet
  double theta_rad = 0.0;
  std::size_t pair = 0;  ///< index into the pairs asked about
  Vec2 on_first = Vec2::Zero();
  Vec2 on_second = Vec2::Zero();
  double z_mm = 0.0;
  static constexpr double kUnsetGap = 1e300;
};

/// The certified least gap of a set of pairs over a swing.
struct GapReport {
  double bound_mm = 0.0;  ///< no pair comes closer than this at any angle; ≥ true least − tolerance
  Nearness nearest;       ///< the closest approach found; its gap is ≥ the true least
  bool proven = true;  ///< false if an overlap was found or the finest piece was reached undecided
  long pieces = 0;     ///< pieces of the swing looked at
};

struct GapOptions {
  double tolerance_mm = kGapTolerance_mm;
};

/// The least gap over the whole swing of `bounds`, as a lower bound that holds at every angle and
/// is at most the tolerance below the true least gap of the ruled parts. A part's error_mm is
/// taken off the bound.
///
/// Why it holds: two disjoint outlines can first meet only where a vertex of one meets an edge of
/// the other, and their distance is always that of such a pair. Over a piece of half-width h around
/// angle m a vertex seen from the other body moves within p(m) + τ v(m), |τ| ≤ h, plus M h²/2 where
/// M bounds its acceleration; so for any direction u its distance from the edge is at least
/// min over edge ends e of u·(p − e) − h |u·v| − M h²/2. Between two stations all of these are
/// linear in z, hence least at a station. Pieces whose bound is under the least gap found so far
/// are halved. Near a least gap u·v ≈ 0, so the halving converges with h².
///
/// Requires pairs of different bodies with overlapping z; a ruled part counts over the stretch of z
/// that the two share. If two outlines already overlap at the swing's start, or come nearer than
/// the tolerance (and so may cross), the bound is 0, proven is false and `nearest` says where.
GapReport LeastGap(const LidMotion& motion, const MotionBounds& bounds,
                   const std::vector<PartPair>& pairs, const GapOptions& options = {});

/// Whether every pair keeps at least its `floor_mm` over the swing that starts closed.
struct KeepReport {
  bool kept = false;
  Nearness worst;  ///< where it is first found not kept (or undecided), if not kept
  /// Least speed at which contacts (gap = the pair's closed gap, within kContact_mm) separate, in
  /// mm per radian of lid angle; infinity if nothing touches. Not kept if ≤ 0 (R4).
  double separation_mm = 0.0;
  Vec2 slowest_contact = Vec2::Zero();
};

/// Proves that from closed (bounds.from_rad() must be 0) no pair comes closer than
/// min(its gap when closed, cap_mm), within kContactSlack_mm, that pairs which touch when closed
/// never touch or overlap again, and that contacts separate at once.
/// A contact is proven over [0, t] by a direction u with u·(p − e) ≥ the closed gap at 0 and
/// u·v(0) ≥ M t / 2, which makes u·(p − e) grow all the way; where the bodies touch, u must also
/// have the one body's corner on its far side and the other's solid on its near side, and gets no
/// slack. Safe, not complete: ruled parts that twist and touch in a single point at one end of z
/// may be refused with a separation of −infinity, since one u has to do for all z between two
/// stations.
KeepReport KeepsClosedGap(const LidMotion& motion, const MotionBounds& bounds,
                          const std::vector<PartPair>& pairs, double cap_mm);

/// Least distance of the pairs at one angle (0 if outlines cross or one holds the other).
Nearness GapAt(const LidMotion& motion, double theta_rad, const std::vector<PartPair>& pairs);

/// All pairs between two lists whose bodies differ and whose z intervals overlap.
std::vector<PartPair> PairsBetween(const std::vector<ShapedPart>& first,
                                   const std::vector<ShapedPart>& second);

}  // namespace lidwright
