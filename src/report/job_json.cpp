// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/job_json.h"

#include <utility>

#include "json.h"
#include "lidwright/base/units.h"
#include "lidwright/job/woods.h"

namespace lidwright {
namespace {

// What stands in a file for `value` when the reader multiplies it by `per_unit`: the decimal that a
// person would have written if it gives the same number, else the nearest double.
double Written(double value, double per_unit) {
  const double plain = value / per_unit;
  for (const double places : {1.0, 1e3, 1e6, 1e9}) {
    const double rounded = std::round(plain * places) / places;
    if (rounded * per_unit == value) return rounded;
  }
  for (const double near : {plain, std::nextafter(plain, 0.0), std::nextafter(plain, 2 * plain)}) {
    if (near * per_unit == value) return near;
  }
  return plain;
}

Json At(const Vec2& p, double unit) {
  return Json::array({Written(p.x(), unit), Written(p.y(), unit)});
}

// Sets keys of one object; what nobody filled, or has no limit, is left out, which reads the same.
class Section {
 public:
  explicit Section(double mm_per_unit) : unit_(mm_per_unit) {}

  Section& Length(const char* key, double mm) { return Set(key, mm, unit_); }
  Section& Angle(const char* key, double rad) { return Set(key, rad, kRadPerDeg); }
  Section& Plain(const char* key, double value) { return Set(key, value, 1.0); }
  template <typename Value>
  Section& Put(const char* key, Value&& value) {
    json_[key] = std::forward<Value>(value);
    return *this;
  }
  /// A text; none is left out.
  Section& Word(const char* key, const std::string& text) {
    if (!text.empty()) json_[key] = text;
    return *this;
  }
  /// A flag that is off unless given.
  Section& Wish(const char* key, bool on) {
    if (on) json_[key] = true;
    return *this;
  }
  /// A line of points; none are left out.
  Section& Points(const char* key, const std::vector<Vec2>& points) {
    for (const Vec2& p : points) json_[key].push_back(At(p, unit_));
    return *this;
  }
  Json Done() { return std::move(json_); }

 private:
  Section& Set(const char* key, double value, double per_unit) {
    if (std::isfinite(value)) json_[key] = Written(value, per_unit);
    return *this;
  }
  double unit_;
  Json json_ = Json::object();
};

Json Rings(const std::vector<Ring>& rings, double unit) {
  Json json = Json::array();
  for (const Ring& ring : rings) {
    Json points = Json::array();
    for (const Vec2& p : ring) points.push_back(At(p, unit));
    json.push_back(std::move(points));
  }
  return json;
}

Json PivotWishJson(const PivotWish& wish, double unit) {
  Json json = Json::object();
  const auto point = [&](const char* key, const std::optional<Vec2>& at) {
    if (at) json[key] = At(*at, unit);
  };
  const auto zone = [&](const char* key, const std::optional<Zone>& z) {
    if (z) json[key] = Json::array({At(z->low, unit), At(z->high, unit)});
  };
  point("case_a", wish.case_a);
  point("case_b", wish.case_b);
  point("lid_a", wish.lid_a);
  point("lid_b", wish.lid_b);
  zone("case_zone", wish.case_zone);
  zone("lid_zone", wish.lid_zone);
  return json;
}

void AddLists(const Job& job, double unit, Json* json) {
  for (const Contents& contents : job.contents) {
    (*json)["contents"].push_back(Section(unit)
                                      .Put("outline", Rings(contents.rings, unit))
                                      .Length("from_z", contents.z_min_mm)
                                      .Length("to_z", contents.z_max_mm)
                                      .Done());
  }
  for (const PoseWish& pose : job.poses) {
    (*json)["poses"].push_back(Section(unit)
                                   .Angle("angle_deg", pose.angle_rad)
                                   .Put("at", At(pose.at, unit))
                                   .Put("point", At(pose.point, unit))
                                   .Length("within", pose.within_mm)
                                   .Done());
  }
  for (const StationOutline& station : job.stations) {
    (*json)["stations"].push_back(Section(unit)
                                      .Length("z", station.z_mm)
                                      .Put("case", Rings(station.case_rings, unit))
                                      .Put("lid", Rings(station.lid_rings, unit))
                                      .Done());
  }
}

}  // namespace

Json JobJson(const Job& job) {
  const double unit = job.inches ? kMmPerInch : 1.0;
  Json json;
  json["name"] = job.name;
  json["units"] = job.inches ? "in" : "mm";
  json["seed"] = job.seed;
  json["case"] = Section(unit)
                     .Length("width", job.case_form.width_mm)
                     .Length("depth", job.case_form.depth_mm)
                     .Length("height", job.case_form.height_mm)
                     .Length("back_wall", job.case_form.back_wall_mm)
                     .Length("front_wall", job.case_form.front_wall_mm)
                     .Length("end_wall", job.case_form.end_wall_mm)
                     .Length("floor", job.case_form.floor_mm)
                     .Length("back_bow", job.case_form.back_bow_mm)
                     .Length("front_bow", job.case_form.front_bow_mm)
                     .Length("rim_arch", job.case_form.rim_arch_mm)
                     .Length("rim_arch_side", job.case_form.rim_arch_side_mm)
                     .Angle("back_flare_deg", job.case_form.back_flare_rad)
                     .Angle("front_flare_deg", job.case_form.front_flare_rad)
                     .Angle("end_flare_deg", job.case_form.end_flare_rad)
                     .Length("back_cup", job.case_form.back_cup_mm)
                     .Length("front_cup", job.case_form.front_cup_mm)
                     .Length("end_cup", job.case_form.end_cup_mm)
                     .Length("feet", job.case_form.feet_mm)
                     .Length("feet_inset", job.case_form.feet_inset_mm)
                     .Length("feet_depth", job.case_form.feet_depth_mm)
                     .Length("bottom_hollow", job.case_form.bottom_hollow_mm)
                     .Done();
  json["lid"] = Section(unit)
                    .Length("rim", job.lid.rim_mm)
                    .Length("crown", job.lid.crown_mm)
                    .Length("crown_at_ends", job.lid.crown_at_ends_mm)
                    .Length("wall", job.lid.wall_mm)
                    .Length("top", job.lid.top_mm)
                    .Length("seam_gap", job.lid.seam_gap_mm)
                    .Put("curve_back", job.lid.curve_back)
                    .Put("curve_front", job.lid.curve_front)
                    .Put("curve_across", job.lid.curve_across)
                    .Plain("exponent", job.lid.exponent)
                    .Points("profile", job.lid.profile)
                    .Points("profile_across", job.lid.profile_across)
                    .Length("top_at_edges", job.lid.top_at_edges_mm)
                    .Length("hollow", job.lid.hollow_mm)
                    .Length("lip", job.lid.lip_mm)
                    .Put("lip_side", job.lid.lip_side)
                    .Length("lip_wall", job.lid.lip_wall_mm)
                    .Length("lip_play", job.lid.lip_play_mm)
                    .Wish("lip_at_ends", job.lid.lip_at_ends)
                    .Done();
  json["swing"] = Section(unit)
                      .Angle("open_deg", job.swing.open_rad)
                      .Length("gap", job.swing.gap_mm)
                      .Angle("gap_from_deg", job.swing.gap_from_rad)
                      .Done();
  json["room"] = Section(unit)
                     .Length("behind", job.room.behind_mm)
                     .Length("above", job.room.above_mm)
                     .Put("bench_below", job.room.bench_below)
                     .Length("open_behind_x", job.room.open_behind_x_mm)
                     .Plain("mouth_free", job.room.mouth_free)
                     .Done();
  json["arms"] = Section(unit)
                     .Length("width", job.arms.width_mm)
                     .Length("thickness", job.arms.thickness_mm)
                     .Length("gap", job.arms.gap_mm)
                     .Length("bushing", job.arms.bushing_mm)
                     .Length("eye", job.arms.eye_mm)
                     .Put("material", job.arms.material)
                     .Done();
  json["plates"] = Section(unit)
                       .Put("on_case", job.plates.on_case)
                       .Put("on_lid", job.plates.on_lid)
                       .Word("material", job.plates.material)
                       .Length("case_thickness", job.plates.case_mm)
                       .Length("lid_thickness", job.plates.lid_mm)
                       .Length("packing", job.plates.packing_mm)
                       .Done();
  const HardwareWish& hardware = job.hardware;
  json["hardware"] = Section(unit)
                         .Length("pin", hardware.pin_mm)
                         .Length("bushing_bore", hardware.bore_mm)
                         .Length("arm_press", hardware.arm_press_mm)
                         .Length("pin_press", hardware.pin_press_mm)
                         .Length("spacer", hardware.spacer_mm)
                         .Length("washer", hardware.washer_mm)
                         .Length("washer_thickness", hardware.washer_thickness_mm)
                         .Word("screw", hardware.screw)
                         .Length("screw_length", hardware.screw_length_mm)
                         .Done();
  json["bay"] = Section(unit)
                    .Length("width", job.bay.width_mm)
                    .Length("edge", job.bay.edge_mm)
                    .Length("lid_drop", job.bay.lid_drop_mm)
                    .Done();
  json["shop"] = Section(unit)
                     .Length("cutter", job.shop.cutter_mm)
                     .Length("grid", job.shop.grid_mm)
                     .Length("drill_error", job.shop.drill_error_mm)
                     .Length("kerf", job.shop.kerf_mm)
                     .Length("sheet_width", job.shop.sheet_width_mm)
                     .Length("sheet_height", job.shop.sheet_height_mm)
                     .Length("sheet_margin", job.shop.sheet_margin_mm)
                     .Length("between", job.shop.between_mm)
                     .Length("web", job.shop.web_mm)
                     .Put("tabs", job.shop.tabs)
                     .Length("tab_length", job.shop.tab_mm)
                     .Put("paths", job.shop.paths)
                     .Put("paper", job.shop.paper)
                     .Length("place_error", job.shop.place_error_mm)
                     .Done();
  // The wood's own density is left to the wood, so that another wood brings its own.
  const Wood* wood = FindWood(job.loads.wood);
  const bool of_wood = wood != nullptr && Density_kg_m3(*wood) == job.loads.density_kg_m3;
  json["loads"] = Section(unit)
                      .Put("wood", job.loads.wood)
                      .Plain("density_kg_m3", of_wood ? kUnset : job.loads.density_kg_m3)
                      .Plain("lid_mass_kg", job.loads.lid_mass_kg)
                      .Plain("friction", job.loads.friction)
                      .Plain("hand_n", job.loads.hand_n)
                      .Plain("contents_kg", job.loads.contents_kg)
                      .Length("feet_back", job.loads.feet_back_mm)
                      .Length("feet_front", job.loads.feet_front_mm)
                      .Done();
  Json pivots = PivotWishJson(job.pivots, unit);
  if (!pivots.empty()) json["pivots"] = std::move(pivots);
  if (!job.stations.empty()) {
    json["stations_error"] = Written(job.stations_error_mm, unit);
  }
  AddLists(job, unit, &json);
  return json;
}

std::string WriteJobJson(const Job& job) {
  return Lines(JobJson(job));
}

}  // namespace lidwright
