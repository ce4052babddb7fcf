// SPDX-License-Identifier: Apache-2.0
#include "own_form.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/geometry/rings_tree.h"

namespace lidwright {
namespace {

// Whether a case at mid-width is wood all through between the walls and floor that it is said to
// have.
bool IsSolid(const CaseMeasures& form, const std::vector<Ring>& rings) {
  constexpr int kSteps = 12;
  const double high_mm = form.height_mm - form.floor_mm;
  const double deep_mm = form.depth_mm - form.back_wall_mm - form.front_wall_mm;
  for (int i = 0; i < kSteps; ++i) {
    for (int k = 0; k < kSteps; ++k) {
      const Vec2 p(form.back_wall_mm + deep_mm * (i + 0.5) / kSteps, -high_mm * (k + 0.5) / kSteps);
      if (!Contains(rings, p)) return false;
    }
  }
  return true;
}

bool Touch(const Ring& a, const Ring& b) {
  if (RingsMeet(a, b)) return true;
  const auto reaches = [](const Ring& from, const Ring& to) {
    const RingsTree tree(std::vector<Ring>{to});
    return std::any_of(from.begin(), from.end(),
                       [&](const Vec2& p) { return tree.SignedDistance(p) <= kTouch_mm; });
  };
  return reaches(a, b) || reaches(b, a);
}

// The pieces of a body's sections, joined where the form goes on from one to another.
class Pieces {
 public:
  void Add(double z_mm, const std::vector<Ring>& rings) {
    const std::size_t from = pieces_.size();
    for (const Ring& ring : rings) {
      if (SignedArea(ring) <= 0.0) continue;  // a hollow
      roots_.push_back(pieces_.size());
      pieces_.push_back({z_mm, &ring});
    }
    for (std::size_t i = from; i < pieces_.size(); ++i) {
      for (std::size_t k = before_; k < from; ++k) {
        // Between stations outlines go over into each other by their order; at a step they lie
        // against each other.
        const bool same = pieces_.size() - from == from - before_ && i - from == k - before_;
        const bool step = pieces_[k].z_mm == z_mm;
        if (step ? Touch(*pieces_[i].ring, *pieces_[k].ring) : same) roots_[Root(i)] = Root(k);
      }
    }
    before_ = from;
  }

  // "" if all are one; else where one lies that is none of the first's.
  std::string Loose(bool inches) {
    for (std::size_t i = 1; i < pieces_.size(); ++i) {
      if (Root(i) == Root(0)) continue;
      const Rect2 box = Bounds(*pieces_[i].ring);
      const auto shown = [&](double mm) { return LengthText_mm(mm, inches); };
      return "x " + shown(box.low.x()) + " to " + shown(box.high.x()) + ", y " +
             shown(box.low.y()) + " to " + shown(box.high.y()) +
             " at z = " + shown(pieces_[i].z_mm);
    }
    return "";
  }

 private:
  std::size_t Root(std::size_t i) const {
    while (roots_[i] != i) i = roots_[i];
    return i;
  }
  struct Piece {
    double z_mm;
    const Ring* ring;
  };
  std::vector<Piece> pieces_;
  std::vector<std::size_t> roots_;
  std::size_t before_ = 0;  // where the last station's begin
};

}  // namespace

std::string FaultOfOwnForm(const Job& job, const Solid& solid) {
  if (job.stations.empty()) return "";
  const auto middle = std::min_element(
      job.stations.begin(), job.stations.end(),
      [](const auto& a, const auto& b) { return std::abs(a.z_mm) < std::abs(b.z_mm); });
  if (IsSolid(job.case_form, middle->case_rings)) {
    return "the case is solid: at mid-width there is no room between back, front and floor";
  }
  Pieces of_case, of_lid;
  for (const Station& station : solid.stations) {
    of_case.Add(station.z_mm, station.case_rings);
    of_lid.Add(station.z_mm, station.lid_rings);
  }
  for (const auto& [name, pieces] : {std::pair("case", &of_case), std::pair("lid", &of_lid)}) {
    const std::string loose = pieces->Loose(job.inches);
    if (loose.empty()) continue;
    return std::string("the ") + name + " is in pieces that touch nowhere: one lies at " + loose;
  }
  return "";
}

}  // namespace lidwright
