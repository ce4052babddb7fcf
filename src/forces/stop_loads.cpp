// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/stop_loads.h"

#include <algorithm>
#include <cmath>

#include "leaning.h"
#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/forces/virtual_work.h"
#include "lidwright/geometry/circle_meeting.h"

namespace lidwright {
namespace {

constexpr int kGoldenSteps = 60;

template <typename Function>
double Highest(const Function& f, double a, double b) {
  const double share = (std::sqrt(5.0) - 1.0) / 2.0;
  double c = b - share * (b - a), d = a + share * (b - a), fc = f(c), fd = f(d);
  for (int i = 0; i < kGoldenSteps; ++i) {
    if (fc > fd) {
      b = d;
      d = c;
      fd = fc;
      fc = f(c = b - share * (b - a));
    } else {
      a = c;
      c = d;
      fc = fd;
      fd = f(d = a + share * (b - a));
    }
  }
  return std::max(fc, fd);
}

}  // namespace

double StopLoads::WorstPin_n() const {
  return *std::max_element(worst_pin_n.begin(), worst_pin_n.end());
}

StopContact ContactOf(const StopPlace& place, const LidMotion& motion, double open_rad) {
  StopContact contact;
  contact.body = place.body;
  contact.at = motion.BodyPose(place.body, motion.At(open_rad)) * place.on_body;
  const Vec2 to = place.on_case - contact.at;
  LW_REQUIRE(to.norm() > kSamePoint_mm, "a stop without a direction");
  // A stay draws the body to its end on the case, as if it were pushed from the other side.
  contact.normal = (place.kind == StopKind::kStay ? -1.0 : 1.0) * to.normalized();
  return contact;
}

StopLoads StopLoadsOf(const StopPlace& place, const LoadCase& load, const LidMotion& motion,
                      double open_rad, const Vec2& front_edge, int directions) {
  LW_REQUIRE(directions > 0, "directions=" << directions);
  LoadCase stopped = load;
  stopped.stop = ContactOf(place, motion, open_rad);
  const LidState state = motion.At(open_rad);
  StopLoads loads;
  loads.approach_mm =
      VelocityOf(motion, state, place.body, stopped.stop->at).dot(stopped.stop->normal);
  Holder holder;
  holder.body = place.body;
  holder.at = stopped.stop->at;
  holder.along = -stopped.stop->normal;
  const Balance still = BalanceAt(motion, state, stopped, holder);
  loads.rest_n = still.held / 2.0;
  for (std::size_t j = 0; j < kJoints; ++j) {
    loads.rest_pin_n[j] = loads.worst_pin_n[j] = still.joint[j].norm() / 2.0;
  }
  loads.worst_n = loads.rest_n;
  for (const LeaningHand& leaning : Leanings(stopped, motion, open_rad, front_edge, directions)) {
    for (std::size_t j = 0; j < kJoints; ++j) {
      loads.worst_pin_n[j] = std::max(loads.worst_pin_n[j], leaning.joint[j].norm());
    }
    if (leaning.stop_n <= loads.worst_n) continue;
    loads.worst_n = leaning.stop_n;
    loads.worst_rad = leaning.direction_rad;
  }
  return loads;
}

std::vector<RankedStop> RankStops(const std::vector<StopPlace>& places, const LoadCase& load,
                                  const LidMotion& motion, double open_rad,
                                  const Vec2& front_edge) {
  constexpr int kFewDirections = 72;
  std::vector<RankedStop> ranked;
  for (std::size_t i = 0; i < places.size(); ++i) {
    const StopLoads loads =
        StopLoadsOf(places[i], load, motion, open_rad, front_edge, kFewDirections);
    if (loads.rest_n >= 0.0 && loads.approach_mm > 0.0) ranked.push_back({i, loads});
  }
  std::stable_sort(ranked.begin(), ranked.end(), [](const RankedStop& a, const RankedStop& b) {
    return a.loads.WorstPin_n() < b.loads.WorstPin_n();
  });
  return ranked;
}

StayRun StayRunOf(const Vec2& on_case, const Vec2& on_lid, const LidMotion& motion, double open_rad,
                  int samples) {
  LW_REQUIRE(samples >= 2 && open_rad > 0.0, "samples=" << samples);
  const auto length = [&](double theta) {
    return (motion.At(theta).X_CL * on_lid - on_case).norm();
  };
  std::vector<double> lengths;
  for (int i = 0; i < samples; ++i) lengths.push_back(length(open_rad * i / (samples - 1)));
  StayRun run;
  run.shut_mm = lengths.front();
  run.open_mm = lengths.back();
  run.least_mm = *std::min_element(lengths.begin(), lengths.end());
  const auto longest = std::max_element(lengths.begin(), lengths.end());
  const auto at = static_cast<int>(longest - lengths.begin());
  const double from = open_rad * std::max(0, at - 1) / (samples - 1);
  const double to = open_rad * std::min(samples - 1, at + 1) / (samples - 1);
  run.most_mm = at == samples - 1 ? run.open_mm : std::max(*longest, Highest(length, from, to));
  const LidState state = motion.At(open_rad);
  const Vec2 end = state.X_CL * on_lid, off = end - on_case;
  LW_REQUIRE(run.open_mm > kSamePoint_mm, "a stay without length");
  run.rate_mm = VelocityOf(motion, state, Body::kLid, end).dot(off) / run.open_mm;
  return run;
}

std::optional<Vec2> StayKnee(const Vec2& on_case, const Vec2& on_lid_now, double case_bar_mm,
                             double lid_bar_mm, int side) {
  return CircleMeeting(on_case, case_bar_mm, on_lid_now, lid_bar_mm, side);
}

}  // namespace lidwright
