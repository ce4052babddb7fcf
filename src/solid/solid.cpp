// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/solid.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/crossings.h"
#include "lidwright/geometry/rings_tree.h"
#include "measured_form.h"
#include "own_form.h"
#include "own_stations.h"

namespace lidwright {
namespace {

// [mm] Slices are cut no thinner. A dome that comes down upright at the ends changes even in these;
// what they lack, the section a millionth beside it has.
constexpr double kThinnest_mm = 1e-6;

double Deviation(const std::vector<Ring>& a, const std::vector<Ring>& b, double share,
                 const std::vector<Ring>& truth) {
  double worst = 0.0;
  for (std::size_t r = 0; r < truth.size(); ++r) {
    for (std::size_t i = 0; i < truth[r].size(); ++i) {
      const Vec2 blend = (1.0 - share) * a[r][i] + share * b[r][i];
      worst = std::max(worst, (blend - truth[r][i]).norm());
    }
  }
  return worst;
}

// The same where vertices slide along the outline from section to section, a corner's own apart:
// distances from the other's outline, over the edges near by (so never too small).
double SlidingDeviation(const std::vector<Ring>& a, const std::vector<Ring>& b, double share,
                        const std::vector<Ring>& truth) {
  constexpr std::ptrdiff_t kNear = 6;
  double worst = 0.0;
  for (std::size_t r = 0; r < truth.size(); ++r) {
    const auto n = static_cast<std::ptrdiff_t>(truth[r].size());
    const auto at = [n](const Ring& ring, std::ptrdiff_t i) -> const Vec2& {
      return ring[static_cast<std::size_t>((i + n) % n)];
    };
    Ring blend = a[r];
    for (std::size_t i = 0; i < blend.size(); ++i) blend[i] += share * (b[r][i] - a[r][i]);
    const auto off = [&](const Ring& from, const Ring& to, std::ptrdiff_t i) {
      double nearest = (at(from, i) - at(to, i)).norm();
      for (std::ptrdiff_t k = i - kNear; k < i + kNear; ++k) {
        const Vec2 on = NearestOnSegment(at(from, i), at(to, k), at(to, k + 1));
        nearest = std::min(nearest, (at(from, i) - on).norm());
      }
      return nearest;
    };
    for (std::ptrdiff_t i = 0; i < n; ++i) {
      worst = std::max({worst, off(blend, truth[r], i), off(truth[r], blend, i)});
    }
  }
  return worst;
}

using Stretch = MeasuredForm::Stretch;

// Stations over one piece of a stretch until the form's deviation from the blend is within the
// blend error; returns what is left of it.
double AddPiece(const MeasuredForm& form, const HollowPiece& piece, Stretch box, Stretch lid,
                std::vector<Station>& stations) {
  const double error_mm = kBlendError_mm - kChordError_mm;
  const HollowPlan* plan = piece.plan ? &*piece.plan : nullptr;
  std::vector<double> at{piece.look_from_mm};
  for (const double crease : form.Creases()) {
    if (crease > piece.from_mm + kSamePoint_mm && crease < piece.to_mm - kSamePoint_mm) {
      at.push_back(crease);
    }
  }
  at.push_back(piece.to_mm);
  std::vector<Station> stretch;
  for (const double z : at) stretch.push_back(form.At(z, box, lid, plan));
  stretch.front().z_mm = piece.from_mm;
  double left = 0.0;
  for (std::size_t i = 0; i + 1 < stretch.size();) {
    const Station &a = stretch[i], &b = stretch[i + 1];
    double worst = 0.0;
    for (const double share : {0.25, 0.5, 0.75}) {
      const Station truth = form.At(a.z_mm + share * (b.z_mm - a.z_mm), box, lid, plan);
      const auto off = plan ? SlidingDeviation : Deviation;
      worst = std::max({worst, Deviation(a.case_rings, b.case_rings, share, truth.case_rings),
                        off(a.lid_rings, b.lid_rings, share, truth.lid_rings)});
    }
    if (worst > error_mm && b.z_mm - a.z_mm > kThinnest_mm) {
      stretch.insert(stretch.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                     form.At((a.z_mm + b.z_mm) / 2.0, box, lid, plan));
    } else {
      if (worst <= error_mm) left = std::max(left, worst);
      ++i;
    }
  }
  for (Station& station : stretch) stations.push_back(std::move(station));
  return left;
}

// Stations from `from` to `to`.
double AddStretch(const MeasuredForm& form, double from, double to, Stretch box, Stretch lid,
                  std::vector<Station>& stations) {
  if (to - from <= kSamePoint_mm) return 0.0;
  if (lid != Stretch::kHollow) return AddPiece(form, {from, from, to, {}}, box, lid, stations);
  double left = 0.0;
  for (const HollowPiece& piece : form.HollowPieces(from, to)) {
    left = std::max(left, AddPiece(form, piece, box, lid, stations));
  }
  return left;
}

// What the lid is at z, its walls' inner face at `face`.
Stretch LidStretch(const std::optional<EndLip>& lip, double face, double z) {
  if (!lip) return z < face ? Stretch::kHollow : Stretch::kEndWall;
  const bool collar = lip->z_max_mm == lip->outside_mm;
  if (z < (collar ? face : lip->rail_mm)) return Stretch::kHollow;
  if (z > lip->z_min_mm && z < lip->z_max_mm) return collar ? Stretch::kCollar : Stretch::kTongue;
  return !collar && z < lip->z_min_mm ? Stretch::kRail : Stretch::kEndWall;
}

using AddedStretch = std::function<void(double from, double to, Stretch box, Stretch lid)>;

// The sections with every wall at its mean place, where the stations of the clearances are filled.
void AddWood(const Job& job, const MeasuredForm& form, Solid& solid) {
  const double half = job.case_form.width_mm / 2.0, lid_face = half - job.lid.wall_mm;
  const std::optional<EndLip>& lip = form.end_lip();
  const bool tongue = lip && lip->z_max_mm < half;
  // Upright ends with a tongue are not filled anywhere.
  if (form.mean_outer_mm() == half && (tongue || form.mean_inner_mm() == lid_face)) return;
  std::vector<double> cuts{0.0, lid_face, form.mean_inner_mm(), form.mean_outer_mm(), half};
  if (lip) {
    cuts.insert(cuts.end(), {lip->rail_mm, lip->z_min_mm, lip->z_max_mm, lip->outside_mm});
  }
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const double middle = (cuts[i] + cuts[i + 1]) / 2.0;
    const Stretch box = middle < form.mean_inner_mm()   ? Stretch::kHollow
                        : middle < form.mean_outer_mm() ? Stretch::kEndWall
                                                        : Stretch::kNone;
    AddStretch(form, cuts[i], cuts[i + 1], box, LidStretch(lip, lid_face, middle),
               solid.true_stations);
  }
}

// With a lip along the ends nothing of the lid is filled, and of the case only what lies under the
// tongue and behind it.
void AddEndLip(const Job& job, const MeasuredForm& form, const AddedStretch& add) {
  const EndLip& lip = *form.end_lip();
  const double half = job.case_form.width_mm / 2.0, solid = form.case_solid_mm();
  const double leaning = std::max(form.leaning_mm(), solid);
  std::vector<double> cuts{form.inner_mm(), solid, leaning, half, lip.outside_mm};
  if (lip.z_max_mm < half) {
    cuts.insert(cuts.end(), {lip.rail_mm, form.narrow_mm(), lip.z_min_mm, lip.z_max_mm});
  } else {
    cuts.push_back(lip.z_min_mm);
  }
  std::sort(cuts.begin(), cuts.end());
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    const double middle = (cuts[i] + cuts[i + 1]) / 2.0;
    const Stretch box = middle > half               ? Stretch::kNone
                        : middle > leaning          ? Stretch::kLeaning
                        : middle > solid            ? Stretch::kEndWall
                        : middle > form.narrow_mm() ? Stretch::kShallow
                                                    : Stretch::kHollow;
    // A collar's lid is taken as solid where its case is, as any lid.
    const double face = lip.z_max_mm < half ? lip.rail_mm : solid;
    add(cuts[i], cuts[i + 1], box, LidStretch(form.end_lip(), face, middle));
  }
}

// What is free inside the box at a station.
struct Inside {
  double back_mm, front_mm, floor_mm, rim_mm, ceiling_mm;
};

// The part of the bay where pivots may lie: inside the narrowest section of the case there. Ends at
// `face`, the end wall's.
void MakeBay(const Job& job, double face, const std::function<Inside(const Station&)>& inside_of,
             Solid& solid) {
  BayRoom& bay = solid.bay;
  bay.z_max_mm = face;
  bay.z_min_mm = bay.z_max_mm - job.bay.width_mm;
  double back = -1e300, front = 1e300, floor = -1e300, rim = 1e300, top = -1e300;
  for (const Station& station : solid.stations) {
    if (station.end_wall || station.beyond_bay) continue;
    if (std::abs(station.z_mm) < bay.z_min_mm - 1e-9) continue;
    const Inside inside = inside_of(station);
    back = std::max(back, inside.back_mm);
    front = std::min(front, inside.front_mm);
    floor = std::max(floor, inside.floor_mm);
    rim = std::min(rim, inside.rim_mm);
    top = std::max(top, inside.ceiling_mm);
  }
  LW_REQUIRE(back > -1e300, "no station in the bay");
  const double edge = job.bay.edge_mm;
  // What stands on the case keeps below a tongue inside it.
  const bool tongue = solid.end_lip && solid.end_lip->z_max_mm < job.case_form.width_mm / 2.0;
  const double under = tongue ? rim - job.lid.lip_mm : rim;
  bay.case_zone = {{back + edge, floor + edge}, {front - edge, under - edge}};
  bay.lid_zone = {{back + edge, rim - job.bay.lid_drop_mm}, {front - edge, top - edge}};
  bay.lid_zone.low.y() = std::max(bay.lid_zone.low.y(), floor + edge);
  // Pins straight in the wood stand two diameters from its edges, as the arms' layer judges it.
  const double pin = std::isnan(job.hardware.pin_mm) ? job.arms.bushing_mm : job.hardware.pin_mm;
  const double around = std::max(edge, kWoodRoundPin * pin);
  if (!job.plates.on_case) bay.case_zone.high.y() = rim - around;
  if (!job.plates.on_lid) bay.lid_zone.low.y() = rim + job.lid.seam_gap_mm + around;
  if (job.pivots.case_zone) bay.case_zone = *job.pivots.case_zone;
  if (job.pivots.lid_zone) bay.lid_zone = *job.pivots.lid_zone;
}

void MeasuredSolid(const Job& job, Solid& solid) {
  const MeasuredForm form(job);
  const double half = job.case_form.width_mm / 2.0;
  // Case and lid become solid at their own end wall's inner face; from the innermost of them on
  // both are taken as solid, which keeps the section on the safe side.
  const double face = form.inner_mm();
  const AddedStretch add = [&](double from, double to, Stretch box, Stretch lid) {
    const std::size_t before = solid.stations.size();
    const double left = AddStretch(form, from, to, box, lid, solid.stations);
    solid.blend_error_mm = std::max(solid.blend_error_mm, left);
    for (std::size_t i = before; i < solid.stations.size(); ++i) {
      solid.stations[i].beyond_bay = from >= face && !solid.stations[i].end_wall;
    }
  };
  solid.end_lip = form.end_lip();
  add(0.0, face, Stretch::kHollow, Stretch::kHollow);
  if (form.end_lip()) {
    AddEndLip(job, form, add);
  } else {
    add(face, form.leaning_mm(), Stretch::kEndWall, Stretch::kEndWall);
    add(form.leaning_mm(), half, Stretch::kLeaning, Stretch::kLeaning);
  }
  AddWood(job, form, solid);
  solid.mirrored = true;
  solid.chord_error_mm = kChordError_mm;
  solid.case_chord_error_mm = form.CurvedCase() ? kChordError_mm : 0.0;
  solid.block = form.Block();
  solid.end_face = form.EndFace();
  solid.stands_back_mm = form.StandsBack();
  solid.stands_front_mm = form.StandsFront();
  for (const Station& station : solid.stations) {
    solid.mouth_back_mm = std::max(solid.mouth_back_mm, form.MouthBack(station.z_mm));
    solid.mouth_front_mm = std::min(solid.mouth_front_mm, form.MouthFront(station.z_mm));
  }
  MakeBay(
      job, face,
      [&](const Station& station) -> Inside {
        const MeasuredForm::Free free = form.FreeAt(station.z_mm);
        return {free.back_mm, free.front_mm, free.floor_mm, free.rim_mm,
                form.CeilingAt(station.z_mm)};
      },
      solid);
}

void OwnSolid(const Job& job, Solid& solid) {
  OwnStations(job, solid);
  const double face = job.case_form.width_mm / 2.0 - job.case_form.end_wall_mm;
  solid.end_face = {{face, 0.0}, {face, job.case_form.floor_mm - job.case_form.height_mm}};
  const auto outer = [](const Station& station) { return Bounds(station.case_rings); };
  double bench = 1e300;
  for (const Station& station : solid.stations) {
    const Rect2 box = outer(station);
    if (box.Empty()) continue;
    bench = std::min(bench, box.low.y());
    solid.mouth_back_mm = std::max(solid.mouth_back_mm, box.low.x() + job.case_form.back_wall_mm);
    solid.mouth_front_mm =
        std::min(solid.mouth_front_mm, box.high.x() - job.case_form.front_wall_mm);
  }
  // What stands on the bench at the ends; if they do not reach it, anywhere.
  for (const bool anywhere : {false, true}) {
    Rect2 stands;
    for (const Station& station : solid.stations) {
      const bool end = &station == &solid.stations.front() || &station == &solid.stations.back();
      if (!anywhere && (!end || (solid.mirrored && &station == &solid.stations.front()))) continue;
      for (const Ring& ring : station.case_rings) {
        for (const Vec2& p : ring) {
          if (p.y() <= bench + kBlendError_mm) stands.Add(p);
        }
      }
    }
    if (stands.Empty()) continue;
    solid.stands_back_mm = stands.low.x();
    solid.stands_front_mm = stands.high.x();
    break;
  }
  MakeBay(
      job, job.case_form.width_mm / 2.0 - std::max(job.case_form.end_wall_mm, job.lid.wall_mm),
      [&](const Station& station) -> Inside {
        const Rect2 box = outer(station), lid = Bounds(station.lid_rings);
        return {box.low.x() + job.case_form.back_wall_mm,
                box.high.x() - job.case_form.front_wall_mm, box.low.y() + job.case_form.floor_mm,
                box.high.y(), lid.high.y() - job.lid.top_mm};
      },
      solid);
}

}  // namespace

Solid MakeSolid(const Job& job) {
  Solid solid;
  solid.mouth_back_mm = -1e300;
  solid.mouth_front_mm = 1e300;
  if (job.stations.empty()) {
    MeasuredSolid(job, solid);
  } else {
    OwnSolid(job, solid);
  }
  for (const Station& station : solid.stations) {
    for (const auto* rings : {&station.case_rings, &station.lid_rings}) {
      const Rect2 box = Bounds(*rings);
      if (box.Empty()) continue;
      solid.bounds.Add(box.low);
      solid.bounds.Add(box.high);
    }
  }
  solid.bench_mm = solid.bounds.low.y();
  return solid;
}

double LidFace_mm(const Job& job, const Solid& solid) {
  return solid.end_lip ? solid.end_lip->rail_mm : job.case_form.width_mm / 2.0 - job.lid.wall_mm;
}

double LidEnd_mm(const Job& job, const Solid& solid) {
  return solid.end_lip ? solid.end_lip->outside_mm : job.case_form.width_mm / 2.0;
}

const Station& EndWallBeside(const Solid& solid) {
  const Station* end = nullptr;
  for (const Station& s : solid.stations) {
    if (!s.end_wall || s.z_mm < solid.bay.z_max_mm - 1e-9) continue;
    if (!end || s.z_mm < end->z_mm) end = &s;
  }
  LW_REQUIRE(end != nullptr, "no end wall beside the bay");
  return *end;
}

bool InBay(const Contents& contents, const BayRoom& bay) {
  const double low = bay.z_min_mm, high = bay.z_max_mm;
  return (contents.z_min_mm < high && low < contents.z_max_mm) ||
         (contents.z_min_mm < -low && -high < contents.z_max_mm);
}

namespace {

// Whether something of the rings lies straight above a point.
bool UnderSome(const std::vector<Ring>& rings, const Vec2& p) {
  const std::vector<double> heights = Crossings(rings, false, p.x());
  return !heights.empty() && heights.back() > p.y();
}

// Pins stand in the bay with an arm's eye round them: not in what wood there is, nor outside the
// shut box, where no lid is above them or no case beside them.
void FindPinsAstray(const Job& job, const Solid& solid, Problems& problems) {
  const auto length = [&](double mm) { return LengthText_mm(mm, job.inches); };
  const auto tell = [&](const char* name, const Vec2& pin, const std::string& what) {
    problems.push_back({"", 0, std::string("pivots.") + name,
                        length(pin.x()) + ", " + length(pin.y()), what,
                        "a pivot stands in the bay beside the end, clear of back, floor and top"});
  };
  const auto find = [&](const char* name, const std::optional<Vec2>& pin, bool of_lid) {
    if (!pin) return;
    for (const Station& s : solid.stations) {
      const double z = std::abs(s.z_mm);
      if (s.end_wall || s.beyond_bay || z < solid.bay.z_min_mm || z > solid.bay.z_max_mm) continue;
      const std::vector<Ring>& rings = of_lid ? s.lid_rings : s.case_rings;
      if (rings.empty()) continue;
      const std::string at = " at z = " + length(s.z_mm);
      const double deep = -SignedDistance(rings, *pin);
      if (deep > 0.0) {
        const std::string whose = of_lid ? "lid's" : "case's";
        return tell(name, *pin, "lies in the " + whose + " wood, " + length(deep) + " deep" + at);
      }
      const bool under_lid = s.lid_rings.empty() || UnderSome(s.lid_rings, *pin);
      const bool over_bottom = s.case_rings.empty() || pin->y() > Bounds(s.case_rings).low.y();
      if (!under_lid || !over_bottom) return tell(name, *pin, "lies outside the shut box" + at);
    }
  };
  find("case_a", job.pivots.case_a, false);
  find("case_b", job.pivots.case_b, false);
  find("lid_a", job.pivots.lid_a, true);
  find("lid_b", job.pivots.lid_b, true);
}

}  // namespace

Problems FaultsOf(const Job& job, const Solid& solid) {
  Problems problems;
  const auto zone = [&](const Zone& z, const std::string& whose, const std::string& between,
                        bool plate) {
    const Vec2 size = z.high - z.low;
    if (size.x() >= 0.0 && size.y() >= 0.0) return;
    const bool across = size.x() < 0.0;
    problems.push_back(
        {"", 0, "bay", "",
         "there is no room for the " + whose + " pivots: " + (across ? "front to back" : between) +
             " " + LengthText_mm(across ? -size.x() : -size.y(), job.inches) + " are lacking",
         plate ? "a smaller bay.edge or arms.eye, thinner walls or a higher box would help"
               : "pins straight in the wood need it around them: a plate, a thinner bushing or a "
                 "higher band of the lid would help"});
  };
  zone(solid.bay.case_zone, "case's", "between floor and rim", job.plates.on_case);
  zone(solid.bay.lid_zone, "lid's", "under the lid", job.plates.on_lid);
  FindPinsAstray(job, solid, problems);
  if (solid.bay.z_min_mm < 0.0) {
    problems.push_back({"", 0, "bay.width", LengthText_mm(job.bay.width_mm, job.inches),
                        "the bays of the two ends meet: there are only " +
                            LengthText_mm(solid.bay.z_max_mm, job.inches) +
                            (solid.end_lip ? " from mid-width to the end's innermost place"
                                           : " from mid-width to the end wall's innermost place"),
                        solid.end_lip ? "less flare, a thinner lip, or a smaller bay"
                                      : "less flare, or a smaller bay"});
  }
  const std::string own = job.stations.empty() ? "case" : "stations";
  const auto add = [&](const std::string& what, const std::string& hint) {
    problems.push_back({"", 0, own, "", what, hint});
  };
  if (const std::string fault = FaultOfOwnForm(job, solid); !fault.empty()) {
    add(fault, "give the sections as they are, each body in one piece");
    return problems;
  }
  double least = std::numeric_limits<double>::infinity();
  for (const Station& s : solid.stations) {
    const std::string where = "at z = " + LengthText_mm(s.z_mm, job.inches);
    for (const auto& [name, rings] :
         {std::pair("case", &s.case_rings), std::pair("lid", &s.lid_rings)}) {
      for (const Ring& ring : *rings) {
        const std::optional<RingFault> fault = FaultOf(ring);
        if (!fault) continue;
        add(where + " the section of the " + name + " is no outline: " + fault->what,
            s.end_wall ? "the end walls' sections are the outermost outlines, filled"
                       : "its measures leave a wall no thickness");
        return problems;
      }
    }
    double deepest = 0.0;
    const auto look = [&](const std::vector<Ring>& movers, const RingsTree& others) {
      if (others.empty()) return;
      for (const Ring& ring : movers) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
          // Corners may lie on the other outline, so the middles of the edges are asked as well.
          const Vec2 middle = (ring[k] + ring[(k + 1) % ring.size()]) / 2.0;
          for (const Vec2& p : {ring[k], middle}) {
            const double gap = others.SignedDistance(p);
            deepest = std::min(deepest, gap);
            least = std::min(least, gap);
          }
        }
      }
    };
    look(s.lid_rings, RingsTree(s.case_rings));
    look(s.case_rings, RingsTree(s.lid_rings));
    if (deepest >= -kBlendError_mm) continue;
    add(where + " lid and case overlap when shut by " + LengthText_mm(-deepest, job.inches),
        s.end_wall && !job.stations.empty()
            ? "there both are taken as solid (the end wall): give the outermost stations so that "
              "nothing of the lid hangs below the rim"
            : "move the lid's outline up or correct the rim");
    return problems;
  }
  const double most = std::max(job.lid.seam_gap_mm, job.swing.gap_mm) + kBlendError_mm;
  if (least > most) {
    add("the lid floats: nowhere is it nearer to the case than " + LengthText_mm(least, job.inches),
        "lid and case stand in one frame, y = 0 is the rim at the ends: move the lid down by that");
  }
  return problems;
}

double LidVolume_mm3(const Solid& solid) {
  // Between matching sections the area is quadratic in z: Simpson's rule is exact.
  double volume = 0.0;
  const std::vector<Station>& stations = TrueStations(solid);
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const Station &a = stations[i], &b = stations[i + 1];
    for (std::size_t r = 0; r < std::min(a.lid_rings.size(), b.lid_rings.size()); ++r) {
      if (a.z_mm == b.z_mm) continue;
      const auto [p, q] = MatchRings(a.lid_rings[r], b.lid_rings[r]);
      Ring middle(p.size());
      for (std::size_t k = 0; k < p.size(); ++k) middle[k] = (p[k] + q[k]) / 2.0;
      volume +=
          (b.z_mm - a.z_mm) / 6.0 * (SignedArea(p) + 4.0 * SignedArea(middle) + SignedArea(q));
    }
  }
  return solid.mirrored ? 2.0 * volume : volume;
}

}  // namespace lidwright
