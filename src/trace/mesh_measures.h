// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/trace/mesh_job.h"

namespace lidwright {

/// Where the origin of the job's frame lies in stations with z = 0 at mid-width: the rear outer
/// face of the case at its ends, at rim height there. Taken from the outermost station whose case
/// is at least 0.8 as deep and high as the middle's.
Vec2 OriginOf(const std::vector<StationOutline>& stations);

/// The measures beside the stations (see JobFromMeshes), from stations in the job's frame; notes
/// what had to be assumed. Problems: a case without room inside.
struct MeshMeasures {
  CaseMeasures case_form;
  LidMeasures lid;
  std::vector<std::string> notes;
  Problems problems;
};
MeshMeasures MeasuresOf(const std::vector<StationOutline>& stations, const MeshWish& wish);

}  // namespace lidwright
