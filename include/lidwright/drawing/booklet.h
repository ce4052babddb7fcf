// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/cutting/cut_set.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"

namespace lidwright {

/// All that goes to the bench, in the order of the work, on the maker's paper (A4 or Letter): a
/// cover with the hinge half open and its risks (RisksOf), tools and what to buy, parts list, each
/// end drawn apart, then the steps of the work (WorkSteps) with a picture, a box to tick and room
/// to write, and after each page of steps the sheets they are done with; last what to measure.
/// Pages are numbered, steps name the pages of their sheets.
///
/// The sheets are those of ArmSheet, PlateSheets, StackSheets, NestSheets, DrillTemplates,
/// JigSheets, PaperTrial and Arrangement: full size stays full size, with the bars to measure the
/// print by. Lettering is 2.5 mm and more, in black. Requires a hinge with parts. No two texts of
/// the booklet's own pages overlap. Same design, same bytes.
std::vector<Canvas> BenchBooklet(const Design& design, const Hinge& hinge, const CutSet& cut,
                                 const PartsList& list);

}  // namespace lidwright
