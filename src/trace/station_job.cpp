// SPDX-License-Identifier: Apache-2.0
#include "lidwright/trace/station_job.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/job/complete_job.h"
#include "lidwright/job/documented_job.h"
#include "lidwright/job/key_rows.h"

namespace lidwright {
namespace {

constexpr int kLines = 9;  // across the case, to find its walls

// Where a line along one axis, at `level` of the other one (`across`: 0 x, 1 y), goes in and out.
std::vector<double> Crossings(const std::vector<Ring>& rings, int across, double level) {
  std::vector<double> at;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if ((a[across] > level) == (b[across] > level)) continue;
      const double share = (level - a[across]) / (b[across] - a[across]);
      at.push_back(a[1 - across] + share * (b[1 - across] - a[1 - across]));
    }
  }
  std::sort(at.begin(), at.end());
  return at;
}

std::optional<double> Median(std::vector<double> values) {
  if (values.size() * 2 <= static_cast<std::size_t>(kLines)) return std::nullopt;
  std::nth_element(values.begin(), values.begin() + values.size() / 2, values.end());
  return values[values.size() / 2];
}

struct Walls {
  std::optional<double> back, front, floor;
};

Walls WallsOf(const std::vector<Ring>& rings) {
  const Rect2 box = Bounds(rings);
  const Vec2 size = box.high - box.low;
  std::vector<double> back, front, floor;
  for (int i = 0; i < kLines; ++i) {
    const double share = 0.2 + 0.6 * i / (kLines - 1);
    const std::vector<double> x = Crossings(rings, 1, box.low.y() + share * size.y());
    if (x.size() >= 4) {
      back.push_back(x[1] - x[0]);
      front.push_back(x[x.size() - 1] - x[x.size() - 2]);
    }
    const std::vector<double> y = Crossings(rings, 0, box.low.x() + share * size.x());
    // Floor only: what is above it is open, or its top is another part above a room.
    if (y.size() >= 2 && y[1] < box.low.y() + 0.9 * size.y()) floor.push_back(y[1] - box.low.y());
  }
  return {Median(back), Median(front), Median(floor)};
}

class Writer {
 public:
  Writer(std::vector<StationOutline> sections, const StationJobWish& wish)
      : sections_(std::move(sections)), wish_(wish), unit_(wish.inches ? kMmPerInch : 1.0) {}

  StationJob Write() {
    if (!PlaceSections()) return std::move(out_);
    TakeMeasures();
    if (!out_.problems.empty()) return std::move(out_);
    if (wish_.chord_error_mm > 0.0) {
      // Rounded up, in whichever unit, with what the coordinates' own decimals leave out.
      const double error = std::ceil((wish_.chord_error_mm + 1e-6) / unit_ * 1e4) * 1e-4;
      Put("stations_error", error * unit_, 4, &job_.stations_error_mm);
      out_.notes.push_back("curves are in chords that may be up to " + Text(error, 4) +
                           (wish_.inches ? " in" : " mm") +
                           " off: every certified gap is less by that (stations_error)");
    }
    PutSections();
    JobReading reading = CompleteJob(job_, given_, wish_.file_name);
    out_.problems = std::move(reading.problems);
    if (!reading.job) return std::move(out_);
    out_.job = std::move(reading.job);
    out_.text = DocumentedJob(EntriesOf(job_, given_), KeyRemarks::kGivenKeys, wish_.about);
    return std::move(out_);
  }

 private:
  void Complain(const std::string& rule, const std::string& hint = "") {
    out_.problems.push_back({wish_.file_name, 0, "", "", rule, hint});
  }
  std::string Shown(double mm) const { return LengthText_mm(mm, wish_.inches); }
  // As it stands in the file with so many decimals.
  double Rounded(double mm, int decimals) const {
    const std::string text = Fixed(mm / unit_, decimals);
    double value = 0.0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value * unit_;
  }

  void PutSections() {
    const int decimals = wish_.inches ? 8 : 6;
    for (StationOutline& section : sections_) {
      section.z_mm = Rounded(section.z_mm, decimals);
      for (std::vector<Ring>* rings : {&section.case_rings, &section.lid_rings}) {
        for (Ring& ring : *rings) {
          for (Vec2& p : ring) p = {Rounded(p.x(), decimals), Rounded(p.y(), decimals)};
        }
      }
    }
    job_.stations = std::move(sections_);
    given_.push_back("stations");
  }

  bool PlaceSections() {
    const double half = wish_.width_mm / 2.0;
    if (sections_.size() == 1) {
      sections_[0].z_mm = 0.0;
      out_.notes.push_back(
          "one section, taken for the whole width: a dome, bow or arch along the "
          "width is not in it");
    }
    for (std::size_t i = 1; i < sections_.size(); ++i) {
      if (sections_[i].z_mm > sections_[i - 1].z_mm) continue;
      Complain("two sections stand at the same place, " + Shown(sections_[i].z_mm) +
               " from mid-width");
      return false;
    }
    const double first = sections_.front().z_mm, last = sections_.back().z_mm;
    if (first != 0.0 && std::abs(first + half) > kStationEnd_mm) {
      Complain("the first section stands " + Shown(first) + " from mid-width",
               "one must stand at mid-width, or at the end, " + Shown(-half));
      return false;
    }
    if (last > half + kStationEnd_mm || last < 0.0) {
      Complain("a section stands " + Shown(last) + " from mid-width",
               "half of the width is " + Shown(half));
      return false;
    }
    if (last < half - kStationEnd_mm) {
      if (sections_.size() > 1) {
        out_.notes.push_back("the outermost section is taken to the end of the box as well");
      }
      sections_.push_back(sections_.back());
      sections_.back().z_mm = half;
    }
    return true;
  }

  void Put(const std::string& path, double mm, int decimals, double* field) {
    *field = Rounded(mm, decimals);
    given_.push_back(path);
  }

  // To a thousandth: finer is the drawing's rounding, not the maker's measure.
  void Put(const std::string& path, double mm, double* field, const std::string& what = "") {
    Put(path, mm, wish_.inches ? 4 : 3, field);
    if (!what.empty()) measured_ += (measured_.empty() ? "" : ", ") + what + " " + Shown(mm);
  }

  void TakeMeasures() {
    const StationOutline& outer = sections_.back();
    const StationOutline* middle = &sections_.front();
    for (const StationOutline& section : sections_) {
      if (std::abs(section.z_mm) < std::abs(middle->z_mm)) middle = &section;
    }
    const Walls walls = WallsOf(middle->case_rings);
    if (!walls.back || !walls.front || !walls.floor) {
      Complain("the case is solid: no room is seen between a back, a front and a floor",
               "draw the section between the end walls, walls and floor as thick as they are");
      return;
    }
    const Rect2 box = Bounds(outer.case_rings), mid = Bounds(middle->case_rings);
    const double below_rim = -0.01 * (box.high.y() - box.low.y());
    const std::vector<double> at_rim = Crossings(outer.case_rings, 1, below_rim);
    LW_REQUIRE(at_rim.size() >= 2 && box.low.y() < 0.0, "no case below the rim");
    job_.name = wish_.name;
    job_.inches = wish_.inches;
    given_.push_back("name");
    CaseMeasures& form = job_.case_form;
    Put("case.width", wish_.width_mm, &form.width_mm);
    Put("case.depth", at_rim.back(), &form.depth_mm, "depth");
    Put("case.height", -box.low.y(), &form.height_mm, "height");
    Put("case.back_wall", *walls.back, &form.back_wall_mm, "back");
    Put("case.front_wall", *walls.front, &form.front_wall_mm, "front");
    const bool said = !std::isnan(wish_.end_wall_mm);
    const double end_wall = said ? wish_.end_wall_mm : *walls.back;
    Put("case.end_wall", end_wall, &form.end_wall_mm);
    Put("case.floor", *walls.floor, &form.floor_mm, "floor");
    if (!said) {
      out_.notes.push_back("a section does not show the end walls: taken as thick as the back, " +
                           Shown(end_wall));
    }
    const auto bow = [&](const char* path, double mm, double* field, const char* what) {
      if (mm > kTouch_mm) Put(path, mm, field, what);
    };
    bow("case.back_bow", box.low.x() - mid.low.x(), &form.back_bow_mm, "back bowed by");
    bow("case.front_bow", mid.high.x() - box.high.x(), &form.front_bow_mm, "front bowed by");
    bow("case.rim_arch", mid.high.y() - box.high.y(), &form.rim_arch_mm, "rim arched by");
    Put("lid.wall", end_wall, &job_.lid.wall_mm);
    const Rect2 lid = Bounds(middle->lid_rings);
    const std::vector<double> dome =
        Crossings(middle->lid_rings, 0, (lid.low.x() + lid.high.x()) / 2.0);
    if (dome.size() >= 2) {
      // A solid lid may be thicker than any board.
      const double most = FindKeyRow("lid.top")->max;
      const double top = dome[dome.size() - 1] - dome[dome.size() - 2];
      Put("lid.top", std::min(top, most), &job_.lid.top_mm, "the lid's top");
    }
    out_.notes.push_back("measured: " + measured_);
  }

  std::vector<StationOutline> sections_;
  const StationJobWish& wish_;
  double unit_;
  Job job_;
  std::vector<std::string> given_;
  std::string measured_;
  StationJob out_;
};

}  // namespace

StationJob WriteStationJob(std::vector<StationOutline> sections, const StationJobWish& wish) {
  LW_REQUIRE(!sections.empty() && wish.width_mm > 0.0,
             "sections=" << sections.size() << " width=" << wish.width_mm);
  return Writer(std::move(sections), wish).Write();
}

}  // namespace lidwright
