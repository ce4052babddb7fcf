// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_frame.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

// A lid whose end lies farther than this share of the width from the case's end is misplaced.
constexpr double kFarEnd = 0.1;

const char* const kAxisNames[] = {"x", "-x", "y", "-y", "z", "-z"};

Vec3 Direction(MeshAxis axis) {
  const int index = static_cast<int>(axis);
  Vec3 way = Vec3::Zero();
  way[index / 2] = index % 2 == 0 ? 1.0 : -1.0;
  return way;
}

struct Box3 {
  Vec3 low = Vec3::Constant(1e300), high = Vec3::Constant(-1e300);
  Vec3 middle() const { return (low + high) / 2.0; }
};

Box3 BoxOf(const Mesh& mesh) {
  Box3 box;
  for (const auto& facet : mesh.facets) {
    for (const std::uint32_t i : facet) {
      box.low = box.low.cwiseMin(mesh.points[i]);
      box.high = box.high.cwiseMax(mesh.points[i]);
    }
  }
  return box;
}

// "cm (50 mm deep) or in (127 mm deep)": units in which a depth of `units` makes a box.
std::string UnitsThatFit(double units) {
  std::string text;
  for (const auto& [name, mm] : kMeshUnits) {
    if (units * mm < kShallowestBox_mm || units * mm > kDeepestBox_mm) continue;
    text += (text.empty() ? "" : " or ") + std::string("--unit ") + name + " (" +
            Text(units * mm, 1) + " mm deep)";
  }
  return text;
}

std::string NameOf(MeshAxis axis) {
  return kAxisNames[static_cast<int>(axis)];
}

// What may be meant when the lid does not lie above the case but `apart` from it.
std::string WhereInstead(const Vec3& apart, double depth_mm, const MeshWish& wish) {
  const std::string shut = "the lid must be given shut, in place on the case";
  if (apart.norm() < 1e-3 * depth_mm) return "is it the same file twice? T" + shut.substr(1);
  // In the meshes' own axes.
  const Vec3 x = -Direction(wish.hinge_side), y = Direction(wish.up), z = x.cross(y);
  const Vec3 own = apart.x() * x + apart.y() * y + apart.z() * z;
  int axis = 0;
  own.cwiseAbs().maxCoeff(&axis);
  const std::string toward = kAxisNames[2 * axis + (own[axis] < 0.0 ? 1 : 0)];
  if (toward == NameOf(wish.up)) return shut;
  const std::string swapped =
      own.dot(y) < -0.5 * apart.norm() ? "are the two files the other way round, or " : "";
  return "it lies towards " + toward + ": " + swapped + "did you mean --up " + toward + "? T" +
         shut.substr(1);
}

}  // namespace

std::optional<MeshAxis> ReadMeshAxis(const std::string& text) {
  std::string plain;
  for (const char c : text) plain += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  if (!plain.empty() && plain[0] == '+') plain.erase(0, 1);
  for (int i = 0; i < 6; ++i) {
    if (plain == kAxisNames[i]) return static_cast<MeshAxis>(i);
  }
  return std::nullopt;
}

std::string LengthOf(double mm, const MeshWish& wish) {
  return LengthText_mm(mm, wish.inches);
}

void TurnMesh(const MeshWish& wish, Mesh* mesh) {
  const Vec3 y = Direction(wish.up), x = -Direction(wish.hinge_side);
  LW_REQUIRE(x.dot(y) == 0.0 && wish.mm_per_unit > 0.0, "unit=" << wish.mm_per_unit);
  Eigen::Matrix3d turn;
  turn << x.transpose(), y.transpose(), x.cross(y).transpose();
  turn *= wish.mm_per_unit;
  for (Vec3& p : mesh->points) p = turn * p;
}

Problems PlacingFaults(const Mesh& box_mesh, const Mesh& lid_mesh, const MeshWish& wish) {
  Problems problems;
  const Box3 box = BoxOf(box_mesh), lid = BoxOf(lid_mesh);
  const auto add = [&](const std::string& file, const std::string& rule, const std::string& hint) {
    problems.push_back({file, 0, "", "", rule, hint});
  };
  const double depth = box.high.x() - box.low.x();
  if (depth < kShallowestBox_mm || depth > kDeepestBox_mm) {
    const std::string fit = UnitsThatFit(depth / wish.mm_per_unit);
    add(wish.case_file, "the case would be " + LengthOf(depth, wish) + " from back to front",
        fit.empty() ? "no usual unit makes a box of it" : "did you mean " + fit + "?");
    return problems;  // all else would follow from it
  }
  const double across = box.high.z() - box.low.z();
  if (across < kShallowestBox_mm) {
    add(wish.case_file, "the case would be " + LengthOf(across, wish) + " from end to end",
        "a box is hinged along a long side: is --hinge-side right?");
    return problems;
  }
  const Vec3 apart = lid.middle() - box.middle();
  if (lid.high.y() <= box.high.y() || apart.y() <= 0.0) {
    add(wish.lid_file, "the lid does not lie above the case with --up " + NameOf(wish.up),
        WhereInstead(apart, depth, wish));
    return problems;
  }
  const auto beside = [&](int axis, const std::string& way) {
    const double shared =
        std::min(box.high[axis], lid.high[axis]) - std::max(box.low[axis], lid.low[axis]);
    const double least = std::min(box.high[axis] - box.low[axis], lid.high[axis] - lid.low[axis]);
    if (shared >= 0.5 * least) return false;
    add(wish.lid_file,
        "the lid does not lie over the case: " + way + " its middle is " +
            LengthOf(std::abs(apart[axis]), wish) + " away from the case's",
        "export both in place, the lid shut");
    return true;
  };
  if (beside(0, "front to back") || beside(2, "across")) return problems;
  const double float_mm = lid.low.y() + wish.lift_lid_mm - box.high.y();
  if (float_mm > kLargestSeam_mm) {
    add(wish.lid_file, "the lid floats at least " + LengthOf(float_mm, wish) + " above the case",
        "give the lid shut, or set it down with a negative --lift");
  }
  const double width = std::max(box.high.z(), lid.high.z()) - std::min(box.low.z(), lid.low.z());
  for (const double side : {-1.0, 1.0}) {
    const double box_end = side < 0.0 ? -box.low.z() : box.high.z();
    const double lid_end = side < 0.0 ? -lid.low.z() : lid.high.z();
    const double beyond = lid_end - box_end;
    if (beyond >= -kLargestSeam_mm && beyond <= kFarEnd * width) continue;
    add(wish.lid_file,
        "at " + std::string(side < 0.0 ? "one end" : "the other end") + " the lid ends " +
            LengthOf(std::abs(beyond), wish) + (beyond < 0.0 ? " before" : " beyond") +
            " the case's",
        "are both of one box, and in place?");
  }
  return problems;
}

}  // namespace lidwright
