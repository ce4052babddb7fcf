// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/solid/solid.h"

namespace lidwright {

/// Case and lid cut at one place across the width.
struct Section {
  std::vector<Ring> case_rings;
  std::vector<Ring> lid_rings;
};

/// The ruled solid's section at z, |z| in mirrored boxes; where it jumps, the side nearer to the
/// middle. Beyond the outermost stations it is theirs.
Section SectionAt(const Solid& solid, double z_mm);

/// The solid section of the end wall at +z, at its inner face, where arms pass it most closely;
/// empty if there is none.
Section EndWallSection(const Solid& solid);

}  // namespace lidwright
