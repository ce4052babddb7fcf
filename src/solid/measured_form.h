// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "form_curves.h"
#include "hollow_curve.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// A piece of a stretch whose sections all have their lid's inside by one plan.
struct HollowPiece {
  double from_mm = 0.0;
  double look_from_mm = 0.0;  ///< its first section is this one: of those at from_mm one has other
                              ///< corners, a hair before it
  double to_mm = 0.0;
  std::optional<HollowPlan> plan;  ///< none: the dome's own places do
};

/// The measured form that solid.h describes, as sections.
///
/// Every section of one stretch has the same vertices in the same order, so that stations match
/// vertex by vertex. Lid and case take their seam from one and the same polyline, whose points
/// stand at the same x in all sections: where the seam gap is 0 they share their vertices there,
/// contact is exact, and no piece of it twists from section to section.
class MeasuredForm {
 public:
  /// Which of the stretches between jumps a section belongs to.
  enum class Stretch {
    kHollow,   ///< walls and floor, a hollow lid
    kShallow,  ///< the case hollow down to the leaning face of its end wall
    kRail,     ///< the lid solid over the seam, between its lips
    kTongue,   ///< the lid solid down to the tip of its lip: inside the case …
    kCollar,   ///< … or beyond its end
    kEndWall,  ///< both solid (R1)
    kLeaning,  ///< both solid, and the case's bottom cut off by the outside of a leaning end
    kNone,     ///< beyond the body
  };

  explicit MeasuredForm(const Job& job);
  /// A hollow lid's inside has its vertices where the plan says, without one under the dome's.
  Station At(double z_mm, Stretch box, Stretch lid, const HollowPlan* plan = nullptr) const;
  /// The pieces of a stretch with a hollow lid, end to end, each with the same corners all along.
  std::vector<HollowPiece> HollowPieces(double from_mm, double to_mm) const;

  /// From here outwards the case, and what stands for it, is solid: the innermost place of either
  /// end wall's inner face between the floor's upper face and the rim.
  double inner_mm() const { return inner_mm_; }
  /// From here outwards the underside has left the section; half the width for upright ends.
  double leaning_mm() const { return leaning_mm_; }
  /// An end wall's mean places: its inner face between floor and rim, its outer face over its
  /// height.
  double mean_inner_mm() const { return mean_inner_mm_; }
  double mean_outer_mm() const { return mean_outer_mm_; }
  /// A lip along the ends, and from where on the case is solid then.
  const std::optional<EndLip>& end_lip() const { return end_lip_; }
  double case_solid_mm() const { return case_solid_mm_; }
  /// Where the end wall's inner face stands in the farthest.
  double narrow_mm() const { return narrow_mm_; }
  MountingBlock Block() const;
  /// The end wall's inner face from the rim to the floor, as points (z, y).
  std::vector<Vec2> EndFace() const;
  /// Where the form has creases across the width, 0 < z < half the width, by growing z.
  std::vector<double> Creases() const;

  /// What is free inside the case at z, as the largest rectangle between the walls' inner faces,
  /// the floor and the lowest point of the rim.
  struct Free {
    double back_mm, front_mm, floor_mm, rim_mm;
  };
  Free FreeAt(double z_mm) const;
  /// The highest place of the lid's inside at z.
  double CeilingAt(double z_mm) const;
  /// Does the case have curves that are cut into chords?
  bool CurvedCase() const {
    return cup_pieces_back_ > 1 || cup_pieces_front_ > 1 || !rim_.points().empty() ||
           bottom_pieces_ > 0;
  }
  /// The mouth at z: the walls' inner faces at the rim.
  double MouthBack(double z_mm) const { return Back(z_mm) + box_.back_wall_mm; }
  double MouthFront(double z_mm) const { return Front(z_mm) - box_.front_wall_mm; }
  /// The faces that stand on the bench, at the ends: the rearmost and the foremost.
  double StandsBack() const;
  double StandsFront() const;

 private:
  // The rim's corners at z, and what goes on from there.
  double Back(double z) const;
  double Front(double z) const;
  double Arch(double z) const;
  double Rise(double z) const;
  // How far a wall stands in at `down` below the rim, of a wall of that height.
  static double Lean(double flare, double cup, double height, double down);
  double EndLean(double down) const;
  double EndChord(double down) const;  // of the outer face, as stations can follow it
  void LayEndLip(double lean);         // the end wall's inner face stands in by that at most
  // From the rim's corners down to where the end wall's inner face comes in to z.
  double DownTo(double z) const;
  double Underside() const { return box_.feet_mm - box_.height_mm; }

  // The seam without the seam gap, its chords.
  double SeamAt(double z, double x) const { return Arch(z) + rim_.At(x); }
  double LowestRim(double z) const;

  void AddUnderside(double z, Ring& ring) const;
  Ring CaseRing(double z, Stretch stretch) const;
  Ring LidRing(double z, Stretch stretch, const HollowPlan* plan) const;
  // One section of the lid: the seam on the case's corners, and the dome over the lid's own.
  struct LidSides {
    double z, back, front, rise;
    double band, middle, half;       // of the dome
    double inner_back, inner_front;  // the walls' inner faces
  };
  LidSides SidesAt(double z) const;
  HollowSection HollowOf(const LidSides& sides) const;
  void PutCeiling(const LidSides& sides, HollowSection& hollow) const;
  std::vector<Vec2> UsualInside(const HollowSection& hollow, const LidSides& sides) const;
  bool UsualSuits(double from, double to) const;
  std::vector<double> LooksAt(double from, double to, int count) const;
  Vec2 OnSeam(double z, double x) const;
  void AddSeam(double z, double from, double to, Ring& ring) const;
  Ring InsideLip(double z, double corner, double side) const;
  void AddTongue(double z, double back, double front, Ring& ring) const;
  void AddCollar(double z, double back, double front, Ring& ring) const;
  void AddHollow(const LidSides& sides, const HollowPlan* plan, Ring& ring) const;
  double HollowAt(double z) const;
  void AddDome(const LidSides& sides, Ring& ring) const;

  const CaseMeasures box_;
  const LidMeasures lid_;
  double lid_out_mm_ = 0.0;  // the lid's face stands this far outside the case's: an outside lip
  double lid_back_mm_, lid_front_mm_;  // the lid's inner faces, from the case's outer faces
  DomeCurve dome_;
  RimCurve rim_;
  int cup_pieces_back_ = 1, cup_pieces_front_ = 1, bottom_pieces_ = 0;
  int hollow_pieces_ = 0, end_pieces_ = 1;
  double inner_mm_, leaning_mm_, mean_inner_mm_, mean_outer_mm_;
  std::optional<EndLip> end_lip_;
  double narrow_mm_, case_solid_mm_, shallow_mm_, deepest_mm_ = 0.0;
  double lid_half_mm_;    // half of the lid's own width
  double hollow_end_mm_;  // where the hollow of a lid of one piece ends
};

}  // namespace lidwright
