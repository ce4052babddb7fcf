// SPDX-License-Identifier: Apache-2.0
// Sections of random forms against the question about a point, near their corners above all: what
// a section lacks there nobody sees, and every gap to it is claimed too large.
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <optional>
#include <string>
#include <vector>

#include "forms.h"
#include "geometry/random_outline.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/solid/solid.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

/// A job's text, key by key.
class Text {
 public:
  explicit Text(Dice& dice) : dice_(dice) {}
  bool Coin(double share) { return dice_.Uniform(0.0, 1.0) < share; }
  double Number(double low, double high) {
    return std::round(10.0 * dice_.Uniform(low, high)) / 10.0;
  }
  void Key(const std::string& key, double low, double high) {
    Value(key, Shown(Number(low, high)));
  }
  void Maybe(const std::string& key, double share, double low, double high) {
    if (Coin(share)) Key(key, low, high);
  }
  void Word(const std::string& key, std::vector<std::string> words) {
    Value(key,
          "\"" +
              words[static_cast<std::size_t>(dice_.Whole(0, static_cast<int>(words.size()) - 1))] +
              "\"");
  }
  void Value(const std::string& key, const std::string& value) {
    text_ += (text_.empty() ? "\"" : ", \"") + key + "\": " + value;
  }
  static std::string Shown(double number) {
    char text[32];
    std::snprintf(text, sizeof text, "%.10g", number);
    return text;
  }
  std::string Take() { return std::exchange(text_, ""); }

 private:
  Dice& dice_;
  std::string text_;
};

std::string RandomProfile(Text& text, bool across) {
  const int n = static_cast<int>(text.Number(1.0, 6.0));
  std::string points;
  double x = 0.0;
  for (int i = 0; i <= n; ++i) {
    double y = text.Number(0.0, 50.0);
    if (across && i == 0) y = 60.0;
    if (across && i == n) y = 0.0;
    points += (i == 0 ? "[" : ", [") + Text::Shown(x) + ", " + Text::Shown(y) + "]";
    x += text.Number(5.0, 60.0);
  }
  return "[" + points + "]";
}

/// A box with a few of all features, and often a thick top over a low rim.
std::string RandomJob(Dice& dice) {
  Text text(dice);
  text.Key("width", 150, 600);
  const double depth = text.Number(100, 450);
  text.Value("depth", Text::Shown(depth));
  text.Key("height", 80, 300);
  text.Key("wall", 6, 20);
  for (const char* bow : {"back_bow", "front_bow"}) text.Maybe(bow, 0.3, -20, 40);
  for (const char* rim : {"rim_arch", "rim_arch_side"}) text.Maybe(rim, 0.25, -9, 12);
  for (const char* flare : {"back_flare_deg", "front_flare_deg", "end_flare_deg"}) {
    text.Maybe(flare, 0.2, 0, 12);
  }
  for (const char* cup : {"back_cup", "front_cup"}) text.Maybe(cup, 0.15, -6, 8);
  text.Maybe("end_cup", 0.15, 0, 8);
  if (text.Coin(0.2)) {
    text.Key("feet", 4, 20);
    text.Maybe("feet_inset", 0.5, 0, 10);
  }
  text.Maybe("bottom_hollow", 0.15, -4, 5);
  const std::string box = text.Take();
  const double crown = text.Number(0.0, 0.45) * depth;
  text.Key("rim", 2, 30);
  text.Value("crown", Text::Shown(std::round(crown)));
  if (text.Coin(0.6))
    text.Value("crown_at_ends", Text::Shown(std::floor(crown * text.Number(0, 1))));
  text.Key("wall", 4, 25);
  text.Key("top", 2, 40);
  text.Maybe("top_at_edges", 0.3, 2, 40);
  text.Maybe("seam_gap", 0.3, 0, 2);
  const std::vector<std::string> curves{"circular", "elliptical", "superelliptic"};
  text.Word("curve", curves);
  if (text.Coin(0.2)) text.Word("curve_front", curves);
  text.Word("curve_across", curves);
  text.Key("exponent", 1.2, 5);
  if (text.Coin(0.25)) text.Value("profile", RandomProfile(text, false));
  if (text.Coin(0.2)) text.Value("profile_across", RandomProfile(text, true));
  text.Maybe("hollow", 0.1, 0, 20);
  if (text.Coin(0.3)) {
    text.Key("lip", 2, 12);
    text.Word("lip_side", {"inside", "inside", "outside"});
    text.Key("lip_wall", 2, 9);
    text.Key("lip_play", 0, 2);
    if (text.Coin(0.4)) text.Value("lip_at_ends", "true");
  }
  return "{\"units\": \"mm\", \"case\": {" + box + "}, \"lid\": {" + text.Take() + "}}";
}

struct Worst {
  double missing_mm = -1e9, surplus_mm = -1e9;  // beyond the stated error
  long asked = 0;
  std::string where;
};

/// Asks all round the vertices of a section at `z`, near ones and farther ones.
void AskRound(const Job& job, const Solid& solid, const BoxTruth& truth, bool lid, double z,
              const std::vector<Ring>& rings, Dice& dice, Worst& worst) {
  constexpr int kRound = 6;
  const double error =
      solid.blend_error_mm + (lid ? solid.chord_error_mm : solid.case_chord_error_mm) + 1e-6;
  for (const Ring& ring : rings) {
    // Of many vertices every few: curves have hundreds that are alike.
    const int step = 1 + static_cast<int>(ring.size()) / 60;
    for (std::size_t v = 0; v < ring.size(); v += static_cast<std::size_t>(dice.Whole(1, step))) {
      const Vec2& vertex = ring[v];
      for (const double reach : {0.06, 0.2, 0.8}) {
        const double from = dice.Uniform(0.0, 2.0 * kPi);
        for (int i = 0; i < kRound; ++i) {
          const double angle = from + 2.0 * kPi * i / kRound;
          const Vec2 p = vertex + reach * Vec2(std::cos(angle), std::sin(angle));
          const bool there = lid ? truth.LidAt(p.x(), p.y(), z) : truth.CaseAt(p.x(), p.y(), z);
          const double d = SignedDistance(rings, p);
          const double missing = there ? d - error : -1e9;
          const double surplus = !there && !Filled(job, truth, lid, p, z) ? -d - error : -1e9;
          ++worst.asked;
          if (missing > std::max(0.0, worst.missing_mm) ||
              surplus > std::max(0.0, worst.surplus_mm)) {
            worst.where = std::string(lid ? "lid" : "case") + (missing > 0 ? " lacks" : " has") +
                          " wood at (" + Text::Shown(p.x()) + ", " + Text::Shown(p.y()) +
                          "), z = " + Text::Shown(z);
          }
          worst.missing_mm = std::max(worst.missing_mm, missing);
          worst.surplus_mm = std::max(worst.surplus_mm, surplus);
        }
      }
    }
  }
}

Worst AskAtCorners(const Job& job, const Solid& solid, Dice& dice, int slabs) {
  const BoxTruth truth(job);
  Worst worst;
  const int last = static_cast<int>(solid.stations.size()) - 2;
  for (int n = 0; n < slabs; ++n) {
    const auto i = static_cast<std::size_t>(dice.Whole(0, last));
    const Station &a = solid.stations[i], &b = solid.stations[i + 1];
    if (b.z_mm - a.z_mm < 1e-4) continue;
    const double share = n % 3 == 0 ? 1e-6 : n % 3 == 1 ? 1.0 - 1e-6 : dice.Uniform(0.1, 0.9);
    const double z = a.z_mm + share * (b.z_mm - a.z_mm);
    AskRound(job, solid, truth, true, z, Blend(a.lid_rings, b.lid_rings, share), dice, worst);
    if (a.case_rings.empty() || b.case_rings.empty()) continue;
    AskRound(job, solid, truth, false, z, Blend(a.case_rings, b.case_rings, share), dice, worst);
  }
  return worst;
}

}  // namespace

TEST_CASE("no wood lies outside a section's corners, and no air inside, in forms at random") {
  Dice dice(71);
  int forms = 0, thick = 0;
  long asked = 0;
  for (int k = 0; k < 400; ++k) {
    const std::string text = RandomJob(dice);
    const JobReading reading = ReadJob(text, "box.json");
    if (!reading.job) continue;
    const Job& job = *reading.job;
    const Solid solid = MakeSolid(job);
    if (!FaultsOf(job, solid).empty()) continue;
    ++forms;
    thick += std::isnan(job.lid.hollow_mm) && job.lid.top_mm > job.lid.rim_mm + 3.0;
    const Worst worst = AskAtCorners(job, solid, dice, 9);
    asked += worst.asked;
    INFO(text << "\n" << worst.where);
    CHECK(worst.missing_mm <= 0.0);
    CHECK(worst.surplus_mm <= 0.0);
    CHECK(solid.stations.size() < 250);
  }
  CHECK(forms > 150);
  CHECK(thick > 40);
  CHECK(asked > 500'000);
}

// The arc concentric to the dome, `top` below it, comes down to the floor, 0.1 mm over the rim, at
// s² = (R − top)² − (0.1 − c)², c the height of its centre: 0.7 mm of wood were lacking there.
TEST_CASE("a thick top over a low rim keeps its wood where ceiling and rim meet") {
  const JobReading reading = ReadJob(
      R"({"units": "mm", "case": {"width": 506, "depth": 400, "height": 284, "wall": 12},
          "lid": {"rim": 6, "crown": 71, "wall": 11, "top": 23, "crown_at_ends": 71}})",
      "box.json");
  REQUIRE(reading.job);
  const Solid solid = MakeSolid(*reading.job);
  const double radius = (200.0 * 200.0 + 71.0 * 71.0) / (2.0 * 71.0), centre = 6.0 + 71.0 - radius;
  const double s = std::sqrt(std::pow(radius - 23.0, 2) - std::pow(0.1 - centre, 2));
  REQUIRE(s < 200.0 - 11.0);
  int hollow = 0;
  for (const Station& station : solid.stations) {
    if (station.end_wall) continue;
    ++hollow;
    for (const double x : {200.0 - s, 200.0 + s}) {
      double nearest = 1e9;
      for (const Vec2& p : station.lid_rings[0]) {
        nearest = std::min(nearest, (p - Vec2(x, 0.1)).norm());
      }
      CHECK(nearest < 1e-9);
    }
  }
  CHECK(hollow >= 2);
  Dice dice(70);
  const Worst worst = AskAtCorners(*reading.job, solid, dice, 30);
  INFO(worst.where);
  CHECK(worst.missing_mm <= 0.0);
  CHECK(worst.surplus_mm <= 0.0);
}

TEST_CASE("no wood lies outside the corners of any named form, and no air inside") {
  Dice dice(72);
  for (const NamedForm& form : kForms) {
    const Job job = Made(form.box, form.lid);
    const Worst worst = AskAtCorners(job, MakeSolid(job), dice, 30);
    INFO(form.name << ": " << worst.where);
    CHECK(worst.missing_mm <= 0.0);
    CHECK(worst.surplus_mm <= 0.0);
    CHECK(worst.asked > 5'000);
  }
}
