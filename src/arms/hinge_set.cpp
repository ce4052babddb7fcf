// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/hinge_set.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "hinge_set_pieces.h"
#include "lidwright/arms/shop_fasteners.h"
#include "lidwright/base/check.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// [–] Parts are placed so that they keep their gap by so many drill errors more than asked, where
// there is room: two holes of two bodies may be off towards each other.
constexpr std::array kReservesInErrors{4.0, 2.0};

// [–] Where no post of the pins' rod can stand, rods of at most these shares of it are tried.
constexpr std::array kThinnerRods{0.85, 0.65};

// Bushings lie within their arms' outlines, and the jig is gone when the lid moves.
bool Stays(const HingePiece& piece) {
  return piece.kind != PieceKind::kBushing && piece.kind != PieceKind::kJig;
}

class Maker {
 public:
  Maker(const ArmsTask& task, const Swing& swing, const Arm& arm_a, const Arm& arm_b,
        const HingeSetOptions& options)
      : task_(task),
        swing_(swing),
        motion_(swing.linkage()),
        options_(options),
        arms_{&arm_a, &arm_b},
        assembly_(task.box),
        kept_(task.limits) {}

  HingeSet Make() {
    Choose();
    if (set_.stack) MakePieces();
    set_.complete = set_.faults.empty() && AllMet(set_.verdicts) && set_.stack;
    set_.assembly = std::move(assembly_);
    return std::move(set_);
  }

 private:
  void MakePieces() {
    needs_ = NeedsOf(task_.job, *set_.hardware);
    needs_.row_mm = options_.lid_row_mm;
    AddArms(*arms_[0], *arms_[1], task_.job, set_);
    AddPins(task_.job, set_);
    for (const HingePiece& piece : set_.pieces) Register(piece);
    MakeLidPlate();
    MakeStop();
    MakeCasePlate();
    CheckBesideStay();
    if (options_.jig) MakeTheJig();
    CheckHoles();
    CertifyAll();
    RestVerdict();
    AddSentences(task_.job, set_);
    PutInOrder();
  }

  std::string Say(double mm) const { return BenchLength(mm, task_.job.inches); }

  void Choose() {
    set_.hardware = ChooseHardware(task_.job, &set_.faults);
    if (!set_.hardware) return;
    set_.stack = LayStack(task_.job, task_.solid, motion_.pivots(), *arms_[0], *arms_[1],
                          *set_.hardware, &set_.faults);
  }

  // A piece at each end where it has to be looked at: a box whose ends differ has the same hinge at
  // both.
  void Register(const HingePiece& piece) {
    if (!Stays(piece)) return;
    const bool arm = piece.kind == PieceKind::kArm;
    Assembly::Registered part{arm ? PartKind::kArm : PartKind::kPiece, piece.member, piece.joined,
                              arm || piece.kind == PieceKind::kLidPlate,
                              std::make_shared<const PartTree>(AsPart(piece))};
    assembly_.Add(part);
    if (task_.solid.mirrored) return;
    part.shape = std::make_shared<const PartTree>(AsPart(MirrorPiece(piece)));
    assembly_.Add(part);
  }

  // What `find` finds with a reserve for the holes' errors, else what it finds without. What cannot
  // be had without is not looked for with one.
  template <typename Find>
  auto WithReserve(const Find& find) -> decltype(find()) {
    auto found = find();
    if (!found) return found;
    for (const double errors : kReservesInErrors) {
      kept_.arms_gap_mm = task_.limits.arms_gap_mm + errors * task_.job.shop.drill_error_mm;
      auto roomier = find();
      kept_ = task_.limits;
      if (roomier) return roomier;
    }
    return found;
  }

  // Whether pieces keep their gap, with the reserve, to wood and to all pieces so far.
  bool Clears(const std::vector<HingePiece>& pieces) {
    const std::size_t before = assembly_.size();
    Outcome worst = Outcome::kClear;
    for (std::size_t i = 0; i < pieces.size() && worst != Outcome::kViolated; ++i) {
      const std::size_t since = assembly_.size();
      Register(pieces[i]);
      const Outcome outcome = QuickOutcome(assembly_, swing_, kept_, Stage::kParts, since);
      if (outcome != Outcome::kClear) worst = outcome;
    }
    const bool clear =
        worst == Outcome::kClear ||
        (worst == Outcome::kUndecided && AllKept(assembly_, swing_, kept_, Stage::kParts, before));
    assembly_.Truncate(before);
    return clear;
  }

  void Add(const Verdicts& verdicts) {
    set_.verdicts.insert(set_.verdicts.end(), verdicts.begin(), verdicts.end());
  }

  void Keep(HingePiece piece) {
    Register(piece);
    set_.pieces.push_back(std::move(piece));
  }

  void MakeLidPlate() {
    if (!task_.job.plates.on_lid) return;
    const double radius = set_.hardware->spacer_out_mm / 2.0;
    const std::vector<Disc> standing{{Body::kCase, motion_.pivots().case_a, radius},
                                     {Body::kCase, motion_.pivots().case_b, radius}};
    std::string fault;
    set_.lid_plate = WithReserve([&] {
      return ShapeLidPlate(
          task_, motion_, needs_, standing,
          [&](const Plate& plate) { return Clears(LidPlatePieces(plate, task_.job, set_)); },
          &fault);
    });
    if (!set_.lid_plate) {
      set_.faults.push_back(fault);
      return;
    }
    for (HingePiece& piece : LidPlatePieces(*set_.lid_plate, task_.job, set_)) Keep(piece);
  }

  // [mm] How far the true wood may stand outside its shapes.
  double Error_mm() const {
    const Solid& solid = task_.solid;
    return solid.blend_error_mm + std::max(solid.chord_error_mm, solid.case_chord_error_mm);
  }

  // What the taut stay comes nearest to, lid open. What is fixed to the case is where it is when
  // shut.
  std::optional<Nearness> NearestToTaut(const Stay& stay) const {
    std::vector<PartTree> of_pieces;
    for (const HingePiece& piece : set_.pieces) {
      const bool turned = piece.kind == PieceKind::kPin || piece.kind == PieceKind::kWasher ||
                          (piece.kind == PieceKind::kSpacer && !piece.cut_from_sheet);
      if (turned || piece.kind == PieceKind::kArm) of_pieces.emplace_back(AsPart(piece));
    }
    const double face = std::min(set_.stack->case_end_mm, set_.stack->lid_end_mm);
    std::optional<Nearness> nearest;
    const auto look = [&](const BodiesAt& bodies, const Part& taut) {
      const PartTree part(taut);
      std::vector<const PartTree*> others;
      for (const PartTree& piece : of_pieces) others.push_back(&piece);
      for (const PartKind kind : {PartKind::kCase, PartKind::kLid, PartKind::kContents}) {
        for (const PartTree* body : task_.box.Shapes(kind)) others.push_back(body);
      }
      others.erase(std::remove_if(others.begin(), others.end(),
                                  [&](const PartTree* other) {
                                    return (other->body() == Body::kCase) ==
                                           (part.body() == Body::kCase);
                                  }),
                   others.end());
      const std::optional<Nearness> here = GapAt(bodies, PairsBetween({&part}, others));
      if (here && (!nearest || here->gap_mm < nearest->gap_mm)) nearest = here;
    };
    const auto look_at_end = [&](bool other_end) {
      for (const Body as : {Body::kCase, Body::kLid}) {
        Part taut = TautPart(task_.solid, stay, face, as);
        if (other_end) {
          std::swap(taut.z_min_mm, taut.z_max_mm);
          taut.z_min_mm *= -1.0;
          taut.z_max_mm *= -1.0;
        }
        look(as == Body::kCase ? BodiesAt(motion_, task_.limits.open_rad) : BodiesAt(), taut);
      }
    };
    look_at_end(false);
    // The hinge's pieces are the same at both ends, the wood and what stands in it may not be.
    if (!task_.solid.mirrored) look_at_end(true);
    return nearest;
  }

  // A screw of the stay stands beside all that is on its body, not on it or under it.
  void CheckBesideStay() {
    if (!set_.stay) return;
    const double radius = StayHead_mm(set_.stay->fixing) / 2.0;
    for (const HingePiece& piece : set_.pieces) {
      const bool fixed = piece.body == Body::kCase || piece.body == Body::kLid;
      if (!fixed || piece.member == Member::kStay || piece.kind == PieceKind::kJig) continue;
      const Vec2& at = piece.body == Body::kCase ? set_.stay->on_case : set_.stay->on_lid;
      if (SignedDistance({Flatten(piece.outline, kFine_mm)}, at) >= radius + kBeside_mm) continue;
      set_.faults.push_back("stay: the place of its screw is taken by the " + piece.name);
      return;
    }
  }

  // Its two screws, clear of all that passes; itself, taut, clear of all but the plates, on whose
  // faces it may lie.
  void MakeStay() {
    const Stay& stay = *options_.stay;
    set_.stay = stay;
    const std::vector<HingePiece> pieces = StayPieces(stay, task_.job, set_);
    if (!Clears(pieces)) {
      set_.faults.push_back("stay: a screw of it is passed too closely during the swing");
      return;
    }
    const std::optional<Nearness> nearest = NearestToTaut(stay);
    Verdict free = Reckoned(Requirement::kStayFree, Unit::kMm, task_.limits.arms_gap_mm,
                            nearest ? nearest->gap_mm - Error_mm() : task_.limits.arms_gap_mm);
    free.of = Member::kStay;
    free.angle_rad = task_.limits.open_rad;
    free.nearest = nearest;
    set_.verdicts.push_back(free);
    set_.verdicts.push_back(StayTaut(stay, motion_, task_.limits.open_rad));
    for (const HingePiece& piece : pieces) Keep(piece);
  }

  void MakeStop() {
    if (options_.stay) return MakeStay();
    if (!options_.stop) return;
    std::vector<Stoppable> parts{{Body::kArmA, arms_[0]->outline, set_.stack->arm_a},
                                 {Body::kArmB, arms_[1]->outline, set_.stack->arm_b}};
    if (set_.lid_plate) {
      parts.push_back({Body::kLid, set_.lid_plate->outline, set_.stack->lid_plate});
    }
    const Hardware& hardware = *set_.hardware;
    const auto stopped = [&](const Stop& stop) -> const Stoppable& {
      return *std::find_if(parts.begin(), parts.end(),
                           [&](const Stoppable& part) { return part.body == stop.stops; });
    };
    const auto proof = [&](const Stop& stop) {
      return Clears({StopPiece(stop, task_.job, set_)}) &&
             StopDoes(task_, swing_, stop, stopped(stop));
    };
    const double collar = std::max(hardware.spacer_out_mm, hardware.washer_out_mm);
    const double pin = hardware.bushing.pin_mm;
    const double own = options_.stop_rod_mm;
    std::vector<std::pair<double, double>> posts;
    if (own > 0.0) {
      posts = {{own, own}};
    } else {
      posts = {{hardware.bushing.outside_mm, pin}, {pin, pin}};
      for (const double share : kThinnerRods) {
        if (const double thin = ThinnerRod_mm(share * pin)) posts.push_back({thin, thin});
      }
    }
    std::string fault;
    for (const auto& [diameter, rod] : posts) {
      const double edge = std::max(EdgeOf(rod), needs_.screw_edge_mm) + kInPlate_mm;
      const double apart = (collar + diameter) / 2.0 + kBeside_mm, radius = diameter / 2.0;
      set_.stop = WithReserve([&] {
        return FindStop(task_, motion_, parts, radius, edge, apart, task_.solid.bay.z_max_mm, proof,
                        &fault);
      });
      if (!set_.stop) continue;
      set_.stop->rod_mm = rod;
      break;
    }
    if (!set_.stop) {
      if (MakePad()) return;
      if (task_.job.loads.stay) {
        set_.sentences.push_back("No post stops the lid (" + fault +
                                 "): the stay that you fit has to.");
      } else {
        set_.faults.push_back(fault + "; a stay that you fit (loads.stay) would stop it too");
      }
      return;
    }
    Keep(StopPiece(*set_.stop, task_.job, set_));
    Add(StopVerdicts(task_, swing_, *set_.stop, stopped(*set_.stop)));
  }

  // Where no post has a place, the lid's back may come down on the case.
  bool MakePad() {
    const bool inches = task_.job.inches;
    const double length = options_.pad_mm > 0.0 ? options_.pad_mm : UsualPad_mm(inches);
    set_.pad = FindPad(task_, motion_, length, [&](const Pad& pad) {
      return Clears({PadPiece(pad, inches)}) && PadDoes(task_, swing_, pad);
    });
    if (!set_.pad) return false;
    Keep(PadPiece(*set_.pad, inches));
    Add(PadVerdicts(task_, swing_, *set_.pad));
    return true;
  }

  // [mm] From a rod's centre to the edge of the plate that holds it, growing with its diameter.
  double EdgeOf(double rod_mm) const {
    return needs_.pin_edge_mm * rod_mm / set_.hardware->bushing.pin_mm;
  }

  // [mm] The thickest rod sold of at most that diameter, or 0.
  double ThinnerRod_mm(double most_mm) const {
    double thin_mm = 0.0;
    for (const StockRod& rod : StockRods()) {
      if (rod.inch != task_.job.inches || rod.diameter_mm > most_mm) continue;
      thin_mm = std::max(thin_mm, rod.diameter_mm);
    }
    return thin_mm;
  }

  void MakeCasePlate() {
    if (!task_.job.plates.on_case) return;
    PlateNeeds needs = needs_;
    std::vector<Vec2> also;
    if (set_.stop) {
      also.push_back(set_.stop->centre);
      needs.pin_edge_mm = std::max(needs.pin_edge_mm, EdgeOf(set_.stop->rod_mm));
    }
    std::string fault;
    set_.case_plate = WithReserve([&] {
      return ShapeCasePlate(
          task_, motion_, needs, also, set_.lid_plate,
          [&](const Plate& plate) { return Clears(CasePlatePieces(plate, task_.job, set_)); },
          &fault);
    });
    if (!set_.case_plate) {
      set_.faults.push_back(fault);
      return;
    }
    for (HingePiece& piece : CasePlatePieces(*set_.case_plate, task_.job, set_)) Keep(piece);
  }

  void MakeTheJig() {
    std::string fault;
    set_.jig = MakeJig(task_.job, task_.solid, task_.box, motion_.pivots(), *set_.stack,
                       *set_.hardware, set_.case_plate, set_.lid_plate, set_.stop, &fault);
    if (set_.jig) {
      set_.pieces.push_back(set_.jig->piece);
    } else {
      set_.faults.push_back(fault);
    }
  }

  // A hinge that nobody can put together is none.
  void PutInOrder() {
    if (!set_.faults.empty() || !AllMet(set_.verdicts)) return;
    set_.order = OrderOfAssembly(task_, motion_, set_);
    for (const AssemblyMove& move : set_.order) {
      if (!move.free) set_.faults.push_back(FaultOf(move, task_.job.inches));
    }
    if (set_.lid_plate && set_.lid_plate->recess_mm > 0.0) {
      set_.sentences.push_back(
          "The lid plate is let into the lid's top: the lid's way down past it and the bit's way "
          "past the lid's ceiling to its screws are not proven. Try both dry, before any glue.");
    }
    if (!set_.jig) return;
    for (JigStep& step : set_.jig->steps) {
      step.text += WordsOf(step, set_.order, task_.job.inches) + step.last;
    }
  }

  // A plate holds what goes through it: all of each hole lies in it.
  void CheckHoles() {
    for (const HingePiece& piece : set_.pieces) {
      if (piece.kind != PieceKind::kLidPlate && piece.kind != PieceKind::kCasePlate) continue;
      const std::vector<Ring> edge{Flatten(piece.outline, kFine_mm)};
      for (const std::vector<Circle>* holes : {&piece.holes, &piece.drills}) {
        for (const Circle& hole : *holes) {
          if (SignedDistance(edge, hole.centre) < -hole.radius_mm) continue;
          set_.faults.push_back(piece.name + ": the hole at " +
                                PointText(hole.centre.x(), hole.centre.y(), task_.job.inches) +
                                " runs over its edge");
        }
      }
    }
  }

  void CertifyAll() { Add(CertifyGaps(assembly_, swing_, task_.limits, Stage::kParts)); }

  // Shut, the lid lies on the rim and on nothing else.
  void RestVerdict() {
    const double seam = std::isnan(task_.job.lid.seam_gap_mm) ? 0.0 : task_.job.lid.seam_gap_mm;
    const std::optional<Nearness> shut =
        GapAt(BodiesAt(),
              PairsBetween(task_.box.Shapes(PartKind::kLid), task_.box.Shapes(PartKind::kCase)));
    LW_REQUIRE(shut.has_value(), "lid and case share no stretch of the width");
    Verdict rests = Reckoned(Requirement::kLidRests, Unit::kMm, seam + kBlendError_mm,
                             std::max(0.0, shut->gap_mm), true);
    rests.nearest = shut;
    rests.angle_rad = 0.0;
    set_.verdicts.push_back(rests);
  }

  // [mm] Chords of outlines that are asked for a distance.
  static constexpr double kFine_mm = 0.01;

  // [mm] Between a stop and the spacer of a pin beside it.
  static constexpr double kBeside_mm = 0.5;

  // [mm] The room's grid may be off by this for the plate that carries a stop.
  static constexpr double kInPlate_mm = 0.3;

  const ArmsTask& task_;
  const Swing& swing_;
  const LidMotion& motion_;
  const HingeSetOptions& options_;
  std::array<const Arm*, 2> arms_;
  Assembly assembly_;  // the box and all pieces so far
  Limits kept_;        // the job's, with the reserve that is tried
  PlateNeeds needs_;
  HingeSet set_;
};

}  // namespace

Part AsPart(const HingePiece& piece) {
  return MakePrism(piece.name, piece.body, piece.z_min_mm, piece.z_max_mm,
                   {Flatten(piece.outline, kChordError_mm, Chords::kOutside)});
}

HingePiece MirrorPiece(const HingePiece& piece) {
  HingePiece mirror = piece;
  mirror.z_min_mm = -piece.z_max_mm;
  mirror.z_max_mm = -piece.z_min_mm;
  return mirror;
}

HingeSet MakeHingeSet(const ArmsTask& task, const Swing& swing, const Arm& arm_a, const Arm& arm_b,
                      const HingeSetOptions& options) {
  LW_REQUIRE(swing.to() == task.limits.open_rad, "a swing that does not open the lid");
  return Maker(task, swing, arm_a, arm_b, options).Make();
}

}  // namespace lidwright
