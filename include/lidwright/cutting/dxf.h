// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/cutting/cut_part.h"

namespace lidwright {

/// The parts as the text of a DXF drawing: ASCII, release 12 ($ACADVER AC1009), the oldest form
/// that has arcs in polylines, so the one that every reader knows.
///
/// Frame and units: the parts' own frame, y up, millimetres. Release 12 has no place for a unit of
/// its own, so it is said three times over: $INSUNITS 4 and $MEASUREMENT 1 (later variables that
/// readers of any release look for) and a comment line.
///
/// Layers, in the order of cutting, with all parts' entities of one before those of the next:
///   DRILL    one POINT at the centre of every drill mark;
///   HOLES    one CIRCLE for every hole;
///   OUTLINE  one closed POLYLINE for every part, with arcs as bulges, or one CIRCLE if the outline
///            is a full circle. A part with tabs has an open POLYLINE for each run between them.
/// There is nothing else to cut: no text, no dimensions, no blocks.
///
/// Accuracy: coordinates and radii have nine decimals, bulges twelve, so a reader gets each point
/// to 1e-9 mm and each arc's rise to 1e-12 of its chord. Edges that rise less than kFlatArc_mm are
/// written straight. Same parts, same bytes, in any locale.
///
/// Requires: at least one part; FaultOf(part) is empty for each.
///
/// Source: the DXF reference, group codes of POLYLINE (66, 70), VERTEX (10, 20, 42), SEQEND,
/// CIRCLE (10, 20, 40) and POINT; bulge = tan(angle / 4).
std::string WriteDxf(const std::vector<CutPart>& parts);

}  // namespace lidwright
