// SPDX-License-Identifier: Apache-2.0
#include "forces_json.h"

#include <array>

#include "lidwright/base/units.h"
#include "lidwright/design/names.h"
#include "lidwright/forces/cautions.h"

namespace lidwright {
namespace {

Json StressJson(const ArmStress& s) {
  return {{"eccentricity", Number(s.eccentricity_mm)},
          {"body_mpa", Number(s.body_mpa)},
          {"body_at", Point(s.body_at)},
          {"shear_mpa", Number(s.shear_mpa)},
          {"eye_mpa", Number(s.eye_mpa)},
          {"eye_peak_mpa", Number(s.eye_peak_mpa)},
          {"tear_mpa", Number(s.tear_mpa)},
          {"bearing_mpa", Number(s.bearing_mpa)}};
}

Json MassJson(const MassProperties& mass) {
  return {{"mass_kg", Number(mass.mass_kg)},
          {"centre", Point(mass.centre)},
          {"z", Number(mass.z_mm)},
          {"inertia_kg_mm2", Number(mass.inertia_kg_mm2)}};
}

Json ByAngle(const Feel& feel) {
  Json json{{"angle_deg", Numbers(feel.theta_rad, kDegPerRad)},
            {"closing_moment_nmm", Numbers(feel.moment_nmm)},
            {"friction_nmm", Numbers(feel.friction_nmm)},
            {"lift_n", Numbers(feel.hand_n)},
            {"raise_n", Numbers(feel.raise_n)},
            {"lower_n", Numbers(feel.lower_n)},
            {"short_nmm", Numbers(feel.short_nmm)},
            {"arm_a_n", Numbers(feel.arm_a_n)},
            {"arm_b_n", Numbers(feel.arm_b_n)}};
  constexpr std::array<const char*, kJoints> kPins{"case_pin_a_n", "case_pin_b_n", "lid_pin_a_n",
                                                   "lid_pin_b_n"};
  for (std::size_t j = 0; j < kJoints; ++j) {
    std::vector<double> loads;
    for (const auto& pins : feel.pin_n) loads.push_back(pins[j]);
    json[kPins[j]] = Numbers(loads);
  }
  return json;
}

Json HoldingsJson(const Holdings& h) {
  Json json{{"needed", h.needed},
            {"support_nmm", Number(h.support_nmm)},
            {"support_from_deg", Degrees(kHandLeaves_rad)},
            {"stay_nmm", Number(h.stay_nmm)},
            {"stay_shut_nmm", Number(h.stay_shut_nmm)},
            {"washers", Json::array()},
            {"springs", Json::array()}};
  for (const FrictionWasher& w : h.washers) {
    json["washers"].push_back({{"on", NameOf(w.joint)},
                               {"torque_nmm", Number(w.torque_nmm)},
                               {"clamp_n", Number(w.clamp_n)},
                               {"stock", w.stock.name},
                               {"outside", Number(w.stock.outside_mm)},
                               {"inside", Number(w.stock.inside_mm)},
                               {"friction", Number(w.stock.friction)}});
  }
  for (const TorsionSpring& s : h.springs) {
    json["springs"].push_back({{"on", NameOf(s.joint)},
                               {"turn_deg", Degrees(s.turn_rad)},
                               {"shut_nmm", Number(s.shut_nmm)},
                               {"open_nmm", Number(s.open_nmm)},
                               {"left_nmm", Number(s.left_nmm)},
                               {"pops_open", s.pops_open}});
  }
  return json;
}

Json TippingJson(const Tipping& tip) {
  constexpr std::array<const char*, 3> kLids{"shut", "swinging", "open"};
  Json json{{"case_mass_kg", Number(tip.case_mass_kg)},
            {"least_margin_nmm", Number(tip.least_margin_nmm)},
            {"at_deg", Degrees(tip.at_rad)},
            {"pull_n", Number(tip.pull_n)},
            {"pull_full_n", Number(tip.pull_full_n)},
            {"pull_direction_deg", Degrees(tip.pull_direction_rad)},
            {"cases", Json::array()}};
  for (const Stance& s : tip.cases) {
    json["cases"].push_back({{"lid", kLids[static_cast<std::size_t>(s.lid)]},
                             {"full", s.full},
                             {"leaning", s.leaning},
                             {"over", s.backwards ? "back feet" : "front feet"},
                             {"at_deg", Degrees(s.theta_rad)},
                             {"keeps_nmm", Number(s.keeps_nmm)},
                             {"tips_nmm", Number(s.tips_nmm)},
                             {"stands", s.Stands()}});
  }
  return json;
}

Json AssumedJson(const LoadCase& load) {
  Json json{{"friction", Number(load.friction)},
            {"lean_n", Number(load.lean_n)},
            {"lean_share", Number(load.lean_share)},
            {"feet_back", Number(load.feet_back_x_mm)},
            {"feet_front", Number(load.feet_front_x_mm)},
            {"contents_kg", Number(load.contents_kg)},
            {"contents_at", Point(load.contents_at)},
            {"arm_material", load.arm_material},
            {"pin_material", load.pin_material},
            {"plate_material", load.plate_material},
            {"pins", Json::array()}};
  for (const PinSeat& pin : load.pins) {
    json["pins"].push_back({{"diameter", Number(pin.diameter_mm)},
                            {"reach", Number(pin.reach_mm)},
                            {"bearing", Number(pin.bearing_mm)},
                            {"in_plate", Number(pin.seat_mm)},
                            {"in_wood", Number(pin.wall_mm)}});
  }
  return json;
}

}  // namespace

Json Degrees(double rad) {
  return Number(rad * kDegPerRad);
}

Json Numbers(const std::vector<double>& values, double scale) {
  Json list = Json::array();
  for (const double value : values) list.push_back(Number(scale * value));
  return list;
}

Json ForcesJson(const HingeForces& f) {
  const Feel& feel = f.feel;
  Json stays = Json::array();
  for (const Feel::Stretch& s : feel.stays) {
    stays.push_back({Degrees(s.from_rad), Degrees(s.to_rad)});
  }
  Json json;
  json["lid"] = MassJson(feel.lid);
  json["lid"]["hardware_kg"] = Number(f.hardware_kg);
  json["lid"]["wood_kg_m3"] = Number(f.density_kg_m3);
  json["lid"]["wood_moisture"] = 0.12;
  json["assumed"] = AssumedJson(f.load);
  json["by_angle"] = ByAngle(feel);
  json["largest_lift_n"] = Number(feel.largest_lift_n);
  json["balance_deg"] = Degrees(feel.balance_rad);
  json["over_centre_deg"] = Degrees(feel.over_centre_rad);
  json["over_centre_nmm"] = Number(feel.over_centre_nmm);
  json["over_centre_tilt_deg"] = Degrees(feel.over_centre_tilt_rad);
  json["shut_push_n"] = Number(feel.shut_push_n);
  json["stays_deg"] = std::move(stays);
  json["holding_nmm"] = Number(feel.holding_nmm);
  json["holding"] = HoldingsJson(f.holdings);
  json["slam_m_s"] = Number(feel.slam_m_s);
  json["slam_j"] = Number(feel.slam_j);
  json["thrown_m_s"] = Number(feel.thrown_m_s);
  json["thrown_j"] = Number(feel.thrown_j);
  json["largest_pin_n"] = Number(feel.largest_pin_n);
  json["stop_n"] = Number(feel.stop_n);
  json["leaning"] = {{"pin_n", Number(feel.leaning_pin_n)},
                     {"on", NameOf(feel.leaning_joint)},
                     {"direction_deg", Degrees(feel.leaning_rad)},
                     {"stop_n", Number(feel.leaning_stop_n)}};
  json["load_n"] = Number(f.load_n);
  json["arm_a"] = StressJson(f.arm_a);
  json["arm_b"] = StressJson(f.arm_b);
  json["pin"] = {{"reach", Number(f.pin_reach_mm)},
                 {"bending_mpa", Number(f.pin.bending_mpa)},
                 {"shear_mpa", Number(f.pin.shear_mpa)}};
  json["safety"] = {
      {"least", Number(f.safety)}, {"wanted", Number(f.safety_wanted)}, {"weakest", f.weakest}};
  json["strengths"] = Json::array();
  for (const Strength& s : f.strengths) {
    json["strengths"].push_back(
        {{"part", s.part},
         {"how", s.how},
         {"when", s.leaning ? "somebody leans on the open lid" : "the lid is held"},
         {"load_n", Number(s.load)},
         {"acts", Number(s.acts)},
         {"bears", Number(s.bears)},
         {"unit", s.unit},
         {"factor", Number(s.Factor())},
         {"wanted", Number(s.wanted)},
         {"source", s.source}});
  }
  json["tipping"] = TippingJson(f.tipping);
  json["cautions"] = Json::array();
  for (const Caution& c : ForceCautions()) {
    json["cautions"].push_back({{"topic", c.topic}, {"text", c.text}, {"source", c.source}});
  }
  return json;
}

Json MissedJson(const std::vector<MissedShare>& missed) {
  Json json = Json::array();
  for (const MissedShare& m : missed) {
    json.push_back({{"what", NameOf(m.what, m.of)}, {"share", Number(m.share)}});
  }
  return json;
}

namespace {

Json SeasonJson(const SeasonFit& fit) {
  return {{"moisture_percent", Number(fit.percent)},
          {"gap", Number(fit.gap_mm)},
          {"seam_back_opens", Number(fit.back_opens_mm)},
          {"seam_front_opens", Number(fit.front_opens_mm)}};
}

}  // namespace

Json AccuracyJson(const Accuracy& a) {
  Json json{{"gap_slope", Numbers({a.gap_slope.begin(), a.gap_slope.end()})},
            {"gap_spread", Number(a.gap_spread)},
            {"worst_drop", Number(a.worst_drop)},
            {"seam_spread", Number(a.seam_spread)},
            {"error_it_stands", Number(a.error_it_stands_mm)},
            {"play", Number(a.play_mm)},
            {"rattle", Number(a.rattle_mm)},
            {"rattle_deg", Degrees(a.rattle_rad)},
            {"trial",
             {{"builds", a.builds},
              {"drill_error", Number(a.drill_error_mm)},
              {"place_error", Number(a.place_error_mm)},
              {"touching_share", Number(a.touching_share)},
              {"short_share", Number(a.short_share)},
              {"unopened_share", Number(a.unopened_share)},
              {"missed_share", Number(a.missed_share)},
              {"missed", MissedJson(a.missed)},
              {"gap_one_in_twenty", Number(a.gap_5_percent_mm)},
              {"measured_gap_one_in_twenty", Number(a.gap_measured_mm)},
              {"jig_seam_one_in_twenty", Number(a.seam_jig_mm)},
              {"measured_seam_one_in_twenty", Number(a.seam_measured_mm)},
              {"jig_stuck_share", Number(a.stuck_jig_share)},
              {"measured_stuck_share", Number(a.stuck_measured_share)}}},
            {"dry", SeasonJson(a.dry)},
            {"damp", SeasonJson(a.damp)},
            {"effects", Json::array()}};
  for (const ErrorEffect& e : a.effects) {
    json["effects"].push_back({{"what", e.what},
                               {"per", e.turns ? "rad" : "mm"},
                               {"gap_in_place", Number(e.gap_in_place)},
                               {"gap_measured", Number(e.gap_measured)},
                               {"seam_measured", Point(e.seam)},
                               {"front_in_place", Point(e.front_in_place)},
                               {"front_measured", Point(e.front_measured)}});
  }
  return json;
}

}  // namespace lidwright
