// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <vector>

#include "trace/mesh_slab.h"

namespace lidwright {

/// Case and lid.
using MeshPair = std::array<const MeshSlicer*, 2>;

/// The sections of both at one place across the width.
struct Cut {
  double z_mm = 0.0;
  std::array<std::vector<MeshLoop>, 2> parts;
  bool held = false;  ///< the neighbour's section, held on to the middle of a step
};

/// Cuts between which case and lid change so evenly that straight blends do; by growing z, two or
/// more. Each stretch begins where the one before ends: there the form jumps.
using MeshStretch = std::vector<Cut>;

struct CutChoice {
  std::vector<MeshStretch> stretches;
  double blend_error_mm = 0.0;  ///< aimed at; more than wished for if the form is too rough for it
  int steps = 0;                ///< jumps that are no flat face: put where the form changes fastest
  double step_width_mm = 0.0;   ///< such a step is narrower than this: each side's section is held
                                ///< to its middle
};

/// Chooses where to cut. Flat faces across the width (of at least 1 mm²) are jumps, and so are the
/// ends of either mesh. Stretches over a quarter of the width get a cut inside; a stretch is halved
/// until the blend of its two sections lies within `blend_error_mm` of both meshes (see Deviation).
/// Where that does not come true within kLeastSlab_mm — outlines that split, vanish or change their
/// number — a jump is put. If more than `most` cuts were needed, the error aimed at grows by half
/// until that many do.
CutChoice ChooseCuts(const MeshPair& meshes, double blend_error_mm, std::size_t most);

}  // namespace lidwright
