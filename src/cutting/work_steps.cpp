// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/work_steps.h"

#include <algorithm>

#include "lidwright/base/bench.h"

namespace lidwright {
namespace {

template <typename Wanted>
std::vector<std::string> Names(const HingeSet& set, Wanted wanted) {
  std::vector<std::string> names;
  for (const HingePiece& piece : set.pieces) {
    if (piece.per_end > 0 && wanted(piece)) names.push_back(piece.name);
  }
  return names;
}

bool IsFlat(const HingePiece& piece) {
  return piece.cut_from_sheet;
}

bool IsPlate(const HingePiece& piece) {
  return piece.kind == PieceKind::kCasePlate || piece.kind == PieceKind::kLidPlate;
}

StepScene SceneOf(JigScene scene) {
  switch (scene) {
    case JigScene::kPlatesOnJig:
      return StepScene::kPlatesOnJig;
    case JigScene::kJigInCase:
      return StepScene::kJigInCase;
    case JigScene::kJigInLid:
      return StepScene::kJigInLid;
    case JigScene::kArmsShut:
      return StepScene::kArmsShut;
    case JigScene::kLidLowered:
      return StepScene::kLidLowered;
    case JigScene::kLidOpen:
      break;
  }
  return StepScene::kLidOpen;
}

// What is handled at a step of the jig.
std::vector<std::string> PiecesAt(const HingeSet& set, JigScene scene) {
  return Names(set, [&](const HingePiece& piece) {
    const bool jig = piece.kind == PieceKind::kJig, pin = piece.kind == PieceKind::kPin;
    const bool screw = piece.kind == PieceKind::kScrew;
    switch (scene) {
      case JigScene::kPlatesOnJig:
        return jig || (piece.body == Body::kCase && (pin || IsPlate(piece)));
      case JigScene::kJigInCase:
        return jig || piece.kind == PieceKind::kCasePlate || (screw && piece.body == Body::kCase) ||
               (pin && piece.body == Body::kCase);
      case JigScene::kJigInLid:
        return jig || (pin && piece.body == Body::kLid);
      case JigScene::kArmsShut:
        return piece.kind == PieceKind::kArm || piece.kind == PieceKind::kStop ||
               piece.kind == PieceKind::kWasher || piece.kind == PieceKind::kLidPlate;
      case JigScene::kLidLowered:
        return piece.body == Body::kLid && (IsPlate(piece) || piece.cut_from_sheet);
      case JigScene::kLidOpen:
        break;
    }
    return piece.kind == PieceKind::kArm || piece.kind == PieceKind::kStop ||
           piece.kind == PieceKind::kWasher || (screw && piece.body == Body::kLid);
  });
}

void AddMaking(const Job& job, const HingeSet& set, std::vector<WorkStep>& steps) {
  steps.push_back(
      {"Measure the print, try it in card",
       "Measure the two bars at the foot of every full-size sheet; if they are off, print again at "
       "100 %. Glue the card sheets to card, cut them out, put a pin through each pair of crosses "
       "of the same name, and swing the lid's card by hand. No wood is spoiled yet.",
       "the case's card, on the bench",
       "the lid's card, by hand",
       "knife, glue, drawing pins",
       StepScene::kCard,
       {StepSheet::kCard},
       Names(set, [](const HingePiece& piece) { return piece.kind == PieceKind::kArm; }),
       job.inches ? "the 4 in bar" : "the 100 mm bar"});
  const std::string cutter = job.shop.cutter_mm > 0.0
                                 ? "cutter of " + BenchLength(job.shop.cutter_mm, job.inches)
                                 : std::string("saw or laser");
  steps.push_back(
      {"Cut the flat parts",
       "From the files in cut/, or along the full-size sheets glued on: first drill marks, then "
       "holes, then outlines. Small parts jump: hold them with tabs or tape, never with fingers. "
       "Deburr every edge and countersink where the sheet says so; wear glasses and a mask, and "
       "keep brass dust off skin and lungs. Mark left and right at once.",
       "the sheet, by tape all round",
       "the cutter",
       cutter + ", drills, file, countersink",
       StepScene::kFlatParts,
       {StepSheet::kPlates, StepSheet::kArms, StepSheet::kNest},
       Names(set, IsFlat),
       "hole to hole of both arms"});
  steps.push_back(
      {"Saw pins and spacers, press the bushings",
       "Saw rod and tube to the lengths of the parts list, square, and deburr them inside and out. "
       "Press a bushing into each hole of the arms, flush on both faces. Every pin must turn in "
       "its bushing by its own weight." +
           std::string(set.case_plate || set.lid_plate
                           ? " Press the pins into their plates, square, as far as the stack "
                             "sheet shows."
                           : "") +
           " Lay the pieces of each pin out in the order of the stack sheet.",
       "the arm, between soft jaws",
       "the bushing, pressed in square",
       "fine saw, file, vice with soft jaws",
       StepScene::kTurnedParts,
       {StepSheet::kStack},
       Names(set,
             [](const HingePiece& piece) {
               return !piece.cut_from_sheet && piece.kind != PieceKind::kScrew;
             }),
       "diameter of a pin"});
}

// What holds a stay's ends: holes, sizes, and where a bolt comes out.
std::string FixingOf(const Stay& stay, bool inches) {
  const StayFixing& fixing = stay.fixing;
  const auto say = [&](double mm) { return BenchLength(mm, inches); };
  const std::string hole = say(fixing.hole_mm);
  if (!fixing.bolted) {
    return "Drill pilots of " + hole + ", " + say(fixing.in_case.thread_mm) +
           " deep in the case and " + say(fixing.in_lid.thread_mm) +
           " in the lid, and drive screw 1 (" + fixing.name + " x " +
           say(fixing.in_case.length_mm) + ") into the case and screw 2 (" + fixing.name + " x " +
           say(fixing.in_lid.length_mm) + ") into the lid, each with a washer.";
  }
  return "Drill holes of " + hole +
         " right through case and lid, from inside, scrap clamped behind so that the outside does "
         "not tear out. Bolt 1 (" +
         fixing.name + " x " + say(fixing.in_case.length_mm) + ") goes through the case, bolt 2 (" +
         fixing.name + " x " + say(fixing.in_lid.length_mm) +
         ") through the lid: head, washer and the stay's end inside, washer and cap nut outside.";
}

bool GoesThrough(const HingeSet& set) {
  return (set.hardware && set.hardware->bolts) || (set.stay && set.stay->fixing.bolted);
}

bool HasHoles(const HingeSet& set) {
  return std::any_of(set.bench_work.begin(), set.bench_work.end(),
                     [](const WoodWork& work) { return work.hole.radius_mm > 0.0; });
}

}  // namespace

std::vector<WorkStep> WorkSteps(const Job& job, const HingeSet& set) {
  std::vector<WorkStep> steps;
  AddMaking(job, set, steps);
  if (HasHoles(set)) {
    steps.push_back(
        {"Drill case and lid",
         "Cut each template along its two heavy dashed lines and lay it on the end wall from "
         "inside, as it says. Prick the crosses through, take the paper away, and drill to the "
         "depths of its table, square to the wall. Left and right are different sheets. Try it in "
         "scrap first. Where a wall is in the chuck's way, drill before the box is glued up, or "
         "with a right-angle chuck." +
             std::string(GoesThrough(set) ? " Holes for bolts go right through: clamp scrap behind."
                                          : ""),
         "the case, on its back; the template, by tape",
         "the drill, square to the wall",
         "awl, drill with a depth stop, square",
         StepScene::kHolesInWood,
         {StepSheet::kTemplates},
         {},
         "the holes' depth"});
  }
  if (set.jig) {
    bool first = true;
    for (const JigStep& step : set.jig->steps) {
      steps.push_back({step.title,
                       step.text,
                       step.held,
                       step.moves,
                       step.tool,
                       SceneOf(step.shows),
                       {},
                       PiecesAt(set, step.shows),
                       ""});
      for (const AssemblyMove& move : set.order) {
        if (move.step == step.shows) steps.back().motions.push_back(move);
      }
      if (first) steps.back().sheets = {StepSheet::kJig};
      first = false;
    }
  }
  if (set.stay) {
    steps.push_back(
        {"Fit the stays",
         "Prop the lid at its opening angle with a stick, measured by the frames or the overlay. " +
             FixingOf(*set.stay, job.inches) +
             " Draw the stay taut between them, not tighter, or the hinge carries it. The same at "
             "the other end; both must come taut together. Lower the lid slowly and see where the "
             "slack falls: into the box, not on the rim nor between the arms.",
         "the lid, by a prop",
         "the stay, drawn taut by hand",
         "drill of " + BenchLength(set.stay->fixing.hole_mm, job.inches) +
             (set.stay->fixing.bolted ? ", scrap, screwdriver, spanner, stick"
                                      : ", screwdriver, awl, stick"),
         StepScene::kLidOpen,
         {},
         Names(set, [](const HingePiece& piece) { return piece.member == Member::kStay; }),
         "screw to screw"});
  }
  steps.push_back(
      {"Swing it and check",
       "Swing the lid with a stick first, never with fingers or a face near it. It must rise "
       "without a scrape, go all the way and come back to its place by itself. Measure hole to "
       "hole, shut and open, and write the numbers below. If it rubs, put the pivots as measured "
       "in a file and run 'lidwright check': it says where, and which pin to move." +
           std::string(set.lid_plate ? " To take the lid off again, open and prop it, undo the lid "
                                       "plates' screws as they were driven, and lift it off."
                                     : ""),
       "the case, fast to the bench",
       "the lid, by a stick",
       "stick, caliper, square",
       StepScene::kSwing,
       {StepSheet::kPivots},
       {},
       ""});
  return steps;
}

}  // namespace lidwright
