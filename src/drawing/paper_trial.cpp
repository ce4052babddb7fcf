// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "bodies.h"
#include "full_size.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/style.h"
#include "lidwright/drawing/templates.h"
#include "lidwright/geometry/hull.h"

namespace lidwright {
namespace {

constexpr double kApart_mm = 12.0;      // between the arms on their sheet
constexpr double kRoundPivot_mm = 8.0;  // of card that must stay round a pivot

Outline AsOutline(const Ring& ring) {
  Outline outline;
  for (const Vec2& p : ring) outline.vertices.push_back({p, 0.0});
  return outline;
}

// Both arms, case holes at the left, one under the other.
FullSize ArmsCard(const std::vector<HingePiece>& pieces) {
  FullSize card;
  double top = 0.0;
  for (const HingePiece& piece : pieces) {
    if (piece.kind != PieceKind::kArm || piece.holes.size() != 2) continue;
    const Vec2 along = piece.holes[1].centre - piece.holes[0].centre;
    Pose lay = Pose::Make(-std::atan2(along.y(), along.x()), Vec2::Zero());
    const Rect2 box = Bounds(Flatten(Moved(piece.outline, lay), kChordError_mm));
    lay.origin = Vec2(-box.low.x(), top - box.high.y());
    card.outlines.push_back({Moved(piece.outline, lay), style::kEdge, ""});
    int end = 0;
    for (const Circle& hole : piece.holes) {
      card.marks.push_back({{lay * hole.centre, hole.radius_mm},
                            piece.name + (end++ == 0 ? ", case" : ", lid"),
                            ""});
    }
    top -= box.high.y() - box.low.y() + kApart_mm;
  }
  return card;
}

// The section of a body, and card up to its pivots where they stand off it.
FullSize BodyCard(const std::vector<Ring>& rings, const std::vector<RoundMark>& pivots) {
  FullSize card;
  std::vector<Vec2> all;
  for (const Ring& ring : rings) {
    card.outlines.push_back({AsOutline(ring), style::kEdge, ""});
    all.insert(all.end(), ring.begin(), ring.end());
  }
  for (const RoundMark& pivot : pivots) {
    for (const Vec2& p : Flatten(Circle{pivot.circle.centre, kRoundPivot_mm}, 0.2)) {
      all.push_back(p);
    }
  }
  card.outlines.push_back({AsOutline(ConvexHull(all)), style::kHidden, ""});
  card.marks = pivots;
  return card;
}

}  // namespace

std::vector<Canvas> PaperTrial(const Design& design, const Hinge& hinge,
                               const std::vector<HingePiece>& pieces) {
  const Section section = SectionAt(design.solid, HingeSection_mm(design.solid, hinge));
  const Pivots& p = hinge.pivots;
  const double hole = 0.75;  // of a drawing pin
  std::vector<FullSize> cards{ArmsCard(pieces),
                              BodyCard(section.case_rings, {{{p.case_a, hole}, "arm A", ""},
                                                            {{p.case_b, hole}, "arm B", ""}}),
                              BodyCard(section.lid_rings, {{{p.lid_a, hole}, "arm A", ""},
                                                           {{p.lid_b, hole}, "arm B", ""}})};
  const char* const titles[] = {"Paper trial: the arms", "Paper trial: case at the hinge",
                                "Paper trial: lid at the hinge"};
  const std::string card_note =
      "Only what the full lines bound is wood; the rest of it carries the pins. Seen from outside "
      "of the left end.";
  const std::vector<std::string> notes[] = {
      {"The last check before good wood. Glue this sheet to card and cut along the full lines. Lay "
       "the case's card down, the arms on it and the lid's sheet on top, lid shut, and put a pin "
       "through each pair of crosses of the same name. Swing it by hand to the opening angle: "
       "where a full line of the lid or of an arm comes over a full line of the case, they will "
       "meet in wood."},
      {"Glue to card and cut along the dashed line. " + card_note},
      {"Cut along the dashed line. On tracing paper or clear film the case's lines show through; "
       "glued to card, cut along the lid's full line where it comes near the case, and watch the "
       "edge. " +
       card_note}};
  // Arms and case are glued to one card; the lid's sheet is film or tracing paper.
  std::vector<Canvas> on_card, on_film;
  for (std::size_t i = 0; i < cards.size(); ++i) {
    FullSize& card = cards[i];
    card.title = titles[i];
    card.notes = notes[i];
    card.edges = false;
    card.table = false;
    card.inches = design.job.inches;
    if (card.outlines.empty()) continue;
    (i == 2 ? on_film : on_card).push_back(DrawFullSize(card));
  }
  auto pages = SharedSheets(on_card, "Paper trial: arms and case", design.job);
  for (const Canvas& film : on_film) {
    for (Canvas& page : Tiles(film, design.job)) pages.push_back(std::move(page));
  }
  return pages;
}

}  // namespace lidwright
