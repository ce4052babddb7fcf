// SPDX-License-Identifier: Apache-2.0
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/cutting/arm_holes.h"
#include "lidwright/solid/reachable_faces.h"
#include "markup.h"
#include "page_data.h"
#include "page_sections.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {
namespace {

std::string Place(const Verdict& v, bool inches) {
  std::string text = PartsOf(v);
  if (v.angle_rad) {
    text += (text.empty() ? "at " : ", at ") + Fixed(*v.angle_rad * kDegPerRad, 1) + "\u00b0";
  }
  if (v.nearest) {
    const double unit = inches ? kMmPerInch : 1.0;
    const auto at = [&](double mm) { return Fixed(mm / unit, inches ? 2 : 1); };
    text += ", x " + at(v.nearest->on_second.x()) + ", y " + at(v.nearest->on_second.y()) + ", z " +
            at(v.nearest->z_mm);
  }
  if (!RemarkOf(v, inches).empty()) text += (text.empty() ? "" : ": ") + RemarkOf(v, inches);
  return text;
}

}  // namespace

std::string VerdictRow(const Verdict& v, std::optional<std::size_t> index, bool inches) {
  const char* word = !v.met() ? "fail" : !v.sampled ? "pass" : "looked at";
  std::string cells =
      Element("b", std::string("class=\"word ") + (v.met() ? "good" : "watch") + "\"", word) +
      Element("span", "class=\"what\"", Prose(NameOf(v))) +
      Element("span", "class=\"asked\"", Prose(Required(v, inches))) +
      Element("span", "class=\"found\"", Prose(Found(v, inches))) +
      Element("span", "class=\"where\"", Prose(Place(v, inches)));
  if (v.angle_rad && index) {
    cells += Element("button",
                     "type=\"button\" class=\"show\" data-verdict=\"" + std::to_string(*index) +
                         "\" data-theta=\"" + Exact(*v.angle_rad) + "\" aria-label=\"Show " +
                         Prose(NameOf(v)) + " in the swing\"",
                     "Show");
  }
  return Element("li", "", cells) + "\n";
}

namespace {

std::string PivotRow(const std::string& letter, const std::string& name, const Vec2& at,
                     const ReachableFaces& faces, bool inches) {
  return Element("tr", "",
                 Element("th", "scope=\"row\"", letter + " " + Prose(name)) +
                     Element("td", "", Prose(BenchPlace(at.x(), inches))) +
                     Element("td", "", Prose(BenchPlace(at.y(), inches))) +
                     Element("td", "", Prose(BenchPlace(at.x() - faces.back_x_mm, inches))) +
                     Element("td", "", Prose(BenchPlace(at.y() - faces.rim_y_mm, inches)))) +
         "\n";
}

std::string ArmItem(const std::string& name, const Hinge& hinge, Body body, const Job& job) {
  const std::optional<Arm>& arm = body == Body::kArmA ? hinge.arm_a : hinge.arm_b;
  if (!arm) return Element("li", "", Element("b", "", name) + ": none was found that clears");
  const bool inches = job.inches;
  std::string text =
      ": " + BenchText(arm->length_mm, Bench::kHole, inches) + " from hole to hole, " +
      (IsStraight(*arm) ? "straight"
                        : "curved, its tightest inside radius " +
                              BenchText(arm->inside_radius_mm, Bench::kSize, inches)) +
      ", " + (arm->layer == 0 ? "nearest the end wall" : "on spacers beyond the other arm") +
      ", from " + BenchText(arm->z_min_mm, Bench::kHole, inches) + " to " +
      BenchText(arm->z_max_mm, Bench::kHole, inches) + " off mid-width; at each end a " +
      HoleText(HolesOf(hinge, body), inches) + ".";
  return Element("li", "", Element("b", "", name) + Prose(text));
}

}  // namespace

std::string ProofPart(const Design& design) {
  if (design.hinges.empty()) return "";
  const Hinge& hinge = design.hinges.front();
  std::string list;
  const Verdicts all = RequirementsOf(hinge);  // the hinge's own come first
  for (std::size_t i = 0; i < all.size(); ++i) {
    const bool shown = i < hinge.verdicts.size();
    list += VerdictRow(all[i], shown ? std::optional(i) : std::nullopt, design.job.inches);
  }
  const std::string unit = design.job.inches ? "inches" : "millimetres";
  return Section(
      "proofs", "What was asked and what was found",
      Element("p", "",
              "Gaps are lower bounds that hold at every angle, not the smallest of some samples, "
              "measured in the side view at one place across the width; "
              "the model's own error (curves as chords, sections between slices as straight "
              "blends: at most " +
                  BenchText(ModelError_mm(design.solid), Bench::kBound, design.job.inches) +
                  " together) is taken off already.") +
          Element("ul", "class=\"proofs\"", "\n" + list) +
          Element("p", "class=\"fine\"",
                  "Places in " + unit +
                      ": x from the rear face forward, y from the rim at the ends up, z from "
                      "mid-width."));
}

std::string MarkingPart(const Design& design) {
  if (design.hinges.empty()) return "";
  const Hinge& hinge = design.hinges.front();
  const Pivots& p = hinge.pivots;
  const bool inches = design.job.inches;
  const bool plates = design.job.plates.on_case || design.job.plates.on_lid;
  const ReachableFaces faces = FacesAtEnd(design.job, design.solid);
  const std::string unit = inches ? "in" : "mm";
  const std::string head =
      Element("tr", "",
              Element("th", "scope=\"col\"", "pivot") +
                  Element("th", "scope=\"col\"", "x from the rear face, " + unit) +
                  Element("th", "scope=\"col\"", "y from the rim, " + unit) +
                  Element("th", "scope=\"col\"", "by square: from the back's inner face") +
                  Element("th", "scope=\"col\"", "by square: from the rim"));
  const std::string rows = PivotRow("A<sub>0</sub>", "case, arm A", p.case_a, faces, inches) +
                           PivotRow("B<sub>0</sub>", "case, arm B", p.case_b, faces, inches) +
                           PivotRow("A", "lid, arm A", p.lid_a, faces, inches) +
                           PivotRow("B", "lid, arm B", p.lid_b, faces, inches);
  return Section(
      "marking", "Where the pivots go",
      Element("p", "",
              "With the lid shut, seen from the side. x and y are as in the job and in hinge.json: "
              "from "
              "the rear face and the rim at the very ends. By square are the same pivots from the "
              "faces beside the end wall, on its inside: bow and arch are allowed for. Minus is "
              "behind the face or below the rim." +
                  std::string(plates ? " Fix the plates with the lid shut and the arms on their "
                                       "pins: errors of the plates then cancel."
                                     : "")) +
          Element("table", "class=\"pivots\"",
                  Element("caption", "", "Pivots of the hinge that is drawn and cut") +
                      Element("thead", "", head) + Element("tbody", "", "\n" + rows)) +
          Element("ul", "class=\"arms\"",
                  ArmItem("Arm A", hinge, Body::kArmA, design.job) +
                      ArmItem("Arm B", hinge, Body::kArmB, design.job)) +
          Element("p", "class=\"fine\"",
                  "Two of each arm; the other end's is the same piece turned over. Try it in scrap "
                  "or card first."));
}

}  // namespace lidwright
