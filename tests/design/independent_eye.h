// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "lidwright/design/make_design.h"
#include "swing/geos_distance.h"
#include "swing/loop_oracle.h"

// A hinge looked at by somebody else: poses by Newton on the loop equation, distances by GEOS, the
// box's sections blended from its stations here, at a tenth of a degree. It samples, so what it
// sees may stand above the truth by a hair but never below it.

namespace lidwright::testing {

/// A region that stands still, ready for many distances.
class StandingRegion {
 public:
  StandingRegion(const Geos& geos, const std::vector<Ring>& rings)
      : geos_(geos),
        region_(geos.Region(rings)),
        ready_(GEOSPrepare_r(geos.context(), region_)),
        rings_(rings) {}
  ~StandingRegion() {
    GEOSPreparedGeom_destroy_r(geos_.context(), ready_);
    geos_.Drop(region_);
  }
  StandingRegion(const StandingRegion&) = delete;
  StandingRegion& operator=(const StandingRegion&) = delete;

  /// To the rings placed elsewhere; 0 where they overlap.
  double To(const std::vector<Ring>& rings, const Placing& placing) const {
    std::vector<Ring> placed = rings;
    for (Ring& ring : placed) {
      for (Vec2& p : ring) p = placing(p);
    }
    GEOSGeometry* other = geos_.Region(placed);
    double distance = -1.0;
    GEOSPreparedDistance_r(geos_.context(), ready_, other, &distance);
    if (distance > 0.0 && GEOSPreparedIntersects_r(geos_.context(), ready_, other)) distance = 0.0;
    geos_.Drop(other);
    return distance;
  }
  const std::vector<Ring>& rings() const { return rings_; }

 private:
  const Geos& geos_;
  GEOSGeometry* region_;
  const GEOSPreparedGeometry* ready_;
  std::vector<Ring> rings_;
};

struct SeenSection {
  double z = 0.0;
  std::vector<Ring> box, lid;
};

/// The box cut at every station, in the middle between neighbours, and at the heights asked for.
inline std::vector<SeenSection> SectionsOf(const Solid& solid, const std::vector<double>& also) {
  std::vector<SeenSection> sections;
  const auto blend = [](const std::vector<Ring>& a, const std::vector<Ring>& b, double share) {
    std::vector<Ring> out = a;
    for (std::size_t r = 0; r < a.size(); ++r) {
      const auto [p, q] = MatchRings(a[r], b[r]);
      out[r] = p;
      for (std::size_t k = 0; k < p.size(); ++k) out[r][k] = (1.0 - share) * p[k] + share * q[k];
    }
    return out;
  };
  for (std::size_t i = 0; i < solid.stations.size(); ++i) {
    const Station& a = solid.stations[i];
    sections.push_back({a.z_mm, a.case_rings, a.lid_rings});
    if (i + 1 == solid.stations.size()) break;
    const Station& b = solid.stations[i + 1];
    if (a.z_mm == b.z_mm) continue;
    std::vector<double> shares{0.5};
    for (const double z : also) {
      if (z > a.z_mm && z < b.z_mm) shares.push_back((z - a.z_mm) / (b.z_mm - a.z_mm));
    }
    for (const double s : shares) {
      sections.push_back({a.z_mm + s * (b.z_mm - a.z_mm), blend(a.case_rings, b.case_rings, s),
                          blend(a.lid_rings, b.lid_rings, s)});
    }
  }
  return sections;
}

/// What there was to see. Distances of things that never overlap in z stay at infinity.
struct Seen {
  bool opens = false;
  double lid_to_case = 1e300;   ///< from gap_from to open
  double lid_to_case_at = 0.0;  ///< θ of it
  double early = 1e300;         ///< least of (gap now − gap when shut), 0 < θ < gap_from
  double least_early = 1e300;   ///< least gap there: more than nothing if nothing touches again
  double lid_to_contents = 1e300;
  double rearmost = 1e300, lowest = 1e300, highest = -1e300;  ///< of the lid
  double foremost_open = -1e300;                              ///< of the open lid
  double arm_to_case = 1e300, arm_to_lid = 1e300, arm_to_contents = 1e300;
  double arm_to_arm = 1e300;   ///< on one layer
  double arm_to_pins = 1e300;  ///< of the outer arm, bare pins in their bushings
  Vec2 arms_low = Vec2::Constant(1e300), arms_high = Vec2::Constant(-1e300);
  bool layers_apart = true;  ///< arms on two layers share no z
  long poses = 0, sections = 0;
};

struct Look {
  double step_rad = 0.1 * kRadPerDeg;
  bool lid_to_case = true;
  bool arms = true;
};

/// Looks at the lid over its swing and at the arms at both ends of the box: the −z end's arms are
/// the mirror image of the +z end's.
inline Seen LookAt(const Job& job, const Solid& solid, const Pivots& pivots,
                   const std::optional<Arm>& arm_a, const std::optional<Arm>& arm_b,
                   const Geos& geos, const Look& look = {}) {
  Seen seen;
  LoopOracle oracle(pivots);
  const double open = job.swing.open_rad;
  seen.opens = oracle.Follow(open) >= open - 1e-12;
  if (!seen.opens) return seen;

  struct SeenArm {
    const Arm* arm;
    Body body;
    std::vector<Ring> rings;
    std::vector<std::size_t> sections;  // that pass through it, at either end
  };
  std::vector<SeenArm> arms;
  if (look.arms && arm_a)
    arms.push_back({&*arm_a, Body::kArmA, {Flatten(arm_a->outline, 0.005)}, {}});
  if (look.arms && arm_b)
    arms.push_back({&*arm_b, Body::kArmB, {Flatten(arm_b->outline, 0.005)}, {}});
  std::vector<double> also;
  for (const SeenArm& arm : arms) {
    for (const double z : {arm.arm->z_min_mm, arm.arm->z_max_mm}) {
      also.push_back(z);
      also.push_back(-z);
    }
  }
  const std::vector<SeenSection> sections = SectionsOf(solid, also);
  std::vector<std::unique_ptr<StandingRegion>> cases, lids;
  std::vector<double> shut_gap;
  for (const SeenSection& s : sections) {
    cases.push_back(std::make_unique<StandingRegion>(geos, s.box));
    lids.push_back(std::make_unique<StandingRegion>(geos, s.lid));
    shut_gap.push_back(geos.Distance(s.box, s.lid));
  }
  for (SeenArm& arm : arms) {
    for (std::size_t i = 0; i < sections.size(); ++i) {
      const double z = std::abs(sections[i].z);
      if (z >= arm.arm->z_min_mm - 1e-9 && z <= arm.arm->z_max_mm + 1e-9) {
        arm.sections.push_back(i);
      }
    }
  }
  std::vector<std::unique_ptr<StandingRegion>> contents;
  for (const Contents& c : job.contents) {
    contents.push_back(std::make_unique<StandingRegion>(geos, c.rings));
  }
  const bool same_layer = arms.size() == 2 && arms[0].arm->layer == arms[1].arm->layer;
  if (arms.size() == 2 && !same_layer) {
    seen.layers_apart = arms[0].arm->z_max_mm <= arms[1].arm->z_min_mm ||
                        arms[1].arm->z_max_mm <= arms[0].arm->z_min_mm;
  }
  const auto beside = [](double z0, double z1, const Contents& c) {
    return (z0 < c.z_max_mm && c.z_min_mm < z1) || (-z1 < c.z_max_mm && c.z_min_mm < -z0);
  };
  std::unique_ptr<StandingRegion> second_arm, inner_arm;
  const SeenArm *outer = nullptr, *inner = nullptr;
  if (same_layer) second_arm = std::make_unique<StandingRegion>(geos, arms[1].rings);
  if (arms.size() == 2 && !same_layer) {
    outer = arms[0].arm->layer > arms[1].arm->layer ? &arms[0] : &arms[1];
    inner = outer == &arms[0] ? &arms[1] : &arms[0];
    inner_arm = std::make_unique<StandingRegion>(geos, inner->rings);
  }

  seen.sections = static_cast<long>(sections.size());
  const int steps = static_cast<int>(std::ceil(open / look.step_rad));
  for (int i = 0; i <= steps; ++i) {
    const double theta = i == steps ? open : i * look.step_rad;
    const auto turns = oracle.At(theta);
    const Placing lid = oracle.Place(Body::kLid, theta, turns);
    ++seen.poses;
    for (std::size_t k = 0; k < sections.size(); ++k) {
      for (const Ring& ring : sections[k].lid) {
        for (const Vec2& p : ring) {
          const Vec2 now = lid(p);
          seen.rearmost = std::min(seen.rearmost, now.x());
          seen.lowest = std::min(seen.lowest, now.y());
          seen.highest = std::max(seen.highest, now.y());
          if (i == steps) seen.foremost_open = std::max(seen.foremost_open, now.x());
        }
      }
      for (std::size_t c = 0; c < contents.size(); ++c) {
        const double z = sections[k].z;
        const bool here =
            (z >= job.contents[c].z_min_mm && z <= job.contents[c].z_max_mm) ||
            (solid.mirrored && -z >= job.contents[c].z_min_mm && -z <= job.contents[c].z_max_mm);
        if (!here) continue;
        seen.lid_to_contents =
            std::min(seen.lid_to_contents, contents[c]->To(sections[k].lid, lid));
      }
      if (i == 0 || !look.lid_to_case) continue;
      const double gap = cases[k]->To(sections[k].lid, lid);
      if (theta >= job.swing.gap_from_rad - 1e-12) {
        if (gap < seen.lid_to_case) {
          seen.lid_to_case = gap;
          seen.lid_to_case_at = theta;
        }
      } else {
        const double floor = std::min(shut_gap[k], job.swing.gap_mm);
        seen.early = std::min(seen.early, gap - floor);
        seen.least_early = std::min(seen.least_early, gap);
      }
    }
    for (const SeenArm& arm : arms) {
      const Placing in_case = oracle.Place(arm.body, theta, turns);
      const Placing in_lid = lid.Inverse() * in_case;
      for (const std::size_t k : arm.sections) {
        seen.arm_to_case = std::min(seen.arm_to_case, cases[k]->To(arm.rings, in_case));
        seen.arm_to_lid = std::min(seen.arm_to_lid, lids[k]->To(arm.rings, in_lid));
      }
      for (std::size_t c = 0; c < contents.size(); ++c) {
        if (!beside(arm.arm->z_min_mm, arm.arm->z_max_mm, job.contents[c])) continue;
        seen.arm_to_contents = std::min(seen.arm_to_contents, contents[c]->To(arm.rings, in_case));
      }
      for (const Vec2& p : arm.rings[0]) {
        seen.arms_low = seen.arms_low.cwiseMin(in_case(p));
        seen.arms_high = seen.arms_high.cwiseMax(in_case(p));
      }
    }
    if (same_layer) {
      const Placing a_in_b = oracle.Place(Body::kArmB, theta, turns).Inverse() *
                             oracle.Place(Body::kArmA, theta, turns);
      seen.arm_to_arm = std::min(seen.arm_to_arm, second_arm->To(arms[0].rings, a_in_b));
    }
    if (outer) {
      const Placing back = oracle.Place(inner->body, theta, turns).Inverse();
      for (const auto& [centre, placing] : {std::pair(outer->arm->case_hole.centre, Placing{}),
                                            {outer->arm->lid_hole.centre, lid}}) {
        const Ring pin = Flatten(Circle{centre, outer->arm->case_hole.radius_mm}, 0.005);
        seen.arm_to_pins = std::min(seen.arm_to_pins, inner_arm->To({pin}, back * placing));
      }
    }
  }
  return seen;
}

/// Everything about a hinge that a job asks for and the eye can see, as a list of what is not so.
inline std::vector<std::string> Complaints(const BoxModel& box, const Seen& seen, bool arms) {
  const Job& job = box.job;
  std::vector<std::string> wrong;
  const auto ask = [&](bool so, const std::string& what, double value) {
    if (!so) wrong.push_back(what + " (" + std::to_string(value) + ")");
  };
  ask(seen.opens, "opens", 0.0);
  if (!seen.opens) return wrong;
  ask(seen.lid_to_case >= job.swing.gap_mm, "lid to case", seen.lid_to_case);
  ask(seen.early >= -0.011, "not nearer than when shut", seen.early);
  ask(seen.least_early > 0.0, "parts at once", seen.least_early);
  ask(seen.lid_to_contents > 0.0, "lid to contents", seen.lid_to_contents);
  ask(seen.rearmost >= -job.room.behind_mm, "room behind", seen.rearmost);
  ask(seen.highest <= job.room.above_mm, "room above", seen.highest);
  ask(seen.foremost_open <= job.room.open_behind_x_mm, "access line", seen.foremost_open);
  const double mouth = box.solid.mouth_front_mm - box.solid.mouth_back_mm;
  ask(box.solid.mouth_front_mm - seen.foremost_open >= job.room.mouth_free * mouth, "mouth free",
      seen.foremost_open);
  if (job.room.bench_below) {
    ask(seen.lowest >= box.solid.bench_mm + job.swing.gap_mm, "bench", seen.lowest);
  }
  if (!arms) return wrong;
  const double gap = job.arms.gap_mm;
  ask(seen.arm_to_case >= gap, "arm to case", seen.arm_to_case);
  ask(seen.arm_to_lid >= gap, "arm to lid", seen.arm_to_lid);
  ask(seen.arm_to_contents >= gap, "arm to contents", seen.arm_to_contents);
  ask(seen.arm_to_arm >= gap, "arm to arm", seen.arm_to_arm);
  ask(seen.arm_to_pins >= gap, "arm to the other's pins", seen.arm_to_pins);
  ask(seen.layers_apart, "layers apart", 0.0);
  ask(seen.arms_low.x() >= -job.room.behind_mm + gap, "arm to wall behind", seen.arms_low.x());
  ask(seen.arms_high.y() <= job.room.above_mm - gap, "arm to ceiling", seen.arms_high.y());
  if (job.room.bench_below) {
    ask(seen.arms_low.y() >= box.solid.bench_mm + gap, "arm to bench", seen.arms_low.y());
  }
  return wrong;
}

}  // namespace lidwright::testing
