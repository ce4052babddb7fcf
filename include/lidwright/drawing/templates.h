// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/hinge_set.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// Full-size templates for drilling case and lid, for both ends: in this order case left, case
/// right, lid left, lid right, each on as many sheets of A4 (US Letter for inch jobs) as it takes;
/// WritePdf makes one document of them. Each is seen from inside the box, as it lies on the end
/// wall's inner face, so left and right are mirror images. Left is left for someone before the box.
///
/// Everything is measured from two edges on which the paper is cut and laid: for the case the back
/// wall's inner face and the rim (FacesAtEnd), for the lid its back wall's inner face and its lower
/// edge (LidFacesAtEnd). Holes are those of `wood` for the body, or if there are none there, those
/// of its plate; the outlines of its plates are drawn thin, to lay them on. A body without holes
/// and plates has no template.
///
/// With the parts list each hole says the number of what goes in.
///
/// Each sheet has a 100 mm and a 4 in bar (class "bar"): a print is good if they measure so.
std::vector<Canvas> DrillTemplates(const Job& job, const Solid& solid,
                                   const std::vector<HingePiece>& pieces,
                                   const std::vector<WoodWork>& wood,
                                   const PartsList* list = nullptr);

/// A trial in paper or card at full size: both arms, and a card each with the section of the case
/// and of the lid and their pivots. Cut out, pinned through the crosses, it swings as the hinge
/// will.
std::vector<Canvas> PaperTrial(const Design& design, const Hinge& hinge,
                               const std::vector<HingePiece>& pieces);

}  // namespace lidwright
