// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// The box as the program understood it, for the maker to check before anything is searched: on
/// one landscape sheet (A4, US Letter for inch jobs) at the largest usual scale that fits
///   - the front, the +z end at the left;
///   - the section at mid-width seen from the +z end, with the end wall's section dashed, the
///     zones for pivots, the contents, bench and wall behind (the wall only if it is no farther
///     away than the box is deep; the table says it in any case), and the line that the open lid
///     must stay behind;
///   - the lid shut from above, with hinge bays, contents and the places of the stations as ticks;
///   - main dimensions in the maker's unit, and what was asked for as a table.
///
/// No two texts overlap; a dimension or label for which there is no room is left out.
/// Requires a valid job and its solid. Same job, same drawing.
Canvas BoxDrawing(const Job& job, const Solid& solid);

std::string BoxDrawingSvg(const Job& job, const Solid& solid);
std::string BoxDrawingPdf(const Job& job, const Solid& solid);

}  // namespace lidwright
