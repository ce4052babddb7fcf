// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/job/job.h"

namespace lidwright {

/// What stations show of a measure that may be given beside them. Ways of measuring it differ where
/// walls lean, bulge or end askew: any value from `least_mm` to `most_mm` may be meant.
struct ShownMeasure {
  const char* path;  ///< its key
  double least_mm, most_mm;
  double likely_mm;  ///< to a thousandth
};

/// case.depth and case.height, the bows of back and front and the arch of the rim; none if no
/// station has a case. Stations as in Job, of both sides or of z ≥ 0 alone.
std::vector<ShownMeasure> MeasuresShown(const std::vector<StationOutline>& stations);

/// The likely value of that measure, 0 if none is shown.
double LikelyMeasure_mm(const std::vector<StationOutline>& stations, const std::string& path);

}  // namespace lidwright
