// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "design/examples.h"
#include "lidwright/arms/hinge_set.h"
#include "lidwright/design/make_design.h"

namespace lidwright::testing {

/// A job's box, a linkage that the search once found for it, and the arms routed for it.
struct HingeCase {
  HingeCase(const std::string& job, const Pivots& at) : HingeCase(ExampleJob(job), at) {}
  HingeCase(Job job, const Pivots& at)
      : box(std::move(job)),
        motion(*LidMotion::Make(at)),
        swing(motion, 0.0, box.limits.open_rad),
        arms(ShapeArms(box.arms, swing)) {}

  HingeSet Make(const HingeSetOptions& options = {}) const {
    return MakeHingeSet(box.arms, swing, *arms.arm_a, *arms.arm_b, options);
  }

  BoxModel box;
  LidMotion motion;
  Swing swing;
  ArmsResult arms;
};

/// Linkages of the examples: one and two layers, strips and hulls, pivots under and over the rim.
struct NamedPivots {
  std::string job;
  Pivots pivots;
};
inline const std::vector<NamedPivots>& ExampleLinkages() {
  static const std::vector<NamedPivots> kLinkages{
      {"sample_chest", {{44, -49}, {22, -17.5}, {111.5, -45.5}, {69.5, -6.5}}},
      {"sample_chest", {{40, -21}, {39.5, -40.5}, {96, -6.5}, {81.5, -41}}},
      {"sample_chest", {{20.5, -88}, {34.5, -56}, {134.5, -41.5}, {106, 2.5}}},
      {"barrel_chest", {{32, -21.5}, {53.5, -53.5}, {85.5, 3.5}, {33.5, -59}}},
      {"barrel_chest", {{35.5, -101.5}, {43.5, -43.5}, {115.5, -46.5}, {121, 52.5}}},
      {"barrel_chest", {{47.5, -69.5}, {54.5, -120.5}, {152.5, 34.5}, {215.5, -7.5}}},
      {"jewellery_casket",
       {{26.1937, -10.3187}, {30.1625, -42.8625}, {85.3281, 3.175}, {136.525, -36.9094}}},
      {"jewellery_casket",
       {{27.7812, -43.2594}, {23.0187, -64.2938}, {74.6125, 3.175}, {93.6625, -14.6844}}},
      {"lipped_caddy", {{115.5, -67}, {43, -9}, {20.5, -47.5}, {125, -11.5}}},
  };
  return kLinkages;
}

/// The casket's linkage for which no post can stop the lid.
inline NamedPivots WithoutStop() {
  return {"jewellery_casket",
          {{13.4937, -23.0187}, {53.1812, -42.8625}, {45.2437, -20.2406}, {16.6687, -39.6875}}};
}

inline const HingePiece* FindPiece(const HingeSet& set, const std::string& name) {
  for (const HingePiece& piece : set.pieces) {
    if (piece.name == name) return &piece;
  }
  return nullptr;
}

inline bool Mentions(const std::vector<std::string>& sentences, const std::string& words) {
  for (const std::string& sentence : sentences) {
    if (sentence.find(words) != std::string::npos) return true;
  }
  return false;
}

}  // namespace lidwright::testing
