// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/hinge_set.h"
#include "lidwright/forces/lid_mass.h"
#include "lidwright/forces/requirements.h"

namespace lidwright {

/// The four joints of one end, in this order everywhere.
enum Joint : std::size_t { kCaseA, kCaseB, kLidA, kLidB };
inline constexpr std::size_t kJoints = 4;
/// "case pin of arm A" …
const char* NameOf(Joint joint);

/// One pin: a rod held at one end, the arm's bushing turning on it.
struct PinSeat {
  double diameter_mm = kUnset;
  double reach_mm = kUnset;    ///< from the face of what holds it to the middle of the arm
  double bearing_mm = kUnset;  ///< length of the bushing on it
  double seat_mm = 0.0;        ///< held in the plate over this length; 0: no plate
  double wall_mm = 0.0;        ///< and goes on into the wood by this
};

/// How a plate with two pins is screwed to wood.
struct PlateHold {
  std::vector<Vec2> screws;   ///< centres, lid shut
  std::vector<Vec2> edge;     ///< the plate's outline as points: it tilts over its edge
  double screw_mm = kUnset;   ///< shank diameter
  double thread_mm = kUnset;  ///< thread in the wood, or a bolt's length in it
  bool bolted = false;        ///< bolts right through, with washer and nut
  std::array<double, 2> height_mm{0.0, 0.0};  ///< of arm A's and B's middle over the wood's face
};

/// Where the open lid or an arm comes to rest, lid open, in the case's frame.
struct StopContact {
  Body body = Body::kLid;
  Vec2 at = Vec2::Zero();
  Vec2 normal = Vec2::Zero();  ///< unit, from the part that is stopped into the stop
  double rod_mm = kUnset;      ///< diameter of the rod it stands on; NaN: not judged
  double reach_mm = kUnset;    ///< from the face that holds the rod to the middle of what it stops
};

/// What holds a stay at one end of the box.
struct StayHold {
  std::string name;           ///< as sold
  std::string source;         ///< of its working load
  double working_n = kUnset;  ///< never to be passed
  double screw_mm = kUnset;   ///< shank diameter of its two screws
  double thread_mm = kUnset;  ///< thread in the wood, of the shorter
  double share = 1.0;         ///< of their load that they bear where they stand
  bool bolted = false;        ///< right through the wall, `thread_mm` of it
};

/// A pad on the lid's back at one end of the box, which comes down on the case's rim.
struct PadHold {
  double length_mm = kUnset;  ///< along the rim
  double bears_mm = kUnset;   ///< of its width, that lies on it
};

/// A piece of hardware, both ends' together, and what it moves with.
struct PieceMass {
  std::string name;
  Body body = Body::kLid;
  MassProperties mass;
};

/// What acts on a hinge beyond the job's own loads, and the sizes that carry it. Everything has a
/// default in UsualLoadCase, so that a hinge can be judged before its hardware is picked.
struct LoadCase {
  MassProperties lid;           ///< wood and hardware, or as weighed
  MassProperties arm_a, arm_b;  ///< both ends' together
  MassProperties case_mass;     ///< the empty case

  std::array<PinSeat, kJoints> pins;
  std::string pin_material = "mild steel";
  std::string plate_material = "aluminium";
  std::string arm_material;
  std::optional<PlateHold> case_plate, lid_plate;
  std::optional<StopContact> stop;  ///< none: the open lid is held by a pure moment
  std::optional<StayHold> stay;     ///< the stop is a stay
  std::optional<PadHold> pad;       ///< the stop is a pad

  double friction = 0.0;    ///< coefficient between pin and bushing
  double lean_n = 0.0;      ///< abuse: a hand on the open lid's front edge, any direction
  double lean_share = 1.0;  ///< of it on one end: more than half for a hand at the corner

  double feet_back_x_mm = 0.0;  ///< the box stands on these, at bench height
  double feet_front_x_mm = 0.0;
  double contents_kg = 0.0;  ///< when full
  Vec2 contents_at = Vec2::Zero();
};

/// Everything of the hinge but its arms and its jig: plates, packings, pins, bushings, spacers,
/// washers, screws, stop, by their outlines, places and materials. Screws and pins count in full,
/// also where they stand in wood.
std::vector<PieceMass> MassesOf(const HingeSet& set);

/// How the box stands: free, or held.
BoxStands StandsOf(const Job& job);

/// [–] Of a hand on the open lid's corner, what the nearer end takes: 1/2 + z/(2 z_arms), by
/// moments about the other end; all of it where the arms stand in the middle.
double LeanShareOf(const Job& job, double arms_z_mm);

/// What the full box holds: loads.contents_kg, or the room under the rim filled with 200 kg/m³.
double ContentsOf_kg(const Job& job, const Solid& solid);

/// The case from the job and two arms, everything else assumed:
/// - pins 1 mm thinner than the bushing (its two walls), at least 0.5 mm, of mild steel; held at a
///   face 1 mm (a washer) outside the outer arm, 3 mm in a plate and case pins 6 mm on in wood;
/// - no screws and no stop (they are not judged);
/// - `hardware` on lid, arms and case; a lid that was weighed has its own in its weight already;
/// - leaning with loads.hand_n at the lid's corner: the nearer end takes 1/2 + z/(2 z_arms) of it,
///   by moments about the other end;
/// - full: loads.contents_kg, or the room under the rim filled with 200 kg/m³ (tea and tins; books
///   are three times that), in the middle of that room.
LoadCase UsualLoadCase(const Job& job, const Solid& solid, const Arm& arm_a, const Arm& arm_b,
                       const std::vector<PieceMass>& hardware = {});

/// The same with a hinge's own parts: masses, pins by the stack through each pivot, screws, stop.
/// What the set lacks is assumed as above.
LoadCase LoadCaseOf(const Job& job, const Solid& solid, const Arm& arm_a, const Arm& arm_b,
                    const HingeSet& set);

}  // namespace lidwright
