// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/jig.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "lidwright/arms/plates.h"
#include "lidwright/base/check.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/solid/mounting_block.h"
#include "lidwright/solid/reachable_faces.h"

namespace lidwright {
namespace {

// [mm] Holes over screws, beyond the head all round.
constexpr double kAccess_mm = 0.4;
// [mm] Wanted around the holes, and the least that holds.
constexpr double kAround_mm = 8.0;
constexpr double kLeastWeb_mm = 1.5;
// [mm] Around the holes over screws, which carry nothing.
constexpr double kAccessWeb_mm = 1.0;
// [mm] The level edge must be this long for a square to rest on.
constexpr double kLeastLevel_mm = 12.0;
// [mm] Least radius of inside corners.
constexpr double kInside_mm = 1.0;
// [1] What is rounded off in an inside corner, in radii, from both its edges, and a little more.
constexpr double kInCorner = 0.35;
// [mm] Steps in which edges are compared with walls that are not straight.
constexpr double kStep_mm = 2.0;
constexpr double kFar_mm = 1e5;
// [mm] A jig that lies on the wall is drawn for the section this far before it.
constexpr double kOffWall_mm = 0.01;
// [mm] Faces of case and lid this near are one for a square.
constexpr double kSameFace_mm = 0.05;

// From `from` along a unit vector to the nearest outline.
double FreeWay(const std::vector<Ring>& rings, const Vec2& from, const Vec2& way) {
  double least = kFar_mm;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = ring[i] - from, b = ring[(i + 1) % ring.size()] - from;
      const double ha = Cross(way, a), hb = Cross(way, b);
      if ((ha > 0.0) == (hb > 0.0)) continue;
      const double along = (a + (b - a) * (ha / (ha - hb))).dot(way);
      if (along >= 0.0) least = std::min(least, along);
    }
  }
  return least;
}

// A polygon with its inside corners rounded.
Outline Rounded(const Ring& ring, double radius) {
  Outline outline;
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 in = (ring[i] - ring[(i + n - 1) % n]).normalized();
    const Vec2 out = (ring[(i + 1) % n] - ring[i]).normalized();
    const double turn = std::atan2(Cross(in, out), in.dot(out));
    if (turn >= 0.0) {
      outline.vertices.push_back({ring[i], 0.0});
      continue;
    }
    const double tangent = radius * std::tan(-turn / 2.0);
    outline.vertices.push_back({ring[i] - tangent * in, BulgeOf(turn)});
    outline.vertices.push_back({ring[i] + tangent * out, 0.0});
  }
  return outline;
}

struct Hump {
  double from, to, top;
};

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

// [mm] A drill with its bit is longer than a box inside of this.
constexpr double kDrillLong_mm = 330.0;

bool IsCramped(const Job& job) {
  return Inside_mm(job) < kDrillLong_mm;
}
std::string Cramped(const Job& job) {
  if (!IsCramped(job)) return "";
  return " Between the end walls there are only " +
         BenchText(Inside_mm(job), Bench::kSize, job.inches) +
         ": a drill with its bit does not go in straight, a right-angle chuck does.";
}

// The steps that bring the lid's plate into the lid.
// `blocks` tells how high those are that stand under it.
void AddLidPlateSteps(bool on_case, const std::string& outer, const std::string& inner,
                      const std::string& blocks, const std::optional<Stop>& stop,
                      std::vector<JigStep>& steps) {
  steps.push_back(
      {"Hold the lid plate where it is when the lid is shut, its packing outwards, and slide "
       "the jig over its pins and the case's: that is its place. Set a block" +
           blocks +
           ", notched for its lower end, under the plate, and strap plate and block together with "
           "weak masking tape that lets go when the lid opens; draw the jig off. " +
           StopWords(on_case, stop) +
           "From inside, along the pins, slide on spacers and washers in the order of the stack "
           "sheet, with them " +
           outer + " and its heads, then " + inner +
           " and its heads; a strip of tape over each head, stuck to its arm, holds it for now. "
           "The "
           "same at the other end, the jig turned over.",
       "Hang the lid plate on its arms", "the case, on the bench; the lid plate, on blocks",
       "plate, arms and heads, outwards along the pins",
       "blocks, masking tape" + StopTools(on_case, stop), JigScene::kArmsShut});
  steps.push_back(
      {"Lay tape over the rim and the wall under the lid plates: no glue may shut the lid for "
       "good. Put slow glue on the packing of both lid plates, its lowest strip left dry, draw the "
       "plates inwards as far as the play of the arms lets them, so that the lid does not wipe the "
       "glue off, and lower the lid until it rests on the rim all round, flush with the case at "
       "the back and sideways at both ends. Between the two lid plates spring a lath or a strip of "
       "stiff card that presses them outwards, if there is a way in past the shut lid; the glue "
       "fills what is left. Wait until it is hard.",
       "Lower the lid on its plates", "the case, on the bench; the lid plates, on their blocks",
       "the lid, down until it rests",
       "tape, slow glue that fills gaps and holds metal on wood, a thickened epoxy say",
       JigScene::kLidLowered});
  steps.push_back(
      {"Open the lid slowly, with a hand under each end: plates and arms go with it, the blocks "
       "are left. Drill through the lid plates' holes and drive their screws before anything else "
       "hangs on the glue.",
       "Screw the lid plate", "the open lid, by a prop or a second pair of hands",
       "the lid, up and back; drill and screwdriver, along the screws",
       "drill with a depth stop, with a right-angle chuck where a straight one does not go in, "
       "screwdriver with a long bit, prop, degreaser, wax, retaining compound",
       JigScene::kLidOpen,
       " Last of all, every screw driven and every arm on its pins, take off the tape, degrease "
       "pins and heads, rub wax on the bushings' faces, and fix the heads with a drop of retaining "
       "compound on each pin's end: none may creep into a bushing. Oil comes when it is hard."});
}

// The steps that bring pins straight into the lid's end wall. There the same edges are found again:
// its lower edge lies on the rim, its back wall's inner face stands beside the case's.
void AddLidPinSteps(const Job& job, const Solid& solid, const StackPlan& plan, const Jig& jig,
                    const Hardware& hardware, const std::string& holes,
                    const std::optional<Stop>& stop, std::vector<JigStep>& steps) {
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
  const double deep = plan.pivots.back().pin.z_max_mm - plan.lid_face_mm;
  if (!job.plates.on_case) {
    steps.push_back(
        {"The floor not yet in: slide spacers, washers and arms on the case's pins in the order of "
         "the stack sheet, a strip of tape over each. Set the lid on the rim, flush at the back "
         "and at both ends, and hold it shut with tape. Reach in from below, bring each arm's eye "
         "over its pin's cross as the template pricked it in the lid, and mark the pin through the "
         "eye with a punch or a brad-point drill that just goes in. Where cross and eye are not on "
         "each other the eye is right: it makes the lid shut true. The same at the other end; then "
         "lid and arms come off. With the floor in, mark them through the jig instead: lay it flat "
         "on the lid's end wall, " +
             place + " That is less true.",
         "Mark the lid's pins", "the lid, shut, by tape; the box, on its side",
         "the arms, onto the case's pins; the punch, through their eyes",
         "tape, punch or brad-point drill of " + say(hardware.bushing.pin_mm),
         JigScene::kArmsShut});
    steps.push_back({"Turn the lid over, drill the marks square, " + say(hardware.wood_hole_mm) +
                         " wide and " + say(deep) +
                         " deep, and glue the pins in. The same at the other end.",
                     "Set the lid's pins", "the lid, upside down", "the drill, square to the wall",
                     "drill with a depth stop, glue", JigScene::kJigInLid});
  } else {
    steps.push_back({"Turn the lid over and lay the jig flat on its end wall from inside, " +
                         place + " Mark the lid's pins through its holes, " + holes + say(deep) +
                         " deep, and glue the pins in. The same at the other end, the jig turned "
                         "over.",
                     "Set the lid's pins", "the lid, upside down; the jig, by a clamp",
                     "the drill, square to the wall", "drill with a depth stop, glue",
                     JigScene::kJigInLid});
  }
  steps.push_back(
      {(job.plates.on_case ? StopWords(true, stop) : std::string()) +
           "With the glue hard, set the lid on a block that holds it where it is when open, and "
           "put "
           "spacers, washers and arms on the pins in the order of the stack sheet, then the heads, "
           "a "
           "strip of tape over each, stuck to its arm. Lift the lid shut by hand, the tape on: it "
           "must "
           "come to lie on the rim by itself.",
       "Put on the arms", "the open lid, on a block and in a second pair of hands",
       "the arms, onto their pins",
       "block, tape, degreaser, wax, retaining compound" +
           (job.plates.on_case ? StopTools(true, stop) : std::string()),
       JigScene::kLidOpen,
       " Then take off the tape, degrease pins and heads, rub wax on the bushings' faces, and fix "
       "the heads with a drop of retaining compound on each pin's end: none may creep into a "
       "bushing. Oil comes when it is hard."});
}

// How the jig is used, by what holds the pins.
std::vector<JigStep> StepsFor(const Job& job, const Solid& solid, const StackPlan& plan,
                              const Hardware& hardware, const std::optional<Plate>& lid_plate,
                              const std::optional<Stop>& stop, const Jig& jig) {
  std::string outer = "arm A", inner = "arm B";
  if (plan.arm_a.z_max_mm < plan.arm_b.z_max_mm) std::swap(outer, inner);
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
  const std::string holes = "drill them square, " + say(hardware.wood_hole_mm) + " wide and ";
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
             "the jig's big holes, the depth stop set for jig and plate as well. Take it out "
             "again, "
             "half fill the holes for the pins in the wood with thick epoxy, screw it back, and "
             "leave it until that is hard. Draw the jig off. The same at the other end, the jig "
             "turned over." +
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
    steps.push_back(
        {"Lid off. Lay the jig flat " + against +
             " Mark the case's pins through its holes with a brad-point drill of " +
             say(hardware.bushing.pin_mm) + ", take it away, " + holes + say(plan.pin_in_wall_mm) +
             " deep, and glue the pins in. " + StopWords(false, stop) +
             "The same at the other end, the jig turned over.",
         "Set the case's pins", "the jig, by a clamp, level under a square",
         "the drill, square to the wall",
         "square, clamp, drill with a depth stop, brad-point drill, glue" + StopTools(false, stop),
         JigScene::kJigInCase});
  }
  if (job.plates.on_lid) {
    std::string high;
    const double floor = job.case_form.floor_mm - job.case_form.height_mm;
    if (lid_plate && std::isfinite(floor)) {
      const double low = Bounds(Flatten(lid_plate->outline, kChordError_mm)).low.y();
      high = " of about " + BenchText(low - floor, Bench::kSize, job.inches);
    }
    AddLidPlateSteps(job.plates.on_case, outer, inner, high, stop, steps);
  } else {
    AddLidPinSteps(job, solid, plan, jig, hardware, holes, stop, steps);
  }
  return steps;
}

}  // namespace

std::vector<Ring> RingsAt(const Part& part, double z_mm) {
  const double share = (z_mm - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
  std::vector<Ring> rings = part.at_z_min;
  for (std::size_t r = 0; r < rings.size(); ++r) {
    for (std::size_t i = 0; i < rings[r].size(); ++i) {
      rings[r][i] = (1.0 - share) * part.at_z_min[r][i] + share * part.at_z_max[r][i];
    }
  }
  return rings;
}

std::vector<Ring> SectionAt(const std::vector<const PartTree*>& parts, double z_mm) {
  std::vector<Ring> rings;
  for (const PartTree* tree : parts) {
    for (const Part& part : tree->parts()) {
      if (z_mm < part.z_min_mm || z_mm > part.z_max_mm) continue;
      for (Ring& ring : RingsAt(part, z_mm)) rings.push_back(std::move(ring));
    }
  }
  return rings;
}

std::optional<Jig> MakeJig(const Job& job, const Solid& solid, const Assembly& assembly,
                           const Pivots& pivots, const StackPlan& plan, const Hardware& hardware,
                           const std::optional<Plate>& case_plate,
                           const std::optional<Plate>& lid_plate, const std::optional<Stop>& stop,
                           std::string* fault) {
  const std::vector<Vec2> screws = case_plate ? case_plate->screws : std::vector<Vec2>();
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  const auto place = [&](const Vec2& p) { return PointText(p.x(), p.y(), job.inches); };
  Jig jig;
  // It stands where the arms will, on the plates' pins; for pins straight in the wood it lies on
  // the wall.
  const double outer = job.plates.on_case || job.plates.on_lid
                           ? std::max(plan.arm_a.z_max_mm, plan.arm_b.z_max_mm)
                           : std::min(plan.case_face_mm, plan.lid_face_mm) - kOffWall_mm;
  jig.piece.z_max_mm = outer;
  jig.piece.z_min_mm = outer - job.arms.thickness_mm;
  std::vector<std::vector<Ring>> case_at, lid_at;
  const auto case_slabs = assembly.Shapes(PartKind::kCase);
  const auto lid_slabs = assembly.Shapes(PartKind::kLid);
  for (const double z : {jig.piece.z_min_mm, jig.piece.z_max_mm}) {
    case_at.push_back(SectionAt(case_slabs, z));
    lid_at.push_back(SectionAt(lid_slabs, z));
  }
  const auto way = [](const std::vector<std::vector<Ring>>& at, const Vec2& p, const Vec2& to) {
    return std::min(FreeWay(at[0], p, to), FreeWay(at[1], p, to));
  };
  const std::array<Vec2, 4> all{pivots.case_a, pivots.case_b, pivots.lid_a, pivots.lid_b};
  jig.rim_y_mm = RimAtEndWall_mm(solid);
  Rect2 box;
  for (const Vec2& p : all) {
    box.Add(p - Vec2::Constant(kAround_mm));
    box.Add(p + Vec2::Constant(kAround_mm));
  }
  // Down and forwards as far as wanted, off the floor and the front wall.
  const Vec2 inside(pivots.case_a.x(), std::min(pivots.case_a.y(), jig.rim_y_mm - 1.0));
  const double floor = inside.y() - way(case_at, inside, {0.0, -1.0}) + kJigFit_mm;
  const double access = hardware.screw.head_mm / 2.0 + kAccess_mm;
  for (const Vec2& screw : screws) {  // no screw half under an edge
    box.Add(screw - Vec2::Constant(access + kAccessWeb_mm + kSamePoint_mm));
    box.Add(screw + Vec2::Constant(access + kAccessWeb_mm + kSamePoint_mm));
  }
  const double low = std::max(box.low.y(), floor);
  double back = -kFar_mm, front = box.high.x();
  for (double y = low; y < jig.rim_y_mm; y += kStep_mm) {
    const Vec2 p(inside.x(), y);
    back = std::max(back, p.x() - way(case_at, p, {-1.0, 0.0}));
    front = std::min(front, p.x() + way(case_at, p, {1.0, 0.0}) - kJigFit_mm);
  }
  jig.back_x_mm = back;
  const double radius = std::max(kInside_mm, job.shop.cutter_mm / 2.0);
  // A lip under the lid that the jig is to hold shut: a notch at the back, and no jig at the front.
  Vec2 notch(back, jig.rim_y_mm);
  const double middle = (solid.bounds.low.x() + solid.bounds.high.x()) / 2.0;
  const double off = std::max(kJigFit_mm, kInCorner * radius);
  for (const auto& rings : lid_at) {
    for (const Ring& ring : rings) {
      for (const Vec2& p : ring) {
        if (p.y() > jig.rim_y_mm - kSamePoint_mm) continue;
        if (p.x() > middle) {
          front = std::min(front, p.x() - kJigFit_mm);
        } else if (p.x() > back) {
          notch = {std::max(notch.x(), p.x() + off), std::min(notch.y(), p.y() - off)};
        }
      }
    }
  }
  const bool notched = notch.y() < jig.rim_y_mm;

  // Over the rim only where lid pivots need it, under the lid's ceiling.
  std::vector<Hump> humps;
  for (const Vec2& p : {pivots.lid_a, pivots.lid_b}) {
    if (p.y() + kAround_mm <= jig.rim_y_mm) continue;
    Hump hump{p.x() - kAround_mm, std::min(p.x() + kAround_mm, front), p.y() + kAround_mm};
    for (double x = hump.from; x <= hump.to; x += kStep_mm) {
      const Vec2 q(x, p.y());
      hump.top = std::min(hump.top, p.y() + way(lid_at, q, {0.0, 1.0}) - kJigFit_mm);
    }
    if (hump.from < back + kJigFit_mm) hump.from = back + kJigFit_mm;
    if (notched) hump.from = std::max(hump.from, notch.x() + radius + kSamePoint_mm);
    if (hump.top <= jig.rim_y_mm) continue;
    if (hump.to > front - 3.0 * kAround_mm / 4.0) hump.to = front;
    humps.push_back(hump);
  }
  std::sort(humps.begin(), humps.end(),
            [](const Hump& a, const Hump& b) { return a.from < b.from; });
  if (humps.size() == 2 && humps[0].to + 10.0 > humps[1].from) {
    // Two that run together become one as high as the lower needs at most lets it.
    Hump& first = humps[0];
    const double top = std::max(first.top, humps[1].top);
    double ceiling = top;
    for (double x = first.from; x <= humps[1].to; x += kStep_mm) {
      const Vec2 q(x, std::min(pivots.lid_a.y(), pivots.lid_b.y()));
      ceiling = std::min(ceiling, q.y() + way(lid_at, q, {0.0, 1.0}) - kJigFit_mm);
    }
    first = {std::min(first.from, humps[1].from), std::max(first.to, humps[1].to), ceiling};
    humps.pop_back();
  }
  Ring ring{{back, low}, {front, low}};
  bool open_end = true;  // the front edge still has to go up to the rim
  jig.level_mm = front - notch.x();
  for (std::size_t i = humps.size(); i-- > 0;) {
    const Hump& h = humps[i];
    jig.level_mm -= h.to - h.from;
    // Rounded corners need a rise of their radius; a lower hump is as good as none.
    if (h.top - jig.rim_y_mm < radius + kSamePoint_mm) continue;
    if (h.to < front - kSamePoint_mm) {
      if (open_end) ring.push_back({front, jig.rim_y_mm});
      ring.push_back({h.to, jig.rim_y_mm});
    }
    ring.push_back({h.to, h.top});
    ring.push_back({h.from, h.top});
    ring.push_back({h.from, jig.rim_y_mm});
    open_end = false;
  }
  if (open_end) ring.push_back({front, jig.rim_y_mm});
  ring.push_back({notch.x(), jig.rim_y_mm});
  if (notched) {
    ring.push_back(notch);
    ring.push_back({back, notch.y()});
  }
  if (jig.level_mm < kLeastLevel_mm) {
    *fault = "jig: lid pivots near the rim leave " + say(std::max(0.0, jig.level_mm)) +
             " of its edge level with the rim, a square needs " + say(kLeastLevel_mm) +
             "; lid pivots " + say(kAround_mm) + " under the rim would fit";
    return std::nullopt;
  }
  jig.piece.name = "closed-position jig";
  jig.piece.kind = PieceKind::kJig;
  jig.piece.body = Body::kCase;
  jig.piece.outline = Rounded(ring, radius);
  const double hole = (hardware.bushing.pin_mm + kJigHole_mm) / 2.0;
  const std::vector<Ring> edge{Flatten(jig.piece.outline, kChordError_mm)};
  for (const Vec2& p : all) {
    jig.piece.holes.push_back({p, hole});
    const double web = -SignedDistance(edge, p) - hole;
    if (web >= kLeastWeb_mm) continue;
    *fault = "jig: the hole at " + place(p) + " leaves a web of " + say(std::max(0.0, web)) +
             " to the jig's edge, " + say(kLeastWeb_mm) +
             " would hold; a pivot farther from the walls would fit";
    return std::nullopt;
  }
  for (const Vec2& screw : screws) {
    const double deep = -SignedDistance(edge, screw);
    if (deep <= -access) continue;  // beside the jig it can be reached anyway
    if (deep < access + kAccessWeb_mm - kSamePoint_mm) {
      *fault = "jig: the hole of " + say(2.0 * access) + " over the screw at " + place(screw) +
               " leaves a web of " + say(std::max(0.0, deep - access)) + " to the jig's edge, " +
               say(kAccessWeb_mm) +
               " would hold; smaller screws or another place for the case plate would fit";
      return std::nullopt;
    }
    jig.piece.drills.push_back({screw, access});
  }
  jig.piece.material = "birch plywood";
  jig.piece.per_end = 1;
  jig.piece.note = "one for both ends: turn it over";
  if (NeedsBlock(solid.block)) {
    jig.before_drilling =
        "Glue the mounting blocks into " +
        std::string(solid.block.lid_mm > 0.0 ? "case and lid" : "the case") +
        ", each where its plate will stand, and let the glue dry: templates lie on them, and holes "
        "in them go square to the block. ";
  }
  jig.steps = StepsFor(job, solid, plan, hardware, lid_plate, stop, jig);
  return jig;
}

}  // namespace lidwright
