// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/charts.h"

#include <algorithm>
#include <cmath>

#include "labels.h"
#include "lidwright/base/check.h"
#include "lidwright/base/maker_units.h"
#include "lidwright/base/numbers.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"

namespace lidwright {
namespace {

constexpr double kAxisRoom_mm = 16.0;  // for the numbers left of a chart
constexpr double kBetween_mm = 13.0;   // from one chart to the next
const Pen kCurve{0.4, style::kInk};
const Pen kOtherCurve{0.4, style::kInk, {2.2, 1.2}};
const Pen kGrid{0.1, style::kGrey};

// A round step that cuts `span` into at most `most` pieces: 1, 2 or 5 times a power of ten.
double RoundStep(double span, int most) {
  const double least = span / most;
  const double power = std::pow(10.0, std::floor(std::log10(least)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= least * (1.0 - 1e-9)) return factor * power;
  }
  return 10.0 * power;
}

struct Series {
  std::string name;
  const std::vector<double>* values;
  Pen pen;
};

class Chart {
 public:
  Chart(Canvas& canvas, const Rect2& box, double to_deg, std::string title, std::string unit)
      : canvas_(canvas), box_(box), to_deg_(to_deg), title_(std::move(title)), unit_(unit) {}

  void Draw(const std::vector<Series>& all, const std::vector<double>& deg, bool numbers_below) {
    double low = 0.0, high = 0.0;
    for (const Series& s : all) {
      for (const double v : *s.values) {
        if (!std::isfinite(v)) continue;
        low = std::min(low, v);
        high = std::max(high, v);
      }
    }
    if (high - low < 1e-9) high = low + 1.0;
    const double step = RoundStep(high - low, 5);
    low_ = std::floor(low / step + 1e-9) * step;
    high_ = std::ceil(high / step - 1e-9) * step;
    canvas_.Begin("chart");
    for (double v = low_; v <= high_ + step / 2.0; v += step) {
      Line({box_.low.x(), Y(v)}, {box_.high.x(), Y(v)},
           std::abs(v) < step / 2.0 ? style::kThin : kGrid);
      const std::string figure = Text(std::abs(v), 3);
      Number((v < -step / 2.0 ? "\u2212" : "") + figure, {box_.low.x() - 1.5, Y(v)}, 1.0, 0.5);
    }
    const double deg_step = RoundStep(to_deg_, 12);
    for (double d = 0.0; d <= to_deg_ + 1e-9; d += deg_step) {
      Line({X(d), box_.low.y()}, {X(d), box_.high.y()}, kGrid);
      if (numbers_below) Number(Text(d, 1) + "\u00b0", {X(d), box_.low.y() - 1.5}, 0.5, 1.0);
    }
    Lettering heading;
    heading.height_mm = style::kText_mm;
    canvas_.Write(title_ + ", " + unit_, {box_.low.x(), box_.high.y() + 2.0}, heading);
    for (const Series& s : all) {
      Trail trail;
      const auto flush = [&] {
        if (trail.vertices.size() > 1) canvas_.Draw({trail}, std::nullopt, s.pen);
        trail.vertices.clear();
      };
      for (std::size_t i = 0; i < deg.size(); ++i) {
        if (!std::isfinite((*s.values)[i])) {
          flush();
          continue;
        }
        trail.vertices.push_back({{X(deg[i]), Y((*s.values)[i])}, 0.0});
      }
      flush();
    }
    canvas_.End();
  }

  // From an angle on.
  void Level(double value, double from_deg, const std::string& text) {
    canvas_.Begin("level");
    Line({X(from_deg), Y(value)}, {box_.high.x(), Y(value)}, style::kHidden);
    canvas_.End();
    Label(text, {box_.high.x() - 4.0, Y(value)}, Vec2(-0.3, 1.0), style::kInk);
  }

  void Mark(double deg, double value, const std::string& text) {
    const Vec2 at(X(deg), Y(value));
    canvas_.Draw(Circle{at, 1.2}, std::nullopt, style::kMarkEdge, "mark");
    Label(text, at, Vec2(1.0, 0.6), style::kMark);
  }

  void Label(const std::string& text, const Vec2& at, const Vec2& toward, Colour colour) {
    LabelRule rule;
    rule.area = box_;
    rule.toward = toward;
    rule.colour = colour;
    PlaceLabel(canvas_, text, at, rule);
  }

  double X(double deg) const {
    return box_.low.x() + deg / to_deg_ * (box_.high.x() - box_.low.x());
  }
  double Y(double value) const {
    return box_.low.y() + (value - low_) / (high_ - low_) * (box_.high.y() - box_.low.y());
  }

 private:
  void Line(const Vec2& a, const Vec2& b, const Pen& pen) {
    canvas_.Draw({Trail{{{a, 0.0}, {b, 0.0}}, false}}, std::nullopt, pen);
  }
  void Number(const std::string& text, const Vec2& at, double along, double across) {
    Lettering lettering;
    lettering.height_mm = style::kSmall_mm;
    lettering.along = along;
    lettering.across = across;
    canvas_.Write(text, at, lettering);
  }

  Canvas& canvas_;
  Rect2 box_;
  double to_deg_;
  std::string title_, unit_;
  double low_ = 0.0, high_ = 1.0;
};

}  // namespace

Canvas Charts(const Design& design, const Hinge& hinge) {
  LW_REQUIRE(hinge.forces.has_value(), "a hinge without forces has no charts");
  const Job& job = design.job;
  const Feel& feel = hinge.forces->feel;
  Canvas canvas = MakeSheet(job, false, {"Gap, lift and loads over the lid's angle", 0.0});
  const Vec2 paper = PaperSize(job, false);
  const Rect2 frame = FrameOf(paper), block = TitleBlockOf(paper);
  const double left = frame.low.x() + kAxisRoom_mm, right = frame.high.x() - 8.0;
  const double top = frame.high.y() - 12.0, bottom = block.high.y() + 12.0;
  const double height = (top - bottom - 2.0 * kBetween_mm) / 3.0;
  std::vector<double> deg, gap;
  for (const double theta : feel.theta_rad) deg.push_back(theta * kDegPerRad);
  const double unit = job.inches ? kMmPerInch : 1.0;
  for (const double g : hinge.gap_by_angle_mm) gap.push_back(g / unit);
  LW_REQUIRE(gap.size() == deg.size(), "gaps " << gap.size() << " angles " << deg.size());
  const auto box = [&](int i) {
    const double high = top - i * (height + kBetween_mm);
    return Rect2{{left, high - height}, {right, high}};
  };
  const std::string length = job.inches ? "in" : "mm";
  const double to = job.swing.open_rad * kDegPerRad;

  Chart gaps(canvas, box(0), to, "Gap between lid and case", length);
  gaps.Draw({{"gap", &gap, kCurve}}, deg, false);
  for (const Verdict& v : hinge.verdicts) {
    if (v.what != Requirement::kLidToCase || !v.nearest || !v.found) continue;
    gaps.Mark(v.nearest->at * kDegPerRad, v.nearest->gap_mm / unit,
              "at least " + GapText(v, true, job.inches));
    const double from_deg = job.swing.gap_from_rad * kDegPerRad;
    gaps.Level(*v.required / unit, from_deg, "asked for from " + Text(from_deg, 1) + "\u00b0 on");
  }
  const auto in_unit = [&](std::vector<double> forces) {
    for (double& force : forces) force = ForceInUnit(force, job.inches);
    return forces;
  };
  Chart lift(canvas, box(1), to, "Lift at the front edge (below 0: it opens by itself)",
             ForceUnit(job.inches));
  const std::vector<double> hand = in_unit(feel.hand_n), raise = in_unit(feel.raise_n),
                            lower = in_unit(feel.lower_n);
  lift.Draw(
      {{"lift", &hand, kCurve}, {"raise", &raise, kOtherCurve}, {"lower", &lower, kOtherCurve}},
      deg, false);
  // Friction's curves are named where they lie farthest from the middle one.
  std::size_t wide = 0;
  for (std::size_t i = deg.size() / 4; i < deg.size() - deg.size() / 4; ++i) {
    const double between = raise[i] - lower[i];
    if (wide == 0 || between > raise[wide] - lower[wide]) wide = i;
  }
  if (std::isfinite(raise[wide]) && std::isfinite(lower[wide])) {
    lift.Label("to raise it, with friction", {lift.X(deg[wide]), lift.Y(raise[wide])}, {0.5, 1.0},
               style::kInk);
    lift.Label("to let it down", {lift.X(deg[wide]), lift.Y(lower[wide])}, {-0.5, -1.0},
               style::kInk);
  }
  Chart loads(canvas, box(2), to, "Load on a pin of one end while the lid is held",
              ForceUnit(job.inches));
  std::vector<double> pin_a, pin_b;
  for (const auto& pins : feel.pin_n) {
    pin_a.push_back(ForceInUnit(std::max(pins[kCaseA], pins[kLidA]), job.inches));
    pin_b.push_back(ForceInUnit(std::max(pins[kCaseB], pins[kLidB]), job.inches));
  }
  loads.Draw({{"arm A", &pin_a, kCurve}, {"arm B", &pin_b, kOtherCurve}}, deg, true);
  // Named where the two curves lie farthest apart, away from the ends.
  std::size_t at = deg.size() / 8;
  const auto apart = [&](std::size_t i) { return pin_a[i] - pin_b[i]; };
  for (std::size_t i = at; i < deg.size() - deg.size() / 4; ++i) {
    if (std::abs(apart(i)) > std::abs(apart(at))) at = i;
  }
  const double up = apart(at) > 0.0 ? 1.0 : -1.0;
  loads.Label("arm A", {loads.X(deg[at]), loads.Y(pin_a[at])}, {0.5, up}, style::kInk);
  loads.Label("arm B", {loads.X(deg[at]), loads.Y(pin_b[at])}, {0.5, -up}, style::kInk);
  return canvas;
}

std::string ChartsSvg(const Design& design, const Hinge& hinge) {
  return Charts(design, hinge).Svg();
}

std::string ChartsPdf(const Design& design, const Hinge& hinge) {
  return Charts(design, hinge).Pdf();
}

}  // namespace lidwright
