// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"
#include "page_data.h"

namespace lidwright {
namespace {

double Thousandth(double mm) {
  return std::round(mm * 1000.0) / 1000.0;
}

// Marks what is needed between `first` and `last` (indices into ring, wrapping round).
void Keep(const Ring& ring, std::size_t first, std::size_t last, double tolerance_mm,
          std::vector<bool>* kept) {
  const std::size_t n = ring.size();
  double farthest = tolerance_mm;
  std::size_t at = last;
  for (std::size_t i = first + 1; i < last; ++i) {
    const Vec2& p = ring[i % n];
    const double distance = (NearestOnSegment(p, ring[first % n], ring[last % n]) - p).norm();
    if (distance > farthest) {
      farthest = distance;
      at = i;
    }
  }
  if (at == last) return;
  (*kept)[at % n] = true;
  Keep(ring, first, at, tolerance_mm, kept);
  Keep(ring, at, last, tolerance_mm, kept);
}

std::size_t PointsOf(const std::vector<Station>& stations) {
  std::size_t points = 0;
  for (const Station& s : stations) {
    for (const auto* rings : {&s.case_rings, &s.lid_rings}) {
      for (const Ring& ring : *rings) points += ring.size();
    }
  }
  return points;
}

// The stations as the page gets them, and how far they were thinned.
std::vector<Station> PageStations(const Solid& solid, double* thinned_mm) {
  *thinned_mm = 0.0;
  std::vector<Station> stations = solid.stations;
  for (double tolerance = kChordError_mm; PointsOf(stations) > kMostPagePoints; tolerance *= 2.0) {
    stations = solid.stations;
    for (Station& s : stations) {
      for (auto* rings : {&s.case_rings, &s.lid_rings}) {
        for (Ring& ring : *rings) ring = Thinned(ring, tolerance);
      }
    }
    *thinned_mm = tolerance;
  }
  return stations;
}

Json RingsJson(const std::vector<Ring>& rings) {
  Json json = Json::array();
  for (const Ring& ring : rings) json.push_back(FlatRing(ring));
  return json;
}

using RingsOf = const std::vector<Ring>& (*)(const Station&);
const std::vector<Ring>& CaseOf(const Station& station) {
  return station.case_rings;
}
const std::vector<Ring>& LidOf(const Station& station) {
  return station.lid_rings;
}

// Sides of one body: neighbouring stations whose rings correspond vertex by vertex share a sheet.
class Sheets {
 public:
  Sheets(const char* body, RingsOf rings_of, Json* sheets, Json* caps)
      : body_(body), rings_of_(rings_of), sheets_(*sheets), caps_(*caps) {}

  void Add(const std::vector<Station>& stations, bool mirrored) {
    for (std::size_t i = 0; i < stations.size(); ++i) {
      const bool from_before = i > 0 && Joined(stations[i - 1], stations[i]);
      const bool to_next = i + 1 < stations.size() && Joined(stations[i], stations[i + 1]);
      const bool in_mirror = mirrored && stations[i].z_mm == 0.0;
      if (!from_before && to_next && !in_mirror) Cap(stations[i], -1);
      if (from_before && !to_next) Cap(stations[i], +1);
    }
    std::size_t most = 0;
    for (const Station& s : stations) most = std::max(most, rings_of_(s).size());
    for (std::size_t r = 0; r < most; ++r) AddSides(stations, r);
  }

 private:
  bool Joined(const Station& a, const Station& b) const {
    return a.z_mm < b.z_mm && !rings_of_(a).empty() && rings_of_(a).size() == rings_of_(b).size();
  }

  void Cap(const Station& station, int facing) {
    caps_.push_back({{"body", body_},
                     {"z", Thousandth(station.z_mm)},
                     {"facing", facing},
                     {"rings", RingsJson(rings_of_(station))}});
  }

  void AddSides(const std::vector<Station>& stations, std::size_t r) {
    Json sheet;
    std::size_t points = 0;  // of the sheet's last ring; 0: no sheet is open
    const auto close = [&] {
      if (points > 0) sheets_.push_back(std::move(sheet));
      points = 0;
    };
    for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
      const Station &a = stations[i], &b = stations[i + 1];
      if (!Joined(a, b) || r >= rings_of_(a).size()) {
        close();
        continue;
      }
      const auto [p, q] = MatchRings(rings_of_(a)[r], rings_of_(b)[r]);
      if (points != p.size() || p.size() != rings_of_(a)[r].size()) {
        close();
        sheet = {{"body", body_}, {"z", Json::array()}, {"rings", Json::array()}};
        sheet["z"].push_back(Thousandth(a.z_mm));
        sheet["rings"].push_back(FlatRing(p));
      }
      sheet["z"].push_back(Thousandth(b.z_mm));
      sheet["rings"].push_back(FlatRing(q));
      points = q.size();
      if (q.size() != rings_of_(b)[r].size()) close();
    }
    close();
  }

  const char* body_;
  RingsOf rings_of_;
  Json& sheets_;
  Json& caps_;
};

}  // namespace

double ModelError_mm(const Solid& solid) {
  return 2.0 * solid.blend_error_mm + solid.chord_error_mm + solid.case_chord_error_mm;
}

Json FlatRing(const Ring& ring) {
  Json json = Json::array();
  for (const Vec2& p : ring) {
    json.push_back(Thousandth(p.x()));
    json.push_back(Thousandth(p.y()));
  }
  return json;
}

Ring Thinned(const Ring& ring, double tolerance_mm) {
  if (ring.size() < 4) return ring;
  const auto far = std::max_element(ring.begin(), ring.end(), [&](const Vec2& p, const Vec2& q) {
    return (p - ring[0]).squaredNorm() < (q - ring[0]).squaredNorm();
  });
  const auto split = static_cast<std::size_t>(far - ring.begin());
  std::vector<bool> kept(ring.size(), false);
  kept[0] = kept[split] = true;
  Keep(ring, 0, split, tolerance_mm, &kept);
  Keep(ring, split, ring.size(), tolerance_mm, &kept);
  Ring out;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    if (kept[i]) out.push_back(ring[i]);
  }
  return out.size() < 3 ? ring : out;
}

Json BoxData(const Job& job, const Solid& solid) {
  double thinned_mm = 0.0;
  const std::vector<Station> stations = PageStations(solid, &thinned_mm);
  Json json;
  json["mirrored"] = solid.mirrored;
  json["thinned"] = thinned_mm;
  json["halfWidth"] = job.case_form.width_mm / 2.0;
  json["bench"] = Thousandth(solid.bench_mm);
  json["benchBehind"] = job.room.bench_below;
  json["behind"] = Number(-job.room.behind_mm);
  json["above"] = Number(job.room.above_mm);
  json["line"] = Number(job.room.open_behind_x_mm);
  json["bay"] = {Thousandth(solid.bay.z_min_mm), Thousandth(solid.bay.z_max_mm)};
  json["stations"] = Json::array();
  for (const Station& s : stations) {
    json["stations"].push_back({{"z", Thousandth(s.z_mm)},
                                {"end", s.end_wall || s.beyond_bay},
                                {"case", RingsJson(s.case_rings)},
                                {"lid", RingsJson(s.lid_rings)}});
  }
  json["contents"] = Json::array();
  for (const Contents& contents : job.contents) {
    json["contents"].push_back(
        {{"rings", RingsJson(contents.rings)}, {"z", {contents.z_min_mm, contents.z_max_mm}}});
  }
  json["sheets"] = json["caps"] = Json::array();
  Sheets("case", CaseOf, &json["sheets"], &json["caps"]).Add(stations, solid.mirrored);
  Sheets("lid", LidOf, &json["sheets"], &json["caps"]).Add(stations, solid.mirrored);
  return json;
}

}  // namespace lidwright
