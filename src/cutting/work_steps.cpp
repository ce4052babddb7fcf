// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/work_steps.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/tolerances.h"

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

// A stop that is a sleeve on a rod comes with its rod, which has its own line of the list.
std::vector<std::string> WithRod(const HingeSet& set, std::vector<std::string> names) {
  const auto stop = std::find(names.begin(), names.end(), "stop");
  if (stop != names.end() && set.stop && set.stop->HasSleeve()) names.insert(stop + 1, "stop rod");
  return names;
}

std::vector<std::string> WithStay(std::vector<std::string> names) {
  names.push_back("stay");
  return names;
}

// What is handled at a step of the jig.
std::vector<std::string> PiecesAt(const Job& job, const HingeSet& set, JigScene scene) {
  const bool stop_now = scene == StopComesIn(job.plates);
  return Names(set, [&](const HingePiece& piece) {
    if (piece.kind == PieceKind::kStop) return stop_now;
    const bool jig = piece.kind == PieceKind::kJig, pin = piece.kind == PieceKind::kPin;
    const bool screw = piece.kind == PieceKind::kScrew && piece.member != Member::kStay;
    const bool turned = piece.kind == PieceKind::kWasher ||
                        (piece.kind == PieceKind::kSpacer && !piece.cut_from_sheet);
    switch (scene) {
      case JigScene::kPlatesOnJig:
        return jig || (piece.body == Body::kCase && (pin || IsPlate(piece))) ||
               (turned && piece.body == Body::kCase &&
                piece.z_min_mm >= set.jig->piece.z_max_mm - kSamePoint_mm);
      case JigScene::kJigInCase:
        return jig || piece.kind == PieceKind::kCasePlate || (screw && piece.body == Body::kCase) ||
               (pin && piece.body == Body::kCase);
      case JigScene::kJigInLid:
        return (jig && job.plates.on_case) || (pin && piece.body == Body::kLid);
      case JigScene::kArmsShut:
        // Without plates only to mark the lid by.
        if (!job.plates.on_lid) {
          return piece.kind == PieceKind::kArm || (turned && piece.body == Body::kCase);
        }
        return piece.kind == PieceKind::kArm || piece.kind == PieceKind::kLidPlate || turned ||
               (pin && piece.body == Body::kLid);
      case JigScene::kLidLowered:
        return piece.body == Body::kLid && (IsPlate(piece) || piece.cut_from_sheet);
      case JigScene::kLidOpen:
        break;
    }
    return piece.kind == PieceKind::kArm || piece.kind == PieceKind::kWasher ||
           (turned && !job.plates.on_lid) || (screw && piece.body == Body::kLid);
  });
}

void AddMaking(const Job& job, const HingeSet& set, std::vector<WorkStep>& steps) {
  steps.push_back(
      {"Measure the print, try it in card",
       "Measure the two bars at the foot of every full-size sheet; if they are off, print again at "
       "100 %. Glue the card sheets to card, cut them out, put a pin through each pair of crosses "
       "of the same name, and swing the lid's card by hand. No wood is spoiled yet. If the box is "
       "not glued up, leave it so: read the step of the holes first.",
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
       "From the files in cut/, or along what is drawn full size, glued on: the plates by their "
       "sheets here, the arms by another print of step 1's, the jig by the print of its step. Two "
       "layers taped face to face give left and right in one cut. First drill marks, then holes, "
       "then outlines. Small parts jump: hold them with tabs or tape, never with fingers. Deburr "
       "every edge and countersink where the sheet says so; wear glasses and a mask, and keep "
       "brass dust off skin and lungs. Mark left and right at once.",
       "the sheet, by tape all round",
       "the cutter",
       cutter + ", drills, file, countersink",
       StepScene::kFlatParts,
       {StepSheet::kPlates, StepSheet::kArms, StepSheet::kNest},
       Names(set, IsFlat),
       "hole to hole of both arms"});
  steps.push_back(
      {"Saw pins and spacers, press the bushings",
       "Saw rod and tube to the lengths of the parts list, square, short pieces in the vice and "
       "not in fingers, bore through what the list has bored and no tube on the shelf has, and "
       "deburr them inside and out. Press a bushing into each hole of the arms, flush on both "
       "faces. Every pin must slide through its bushing by itself." +
           std::string(set.case_plate || set.lid_plate
                           ? " Press the pins into their plates, square, as far as the stack sheet "
                             "shows."
                           : "") +
           std::string(set.lid_plate ? " Stick each packing to its lid plate with a thin coat of "
                                       "contact adhesive, screw holes in line and free of it: with "
                                       "a thin blade the two come apart again."
                                     : "") +
           " Lay the pieces of each pin out in the order of the stack sheet.",
       "the arm, between soft jaws",
       "the bushing, pressed in square",
       "fine saw, file, vice with soft jaws",
       StepScene::kTurnedParts,
       {StepSheet::kStack},
       WithRod(set, Names(set,
                          [](const HingePiece& piece) {
                            return !piece.cut_from_sheet && piece.kind != PieceKind::kScrew &&
                                   piece.kind != PieceKind::kPad;
                          })),
       "diameter of a pin"});
}

// What holds a stay's ends, in holes that the templates have.
std::string FixingOf(const Stay& stay, bool inches) {
  const StayFixing& fixing = stay.fixing;
  const auto say = [&](double mm) { return BenchLength(mm, inches); };
  if (!fixing.bolted) {
    return "In the templates' pilots of " + say(fixing.hole_mm) + " drive screw 1 (" + fixing.name +
           " x " + say(fixing.in_case.length_mm) + ") into the case and screw 2 (" + fixing.name +
           " x " + say(fixing.in_lid.length_mm) + ") into the lid, each with a washer.";
  }
  return "Through the templates' holes of " + say(fixing.hole_mm) +
         ", which go right through case and lid, put bolt 1 (" + fixing.name + " x " +
         say(fixing.in_case.length_mm) + ", case) and bolt 2 (" + fixing.name + " x " +
         say(fixing.in_lid.length_mm) +
         ", lid): head, washer and the stay's end inside, washer and cap nut outside.";
}

bool GoesThrough(const HingeSet& set) {
  return (set.hardware && set.hardware->bolts) || (set.stay && set.stay->fixing.bolted);
}

void AddLettingIn(const Job& job, const HingeSet& set, std::vector<WorkStep>& steps) {
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  steps.push_back(
      {"Let the lid plates in",
       "Where a lid plate's outline on the lid's template runs into the wood of the lid's top, cut "
       "a recess beside the end wall: " +
           say(set.stack->lid_face_mm - set.stack->lid_plate.z_min_mm) +
           " wide and the thickness of a sheet of card more, as long as the outline and a little "
           "over, up to " +
           say(set.lid_plate->recess_mm) +
           " deep. Knife its edges, chisel or rout the waste, and hold plate and packing in their "
           "place to try: all round there must be room for a sheet of card, or the lid stands on "
           "its plates. The lid's way down past them, and a bit's way to their screws, are not "
           "proven: the dry trial of the lowering shows both. Leave the top at least as thick as "
           "it is deep.",
       "the lid, upside down in a cradle or on a blanket",
       "knife, chisel or router, from inside",
       "knife, chisel, small router, card",
       StepScene::kLidPlateLetIn,
       {},
       Names(set, [](const HingePiece& piece) { return piece.kind == PieceKind::kLidPlate; }),
       "depth of the recess"});
}

void AddPads(const Job& job, const HingeSet& set, std::vector<WorkStep>& steps) {
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  const Pad& pad = *set.pad;
  const double seam = std::isnan(job.lid.seam_gap_mm) ? 0.0 : job.lid.seam_gap_mm;
  steps.push_back(
      {"Fit the pads",
       "Saw two slips of hardwood, " + say(pad.Length_mm()) + " by " + say(pad.width_mm) + ", " +
           PlanedWords(pad, job.inches) +
           ": a long strip first and the slips from it: a plane takes fingers from short ones. "
           "They go on the outside of the lid's back, each with its middle " +
           say(pad.foot.y() - seam) + " above the lid's lower edge and its outer end " +
           say(job.case_form.width_mm / 2.0 - pad.span.z_max_mm) +
           " in from the case's end, the grain along the rim. Tape them on and open the lid: it "
           "must come to rest on both at once, at its opening angle as the frames show it. Plane "
           "them until it does. Then scrape the finish from under them, glue them on, and clamp "
           "them over night with the lid shut.",
       "the lid, by a prop",
       "the pad, by tape, then by glue",
       "fine saw, plane, tape, glue, clamps",
       StepScene::kLidOpen,
       {},
       Names(set, [](const HingePiece& piece) { return piece.kind == PieceKind::kPad; }),
       "thickness of both pads"});
}

// The lid's way off, where it hangs on plates.
std::string TakingOff(const HingeSet& set) {
  if (!set.lid_plate) {
    return " To take the lid off again, prop it open, warm the heads on the lid's pins with a "
           "soldering iron until they let go, the innermost arm's first, and draw each arm off "
           "both its pins, square; pins in the wood stay.";
  }
  return std::string(" To take the lid off again, open and prop it, ") +
         (set.stay ? "take the stays off it, " : "") +
         "undo the lid plates' screws as they were driven and part plates and packing with a thin "
         "blade: the packing stays in the lid and shows the place. Where an arm covers a screw, "
         "warm the heads of its pins with a soldering iron until they let go, and draw it off." +
         (set.case_plate ? " The case plate stays, its pins are bedded in the wood." : "");
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
    const std::vector<std::string> blocks = Names(set, IsMountingBlock);
    steps.push_back(
        {"Drill case and lid",
         (set.jig ? set.jig->before_drilling : "") +
             "Cut each template along its two heavy dashed lines and lay it on the end wall from "
             "inside, as it says. Prick the crosses through, take the paper away, and drill to the "
             "depths of its table, square to the wall or to its block; what the table has for "
             "later, through a plate, the jig or an eye, is not drilled now. Left and right are "
             "different sheets. Try it in scrap first. A chuck does not stand square nearer than "
             "about " +
             std::string(job.inches ? "1 in" : "25 mm") +
             " to a wall that stands up beside the hole: such holes are drilled on the bench, the "
             "box clamped up dry to mark them and not glued yet, or else with a right-angle "
             "chuck." +
             std::string(GoesThrough(set) ? " Holes for bolts go right through: clamp scrap behind."
                                          : ""),
         "the case, on the end that is drilled; the template, by tape",
         "the drill, square to the wall",
         "awl, drill with a depth stop, right-angle chuck, square" +
             std::string(blocks.empty() ? "" : ", wood saw, plane, glue, clamps"),
         StepScene::kHolesInWood,
         {StepSheet::kTemplates},
         blocks,
         "the holes' depth"});
  }
  if (set.lid_plate && set.lid_plate->recess_mm > 0.0) AddLettingIn(job, set, steps);
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
                       WithRod(set, PiecesAt(job, set, step.shows)),
                       ""});
      for (const AssemblyMove& move : set.order) {
        if (move.step == step.shows) steps.back().motions.push_back(move);
      }
      if (first) steps.back().sheets = {StepSheet::kJig};
      first = false;
    }
  }
  if (set.pad) AddPads(job, set, steps);
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
         set.stay->fixing.bolted ? "screwdriver, spanner, stick" : "screwdriver, awl, stick",
         StepScene::kLidOpen,
         {},
         WithStay(
             Names(set, [](const HingePiece& piece) { return piece.member == Member::kStay; })),
         "screw to screw"});
  }
  steps.push_back(
      {"Swing it and check",
       "Wait until the glue and the compound are hard. Where the first page asks for lid supports, "
       "fit them now; until then the open lid is held or propped. Their place is not worked out "
       "here: hold one up, lid shut and open, and see that it clears arms and plates. Swing it "
       "slowly by its front edge, held all the way, two people where it is heavy, no finger or "
       "face near rim and arms. It must rise without a scrape and find its place again without a "
       "push to the side. Measure pin to pin with the lid open, over two heads from outside to "
       "outside less one head's diameter, and write the numbers below. If it rubs, write the "
       "pivots as measured into built.json and run 'lidwright check': it says where, and which "
       "pivot to shift. " +
           std::string(set.lid_plate ? "A new arm, or the lid plate in new holes, is sooner made "
                                       "than a pin is moved."
                                     : "A new arm is sooner made than a pin is moved.") +
           TakingOff(set),
       "the case, fast to the bench",
       "the lid, by its front edge, held all the way",
       "caliper, square; to take the lid off, " +
           std::string(set.lid_plate ? "a thin blade and a soldering iron" : "a soldering iron"),
       StepScene::kSwing,
       {StepSheet::kPivots},
       {},
       ""});
  return steps;
}

}  // namespace lidwright
