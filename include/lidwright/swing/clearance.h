// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <stop_token>
#include <utility>
#include <vector>

#include "lidwright/base/tolerances.h"
#include "lidwright/swing/motion.h"
#include "lidwright/swing/part_tree.h"

namespace lidwright {

/// A pose and two points that really are that near.
struct Nearness {
  double gap_mm = 0.0;   ///< distance of the two ruled surfaces there; 0 where they touch or cross,
                         ///< negative where a point is known to lie so deep in the other part
  double at = 0.0;       ///< of the motion's parameter; of a swing the lid angle [rad]
  std::size_t pair = 0;  ///< index into the pairs asked about …
  int first_part = 0, second_part = 0;  ///< … and of its two trees' parts
  Vec2 on_first = Vec2::Zero();         ///< the two points in the case's frame then
  Vec2 on_second = Vec2::Zero();
  double z_mm = 0.0;
};

/// Why a walk over a motion ended.
enum class WalkEnd {
  kProven,     ///< every piece is settled: the bound holds
  kMet,        ///< two parts touch, cross or hold one another, or come nearer than the tolerance
  kTooFine,    ///< the finest piece was reached undecided
  kStopped,    ///< the caller asked
  kUnbounded,  ///< nothing bounds the motion (arms that come parallel)
};

/// The least gap of a set of pairs over a motion, from both sides. Errors of the parts (error_mm)
/// and of rounding are taken off the bound and added to what is seen.
struct GapReport {
  WalkEnd end = WalkEnd::kProven;
  /// No pair comes closer than this anywhere on the motion; may be negative. Nothing unless proven.
  /// Infinity if there was no pair.
  std::optional<double> bound_mm;
  /// The pose and pair for which the gap plus the pair's error is least of all that were looked at:
  /// in truth the least gap is at most `seen_mm`. Nothing if no pose was looked at.
  std::optional<Nearness> nearest;
  std::optional<double> seen_mm;
  long pieces = 0;      ///< pieces of the motion looked at …
  long node_pairs = 0;  ///< … and pairs of nodes of two trees, over all pieces

  bool proven() const { return end == WalkEnd::kProven; }
};

/// What a report says of a gap that is asked for.
enum class Outcome { kClear, kViolated, kUndecided };

/// Clear if the bound is at least `required_mm` less `slack_mm`; violated if what was seen is less
/// than that; else undecided.
Outcome OutcomeOf(const GapReport& report, double required_mm, double slack_mm = 0.0);

struct GapOptions {
  double tolerance_mm = kGapTolerance_mm;
  bool depths = false;   ///< where parts meet, look for how deep: `nearest` is the deepest seen
  std::stop_token stop;  ///< looked at before every piece
};

/// The least gap over the whole motion, as a lower bound that holds at every place of it and is at
/// most the tolerance (and twice the errors of pairs that differ in them) below the true least gap
/// of the ruled parts.
///
/// Why it holds: two disjoint outlines can first meet only where a vertex of one meets an edge of
/// the other, and their distance is always that of such a pair. Over a piece of half-width h around
/// m a vertex seen from the other body moves within p(m) + τ v(m), |τ| ≤ h, plus M h²/2 where M
/// bounds its acceleration; so for any direction u its distance from the edge is at least
/// min over edge ends e of u·(p − e) − h |u·v| − M h²/2. Between two stations all of these are
/// linear in z, hence least at a station. Pieces whose bound is under the least gap found so far
/// are halved. Near a least gap u·v ≈ 0, so the halving converges with h².
///
/// Distances are taken in the side view, at one z: over a step along the width two corners may be a
/// little nearer in space.
///
/// Requires pairs of different bodies with overlapping z; a ruled part counts over the stretch of z
/// that the two share. If two outlines already overlap at the motion's start, or come nearer than
/// the tolerance (and so may cross), the walk ends there: kMet.
GapReport LeastGap(const Motion& motion, const std::vector<PartPair>& pairs,
                   const GapOptions& options = {});

/// Whether LeastGap would call the gap clear, far sooner: ends at the first place that falls short
/// and looks no closer where there is plenty. kClear: it would; kViolated: it would not, as some
/// place has less; kUndecided: some gap lies within the tolerance of what is asked for (or the
/// motion has no bounds), and LeastGap has to be asked. Requires what LeastGap requires.
Outcome QuickOutcome(const Motion& motion, const std::vector<PartPair>& pairs, double required_mm);

/// How two trees stand when shut, as far as no motion plays a role in it: how far apart each two
/// parts are, and where they touch. Worked out once for a box, shared by all linkages.
class ShutPair {
 public:
  /// A vertex of the one part against an edge of the other at their closed gap.
  struct Contact {
    int p_edge = 0, q_edge = 0;   ///< edges of the two trees; the vertex is the start of …
    bool vertex_of_first = true;  ///< … the first's or the second's
  };

  /// Parts farther apart than `cap_mm` have no contacts.
  ShutPair(const PartPair& pair, double cap_mm);

  const PartPair& pair() const { return pair_; }
  double cap_mm() const { return cap_mm_; }
  /// Of two parts, at most the cap.
  double ClosedGap_mm(int p_part, int q_part) const {
    return closed_gap_mm_[static_cast<std::size_t>(p_part) * pair_.second->parts().size() +
                          static_cast<std::size_t>(q_part)];
  }
  double LargestClosedGap_mm() const { return largest_mm_; }
  const std::vector<Contact>& contacts() const { return contacts_; }
  /// Where the parts overlap when shut, if they do: outlines that cross with all corners elsewhere,
  /// or one part inside the other.
  const std::optional<Nearness>& overlap() const { return overlap_; }

 private:
  PartPair pair_;
  double cap_mm_, largest_mm_ = 0.0;
  std::vector<double> closed_gap_mm_;
  std::vector<Contact> contacts_;
  std::optional<Nearness> overlap_;
};

/// Whether a pair keeps at least what it has when shut, up to a cap, over a swing that starts shut.
struct KeepReport {
  Outcome outcome = Outcome::kUndecided;
  WalkEnd end = WalkEnd::kProven;
  std::optional<Nearness> worst;  ///< where it is first found not kept (or undecided), if not kept
  /// Least speed at which contacts (gap = the parts' closed gap, within kContact_mm) separate, in
  /// mm per radian of lid angle; infinity if nothing touches, −infinity if no direction was found
  /// in which they do. Not kept if ≤ 0 (R4).
  double separation_mm = 0.0;
  Vec2 slowest_contact = Vec2::Zero();
  long node_pairs = 0;  ///< pairs of nodes of the two trees looked at

  bool kept() const { return outcome == Outcome::kClear; }
};

/// Proves that from closed (the motion's start, which must be 0) no two parts come closer than
/// min(their gap when closed, the cap), within kContactSlack_mm, that parts which touch when closed
/// never touch or overlap again, and that contacts separate at once. Parts that overlap when closed
/// are not kept: one inside the other, or outlines that cross with the crossing edges' ends farther
/// than kContact_mm from the other edge; a crossing nearer to an end is a contact's rounding.
/// Errors of the parts count alike when shut and after, so they play no role.
/// A contact is proven over [0, t] by a direction u with u·(p − e) ≥ the closed gap at 0 and
/// u·v(0) ≥ M t / 2, which makes u·(p − e) grow all the way; where the bodies touch, u must also
/// have the one body's corner on its far side and the other's solid on its near side, and gets no
/// slack. Safe, not complete: ruled parts that twist and touch in a single point at one end of z
/// may be left undecided with a separation of −infinity, since one u has to do for all z between
/// two stations.
KeepReport KeepsClosedGap(const Motion& motion, const ShutPair& shut, std::stop_token stop = {});

/// KeepReport::separation_mm alone, from where the bodies are at the start: proves nothing of what
/// follows, and costs a small part of it. Infinite also where the proof would not begin: bodies
/// that overlap when shut, a motion without bounds.
double PartingSpeed_mm(const Motion& motion, const ShutPair& shut);

/// Least distance of the pairs with the bodies where they are, negative (how deep a vertex of one
/// lies in the other, at their stations) where outlines cross or one holds the other. Nothing
/// without pairs.
std::optional<Nearness> GapAt(const BodiesAt& bodies, const std::vector<PartPair>& pairs);

/// GapAt at one place after another, for less: how far apart the two points are now that were
/// nearest at the place before says how far to look. Tells the gap that GapAt tells, whatever came
/// before; of several places as near as each other, it may tell another.
class GapFollower {
 public:
  explicit GapFollower(std::vector<PartPair> pairs) : pairs_(std::move(pairs)) {}

  std::optional<Nearness> At(const BodiesAt& bodies);

 private:
  double KnownAt(const BodiesAt& bodies) const;

  std::vector<PartPair> pairs_;
  std::optional<Nearness> last_;
  Vec2 on_first_ = Vec2::Zero(), on_second_ = Vec2::Zero();  // its points, each in its body's frame
};

}  // namespace lidwright
