// SPDX-License-Identifier: Apache-2.0
// Makes the README's film of a pivot that is dragged: drag_film JOB HINGE FILM.svg
// A session of the mock-up is asked what its page asks it: HINGE's pivots are put, one of them is
// dragged to and fro, and each picture shows what the session answered. Nothing is made up.
#include <algorithm>
#include <cmath>
#include <iostream>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "files.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/drawing/style.h"
#include "lidwright/looks/looks.h"
#include "lidwright/session/session.h"

namespace {

namespace style = lidwright::style;
using Json = nlohmann::json;
using lidwright::Canvas;
using lidwright::Path;
using lidwright::Pose;
using lidwright::Text;
using lidwright::Trail;
using lidwright::Vec2;

constexpr const char* kDragged = "case_b";
// The drag goes to and fro between these, from where the hinge has the pivot [mm].
constexpr double kForward_mm = 5.0, kBack_mm = 6.0;
constexpr int kPictures = 56;
constexpr double kPicture_s = 0.14;
constexpr double kScale = 0.4;        // of the box on paper
constexpr double kMargin_mm = 5.0;    // around all
constexpr double kCurve_mm = 24.0;    // height of the curve
constexpr double kWords_mm = 13.0;    // of the two lines on top
constexpr double kAxis_mm = 12.0;     // for the curve's numbers
constexpr double kMostGap_mm = 20.0;  // that the curve shows
constexpr double kPivot_mm = 1.5, kHand_mm = 3.2;

Json Ask(lidwright::Session& session, const Json& message) {
  Json answer = Json::parse(session.Answer(message.dump()));
  if (answer.contains("refused")) {
    throw std::runtime_error(message.dump() + ": " + answer["refused"].get<std::string>());
  }
  return answer;
}

// How the lid lies at an angle, from a frame's rows.
Pose PoseAt(const Json& hinge, double theta) {
  const Json& rows = hinge.at("rows");
  const Json* best = &rows.front();
  const auto off = [&](const Json& row) { return std::abs(row[0].get<double>() - theta); };
  for (const Json& row : rows) {
    if (off(row) < off(*best)) best = &row;
  }
  return {(*best)[1], (*best)[2], {(*best)[3].get<double>(), (*best)[4].get<double>()}};
}

Vec2 Point(const Json& pair) {
  return {pair.at(0).get<double>(), pair.at(1).get<double>()};
}

Path Rings(const Json& rings, const Pose& pose, const Vec2& origin) {
  Path path;
  for (const Json& flat : rings) {
    Trail trail{{}, true};
    for (std::size_t i = 0; i + 1 < flat.size(); i += 2) {
      const Vec2 at = pose * Vec2(flat[i].get<double>(), flat[i + 1].get<double>());
      trail.vertices.push_back({origin + kScale * at, 0.0});
    }
    path.push_back(std::move(trail));
  }
  return path;
}

Trail Line(const std::vector<Vec2>& points) {
  Trail trail;
  for (const Vec2& p : points) trail.vertices.push_back({p, 0.0});
  return trail;
}

// One answer of the session, and the angle at which it has the least to spare.
struct Picture {
  Json frame;
  double at_rad = 0.0;
  bool clear = false;
};

// Draws pictures on one page: words on top, the section, the gap over the angle below.
class Film {
 public:
  Film(const Json& state, std::vector<Picture> pictures)
      : job_name_(state["fields"]["name"]), pictures_(std::move(pictures)) {
    const Json& box = state["box"];
    const double middle = (box["bay"][0].get<double>() + box["bay"][1].get<double>()) / 2.0;
    const Json* nearest = &box["stations"].front();
    const auto off = [&](const Json& station) {
      return std::abs(std::abs(station["z"].get<double>()) - middle);
    };
    for (const Json& station : box["stations"]) {
      if (off(station) < off(*nearest)) nearest = &station;
    }
    case_ = (*nearest)["case"];
    lid_ = (*nearest)["lid"];
    lidwright::Rect2 drawn;
    const auto cover = [&](const Json& rings, const Pose& pose) {
      for (const Trail& trail : Rings(rings, pose, Vec2::Zero())) {
        for (const auto& vertex : trail.vertices) drawn.Add(vertex.point);
      }
    };
    cover(case_, {});
    cover(lid_, {});
    for (const Picture& p : pictures_) cover(lid_, PoseAt(p.frame["hinge"], p.at_rad));
    const double below = kCurve_mm + 13.0;
    origin_ = Vec2(kMargin_mm, kMargin_mm + below) - drawn.low;
    const Vec2 size = drawn.high - drawn.low;
    page_ = Vec2(std::ceil(size.x() + 2.0 * kMargin_mm),
                 std::ceil(size.y() + 2.0 * kMargin_mm + below + kWords_mm));
    open_rad_ = pictures_.front().frame["hinge"]["wanted"];
  }

  std::string Svg() const {
    Canvas standing = Page();
    standing.Draw(Rings(case_, {}, origin_), Fill(lidwright::Body::kCase), style::kFineEdge);
    standing.Draw(Rings(lid_, {}, origin_), std::nullopt, style::kPhantom);
    DrawAxes(standing);
    const double whole_s = kPicture_s * static_cast<double>(pictures_.size());
    const double share = 100.0 / static_cast<double>(pictures_.size());
    std::string text = standing.SvgOpening();
    text += "<desc>A pivot of the hinge is dragged; the lid is certified at each step.</desc>\n";
    text +=
        "<style>\n.step{visibility:hidden}\n.first{visibility:visible}\n"
        "@media (prefers-reduced-motion:no-preference){\n"
        ".step{animation:lw-step " +
        Text(whole_s) +
        "s step-end infinite}\nsvg:active .step{animation-play-state:paused}\n}\n"
        "@keyframes lw-step{0%{visibility:visible}" +
        Text(share, 4) + "%,100%{visibility:hidden}}\n</style>\n";
    text += "<rect width=\"" + Text(page_.x()) + "\" height=\"" + Text(page_.y()) +
            "\" fill=\"#ffffff\"/>\n" + standing.SvgItems();
    for (std::size_t i = 0; i < pictures_.size(); ++i) {
      Canvas canvas = Page();
      DrawPicture(canvas, pictures_[i]);
      text +=
          "<g class=\"step" + std::string(i == 0 ? " first" : "") +
          "\" style=\"animation-delay:" + Text(kPicture_s * static_cast<double>(i) - whole_s, 3) +
          "s\">\n" + canvas.SvgItems() + "</g>\n";
    }
    return text + "</svg>\n";
  }

 private:
  Canvas Page() const { return {page_.x(), page_.y(), job_name_ + ": a pivot is dragged"}; }
  static lidwright::Colour Fill(lidwright::Body body) { return {lidwright::LookOf(body).fill}; }
  Vec2 On(const Vec2& model) const { return origin_ + kScale * model; }

  double X(double theta_rad) const {
    const double left = kMargin_mm + kAxis_mm, right = page_.x() - kMargin_mm;
    return left + (right - left) * theta_rad / open_rad_;
  }
  double Y(double gap_mm) const {
    return kMargin_mm + 4.0 + kCurve_mm * std::clamp(gap_mm / kMostGap_mm, 0.0, 1.0);
  }

  void DrawAxes(Canvas& canvas) const {
    lidwright::Lettering number;
    number.height_mm = style::kSmall_mm;
    number.colour = style::kDimInk;
    for (double gap = 0.0; gap <= kMostGap_mm; gap += 10.0) {
      canvas.Draw({Line({{X(0.0), Y(gap)}, {X(open_rad_), Y(gap)}})}, std::nullopt, style::kThin);
      number.along = 1.0;
      number.across = 0.5;
      canvas.Write(Text(gap) + (gap < kMostGap_mm ? "" : "+"), {X(0.0) - 1.5, Y(gap)}, number);
    }
    const double open_deg = open_rad_ * lidwright::kDegPerRad;
    for (double deg = 0.0; deg <= open_deg + 1e-6; deg += 30.0) {
      number.along = 0.5;
      number.across = 1.0;
      canvas.Write(Text(deg) + "\u00b0", {X(deg / lidwright::kDegPerRad), Y(0.0) - 1.5}, number);
    }
    number.along = 0.0;
    number.across = 0.0;
    number.colour = style::kInk;
    canvas.Write("gap between lid and case over the lid's angle, mm",
                 {X(0.0), Y(kMostGap_mm) + 1.5}, number);
  }

  void DrawPicture(Canvas& canvas, const Picture& picture) const {
    const Json& hinge = picture.frame["hinge"];
    const Pose pose = PoseAt(hinge, picture.at_rad);
    const lidwright::Pen edge = picture.clear ? style::kFineEdge : style::kMarkEdge;
    canvas.Draw(Rings(lid_, pose, origin_), Fill(lidwright::Body::kLid), edge);
    const Json& at = hinge["pivots"];
    for (const auto& [low, high, pen] :
         {std::tuple{"A0", "A", style::kEdge}, std::tuple{"B0", "B", style::kHidden}}) {
      const Vec2 from = On(Point(at[low])), to = On(pose * Point(at[high]));
      canvas.Draw({Line({from, to})}, std::nullopt, pen);
      for (const Vec2& p : {from, to}) {
        canvas.Draw(lidwright::Circle{p, kPivot_mm}, style::kPaper, style::kFineEdge);
      }
    }
    canvas.Draw(lidwright::Circle{On(Point(at["B0"])), kHand_mm}, std::nullopt, style::kArmEdge);
    Trail curve;
    for (const Json& point : hinge["gap"]) {
      if (!point[1].is_number()) continue;
      curve.vertices.push_back({{X(point[0]), Y(point[1])}, 0.0});
    }
    canvas.Draw({curve}, std::nullopt, edge);
    lidwright::Lettering words;
    words.height_mm = style::kTitle_mm;
    const double top = page_.y() - kMargin_mm - style::kTitle_mm;
    const std::string says = picture.frame["says"];
    words.colour = picture.clear ? style::kInk : style::kMark;
    canvas.Write(says.substr(0, says.find("; arms")), {kMargin_mm, top}, words);
    words.height_mm = style::kSmall_mm;
    words.colour = style::kDimInk;
    const Json& place = picture.frame["places"][kDragged];
    canvas.Write("dragged: case pivot of arm B, x " + place[0].get<std::string>() + ", y " +
                     place[1].get<std::string>() + " mm",
                 {kMargin_mm, top - 6.0}, words);
  }

  std::string job_name_;
  std::vector<Picture> pictures_;
  Json case_, lid_;
  Vec2 origin_ = Vec2::Zero(), page_ = Vec2::Zero();
  double open_rad_ = 0.0;
};

// The angle of what fails, or of the least gap between lid and case.
double TightestAngle(const Json& hinge) {
  const Json* tightest = nullptr;
  for (const Json& spot : hinge["spots"]) {
    if (!spot["met"].get<bool>()) return spot["theta"];
    if (spot["what"] == "lid to case" && !tightest) tightest = &spot;
  }
  return tightest ? (*tightest)["theta"].get<double>() : hinge["open"].get<double>();
}

std::vector<Picture> Drag(lidwright::Session& session, const Vec2& from) {
  std::vector<Picture> pictures;
  for (int i = 0; i < kPictures; ++i) {
    const double round = 2.0 * lidwright::kPi * i / kPictures;
    const double there = std::sin(round);
    const Vec2 to = from + Vec2(there * (there > 0.0 ? kForward_mm : kBack_mm), 0.0);
    Picture picture;
    picture.frame = Ask(session, {{"ask", "drag"}, {"pivot", kDragged}, {"at", {to.x(), to.y()}}});
    picture.clear = picture.frame["outcome"] == "clear";
    picture.at_rad = TightestAngle(picture.frame["hinge"]);
    pictures.push_back(std::move(picture));
  }
  return pictures;
}

}  // namespace

int main(int count, char** arguments) {
  if (count != 4) {
    std::cerr << "usage: drag_film JOB HINGE FILM.svg\n";
    return 2;
  }
  try {
    lidwright::Session session(Read(arguments[1]), "out");
    const Json pivots = Json::parse(Read(arguments[2])).at("hinges").at(0).at("pivots");
    Ask(session, {{"ask", "place"}});
    for (const char* name : {"case_a", "case_b", "lid_a", "lid_b"}) {
      const Vec2 at = Point(pivots.at(name));
      Ask(session,
          {{"ask", "put"}, {"pivot", name}, {"x", Text(at.x(), 4)}, {"y", Text(at.y(), 4)}});
    }
    const Json state = Ask(session, {{"ask", "state"}});
    Write(arguments[3], Film(state, Drag(session, Point(pivots.at(kDragged)))).Svg());
  } catch (const std::exception& error) {
    std::cerr << "drag_film: " << error.what() << "\n";
    return 1;
  }
}
