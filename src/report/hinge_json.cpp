// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/hinge_json.h"

#include <cmath>

#include "forces_json.h"
#include "json.h"
#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/cutting/arm_holes.h"
#include "lidwright/cutting/work_steps.h"
#include "lidwright/job/file_format.h"
#include "lidwright/job/read_pivots.h"
#include "lidwright/job/write_job.h"
#include "plain_words.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {
namespace {

Json CircleJson(const Circle& circle) {
  Json json;
  json["at"] = Point(circle.centre);
  json["diameter"] = Number(2.0 * circle.radius_mm);
  return json;
}

Json VerticesJson(const std::vector<OutlineVertex>& vertices) {
  Json json = Json::array();
  for (const OutlineVertex& v : vertices) json.push_back({v.point.x(), v.point.y(), v.bulge});
  return json;
}

Json CirclesJson(const std::vector<Circle>& circles) {
  Json json = Json::array();
  for (const Circle& circle : circles) json.push_back(CircleJson(circle));
  return json;
}

// Arms are found and certified with holes as wide as the bushings, and read back so: hole_mm. What
// is drilled is narrower where bushings are pressed in.
Json ArmJson(const Arm& arm, const ArmHoles& holes) {
  Json json;
  json["layer"] = arm.layer;
  json["hole_mm"] = 2.0 * arm.case_hole.radius_mm;
  json["drilled_mm"] = Number(holes.drilled_mm);
  json["length"] = Number(arm.length_mm);
  json["inside_radius"] = Number(arm.inside_radius_mm);
  json["z"] = {Number(arm.z_min_mm), Number(arm.z_max_mm)};
  json["holes"] = Json::array();
  for (Circle hole : {arm.case_hole, arm.lid_hole}) {
    if (!std::isnan(holes.drilled_mm)) hole.radius_mm = holes.drilled_mm / 2.0;
    json["holes"].push_back(CircleJson(hole));
  }
  json["outline"] = VerticesJson(arm.outline.vertices);
  json["centreline"] = VerticesJson(arm.centreline);
  return json;
}

Json VerdictJson(const Verdict& v, bool inches) {
  Json json;
  json["what"] = NameOf(v);
  json["met"] = v.met();
  json["proven"] = !v.sampled && v.outcome != Outcome::kUndecided;
  json[v.at_most ? "at_most" : "required"] = Number(v.required.value_or(kUnset));
  json["found"] = Number(v.found.value_or(kUnset));
  if (v.seen) json["seen"] = Number(*v.seen);
  json["outcome"] = WordOf(v.outcome);
  json["unit"] = WordOf(v.unit);
  json["angle_deg"] = Degrees(v.angle_rad.value_or(kUnset));
  if (v.nearest) {
    json["spot"] = {{"first", Point(v.nearest->on_first)},
                    {"second", Point(v.nearest->on_second)},
                    {"z", Number(v.nearest->z_mm)},
                    {"gap", Number(v.nearest->gap_mm)}};
  }
  if (!PartsOf(v).empty()) json["parts"] = PartsOf(v);
  if (!RemarkOf(v, inches).empty()) json["remark"] = RemarkOf(v, inches);
  return json;
}

// In units of so many millimetres.
Json PivotsJson(const Pivots& p, double unit = 1.0) {
  Json json;
  json["case_a"] = Point(p.case_a / unit);
  json["case_b"] = Point(p.case_b / unit);
  json["lid_a"] = Point(p.lid_a / unit);
  json["lid_b"] = Point(p.lid_b / unit);
  return json;
}

Json ArmsJson(const Hinge& hinge) {
  Json json = Json::object();
  if (hinge.arm_a) json["a"] = ArmJson(*hinge.arm_a, HolesOf(hinge, Body::kArmA));
  if (hinge.arm_b) json["b"] = ArmJson(*hinge.arm_b, HolesOf(hinge, Body::kArmB));
  return json;
}

Json StayJson(const Stay& stay) {
  return {{"sold_as", stay.sold.name},
          {"on_case", Point(stay.on_case)},
          {"on_lid", Point(stay.on_lid)},
          {"length", Number(stay.length_mm)},
          {"screws", stay.fixing.name},
          {"bolted", stay.fixing.bolted},
          {"bears_n", Number(stay.sold.working_n)}};
}

Json PadJson(const Pad& pad) {
  return {{"on_lid", Point(pad.foot)},
          {"outer_end", {Number(pad.outer_end.lower_mm), Number(pad.outer_end.upper_mm)}},
          {"inner_end", {Number(pad.inner_end.lower_mm), Number(pad.inner_end.upper_mm)}},
          {"width", Number(pad.width_mm)},
          {"length", Number(pad.Length_mm())},
          {"meets_case", Point(pad.contact)}};
}

const char* KindWord(PieceKind kind) {
  constexpr const char* kWords[] = {"arm", "case_plate", "lid_plate", "stop", "spacer", "washer",
                                    "pin", "bushing",    "screw",     "jig",  "pad"};
  return kWords[static_cast<std::size_t>(kind)];
}

Json PieceJson(const HingePiece& piece) {
  constexpr const char* kBodyWords[] = {"case", "lid", "arm_a", "arm_b"};
  Json json;
  json["name"] = piece.name;
  json["kind"] = KindWord(piece.kind);
  json["moves_with"] = kBodyWords[static_cast<std::size_t>(piece.body)];
  json["material"] = piece.material;
  json["per_end"] = piece.per_end;
  json["z"] = {Number(piece.z_min_mm), Number(piece.z_max_mm)};
  json["outline"] = VerticesJson(piece.outline.vertices);
  json["holes"] = CirclesJson(piece.holes);
  json["drills"] = CirclesJson(piece.drills);
  if (!piece.note.empty()) json["note"] = piece.note;
  return json;
}

Json PartsJson(const HingeSet& set, bool inches) {
  Json json;
  json["complete"] = set.complete;
  json["faults"] = set.faults;
  json["said"] = set.sentences;
  json["pieces"] = Json::array();
  for (const HingePiece& piece : set.pieces) json["pieces"].push_back(PieceJson(piece));
  json["wood"] = Json::array();
  for (const WoodWork& work : set.bench_work) {
    json["wood"].push_back({{"what", work.what},
                            {"in", work.body == Body::kLid ? "lid" : "case"},
                            {"hole", CircleJson(work.hole)},
                            {"depth", Number(work.depth_mm)},
                            {"note", work.note}});
  }
  json["buy"] = Json::array();
  for (const HardwareLine& line : set.buy) {
    json["buy"].push_back({{"name", line.name},
                           {"per_end", line.per_end},
                           {"length", Number(line.length_mm)},
                           {"note", line.note}});
  }
  json["verdicts"] = Json::array();
  for (const Verdict& v : set.verdicts) json["verdicts"].push_back(VerdictJson(v, inches));
  return json;
}

Json MoveJson(const AssemblyMove& move) {
  constexpr const char* kKinds[] = {"along_pins", "tool", "lowered"};
  Json json;
  json["what"] = move.what;
  json["kind"] = kKinds[static_cast<std::size_t>(move.kind)];
  json["lid_deg"] = Degrees(move.lid_rad);
  json["way"] = Point(move.way);
  json["along_z"] = Number(move.along_z_mm);
  json["room"] = std::isfinite(move.room_mm) ? Number(move.room_mm) : Json(nullptr);
  if (!move.nearest.empty()) json["nearest"] = move.nearest;
  json["free"] = move.free;
  return json;
}

Json OrderJson(const Job& job, const HingeSet& set) {
  Json order = Json::array();
  for (const WorkStep& step : WorkSteps(job, set)) {
    Json json;
    json["title"] = step.title;
    json["done"] = step.text;
    json["held"] = step.held;
    json["moves"] = step.moves;
    json["tool"] = step.tool;
    json["pieces"] = step.pieces;
    json["motions"] = Json::array();
    for (const AssemblyMove& move : step.motions) json["motions"].push_back(MoveJson(move));
    order.push_back(std::move(json));
  }
  return order;
}

// Shares of the one merit and their sum; nothing for a hinge that nothing was compared with.
Json MeritJson(const Merit& m) {
  return {{"total", Number(m.Total())},         {"rattle", Number(m.rattle)},
          {"misfit", Number(m.misfit)},         {"lift", Number(m.lift)},
          {"behind", Number(m.behind)},         {"arms", Number(m.arms)},
          {"crooked", Number(m.crooked)},       {"hang", Number(m.hang)},
          {"over_bench", Number(m.over_bench)}, {"strength", Number(m.strength)},
          {"builds", Number(m.builds)}};
}

Json HingeJson(const Hinge& hinge, const Job& job) {
  const bool inches = job.inches;
  Json json;
  const Traits& t = hinge.traits;
  json["character"] = hinge.character;
  json["pivots"] = PivotsJson(hinge.pivots);
  json["arms"] = ArmsJson(hinge);
  json["traits"] = {{"least_gap", Number(t.least_gap_mm)},
                    {"arms_length", Number(t.arms_length_mm)},
                    {"reach_behind", Number(t.reach_behind_mm)},
                    {"reach_behind_deg", Degrees(t.reach_behind_rad)},
                    {"mouth_free", Number(t.mouth_free)},
                    {"play_factor", Number(t.play_factor)},
                    {"seam_off_one_in_twenty", Number(t.seam_off_mm)},
                    {"seam_stuck_share", Number(t.seam_stuck_share)},
                    {"lift_factor", Number(t.lift_factor)},
                    {"arms_safety", Number(t.arms_safety)},
                    {"least_transmission_deg", Degrees(t.least_transmission_rad)},
                    {"arms_angle_deg", Degrees(t.arms_angle_rad)}};
  if (!std::isnan(hinge.merit.rattle)) json["merit"] = MeritJson(hinge.merit);
  Json dead = Json::array();
  for (const double angle : t.dead_points_rad) dead.push_back(Degrees(angle));
  json["traits"]["dead_points_deg"] = std::move(dead);
  json["verdicts"] = Json::array();
  for (const Verdict& v : hinge.verdicts) json["verdicts"].push_back(VerdictJson(v, inches));
  if (hinge.forces) {
    json["forces"] = ForcesJson(*hinge.forces);
    json["forces"]["by_angle"]["lid_gap"] = Numbers(hinge.gap_by_angle_mm);
  }
  if (hinge.parts) json["parts"] = PartsJson(*hinge.parts, inches);
  if (hinge.parts) json["order_of_work"] = OrderJson(job, *hinge.parts);
  if (hinge.parts && hinge.parts->stay) json["stay"] = StayJson(*hinge.parts->stay);
  if (hinge.parts && hinge.parts->pad) json["pad"] = PadJson(*hinge.parts->pad);
  if (hinge.accuracy) json["accuracy"] = AccuracyJson(*hinge.accuracy);
  return json;
}

Json PlainJson(const PlainHinge& plain, bool inches) {
  Json json;
  json["works"] = plain.works;
  json["why"] = PlainSentence(plain, inches);
  json["pin"] = plain.works ? Point(plain.best) : Json(nullptr);
  json["map"] = {{"low", Point(plain.low)}, {"step", plain.step_mm}, {"rows", Json::array()}};
  const char letters[] = {'+', 'r', 'c', 'a', 'b'};  // works, rim, collides, access, beyond room
  for (int row = 0; row < plain.rows; ++row) {
    std::string line;
    for (int column = 0; column < plain.columns; ++column) {
      const auto at = static_cast<std::size_t>(row) * static_cast<std::size_t>(plain.columns) +
                      static_cast<std::size_t>(column);
      line += letters[static_cast<int>(plain.map[at])];
    }
    json["map"]["rows"].push_back(line);
  }
  return json;
}

}  // namespace

std::string WriteBuiltJson(const Design& design) {
  LW_REQUIRE(!design.hinges.empty(), "no hinge was built");
  Json json;
  json["#"] =
      "Put the pivots as measured in here, then: lidwright check JOB built.json. The job below has "
      "the sizes that were cut.";
  json["format"] = FormatText(kHingeFormat);
  json["units"] = design.job.inches ? "in" : "mm";
  json["pivots"] = PivotsJson(design.hinges.front().pivots, design.job.inches ? kMmPerInch : 1.0);
  json["job"] = JobJson(design.job);
  return JsonLines(json);
}

std::string WriteHingeJson(const Design& design) {
  Json json;
  json["format"] = FormatText(kHingeFormat);
  json["units"] = "mm";
  json["job"] = JobJson(design.job);
  if (!design.sizes.empty()) {
    json["sizes"] = {{"chosen", design.sizes}, {"why", design.sizes_why}};
  }
  if (!design.hinges.empty()) {
    json["pivots"] = PivotsJson(design.hinges.front().pivots);
    json["arms"] = ArmsJson(design.hinges.front());
  }
  json["hinges"] = Json::array();
  for (const Hinge& hinge : design.hinges) json["hinges"].push_back(HingeJson(hinge, design.job));
  if (design.none) {
    Json remedies = Json::array();
    for (const Remedy& remedy : design.none->remedies) remedies.push_back(remedy.words);
    json["none"] = {{"failing", design.none->failing},
                    {"missed_by", Number(design.none->missed_by)},
                    {"cannot", design.none->cannot},
                    {"unit", design.none->unit},
                    {"nearest", NearestText(*design.none, design.job.inches)},
                    {"remedies", remedies}};
  }
  json["plain_hinge"] = PlainJson(design.plain, design.job.inches);
  json["model"] = {{"stations", design.solid.stations.size()},
                   {"mirrored", design.solid.mirrored},
                   {"blend_error", Number(design.solid.blend_error_mm)},
                   {"chord_error", Number(design.solid.chord_error_mm)}};
  const SearchRecord& s = design.search;
  json["search"] = {{"starts", s.starts},      {"opening", s.opening},
                    {"descents", s.descents},  {"tried", s.tried},
                    {"clearing", s.clearing},  {"armed", s.armed},
                    {"rounds", s.rounds},      {"rounds_at_best", s.rounds_at_best},
                    {"converged", s.converged}};
  return JsonLines(json);
}

}  // namespace lidwright
