// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_space.h"

#include <algorithm>
#include <array>
#include <atomic>
#include <cmath>
#include <limits>
#include <optional>

#include "lidwright/base/check.h"
#include "outline_map.h"
#include "thinned.h"

namespace lidwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr float kUnknown = std::numeric_limits<float>::quiet_NaN();
// [count] Angles from where the gap is due to open: 4 to 5 degrees apart, between which the gap of
// a lid 300 mm deep bends by a tenth or two of a millimetre.
constexpr int kDueSlices = 20;
// [–] Angles before the gap is due, as shares of the way there, and the share of the gap asked for.
constexpr double kEarlyNeed = 0.25;
// [mm] Long edges get points this far apart: a corner of the other outline cannot hide between.
constexpr double kPointStep_mm = 14.0;
// [count] Points that share a circle.
constexpr std::size_t kRun = 6;
// [mm] The table's wide meshes, and in how many each is cut where the gap is near what is due.
constexpr double kWide_mm = 8.0;
constexpr int kCuts = 4;
// [mm] A gap is told up to this above what is due, and down to this below 0.
constexpr double kAbove_mm = 8.0;
constexpr double kDeep_mm = 40.0;
// [mm] Around what is due the table is fine.
constexpr double kBand_mm = 1.0;
// [mm] The table goes on beyond where the lid may be, so that a search finds its way back.
constexpr double kBeyond_mm = 24.0;

LidSpace::Look Bilinear(const std::array<double, 4>& v, double s, double t, double step) {
  const double low = v[0] + s * (v[1] - v[0]), high = v[2] + s * (v[3] - v[2]);
  return {low + t * (high - low),
          Vec2(((1.0 - t) * (v[1] - v[0]) + t * (v[3] - v[2])) / step, (high - low) / step)};
}

LidSpace::Look Least(const std::vector<OutlineMap>& maps, const Vec2& p, double enough) {
  LidSpace::Look look{enough, Vec2::Zero()};
  for (const OutlineMap& map : maps) {
    if (map.Lower(p) >= look.gap) continue;
    const OutlineMap::Query query = map.At(p);
    if (query.distance < look.gap) look = {query.distance, query.away};
  }
  return look;
}

// Points with circles round runs of them.
struct Cloud {
  struct Run {
    Vec2 middle;
    double radius;
    std::size_t first, end;
  };
  std::vector<Vec2> points;
  std::vector<Run> runs;

  explicit Cloud(const std::vector<Ring>& rings) : points(PointsAlong(rings, kPointStep_mm)) {
    for (std::size_t first = 0; first < points.size(); first += kRun) {
      const std::size_t end = std::min(first + kRun, points.size());
      Rect2 box;
      for (std::size_t i = first; i < end; ++i) box.Add(points[i]);
      Run run{(box.low + box.high) / 2.0, 0.0, first, end};
      for (std::size_t i = first; i < end; ++i) {
        run.radius = std::max(run.radius, (points[i] - run.middle).norm());
      }
      runs.push_back(run);
    }
  }
};

// The least of `best` and the points' distances, each point carried by `place`.
template <typename Place>
OutlineMap::Query Nearest(const OutlineMap& map, const Cloud& cloud, const Place& place,
                          double best) {
  OutlineMap::Query nearest{best, Vec2::Zero()};
  for (const Cloud::Run& run : cloud.runs) {
    if (map.Lower(place(run.middle)) - run.radius >= nearest.distance) continue;
    for (std::size_t i = run.first; i < run.end; ++i) {
      const Vec2 p = place(cloud.points[i]);
      if (map.Lower(p) >= nearest.distance) continue;
      const OutlineMap::Query here = map.At(p);
      if (here.distance < nearest.distance) nearest = here;
    }
  }
  return nearest;
}

// What no point's distance from a set of outlines and from limits is below, told by one look: most
// points that are asked about are far from all of them.
class Floor {
 public:
  // `distance_at` is one that changes no faster than its point moves.
  template <typename Distance>
  void Lay(const Rect2& box, const Distance& distance_at) {
    const Vec2 size = box.high - box.low + Vec2::Constant(2.0 * kMost_mm);
    cell_mm_ = std::max(kCell_mm, std::sqrt(size.x() * size.y() / kMostCells));
    low_ = box.low - Vec2::Constant(kMost_mm);
    columns_ = static_cast<int>(std::ceil(size.x() / cell_mm_));
    rows_ = static_cast<int>(std::ceil(size.y() / cell_mm_));
    cells_.clear();
    for (int row = 0; row < rows_; ++row) {
      for (int column = 0; column < columns_; ++column) {
        const Vec2 middle = low_ + cell_mm_ * Vec2(column + 0.5, row + 0.5);
        const double least = distance_at(middle) - 0.70711 * cell_mm_;
        cells_.push_back(std::nextafter(static_cast<float>(std::min(least, kMost_mm)), -1e9f));
      }
    }
  }
  double At(const Vec2& p) const {
    const Vec2 at = (p - low_) / cell_mm_;
    if (!(at.x() >= 0.0 && at.y() >= 0.0 && at.x() < columns_ && at.y() < rows_)) {
      return -kInfinite;
    }
    return static_cast<double>(cells_[static_cast<std::size_t>(static_cast<int>(at.y()) * columns_ +
                                                               static_cast<int>(at.x()))]);
  }

 private:
  static constexpr double kCell_mm = 2.0, kMostCells = 60e3;
  // [mm] Within reach of the maps' own exact distances; nobody asks about more.
  static constexpr double kMost_mm = 28.0;
  static_assert(kMost_mm < OutlineMap::kReach_mm);
  Vec2 low_ = Vec2::Zero();
  double cell_mm_ = kCell_mm;
  int columns_ = 0, rows_ = 0;
  std::vector<float> cells_;
};

}  // namespace

struct LidSpace::Sections {
  struct Section {
    OutlineMap in_case, in_lid;
    Cloud case_points, lid_points;
    double spare_mm;  // asked for less here than of the case
  };
  std::vector<Section> all;
  std::vector<OutlineMap> bay_case, bay_lid;
  std::optional<OutlineMap> lid_end;
  Vec2 least = Vec2::Constant(-kInfinite), most = Vec2::Constant(kInfinite);  // room and bench
  Floor case_floor, lid_floor;  // of the bay's maps, the case's with room and bench

  Look InCase(const Vec2& p, double enough) const {
    Look look = Least(bay_case, p, enough);
    for (Eigen::Index i = 0; i < 2; ++i) {
      for (const double sign : {1.0, -1.0}) {
        const double from = sign > 0.0 ? p[i] - least[i] : most[i] - p[i];
        if (from < look.gap) look = {from, sign * Vec2::Unit(i)};
      }
    }
    return look;
  }

  void LayFloors() {
    const auto around = [](const std::vector<OutlineMap>& maps) {
      Rect2 box;
      for (const OutlineMap& map : maps) {
        box.Add(map.box().low);
        box.Add(map.box().high);
      }
      return box;
    };
    if (!bay_case.empty()) {
      case_floor.Lay(around(bay_case), [&](const Vec2& p) { return InCase(p, kInfinite).gap; });
    }
    if (!bay_lid.empty()) {
      lid_floor.Lay(around(bay_lid),
                    [&](const Vec2& p) { return Least(bay_lid, p, kInfinite).gap; });
    }
  }

  void Add(const std::vector<Ring>& fixed, const std::vector<Ring>& lid, double spare_mm) {
    const std::vector<Ring> a = Thinned(fixed, kSectionThinning_mm),
                            b = Thinned(lid, kSectionThinning_mm);
    if (a.empty() || b.empty()) return;
    all.push_back({OutlineMap(a), OutlineMap(b), Cloud(a), Cloud(b), spare_mm});
  }
};

// A gap is worked out when it is first asked for. Whoever asks gets the same number, so that it
// does not matter which thread is first.
struct LidSpace::Table {
  Vec2 low = Vec2::Zero();
  int columns = 0, rows = 0;                           // corners of wide meshes
  mutable std::vector<std::atomic<float>> wide, fine;  // filled as they are asked for

  void Lay(int columns_wanted, int rows_wanted) {
    columns = columns_wanted;
    rows = rows_wanted;
    wide = std::vector<std::atomic<float>>(Count(1));
    fine = std::vector<std::atomic<float>>(Count(kCuts));
    for (auto* all : {&wide, &fine}) {
      for (std::atomic<float>& value : *all) value.store(kUnknown, std::memory_order_relaxed);
    }
  }
  std::size_t Width(int cuts) const { return static_cast<std::size_t>((columns - 1) * cuts + 1); }
  std::size_t Count(int cuts) const {
    return Width(cuts) * static_cast<std::size_t>((rows - 1) * cuts + 1);
  }
};

LidSpace::~LidSpace() = default;

LidSpace::LidSpace(const Job& job, const Solid& solid, const LidTask& task, double reserve_mm)
    : sections_(std::make_unique<Sections>()) {
  error_mm_ = 2.0 * solid.blend_error_mm + solid.case_chord_error_mm + solid.chord_error_mm;
  for (const std::size_t i : task.section_stations) {
    const Station& s = solid.stations[i];
    if (!s.case_rings.empty()) sections_->Add(s.case_rings, s.lid_rings, 0.0);
  }
  for (const Contents& contents : job.contents) {
    for (const std::size_t i : task.section_stations) {
      const Station& s = solid.stations[i];
      const bool here =
          (contents.z_min_mm <= s.z_mm && s.z_mm <= contents.z_max_mm) ||
          (solid.mirrored && contents.z_min_mm <= -s.z_mm && -s.z_mm <= contents.z_max_mm);
      if (here) sections_->Add(contents.rings, s.lid_rings, task.gap_mm);
    }
  }
  for (const std::size_t i : task.bay_stations) {
    const Station& s = solid.stations[i];
    sections_->bay_case.emplace_back(Thinned(s.case_rings, kSectionThinning_mm));
    sections_->bay_lid.emplace_back(Thinned(s.lid_rings, kSectionThinning_mm));
  }
  sections_->lid_end.emplace(Thinned(EndWallBeside(solid).lid_rings, kSectionThinning_mm));
  for (const Contents& contents : job.contents) {
    if (InBay(contents, solid.bay)) {
      sections_->bay_case.emplace_back(Thinned(contents.rings, kSectionThinning_mm));
    }
  }
  sections_->least = Vec2(task.behind_x_mm, task.bench_y_mm);
  sections_->most = Vec2(kInfinite, task.above_y_mm);
  sections_->LayFloors();
  const double lid_error = solid.blend_error_mm + solid.chord_error_mm;
  slices_ = SlicesOf(job, task, lid_error, reserve_mm, {0.3, 0.65}, kDueSlices);
  close_ = SlicesOf(job, task, lid_error, 0.0, {0.15, 0.3, 0.45, 0.65, 0.8}, 2 * kDueSlices - 1);
  tables_ = std::vector<Table>(slices_.size());
  for (std::size_t k = 0; k < slices_.size(); ++k) LayTable(k);
}

std::vector<LidSpace::Slice> LidSpace::SlicesOf(const Job& job, const LidTask& task,
                                                double lid_error, double reserve_mm,
                                                const std::vector<double>& early, int due) const {
  lid_error += reserve_mm;
  std::vector<Slice> slices;
  const auto add = [&](double theta, double need) {
    Slice slice;
    slice.theta_rad = theta;
    const Pose turn = Pose::Make(theta, Vec2::Zero());
    slice.cosine = turn.cosine;
    slice.sine = turn.sine;
    slice.need_mm = need + error_mm_;
    Rect2 box;
    for (const Vec2& p : task.lid_hull) box.Add(turn.Turn(p));
    slice.low = box.low;
    slice.high = box.high;
    slice.front_edge = turn.Turn(task.front_edge);
    slice.mass_centre = turn.Turn(task.mass_centre);
    slice.least = Vec2(task.behind_x_mm - box.low.x() + lid_error,
                       task.bench_y_mm + task.gap_mm - box.low.y() + lid_error);
    slice.most = Vec2(kInfinite, task.above_y_mm - box.high.y() - lid_error);
    slices.push_back(slice);
  };
  for (const double share : early) {
    add(share * task.gap_from_rad,
        std::min(job.lid.seam_gap_mm + kEarlyNeed * share * (task.gap_mm - job.lid.seam_gap_mm),
                 task.gap_mm));
  }
  for (int i = 0; i < due; ++i) {
    const double share = static_cast<double>(i) / (due - 1);
    add(task.gap_from_rad + share * (task.open_rad - task.gap_from_rad), task.gap_mm + reserve_mm);
  }
  slices.back().most.x() = task.access_x_mm - slices.back().high.x() - lid_error;
  return slices;
}

LidSpace::Look LidSpace::GapAt(const Pose& X_CL, double limit) const {
  const auto out = [&](const Vec2& p) { return X_CL * p; };
  const auto in = [&](const Vec2& p) { return X_CL.TurnBack(p - X_CL.origin); };
  Look look{limit, Vec2::Zero()};
  for (const Sections::Section& s : sections_->all) {
    const double best = look.gap - s.spare_mm;
    const OutlineMap::Query in_case = Nearest(s.in_case, s.lid_points, out, best);
    if (in_case.distance < best) look = {in_case.distance + s.spare_mm, in_case.away};
    // A point of the case moves in the lid against the way the lid moves.
    const OutlineMap::Query in_lid = Nearest(s.in_lid, s.case_points, in, in_case.distance);
    if (in_lid.distance < in_case.distance) {
      look = {in_lid.distance + s.spare_mm, -X_CL.Turn(in_lid.away)};
    }
    if (look.gap < -kDeep_mm) break;
  }
  return look;
}

LidSpace::Look LidSpace::Gap(const Slice& slice, const Vec2& origin, double limit) const {
  return GapAt({slice.cosine, slice.sine, origin}, limit);
}

void LidSpace::LayTable(std::size_t k) {
  const Slice& slice = slices_[k];
  Table& table = tables_[k];
  // Beyond these the boxes round lid and case are farther apart than what is due.
  Rect2 fixed;
  for (const Sections::Section& s : sections_->all) {
    fixed.Add(s.in_case.box().low);
    fixed.Add(s.in_case.box().high);
  }
  const Vec2 due = Vec2::Constant(slice.need_mm + kBand_mm);
  const Vec2 beyond = Vec2::Constant(kBeyond_mm);
  table.low = (fixed.low - slice.high - due).cwiseMax(slice.least - beyond);
  const Vec2 high = (fixed.high - slice.low + due).cwiseMin(slice.most + beyond);
  const Vec2 size = ((high - table.low) / kWide_mm).cwiseMax(Vec2::Constant(1.0));
  table.Lay(static_cast<int>(std::ceil(size.x())) + 1, static_cast<int>(std::ceil(size.y())) + 1);
}

// A corner of the table's meshes, `cuts` to a wide one.
double LidSpace::Corner(std::size_t k, int column, int row, int cuts, double limit_mm) const {
  const Table& table = tables_[k];
  std::atomic<float>& known =
      (cuts == 1 ? table.wide : table.fine)[static_cast<std::size_t>(row) * table.Width(cuts) +
                                            static_cast<std::size_t>(column)];
  const float value = known.load(std::memory_order_relaxed);
  if (!std::isnan(value)) return static_cast<double>(value);
  const Slice& slice = slices_[k];
  const double step = kWide_mm / cuts;
  const Pose X_CL{slice.cosine, slice.sine, table.low + step * Vec2(column, row)};
  const float gap =
      static_cast<float>(GapAt(X_CL, std::min(limit_mm, slice.need_mm + kAbove_mm)).gap);
  known.store(gap, std::memory_order_relaxed);
  return static_cast<double>(gap);
}

LidSpace::Look LidSpace::At(std::size_t k, const Vec2& origin) const {
  const Table& table = tables_[k];
  const Vec2 at = (origin - table.low) / kWide_mm;
  const double u = std::clamp(at.x(), 0.0, table.columns - 1.001);
  const double v = std::clamp(at.y(), 0.0, table.rows - 1.001);
  const int column = static_cast<int>(u), row = static_cast<int>(v);
  const auto corners = [&](int c, int r, int cuts, double limit) {
    return std::array<double, 4>{Corner(k, c, r, cuts, limit), Corner(k, c + 1, r, cuts, limit),
                                 Corner(k, c, r + 1, cuts, limit),
                                 Corner(k, c + 1, r + 1, cuts, limit)};
  };
  const std::array<double, 4> wide = corners(column, row, 1, kInfinite);
  // The gap changes by no more than the origin moves, and no point of a mesh is farther than half
  // its diagonal from a corner: where all are farther than this from what is due, so is all within.
  constexpr double kNear_mm = 0.70711 * kWide_mm + kBand_mm;
  const double need = slices_[k].need_mm;
  const bool near = std::any_of(wide.begin(), wide.end(),
                                [&](double gap) { return std::abs(gap - need) < kNear_mm; });
  if (!near) return Bilinear(wide, u - column, v - row, kWide_mm);
  const int i = static_cast<int>(kCuts * u), j = static_cast<int>(kCuts * v);
  // A little more, so that rounding never makes the limit the answer.
  const double most = *std::min_element(wide.begin(), wide.end()) + 1.415 * kWide_mm;
  return Bilinear(corners(i, j, kCuts, most), kCuts * u - i, kCuts * v - j, kWide_mm / kCuts);
}

LidSpace::Look LidSpace::InCase(const Vec2& p, double enough) const {
  if (sections_->case_floor.At(p) >= enough) return {enough, Vec2::Zero()};
  return sections_->InCase(p, enough);
}

LidSpace::Look LidSpace::InLid(const Vec2& p, double enough) const {
  if (sections_->lid_floor.At(p) >= enough) return {enough, Vec2::Zero()};
  return Least(sections_->bay_lid, p, enough);
}

double LidSpace::InCaseAtLeast(const Vec2& p) const {
  return sections_->case_floor.At(p);
}

double LidSpace::InLidAtLeast(const Vec2& p) const {
  return sections_->lid_floor.At(p);
}

double LidSpace::DeepInLidEnd(const Vec2& p) const {
  return -sections_->lid_end->At(p).distance;
}

const Rect2& LidSpace::lid_end_box() const {
  return sections_->lid_end->box();
}

}  // namespace lidwright
