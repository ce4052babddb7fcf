// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <utility>
#include <vector>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// How the pieces stack on each pin: for every piece of kind kPin a cross-section through its axis
/// at the +z end, to scale, four to a sheet. The cut runs along the axis and across the arm. The
/// outside of the box is at the left. Drawn are the pieces that the axis passes through, where the
/// cut meets them, by their z intervals, and the end wall; numbers refer to a table with each
/// piece's thickness and where it lies, measured from the end wall's inner face of the pin's body.
/// The numbers are those of the parts list, if it is given, else counted from outside in.
/// No two texts overlap. Same pieces, same bytes.
std::vector<Canvas> StackSheets(const Job& job, const Solid& solid,
                                const std::vector<HingePiece>& pieces,
                                const PartsList* list = nullptr);

/// What a line through `at` along `direction` meets of an outline with holes: intervals [mm from
/// `at`], growing. Holes may overlap.
std::vector<std::pair<double, double>> CutThrough(const Outline& outline,
                                                  const std::vector<Circle>& holes, const Vec2& at,
                                                  const Vec2& direction);

}  // namespace lidwright
