// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/cutting/cut_part.h"

namespace lidwright {

/// [mm] Empty border of a cut SVG's page round the parts, so that no stroke is clipped.
inline constexpr double kCutPageMargin_mm = 2.0;

/// The parts as the text of an SVG 1.1 file for a cutter.
///
/// Frame and units: the page is Bounds(parts) with kCutPageMargin_mm on every side; its width and
/// height are given in mm and its viewBox is 0 0 and the same two numbers, so one user unit is one
/// millimetre for every reader, whatever it takes a pixel to be. SVG's y runs down: a point (x, y)
/// of the parts is written as (x − left, top − y), so the drawing looks as the parts do with y up
/// (not mirrored), and an arc that runs counter-clockwise has the sweep flag 0.
///
/// Groups, in the order of cutting (one that is empty is left out):
///   <g id="drill">    two strokes that cross at the centre of every drill mark and end half-way
///                     to its rim, so that drilling takes them away;
///   <g id="holes">    one <circle> for every hole;
///   <g id="outline">  one closed <path> for every part, of L and A commands only, or one <circle>
///                     if the outline is a full circle. A part with tabs has an open <path> for
///                     each run between them.
/// Hairlines without fill, one colour for each operation; nothing else is in the file.
///
/// Accuracy: nine decimals. Near a half turn the centre of an A command hangs on the square root of
/// its rounding (1e-9 mm in the radius moves it by 1e-4 mm), so an arc is written in equal pieces
/// of no more than a third of a turn, each well-conditioned and with the large-arc flag 0. Edges
/// that rise less than kFlatArc_mm are written straight. Same parts, same bytes, in any locale.
///
/// Requires: at least one part; FaultOf(part) is empty for each.
///
/// Source: SVG 1.1, 8.3.8 (elliptical arc commands), 7.7 (viewBox), F.6 (arc parameters).
std::string WriteCutSvg(const std::vector<CutPart>& parts);

}  // namespace lidwright
