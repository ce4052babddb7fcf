// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/solid/reachable_faces.h"

namespace lidwright {

/// The whole swing in one drawing, on one sheet (A4, US Letter for inch jobs; upright or across,
/// whichever shows it larger): the section through the hinge with the lid shut and open in full,
/// five positions between in thin lines, the paths of the lid's pivots and of its back lower edge,
/// the tightest spot, and where the four pivots sit with the lid shut.
///
/// The pivots are measured from two faces that a square reaches: the back wall's inner face at the
/// rim and the rim itself, both where the end wall begins (the box may be bowed and arched
/// elsewhere). They stand as ordinates round the drawing and as a table, in the maker's unit, for
/// inches also as fractions to 1/64. Above the rim is positive.
///
/// Pivots that cannot move the lid as far as wanted are drawn as far as they go, and say so.
/// No two texts overlap. Same design, same bytes.
Canvas Overlay(const Design& design, const Hinge& hinge);

std::string OverlaySvg(const Design& design, const Hinge& hinge);
std::string OverlayPdf(const Design& design, const Hinge& hinge);

}  // namespace lidwright
