// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/work_order.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "lidwright/arms/hinge_set.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
// [mm] A part that is brought in along z begins this far inside of the pins' ends.
constexpr double kBeforePins_mm = 3.0;
// [mm] So far over everything the lid is held before it is lowered.
constexpr double kOver_mm = 5.0;
// [mm] The lid plate may touch the lid that rests over it; from here up they are apart.
constexpr double kLastOfWay_mm = 1.0;
// [rad] Steps in which the lid is opened to look for a place where screws are reached.
constexpr double kLook_rad = 2.5 * kRadPerDeg;
constexpr double kLeastLook_rad = 20.0 * kRadPerDeg;
// [rad] A lid that is propped by hand stands so much wider or narrower than told.
constexpr double kProppedTo_rad = 1.0 * kRadPerDeg;
// [rad] Ways down that are tried, from straight to leaning forwards or backwards.
constexpr std::array kLeans_rad{0.0, 10.0 * kRadPerDeg, -10.0 * kRadPerDeg, 20.0 * kRadPerDeg,
                                -20.0 * kRadPerDeg};

// [deg] Less than this is straight down.
constexpr double kStraight_deg = 0.5;

struct Room {
  double mm = kInfinite;
  std::string nearest;
};

void KeepLess(const Room& here, Room& least) {
  if (here.mm < least.mm) least = here;
}

Part Mirrored(Part part) {
  std::swap(part.z_min_mm, part.z_max_mm);
  std::swap(part.at_z_min, part.at_z_max);
  part.z_min_mm *= -1.0;
  part.z_max_mm *= -1.0;
  return part;
}

class Assembling {
 public:
  Assembling(const ArmsTask& task, const LidMotion& motion, const HingeSet& set)
      : task_(task), motion_(motion), set_(set) {
    inner_mm_ = kInfinite;
    for (const HingePiece& piece : set.pieces) inner_mm_ = std::min(inner_mm_, piece.z_min_mm);
    const Solid& solid = task.solid;
    error_mm_ = solid.blend_error_mm + std::max(solid.chord_error_mm, solid.case_chord_error_mm);
    if (inner_mm_ - kDriver_mm < -inner_mm_) driver_mm_ = kShortDriver_mm;
    other_end_ = !solid.mirrored || inner_mm_ - driver_mm_ < -inner_mm_;
  }

  std::vector<AssemblyMove> Make() {
    PutCasePlate();
    if (task_.job.plates.on_lid) {
      BringIn(JigScene::kArmsShut, {PieceKind::kLidPlate}, Body::kLid, 0.0);
      RegisterSpacers();
      PutArms(JigScene::kArmsShut, 0.0);
      LowerLid();
      DriveLidScrews();
    } else {
      lid_on_ = true;
      if (!task_.job.plates.on_case) TryArms();
      Register(Body::kLid, {PieceKind::kPin});
      RegisterSpacers();
      PutArms(JigScene::kLidOpen, task_.limits.open_rad - kStopFree_rad);
    }
    return std::move(moves_);
  }

 private:
  bool LetIn() const { return set_.lid_plate && set_.lid_plate->recess_mm > 0.0; }

  BodiesAt At(double lid_rad) const {
    return lid_rad > 0.0 ? BodiesAt(motion_, lid_rad) : BodiesAt();
  }

  void Register(const HingePiece& piece) {
    placed_.push_back({&piece, PartTree(AsPart(piece))});
    if (other_end_) placed_.push_back({&piece, PartTree(AsPart(MirrorPiece(piece)))});
  }
  void Register(Body body, const std::vector<PieceKind>& kinds) {
    for (const HingePiece& piece : set_.pieces) {
      if (piece.body == body && IsOf(piece, kinds)) Register(piece);
    }
  }
  static bool IsOf(const HingePiece& piece, const std::vector<PieceKind>& kinds) {
    return piece.member != Member::kStay &&
           std::find(kinds.begin(), kinds.end(), piece.kind) != kinds.end();
  }

  // What a prism comes nearest to. `outline` is in the frame of `body`; pieces of the member and
  // what is joined with it are passed over.
  Room RoomOf(const Ring& outline, Body body, double z_min_mm, double z_max_mm, double lid_rad,
              Member member) const {
    const BodiesAt bodies = At(lid_rad);
    Room least;
    for (const Body as : {Body::kCase, Body::kLid}) {
      const Pose X_AB = bodies.Of(as).Inverse() * bodies.Of(body);
      Ring seen;
      for (const Vec2& p : outline) seen.push_back(X_AB * p);
      const Part part = MakePrism("", as, z_min_mm, z_max_mm, {seen});
      KeepLess(Nearest(bodies, PartTree(part), member, body), least);
      if (!task_.solid.mirrored) {
        KeepLess(Nearest(bodies, PartTree(Mirrored(part)), member, body), least);
      }
    }
    return least;
  }

  // Copies on the case look at what is on other bodies, copies on the lid at what is on the case.
  Room Nearest(const BodiesAt& bodies, const PartTree& moved, Member member, Body body) const {
    std::vector<const PartTree*> others;
    const bool on_case = moved.body() == Body::kCase;
    const auto look_at = [&](const PartTree& tree) {
      if ((tree.body() == Body::kCase) != on_case && Overlap(moved, tree)) others.push_back(&tree);
    };
    for (const PartTree* tree : task_.box.Shapes(PartKind::kCase)) look_at(*tree);
    // A bit at a let-in plate stands in its recess, which the lid's sections do not show.
    const bool in_recess = LetIn() && body == Body::kLid && member == Member::kNone;
    if (lid_on_ && !in_recess) {
      for (const PartTree* tree : task_.box.Shapes(PartKind::kLid)) look_at(*tree);
    }
    for (const Placed& placed : placed_) {
      const HingePiece& piece = *placed.piece;
      const bool runs_on = piece.joined && (*piece.joined == body);
      if (!runs_on && (member == Member::kNone || piece.member != member)) look_at(placed.tree);
    }
    const auto near = GapAt(bodies, PairsBetween({&moved}, others));
    if (!near) return {};
    const PartTree& other = *others[near->pair];
    return {near->gap_mm - error_mm_,
            other.parts()[static_cast<std::size_t>(near->second_part)].name};
  }

  void Add(JigScene step, MoveKind kind, const std::string& what, double lid_rad, const Vec2& way,
           double along_z_mm, const Room& room) {
    moves_.push_back({step, kind, what, lid_rad, way, along_z_mm, room.mm, room.nearest,
                      room.mm >= kMoveRoom_mm});
  }

  void BringIn(const HingePiece& piece, JigScene step, double lid_rad) {
    const double from = inner_mm_ - kBeforePins_mm - (piece.z_max_mm - piece.z_min_mm);
    const Ring outline = Flatten(piece.outline, kChordError_mm, Chords::kOutside);
    const Room room = RoomOf(outline, piece.body, from, piece.z_max_mm, lid_rad, piece.member);
    Add(step, MoveKind::kAlongPins, piece.name, lid_rad, Vec2::Zero(), piece.z_min_mm - from, room);
    Register(piece);
  }
  // Flat parts of a body with what is pressed into them or lies under them.
  void BringIn(JigScene step, const std::vector<PieceKind>& kinds, Body body, double lid_rad) {
    for (const HingePiece& piece : set_.pieces) {
      if (piece.body == body && IsOf(piece, kinds)) BringIn(piece, step, lid_rad);
    }
    Register(body, {PieceKind::kPin});
    for (const HingePiece& piece : set_.pieces) {
      if (piece.body == body && piece.kind == PieceKind::kSpacer && piece.cut_from_sheet) {
        Register(piece);  // packing
      }
    }
  }

  Room ReachOf(const Vec2& screw, Body body, double head_z_mm, double lid_rad) const {
    const double across = DriverBlade_mm(set_.hardware->screw.diameter_mm);
    const Ring shaft = Flatten(AsOutline({screw, across / 2.0}), kChordError_mm, Chords::kOutside);
    return RoomOf(shaft, body, head_z_mm - driver_mm_, head_z_mm, lid_rad, Member::kNone);
  }

  void PutCasePlate() {
    BringIn(JigScene::kJigInCase, {PieceKind::kCasePlate}, Body::kCase, 0.0);
    if (set_.case_plate) {
      for (std::size_t i = 0; i < set_.case_plate->screws.size(); ++i) {
        Add(JigScene::kJigInCase, MoveKind::kTool, ScrewName(i + 1, "case plate"), 0.0,
            Vec2::Zero(), driver_mm_,
            ReachOf(set_.case_plate->screws[i], Body::kCase, set_.stack->case_plate.z_min_mm, 0.0));
      }
      Register(Body::kCase, {PieceKind::kScrew});
    }
    BringIn(StopComesIn(task_.job.plates), {PieceKind::kStop}, Body::kCase, 0.0);
  }

  bool IsSpacer(const HingePiece& piece) const {
    const bool turned = piece.kind == PieceKind::kSpacer || piece.kind == PieceKind::kWasher;
    return turned && !piece.cut_from_sheet && !IsHead(piece);
  }
  void RegisterSpacers() {
    for (const HingePiece& piece : set_.pieces) {
      if (IsSpacer(piece)) Register(piece);
    }
  }
  // From the wall inwards.
  std::vector<const HingePiece*> Arms() const {
    std::vector<const HingePiece*> arms;
    for (const HingePiece& piece : set_.pieces) {
      if (piece.kind == PieceKind::kArm) arms.push_back(&piece);
    }
    std::stable_sort(arms.begin(), arms.end(), [](const HingePiece* a, const HingePiece* b) {
      return a->z_max_mm > b->z_max_mm;
    });
    return arms;
  }
  // On the case's pins alone, lid shut, to mark the lid's pins through their eyes; then off again.
  void TryArms() {
    const std::size_t in_place = placed_.size();
    for (const HingePiece& piece : set_.pieces) {
      if (IsSpacer(piece) && piece.body == Body::kCase) Register(piece);
    }
    for (const HingePiece* arm : Arms()) BringIn(*arm, JigScene::kArmsShut, 0.0);
    placed_.erase(placed_.begin() + static_cast<std::ptrdiff_t>(in_place), placed_.end());
  }
  // Arm after arm, each with its heads.
  void PutArms(JigScene step, double lid_rad) {
    for (const HingePiece* arm : Arms()) {
      BringIn(*arm, step, lid_rad);
      for (const HingePiece& piece : set_.pieces) {
        if (IsHead(piece) && OnPinOf(arm->body, piece.member)) BringIn(piece, step, lid_rad);
      }
    }
  }
  bool IsHead(const HingePiece& piece) const {
    if (piece.kind != PieceKind::kWasher) return false;
    return std::any_of(set_.stack->pivots.begin(), set_.stack->pivots.end(),
                       [&](const PivotStack& stack) {
                         return stack.body == piece.body && stack.centre == Centre(piece) &&
                                std::abs(stack.head.z_min_mm - piece.z_min_mm) < kSamePoint_mm;
                       });
  }
  static Vec2 Centre(const HingePiece& piece) {
    return piece.holes.empty() ? Vec2::Zero() : piece.holes[0].centre;
  }
  static bool OnPinOf(Body arm, Member pin) {
    const bool of_a = pin == Member::kCasePinA || pin == Member::kLidPinA;
    const bool of_b = pin == Member::kCasePinB || pin == Member::kLidPinB;
    return arm == Body::kArmA ? of_a : of_b;
  }

  // How high the lid has to be lifted to be clear of all.
  double Lift_mm() const {
    double low = kInfinite, high = -kInfinite;
    for (const PartTree* tree : task_.box.Shapes(PartKind::kLid)) {
      for (const PartTree::Edge& edge : tree->edges()) {
        low = std::min({low, edge.a0.y(), edge.a1.y()});
      }
    }
    for (const PartTree* tree : task_.box.Shapes(PartKind::kCase)) {
      for (const PartTree::Edge& edge : tree->edges()) {
        high = std::max({high, edge.a0.y(), edge.a1.y()});
      }
    }
    for (const Placed& placed : placed_) {
      for (const PartTree::Edge& edge : placed.tree.edges()) high = std::max(high, edge.a0.y());
    }
    return std::max(0.0, high - low) + kOver_mm;
  }

  // What stands in the box for the lid that is lowered: all of it on the case.
  std::vector<PartTree> Standing(bool lid_plate) const {
    std::vector<PartTree> standing;
    for (const Placed& placed : placed_) {
      const bool carries = placed.piece->member == Member::kLidPlate;
      if (carries != lid_plate) continue;
      // A leaning end wall, filled in the sections, slides down along the packing that fits it.
      const bool fits_wall = placed.piece->kind == PieceKind::kSpacer;
      if (lid_plate && fits_wall && !task_.solid.true_stations.empty()) continue;
      std::vector<Part> parts = placed.tree.parts();
      for (Part& part : parts) part.body = Body::kCase;
      standing.emplace_back(std::move(parts));
    }
    return standing;
  }

  // The lid's wood against parts that stand: from `from_mm` over its place up to `lift_mm`.
  Room RoomOnWay(const std::vector<PartTree>& standing, const Vec2& up, double from_mm,
                 double lift_mm) const {
    std::vector<const PartTree*> others;
    for (const PartTree& tree : standing) others.push_back(&tree);
    const auto pairs = PairsBetween(task_.box.Shapes(PartKind::kLid), others);
    if (pairs.empty()) return {};
    BodiesAt lifted;
    lifted.Put(Body::kLid, Pose{1.0, 0.0, lift_mm * up}, 0.0, up);
    const GapReport report = LeastGap(Slide(lifted, Body::kLid, (lift_mm - from_mm) * up), pairs);
    Room room{report.bound_mm.value_or(-kInfinite), ""};
    if (report.nearest) room.nearest = pairs[report.nearest->pair].second->parts()[0].name;
    return room;
  }

  // Nothing of lid and case comes nearer than when shut.
  bool PartsAtOnce(const Vec2& up, double lift_mm) const {
    BodiesAt lifted;
    lifted.Put(Body::kLid, Pose{1.0, 0.0, lift_mm * up}, 0.0, up);
    const Slide slide(lifted, Body::kLid, lift_mm * up);
    const auto pairs =
        PairsBetween(task_.box.Shapes(PartKind::kLid), task_.box.Shapes(PartKind::kCase));
    return std::all_of(pairs.begin(), pairs.end(), [&](const PartPair& pair) {
      auto shut = task_.box.ShutOf(pair, task_.limits.swing_gap_mm);
      if (!shut) shut = std::make_shared<const ShutPair>(pair, task_.limits.swing_gap_mm);
      return KeepsClosedGap(slide, *shut).kept();
    });
  }

  void LowerLid() {
    const double height = Lift_mm();
    const auto hinge = Standing(false);
    // A plate that is let into the lid's top has its recess there, which the sections do not show.
    const auto plate = LetIn() ? std::vector<PartTree>() : Standing(true);
    std::optional<Room> best;
    Vec2 along = Vec2::Zero();
    for (const double lean : kLeans_rad) {
      const Vec2 up(std::sin(lean), std::cos(lean));
      const double lift = height / up.y();
      Room room = RoomOnWay(hinge, up, 0.0, lift);
      KeepLess(RoomOnWay(plate, up, kLastOfWay_mm, lift), room);
      if (!PartsAtOnce(up, lift)) KeepLess({-kInfinite, "case"}, room);
      if (best && room.mm <= best->mm) continue;
      best = room;
      along = -lift * up;
      if (room.mm >= kMoveRoom_mm) break;
    }
    Add(JigScene::kLidLowered, MoveKind::kLowered, "lid", 0.0, along, 0.0, *best);
    lid_on_ = true;
  }

  void AddLidScrew(std::size_t i, double lid_rad, const Room& room) {
    Add(JigScene::kLidOpen, MoveKind::kTool, ScrewName(i + 1, "lid plate"), lid_rad, Vec2::Zero(),
        driver_mm_, room);
  }
  Room ReachOfLidScrew(std::size_t i, double lid_rad) const {
    Room least;
    for (const double by : {0.0, -kProppedTo_rad, kProppedTo_rad}) {
      const double there = std::min(lid_rad + by, task_.limits.open_rad);
      KeepLess(
          ReachOf(set_.lid_plate->screws[i], Body::kLid, set_.stack->lid_plate.z_min_mm, there),
          least);
    }
    return least;
  }

  // Each as it is reached with everything in place; the others with the arms drawn off.
  void DriveLidScrews() {
    if (!set_.lid_plate) return;
    std::vector<std::size_t> hidden;
    for (std::size_t i = 0; i < set_.lid_plate->screws.size(); ++i) {
      bool reached = false;
      for (double lid = task_.limits.open_rad; !reached && lid >= kLeastLook_rad;
           lid -= kLook_rad) {
        const Room room = ReachOfLidScrew(i, lid);
        reached = room.mm >= kMoveRoom_mm;
        if (reached) AddLidScrew(i, lid, room);
      }
      if (!reached) hidden.push_back(i);
    }
    if (!hidden.empty()) DriveWithArmsOff(hidden);
  }

  void DriveWithArmsOff(const std::vector<std::size_t>& hidden) {
    placed_.erase(std::remove_if(placed_.begin(), placed_.end(),
                                 [&](const Placed& placed) {
                                   return placed.piece->kind == PieceKind::kArm ||
                                          IsHead(*placed.piece);
                                 }),
                  placed_.end());
    const std::size_t in_place = placed_.size(), made = moves_.size();
    for (double lid = task_.limits.open_rad - kStopFree_rad; lid >= kLeastLook_rad;
         lid -= kLook_rad) {
      placed_.erase(placed_.begin() + static_cast<std::ptrdiff_t>(in_place), placed_.end());
      moves_.resize(made);
      for (const std::size_t i : hidden) AddLidScrew(i, lid, ReachOfLidScrew(i, lid));
      PutArms(JigScene::kLidOpen, lid);
      if (std::all_of(moves_.begin() + static_cast<std::ptrdiff_t>(made), moves_.end(),
                      [](const AssemblyMove& move) { return move.free; })) {
        return;
      }
    }
  }

  struct Placed {
    const HingePiece* piece;
    PartTree tree;
  };

  const ArmsTask& task_;
  const LidMotion& motion_;
  const HingeSet& set_;
  double inner_mm_ = 0.0, error_mm_ = 0.0, driver_mm_ = kDriver_mm;
  bool other_end_ = false, lid_on_ = false;
  std::vector<Placed> placed_;
  std::vector<AssemblyMove> moves_;
};

// What drives a screw, by its length in line with the screw.
std::string DriverName(double length_mm, bool inches) {
  // Not longer than what was proven to go in, as tools are called.
  const double eighth = kMmPerInch / 8.0;
  const std::string length =
      inches ? BenchText(eighth * std::floor(length_mm / eighth), Bench::kSize, true)
             : BenchLength(length_mm, false);
  return length_mm < kDriver_mm ? "a short bit in an offset ratchet, " + length + " in all,"
                                : "a bit of " + length + " in line";
}

}  // namespace

std::string FaultOf(const AssemblyMove& move, bool inches) {
  const std::string who = move.kind == MoveKind::kTool
                              ? DriverName(move.along_z_mm, inches) + " does not reach "
                          : move.kind == MoveKind::kLowered ? "no way down was found for the "
                                                            : "there is no way along the pins for ";
  std::string text = "order of work: " + who + move.what + ": " + move.nearest + " is in the way";
  if (move.kind == MoveKind::kTool) text += "; shorter arms or screws farther from them would fit";
  return text;
}

namespace {

std::string Degrees(double rad) {
  return Text(rad * kDegPerRad, 0) + " degrees";
}

// How far the lid is opened for each of its plate's screws, and for which the arms come off.
std::string ScrewWords(const std::vector<AssemblyMove>& order, bool inches) {
  double arms_off_at = -1.0, driver_mm = kDriver_mm;
  std::string open, off;
  for (const AssemblyMove& move : order) {
    if (move.step != JigScene::kLidOpen) continue;
    if (move.kind == MoveKind::kAlongPins) arms_off_at = move.lid_rad;
  }
  for (const AssemblyMove& move : order) {
    if (move.step != JigScene::kLidOpen || move.kind != MoveKind::kTool) continue;
    driver_mm = move.along_z_mm;
    if (move.lid_rad == arms_off_at) {
      off += (off.empty() ? "" : " and ") + move.what;
    } else {
      open += (open.empty() ? "" : ", ") + move.what + " opened " + Degrees(move.lid_rad);
    }
  }
  std::string words;
  if (!open.empty()) {
    std::string driver = DriverName(driver_mm, inches);
    driver[0] = 'A';
    words = " " + driver + " reaches " + open + "; behind it the handle" +
            (driver_mm < kDriver_mm ? "" : " or chuck") + " wants room of its own.";
  }
  if (!off.empty()) {
    words +=
        " For " + off + " prop the lid at " + Degrees(arms_off_at) +
        ", draw the arms off their pins, and put them on again when it is driven: until then the "
        "lid hangs on its prop alone, so have a second pair of hands hold it.";
  }
  return words;
}

}  // namespace

std::string WordsOf(const JigStep& step, const std::vector<AssemblyMove>& order, bool inches) {
  if (step.shows == JigScene::kLidOpen) return ScrewWords(order, inches);
  if (step.shows != JigScene::kLidLowered) return "";
  for (const AssemblyMove& move : order) {
    if (move.kind != MoveKind::kLowered) continue;
    const double lean = std::atan2(-move.way.x(), -move.way.y());
    if (std::abs(lean) * kDegPerRad < kStraight_deg) return "";
    return " It comes down along a line that leans " + Degrees(std::abs(lean)) + " to the " +
           (lean > 0.0 ? "front." : "back.");
  }
  return "";
}

std::vector<AssemblyMove> OrderOfAssembly(const ArmsTask& task, const LidMotion& motion,
                                          const HingeSet& set) {
  return Assembling(task, motion, set).Make();
}

}  // namespace lidwright
