// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "trace/curve.h"

namespace lidwright {

/// What is wrong in an attribute's text, and where: its byte offset there.
struct SvgTextFault {
  std::size_t at = 0;
  std::string what;
};

/// The subpaths of an attribute d, y down as written; label, names and line are left to the
/// caller. Each subpath that a z ends is closed. `fault` is set at the first error; the pieces
/// before it are returned.
std::vector<DrawnPath> ReadPathData(const std::string& d, std::optional<SvgTextFault>* fault);

/// The attribute transform: a list of matrix, translate, scale, rotate, skewX, skewY.
Affine ReadTransform(const std::string& text, std::optional<SvgTextFault>* fault);

/// Numbers separated by spaces or commas: points, viewBox.
std::vector<double> ReadNumbers(const std::string& text, std::optional<SvgTextFault>* fault);

/// A length as number and unit ("mm", "%", "" …); nothing if it is none.
struct SvgLength {
  double number = 0.0;
  std::string unit;
};
std::optional<SvgLength> ReadSvgLength(const std::string& text);

/// The ellipse's arc from a to b of the command A (SVG 1.1, F.6); a straight line where a radius is
/// zero, nothing if a is b.
std::optional<Piece> EllipseArc(const Vec2& a, const Vec2& b, double rx, double ry, double turn_rad,
                                bool large, bool sweep);

}  // namespace lidwright
