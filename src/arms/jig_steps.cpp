// SPDX-License-Identifier: Apache-2.0
#include "jig_steps.h"

#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/solid/mounting_block.h"
#include "lidwright/solid/reachable_faces.h"

namespace lidwright {
namespace {

// [mm] Faces of case and lid this near are one for a square.
constexpr double kSameFace_mm = 0.05;
// [mm] A drill with its bit is longer than a box inside of this.
constexpr double kDrillLong_mm = 330.0;

// The one next to the wall.
std::string OuterArm(const StackPlan& plan) {
  return plan.arm_a.z_max_mm < plan.arm_b.z_max_mm ? "arm B" : "arm A";
}

std::string StopWords(bool on_case, const std::optional<Stop>& stop) {
  if (!stop) return "";
  return std::string(on_case
                         ? "Half fill the stop's hole in the wall with thick epoxy and push its "
                           "rod in through the case plate, with retaining compound in the plate"
                         : "Glue the stop's rod into its hole in the wall with epoxy") +
         (stop->HasSleeve() ? "; fix its sleeve on it with retaining compound. " : ". ");
}

std::string StopTools(bool on_case, const std::optional<Stop>& stop) {
  if (!stop) return "";
  return std::string(on_case ? ", thick epoxy" : ", epoxy") +
         (on_case || stop->HasSleeve() ? ", retaining compound" : "");
}

double Inside_mm(const Job& job) {
  return job.case_form.width_mm - 2.0 * job.case_form.end_wall_mm;
}

bool IsCramped(const Job& job) {
  return Inside_mm(job) < kDrillLong_mm;
}
std::string Cramped(const Job& job) {
  if (!IsCramped(job)) return "";
  return " Between the end walls there are only " +
         BenchText(Inside_mm(job), Bench::kSize, job.inches) +
         ": a drill with its bit does not go in straight, a right-angle chuck does.";
}

// The steps that bring the lid's plate into the lid. `high` tells how high the blocks are that
// stand under it.
void AddLidPlateSteps(const Job& job, const StackPlan& plan, const Hardware& hardware,
                      const std::string& high, const std::optional<Stop>& stop,
                      std::vector<JigStep>& steps) {
  const bool on_case = job.plates.on_case;
  const std::string outer = OuterArm(plan), inner = outer == "arm A" ? "arm B" : "arm A";
  steps.push_back(
      {"Hold the lid plate where it is when the lid is shut, its packing outwards, and slide the "
       "jig over its pins and the case's: that is its place. Set a block" +
           high +
           ", notched for its lower end, under the plate, and strap plate and block together with "
           "weak masking tape that lets go when the lid opens; draw the jig off. " +
           StopWords(on_case, stop) +
           "From inside, along the pins, slide on spacers and washers in the order of the stack "
           "sheet, with them " +
           outer + " and its heads, then " + inner +
           " and its heads; a strip of tape over each head, stuck to its arm, holds it for now. "
           "The same at the other end, the jig turned over.",
       "Hang the lid plate on its arms", "the case, on the bench; the lid plate, on blocks",
       "plate, arms and heads, outwards along the pins",
       "blocks, masking tape" + StopTools(on_case, stop), JigScene::kArmsShut});
  steps.push_back(
      {"First dry: lower the lid on its hung plates. It must go down by its own weight and rest on "
       "the rim all round, flush with the case at the back and sideways at both ends. Where it "
       "jams plane packing or wood. Lift it off again. Lay tape over the rim and the wall under "
       "the lid plates: no glue may shut the lid for good. Put slow glue on the packing of both "
       "lid plates, its lowest strip left dry, draw the plates inwards as far as the play of the "
       "arms lets them, so that the lid does not wipe it off, and lower the lid as before. Wait "
       "until it is hard.",
       "Lower the lid on its plates", "the case, on the bench; the lid plates, on their blocks",
       "the lid, down until it rests",
       "tape, slow glue that fills gaps and holds metal on wood, a thickened epoxy say",
       JigScene::kLidLowered});
  const std::string deep =
      hardware.bolts
          ? std::string()
          : ", the depth stop at " +
                BenchLength(plan.lid_screw.z_max_mm - plan.lid_screw.z_min_mm, job.inches) +
                " from the plate's face,";
  steps.push_back(
      {"Open the lid slowly, with a hand under each end: plates and arms go with it, the blocks "
       "are left. Drill through the lid plates' holes" +
           deep + " and drive their screws before anything else hangs on the glue.",
       "Screw the lid plate", "the open lid, by a prop or a second pair of hands",
       "the lid, up and back; drill and screwdriver, along the screws",
       "drill with a depth stop, with a right-angle chuck where a straight one does not go in, "
       "screwdriver with a long bit, prop, degreaser, wax, oil, retaining compound",
       JigScene::kLidOpen,
       " Last of all, every screw driven and every arm on its pins, one pin after the other: tape "
       "off, head off, degrease both, rub wax on the bushing's face (oil comes when all is hard), "
       "and fix the heads with a drop of retaining compound on each pin's end: none may creep into "
       "a bushing."});
}

// How far pins stand out of the wood: "arm A's stands out 6.7 mm and arm B's 3.7 mm".
std::string StandOut(const StackPlan& plan, Body body, double face_mm, bool inches) {
  std::string words;
  for (const PivotStack& stack : plan.pivots) {
    if (stack.body != body) continue;
    words += (words.empty() ? "" : " and ") + std::string(stack.arm_b ? "arm B's" : "arm A's") +
             (words.empty() ? " stands out " : " ") +
             BenchLength(face_mm - stack.pin.z_min_mm, inches);
  }
  return words;
}

// The steps that bring pins straight into the lid's end wall. There the same edges are found again:
// its lower edge lies on the rim, its back wall's inner face stands beside the case's.
void AddLidPinSteps(const Job& job, const Solid& solid, const StackPlan& plan, const Jig& jig,
                    const Hardware& hardware, const std::optional<Stop>& stop,
                    std::vector<JigStep>& steps) {
  const bool on_case = job.plates.on_case;
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  const ReachableFaces lid = LidFacesAtEnd(job, solid);
  const double before = jig.back_x_mm - lid.back_x_mm, over = lid.rim_y_mm - jig.rim_y_mm;
  std::string place = "its back edge on the inner face of the lid's back wall";
  if (std::abs(before) > kSameFace_mm) {
    place = "its back edge " + say(std::abs(before)) + (before > 0.0 ? " before" : " behind") +
            " the inner face of the lid's back wall";
  }
  place += std::abs(over) > kSameFace_mm
               ? ", its level edge " + say(std::abs(over)) + (over > 0.0 ? " outside" : " inside") +
                     " the lid's lower edge."
               : ", its level edge flush with the lid's lower edge.";
  const std::string hole = say(hardware.wood_hole_mm) + " wide and " +
                           say(plan.pivots.back().pin.z_max_mm - plan.lid_face_mm + kUnderPin_mm) +
                           " deep, a groove filed along each pin for glue and air, and tap the "
                           "pins in with glue until " +
                           StandOut(plan, Body::kLid, plan.lid_face_mm, job.inches) + ".";
  if (!on_case) {
    steps.push_back(
        {"The floor not yet in: set the lid on the rim, glued up or clamped up dry, flush at the "
         "back and at both ends, and hold it shut with tape. Reach in from below and slide "
         "spacers, washers and arms on the case's pins in the order of the stack sheet, a strip of "
         "tape over the pins' ends. Hold what comes between the lid and each arm's eye in its "
         "place, swing the arm until its eye is nearest to its cross, as the template pricked it "
         "in the lid, and mark there through the eye with a punch or a brad-point drill that just "
         "goes in: the arm gives the distance, which makes the lid shut true, the cross the "
         "direction. The same at the other end; then lid and arms come off. With the floor in, "
         "mark them through the jig instead: lay it flat on the lid's end wall, " +
             place + " That is less true.",
         "Mark the lid's pins", "the lid, shut, by tape; the box, on its side",
         "the arms, onto the case's pins; the punch, through their eyes",
         "tape, punch or brad-point drill of " + say(hardware.bushing.pin_mm),
         JigScene::kArmsShut});
    steps.push_back(
        {"Turn the lid over, or knock it apart if it is dry, and drill the marks square, " + hole +
             "The same at the other end. Then glue up the lid if it was dry, and put the floor "
             "in.",
         "Set the lid's pins", "the lid, upside down", "the drill, square to the wall",
         "drill with a depth stop, glue", JigScene::kJigInLid});
  } else {
    steps.push_back({"Turn the lid over and lay the jig flat on its end wall from inside, " +
                         place + " Mark the lid's pins through its holes and drill them square, " +
                         hole + " The same at the other end, the jig turned over.",
                     "Set the lid's pins", "the lid, upside down; the jig, by a clamp",
                     "the drill, square to the wall", "drill with a depth stop, glue",
                     JigScene::kJigInLid});
  }
  steps.push_back(
      {(on_case ? StopWords(true, stop) : std::string()) +
           "With the glue hard, set the lid on a block that holds it where it is when open, and "
           "put spacers, washers and arms on the pins in the order of the stack sheet, then the "
           "heads, a strip of tape over each, stuck to its arm. Lift the lid shut by hand, the "
           "tape on: it must come to lie on the rim by itself. Open it again onto the block.",
       "Put on the arms", "the open lid, on a block and in a second pair of hands",
       "the arms, onto their pins",
       "block, tape, degreaser, wax, oil, retaining compound" +
           (on_case ? StopTools(true, stop) : std::string()),
       JigScene::kLidOpen,
       " Then one pin after the other: tape off, head off, degrease both, rub wax on the bushing's "
       "face (oil comes when all is hard), and fix the heads with a drop of retaining compound on "
       "each pin's end: none may creep into a bushing."});
}

}  // namespace

std::vector<JigStep> JigSteps(const Job& job, const Solid& solid, const StackPlan& plan,
                              const Hardware& hardware, const std::optional<Plate>& lid_plate,
                              const std::optional<Stop>& stop, const Jig& jig) {
  const std::string outer = OuterArm(plan);
  const bool one_layer = plan.arm_a.z_max_mm == plan.arm_b.z_max_mm;
  const std::string spaced =
      one_layer
          ? "each arm"
          : outer + ", the one next to the wall, and the other end's on the other pin, for now";
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  const bool blocks = NeedsBlock(solid.block);
  const std::string against = std::string("against the ") +
                              (blocks ? "mounting block" : "end wall") +
                              ", its back edge on the inner face of the back wall, its level edge "
                              "flush under a square laid over the rim.";
  const std::string deep = hardware.bolts ? std::string()
                                          : ", the depth stop at " +
                                                say(plan.case_screw.z_max_mm - jig.piece.z_min_mm) +
                                                " from the jig's face";
  std::vector<JigStep> steps;
  if (job.plates.on_case) {
    steps.push_back(
        {"Lid off, arms and stop not yet in. Put the case plate's pins through the jig's holes, "
         "between plate and jig the spacer or washer of " +
             spaced + ".",
         "Load the jig", "the jig, flat on the bench", "pins and plate, through its holes",
         "fingers only", JigScene::kPlatesOnJig});
    steps.push_back(
        {"Dry first: hold the jig with its plate " + against +
             " Widen a hole that a pin does not go into. Drill and screw the case plate through "
             "the jig's big holes" +
             deep +
             ". Take it out again, half fill the holes for the pins in the wood with thick epoxy, "
             "screw it back, and leave it until that is hard. Draw the jig off. The same at the "
             "other end, the jig turned over." +
             Cramped(job),
         "Screw the case plate",
         "the case on its end, so that the epoxy stays in; the jig, by a clamp, level under a "
         "square",
         "drill and screwdriver, through its big holes",
         "square, clamp, drill, screwdriver with a long slim bit" +
             std::string(IsCramped(job) ? ", or right-angle chuck and stubby screwdriver" : "") +
             ", thick epoxy, gloves",
         JigScene::kJigInCase});
  } else {
    const bool goes_in = StopComesIn(job.plates) == JigScene::kJigInCase;
    const std::optional<Stop> now = goes_in ? stop : std::nullopt;
    steps.push_back(
        {"Lid off. Lay the jig flat " + against +
             " Mark the case's pins through its holes with a brad-point drill of " +
             say(hardware.bushing.pin_mm) + ", take it away, drill them square, " +
             say(hardware.wood_hole_mm) + " wide and " + say(plan.pin_in_wall_mm + kUnderPin_mm) +
             " deep, file a groove along each pin for glue and air, and tap the pins in with glue "
             "until " +
             StandOut(plan, Body::kCase, plan.case_face_mm, job.inches) + ". " +
             StopWords(false, now) +
             "The same at the other end, the jig turned over. Then glue up the walls if they were "
             "clamped dry, the floor left out.",
         "Set the case's pins", "the jig, by a clamp, level under a square",
         "the drill, square to the wall",
         "square, clamp, drill with a depth stop, brad-point drill, file, hammer, glue" +
             StopTools(false, now),
         JigScene::kJigInCase});
  }
  if (job.plates.on_lid) {
    std::string high;
    const double floor = job.case_form.floor_mm - job.case_form.height_mm;
    if (lid_plate && std::isfinite(floor)) {
      const double low = Bounds(Flatten(lid_plate->outline, kChordError_mm)).low.y();
      high = " of about " + BenchText(low - floor, Bench::kSize, job.inches);
    }
    AddLidPlateSteps(job, plan, hardware, high, stop, steps);
  } else {
    AddLidPinSteps(job, solid, plan, jig, hardware, stop, steps);
  }
  return steps;
}

}  // namespace lidwright
