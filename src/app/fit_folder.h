// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/app/output_folder.h"
#include "lidwright/cutting/cutter_check.h"
#include "lidwright/design/design.h"
#include "lidwright/report/html.h"

// What is written of a design, as texts and bytes by the path within its folder.
namespace lidwright {

/// Where it is written unasked: out/NAME for jobs/NAME.json.
std::string DefaultFolder(const std::string& job_file);

/// Drawings of one hinge, with `frames` pictures of its swing. Requires pivots that move.
void AddDrawings(const Design& design, const Hinge& hinge, int frames, FolderContents& contents);

/// Cut files, templates, stack, jig, lists: all that the bench needs of the parts. Requires
/// hinge.parts.
PartsFound AddParts(const Design& design, const Hinge& hinge, FolderContents& contents);

/// Whether `fit` is sure to write a file of that name if it finds a hinge.
bool FitWrites(const std::string& name);

/// All that `fit` writes of a job; of the path in `job_file` only the file's name is told.
/// `cut_faults` gets what the cutter cannot cut. Same design, same bytes.
FolderContents FitFolder(const Design& design, const std::string& job_file, int frames,
                         std::vector<CutFault>* cut_faults);

}  // namespace lidwright
