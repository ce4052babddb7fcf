// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/swing_film.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "clean_text.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/drawing/style.h"
#include "swing_scene.h"

namespace lidwright {
namespace {

constexpr double kBase_mm = 3.6;    // base line of the footer's texts
constexpr double kCount_mm = 22.0;  // room for the angle
constexpr double kCountPitch_mm = 8.0;
constexpr double kBar_mm = 0.9;

// What moves, at one instant. Angles in degrees as SVG counts them, clockwise on the page.
struct Instant {
  double arm_a_deg = 0.0;
  double arm_b_deg = 0.0;
  double lid_deg = 0.0;  // against arm A
  double opening_deg = 0.0;
  double share = 0.0;  // of the swing
};

// At equal steps of the film's time while it opens: the lid starts and stops gently.
std::vector<Instant> InstantsOf(const SwingScene& scene, int steps) {
  std::vector<Instant> instants;
  double a = 0.0, b = 0.0;  // the arms' turns, followed beyond half a turn
  for (int i = 0; i <= steps; ++i) {
    const double share = (1.0 - std::cos(kPi * i / steps)) / 2.0;
    const LidState state = scene.swing.At(share * scene.swing.to_rad);
    if (scene.swing.motion) {
      a += std::remainder(scene.swing.motion->ArmTurn_rad(Body::kArmA, state) - a, 2.0 * kPi);
      b += std::remainder(scene.swing.motion->ArmTurn_rad(Body::kArmB, state) - b, 2.0 * kPi);
    }
    instants.push_back({-a * kDegPerRad, -b * kDegPerRad, (a - state.theta_rad) * kDegPerRad,
                        state.theta_rad * kDegPerRad, share});
  }
  return instants;
}

std::string TurnBy(double degrees) {
  return "rotate(" + Text(degrees, 3) + "deg)";
}

// The rules of the animation. Only who has nothing against motion gets it.
std::string Rules(const std::vector<Instant>& instants, const SwingFilmOptions& options) {
  // One run: half of each rest and the opening between; then the same backwards.
  const double run_s = options.rest_shut_s / 2.0 + options.opening_s + options.rest_open_s / 2.0;
  const auto at = [&](std::size_t i) {
    const double share = static_cast<double>(i) / static_cast<double>(instants.size() - 1);
    return Text(100.0 * (options.rest_shut_s / 2.0 + share * options.opening_s) / run_s, 4) + "%";
  };
  const auto frames = [&](const std::string& name, auto transform) {
    std::string text = "@keyframes " + name + "{";
    for (std::size_t i = 0; i < instants.size(); ++i) {
      const std::string rests = i == 0 ? "0%," : i + 1 == instants.size() ? ",100%" : "";
      text +=
          (i == 0 ? rests + at(i) : at(i) + rests) + "{transform:" + transform(instants[i]) + "}";
    }
    return text + "}\n";
  };
  std::string text =
      "<style>\n"
      "@media (prefers-reduced-motion:no-preference){\n.still{display:none}\n"
      ".moves{animation:" +
      Text(run_s) + "s linear infinite alternate}\n" +
      "svg:active .moves{animation-play-state:paused}\n";
  for (const char* name : {"turn-a", "turn-b", "turn-lid", "grow", "count"}) {
    text += std::string(".") + name + "{animation-name:lw-" + name + "}\n";
  }
  text += ".count{animation-timing-function:step-end}\n}\n";
  text += frames("lw-turn-a", [](const Instant& now) { return TurnBy(now.arm_a_deg); });
  text += frames("lw-turn-b", [](const Instant& now) { return TurnBy(now.arm_b_deg); });
  text += frames("lw-turn-lid", [](const Instant& now) { return TurnBy(now.lid_deg); });
  text +=
      frames("lw-grow", [](const Instant& now) { return "scaleX(" + Text(now.share, 4) + ")"; });
  text += frames("lw-count", [](const Instant& now) {
    return "translateY(" + Text(-kCountPitch_mm * std::round(now.opening_deg)) + "px)";
  });
  return text + "</style>\n";
}

// Puts pieces together; places are the page's, y up.
struct Composer {
  double height_mm;

  std::string Shift(const Vec2& to) const {
    return "translate(" + Text(to.x()) + " " + Text(to.y()) + ")";
  }
  Vec2 Down(const Vec2& p) const { return {p.x(), height_mm - p.y()}; }

  // `inside` about the point `centre`, turned by the animation `name`, standing still at `degrees`.
  std::string Turning(const std::string& name, const Vec2& centre, double degrees,
                      const std::string& inside) const {
    const Vec2 at = Down(centre);
    return "<g transform=\"" + Shift(at) + "\"><g class=\"moves " + name +
           "\" transform=\"rotate(" + Text(degrees) + ")\"><g transform=\"" + Shift(-at) + "\">\n" +
           inside + "</g></g></g>\n";
  }
};

// The footer: a bar that grows, the degrees on a strip that is pushed past a window, the name.
std::string Footer(const SwingScene& scene, const FrameLayout& layout, const Instant& still) {
  const double left = kFrameMargin_mm, right = layout.page.x() - kFrameMargin_mm;
  const double height = layout.page.y();
  Canvas standing(layout.page.x(), height, ""), bar(layout.page.x(), height, ""),
      strip(layout.page.x(), height, "");
  standing.Draw(PageLine({{left, kFooter_mm}, {right, kFooter_mm}}), std::nullopt, style::kGhost);
  Trail ring{{{{0.0, height - kBar_mm / 2.0}, 0.0},
              {{right - left, height - kBar_mm / 2.0}, 0.0},
              {{right - left, height + kBar_mm / 2.0}, 0.0},
              {{0.0, height + kBar_mm / 2.0}, 0.0}},
             true};
  bar.Draw({ring}, style::kInk, std::nullopt);
  Lettering big, small;
  big.height_mm = style::kTitle_mm;
  small.height_mm = style::kSmall_mm;
  small.colour = style::kGrey;
  small.along = 1.0;
  std::string note;
  if (!scene.swing.motion) {
    note = "cannot move";
  } else if (!scene.swing.whole) {
    note = "no further than " + AngleText(scene.swing.to_rad);
  }
  if (!note.empty()) standing.Write(note, {right, kBase_mm}, small);
  const double note_mm = note.empty() ? 0.0 : LengthOf(note, small.height_mm) + 4.0;
  small.along = 0.0;
  const double room = right - left - kCount_mm - note_mm;
  if (room > 10.0) {
    standing.Write(Fitted(scene.design.job.name, room, small.height_mm),
                   {left + kCount_mm, kBase_mm}, small);
  }
  const int last = static_cast<int>(std::round(scene.swing.to_rad * kDegPerRad));
  for (int degrees = 0; degrees <= last; ++degrees) {
    strip.Write(std::to_string(degrees) + "\xC2\xB0", {left, kBase_mm - kCountPitch_mm * degrees},
                big);
  }
  const std::string top = Text(height - kBase_mm - 6.0);
  return "<g class=\"footer\">\n" + standing.SvgItems() + "<g transform=\"translate(" + Text(left) +
         " " + Text(height - kFooter_mm) + ")\"><g class=\"moves grow\" transform=\"scale(" +
         Text(still.share, 4) + " 1)\">\n" + bar.SvgItems() + "</g></g>\n<svg x=\"" + Text(left) +
         "\" y=\"" + top + "\" width=\"" + Text(kCount_mm) + "\" height=\"" + Text(kCountPitch_mm) +
         "\" viewBox=\"" + Text(left) + " " + top + " " + Text(kCount_mm) + " " +
         Text(kCountPitch_mm) + "\"><g class=\"moves count\" transform=\"translate(0 " +
         Text(-kCountPitch_mm * std::round(still.opening_deg)) + ")\">\n" + strip.SvgItems() +
         "</g></svg>\n</g>\n";
}

}  // namespace

std::string SwingFilm(const Design& design, const Hinge& hinge, const SwingFilmOptions& options) {
  LW_REQUIRE(options.steps >= 2, "steps=" << options.steps);
  LW_REQUIRE(options.opening_s > 0.0 && options.rest_shut_s > 0.0 && options.rest_open_s > 0.0,
             "opening_s=" << options.opening_s << " rest_shut_s=" << options.rest_shut_s
                          << " rest_open_s=" << options.rest_open_s);
  const SwingScene scene(design, hinge);
  const FrameLayout layout = LayoutFrames(scene);
  const View& view = layout.view;
  const std::vector<Instant> instants = InstantsOf(scene, options.steps);
  const Instant& still = instants[instants.size() / 2];
  const LidState shut = scene.swing.At(0.0);
  const std::string angle = AngleText(scene.swing.to_rad);
  const std::string name = design.job.name.empty() ? "A box" : design.job.name;
  const auto page = [&] { return Canvas(layout.page.x(), layout.page.y(), name + ": the swing"); };

  Canvas standing = page();
  DrawStanding(standing, view, scene);
  standing.Begin("still");
  for (const double theta : {0.0, scene.swing.to_rad}) {
    const Pose pose = scene.swing.PoseOf(Body::kLid, scene.swing.At(theta));
    standing.Draw(view(scene.cut.lid_rings, pose), std::nullopt, style::kPhantom);
  }
  standing.End();
  Canvas lid = page();
  DrawLid(lid, view, scene, shut);
  Canvas case_plates = page(), lid_plates = page();
  DrawPlates(case_plates, view, hinge, Body::kCase, Pose{});
  DrawPlates(lid_plates, view, hinge, Body::kLid, Pose{});
  Canvas paths = page();
  paths.Begin("paths");
  for (const Vec2& pivot : {hinge.pivots.lid_a, hinge.pivots.lid_b}) {
    paths.Draw(view.Line(PathOf(scene.swing, pivot)), std::nullopt, style::kTrack);
  }
  paths.End();
  Canvas lid_pivots = page(), ground_pivots = page();
  DrawTurned(lid_pivots, view, hinge, Body::kLid, Pose{});
  DrawTurned(ground_pivots, view, hinge, Body::kCase, Pose{});
  DrawLidPivots(lid_pivots, view, hinge.pivots, Pose{});
  DrawCasePivots(ground_pivots, view, hinge.pivots);

  const Composer composer{layout.page.y()};
  const Vec2 case_a = view(hinge.pivots.case_a), case_b = view(hinge.pivots.case_b);
  const auto with_lid = [&](const Canvas& canvas) {
    return composer.Turning(
        "turn-a", case_a, still.arm_a_deg,
        composer.Turning("turn-lid", view(hinge.pivots.lid_a), still.lid_deg, canvas.SvgItems()));
  };
  std::string text = standing.SvgOpening();
  text += "<desc>" + XmlText("The lid opens to " + angle + " on two arms a side and shuts again.") +
          "</desc>\n";
  text += Rules(instants, options);
  text += "<rect width=\"" + Text(layout.page.x()) + "\" height=\"" + Text(layout.page.y()) +
          "\" fill=\"#ffffff\"/>\n";
  text += standing.SvgItems() + with_lid(lid) + case_plates.SvgItems() + with_lid(lid_plates) +
          paths.SvgItems();
  for (const Body body : ArmsFromBehind(hinge)) {
    Canvas arm = page();
    DrawArm(arm, view, hinge, body, Pose{});
    const bool first = body == Body::kArmA;
    text += composer.Turning(first ? "turn-a" : "turn-b", first ? case_a : case_b,
                             first ? still.arm_a_deg : still.arm_b_deg, arm.SvgItems());
  }
  text += with_lid(lid_pivots) + ground_pivots.SvgItems();
  return text + Footer(scene, layout, still) + "</svg>\n";
}

}  // namespace lidwright
