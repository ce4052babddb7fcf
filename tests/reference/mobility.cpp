// SPDX-License-Identifier: Apache-2.0
#include "reference/mobility.h"

#include <algorithm>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

double Rate(const PlanarContact& contact, const Vec2& centre, Turning sense) {
  return static_cast<int>(sense) * Cross(Vec2(contact.point - centre), contact.normal);
}

// The part of a convex ring where the contact does not close.
Ring Clipped(const Ring& ring, const PlanarContact& contact, Turning sense) {
  Ring kept;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
    const double at_a = Rate(contact, a, sense), at_b = Rate(contact, b, sense);
    if (at_a >= 0.0) kept.push_back(a);
    if ((at_a > 0.0 && at_b < 0.0) || (at_a < 0.0 && at_b > 0.0)) {
      kept.push_back(a + (b - a) * (at_a / (at_a - at_b)));
    }
  }
  return kept;
}

}  // namespace

double LeastSeparationRate(const std::vector<PlanarContact>& contacts, const Vec2& centre,
                           Turning sense) {
  double least = std::numeric_limits<double>::infinity();
  for (const PlanarContact& contact : contacts) {
    least = std::min(least, Rate(contact, centre, sense));
  }
  return least;
}

double LeastSeparationRate(const std::vector<PlanarContact>& contacts, const Vec2& direction) {
  double least = std::numeric_limits<double>::infinity();
  for (const PlanarContact& contact : contacts) {
    least = std::min(least, contact.normal.dot(direction));
  }
  return least;
}

bool CentreAllows(const std::vector<PlanarContact>& contacts, const Vec2& centre, Turning sense,
                  Opening opening) {
  const double least = LeastSeparationRate(contacts, centre, sense);
  return opening == Opening::kStrict ? least > 0.0 : least >= 0.0;
}

Ring AllowedCentres(const std::vector<PlanarContact>& contacts, Turning sense, const Rect2& box) {
  LW_REQUIRE(
      box.low.allFinite() && box.high.allFinite() && (box.low.array() < box.high.array()).all(),
      "low=" << box.low.transpose() << " high=" << box.high.transpose());
  Ring region{box.low, {box.high.x(), box.low.y()}, box.high, {box.low.x(), box.high.y()}};
  for (const PlanarContact& contact : contacts) {
    LW_REQUIRE(
        contact.point.allFinite() && contact.normal.allFinite() && contact.normal.norm() > 0.0,
        "point=" << contact.point.transpose() << " normal=" << contact.normal.transpose());
    region = Clipped(region, contact, sense);
  }
  Ring clean;
  for (const Vec2& p : region) {
    if (clean.empty() || (p - clean.back()).norm() > kSamePoint_mm) clean.push_back(p);
  }
  while (clean.size() > 1 && (clean.front() - clean.back()).norm() <= kSamePoint_mm)
    clean.pop_back();
  if (clean.size() < 3) return {};
  return clean;
}

}  // namespace lidwright
