// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/pad.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "lidwright/arms/jig.h"
#include "lidwright/arms/stop.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/solid/mounting_block.h"

namespace lidwright {
namespace {

// [mm] Widths that are tried, the widest first.
constexpr std::array kWidths_mm{12.0, 9.0, 6.0};
constexpr std::array kWidths_in{0.5, 0.375, 0.25};
constexpr double kUsual_mm = 20.0, kUsual_in = 0.75;
// [mm] Between places tried along the lid's outline.
constexpr double kStep_mm = 1.0;
// [mm] The lid's back bends by no more than this under a foot that is planed straight.
constexpr double kBends_mm = 0.4;
// [mm] Over its length the foot may be bevelled by so much each way, to lie on a bowed back.
constexpr double kBevel_mm = 2.5;
// [–] Slope of a pad's face to its foot, 1 in 4 at most: a steeper wedge slides.
constexpr double kSteepest = 0.25;
// [mm] Left between pad and case for rounding; half of what counts as touching.
constexpr double kJustApart_mm = kStopContact_mm / 2.0;
// [rad] Until here before the opening angle it keeps the gap of moving parts.
constexpr double kComesDown_rad = 6.0 * kRadPerDeg;
// [mm] So much over the case a face still lies on it.
constexpr double kBedsIn_mm = 0.5;
// [mm] The case meets at least this much of a pad's width.
constexpr double kLeastBearing_mm = 2.0;
// [–] Pads with so much of the largest approach bear about the same.
constexpr double kEnough = 0.7;
// [–] Where they lie: their outer ends at these shares of the way from the middle to the bay's end.
constexpr std::array kPlaces{1.0, 0.75, 0.5};
// [count] Pads given to the proof at most.
constexpr std::size_t kMostProofs = 100;

// Both ends of the box where they differ.
std::vector<LayerSpan> StretchesOf(const Solid& solid, const LayerSpan& span) {
  std::vector<LayerSpan> stretches{span};
  if (!solid.mirrored) stretches.push_back({-span.z_max_mm, -span.z_min_mm});
  return stretches;
}

// All sections of a body that bound it over the pad's stretches: between two of them it is ruled.
std::vector<std::vector<Ring>> SectionsOver(const ArmsTask& task, PartKind kind,
                                            const LayerSpan& span) {
  std::vector<std::vector<Ring>> sections;
  for (const LayerSpan& stretch : StretchesOf(task.solid, span)) {
    for (const PartTree* tree : task.box.Shapes(kind)) {
      for (const Part& part : tree->parts()) {
        const double low = std::max(part.z_min_mm, stretch.z_min_mm);
        const double high = std::min(part.z_max_mm, stretch.z_max_mm);
        if (low >= high) continue;
        sections.push_back(RingsAt(part, low));
        sections.push_back(RingsAt(part, high));
      }
    }
  }
  return sections;
}

// A frame on the lid's outline, u along it and v out of the wood.
struct Stand {
  Vec2 origin, u, v;
  Vec2 From(const Vec2& p) const { return {(p - origin).dot(u), (p - origin).dot(v)}; }
};

// Calls `visit` with both ends of what lies within `half` of the frame's axis, of every edge.
template <typename Visit>
void EdgesWithin(const std::vector<Ring>& rings, const Stand& stand, double half,
                 const Visit& visit) {
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      Vec2 a = stand.From(ring[i]), b = stand.From(ring[(i + 1) % ring.size()]);
      if (a.x() > b.x()) std::swap(a, b);
      if (b.x() < -half || a.x() > half) continue;
      const auto at = [&, from = a, to = b](double x) -> Vec2 {
        if (to.x() - from.x() < kSamePoint_mm) return from;
        return from + (to - from) * (x - from.x()) / (to.x() - from.x());
      };
      const bool steep = b.x() - a.x() < kSamePoint_mm;
      visit(a.x() < -half ? at(-half) : a, b.x() > half && !steep ? at(half) : b);
    }
  }
}

std::vector<Stand> StandsAlong(const std::vector<Ring>& rings) {
  std::vector<Stand> stands;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      const double length = (b - a).norm();
      if (length < kSamePoint_mm) continue;
      const Vec2 u = (b - a) / length;
      const int pieces = std::max(1, static_cast<int>(std::floor(length / kStep_mm)));
      for (int k = 0; k < pieces; ++k)
        stands.push_back({a + (b - a) * (k + 0.5) / pieces, u, -Perp(u)});
    }
  }
  return stands;
}

// The line on which the case lies over a pad's width, in the pad's frame: the face that is planed
// to lie flat on it.
struct Face {
  double middle_mm = 0.0, slope = 0.0;  // off the lid at the middle, and its growth along u
  double from_mm = 0.0, to_mm = 0.0;    // the case meets it between these
  double At(double along_mm) const { return middle_mm + slope * along_mm; }
};
std::optional<Face> FaceOn(const std::vector<std::vector<Ring>>& cases, const Stand& stand,
                           double half) {
  std::vector<Vec2> points;
  bool before = true;
  for (const std::vector<Ring>& rings : cases) {
    EdgesWithin(rings, stand, half, [&](const Vec2& a, const Vec2& b) {
      before = before && std::min(a.y(), b.y()) >= kThinnestPad_mm;
      points.push_back(a);
      points.push_back(b);
    });
  }
  if (!before || points.size() < 2) return std::nullopt;
  // An edge of the lower hull: no point of the case lies between it and the lid.
  std::sort(points.begin(), points.end(), [](const Vec2& a, const Vec2& b) {
    return std::pair(a.x(), a.y()) < std::pair(b.x(), b.y());
  });
  std::vector<Vec2> hull;
  for (const Vec2& p : points) {
    while (hull.size() > 1 &&
           Cross<double>(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0.0) {
      hull.pop_back();
    }
    if (hull.empty() || p.x() - hull.back().x() > kSamePoint_mm) hull.push_back(p);
  }
  std::optional<Face> widest;
  for (std::size_t i = 0; i + 1 < hull.size(); ++i) {
    const Vec2 &a = hull[i], &b = hull[i + 1];
    const double slope = (b.y() - a.y()) / (b.x() - a.x());
    if (std::abs(slope) > kSteepest || b.x() - a.x() < kLeastBearing_mm) continue;
    if (widest && b.x() - a.x() <= widest->to_mm - widest->from_mm) continue;
    widest = {a.y() - slope * a.x() - kJustApart_mm, slope, a.x(), b.x()};
  }
  return widest;
}

// How much of a section of the case lies under the face, or nearly: it beds in, and is planed to an
// arched rim.
double BearingIn(const std::vector<Ring>& rings, const Stand& stand, double half,
                 const Face& face) {
  double bears = 0.0;
  EdgesWithin(rings, stand, half, [&](const Vec2& a, const Vec2& b) {
    const auto on = [&](const Vec2& p) { return p.y() - face.At(p.x()) <= kBedsIn_mm; };
    if (on(a) && on(b)) bears = std::max(bears, b.x() - a.x());
  });
  return bears;
}

// Both edges' heights of the lid's outline under a foot, in one section.
std::optional<std::array<double, 2>> FootIn(const std::vector<Ring>& lid, const Stand& stand,
                                            double half) {
  // The outline nearest to the foot; what lies deep under it is the lid's inner face.
  double most = -1e9;
  std::array<double, 2> heights{-1e9, -1e9};
  EdgesWithin(lid, stand, half, [&](const Vec2& a, const Vec2& b) {
    for (const Vec2& p : {a, b}) {
      most = std::max(most, p.y());
      if (std::abs(p.x() + half) < kSamePoint_mm) heights[0] = std::max(heights[0], p.y());
      if (std::abs(p.x() - half) < kSamePoint_mm) heights[1] = std::max(heights[1], p.y());
    }
  });
  for (const double height : heights) {
    if (most - height > kBends_mm || std::abs(height) > kBevel_mm) return std::nullopt;
  }
  return heights;
}

std::optional<Pad> PadAt(const Stand& shut, const std::vector<std::vector<Ring>>& lids,
                         const std::vector<std::vector<Ring>>& cases, const BodiesAt& open,
                         std::size_t at_the_end, const LayerSpan& span, double width_mm) {
  const double half = width_mm / 2.0;
  const Pose& X_CL = open.Of(Body::kLid);
  const Stand now{X_CL * shut.origin, X_CL.Turn(shut.u), X_CL.Turn(shut.v)};
  const std::optional<Face> face = FaceOn(cases, now, half);
  if (!face) return std::nullopt;
  for (const double off : {face->At(-half), face->At(half)}) {
    if (off < kThinnestPad_mm || off > kThickestPad_mm) return std::nullopt;
  }
  // It reaches as deep as the lid's back lies anywhere under it.
  std::array<double, 2> deepest{0.0, 0.0};
  std::vector<std::array<double, 2>> feet;
  for (const std::vector<Ring>& lid : lids) {
    const auto heights = FootIn(lid, shut, half);
    if (!heights) return std::nullopt;
    for (std::size_t i = 0; i < 2; ++i) deepest[i] = std::min(deepest[i], (*heights)[i]);
    feet.push_back(*heights);
  }
  double bears = width_mm;
  for (const std::vector<Ring>& rings : cases) {
    bears = std::min(bears, BearingIn(rings, now, half, *face));
  }
  if (bears < kLeastBearing_mm) return std::nullopt;
  Pad pad;
  pad.span = span;
  pad.width_mm = width_mm;
  pad.bears_mm = bears;
  pad.foot = shut.origin;
  const double along = (face->from_mm + face->to_mm) / 2.0;
  pad.contact = now.origin + along * now.u + face->At(along) * now.v;
  pad.normal = (now.v - face->slope * now.u).normalized();
  pad.approach_mm = open.VelocityAt(Body::kLid, pad.contact).dot(pad.normal);
  if (pad.approach_mm < kLeastApproach_mm) return std::nullopt;
  const auto at = [&](double x, double out) -> Vec2 {
    return shut.origin + x * shut.u + out * shut.v;
  };
  // Counter-clockwise as the lid's rings are, whose wood lies to the left of u.
  pad.outline.vertices = {{at(half, deepest[1]), 0.0},
                          {at(-half, deepest[0]), 0.0},
                          {at(-half, face->At(-half)), 0.0},
                          {at(half, face->At(half)), 0.0}};
  const auto thickness = [&](const std::array<double, 2>& foot) {
    Pad::Thickness t{face->At(-half) - foot[0], face->At(half) - foot[1]};
    if (shut.u.y() < 0.0) std::swap(t.lower_mm, t.upper_mm);
    return t;
  };
  pad.inner_end = thickness(feet.front());
  pad.outer_end = thickness(feet[at_the_end - 1]);
  LW_REQUIRE(SignedArea(pad.outline) > 0.0, "a pad turned inside out");
  return pad;
}

std::vector<PartTree> ShapesOf(const ArmsTask& task, const Pad& pad) {
  std::vector<PartTree> shapes;
  for (const LayerSpan& stretch : StretchesOf(task.solid, pad.span)) {
    shapes.emplace_back(MakePrism("pad", Body::kLid, stretch.z_min_mm, stretch.z_max_mm,
                                  {Flatten(pad.outline, kChordError_mm)}));
  }
  return shapes;
}

Assembly PadAndCase(const ArmsTask& task, const Pad& pad) {
  Assembly two;
  for (PartTree& shape : ShapesOf(task, pad)) {
    two.Add({PartKind::kStop, Member::kStop, std::nullopt, false,
             std::make_shared<const PartTree>(std::move(shape))});
  }
  for (Assembly::Registered part : task.box.parts()) {
    if (part.kind != PartKind::kCase) continue;
    part.kind = PartKind::kStopped;
    two.Add(std::move(part));
  }
  return two;
}

std::vector<PartPair> PairsOf(const Assembly& two) {
  return PairsBetween(two.Shapes(PartKind::kStop), two.Shapes(PartKind::kStopped));
}

Verdict PadMeets(const Swing& swing, const Assembly& two) {
  const std::optional<Nearness> there = GapAt(swing.At(swing.to()), PairsOf(two));
  LW_REQUIRE(there.has_value(), "a pad beside the case");
  return MeetingVerdict(swing.to(), there->gap_mm, "pad", "case");
}

}  // namespace

double UsualPad_mm(bool inches) {
  return inches ? kUsual_in * kMmPerInch : kUsual_mm;
}

std::optional<Pad> FindPad(const ArmsTask& task, const LidMotion& motion, double length_mm,
                           const PadProof& proof) {
  LW_REQUIRE(length_mm > 0.0, "length=" << length_mm);
  const BodiesAt open(motion, task.limits.open_rad);
  std::vector<Pad> pads;
  for (const double place : kPlaces) {
    const double outer = place * task.solid.bay.z_max_mm;
    if (outer <= length_mm) continue;
    const LayerSpan span{outer - length_mm, outer};
    const std::vector<std::vector<Ring>> cases = SectionsOver(task, PartKind::kCase, span);
    const std::vector<std::vector<Ring>> lids = SectionsOver(task, PartKind::kLid, span);
    if (cases.empty() || lids.empty()) continue;
    // Those at +z come first, from the inner end to the outer one.
    const std::size_t plus_z = task.solid.mirrored ? lids.size() : lids.size() / 2;
    for (const double width : task.job.inches ? kWidths_in : kWidths_mm) {
      for (const Stand& stand : StandsAlong(lids[plus_z / 2])) {
        const double mm = task.job.inches ? width * kMmPerInch : width;
        if (const auto pad = PadAt(stand, lids, cases, open, plus_z, span, mm))
          pads.push_back(*pad);
      }
    }
  }
  double most = 0.0;
  for (const Pad& pad : pads) most = std::max(most, pad.approach_mm);
  pads.erase(std::remove_if(pads.begin(), pads.end(),
                            [&](const Pad& pad) { return pad.approach_mm < kEnough * most; }),
             pads.end());
  const auto clumsy = [](const Pad& pad) {
    return std::max({pad.inner_end.lower_mm, pad.inner_end.upper_mm, pad.outer_end.lower_mm,
                     pad.outer_end.upper_mm}) -
           pad.bears_mm;
  };
  std::stable_sort(pads.begin(), pads.end(),
                   [&](const Pad& a, const Pad& b) { return clumsy(a) < clumsy(b); });
  const std::size_t stride = std::max<std::size_t>(1, pads.size() / kMostProofs);
  for (std::size_t i = 0; i < pads.size(); i += stride) {
    if (proof(pads[i])) return pads[i];
  }
  return std::nullopt;
}

std::string PlanedWords(const Pad& pad, bool inches) {
  const auto say = [&](double mm) { return BenchLength(PlanedTo_mm(mm, inches), inches); };
  const auto same = [&](double a, double b) {
    return PlanedTo_mm(a, inches) == PlanedTo_mm(b, inches);
  };
  const auto edges = [&](const Pad::Thickness& t) {
    return same(t.lower_mm, t.upper_mm)
               ? say(t.lower_mm)
               : say(t.lower_mm) + " at the lower edge and " + say(t.upper_mm) + " at the upper";
  };
  const Pad::Thickness &out = pad.outer_end, &in = pad.inner_end;
  if (same(out.lower_mm, in.lower_mm) && same(out.upper_mm, in.upper_mm)) {
    return "planed to " + edges(out);
  }
  return "planed to a wedge, at its outer end " + edges(out) + ", at its inner end " + edges(in);
}

HingePiece PadPiece(const Pad& pad, bool inches) {
  const auto say = [&](double mm) { return BenchLength(mm, inches); };
  HingePiece piece;
  piece.name = "pad";
  piece.kind = PieceKind::kPad;
  piece.member = Member::kStop;
  piece.body = Body::kLid;
  piece.outline = pad.outline;
  piece.z_min_mm = pad.span.z_min_mm;
  piece.z_max_mm = pad.span.z_max_mm;
  piece.material = "hardwood";
  piece.cut_from_sheet = false;
  piece.note = say(pad.Length_mm()) + " by " + say(pad.width_mm) + ", " + PlanedWords(pad, inches) +
               "; glued to the outside of the lid's back";
  piece.joined = Body::kCase;
  return piece;
}

Verdicts PadVerdicts(const ArmsTask& task, const Swing& swing, const Pad& pad) {
  const Assembly two = PadAndCase(task, pad);
  Verdicts verdicts{PadMeets(swing, two)};
  const Verdicts free = CertifyGaps(two, swing, task.limits, Stage::kStop);
  verdicts.insert(verdicts.end(), free.begin(), free.end());
  return verdicts;
}

bool PadDoes(const ArmsTask& task, const Swing& swing, const Pad& pad) {
  const Assembly two = PadAndCase(task, pad);
  if (!PadMeets(swing, two).met()) return false;
  const double until = swing.to() - kComesDown_rad;
  if (until > 0.0 && QuickOutcome(Swing(swing, 0.0, until), PairsOf(two),
                                  task.limits.arms_gap_mm) == Outcome::kViolated) {
    return false;
  }
  return AllKept(two, swing, task.limits, Stage::kStop);
}

}  // namespace lidwright
