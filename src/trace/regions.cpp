// SPDX-License-Identifier: Apache-2.0
#include "trace/regions.h"

#include <geos_c.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// A corner sharper than this turn keeps its point when a region grows: 1 / sin(half its angle).
constexpr double kMitreLimit = 10.0;

// GEOS reports by a handler that belongs to a context, and a context belongs to one thread.
class Context {
 public:
  Context() : handle_(GEOS_init_r()) {
    GEOSContext_setErrorMessageHandler_r(handle_, &Context::Take, this);
    GEOSContext_setNoticeMessageHandler_r(
        handle_, [](const char*, void*) {}, nullptr);
  }
  ~Context() { GEOS_finish_r(handle_); }
  Context(const Context&) = delete;
  Context& operator=(const Context&) = delete;

  GEOSContextHandle_t handle() const { return handle_; }
  [[noreturn]] void Fail() const {
    throw std::runtime_error(message_.empty() ? "no answer from GEOS" : message_);
  }

 private:
  static void Take(const char* message, void* self) {
    static_cast<Context*>(self)->message_ = message;
  }
  GEOSContextHandle_t handle_;
  std::string message_;
};

Context& Here() {
  thread_local Context context;
  return context;
}

GEOSContextHandle_t Handle() {
  return Here().handle();
}

GEOSGeometry* Answered(GEOSGeometry* geometry) {
  if (geometry == nullptr) Here().Fail();
  return geometry;
}

struct Drop {
  void operator()(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(Handle(), geometry); }
};
using Owned = std::unique_ptr<GEOSGeometry, Drop>;

GEOSCoordSequence* Sequence(const std::vector<Vec2>& points, bool closed) {
  const unsigned n = static_cast<unsigned>(points.size()), all = n + (closed ? 1 : 0);
  GEOSCoordSequence* sequence = GEOSCoordSeq_create_r(Handle(), all, 2);
  for (unsigned i = 0; i < all; ++i) {
    GEOSCoordSeq_setXY_r(Handle(), sequence, i, points[i % n].x(), points[i % n].y());
  }
  return sequence;
}

GEOSGeometry* Polygon(const Ring& ring) {
  GEOSGeometry* line = Answered(GEOSGeom_createLinearRing_r(Handle(), Sequence(ring, true)));
  return Answered(GEOSGeom_createPolygon_r(Handle(), line, nullptr, 0));
}

std::vector<Vec2> Points(const GEOSGeometry* line) {
  const GEOSCoordSequence* sequence = GEOSGeom_getCoordSeq_r(Handle(), line);
  if (sequence == nullptr) Here().Fail();
  unsigned n = 0;
  GEOSCoordSeq_getSize_r(Handle(), sequence, &n);
  std::vector<Vec2> points(n);
  for (unsigned i = 0; i < n; ++i) {
    GEOSCoordSeq_getXY_r(Handle(), sequence, i, &points[i].x(), &points[i].y());
  }
  return points;
}

Ring RingFrom(const GEOSGeometry* line, bool counter_clockwise) {
  Ring ring = Points(line);
  if (!ring.empty()) ring.pop_back();
  if ((SignedArea(ring) > 0.0) != counter_clockwise) std::reverse(ring.begin(), ring.end());
  return ring;
}

// The polygons in a geometry of whatever kind: what is only a line or a point is left out.
void AddPolygons(const GEOSGeometry* geometry, std::vector<const GEOSGeometry*>* polygons) {
  const int type = GEOSGeomTypeId_r(Handle(), geometry);
  if (type == GEOS_POLYGON) {
    if (!GEOSisEmpty_r(Handle(), geometry)) polygons->push_back(geometry);
  } else if (type == GEOS_MULTIPOLYGON || type == GEOS_GEOMETRYCOLLECTION) {
    for (int i = 0; i < GEOSGetNumGeometries_r(Handle(), geometry); ++i) {
      AddPolygons(GEOSGetGeometryN_r(Handle(), geometry, i), polygons);
    }
  }
}

}  // namespace

Region::Region(GEOSGeom_t* geometry) : geometry_(geometry, Drop()) {}

bool Region::Empty() const {
  return !geometry_ || GEOSisEmpty_r(Handle(), geometry_.get());
}

Region Region::Of(const Ring& outline, const std::vector<Ring>& holes) {
  Region region(Polygon(outline));
  for (const Ring& hole : holes) region = Minus(region, Region(Polygon(hole)));
  return region;
}

std::vector<Patch> Region::Patches() const {
  std::vector<Patch> patches;
  if (Empty()) return patches;
  std::vector<const GEOSGeometry*> polygons;
  AddPolygons(geometry_.get(), &polygons);
  for (const GEOSGeometry* polygon : polygons) {
    Patch patch{RingFrom(GEOSGetExteriorRing_r(Handle(), polygon), true), {}};
    for (int i = 0; i < GEOSGetNumInteriorRings_r(Handle(), polygon); ++i) {
      patch.holes.push_back(RingFrom(GEOSGetInteriorRingN_r(Handle(), polygon, i), false));
    }
    patches.push_back(std::move(patch));
  }
  return patches;
}

double Region::Area_mm2() const {
  double area = 0.0;
  if (!Empty() && !GEOSArea_r(Handle(), geometry_.get(), &area)) Here().Fail();
  return area;
}

double Region::Edge_mm() const {
  double length = 0.0;
  if (!Empty() && !GEOSLength_r(Handle(), geometry_.get(), &length)) Here().Fail();
  return length;
}

bool Region::Negligible() const {
  return Area_mm2() <= kUnited_mm * (Edge_mm() / 2.0 + kUnited_mm);
}

Region Union(const std::vector<Region>& regions) {
  std::vector<GEOSGeometry*> copies;
  for (const Region& region : regions) {
    if (!region.Empty()) {
      copies.push_back(Answered(GEOSGeom_clone_r(Handle(), region.geometry_.get())));
    }
  }
  const Owned all(Answered(GEOSGeom_createCollection_r(
      Handle(), GEOS_GEOMETRYCOLLECTION, copies.data(), static_cast<unsigned>(copies.size()))));
  return Region(Answered(GEOSUnaryUnion_r(Handle(), all.get())));
}

Region Minus(const Region& first, const Region& second) {
  if (first.Empty() || second.Empty()) return first;
  return Region(
      Answered(GEOSDifference_r(Handle(), first.geometry_.get(), second.geometry_.get())));
}

Region Common(const Region& first, const Region& second) {
  if (first.Empty() || second.Empty()) return {};
  return Region(
      Answered(GEOSIntersection_r(Handle(), first.geometry_.get(), second.geometry_.get())));
}

// Edge by edge and corner by corner: GEOS' own buffers first drop corners that they think do not
// matter, up to a hundredth of the distance.
Region Grown(const Region& region, double by_mm) {
  std::vector<Region> parts{by_mm > 0.0 ? region : Region()};
  const auto add = [&](Ring ring) {
    // An edge of rounding has no direction to grow in.
    const auto same = [](const Vec2& p, const Vec2& q) { return (p - q).norm() <= kSamePoint_mm; };
    ring.erase(std::unique(ring.begin(), ring.end(), same), ring.end());
    while (ring.size() > 1 && same(ring.front(), ring.back())) ring.pop_back();
    const std::size_t n = ring.size();
    if (n < 3) return;
    const auto outward = [&](std::size_t i) {  // by the wanted distance; solid lies to the left
      const Vec2 along = (ring[(i + 1) % n] - ring[i]).normalized();
      return Vec2(by_mm * Vec2(along.y(), -along.x()));
    };
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 &p = ring[i], &q = ring[(i + 1) % n];
      const Vec2 mine = outward(i), next = outward((i + 1) % n);
      parts.push_back(Region(Polygon({p, q, q + mine, p + mine})));
      // A corner's gap between the two strips: to its point, or cut off if that is far.
      const double turn = Cross(mine, next) * (by_mm > 0.0 ? 1.0 : -1.0);
      if (turn <= 1e-9 * by_mm * by_mm) continue;
      const double whole = by_mm * by_mm + mine.dot(next);
      const Vec2 tip = by_mm * by_mm * (mine + next) / whole;
      if (whole > 0.0 && tip.norm() <= kMitreLimit * std::abs(by_mm)) {
        parts.push_back(Region(Polygon({q, q + mine, q + tip, q + next})));
      } else {
        parts.push_back(Region(Polygon({q, q + mine, q + next})));
      }
    }
  };
  for (const Patch& patch : region.Patches()) {
    add(patch.outline);
    for (const Ring& hole : patch.holes) add(hole);
  }
  return by_mm > 0.0 ? Union(parts) : Minus(region, Union(parts));
}

double Apart_mm(const Region& first, const Region& second, Vec2* at) {
  LW_REQUIRE(!first.Empty() && !second.Empty(), "an empty region is nowhere");
  double apart = 0.0;
  const GEOSGeometry *a = first.geometry_.get(), *b = second.geometry_.get();
  if (!GEOSDistance_r(Handle(), a, b, &apart)) Here().Fail();
  if (at != nullptr) {
    GEOSCoordSequence* pair = GEOSNearestPoints_r(Handle(), a, b);
    if (pair == nullptr) Here().Fail();
    GEOSCoordSeq_getXY_r(Handle(), pair, 0, &at->x(), &at->y());
    GEOSCoordSeq_destroy_r(Handle(), pair);
  }
  return apart;
}

GivenPoints::GivenPoints(std::vector<Vec2> points) : points_(std::move(points)) {
  std::sort(points_.begin(), points_.end(), [](const Vec2& p, const Vec2& q) {
    return std::pair(p.x(), p.y()) < std::pair(q.x(), q.y());
  });
}

Vec2 GivenPoints::At(const Vec2& place) const {
  double reach = 2.0 * kUnited_mm;
  Vec2 nearest = place;
  const auto from = std::lower_bound(points_.begin(), points_.end(), place.x() - reach,
                                     [](const Vec2& p, double x) { return p.x() < x; });
  for (auto p = from; p != points_.end() && p->x() <= place.x() + reach; ++p) {
    if ((*p - place).norm() < reach) reach = (*p - place).norm(), nearest = *p;
  }
  return nearest;
}

std::vector<Ring> FieldsOf(const std::vector<std::vector<Vec2>>& lines) {
  std::vector<GEOSGeometry*> strings;
  std::vector<Vec2> points;
  for (const std::vector<Vec2>& line : lines) {
    points.insert(points.end(), line.begin(), line.end());
    strings.push_back(Answered(GEOSGeom_createLineString_r(Handle(), Sequence(line, false))));
  }
  const Owned all(Answered(GEOSGeom_createCollection_r(
      Handle(), GEOS_MULTILINESTRING, strings.data(), static_cast<unsigned>(strings.size()))));
  const Owned noded(Answered(GEOSUnaryUnionPrec_r(Handle(), all.get(), kUnited_mm)));
  const GEOSGeometry* one = noded.get();
  const Owned fields(Answered(GEOSPolygonize_r(Handle(), &one, 1)));
  std::vector<const GEOSGeometry*> polygons;
  AddPolygons(fields.get(), &polygons);
  const GivenPoints given(std::move(points));
  std::vector<Ring> rings;
  for (const GEOSGeometry* polygon : polygons) {
    Ring ring = RingFrom(GEOSGetExteriorRing_r(Handle(), polygon), true);
    for (Vec2& p : ring) p = given.At(p);
    ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
    while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
    if (ring.size() >= 3) rings.push_back(std::move(ring));
  }
  return rings;
}

}  // namespace lidwright
