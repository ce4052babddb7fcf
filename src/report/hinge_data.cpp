// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/base/parallel.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/looks/looks.h"
#include "lidwright/report/page_views.h"
#include "lidwright/synthesis/box_assembly.h"
#include "page_data.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {
namespace {

double To(double places, double value) {
  return std::round(value * places) / places;
}

// The least gap of pairs over the lid's angle as [angle, gap], null where nothing is near at all.
// The model's error is off it, as it is off the bounds; at the angle where a gap was certified the
// curve goes down to the bound, so that one gap has one number.
class GapCurve {
 public:
  GapCurve(const LidMotion& motion, const Hinge& hinge, const std::vector<double>& angles)
      : motion_(motion), hinge_(hinge), angles_(angles) {}

  Json Of(const std::vector<PartPair>& pairs, double error_mm, bool (*judged)(Requirement)) const {
    std::map<double, double> certified;  // by angle
    for (const Verdict& v : hinge_.verdicts) {
      if (!judged(v.what) || !v.nearest || !v.angle_rad || !v.found) continue;
      const double theta = *v.angle_rad;
      if (theta >= angles_.front() && theta <= angles_.back()) certified[theta] = *v.found;
    }
    std::map<double, double> points;
    for (const double theta : angles_) points[To(1e6, theta)] = theta;
    for (const auto& [theta, found] : certified) {
      points.erase(To(1e6, theta));
      points[theta] = theta;
    }
    Fill(pairs, error_mm, points);
    for (const auto& [theta, found] : certified) points[theta] = std::min(points[theta], found);
    Json curve = Json::array();
    for (const auto& [theta, gap] : points) {
      // Gaps are cut off, not rounded: a thousandth more would be a tenth on the page.
      curve.push_back(
          {theta, std::isfinite(gap) ? Json(std::floor(gap * 1e3 + 1e-4) / 1e3) : Json(nullptr)});
    }
    return curve;
  }

 private:
  // Puts in the place of each angle its gap.
  void Fill(const std::vector<PartPair>& pairs, double error_mm,
            std::map<double, double>& points) const {
    constexpr std::size_t kFollowed = 16;  // angles: enough that the first, unaided look is repaid
    std::vector<double*> at;
    for (auto& [said, theta] : points) at.push_back(&theta);
    ParallelFor((at.size() + kFollowed - 1) / kFollowed, 0, [&](std::size_t block) {
      GapFollower gap(pairs);
      const std::size_t end = std::min(at.size(), (block + 1) * kFollowed);
      for (std::size_t i = block * kFollowed; i < end; ++i) *at[i] = At(*at[i], gap, error_mm);
    });
  }
  double At(double theta, GapFollower& gap, double error_mm) const {
    const std::optional<Nearness> near = gap.At(BodiesAt(motion_, theta));
    if (!near) return std::numeric_limits<double>::infinity();
    if (near->gap_mm <= 0.0) return near->gap_mm;
    return std::max(0.0, near->gap_mm - error_mm);  // what touches when shut does not cross
  }

  const LidMotion& motion_;
  const Hinge& hinge_;
  const std::vector<double>& angles_;
};

void AddCurves(const Solid& solid, const Assembly& box, const Hinge& hinge, const LidMotion& motion,
               const std::vector<double>& angles, Json* json) {
  const GapCurve curve(motion, hinge, angles);
  const double error_mm = ModelError_mm(solid);
  (*json)["gap"] =
      curve.Of(PairsBetween(box.Shapes(PartKind::kLid), box.Shapes(PartKind::kCase)), error_mm,
               [](Requirement what) { return what == Requirement::kLidToCase; });
  std::vector<PartPair> pairs;
  Assembly arms;
  for (const auto& [arm, body] :
       {std::pair(&hinge.arm_a, Body::kArmA), {&hinge.arm_b, Body::kArmB}}) {
    if (*arm) AddArm(**arm, body, solid.mirrored, arms);
  }
  for (const PartKind around :
       {PartKind::kCase, PartKind::kLid, PartKind::kWall, PartKind::kBench, PartKind::kContents}) {
    const auto more = PairsBetween(arms.Shapes(PartKind::kArm), box.Shapes(around));
    pairs.insert(pairs.end(), more.begin(), more.end());
  }
  (*json)["armGap"] = curve.Of(pairs, error_mm, IsGapOfArms);
  if (!hinge.forces) return;
  const Feel& feel = hinge.forces->feel;
  Json lift = Json::array();
  for (std::size_t i = 0; i < feel.theta_rad.size(); ++i) {
    lift.push_back({To(1e6, feel.theta_rad[i]), To(1e4, feel.hand_n[i])});
  }
  (*json)["lift"] = std::move(lift);
  (*json)["stays"] = Json::array();
  for (const Feel::Stretch& s : feel.stays) {
    (*json)["stays"].push_back({To(1e6, s.from_rad), To(1e6, s.to_rad)});
  }
}

Json SpotJson(const Verdict& v, std::size_t index, const Vec2& from, const Vec2& to, double z_mm,
              const Job& job) {
  std::string says = FoundNumber(v, job.inches);
  if (!v.met() && v.required) {
    says += (v.at_most ? " instead of at most " : " instead of ") + RequiredNumber(v, job.inches);
  }
  return {{"verdict", index},
          {"what", NameOf(v)},
          {"met", v.met()},
          {"says", says},
          {"theta", *v.angle_rad},
          {"gap", Number(v.found.value_or(kUnset))},
          {"required", Number(v.required.value_or(kUnset))},
          {"z", To(1e3, z_mm)},
          {"at", {from.x(), from.y(), to.x(), to.y()}}};
}

// Where the open lid stands too far forward: from its foremost point to the line it should stay
// behind, that of the job or the one that leaves enough of the mouth free.
std::optional<Json> ForemostSpot(const Job& job, const Solid& solid, const Hinge& hinge,
                                 std::size_t index) {
  const Verdict& v = hinge.verdicts[index];
  const bool line = v.what == Requirement::kOpenLidForemost;
  const std::optional<LidMotion> motion = LidMotion::Make(hinge.pivots);
  if (v.met() || !v.angle_rad || !v.required || !motion) return std::nullopt;
  if (!line && v.what != Requirement::kMouthFree) return std::nullopt;
  const Pose pose = motion->At(*v.angle_rad).X_CL;
  Vec2 foremost(-1e300, 0.0);
  double z_mm = 0.0;
  for (const Station& station : solid.stations) {
    for (const Ring& ring : station.lid_rings) {
      for (const Vec2& p : ring) {
        if ((pose * p).x() <= foremost.x()) continue;
        foremost = pose * p;
        z_mm = station.z_mm;
      }
    }
  }
  const double x_mm =
      line ? *v.required
           : solid.mouth_front_mm - *v.required * (solid.mouth_front_mm - solid.mouth_back_mm);
  Json spot = SpotJson(v, index, foremost, Vec2(x_mm, foremost.y()), z_mm, job);
  spot["line"] = To(1e3, x_mm);
  return spot;
}

Json SpotsJson(const Job& job, const Solid& solid, const Hinge& hinge) {
  Json spots = Json::array();
  for (std::size_t i = 0; i < hinge.verdicts.size(); ++i) {
    const Verdict& v = hinge.verdicts[i];
    if (v.nearest && v.angle_rad && v.found) {
      const Nearness& n = *v.nearest;
      spots.push_back(SpotJson(v, i, n.on_first, n.on_second, n.z_mm, job));
    } else if (const auto spot = ForemostSpot(job, solid, hinge, i)) {
      spots.push_back(*spot);
    }
  }
  return spots;
}

const char* WordOf(const HingePiece& piece) {
  switch (piece.kind) {
    case PieceKind::kArm:
      return "arm";
    case PieceKind::kCasePlate:
    case PieceKind::kLidPlate:
      return "plate";
    case PieceKind::kStop:
    case PieceKind::kPad:
      return "stop";
    case PieceKind::kJig:
      return "jig";
    case PieceKind::kSpacer:  // packing lies with the plates
      return piece.cut_from_sheet ? "plate" : "pin";
    default:
      return "pin";  // and whatever else is turned
  }
}

const char* WordOf(Body body) {
  constexpr std::array<const char*, kBodies> kWords{"case", "lid", "armA", "armB"};
  return kWords[static_cast<std::size_t>(body)];
}

Json PieceJson(const HingePiece& piece) {
  Json json;
  json["name"] = piece.name;
  json["kind"] = WordOf(piece);
  json["look"] = LookOf(piece).name;
  json["body"] = WordOf(piece.body);
  json["z"] = {To(1e3, piece.z_min_mm), To(1e3, piece.z_max_mm)};
  json["ring"] = FlatRing(Flatten(piece.outline, kChordError_mm));
  return json;
}

// All parts of the hinge; where they were not made, the arms as cut and where their pins sit: from
// a little beyond the arm to the end wall.
std::vector<HingePiece> ShownPieces(const Solid& solid, const Hinge& hinge) {
  std::vector<HingePiece> pieces;
  if (hinge.parts) {
    for (const HingePiece& piece : hinge.parts->pieces) {
      if (piece.kind != PieceKind::kJig) pieces.push_back(piece);
    }
    return pieces;
  }
  const auto add = [&](const std::string& name, PieceKind kind, Body body, const Outline& outline,
                       double z_min_mm, double z_max_mm) {
    HingePiece piece;
    piece.name = name;
    piece.kind = kind;
    piece.body = body;
    piece.outline = outline;
    piece.z_min_mm = z_min_mm;
    piece.z_max_mm = z_max_mm;
    pieces.push_back(std::move(piece));
  };
  const auto add_arm = [&](const std::string& name, Body body, const std::optional<Arm>& arm) {
    if (!arm) return;
    add(name, PieceKind::kArm, body, arm->outline, arm->z_min_mm, arm->z_max_mm);
    for (const auto& [pin, holder, hole] : {std::tuple("case pin", Body::kCase, &arm->case_hole),
                                            {"lid pin", Body::kLid, &arm->lid_hole}}) {
      add(pin + (" of " + name), PieceKind::kPin, holder,
          AsOutline(Circle{hole->centre, 0.75 * hole->radius_mm}), arm->z_min_mm - 1.0,
          solid.bay.z_max_mm);
    }
  };
  add_arm("arm A", Body::kArmA, hinge.arm_a);
  add_arm("arm B", Body::kArmB, hinge.arm_b);
  return pieces;
}

}  // namespace

Json HingeData(const Design& design, const Hinge& hinge) {
  return HingeData(design.job, design.solid, BoxAssembly(design.job, design.solid), hinge,
                   kPageStep_rad);
}

Json HingeData(const Job& job, const Solid& solid, const Assembly& box, const Hinge& hinge,
               double step_rad) {
  Json json;
  json["name"] = hinge.character;
  const Pivots& p = hinge.pivots;
  json["pivots"] = {{"A0", Point(p.case_a)},
                    {"B0", Point(p.case_b)},
                    {"A", Point(p.lid_a)},
                    {"B", Point(p.lid_b)}};
  if (std::isfinite(hinge.traits.reach_behind_mm)) {
    json["behind"] = To(1e3, hinge.traits.reach_behind_mm);
    json["behindSays"] = RoomBehind(hinge, job);
  }
  json["spots"] = SpotsJson(job, solid, hinge);
  json["pieces"] = Json::array();
  for (const HingePiece& piece : ShownPieces(solid, hinge)) {
    json["pieces"].push_back(PieceJson(piece));
  }
  if (hinge.parts && hinge.parts->stay) {
    const Stay& stay = *hinge.parts->stay;
    json["stay"] = {{"case", Point(stay.on_case)},
                    {"lid", Point(stay.on_lid)},
                    {"length", stay.length_mm},
                    {"floor", job.case_form.floor_mm - job.case_form.height_mm}};
  }
  const double wanted = job.swing.open_rad;
  json["wanted"] = wanted;
  json["gapFrom"] = job.swing.gap_from_rad;
  const std::optional<LidMotion> motion = LidMotion::Make(p);
  double to = motion ? std::min(wanted, 0.999 * motion->Range().high_rad) : 0.0;
  if (!(to > 0.0)) to = 0.0;
  json["open"] = to;
  const int steps = std::max(1, static_cast<int>(std::ceil(to / step_rad - 1e-9)));
  std::vector<double> angles;
  json["rows"] = Json::array();
  for (int i = 0; i <= (to > 0.0 ? steps : 0); ++i) {
    const double theta = i == steps ? to : to * i / steps;
    angles.push_back(theta);
    if (!motion) {
      json["rows"].push_back({0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0});
      continue;
    }
    const LidState s = motion->At(theta);
    json["rows"].push_back({To(1e8, theta), To(1e8, s.X_CL.cosine), To(1e8, s.X_CL.sine),
                            To(1e5, s.X_CL.origin.x()), To(1e5, s.X_CL.origin.y()),
                            To(1e8, motion->ArmTurn_rad(Body::kArmA, s)),
                            To(1e8, motion->ArmTurn_rad(Body::kArmB, s))});
  }
  if (motion) AddCurves(solid, box, hinge, *motion, angles, &json);
  return json;
}

}  // namespace lidwright
