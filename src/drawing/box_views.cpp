// SPDX-License-Identifier: Apache-2.0
#include "box_views.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "bodies.h"
#include "boxes.h"
#include "dimensions.h"
#include "labels.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"

namespace lidwright {
namespace {

// Case and lid at one station, as boxes of the side view.
struct Slice {
  double z_mm;
  Rect2 of_case, of_lid;
  double front_rim_mm;  // y of the case's upper front corner
};

// Over the whole width, by growing z.
std::vector<Slice> Slices(const Solid& solid) {
  std::vector<Slice> slices;
  const auto add = [&](const Station& station, double z) {
    Vec2 corner(-1e300, 0.0);
    for (const Ring& ring : station.case_rings) {
      for (const Vec2& p : ring) {
        if (p.sum() > corner.sum()) corner = p;
      }
    }
    slices.push_back({z, Bounds(station.case_rings), Bounds(station.lid_rings), corner.y()});
  };
  if (solid.mirrored) {
    for (auto it = solid.stations.rbegin(); it != solid.stations.rend(); ++it) {
      if (it->z_mm > 0.0) add(*it, -it->z_mm);
    }
  }
  for (const Station& station : solid.stations) add(station, station.z_mm);
  return slices;
}

// A band over the width between two edges, in a view's plane with −z to the right.
template <typename Low, typename High>
Ring Band(const std::vector<Slice>& slices, Low low, High high) {
  Ring ring;
  for (auto it = slices.rbegin(); it != slices.rend(); ++it) ring.push_back({-it->z_mm, low(*it)});
  for (const Slice& slice : slices) ring.push_back({-slice.z_mm, high(slice)});
  return ring;
}

std::vector<Slice> With(std::vector<Slice> slices, Rect2 Slice::*part) {
  std::erase_if(slices, [part](const Slice& slice) { return (slice.*part).Empty(); });
  return slices;
}

Ring ZoneRing(const Zone& zone) {
  return RingOf({zone.low, zone.high});
}

// A lip inside the ends, where its hidden edges show: the tongue at the +z end in the views from
// the front and from above.
struct Tongue {
  double z_min_mm, z_max_mm;
  double seam_mm;  // y of the seam over it
  Rect2 under;     // of what hangs below the seam, in the side view
};

std::optional<Tongue> TongueOf(const Job& job, const Solid& solid) {
  if (!solid.end_lip || solid.end_lip->z_max_mm >= job.case_form.width_mm / 2.0)
    return std::nullopt;
  Tongue tongue{solid.end_lip->z_min_mm,
                solid.end_lip->z_max_mm,
                Bounds(EndWallSection(solid).lid_rings).low.y(),
                {}};
  for (const Station& station : solid.stations) {
    if (station.z_mm != tongue.z_max_mm || tongue.under.high.x() > tongue.under.low.x()) continue;
    for (const Ring& ring : station.lid_rings) {
      for (const Vec2& p : ring) {
        if (p.y() < tongue.seam_mm - kSamePoint_mm) tongue.under.Add(p);
      }
    }
  }
  return tongue;
}

void Caption(Canvas& canvas, const std::string& text, const Vec2& at) {
  Lettering lettering;
  lettering.height_mm = style::kText_mm;
  canvas.Write(text, at, lettering);
}

}  // namespace

Rect2 SideArea(const Job& job, const Solid& solid) {
  Rect2 area = solid.bounds;
  const double behind = job.room.behind_mm;
  if (std::isfinite(behind) && behind <= job.case_form.depth_mm) {
    area.low.x() = std::min(area.low.x(), -behind);
  }
  return area;
}

void DrawFront(Canvas& canvas, const BoxViews& views) {
  const Job& job = views.job;
  const View& view = views.front;
  const auto slices = Slices(views.solid);
  const double bench = views.solid.bench_mm, half = job.case_form.width_mm / 2.0;
  const double reach = LidEnd_mm(job, views.solid);  // a lid with a collar at its ends
  canvas.Begin("front");
  const Path box = view({Band(
      With(slices, &Slice::of_case), [](const Slice& s) { return s.of_case.low.y(); },
      [](const Slice& s) { return s.front_rim_mm; })});
  const Path lid = view({Band(
      With(slices, &Slice::of_lid), [](const Slice& s) { return s.of_lid.low.y(); },
      [](const Slice& s) { return s.of_lid.high.y(); })});
  // Whichever stands out farther to the front hides the other: a lip inside, a rim's far side.
  const bool collar = std::any_of(slices.begin(), slices.end(), [](const Slice& s) {
    return s.of_lid.high.x() > s.of_case.high.x() + kSamePoint_mm;
  });
  if (!collar) canvas.Draw(lid, FillOf(LookOf(Body::kLid)), style::kEdge);
  canvas.Draw(box, FillOf(LookOf(Body::kCase)), style::kEdge);
  if (collar) canvas.Draw(lid, FillOf(LookOf(Body::kLid)), style::kEdge);
  const double inner = half - job.case_form.end_wall_mm;
  std::vector<Vec2> inside = views.solid.end_face;
  for (auto p = views.solid.end_face.rbegin(); p != views.solid.end_face.rend(); ++p) {
    inside.push_back({-p->x(), p->y()});
  }
  canvas.Draw(view.Line(inside), std::nullopt, style::kHidden);
  if (const auto tongue = TongueOf(job, views.solid)) {
    const double low = tongue->under.low.y();
    for (const double side : {-1.0, 1.0}) {
      const double a = side * tongue->z_min_mm, b = side * tongue->z_max_mm;
      canvas.Draw(view.Line({{a, tongue->seam_mm}, {a, low}, {b, low}, {b, tongue->seam_mm}}),
                  std::nullopt, style::kHidden);
    }
  }
  const BayRoom& bay = views.solid.bay;
  for (const double side : {-1.0, 1.0}) {
    const double a = side * bay.z_min_mm, b = side * bay.z_max_mm;
    const double low = std::min(bay.case_zone.low.y(), bay.lid_zone.low.y());
    const double high = std::max(bay.case_zone.high.y(), bay.lid_zone.high.y());
    canvas.Draw(view({RingOf({{std::min(a, b), low}, {std::max(a, b), high}})}), std::nullopt,
                style::kZone);
  }
  if (job.room.bench_below) {
    canvas.Draw(view.Line({{-reach - 4.0 / view.scale, bench}, {reach + 4.0 / view.scale, bench}}),
                std::nullopt, style::kFineEdge);
  }
  const double top = views.solid.bounds.high.y();
  canvas.Draw(view.Line({{0.0, bench}, {0.0, top + 3.0 / view.scale}}), std::nullopt,
              style::kCentre);
  Caption(canvas, "Front", view({-reach, top}) + Vec2(0.0, 5.0));
  DimensionSide left(canvas, true, view({-reach, 0.0}).x() - style::kDimFirst_mm, -1);
  left.Add(view({-half, bench}), view({0.0, top}), LengthText(top - bench, job.inches));
  DimensionSide below(canvas, false, view({0.0, bench}).y() - style::kDimFirst_mm, -1);
  below.Add(view({-half, bench}), view({-inner, bench}),
            LengthText(job.case_form.end_wall_mm, job.inches));
  below.Add(view({-half, bench}), view({half, bench}),
            LengthText(job.case_form.width_mm, job.inches));
  canvas.End();
}

void DrawSide(Canvas& canvas, const BoxViews& views) {
  const Job& job = views.job;
  const Solid& solid = views.solid;
  const View& view = views.side;
  const CaseMeasures& form = job.case_form;
  const LidMeasures& lid = job.lid;
  const Section middle = SectionAt(solid, 0.0), end = EndWallSection(solid);
  const Rect2 cut = Bounds(middle.case_rings), lid_cut = Bounds(middle.lid_rings);
  canvas.Begin("section");
  Rect2 area = views.side_area;
  area.low -= Vec2::Constant(3.0 / view.scale);
  area.high += Vec2::Constant(3.0 / view.scale);
  DrawSurroundings(canvas, view, job, solid, area);
  DrawCaseWood(canvas, view(middle.case_rings));
  DrawLidWood(canvas, view(middle.lid_rings));
  canvas.Draw(view(end.case_rings), std::nullopt, style::kHidden);
  canvas.Draw(view(end.lid_rings), std::nullopt, style::kHidden);
  for (const Contents& contents : job.contents) {
    canvas.Draw(view(contents.rings), std::nullopt, style::kPhantom);
  }
  const Path stand = view({ZoneRing(solid.bay.case_zone)}),
             hung = view({ZoneRing(solid.bay.lid_zone)});
  canvas.Draw(stand, std::nullopt, style::kZone);
  canvas.Draw(hung, std::nullopt, style::kZone);
  const double line = job.room.open_behind_x_mm, top = solid.bounds.high.y();
  canvas.Draw(view.Line({{line, -2.0 / view.scale}, {line, top + 8.0 / view.scale}}), std::nullopt,
              style::kTrack);
  const std::string caption = "Section at mid-width, seen from the left";
  Vec2 caption_at = view({views.side_area.low.x(), top}) + Vec2(0.0, 10.0);
  caption_at.x() = std::min(caption_at.x(), canvas.width_mm() - style::kMargin_mm - 2.0 -
                                                LengthOf(caption, style::kText_mm));
  Caption(canvas, caption, caption_at);

  const auto text = [&](double mm) { return LengthText(mm, job.inches); };
  const double bench = solid.bench_mm;
  DimensionSide below(canvas, false, view({0.0, bench}).y() - style::kDimFirst_mm, -1);
  const auto across = [&](double a, double b) {
    if (std::abs(b - a) > 1e-6)
      below.Add(view({a, bench}), view({b, bench}), text(std::abs(b - a)));
  };
  across(cut.high.x() - form.front_wall_mm, cut.high.x());
  across(cut.low.x(), cut.low.x() + form.back_wall_mm);
  if (views.side_area.low.x() == -job.room.behind_mm) across(-job.room.behind_mm, 0.0);
  across(0.0, form.depth_mm);
  across(-form.back_bow_mm, 0.0);
  across(form.depth_mm, form.depth_mm + form.front_bow_mm);

  const double front = solid.bounds.high.x();
  DimensionSide right(canvas, true, view({front, 0.0}).x() + style::kDimFirst_mm, 1);
  const auto up = [&](double a, double b, double x) {
    if (std::abs(b - a) > 1e-6 && std::isfinite(a) && std::isfinite(b)) {
      right.Add(view({x, a}), view({x, b}), text(std::abs(b - a)));
    }
  };
  const bool measured = job.stations.empty();
  const double seam = measured ? form.rim_arch_mm + lid.seam_gap_mm : lid_cut.low.y();
  const double band = seam + lid.rim_mm;
  up(bench, bench + form.floor_mm, cut.high.x());
  up(bench, bench + form.feet_mm, form.depth_mm / 2.0);
  if (measured) up(seam - lid.lip_mm, seam, lid_cut.high.x());
  up(seam, band, lid_cut.high.x());
  up(band, band + lid.crown_mm, lid_cut.high.x());
  up(bench, 0.0, form.depth_mm);
  up(0.0, form.rim_arch_mm, form.depth_mm);
  if (std::isnan(lid.rim_mm)) up(seam, lid_cut.high.y(), lid_cut.high.x());

  LabelRule rule;
  rule.area = view(area);
  rule.area.high.y() += 4.0;
  rule.height_mm = style::kSmall_mm;
  rule.colour = style::kPathInk;
  rule.clear_mm = 0.8;
  rule.toward = {1.0, -1.0};
  PlaceLabel(canvas, "case pivots",
             view({solid.bay.case_zone.low.x(), solid.bay.case_zone.high.y()}), rule);
  rule.toward = {-1.0, 1.0};
  PlaceLabel(canvas, "lid pivots", view({solid.bay.lid_zone.high.x(), solid.bay.lid_zone.low.y()}),
             rule);
  LabelRule wide = rule;  // in a narrow section it may run on beside it
  wide.area.low.x() -= 40.0;
  wide.area.high.x() += 40.0;
  wide.toward = {1.0, 0.2};
  PlaceLabel(canvas, "open lid keeps behind", view({line, top + 5.0 / view.scale}), wide);
  rule.colour = style::kInk;
  for (const Contents& contents : job.contents) {
    const Rect2 bounds = Bounds(contents.rings);
    rule.toward = {-1.0, 1.0};
    PlaceLabel(canvas, "contents", view({bounds.high.x(), bounds.low.y()}), rule);
  }
  if (views.side_area.low.x() == -job.room.behind_mm) {
    rule.toward = {1.0, 0.0};
    PlaceLabel(canvas, "wall", view({-job.room.behind_mm, top * 0.5}), rule);
  }
  canvas.End();
}

void DrawPlan(Canvas& canvas, const BoxViews& views) {
  const Job& job = views.job;
  const Solid& solid = views.solid;
  const View& view = views.plan;
  const CaseMeasures& form = job.case_form;
  const auto slices = Slices(solid);
  const auto with_case = With(slices, &Slice::of_case);
  const double half = form.width_mm / 2.0, reach = LidEnd_mm(job, solid);
  canvas.Begin("plan");
  canvas.Draw(view({Band(
                  With(slices, &Slice::of_lid), [](const Slice& s) { return -s.of_lid.high.x(); },
                  [](const Slice& s) { return -s.of_lid.low.x(); })}),
              FillOf(LookOf(Body::kLid)), style::kEdge);
  // The case under it: its outside where the lid does not hide it exactly, and the mouth.
  canvas.Draw(view({Band(
                  with_case, [](const Slice& s) { return -s.of_case.high.x(); },
                  [](const Slice& s) { return -s.of_case.low.x(); })}),
              std::nullopt, style::kThin);
  std::vector<Slice> inner;
  for (const Slice& slice : with_case) {
    if (std::abs(slice.z_mm) <= half - form.end_wall_mm + 1e-9) inner.push_back(slice);
  }
  const double front_wall = form.front_wall_mm, back_wall = form.back_wall_mm;
  if (!inner.empty()) {
    canvas.Draw(
        view({Band(
            inner, [front_wall](const Slice& s) { return -(s.of_case.high.x() - front_wall); },
            [back_wall](const Slice& s) { return -(s.of_case.low.x() + back_wall); })}),
        std::nullopt, style::kHidden);
  }
  if (const auto tongue = TongueOf(job, solid)) {
    for (const double z :
         {-tongue->z_max_mm, -tongue->z_min_mm, tongue->z_min_mm, tongue->z_max_mm}) {
      canvas.Draw(view.Line({{z, -tongue->under.high.x()}, {z, -tongue->under.low.x()}}),
                  std::nullopt, style::kHidden);
    }
  }
  const BayRoom& bay = solid.bay;
  const double back = std::min(bay.case_zone.low.x(), bay.lid_zone.low.x());
  const double front = std::max(bay.case_zone.high.x(), bay.lid_zone.high.x());
  for (const double side : {-1.0, 1.0}) {
    const double a = side * bay.z_min_mm, b = side * bay.z_max_mm;
    canvas.Draw(view({RingOf({{std::min(a, b), -front}, {std::max(a, b), -back}})}), std::nullopt,
                style::kZone);
  }
  for (const Contents& contents : job.contents) {
    const Rect2 bounds = Bounds(contents.rings);
    canvas.Draw(view({RingOf({{-contents.z_max_mm, -bounds.high.x()},
                              {-contents.z_min_mm, -bounds.low.x()}})}),
                std::nullopt, style::kPhantom);
  }
  const Vec2 top_left = view({-reach, -solid.bounds.low.x()});
  canvas.Draw(PageLine({{view({0.0, 0.0}).x(), top_left.y() + 3.0},
                        {view({0.0, 0.0}).x(), view({0.0, -solid.bounds.high.x()}).y() - 3.0}}),
              std::nullopt, style::kCentre);
  Caption(canvas, "From above, lid shut", top_left + Vec2(0.0, 2.6));

  // The stations' places, as a ruler under the view.
  const double ruler = view({0.0, -solid.bounds.high.x()}).y() - 5.0;
  Path ticks = PageLine({{view({-reach, 0.0}).x(), ruler}, {view({reach, 0.0}).x(), ruler}});
  for (const Slice& slice : slices) {
    const double x = view({-slice.z_mm, 0.0}).x();
    ticks.push_back(PageLine({{x, ruler}, {x, ruler + 1.8}})[0]);
  }
  canvas.Draw(ticks, std::nullopt, style::kThin);
  Lettering lettering;
  lettering.height_mm = style::kSmall_mm;
  lettering.across = 1.0;
  canvas.Write(std::to_string(slices.size()) + " stations", {view({-reach, 0.0}).x(), ruler - 1.4},
               lettering);
  DimensionSide left(canvas, true, view({-reach, 0.0}).x() - style::kDimFirst_mm, -1);
  left.Add(view({-half, 0.0}), view({-half, -form.depth_mm}),
           LengthText(form.depth_mm, job.inches));
  DimensionSide below(canvas, false, ruler - 5.0, -1);
  const auto across = [&](double a, double b) {
    below.Add({view({a, 0.0}).x(), ruler}, {view({b, 0.0}).x(), ruler},
              LengthText(std::abs(b - a), job.inches));
  };
  across(bay.z_min_mm, bay.z_max_mm);
  LabelRule rule;
  rule.area = view(Rect2{{-reach, -solid.bounds.high.x()}, {reach, -solid.bounds.low.x()}});
  rule.height_mm = style::kSmall_mm;
  rule.colour = style::kPathInk;
  rule.clear_mm = 1.0;
  rule.behind = FillOf(LookOf(Body::kLid));
  rule.toward = {1.0, 0.0};
  PlaceLabel(canvas, "hinge bay", view({-bay.z_min_mm, -(back + front) / 2.0}), rule);
  if (!job.contents.empty()) {
    rule.colour = style::kInk;
    rule.toward = {-1.0, 1.0};
    const Contents& first = job.contents.front();
    PlaceLabel(canvas, "contents", view({-first.z_min_mm, -Bounds(first.rings).high.x()}), rule);
  }
  canvas.End();
}

}  // namespace lidwright
