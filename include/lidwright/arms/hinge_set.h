// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/arms/jig.h"
#include "lidwright/arms/pad.h"
#include "lidwright/arms/plates.h"
#include "lidwright/arms/stay.h"
#include "lidwright/arms/stop.h"
#include "lidwright/arms/work_order.h"

namespace lidwright {

struct HingeSetOptions {
  bool stop = true;
  std::optional<Stay> stay;  ///< in a post's stead
  double stop_rod_mm = 0.0;  ///< a bare rod of this diameter as stop; 0: the pins' rod with or
                             ///< without a sleeve of the bushings' tube
  double pad_mm = 0.0;       ///< length of a pad, where no post can be the stop; 0: as usual
  double lid_row_mm = kLeastRow_mm;  ///< least length of the lid plate's row of screws
  bool jig = true;
};

/// Work in the wood that no piece shows.
struct WoodWork {
  std::string what;  ///< "hole for the case pin of arm A" …
  Body body = Body::kCase;
  Circle hole;            ///< zero radius if it is no hole
  double depth_mm = 0.0;  ///< from the wood's face
  std::string note;
  std::string piece{};  ///< the name of the piece that goes in, if one does
};

/// How the note of a hole begins that is not drilled with the others but where its plate has its
/// place.
extern const char* const kLater;

/// What a screw is called everywhere: "screw 1 of the lid plate"; and its head among the pieces.
std::string ScrewName(std::size_t number, const std::string& of);
std::string HeadOf(const std::string& screw);

/// One line of the list of what to buy.
struct HardwareLine {
  std::string name;
  int per_end = 1;
  double length_mm = kUnset;  ///< cut to this
  std::string note;
};

/// One end's whole hinge as parts that can be cut, pressed, screwed and fitted.
struct HingeSet {
  std::vector<HingePiece> pieces;  ///< at the +z end; the other end's are mirror images
  std::optional<StackPlan> stack;  ///< with the section through each pivot
  std::optional<Hardware> hardware;
  std::optional<Plate> case_plate, lid_plate;
  std::optional<Stop> stop;
  std::optional<Pad> pad;  ///< where no post has a place
  std::optional<Stay> stay;
  std::optional<Jig> jig;
  std::vector<AssemblyMove> order;  ///< how it goes together; of a set in which all clears
  std::vector<WoodWork> bench_work;
  std::vector<HardwareLine> buy;
  Assembly assembly;  ///< the box and all pieces that stay, at both ends where these differ
  Verdicts verdicts;  ///< every pair of pieces that may meet, over the swing
  std::vector<std::string> faults;     ///< what does not go: part, number, what would fit
  std::vector<std::string> sentences;  ///< what was picked and why, cautions
  bool complete = false;               ///< no faults and every verdict met
};

/// Makes the parts round two arms. Pieces that could not be made are left out and named in
/// `faults`; all that could be is there all the same.
///
/// Certified over the whole swing by the one checker, each against all that it can meet on other
/// bodies in overlapping layers: plates, packing, spacers, washers, heads, the stop, against case,
/// lid, contents, surroundings, arms and each other, at arms.gap. Left out are joints (a pin in its
/// own arm's bushing) and the stop against what it stops, which has verdicts of its own.
///
/// Requires a motion that reaches the opening angle and arms on its pivots.
HingeSet MakeHingeSet(const ArmsTask& task, const Swing& swing, const Arm& arm_a, const Arm& arm_b,
                      const HingeSetOptions& options = {});

/// The piece as a part for the checker: a prism whose flattened outline holds the true one.
Part AsPart(const HingePiece& piece);

/// The other end's piece: seen with the same x and y (both ends share the side view) at mirrored z.
HingePiece MirrorPiece(const HingePiece& piece);

}  // namespace lidwright
