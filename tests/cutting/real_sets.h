// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "arms/hinge_cases.h"
#include "lidwright/design/design.h"

/// Whole hinges of the example boxes, as the program makes them: arms routed, plates, stop and jig
/// shaped and certified. To be cut, listed and drawn.
namespace lidwright::testing {

struct RealSet {
  std::string name;
  Design design;  ///< job, solid, pivots and arms; no verdicts
  HingeSet set;
};

inline RealSet MakeRealSet(const std::string& name, Job job, const Pivots& pivots) {
  const HingeCase hinge(std::move(job), pivots);
  RealSet real{name, {}, hinge.Make()};
  real.design.job = hinge.box.job;
  real.design.solid = hinge.box.solid;
  Hinge made;
  made.character = "given";
  made.pivots = pivots;
  made.arm_a = hinge.arms.arm_a;
  made.arm_b = hinge.arms.arm_b;
  real.design.hinges.push_back(made);
  return real;
}

/// One linkage of every shape: flat and two layers, lid plate of strips and of a hull, in mm and in
/// inches.
inline std::vector<RealSet> RealSets() {
  std::vector<RealSet> sets;
  for (const std::size_t i : {0, 2, 3, 6}) {
    const NamedPivots& linkage = ExampleLinkages().at(i);
    sets.push_back(MakeRealSet(linkage.job + "_" + std::to_string(i), ExampleJob(linkage.job),
                               linkage.pivots));
  }
  return sets;
}

}  // namespace lidwright::testing
