// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/arms/jig.h"
#include "lidwright/arms/shape_arms.h"

namespace lidwright {

struct HingeSet;

/// How something is moved while a hinge is put together.
enum class MoveKind {
  kAlongPins,  ///< a part, straight along z, outwards to its place
  kTool,       ///< a screwdriver's bit in line with its screw, along z
  kLowered,    ///< the lid, in the side view, until it rests
};

/// One motion of the order of work at the +z end (the other end's is its mirror), and whether it is
/// free of all that is in place by then. What the part runs on or is to rest on is left out.
struct AssemblyMove {
  JigScene step = JigScene::kJigInCase;  ///< the step that it belongs to
  MoveKind kind = MoveKind::kAlongPins;
  std::string what;         ///< the piece, "lid", or the screw that is driven
  double lid_rad = 0.0;     ///< where lid or lid plate stands meanwhile
  Vec2 way = Vec2::Zero();  ///< [mm] in the side view, to its place
  double along_z_mm = 0.0;  ///< [mm] outwards; of a tool: its length that needs the room
  double room_mm = kUnset;  ///< certified: it comes no nearer to anything; infinity: nothing there
  std::string nearest;      ///< to what it comes that near
  bool free = false;        ///< the room is kMoveRoom_mm at least
};

/// [mm] What is moved by hand and eye must not touch; chords and blends are taken off besides.
inline constexpr double kMoveRoom_mm = 0.05;
/// [mm] A long bit in line with the screw, for a screwdriver or a drill (common practice, no
/// source). The handle or chuck behind it is not looked at.
inline constexpr double kDriver_mm = 150.0;
/// [mm] Where that would meet the other end's hinge: a bit of 25 mm in an offset ratchet, in all
/// (common practice, no source). The ratchet's lever is not looked at.
inline constexpr double kShortDriver_mm = 40.0;
/// [mm] The round blade of a cross-point screwdriver for a screw of this diameter: 5 of size 1, up
/// to 3 mm and #4, 6 of size 2 (ISO 8764, from memory).
inline double DriverBlade_mm(double screw_mm) {
  return screw_mm <= 3.0 ? 5.0 : 6.0;
}

/// The order in which plates, arms and lid come together, as in Jig::steps, each move certified by
/// the one checker: a straight move along z sweeps a prism, whose least distance to what stands is
/// its room; the lid's way down is a slide that starts shut. The case plate and its screws, stop,
/// lid plate, arms and heads with the lid off; the lid from above; each of the lid plate's screws
/// at the widest opening at which a screwdriver reaches it. What is reached nowhere is reached with
/// the lid propped open and the arms drawn off their pins, which then go on again; heads are fixed
/// last. With pins straight in the lid's wood the arms go on with the lid open. Not looked at: a
/// plate that is let into the lid's top on the lid's way down, and the lid's wood beside the bits
/// for its screws; packing that a leaning end slides down along. Requires a set with a stack and
/// all its pieces.
std::vector<AssemblyMove> OrderOfAssembly(const ArmsTask& task, const LidMotion& motion,
                                          const HingeSet& set);

/// What stands in a move's way, in a sentence; and what a step's words lack of its moves: how the
/// lid leans, how far it is opened for the screwdriver.
std::string FaultOf(const AssemblyMove& move, bool inches);
std::string WordsOf(const JigStep& step, const std::vector<AssemblyMove>& order, bool inches);

}  // namespace lidwright
