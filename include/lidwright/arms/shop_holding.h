// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/arms/hardware.h"

namespace lidwright {

// What holds, slows and carries a lid, as sold. All common practice without a source but where a
// line names one; none of it replaces the maker's own sheet.

enum class StayKind { kRibbon, kCord, kChain, kFoldingStay };

/// Something that keeps the lid from opening farther.
struct StockStay {
  std::string name;
  StayKind kind;
  double working_n;  ///< never to be passed
  double width_mm;   ///< room it takes across
  double least_mm;   ///< shortest length it makes sense in
  double most_mm;    ///< longest it is sold in
  Source source;
  std::string inch_name{};  ///< in an inch job; empty where it is the same
  const std::string& NameIn(bool inches) const {
    return inches && !inch_name.empty() ? inch_name : name;
  }
};
/// Weak first.
const std::vector<StockStay>& StockStays();

/// Stays that bear a load at a length, simple first: ribbon, cord, chain, folding stay, the weakest
/// of each kind that bears it.
std::vector<StockStay> StaysToTry(double load_n, double length_mm);

/// A pad that a lid comes down on or leans against.
struct StockPad {
  std::string name;
  double thickness_mm;
  double modulus_mpa;  ///< pressed slowly; felt hardens from half its thickness on
  double most_mpa;     ///< pressure at half its thickness
  Source source;
};
const std::vector<StockPad>& StockPads();

/// A rotary damper on a pivot: torque grows with speed, one way.
struct StockDamper {
  std::string name;
  double rate_nmm_s;  ///< torque per angular speed [N·mm s/rad]
  double most_nmm;    ///< torque it bears
  double outside_mm;
  Source source;
};
/// Light first, from sheets that give the torque at 20 turns a minute.
const std::vector<StockDamper>& StockDampers();

/// What a nut squeezes on a pivot until the lid stays: washer and a spring that keeps the squeeze.
struct StockFriction {
  std::string name;
  double inside_mm, outside_mm;
  double friction;  ///< coefficient against metal
  double clamp_n;   ///< squeeze of its spring washer, three quarters flat
  Source source;
};
const std::vector<StockFriction>& StockFrictions();

/// A hinge insert of constant torque.
struct StockTorque {
  std::string name;
  double torque_nmm;
  double outside_mm;
  Source source;
};
const std::vector<StockTorque>& StockTorques();

/// Spring wire sold in small lengths: music wire.
std::vector<double> SpringWires_mm(bool inch);

}  // namespace lidwright
