// SPDX-License-Identifier: Apache-2.0
#include "trace/section_frame.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

struct Crossing {
  std::size_t ring = 0;
  std::size_t edge = 0;
  double x = 0.0;
};

// The edge of the case that is rearmost at height y.
std::optional<Crossing> RearmostAt(const std::vector<Ring>& rings, double y) {
  std::optional<Crossing> rearmost;
  for (std::size_t r = 0; r < rings.size(); ++r) {
    const std::size_t n = rings[r].size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 &a = rings[r][i], &b = rings[r][(i + 1) % n];
      if ((a.y() > y) == (b.y() > y)) continue;
      const double x = a.x() + (y - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
      if (!rearmost || x < rearmost->x) rearmost = Crossing{r, i, x};
    }
  }
  return rearmost;
}

}  // namespace

Vec2 RearRim(const std::vector<Ring>& case_rings) {
  const Rect2 box = Bounds(case_rings);
  LW_REQUIRE(!box.Empty(), "no case");
  const double height = box.high.y() - box.low.y();
  const std::optional<Crossing> start = RearmostAt(case_rings, box.low.y() + 0.7 * height);
  LW_REQUIRE(start.has_value(), "a case of height " << height);
  // With solid to the left of its edges the rear face runs down: up is against the ring's order.
  const Ring& ring = case_rings[start->ring];
  const std::size_t n = ring.size();
  std::size_t i = start->edge;
  Vec2 rim = ring[i];
  for (std::size_t steps = 0; steps < n; ++steps) {
    const Vec2 up = ring[i] - ring[(i + 1) % n];
    if (up.y() <= 1e-9 * height) break;
    rim.y() = ring[i].y();
    if (up.y() >= std::abs(up.x())) rim.x() = ring[i].x();
    i = (i + n - 1) % n;
  }
  return rim;
}

std::optional<double> RearFaceAt(const std::vector<Ring>& case_rings, double y) {
  const std::optional<Crossing> crossing = RearmostAt(case_rings, y);
  if (!crossing) return std::nullopt;
  return crossing->x;
}

std::optional<Problem> DepthSuspicion(double depth_mm, const std::string& file_name,
                                      const std::string& how) {
  if (depth_mm >= kShallowestBox_mm && depth_mm <= kDeepestBox_mm) return std::nullopt;
  struct Slip {
    double factor;
    const char* meant;
  };
  // What the numbers would say if they were of another unit than the one taken.
  constexpr Slip kSlips[] = {
      {kMmPerInch, "inches read as mm"},       {10.0, "cm read as mm"}, {1000.0, "m read as mm"},
      {1.0 / kMmPerInch, "mm read as inches"}, {0.1, "mm read as cm"},  {1e-3, "mm read as m"}};
  std::string hint;
  for (const Slip& slip : kSlips) {
    const double depth = depth_mm * slip.factor;
    if (depth < 2.0 * kShallowestBox_mm || depth > 0.6 * kDeepestBox_mm) continue;
    hint +=
        (hint.empty() ? "did you mean " : ", or ") + Text(depth, 1) + " mm (" + slip.meant + ")";
  }
  if (!hint.empty()) hint += "? ";
  return Problem{file_name, 0, "", "", "the case would be " + Text(depth_mm, 2) + " mm deep",
                 hint + how};
}

std::optional<Problem> FaultOfEach(const std::vector<Ring>& rings) {
  std::size_t points = 0;
  for (const Ring& ring : rings) points += ring.size();
  if (points > kMostOutlinePoints) {
    return Problem{"",
                   0,
                   "",
                   "",
                   "has " + std::to_string(points) + " points, more than " +
                       std::to_string(kMostOutlinePoints),
                   "a larger chord error"};
  }
  for (const Ring& ring : rings) {
    if (const std::optional<RingFault> fault = FaultOf(ring)) {
      return Problem{"", 0, "", "", fault->what, ""};
    }
  }
  return std::nullopt;
}

std::optional<Problem> FaultOfRings(const std::vector<Ring>& rings) {
  if (std::optional<Problem> fault = FaultOfEach(rings)) return fault;
  for (std::size_t i = 0; i < rings.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      Vec2 at;
      if (!RingsMeet(rings[j], rings[i], &at)) continue;
      return Problem{
          "",
          0,
          "",
          "",
          "two of its outlines touch or cross at (" + Text(at.x()) + ", " + Text(at.y()) + ")",
          "pieces that belong together must touch along an edge or overlap"};
    }
  }
  return std::nullopt;
}

namespace {

// Shares along a–b at which it meets edges of the rings, with 0 and 1, growing.
std::vector<double> Cuts(const Vec2& a, const Vec2& b, const std::vector<Ring>& rings) {
  std::vector<double> cuts{0.0, 1.0};
  const Vec2 low = a.cwiseMin(b), high = a.cwiseMax(b), along = b - a;
  for (const Ring& ring : rings) {
    for (std::size_t j = 0; j < ring.size(); ++j) {
      const Vec2 &c = ring[j], &d = ring[(j + 1) % ring.size()];
      if ((c.cwiseMax(d).array() < low.array()).any()) continue;
      if ((c.cwiseMin(d).array() > high.array()).any()) continue;
      const double turn = Cross(along, Vec2(d - c));
      if (turn == 0.0) continue;  // along each other: corners see to it
      const double share = Cross(Vec2(c - a), Vec2(d - c)) / turn;
      if (share > 0.0 && share < 1.0) cuts.push_back(share);
    }
  }
  std::sort(cuts.begin(), cuts.end());
  return cuts;
}

}  // namespace

Seam SeamOf(const std::vector<Ring>& case_rings, const std::vector<Ring>& lid_rings) {
  Seam seam;
  seam.gap_mm = 1e300;
  const auto look = [&](const std::vector<Ring>& movers, const std::vector<Ring>& others) {
    for (const Ring& ring : movers) {
      for (std::size_t i = 0; i < ring.size(); ++i) {
        const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
        const auto ask = [&](const Vec2& p) {
          const double distance = SignedDistance(others, p);
          if (-distance > seam.overlap_mm) seam.overlap_mm = -distance, seam.overlap_at = p;
          if (std::abs(distance) < seam.gap_mm) seam.gap_mm = std::abs(distance), seam.gap_at = p;
        };
        ask(a);
        const std::vector<double> cuts = Cuts(a, b, others);
        for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
          ask(a + (cuts[k] + cuts[k + 1]) / 2.0 * (b - a));
        }
      }
    }
  };
  look(case_rings, lid_rings);
  look(lid_rings, case_rings);
  if (seam.overlap_mm > 0.0) seam.gap_mm = 0.0;
  return seam;
}

}  // namespace lidwright
