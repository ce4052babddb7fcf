// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/plywood.h"

#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr double kVeneer_mm = 1.4;
constexpr double kSameSheet_mm = 0.1;

// Crossed veneers of 1.4 mm with the outer two sanded until the sheet has its thickness.
std::vector<double> Sanded(int plies, double thickness_mm) {
  const double outer = (thickness_mm - (plies - 2) * kVeneer_mm) / 2.0;
  std::vector<double> ply_mm(static_cast<std::size_t>(plies), kVeneer_mm);
  ply_mm.front() = ply_mm.back() = outer;
  return ply_mm;
}

std::vector<PlywoodSheet> MakeSheets() {
  const std::string handbook = "Handbook of Finnish Plywood, birch of 1.4 mm veneers, from memory";
  const std::string hobby = "hobby sheets, common practice, no source";
  const std::string american = "sold as this size in America, common practice, no source";
  const double in = kMmPerInch;
  std::vector<PlywoodSheet> sheets{
      {"1.5 mm birch plywood", 1.5, 1.5, {0.5, 0.5, 0.5}, false, hobby},
      {"1/16 in birch plywood", in / 16.0, 1.5, {0.5, 0.5, 0.5}, true, american},
      {"2 mm birch plywood", 2.0, 2.0, {0.65, 0.7, 0.65}, false, hobby},
      {"3/32 in birch plywood", in * 3.0 / 32.0, 2.3, {0.75, 0.8, 0.75}, true, american},
      {"3 mm birch plywood", 3.0, 3.0, Sanded(3, 3.0), false, hobby},
      {"1/8 in birch plywood", in / 8.0, 3.0, Sanded(3, 3.0), true, american},
      {"4 mm birch plywood", 4.0, 3.6, Sanded(3, 3.6), false, handbook},
      {"3/16 in birch plywood", in * 3.0 / 16.0, 4.5, {0.9, 0.9, 0.9, 0.9, 0.9}, true, american},
      {"6 mm birch plywood", 6.0, 6.0, Sanded(5, 6.0), false, hobby},
      {"1/4 in birch plywood", in / 4.0, 6.0, Sanded(5, 6.0), true, american},
      {"6.5 mm birch plywood", 6.5, 6.4, Sanded(5, 6.4), false, handbook},
      {"9 mm birch plywood", 9.0, 9.2, Sanded(7, 9.2), false, handbook},
      {"3/8 in birch plywood", in * 3.0 / 8.0, 9.2, Sanded(7, 9.2), true, american},
      {"12 mm birch plywood", 12.0, 12.0, Sanded(9, 12.0), false, handbook},
      {"1/2 in birch plywood", in / 2.0, 12.0, Sanded(9, 12.0), true, american},
      {"15 mm birch plywood", 15.0, 14.8, Sanded(11, 14.8), false, handbook},
      {"18 mm birch plywood", 18.0, 17.6, Sanded(13, 17.6), false, handbook},
  };
  return sheets;
}

}  // namespace

const std::vector<PlywoodSheet>& PlywoodSheets() {
  static const std::vector<PlywoodSheet> kSheets = MakeSheets();
  return kSheets;
}

const PlywoodSheet* FindPlywood(double nominal_mm, bool inch) {
  for (const PlywoodSheet& sheet : PlywoodSheets()) {
    if (sheet.inch == inch && std::abs(sheet.nominal_mm - nominal_mm) < kSameSheet_mm) {
      return &sheet;
    }
  }
  return nullptr;
}

std::vector<double> PliesFor_mm(double thickness_mm) {
  LW_REQUIRE(thickness_mm > 0.0, "thickness=" << thickness_mm);
  const PlywoodSheet* nearest = nullptr;
  double least = std::numeric_limits<double>::infinity();
  for (const PlywoodSheet& sheet : PlywoodSheets()) {
    const double away = std::abs(std::log(sheet.thickness_mm / thickness_mm));
    if (away >= least) continue;
    least = away;
    nearest = &sheet;
  }
  std::vector<double> plies = nearest->ply_mm;
  for (double& ply : plies) ply *= thickness_mm / nearest->thickness_mm;
  return plies;
}

}  // namespace lidwright
