// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/hinge_set.h"

#include <algorithm>
#include <cmath>

#include "hinge_set_pieces.h"
#include "lidwright/arms/straight_pins.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

bool Moves(Body body) {
  return body != Body::kCase;
}

// What stands with case or lid, for a piece on another body, at each end given of it.
std::vector<PartPair> AgainstBox(const ArmsTask& task, const std::vector<ShapedPart>& ends) {
  std::vector<PartPair> pairs;
  for (const ShapedPart& piece : ends) {
    const auto add = [&](const std::vector<ShapedPart>& others) {
      for (const ShapedPart& other : others) {
        if (other.part().body != piece.part().body && Overlap(piece.part(), other.part())) {
          pairs.push_back({&piece, &other});
        }
      }
    };
    add(task.parts.case_slabs);
    add(task.parts.lid_slabs);
    if (Moves(piece.part().body)) {
      add(task.parts.limits);
      add(task.parts.bench);
      add(task.parts.contents);
    }
  }
  return pairs;
}

// Bushings lie within their arms' outlines, and the jig is gone when the lid moves.
bool Stays(const HingePiece& piece) {
  return piece.kind != PieceKind::kBushing && piece.kind != PieceKind::kJig;
}

// The member that a piece belongs to: a pin with its spacer and head, a plate with its screws.
std::string MemberOf(const HingePiece& piece) {
  for (const std::string member : {"case pin of arm A", "case pin of arm B", "lid pin of arm A",
                                   "lid pin of arm B", "case plate", "lid plate"}) {
    if (piece.name.find(member) != std::string::npos) return member;
  }
  return piece.name;
}

class Maker {
 public:
  Maker(const ArmsTask& task, const LidMotion& motion, const Arm& arm_a, const Arm& arm_b,
        const HingeSetOptions& options)
      : task_(task),
        motion_(motion),
        options_(options),
        bounds_(motion, 0.0, task.job.swing.open_rad),
        arms_{&arm_a, &arm_b} {}

  HingeSet Make() {
    Choose();
    if (!set_.stack) return std::move(set_);
    needs_ = NeedsOf(task_.job, *set_.hardware);
    AddArms(*arms_[0], *arms_[1], task_.job, set_);
    AddPins(task_.job, set_);
    JudgePinsInWood();
    MakeLidPlate();
    MakeStop();
    MakeCasePlate();
    if (options_.jig) MakeTheJig();
    CertifyAll();
    RestVerdict();
    AddSentences(task_.job, set_);
    set_.complete = set_.faults.empty() && AllMet(set_.verdicts);
    return std::move(set_);
  }

 private:
  std::string Say(double mm) const { return BenchLength(mm, task_.job.inches); }

  void Choose() {
    set_.hardware = ChooseHardware(task_.job, &set_.faults);
    if (!set_.hardware) return;
    set_.stack = LayStack(task_.job, task_.solid, motion_.pivots(), *arms_[0], *arms_[1],
                          *set_.hardware, &set_.faults);
  }

  // The piece at each end where it has to be looked at: a box whose ends differ has the same hinge
  // at both. The +z end's is the first.
  std::vector<ShapedPart> AtEnds(const HingePiece& piece) const {
    std::vector<ShapedPart> ends;
    ends.emplace_back(AsPart(piece));
    if (!task_.solid.mirrored) ends.emplace_back(AsPart(MirrorPiece(piece)));
    return ends;
  }

  // Whether a piece keeps its gap to wood and to all pieces so far.
  bool Clears(const std::vector<HingePiece>& pieces) const {
    for (const HingePiece& piece : pieces) {
      const std::vector<ShapedPart> ends = AtEnds(piece);
      const ShapedPart& part = ends.front();
      std::vector<PartPair> pairs = AgainstBox(task_, ends);
      std::vector<ShapedPart> others;
      others.reserve(set_.pieces.size());
      for (const HingePiece& other : set_.pieces) {
        if (Joined(piece, other)) continue;
        others.emplace_back(AsPart(other));
        if (!Overlap(part.part(), others.back().part())) others.pop_back();
      }
      for (const ShapedPart& other : others) pairs.push_back({&part, &other});
      if (pairs.empty()) continue;
      if (!GapVerdict("", task_.job.arms.gap_mm, motion_, bounds_, pairs).met) return false;
    }
    return true;
  }

  void MakeLidPlate() {
    if (!task_.job.plates.on_lid) return;
    const double radius = set_.hardware->spacer_out_mm / 2.0;
    const std::vector<Disc> standing{{Body::kCase, motion_.pivots().case_a, radius},
                                     {Body::kCase, motion_.pivots().case_b, radius}};
    std::string fault;
    set_.lid_plate = ShapeLidPlate(
        task_, motion_, needs_, standing,
        [&](const Plate& plate) { return Clears(LidPlatePieces(plate, task_.job, set_)); }, &fault);
    if (!set_.lid_plate) {
      set_.faults.push_back(fault);
      return;
    }
    for (HingePiece& piece : LidPlatePieces(*set_.lid_plate, task_.job, set_)) {
      set_.pieces.push_back(std::move(piece));
    }
  }

  // What the wood itself holds must have enough of it around.
  void JudgePinsInWood() {
    for (const Verdict& verdict : PinsInWood(task_, motion_.pivots())) {
      if (!verdict.met) set_.faults.push_back(verdict.what + ": " + verdict.remark);
    }
  }

  void MakeStop() {
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
             AllMet(StopVerdicts(task_, motion_, stop, stopped(stop)));
    };
    const double edge = std::max(needs_.pin_edge_mm, needs_.screw_edge_mm) + kInPlate_mm;
    const double collar = std::max(hardware.spacer_out_mm, hardware.washer_out_mm);
    // A rod in a sleeve of the bushings' tube, or the bare rod.
    std::string fault;
    for (const double diameter : {hardware.bushing.outside_mm, hardware.bushing.pin_mm}) {
      const double apart = (collar + diameter) / 2.0 + kBeside_mm;
      set_.stop = FindStop(task_, motion_, parts, diameter / 2.0, edge, apart,
                           task_.solid.bay.z_max_mm, proof, &fault);
      if (set_.stop) break;
    }
    if (!set_.stop) {
      set_.faults.push_back(fault);
      return;
    }
    set_.pieces.push_back(StopPiece(*set_.stop, task_.job, set_));
    const Verdicts verdicts = StopVerdicts(task_, motion_, *set_.stop, stopped(*set_.stop));
    set_.verdicts.insert(set_.verdicts.end(), verdicts.begin(), verdicts.end());
  }

  void MakeCasePlate() {
    if (!task_.job.plates.on_case) return;
    std::vector<Vec2> also;
    if (set_.stop) also.push_back(set_.stop->centre);
    std::string fault;
    set_.case_plate = ShapeCasePlate(
        task_, motion_, needs_, also, set_.lid_plate,
        [&](const Plate& plate) { return Clears(CasePlatePieces(plate, task_.job, set_)); },
        &fault);
    if (!set_.case_plate) {
      set_.faults.push_back(fault);
      return;
    }
    for (HingePiece& piece : CasePlatePieces(*set_.case_plate, task_.job, set_)) {
      set_.pieces.push_back(std::move(piece));
    }
  }

  void MakeTheJig() {
    std::string fault;
    set_.jig =
        MakeJig(task_.job, task_.solid, task_.parts, motion_.pivots(), *set_.stack, *set_.hardware,
                set_.case_plate ? set_.case_plate->screws : std::vector<Vec2>(), &fault);
    if (set_.jig) {
      set_.pieces.push_back(set_.jig->piece);
    } else {
      set_.faults.push_back(fault);
    }
  }

  // For each member with all that goes with it, one verdict to the wood and one to the members
  // after it.
  void CertifyAll() {
    std::vector<std::vector<ShapedPart>> parts;  // each piece at its ends
    std::vector<std::string> members;            // in order of appearance
    parts.reserve(set_.pieces.size());
    for (const HingePiece& piece : set_.pieces) {
      parts.push_back(AtEnds(piece));
      const std::string member = MemberOf(piece);
      if (std::find(members.begin(), members.end(), member) == members.end()) {
        members.push_back(member);
      }
    }
    for (const std::string& member : members) {
      std::vector<PartPair> wood, others;
      for (std::size_t i = 0; i < parts.size(); ++i) {
        const HingePiece& piece = set_.pieces[i];
        if (MemberOf(piece) != member || !Stays(piece)) continue;
        if (piece.kind != PieceKind::kArm) {  // arms have been certified to wood when routed
          const auto more = AgainstBox(task_, parts[i]);
          wood.insert(wood.end(), more.begin(), more.end());
        }
        for (std::size_t j = i + 1; j < parts.size(); ++j) {
          if (Joined(piece, set_.pieces[j])) continue;
          const ShapedPart &a = parts[i].front(), &b = parts[j].front();
          if (Overlap(a.part(), b.part())) others.push_back({&a, &b});
        }
      }
      Judge(member + " to case, lid and surroundings", wood);
      Judge(member + " to the other parts", others);
    }
  }

  void Judge(const std::string& what, const std::vector<PartPair>& pairs) {
    if (pairs.empty()) return;
    set_.verdicts.push_back(GapVerdict(what, task_.job.arms.gap_mm, motion_, bounds_, pairs));
  }

  // Shut, the lid lies on the rim and on nothing else.
  void RestVerdict() {
    Verdict rests;
    rests.what = "shut lid rests on the rim";
    rests.at_most = true;
    const double seam = std::isnan(task_.job.lid.seam_gap_mm) ? 0.0 : task_.job.lid.seam_gap_mm;
    rests.required = seam + kBlendError_mm;
    rests.nearest =
        GapAt(motion_, 0.0, PairsBetween(task_.parts.lid_slabs, task_.parts.case_slabs));
    rests.found = rests.nearest.gap_mm;
    rests.angle_rad = 0.0;
    rests.met = rests.found <= rests.required;
    set_.verdicts.push_back(rests);
  }

  // [mm] Between a stop and the spacer of a pin beside it.
  static constexpr double kBeside_mm = 0.5;

  // [mm] The plate that carries a stop keeps this from walls, and the room's grid may be off.
  static constexpr double kInPlate_mm = 0.6;

  const ArmsTask& task_;
  const LidMotion& motion_;
  const HingeSetOptions& options_;
  MotionBounds bounds_;
  std::array<const Arm*, 2> arms_;
  PlateNeeds needs_;
  HingeSet set_;
};

}  // namespace

Part AsPart(const HingePiece& piece) {
  return MakePrism(piece.name, piece.body, piece.z_min_mm, piece.z_max_mm,
                   {Flatten(piece.outline, kChordError_mm, Chords::kOutside)});
}

bool Joined(const HingePiece& a, const HingePiece& b) {
  if (a.body == b.body) return true;
  if (!Stays(a) || !Stays(b)) return true;
  for (const auto& [inner, outer] : {std::pair(&a, &b), {&b, &a}}) {
    if (!inner->joined || outer->body != *inner->joined) continue;
    if (outer->kind == PieceKind::kArm || outer->kind == PieceKind::kLidPlate) return true;
  }
  return false;
}

HingePiece MirrorPiece(const HingePiece& piece) {
  HingePiece mirror = piece;
  mirror.z_min_mm = -piece.z_max_mm;
  mirror.z_max_mm = -piece.z_min_mm;
  return mirror;
}

HingeSet MakeHingeSet(const ArmsTask& task, const LidMotion& motion, const Arm& arm_a,
                      const Arm& arm_b, const HingeSetOptions& options) {
  LW_REQUIRE(motion.Range().high_rad > task.job.swing.open_rad, "the lid does not open");
  return Maker(task, motion, arm_a, arm_b, options).Make();
}

}  // namespace lidwright
