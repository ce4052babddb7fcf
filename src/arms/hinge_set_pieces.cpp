// SPDX-License-Identifier: Apache-2.0
#include "hinge_set_pieces.h"

#include <cmath>

#include "jig_steps.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/solid/mounting_block.h"

namespace lidwright {

std::string ScrewName(std::size_t number, const std::string& of) {
  return "screw " + std::to_string(number) + " of the " + of;
}

const char* const kLater = "later";

std::string HeadOf(const std::string& screw) {
  return screw + ", head";
}
namespace {

std::string Say(const Job& job, double mm) {
  return BenchLength(mm, job.inches);
}

HingePiece Flat(const std::string& name, PieceKind kind, Member member, Body body,
                const Outline& outline, const LayerSpan& span, const std::string& material) {
  HingePiece piece;
  piece.name = name;
  piece.kind = kind;
  piece.member = member;
  piece.body = body;
  piece.outline = outline;
  piece.z_min_mm = span.z_min_mm;
  piece.z_max_mm = span.z_max_mm;
  piece.material = material;
  return piece;
}

HingePiece Round(const std::string& name, PieceKind kind, Member member, Body body,
                 const Vec2& centre, double diameter, const LayerSpan& span,
                 const std::string& material) {
  HingePiece piece =
      Flat(name, kind, member, body, AsOutline({centre, diameter / 2.0}), span, material);
  piece.cut_from_sheet = false;
  return piece;
}

std::string Kind(const Hardware& hardware) {
  return hardware.bolts ? "countersunk machine screw, with washer and nut"
                        : "countersunk wood screw";
}

// Screws with their heads, sunk in the plate, and their shanks.
void AddScrews(const std::string& plate, Member member, Body body, const std::vector<Vec2>& at,
               const LayerSpan& span, const Job& job, const Hardware& hardware,
               std::vector<HingePiece>& pieces) {
  const WoodScrew& screw = hardware.screw;
  for (std::size_t i = 0; i < at.size(); ++i) {
    const std::string name = ScrewName(i + 1, plate);
    HingePiece head = Round(HeadOf(name), PieceKind::kScrew, member, body, at[i], screw.head_mm,
                            {span.z_min_mm, span.z_min_mm + screw.head_height_mm}, "steel");
    head.note = screw.name + " x " + Say(job, span.z_max_mm - span.z_min_mm) + " " + Kind(hardware);
    HingePiece shank = Round(name + ", shank", PieceKind::kScrew, member, body, at[i],
                             screw.diameter_mm, {head.z_max_mm, span.z_max_mm}, "steel");
    shank.per_end = 0;  // counted with its head
    pieces.push_back(head);
    pieces.push_back(shank);
  }
}

std::vector<Circle> ScrewHoles(const Plate& plate, const Hardware& hardware) {
  std::vector<Circle> holes;
  for (const Vec2& at : plate.screws) holes.push_back({at, hardware.screw.clearance_mm / 2.0});
  return holes;
}

}  // namespace

Member PinOf(Body body, bool arm_b) {
  if (body == Body::kCase) return arm_b ? Member::kCasePinB : Member::kCasePinA;
  return arm_b ? Member::kLidPinB : Member::kLidPinA;
}

void AddArms(const Arm& arm_a, const Arm& arm_b, const Job& job, HingeSet& set) {
  const Hardware& hardware = *set.hardware;
  for (const auto& [arm, body] : {std::pair(&arm_a, Body::kArmA), {&arm_b, Body::kArmB}}) {
    const std::string name = body == Body::kArmA ? "arm A" : "arm B";
    const Member member = body == Body::kArmA ? Member::kArmA : Member::kArmB;
    const LayerSpan span{arm->z_min_mm, arm->z_max_mm};
    HingePiece piece =
        Flat(name, PieceKind::kArm, member, body, arm->outline, span, job.arms.material);
    piece.note = "layer " + std::to_string(arm->layer + 1) + " from the end wall";
    std::vector<HingePiece> bushings;
    for (const auto& [end, hole] : {std::pair("case", arm->case_hole), {"lid", arm->lid_hole}}) {
      piece.holes.push_back({hole.centre, hardware.arm_hole_mm / 2.0});
      HingePiece bushing =
          Round(std::string(end) + " bushing of " + name, PieceKind::kBushing, member, body,
                hole.centre, hardware.bushing.outside_mm, span, "brass");
      bushing.holes.push_back({hole.centre, hardware.bushing.inside_mm / 2.0});
      bushing.note = hardware.bushing.name + ", " + Say(job, job.arms.thickness_mm) +
                     " long, flush on both sides";
      bushings.push_back(bushing);
    }
    set.pieces.push_back(piece);
    set.pieces.insert(set.pieces.end(), bushings.begin(), bushings.end());
  }
}

void AddPins(const Job& job, HingeSet& set) {
  const Hardware& hardware = *set.hardware;
  for (const PivotStack& stack : set.stack->pivots) {
    const std::string of = stack.pivot.substr(stack.pivot.find(" pin"));
    const std::string where = stack.body == Body::kCase ? "case" : "lid";
    const Member member = PinOf(stack.body, stack.arm_b);
    HingePiece pin = Round(stack.pivot, PieceKind::kPin, member, stack.body, stack.centre,
                           hardware.bushing.pin_mm, stack.pin, "steel");
    pin.joined = stack.arm_b ? Body::kArmB : Body::kArmA;
    pin.note =
        Say(job, hardware.bushing.pin_mm) + " rod, " + Say(job, stack.pin_length_mm) + " long";
    const bool washer = stack.spacer.z_max_mm - stack.spacer.z_min_mm <= 1.5;
    HingePiece spacer = Round((washer ? "washer on " : "spacer on ") + where + of,
                              washer ? PieceKind::kWasher : PieceKind::kSpacer, member, stack.body,
                              stack.centre, hardware.spacer_out_mm, stack.spacer, "brass");
    spacer.holes.push_back({stack.centre, hardware.spacer_bore_mm / 2.0});
    spacer.note = Say(job, hardware.spacer_out_mm) + " outside, bored " +
                  Say(job, hardware.spacer_bore_mm) + ", " +
                  Say(job, stack.spacer.z_max_mm - stack.spacer.z_min_mm) + " long";
    HingePiece head = Round("head of " + where + of, PieceKind::kWasher, member, stack.body,
                            stack.centre, hardware.washer_out_mm, stack.head, "brass");
    head.holes.push_back({stack.centre, hardware.bushing.pin_mm / 2.0});
    head.note = Say(job, hardware.washer_out_mm) + " washer, " +
                Say(job, stack.head.z_max_mm - stack.head.z_min_mm) +
                " thick, fixed flush on the pin's end with retaining compound or riveted";
    set.pieces.push_back(pin);
    set.pieces.push_back(spacer);
    set.pieces.push_back(head);
  }
}

bool IsThick(const LayerSpan& span) {
  return span.z_max_mm - span.z_min_mm > kSamePoint_mm;
}

// Of wood, as wide as what stands on it. Screws hold in it as in the wall, their pilots drilled
// through the plate once it is glued. Planed to fit, so that its thickness is told as a rule reads.
HingePiece BlockPiece(const std::string& name, const HingePiece& on, LayerSpan span, bool inches,
                      const std::string& note) {
  span.z_max_mm = span.z_min_mm + PlanedTo_mm(span.z_max_mm - span.z_min_mm, inches);
  HingePiece block =
      Flat(name, PieceKind::kSpacer, on.member, on.body, on.outline, span, "hardwood");
  block.note = note;
  return block;
}

std::vector<HingePiece> LidPlatePieces(const Plate& plate, const Job& job, const HingeSet& set) {
  const Hardware& hardware = *set.hardware;
  std::vector<HingePiece> pieces;
  HingePiece flat = Flat("lid plate", PieceKind::kLidPlate, Member::kLidPlate, Body::kLid,
                         plate.outline, set.stack->lid_plate, set.stack->plate_material);
  for (const PivotStack& stack : set.stack->pivots) {
    if (stack.body == Body::kLid) {
      flat.holes.push_back({stack.centre, hardware.plate_hole_mm / 2.0});
    }
  }
  flat.drills = ScrewHoles(plate, hardware);
  flat.note = "countersink the screw holes on the inner face; pins flush on the outer";
  pieces.push_back(flat);
  HingePiece packing =
      Flat("packing of the lid plate", PieceKind::kSpacer, Member::kLidPlate, Body::kLid,
           plate.packing, set.stack->lid_packing, set.stack->plate_material);
  packing.drills = flat.drills;
  packing.note = Say(job, packing.z_max_mm - packing.z_min_mm) + " thick, between lid plate and " +
                 (IsThick(set.stack->lid_block) ? "its block" : "the lid's end wall");
  pieces.push_back(packing);
  if (IsThick(set.stack->lid_block)) {
    pieces.push_back(BlockPiece("mounting block of the lid", packing, set.stack->lid_block,
                                job.inches, "glued to the lid's end wall, under the packing"));
  }
  AddScrews("lid plate", Member::kLidPlate, Body::kLid, plate.screws, set.stack->lid_screw, job,
            hardware, pieces);
  return pieces;
}

std::vector<HingePiece> CasePlatePieces(const Plate& plate, const Job& job, const HingeSet& set) {
  const Hardware& hardware = *set.hardware;
  std::vector<HingePiece> pieces;
  HingePiece flat = Flat("case plate", PieceKind::kCasePlate, Member::kCasePlate, Body::kCase,
                         plate.outline, set.stack->case_plate, set.stack->plate_material);
  for (const PivotStack& stack : set.stack->pivots) {
    if (stack.body == Body::kCase) {
      flat.holes.push_back({stack.centre, hardware.plate_hole_mm / 2.0});
    }
  }
  // Its rod goes in last, past arms and pins, where nobody can press: it is pushed and fixed.
  if (set.stop) flat.holes.push_back({set.stop->centre, set.stop->rod_mm / 2.0});
  flat.drills = ScrewHoles(plate, hardware);
  flat.note = "countersink the screw holes on the inner face";
  pieces.push_back(flat);
  // The packing has the plate's outline: what it is certified to clear, a lip inside the case's
  // end, cannot rub on the plate beside it either when the lid floats along its pins.
  const LayerSpan& packed = set.stack->case_packing;
  if (IsThick(packed)) {
    HingePiece packing = Flat("packing of the case plate", PieceKind::kSpacer, Member::kCasePlate,
                              Body::kCase, plate.outline, packed, set.stack->plate_material);
    packing.holes = flat.holes;
    packing.drills = flat.drills;
    packing.note = Say(job, packed.z_max_mm - packed.z_min_mm) + " thick, under the case plate, " +
                   (job.lid.lip_at_ends && job.lid.lip_mm > 0.0
                        ? "which stands beside the lip at the lid's end"
                        : "because the lid's end wall is thicker");
    pieces.push_back(packing);
  }
  if (IsThick(set.stack->case_block)) {
    pieces.push_back(BlockPiece("mounting block of the case", flat, set.stack->case_block,
                                job.inches,
                                "at the rim; its back planed to fit the end wall and glued to it"));
  }
  AddScrews("case plate", Member::kCasePlate, Body::kCase, plate.screws, set.stack->case_screw, job,
            hardware, pieces);
  return pieces;
}

HingePiece StopPiece(const Stop& stop, const Job& job, const HingeSet& set) {
  const Hardware& hardware = *set.hardware;
  const double face = job.plates.on_case ? set.stack->case_plate.z_min_mm : set.stack->case_face_mm;
  HingePiece piece = Round("stop", PieceKind::kStop, Member::kStop, Body::kCase, stop.centre,
                           2.0 * stop.radius_mm, {stop.span.z_min_mm, face}, "brass");
  piece.joined = stop.stops;
  const double rod = set.stack->case_face_mm + set.stack->pin_in_wall_mm - stop.span.z_min_mm;
  const std::string length = Say(job, stop.rod_mm) + ", " + Say(job, rod) + " long, " +
                             (job.plates.on_case ? "through the case plate" : "straight") +
                             " into the wall";
  if (stop.HasSleeve()) {
    piece.holes.push_back({stop.centre, hardware.bushing.inside_mm / 2.0});
    piece.note = hardware.bushing.name + " as a sleeve, " +
                 Say(job, piece.z_max_mm - piece.z_min_mm) + " long, on a rod of " + length;
  } else {
    piece.note = "rod of " + length;
    piece.material = "steel";
  }
  return piece;
}

const char* StayScrewKind(const StayFixing& fixing) {
  return fixing.bolted ? "round-head machine screw, washers, cap nut outside"
                       : "round-head wood screw, washer";
}

// A screw's head stands on the wall with its washer and the stay's end under it.
std::vector<HingePiece> StayPieces(const Stay& stay, const Job& job, const HingeSet& set) {
  std::vector<HingePiece> pieces;
  const StayFixing& fixing = stay.fixing;
  const auto add = [&](std::size_t number, Body body, const Vec2& at, double face,
                       const ScrewLength& in) {
    HingePiece head = Round(HeadOf(ScrewName(number, "stay")), PieceKind::kScrew, Member::kStay,
                            body, at, StayHead_mm(fixing), {face - kStayHead_mm, face}, "steel");
    head.note = fixing.name + " x " + Say(job, in.length_mm) + " " + StayScrewKind(fixing);
    pieces.push_back(head);
  };
  add(1, Body::kCase, stay.on_case, set.stack->case_end_mm, fixing.in_case);
  add(2, Body::kLid, stay.on_lid, set.stack->lid_end_mm, fixing.in_lid);
  return pieces;
}

namespace {

void AddStayWork(const Job& job, const Stay& stay, HingeSet& set) {
  const StayFixing& fixing = stay.fixing;
  const auto drilled = [&](std::size_t number, Body body, const Vec2& at, const ScrewLength& in) {
    const std::string screw = ScrewName(number, "stay");
    set.bench_work.push_back({std::string(fixing.bolted ? "hole" : "pilot") + " for " + screw,
                              body,
                              {at, fixing.hole_mm / 2.0},
                              in.thread_mm,
                              fixing.bolted
                                  ? "right through; washer and cap nut outside"
                                  : "hard wood; " + Say(job, fixing.soft_hole_mm) + " in soft",
                              HeadOf(screw)});
    set.buy.push_back(
        {"screw of the stay", 1, in.length_mm, fixing.name + " " + StayScrewKind(fixing)});
  };
  drilled(1, Body::kCase, stay.on_case, fixing.in_case);
  drilled(2, Body::kLid, stay.on_lid, fixing.in_lid);
  const std::string sold = stay.sold.NameIn(job.inches);
  set.buy.push_back({"stay", 1, stay.length_mm, sold + ", between its screws"});
  set.sentences.push_back(
      "The open lid is stopped by a stay at each end: " + sold + ", " + Say(job, stay.length_mm) +
      " from screw to screw, taut when the lid is open. It takes the load of who leans on the lid "
      "off arms and pins. "
      "Slack, it must fall into the box, not on the rim or between the arms: a stitch of thread "
      "to the middle of the lid's lining leads it." +
      std::string(fixing.bolted
                      ? " Its bolts go right through case and lid: no wood screw that the "
                        "wall takes would hold it. Cap nuts show outside."
                      : ""));
}

// Depths are those of a hole's full width; a twist drill's point of 118 degrees goes on.
bool PointComesThrough(double wide_mm, double deep_mm, double wall_mm) {
  const double point_mm = wide_mm / 2.0 / std::tan(59.0 * kRadPerDeg);
  return deep_mm + point_mm > wall_mm;
}

}  // namespace

void AddSentences(const Job& job, HingeSet& set) {
  const StackPlan& plan = *set.stack;
  const Hardware& hardware = *set.hardware;
  set.sentences = hardware.why;
  // A plate holds its pin, and the wood behind only guides it; bare wood has to hold it.
  // Pins pressed in a plate go where the jig holds it: their holes in the wood leave them room.
  const double bedding = job.inches ? kMmPerInch / 32.0 : 1.0;
  const double in_wall =
      job.plates.on_case ? hardware.bushing.pin_mm + bedding : hardware.wood_hole_mm;
  const double wall_deep = plan.pin_in_wall_mm + kUnderPin_mm;
  const std::string flat = PointComesThrough(in_wall, wall_deep, plan.case_wall_mm)
                               ? "; drill ground flat, a point comes out"
                               : "";
  const std::string into_wall =
      (job.plates.on_case ? "wider than the pin: bed it in thick epoxy"
                          : "mark it through the jig, drill square; glue the pin in") +
      flat;
  for (const PivotStack& stack : plan.pivots) {
    set.buy.push_back(
        {stack.pivot, 1, stack.pin_length_mm, Say(job, hardware.bushing.pin_mm) + " steel rod"});
    if (stack.body == Body::kCase && plan.pin_in_wall_mm > 0.0) {
      set.bench_work.push_back({"hole for the " + stack.pivot,
                                Body::kCase,
                                {stack.centre, in_wall / 2.0},
                                wall_deep,
                                into_wall,
                                stack.pivot});
    }
    if (stack.body == Body::kLid && !job.plates.on_lid) {
      set.bench_work.push_back({"hole for the " + stack.pivot,
                                Body::kLid,
                                {stack.centre, hardware.wood_hole_mm / 2.0},
                                stack.pin.z_max_mm - plan.lid_face_mm + kUnderPin_mm,
                                job.plates.on_case
                                    ? "mark it through the jig, drill square; glue the pin in"
                                    : "later, marked through its arm's eye; glue the pin in",
                                stack.pivot});
    }
  }
  set.buy.push_back({"bushing", 4, job.arms.thickness_mm, hardware.bushing.name});
  const auto screws = [&](const std::optional<Plate>& plate, const LayerSpan& span, double face,
                          double wall, Body body, const std::string& name) {
    if (!plate) return;
    set.buy.push_back({"screw of the " + name, static_cast<int>(plate->screws.size()),
                       span.z_max_mm - span.z_min_mm, hardware.screw.name + " " + Kind(hardware)});
    const std::string later =
        kLater + std::string(body == Body::kCase ? ", through the plate on the jig; "
                                                 : ", through the plate, lid open; ");
    std::size_t number = 0;
    for (const Vec2& at : plate->screws) {
      const std::string screw = ScrewName(++number, name);
      if (hardware.bolts) {
        set.bench_work.push_back({"hole for " + screw,
                                  body,
                                  {at, hardware.screw.clearance_mm / 2.0},
                                  wall,
                                  later + "right through; washer and nut outside, or sunk in a "
                                          "counterbore",
                                  HeadOf(screw)});
        continue;
      }
      set.bench_work.push_back(
          {"pilot for " + screw,
           body,
           {at, hardware.screw.pilot_hard_mm / 2.0},
           span.z_max_mm - face,
           later + "hard wood; " + Say(job, hardware.screw.pilot_soft_mm) + " in soft",
           HeadOf(screw)});
    }
  };
  screws(set.case_plate, plan.case_screw, plan.case_face_mm, plan.case_wall_mm, Body::kCase,
         "case plate");
  screws(set.lid_plate, plan.lid_screw, plan.lid_face_mm, plan.lid_wall_mm, Body::kLid,
         "lid plate");
  if (set.lid_plate && set.lid_plate->recess_mm > 0.0) {
    set.bench_work.push_back({"recess in the lid's top for the lid plate",
                              Body::kLid,
                              {},
                              set.lid_plate->recess_mm,
                              "beside the lid's end wall, " +
                                  Say(job, plan.lid_face_mm - plan.lid_plate.z_min_mm) +
                                  " wide, where the plate stands"});
  }
  if (set.stop) {
    const char* what = set.stop->stops == Body::kArmA   ? "arm A"
                       : set.stop->stops == Body::kArmB ? "arm B"
                                                        : "the lid plate";
    set.bench_work.push_back(
        {"hole for the stop",
         Body::kCase,
         {set.stop->centre, (in_wall - hardware.bushing.pin_mm + set.stop->rod_mm) / 2.0},
         wall_deep,
         (job.plates.on_case ? "wider than the rod: bed it in thick epoxy"
                             : "mark it by the template, drill square; glue the rod in") +
             flat,
         set.stop->HasSleeve() ? "stop rod" : "stop"});
    set.buy.push_back({"stop rod", 1,
                       plan.case_face_mm + plan.pin_in_wall_mm - set.stop->span.z_min_mm,
                       Say(job, set.stop->rod_mm) + " steel rod"});
    set.sentences.push_back("The open lid is carried by the stop: " + std::string(what) +
                            " comes to lie on it at the opening angle. The force on it is the "
                            "lid's moment divided by " +
                            Say(job, set.stop->approach_mm) +
                            ", shared by the stops of both ends.");
  }
  if (set.pad) {
    set.sentences.push_back(
        "The open lid is carried by a pad at each end: a slip of hardwood on the outside of the "
        "lid's back that comes down on the case. The force on it is the lid's moment divided by " +
        Say(job, set.pad->approach_mm) + ", shared by both ends.");
  }
  if (set.stay) AddStayWork(job, *set.stay, set);
  set.sentences.push_back("Shut, the lid rests on the rim; no part of the hinge carries it.");
}

}  // namespace lidwright
