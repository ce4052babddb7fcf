// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "json.h"
#include "lidwright/design/design.h"

namespace lidwright {

/// A ring as x, y, x, y, … to a thousandth of a millimetre.
Json FlatRing(const Ring& ring);

/// Every vertex of the ring stays within `tolerance_mm` of what is kept of it (Douglas and Peucker
/// 1973, on the two halves between the first vertex and the one farthest from it).
Ring Thinned(const Ring& ring, double tolerance_mm);

/// How far the model may be off between lid and case: curves as chords, sections between slices as
/// straight blends. Certified gaps have it taken off.
double ModelError_mm(const Solid& solid);

/// What the box looks like:
///   stations  slices by z: {z, end, case, lid} with rings
///   sheets    ruled sides for the solid view: {body, z: […], rings: […]}, corresponding vertices
///   caps      flat ends of those: {body, z, facing, rings}
///   bench, behind, above, contents, mouth, thinned …
Json BoxData(const Job& job, const Solid& solid);

/// What moves: pivots, poses and curves by angle, spots of the verdicts, arms as pieces. Curves are
/// lists of [angle, value].
/// `rows` are poses: θ, cos, sin, x and y of the lid, turn of arm A and of arm B [rad, mm].
Json HingeData(const Design& design, const Hinge& hinge);

}  // namespace lidwright
