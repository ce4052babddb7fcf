// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <geos_c.h>

#include <memory>
#include <stdexcept>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/ring.h"

/// Polygons in GEOS, another library's geometry, as the judge of ours.
namespace lidwright::testing {

class GeosShape {
 public:
  explicit GeosShape(const Ring& ring) : context_(GEOS_init_r(), GEOS_finish_r) {
    const unsigned n = static_cast<unsigned>(ring.size());
    GEOSCoordSequence* points = GEOSCoordSeq_create_r(context_.get(), n + 1, 2);
    for (unsigned i = 0; i <= n; ++i) {
      const Vec2& p = ring[i % n];
      GEOSCoordSeq_setXY_r(context_.get(), points, i, p.x(), p.y());
    }
    shape_ = GEOSGeom_createPolygon_r(
        context_.get(), GEOSGeom_createLinearRing_r(context_.get(), points), nullptr, 0);
    if (!shape_) throw std::runtime_error("GEOS does not take the ring");
  }
  GeosShape(const GeosShape&) = delete;
  GeosShape& operator=(const GeosShape&) = delete;
  ~GeosShape() {
    if (shape_) GEOSGeom_destroy_r(context_.get(), shape_);
  }

  double Area() const {
    double area = 0.0;
    GEOSArea_r(context_.get(), shape_, &area);
    return area;
  }
  double DistanceTo(const GeosShape& other) const {
    double distance = -1.0;
    GEOSDistance_r(context_.get(), shape_, other.shape_, &distance);
    return distance;
  }
  /// Area of the buffer by `by_mm`, and after shrinking it again (morphological closing).
  double BufferArea(double by_mm) const { return Buffered(by_mm, 0.0); }
  double ClosedArea(double by_mm) const { return Buffered(by_mm, -by_mm); }

 private:
  double Buffered(double by, double back) const {
    GEOSGeometry* out = GEOSBuffer_r(context_.get(), shape_, by, 256);
    if (back != 0.0) {
      GEOSGeometry* in = GEOSBuffer_r(context_.get(), out, back, 256);
      GEOSGeom_destroy_r(context_.get(), out);
      out = in;
    }
    double area = 0.0;
    GEOSArea_r(context_.get(), out, &area);
    GEOSGeom_destroy_r(context_.get(), out);
    return area;
  }

  std::unique_ptr<GEOSContextHandle_HS, void (*)(GEOSContextHandle_t)> context_;
  GEOSGeometry* shape_ = nullptr;
};

}  // namespace lidwright::testing
