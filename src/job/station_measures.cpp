// SPDX-License-Identifier: Apache-2.0
#include "job/station_measures.h"

#include <algorithm>
#include <cmath>

#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// x of the frontmost point of the outlines at that height; `otherwise` if nothing is there.
double FrontAt(const std::vector<Ring>& rings, double y, double otherwise) {
  double front = -1e300;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if ((a.y() > y) == (b.y() > y)) continue;
      front = std::max(front, a.x() + (y - a.y()) / (b.y() - a.y()) * (b.x() - a.x()));
    }
  }
  return front > -1e300 ? front : otherwise;
}

ShownMeasure Span(const char* path, double likely_mm, std::initializer_list<double> others_mm) {
  const double likely = std::round(likely_mm * 1e3) / 1e3 + 0.0;
  ShownMeasure shown{path, likely, likely, likely};
  for (const double mm : others_mm) {
    shown.least_mm = std::min(shown.least_mm, mm);
    shown.most_mm = std::max(shown.most_mm, mm);
  }
  return shown;
}

}  // namespace

std::vector<ShownMeasure> MeasuresShown(const std::vector<StationOutline>& stations) {
  // [1] Of the height below the rim: there a wall stands where its rim does.
  constexpr double kBelowRim = 0.01;
  Rect2 all, middle, end;
  double middle_z = 1e300, end_z = -1e300, rim_front = 0.0;
  double least_front = 1e300, least_high = 1e300;
  for (const StationOutline& station : stations) {
    const Rect2 box = Bounds(station.case_rings);
    if (box.Empty() || std::isnan(station.z_mm)) continue;
    all.Add(box.low);
    all.Add(box.high);
    const double below_rim = box.high.y() - kBelowRim * (box.high.y() - box.low.y());
    const double front = FrontAt(station.case_rings, below_rim, box.high.x());
    least_front = std::min(least_front, front);
    least_high = std::min(least_high, box.high.x());
    if (std::abs(station.z_mm) < middle_z) {
      middle_z = std::abs(station.z_mm);
      middle = box;
    }
    if (station.z_mm >= end_z) {
      end_z = station.z_mm;
      end = box;
      rim_front = front;
    }
  }
  if (all.Empty()) return {};
  // The frame stands at the ends' rear rim, so that a bow is also what lies behind x = 0.
  return {
      Span("case.depth", rim_front, {least_front, all.high.x()}),
      Span("case.height", -all.low.y(), {}),
      Span("case.back_bow", end.low.x() - middle.low.x(), {-middle.low.x(), -all.low.x()}),
      Span("case.front_bow", middle.high.x() - end.high.x(),
           {all.high.x() - end.high.x(), all.high.x() - least_high,
            middle.high.x() - all.high.x()}),  // ends bowed in plan are narrow at their outermost
      Span("case.rim_arch", middle.high.y() - end.high.y(), {middle.high.y(), all.high.y()}),
  };
}

double LikelyMeasure_mm(const std::vector<StationOutline>& stations, const std::string& path) {
  for (const ShownMeasure& shown : MeasuresShown(stations)) {
    if (shown.path == path) return shown.likely_mm;
  }
  return 0.0;
}

}  // namespace lidwright
