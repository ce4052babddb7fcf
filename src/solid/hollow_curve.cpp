// SPDX-License-Identifier: Apache-2.0
#include "hollow_curve.h"

#include <cmath>

namespace lidwright {
namespace {

using Bend = HollowSection::Bend;

// [count] Places at which runs are looked for, besides the bends: a run between two of them is
// lower than a chord's error.
constexpr int kPlaces = 96;
// [count] Halvings to a corner: to the last bit.
constexpr int kHalvings = 60;
// [count] Halvings of a piece at most: where it runs upright the chords grow finer towards one end.
constexpr int kMostHalvings = 14;
// [mm] Vertices stand at least this far apart, whatever runs into what.
constexpr double kApart_mm = 1e-5;

std::vector<double> PlacesOf(const HollowSection& section) {
  std::vector<double> places;
  const double width = section.to_mm - section.from_mm;
  for (int i = 0; i <= kPlaces; ++i) places.push_back(section.from_mm + width * i / kPlaces);
  places.back() = section.to_mm;
  for (const Bend& bend : section.ceiling_bends) places.push_back(bend.s_mm);
  std::sort(places.begin(), places.end());
  return places;
}

double OverFloor(const HollowSection& section, double s) {
  return section.ceiling_mm(s) - section.floor_mm(s);
}

// Where the ceiling comes down to the floor, between a place where it is over it and one where it
// is not, or hardly.
double CornerBetween(const HollowSection& section, double over, double under) {
  if (OverFloor(section, under) >= 0.0) return under;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (over + under) / 2.0;
    (OverFloor(section, middle) > 0.0 ? over : under) = middle;
  }
  return under;
}

// Its ends and bends, growing.
std::vector<double> StopsOf(const HollowRun& run) {
  std::vector<double> stops{run.from_mm};
  for (const Bend& bend : run.bends) stops.push_back(bend.s_mm);
  stops.push_back(run.to_mm);
  return stops;
}

double OffChord(const HollowSection& section, double from, double to) {
  const Vec2 a(from, section.InsideAt(from)), b(to, section.InsideAt(to));
  double worst = 0.0;
  for (const double share : {0.2, 0.4, 0.6, 0.8}) {
    const double s = from + share * (to - from);
    const Vec2 p(s, section.InsideAt(s));
    worst = std::max(worst, (p - NearestOnSegment(p, a, b)).norm());
  }
  return worst;
}

// The runs of a section as a plan wants them. Only beside the border of a piece, or for runs so
// short that they were overlooked, are they not the section's own: corners too many are left to the
// wood, and those it lacks stand together.
std::vector<HollowRun> Fitted(const HollowSection& section, const std::vector<HollowRun>& wanted) {
  const std::vector<HollowRun> own = RunsOf(section);
  if (Alike(own, wanted)) return own;
  std::vector<HollowRun> fitted = wanted;
  for (std::size_t i = 0; i < fitted.size(); ++i) {
    HollowRun& run = fitted[i];
    run.from_mm = i == 0 ? section.from_mm : fitted[i - 1].to_mm;
    run.to_mm = i + 1 == fitted.size() ? section.to_mm : std::max(run.from_mm, run.to_mm);
    if (i + 1 < fitted.size()) run.to_mm = std::min(run.to_mm, section.to_mm);
    for (Bend& bend : run.bends) {
      for (const Bend& at : run.ceiling ? section.ceiling_bends : section.floor_bends) {
        if (at.number == bend.number) bend.s_mm = at.s_mm;
      }
      bend.s_mm = std::clamp(bend.s_mm, run.from_mm, run.to_mm);
    }
  }
  return fitted;
}

// Moved apart where they stand nearer than kApart_mm, within the walls.
void MoveApart(const HollowSection& section, std::vector<double>& places) {
  for (std::size_t i = 1; i < places.size(); ++i) {
    places[i] = std::max(places[i], places[i - 1] + kApart_mm);
  }
  places.back() = section.to_mm;
  for (std::size_t i = places.size() - 1; i > 0; --i) {
    places[i - 1] = std::min(places[i - 1], places[i] - kApart_mm);
  }
}

}  // namespace

std::vector<HollowRun> RunsOf(const HollowSection& section) {
  const std::vector<double> places = PlacesOf(section);
  std::vector<HollowRun> runs;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const bool over = OverFloor(section, places[i]) > kLeastRun_mm;
    if (!runs.empty() && runs.back().ceiling == over) continue;
    double corner = section.from_mm;
    if (!runs.empty()) {
      corner = over ? CornerBetween(section, places[i], places[i - 1])
                    : CornerBetween(section, places[i - 1], places[i]);
      runs.back().to_mm = corner;
    }
    runs.push_back({over, corner, corner, {}});
  }
  runs.back().to_mm = section.to_mm;
  for (HollowRun& run : runs) {
    for (const Bend& bend : run.ceiling ? section.ceiling_bends : section.floor_bends) {
      if (bend.s_mm > run.from_mm && bend.s_mm < run.to_mm) run.bends.push_back(bend);
    }
  }
  return runs;
}

bool Alike(const std::vector<HollowRun>& a, const std::vector<HollowRun>& b) {
  const auto same = [](const Bend& p, const Bend& q) { return p.number == q.number; };
  const auto alike = [&](const HollowRun& p, const HollowRun& q) {
    return p.ceiling == q.ceiling &&
           std::equal(p.bends.begin(), p.bends.end(), q.bends.begin(), q.bends.end(), same);
  };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), alike);
}

HollowPlan PlanFor(const std::vector<HollowSection>& sections, double error_mm) {
  HollowPlan plan;
  plan.runs = RunsOf(sections[sections.size() / 2]);
  std::vector<std::vector<HollowRun>> runs;
  for (const HollowSection& section : sections) runs.push_back(Fitted(section, plan.runs));
  for (std::size_t r = 0; r < plan.runs.size(); ++r) {
    plan.shares.emplace_back();
    for (std::size_t piece = 0; piece <= plan.runs[r].bends.size(); ++piece) {
      const auto off = [&](double low, double high) {
        double worst = 0.0;
        for (std::size_t i = 0; i < sections.size(); ++i) {
          const std::vector<double> stops = StopsOf(runs[i][r]);
          const double from = stops[piece], way = stops[piece + 1] - from;
          worst = std::max(worst, OffChord(sections[i], from + low * way, from + high * way));
        }
        return worst;
      };
      std::vector<double> shares{0.0, 1.0};
      for (std::size_t i = 0; i + 1 < shares.size();) {
        const double low = shares[i], high = shares[i + 1];
        if (high - low > std::ldexp(1.0, -kMostHalvings) && off(low, high) > error_mm) {
          shares.insert(shares.begin() + static_cast<std::ptrdiff_t>(i) + 1, (low + high) / 2.0);
        } else {
          ++i;
        }
      }
      plan.shares.back().emplace_back(shares.begin() + 1, shares.end() - 1);
    }
  }
  return plan;
}

std::vector<Vec2> InsideOf(const HollowSection& section, const HollowPlan& plan) {
  const std::vector<HollowRun> runs = Fitted(section, plan.runs);
  std::vector<double> places{section.from_mm};
  std::vector<bool> on_floor{!runs.front().ceiling};
  for (std::size_t r = 0; r < runs.size(); ++r) {
    const std::vector<double> stops = StopsOf(runs[r]);
    for (std::size_t piece = 0; piece + 1 < stops.size(); ++piece) {
      for (const double share : plan.shares[r][piece]) {
        places.push_back(stops[piece] + share * (stops[piece + 1] - stops[piece]));
        on_floor.push_back(!runs[r].ceiling);
      }
      places.push_back(stops[piece + 1]);
      on_floor.push_back(!runs[r].ceiling);
    }
    if (r + 1 < runs.size()) on_floor.back() = true;  // the corner between two runs
  }
  MoveApart(section, places);
  std::vector<Vec2> points;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const double s = places[i];
    points.push_back({s, on_floor[i] ? section.floor_mm(s) : section.InsideAt(s)});
  }
  return points;
}

double ChordErrorOf(const HollowSection& section, const std::vector<Vec2>& points) {
  double worst = 0.0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const Vec2 &a = points[i], &b = points[i + 1];
    for (const double share : {0.0, 0.25, 0.5, 0.75}) {
      const double s = a.x() + share * (b.x() - a.x());
      const Vec2 p(s, section.InsideAt(s));
      worst = std::max(worst, (p - NearestOnSegment(p, a, b)).norm());
    }
  }
  return worst;
}

}  // namespace lidwright
