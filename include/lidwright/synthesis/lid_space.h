// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <vector>

#include "lidwright/synthesis/lid_task.h"

namespace lidwright {

/// Where the lid can be, whatever moves it. At a given angle the lid is placed by its frame's
/// origin alone, so that all a linkage can do at that angle is one point of a plane: the gap
/// between lid and case is a function of that point, worked out once for a box and looked up for
/// every linkage.
///
/// Accuracy: thinned sections, one swing angle at a time; for searching, never for proof of a
/// hinge. Within kSectionThinning_mm of the sections; the table a few tenths of a millimetre near
/// corners. May be asked from several threads.
class LidSpace {
 public:
  /// The lid at one of the angles that are looked at.
  struct Slice {
    double theta_rad = 0.0, cosine = 1.0, sine = 0.0;
    double need_mm = 0.0;          ///< gap that is due here
    Vec2 low, high;                ///< box round the turned lid, its origin at 0
    Vec2 front_edge, mass_centre;  ///< turned, origin at 0
    Vec2 least, most;              ///< the origin has to stay between these: room, bench, and for
                                   ///< the open lid access
  };
  struct Look {
    double gap = 0.0;
    Vec2 away = Vec2::Zero();  ///< its gradient by the origin
  };

  /// Gaps and limits of slices() are asked for with `reserve_mm` on top, for what building wants;
  /// those of close_slices() as they are.
  LidSpace(const Job& job, const Solid& solid, const LidTask& task, double reserve_mm = 0.0);
  ~LidSpace();
  LidSpace(const LidSpace&) = delete;
  LidSpace& operator=(const LidSpace&) = delete;

  /// By growing angle; the last is the open lid.
  const std::vector<Slice>& slices() const { return slices_; }
  /// The same at twice as many angles, without tables.
  const std::vector<Slice>& close_slices() const { return close_; }

  /// From the table of slice k, with its gradient: interpolated where the gap is near what is due,
  /// rough elsewhere. Far from the case some number above what is due.
  Look At(std::size_t k, const Vec2& origin) const;

  /// The gap (or how deep a point of one is in the other, negative) at any pose, at most `limit`:
  /// that without gradient.
  Look Gap(const Slice& slice, const Vec2& origin, double limit) const;

  /// Distance of a point from what stands with the case beside the bay, room and bench included (in
  /// the case's frame), and from the lid's sections there (in the lid's). No more than `enough` is
  /// told, without gradient.
  Look InCase(const Vec2& p, double enough) const;
  Look InLid(const Vec2& p, double enough) const;
  /// What these gaps are not below, up to nearly 3 cm, by one look into a table.
  double InCaseAtLeast(const Vec2& p) const;
  double InLidAtLeast(const Vec2& p) const;

  /// How deep a point of the lid (in its frame) lies in the lid's end wall; below 0 outside of it.
  double DeepInLidEnd(const Vec2& p) const;
  const Rect2& lid_end_box() const;  ///< round that end wall

  /// What the certificate takes off a gap for the model's own errors.
  double error_mm() const { return error_mm_; }

 private:
  struct Sections;
  struct Table;
  std::vector<Slice> SlicesOf(const Job& job, const LidTask& task, double lid_error,
                              double reserve_mm, const std::vector<double>& early, int due) const;
  void LayTable(std::size_t k);
  double Corner(std::size_t k, int column, int row, int cuts, double limit_mm) const;
  Look GapAt(const Pose& X_CL, double limit) const;

  std::unique_ptr<Sections> sections_;
  std::vector<Slice> slices_, close_;
  std::vector<Table> tables_;
  double error_mm_ = 0.0;
};

/// [mm] Vertices of sections within this of the chord of their neighbours are left out.
inline constexpr double kSectionThinning_mm = 0.1;

}  // namespace lidwright
