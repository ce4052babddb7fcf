// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <geos_c.h>

#include <vector>

#include "lidwright/geometry/ring.h"

namespace lidwright::testing {

/// Distances of regions by GEOS, another library: the oracle of the oracle.
class Geos {
 public:
  Geos() : context_(GEOS_init_r()) {}
  ~Geos() { GEOS_finish_r(context_); }
  Geos(const Geos&) = delete;
  Geos& operator=(const Geos&) = delete;

  /// Rings as in a Part: outer ones counter-clockwise, each hole (clockwise) in an outer one.
  GEOSGeometry* Region(const std::vector<Ring>& rings) const {
    std::vector<GEOSGeometry*> polygons;
    for (const Ring& outer : rings) {
      if (SignedArea(outer) <= 0.0) continue;
      std::vector<GEOSGeometry*> holes;
      for (const Ring& hole : rings) {
        if (SignedArea(hole) < 0.0 && Contains({outer}, hole[0])) holes.push_back(Line(hole));
      }
      polygons.push_back(GEOSGeom_createPolygon_r(context_, Line(outer), holes.data(),
                                                  static_cast<unsigned>(holes.size())));
    }
    return GEOSGeom_createCollection_r(context_, GEOS_MULTIPOLYGON, polygons.data(),
                                       static_cast<unsigned>(polygons.size()));
  }
  void Drop(GEOSGeometry* geometry) const { GEOSGeom_destroy_r(context_, geometry); }

  double Distance(const std::vector<Ring>& p, const std::vector<Ring>& q) const {
    GEOSGeometry *first = Region(p), *second = Region(q);
    double distance = -1.0;
    GEOSDistance_r(context_, first, second, &distance);
    Drop(first);
    Drop(second);
    return distance;
  }
  GEOSContextHandle_t context() const { return context_; }

 private:
  GEOSGeometry* Line(const Ring& ring) const {
    const unsigned n = static_cast<unsigned>(ring.size());
    GEOSCoordSequence* points = GEOSCoordSeq_create_r(context_, n + 1, 2);
    for (unsigned i = 0; i <= n; ++i) {
      GEOSCoordSeq_setXY_r(context_, points, i, ring[i % n].x(), ring[i % n].y());
    }
    return GEOSGeom_createLinearRing_r(context_, points);
  }
  GEOSContextHandle_t context_;
};

}  // namespace lidwright::testing
