// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/base/units.h"
#include "lidwright/drawing/canvas.h"

/// The one visual language of all drawings: lines, tones, hatching, lettering, in mm on paper.
/// Everything can be told without colour: lines by weight and dash, bodies by their patterns, which
/// stand in looks/looks.h. Colour only repeats it.
namespace lidwright::style {

inline constexpr Colour kInk{0x1a1a1a};
inline constexpr Colour kGrey{0x8a8a8a};
inline constexpr Colour kPaper{0xffffff};
inline constexpr Colour kArmInk{0x1f4560};
inline constexpr Colour kMark{0xa8201a};
inline constexpr Colour kPathInk{0x2d6a8c};
inline constexpr Colour kDimInk{0x3a3a3a};

// Line weights: a visible edge stands out, everything that explains it is thin.
inline const Pen kEdge{0.5, kInk};
inline const Pen kFineEdge{0.3, kInk};
inline const Pen kThin{0.18, kInk};
inline const Pen kDim{0.18, kDimInk};
inline const Pen kHidden{0.25, kInk, {2.0, 1.0}};
inline const Pen kZone{0.25, kPathInk, {3.0, 1.2}};
inline const Pen kCentre{0.18, kInk, {5.0, 1.2, 0.6, 1.2}};
inline const Pen kPhantom{0.18, kInk, {5.0, 1.0, 0.6, 1.0, 0.6, 1.0}};
inline const Pen kStay{0.5, kInk, {0.9, 0.5}};  // like the links of a chain
inline const Pen kGhost{0.18, kGrey};
inline const Pen kTrack{0.25, kPathInk, {4.0, 1.0, 0.6, 1.0}};
inline const Pen kArmEdge{0.4, kArmInk};
inline const Pen kMarkEdge{0.5, kMark};
inline const Pen kMarkFine{0.25, kMark};
inline const Pen kFrame{0.5, kInk};

inline constexpr double kHatch_mm = 0.13;     ///< width of a pattern's lines
inline constexpr double kDot_mm = 0.45;       ///< of its dots, …
inline constexpr double kDotsAlong_mm = 1.3;  ///< … and from one to the next along a line

// Lettering, height of the capitals.
inline constexpr double kSmall_mm = 2.5;
inline constexpr double kText_mm = 2.5;
inline constexpr double kTitle_mm = 3.5;
inline constexpr double kTextClear_mm = 0.5;  ///< least room between two texts

// Dimensions: a thin line between short oblique strokes.
inline constexpr double kDimStroke_mm = 2.4;  ///< length of a stroke
inline constexpr double kDimGap_mm = 1.0;     ///< from the object to its extension line
inline constexpr double kDimOver_mm = 1.5;    ///< of the extension line beyond the dimension line
inline constexpr double kDimFirst_mm = 7.0;   ///< from the object to the first dimension line
inline constexpr double kDimStep_mm = 6.0;    ///< from one dimension line to the next

// Sheets.
inline constexpr double kMargin_mm = 7.0;  ///< from the paper's edge to the frame
inline constexpr double kTitleWidth_mm = 92.0;
inline constexpr double kTitleHeight_mm = 26.0;

}  // namespace lidwright::style
