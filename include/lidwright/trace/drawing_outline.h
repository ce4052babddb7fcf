// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

/// What was found, taken as meant, mended or left out: sentences without full stop, in the order in
/// which they happened.
using Notes = std::vector<std::string>;

/// On which side of the drawing the hinge is.
enum class BackSide { kLeft, kRight };

struct TraceOptions {
  std::string file_name;  ///< only named in problems
  /// [mm] per unit of the drawing. Unset: what the file says. Not with a known size.
  double mm_per_unit = kUnset;
  /// [mm] The true width, or the true height, of case and lid together as drawn: overrides the
  /// file's unit. At most one of the two.
  double known_width_mm = kUnset;
  double known_height_mm = kUnset;
  BackSide back = BackSide::kLeft;
  /// [mm] Height of the case's rim at its back above the case's lowest point. Unset: found.
  double rim_mm = kUnset;
  /// [mm] The frame's origin in the drawing (see TracedOutline), for sections drawn over one
  /// another: all take that of the outermost one. Not with rim_mm.
  std::optional<Vec2> origin_mm;
  /// Names in the drawing that mark the case and the lid, besides those with "case" or "lid" in
  /// them; upper and lower case are the same.
  std::string case_name, lid_name;
  double chord_error_mm = kChordError_mm;  ///< curves are cut into chords this near to them
  /// Open ends this near to each other are joined, gaps between a body's pieces up to this are
  /// bridged, and said so.
  double gap_limit_mm = 0.5;
};

/// A section of case and lid, from a drawing.
struct TracedOutline {
  /// In the side view's frame (x from the back to the front, y up, origin on the rear outer face of
  /// the case at rim height), outer rings counter-clockwise, holes clockwise.
  std::vector<Ring> case_rings;
  std::vector<Ring> lid_rings;
  double mm_per_unit = kUnset;  ///< of the drawing, as used
  /// Where the frame's origin lies in the drawing, y up, x mirrored if the back is on the right.
  Vec2 origin_mm = Vec2::Zero();
  /// How far the rings may be from case and lid as drawn, where these have curves; else 0.
  double chord_error_mm = 0.0;
  Notes notes;
  Problems problems;  ///< if there are any, the rings are not to be used
  // Places in notes and problems are in mm from the drawing's origin, y up.
};

/// The outlines in the text of an SVG file.
///
/// Read: all path commands, rect, circle, ellipse, line, polyline and polygon, nested svg, symbol
/// and use, every transform, viewBox with preserveAspectRatio. A user unit's size follows from
/// width or height in mm, cm, in, pt, pc or px (1/96 in, said in a note) and the viewBox. Left out
/// and named in notes: text, images, hidden elements, clips and style sheets. Line widths and
/// fills do not matter: the geometry of a path counts. Percentages count of the outermost viewBox.
///
/// Case and lid are told apart by names if there are any: an id, a class or a layer label that has
/// the word "case" or "lid" in it, of the element or of a group around it, the innermost first.
/// Without names the closed outline that reaches lowest is the case and the one that reaches
/// highest the lid; outlines inside them are holes. A rectangle round everything is taken as the
/// sheet's border. Lines that meet in a point three at a time are taken as a net: each of its
/// meshes is an outline, the lowest the case, the highest the lid, others are left out.
///
/// A body's pieces that touch along an edge, overlap or stand at most gap_limit_mm apart are
/// united: boards with their glue lines, drawn twice or once. An outline within another is a hollow
/// in it.
///
/// Accuracy: chords within chord_error_mm; ends up to gap_limit_mm apart get a straight edge;
/// corners of united pieces stay in place to kUnited_mm.
/// Unless rim_mm is given the rim is where the case's rear outer face, followed upwards, first
/// stops rising; the origin's x is that face's where it last rises by 45 degrees or more.
///
/// Fails, each as a Problem with the file's line where it has one: text that is not XML or has no
/// svg element, faulty path data or numbers, transforms in styles, no unit, open ends farther apart
/// than gap_limit_mm where case or lid is lacking, outlines that cross themselves, pieces of one
/// body that stand apart or touch in a point only, no outline for case or lid, more than one
/// candidate, lids that overlap the case, lie below it or float more than kLargestSeam_mm above it,
/// depths that look like a wrong unit, more curves than kMostCurves.
///
/// Requires: finite positive numbers where they are given, not both known sizes and not a known
/// size with mm_per_unit.
///
/// Source: SVG 1.1 (8.3 path data, 7.6 transform, 7.7–7.8 viewBox, F.6 arcs), CSS pixels 1/96 in.
TracedOutline TraceSvg(const std::string& text, const TraceOptions& options);

/// The outlines in the text of a DXF drawing (ASCII, any release); as TraceSvg, with these
/// differences.
///
/// Read in model space: LINE, ARC, CIRCLE, ELLIPSE, LWPOLYLINE and POLYLINE with bulges, SPLINE
/// with control points (any degree, rational too), INSERT of blocks (also in rows and columns),
/// looked at along +z or −z. The unit is $INSUNITS. Names are those of layers and of blocks. Left
/// out and named in notes: entities of other kinds, those in paper space, invisible ones, those on
/// layers that are off or frozen, and those not parallel to the drawing plane.
///
/// Fails also on: binary DXF, a file without EOF (truncated), a group code or a number that is
/// none (such as a decimal comma), radii that are not positive, splines with knots that do not
/// grow or with fit points only.
///
/// Source: DXF reference, group codes of these entities; bulge = tan(angle / 4); the arbitrary
/// axis for an extrusion along −z mirrors x.
TracedOutline TraceDxf(const std::string& text, const TraceOptions& options);

}  // namespace lidwright
