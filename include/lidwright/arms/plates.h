// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "lidwright/arms/shape_arms.h"
#include "lidwright/arms/stack.h"

namespace lidwright {

/// A plane drawing of points joined by straight lines that do not cross, without loops: the middle
/// lines of a plate made of strips.
struct StripTree {
  std::vector<Vec2> points;
  std::vector<std::pair<std::size_t, std::size_t>> lines;
};

/// The outline of everything within `half_mm` of the tree's lines, with each inside corner rounded
/// to `inside_mm` or more: true lines and arcs, counter-clockwise. Nothing if an inside corner has
/// no room for its radius or strips run into each other.
std::optional<Outline> StripOutline(const StripTree& tree, double half_mm, double inside_mm);

/// The outline of everything within `half_mm` of the convex hull of the points.
std::optional<Outline> HullOutline(const std::vector<Vec2>& points, double half_mm);

/// A plate as cut, in the case's frame with the lid shut.
struct Plate {
  Outline outline;
  std::vector<Vec2> screws;  ///< centres
  double half_mm = 0.0;      ///< half the width of its strips, and the rounding of its corners
  // Lid plate only:
  Outline packing;  ///< between plate and lid, on the screws' line
  double packing_half_mm = 0.0;
  double recess_mm = 0.0;  ///< how deep it has to be let into the lid's top, 0 mostly
};

/// Says whether a plate is certified as it is.
using PlateProof = std::function<bool(const Plate&)>;

/// [mm] Shorter rows of screws hardly keep a lid plate from turning.
inline constexpr double kLeastRow_mm = 20.0;

/// What limits a plate's shape besides the room.
struct PlateNeeds {
  double pin_edge_mm = 0.0;      ///< least distance of a pin's centre from the edge
  double screw_edge_mm = 0.0;    ///< of a screw's centre
  double screw_pin_mm = 0.0;     ///< between a screw's and a pin's centre
  double screw_wood_mm = 0.0;    ///< of a screw from the edges of the wood
  double packing_edge_mm = 0.0;  ///< of its hole's centre from the packing's edge
  double inside_mm = 0.0;        ///< half the cutter's diameter
  double row_mm = kLeastRow_mm;  ///< least length of the lid plate's row of screws
};
PlateNeeds NeedsOf(const Job& job, const Hardware& hardware);

/// A plate in the lid's frame from both lid pivots to a row of screws in the lid's end wall, in the
/// room that the case and the `standing` discs leave free: the widest of a rounded hull of all of
/// it and of strips (each pivot to the row, or one through the other) that `proof` accepts; without
/// a recess in the lid's top if one such is found. If there is none, a sentence in `fault`.
std::optional<Plate> ShapeLidPlate(const ArmsTask& task, const LidMotion& motion,
                                   const PlateNeeds& needs, const std::vector<Disc>& standing,
                                   const PlateProof& proof, std::string* fault);

/// A plate on the case's end wall under the rim that carries the case pivots and `also` (a stop)
/// and three screws, clear of the lid and of the lid plate's packing over the swing.
std::optional<Plate> ShapeCasePlate(const ArmsTask& task, const LidMotion& motion,
                                    const PlateNeeds& needs, const std::vector<Vec2>& also,
                                    const std::optional<Plate>& lid_plate, const PlateProof& proof,
                                    std::string* fault);

/// z at which the case's end wall begins: where the bay ends, or behind a lip inside the case.
double EndWallBeside_mm(const Solid& solid);

/// Height of the case's rim along the inner edge of its end wall, at its highest.
double RimAtEndWall_mm(const Solid& solid);

/// Room for something fixed to the case beside the end wall. A guide like ArmRoom, no proof.
class CaseRoom {
 public:
  CaseRoom(const ArmsTask& task, const LidMotion& motion);
  /// [mm] Radius of a disc round p that fits, the least of three: the way to case and contents,
  /// less 0.3 mm to let it in; to the nearest edge of the end wall (its rim, sides and foot), less
  /// 0.5 mm; and to the lid at every sampled angle (a lip inside the case's end with it, which
  /// passes the packing and the pins behind a plate). A point fits where this is 0 or more; below 0
  /// the number says only that it does not.
  double At(const Vec2& p) const;

 private:
  const ArmObstacles& obstacles_;
  std::vector<Pose> X_LC_;
  const std::vector<Ring>* end_wall_ = nullptr;  // of the solid
};

}  // namespace lidwright
