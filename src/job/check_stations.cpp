// SPDX-License-Identifier: Apache-2.0
#include "job/check_stations.h"

#include <algorithm>
#include <cmath>

#include "job/station_measures.h"
#include "job/station_walls.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// [mm] A measure given beside stations may differ by this from what they show: a ruler's reading.
constexpr double kStationsAgree_mm = 1.0;

double Slack_mm(const Job& job) {
  return kStationsAgree_mm + std::max(0.0, job.stations_error_mm);
}

bool Agrees(double given_mm, const ShownMeasure& shown, double slack_mm) {
  return !(given_mm < shown.least_mm - slack_mm) && !(given_mm > shown.most_mm + slack_mm);
}

double* Place(const std::vector<Key>& table, const std::string& path) {
  const auto key =
      std::find_if(table.begin(), table.end(), [&](const Key& k) { return k.path == path; });
  return std::get<double*>(key->slot);
}

// Walls are given one by one, or by case.wall for all that are not.
void CheckWalls(const std::vector<Key>& table, const Job& job, Findings* findings) {
  const std::string for_all = "case.wall";
  bool told_for_all = false;
  for (const ShownMeasure& shown : WallsShown(job)) {
    const bool given = findings->WasGiven(shown.path);
    // What stands between feet looks like a thicker floor, so that one is only held to its own key.
    const bool floor = std::string(shown.path) == "case.floor";
    if (!given && (floor || told_for_all || !findings->WasGiven(for_all))) continue;
    if (Agrees(*Place(table, shown.path), shown, Slack_mm(job))) continue;
    if (given) {
      findings->Complain(shown.path,
                         "the stations show another measure, " + findings->Shown(shown.likely_mm),
                         "correct it or the stations");
    } else {
      told_for_all = true;
      findings->Complain(for_all,
                         std::string("the stations show another ") + shown.path + ", " +
                             findings->Shown(shown.likely_mm),
                         std::string("give ") + shown.path + " as well");
    }
  }
}

}  // namespace

void CheckGoesWith(const std::vector<Key>& table, bool has_stations, Findings* findings) {
  const GoesWith other = has_stations ? GoesWith::kMeasures : GoesWith::kStations;
  for (const Key& key : table) {
    if (key.goes_with != other || !findings->WasGiven(key.path)) continue;
    if (IsEmpty(key.slot) || IsDefault(key, kSameWritten)) continue;
    findings->Complain(key.path,
                       has_stations ? "is part of the measured form; stations are taken as given"
                                    : "says something of stations, and none are given",
                       "leave it out");
  }
}

void CheckAgainstStations(const std::vector<Key>& table, const Job& job, Findings* findings) {
  for (const ShownMeasure& shown : MeasuresShown(job.stations)) {
    const auto key = std::find_if(table.begin(), table.end(),
                                  [&shown](const Key& k) { return k.path == shown.path; });
    if (!findings->WasGiven(shown.path)) continue;
    if (Agrees(*std::get<double*>(key->slot), shown, Slack_mm(job))) continue;
    findings->Complain(shown.path,
                       "the stations show another measure, " + findings->Shown(shown.likely_mm),
                       key->fallback.required ? "correct it or the stations" : "leave it out");
  }
  if (!std::isnan(job.case_form.width_mm)) CheckWalls(table, job, findings);
}

void CheckAndCompleteStations(Job* job, Findings* findings) {
  std::vector<StationOutline>& stations = job->stations;
  const double half_mm = job->case_form.width_mm / 2;
  const auto place = [](std::size_t i) { return "stations[" + std::to_string(i) + "].z"; };
  for (const StationOutline& station : stations) {
    if (std::isnan(station.z_mm)) return;
  }
  for (std::size_t i = 1; i < stations.size(); ++i) {
    const double before_mm = stations[i - 1].z_mm;
    const bool twice = stations[i].z_mm == before_mm;
    const bool thrice = twice && i >= 2 && stations[i - 2].z_mm == before_mm;
    if (stations[i].z_mm < before_mm || thrice) {
      findings->Complain(place(i), "must be more than the z before, " + findings->Shown(before_mm),
                         "equal at most twice, for a step");
      return;
    }
  }
  const double first_mm = stations.front().z_mm, last_mm = stations.back().z_mm;
  if (std::isnan(half_mm)) return;
  if (std::abs(last_mm - half_mm) > kStationEnd_mm) {
    findings->Complain(
        place(stations.size() - 1),
        "the last station must stand at half of case.width, " + findings->Shown(half_mm));
    return;
  }
  if (std::abs(first_mm + half_mm) <= kStationEnd_mm) return;  // both sides are given
  if (first_mm != 0.0) {
    findings->Complain(place(0),
                       "the first station must stand at z = 0 or at " + findings->Shown(-half_mm));
    return;
  }
  if (stations[1].z_mm == 0.0) {
    findings->Complain(place(1), "a step at z = 0 cannot be mirrored", "give both sides");
    return;
  }
  std::vector<StationOutline> both(stations.rbegin(), stations.rend() - 1);
  for (StationOutline& station : both) station.z_mm = -station.z_mm;
  both.insert(both.end(), stations.begin(), stations.end());
  stations = std::move(both);
}

}  // namespace lidwright
