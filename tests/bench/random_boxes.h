// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <random>
#include <string>
#include <vector>

#include "lidwright/job/read_job.h"
#include "lidwright/solid/solid.h"

namespace lidwright::bench {

/// A box to try a search on.
struct Box {
  std::string name;
  std::string text;  ///< its job
};

/// Seeded draws that are the same on every machine.
class BoxDraw {
 public:
  explicit BoxDraw(std::uint64_t seed) : random_(seed) {}
  double Share() { return static_cast<double>(random_() >> 11) * 0x1p-53; }
  bool Chance(double share) { return Share() < share; }
  /// In half millimetres or degrees.
  double Half(double low, double high) {
    return std::round(2.0 * (low + (high - low) * Share())) / 2.0;
  }
  double Tenth(double low, double high) {
    return std::round(10.0 * (low + (high - low) * Share())) / 10.0;
  }

 private:
  std::mt19937_64 random_;
};

/// A job's text, key by key.
class JobWriter {
 public:
  JobWriter() : text_("{\"units\":\"mm\"") {}
  void Open(const char* section) {
    text_ += ",\"" + std::string(section) + "\":{";
    first_ = true;
  }
  void Close() { text_ += "}"; }
  void Number(const char* key, double value) {
    char number[32];
    std::snprintf(number, sizeof number, "%g", value);
    Raw(key, number);
  }
  void Word(const char* key, const std::string& value) { Raw(key, "\"" + value + "\""); }
  void Flag(const char* key, bool value) { Raw(key, value ? "true" : "false"); }
  std::string Done() const { return text_ + "}"; }

 private:
  void Raw(const char* key, const std::string& value) {
    text_ += (first_ ? "\"" : ",\"") + std::string(key) + "\":" + value;
    first_ = false;
  }
  std::string text_;
  bool first_ = true;
};

inline void DrawCase(BoxDraw& draw, JobWriter& out, double width, double depth, double height) {
  out.Open("case");
  out.Number("width", width);
  out.Number("depth", depth);
  out.Number("height", height);
  const double wall = draw.Half(std::max(4.0, depth / 30.0), std::min(20.0, depth / 12.0 + 3.0));
  out.Number("wall", wall);
  if (draw.Chance(0.3)) out.Number("back_wall", draw.Half(wall - 1.0, wall + 2.0));
  if (draw.Chance(0.3)) out.Number("end_wall", draw.Half(wall, wall + 4.0));
  if (draw.Chance(0.3)) out.Number("floor", draw.Half(std::max(3.0, wall - 6.0), wall));
  const double bow = depth / 20.0;
  if (draw.Chance(0.5)) out.Number("back_bow", draw.Half(-bow, bow));
  if (draw.Chance(0.5)) out.Number("front_bow", draw.Half(-bow, bow));
  if (draw.Chance(0.6)) out.Number("rim_arch", draw.Half(-width / 50.0, width / 30.0));
  if (draw.Chance(0.15)) out.Number("rim_arch_side", draw.Half(-2.0, 3.0));
  if (draw.Chance(0.2)) {
    out.Number("back_flare_deg", draw.Half(1.0, 6.0));
    out.Number("front_flare_deg", draw.Half(1.0, 6.0));
  }
  if (draw.Chance(0.1)) out.Number("end_flare_deg", draw.Half(1.0, 4.0));
  out.Close();
}

inline void DrawLid(BoxDraw& draw, JobWriter& out, double rim, double crown) {
  out.Open("lid");
  out.Number("rim", rim);
  out.Number("crown", crown);
  const double ends = draw.Share();
  if (ends < 0.3) out.Number("crown_at_ends", crown);  // a barrel top
  if (ends > 0.8) out.Number("crown_at_ends", draw.Half(0.0, crown));
  const double curve = draw.Share();
  if (curve < 0.2) out.Word("curve", "elliptical");
  if (curve > 0.85) out.Word("curve", "superelliptic");
  if (draw.Chance(0.25)) out.Number("top", draw.Half(5.0, 14.0));
  if (draw.Chance(0.2)) out.Number("seam_gap", draw.Tenth(0.2, 0.7));
  if (draw.Chance(0.2)) {
    out.Number("lip", draw.Half(2.0, 6.0));
    if (draw.Chance(0.4)) out.Word("lip_side", "outside");
    if (draw.Chance(0.3)) out.Flag("lip_at_ends", true);
  }
  out.Close();
}

inline std::string DrawBox(BoxDraw& draw) {
  JobWriter out;
  const double depth = draw.Half(110.0, 350.0);
  const double width = draw.Half(std::max(200.0, 1.1 * depth), 2.2 * depth + 60.0);
  const double height = draw.Half(0.45 * depth + 25.0, 1.25 * depth);
  DrawCase(draw, out, width, depth, height);
  const double rim = draw.Half(10.0, 0.12 * depth + 22.0);
  const double crown = draw.Half(0.05 * depth, 0.2 * depth);
  DrawLid(draw, out, rim, crown);
  out.Open("swing");
  out.Number("open_deg", draw.Half(88.0, 112.0));
  out.Number("gap", draw.Tenth(0.8, 2.5));
  out.Close();
  // Tight: what the missed boxes had, 0.8 to 1.2 of the lid's height; else plenty, or no wall.
  const double room = draw.Share();
  if (room < 0.85) {
    out.Open("room");
    const double share = room < 0.5 ? 0.8 + 0.4 * draw.Share() : 1.3 + 1.5 * draw.Share();
    out.Number("behind", std::ceil(share * (rim + crown)));
    if (draw.Chance(0.15)) out.Number("above", std::ceil(depth * (0.9 + 0.4 * draw.Share())));
    if (draw.Chance(0.1)) out.Flag("bench_below", false);
    out.Close();
  }
  out.Open("arms");
  const double arm = draw.Half(6.0, depth / 22.0 + 4.0);
  out.Number("width", arm);
  out.Number("thickness", std::round(2.0 + 2.0 * draw.Share()));
  out.Number("bushing", arm < 7.0 ? 3.0 : arm < 12.0 ? 4.0 : 6.0);
  out.Number("eye", draw.Chance(0.5) ? arm : arm + 2.0);
  out.Number("gap", draw.Half(0.5, 1.0));
  out.Close();
  return out.Done();
}

/// The random box of a seed: all measured forms (bows, arches, flares, domes, barrel tops, lips),
/// tight and free rooms, arms of several widths. What contradicts itself or leaves no room for
/// pivots is drawn again. The same seed gives the same box for ever: brute_force.txt rests on it.
inline Box RandomBox(unsigned seed) {
  BoxDraw draw(seed);
  for (;;) {
    const std::string text = DrawBox(draw);
    const JobReading reading = ReadJob(text, "box");
    if (!reading.job) continue;
    if (!FaultsOf(*reading.job, MakeSolid(*reading.job)).empty()) continue;
    return {"random_" + std::to_string(seed), text};
  }
}

/// Boxes that somebody found missed by a search though they can be solved. Every one stays.
inline std::vector<Box> MissedBoxes() {
  return {
      {"missed_1",
       R"({"units":"mm","case":{"width":336,"depth":241.5,"height":233.5,"wall":10.5,
           "front_bow":0.5,"rim_arch":-1},"lid":{"rim":60,"crown":37.5,"curve":"superelliptic"},
           "swing":{"open_deg":101,"gap":2},"room":{"behind":117},
           "arms":{"width":8.5,"thickness":3,"bushing":4,"eye":8.5}})"},
      {"missed_2",
       R"({"units":"mm","case":{"width":555.5,"depth":340,"height":406.5,"wall":19.5,
           "back_wall":20.5,"floor":10,"back_bow":-5.5,"front_bow":5,"rim_arch":-5},
           "lid":{"rim":29.5,"crown":56,"top":14},"swing":{"open_deg":94,"gap":1.7},
           "room":{"behind":69},
           "arms":{"width":19,"thickness":4,"bushing":6,"eye":19,"gap":0.5}})"},
      {"missed_3",
       R"({"units":"mm","case":{"width":271,"depth":204.5,"height":216.5,"wall":11,"end_wall":14.5,
           "back_wall":9.5,"floor":10.5,"rim_arch":9},
           "lid":{"rim":46.5,"crown":31.5,"crown_at_ends":31.5},"swing":{"open_deg":99,"gap":0.8},
           "room":{"behind":92},"arms":{"width":6.5,"thickness":2,"bushing":3,"eye":6.5,"gap":1}})"},
      {"missed_4",
       R"({"units":"mm","case":{"width":258,"depth":115.5,"height":79.5,"wall":5,"back_bow":5,
           "rim_arch":-3.5},"lid":{"rim":28,"crown":11,"seam_gap":0.7},
           "swing":{"open_deg":100,"gap":0.9},"room":{"behind":46},
           "arms":{"width":6,"thickness":4,"bushing":3,"eye":6}})"},
  };
}

}  // namespace lidwright::bench
