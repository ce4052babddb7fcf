// SPDX-License-Identifier: Apache-2.0

#include <cmath>

#include "job/job_keys.h"
#include "lidwright/base/numbers.h"
#include "lidwright/job/woods.h"

namespace lidwright {
namespace {

using enum KeyKind;

Choices WoodChoices() {
  Choices woods{{}, "", true};
  for (const Wood& wood : Woods()) woods.words.push_back(wood.name);
  return woods;
}

// Where a list of contents ends across the width unless it says otherwise: at the bay's inner face.
double BayInside_mm(const Job& job) {
  const CaseMeasures& form = job.case_form;
  const LidMeasures& lid = job.lid;
  // A leaning or cupped end moves the bay inwards, at most by this.
  const double lean =
      (form.height_mm - form.floor_mm) * std::tan(form.end_flare_rad) + form.end_cup_mm;
  // A lip inside the ends likewise.
  const bool lip = lid.lip_at_ends && lid.lip_mm > 0.0 && lid.lip_side == "inside";
  const double taken = lip ? lid.lip_play_mm + lid.lip_wall_mm : 0.0;
  return form.width_mm / 2 - form.end_wall_mm - lean - taken - job.bay.width_mm;
}

}  // namespace

std::vector<Key> ShopKeys(JobDraft* draft) {
  JobDraft& d = *draft;
  Job& j = d.job;
  const auto round_figure = [&d](double mm, double in) { return RoundFigure(d.units, mm, in); };
  const Default paper{false, "Letter if units are in, else A4", {}, [&d] {
                        return d.units == "in" ? "Letter" : "A4";
                      }};
  return {
      Section("shop", LeftOut(""), "What the shop works with"),
      {"shop.cutter", kLength, 0, 25, &j.shop.cutter_mm, round_figure(3, 0.125),
       "Diameter of the cutter; 0 for a saw or laser"},
      {"shop.grid", kLength, 0.001, 10, &j.shop.grid_mm,
       Rule("0.5 mm, or 1/64 in if units are in",
            [&d] { return d.units == "in" ? kMmPerInch / 64 : 0.5; }),
       "Pivots are snapped to multiples of this"},

      {"shop.drill_error", kLength, 0, 5, &j.shop.drill_error_mm, Mm(0.2),
       "How far off a drilled hole is as a rule, each way (standard deviation)"},
      {"shop.kerf", kLength, 0, 5, &j.shop.kerf_mm, Mm(0),
       "Width of a laser's or saw's cut, for its paths"},
      {"shop.sheet_width", kLength, 20, 5000, &j.shop.sheet_width_mm, round_figure(600, 24),
       "Length of the stock that parts are nested on, along its grain"},
      {"shop.sheet_height", kLength, 20, 5000, &j.shop.sheet_height_mm, round_figure(300, 12),
       "The stock's other side"},
      {"shop.sheet_margin", kLength, 0, 200, &j.shop.sheet_margin_mm, round_figure(5, 0.25),
       "Kept free along the stock's edges"},
      {"shop.between", kLength, 0, 100, &j.shop.between_mm, round_figure(3, 0.125),
       "Material left between parts on the stock, besides the cutter"},
      {"shop.web", kLength, 0, 20, &j.shop.web_mm, round_figure(1, 1.0 / 32),
       "Least material in a part beside a hole"},
      {"shop.tabs", kCount, 0, 20, &j.shop.tabs, Preset(3, kCount),
       "How many tabs hold a part while its outline is cut"},
      {"shop.tab_length", kLength, 0.1, 50, &j.shop.tab_mm, round_figure(4, 3.0 / 16),
       "Length of a tab"},
      {"shop.paths", kFlag, 0, 1, &j.shop.paths, Preset(0, kFlag),
       "Write the cutter's or the laser's paths, with tabs, besides the true sizes"},
      Key{"shop.paper", kWord, 0, 0, &j.shop.paper, paper, "Paper of the drawings and templates"}
          .Of({{"A4", "Letter"}, "must be \"A4\" or \"Letter\"", false, false}),
      {"shop.place_error", kLength, 0, 20, &j.shop.place_error_mm, Mm(0.5),
       "How far off a plate is that is placed by measuring, at each end and each way"},
  };
}

std::vector<Key> LoadKeys(JobDraft* draft) {
  Job& j = draft->job;
  return {
      Section("loads", LeftOut(""), "What the lid weighs and what acts on it"),
      Key{"loads.wood", kWord, 0, 60, &j.loads.wood, Word("black cherry"), "Wood of the lid"}.Of(
          WoodChoices()),
      // Left to the wood where it is the wood's own, so that another wood brings its own.
      Key{"loads.density_kg_m3", kShare, 50, 2000, &j.loads.density_kg_m3,
          Rule("from the wood, at 12 % moisture",
               [&j] {
                 const Wood* wood = FindWood(j.loads.wood);
                 return wood ? Density_kg_m3(*wood) : kUnset;
               }),
          "Density of the lid in kg per cubic metre, if the wood is another"}
          .WrittenIfOther(),
      {"loads.lid_mass_kg", kShare, 0.001, 200, &j.loads.lid_mass_kg,
       LeftOut("from the measures and the wood"),
       "The lid as weighed with all that is screwed to it, in kg"},
      {"loads.friction", kShare, 0, 2, &j.loads.friction, Preset(0.3, kShare),
       "Coefficient of friction in the hinge's pins; 0.1 greased to 0.5 dry brass on steel"},
      {"loads.hand_n", kShare, 0, 2000, &j.loads.hand_n, Preset(50, kShare),
       "Force in newtons of somebody who leans on the open lid's edge"},
      Key{"loads.stands", kWord, 0, 0, &j.loads.stands, Word("free"),
          "How the box stands: a free one tips before somebody can lean on its lid with all of "
          "loads.hand_n"}
          .Of(Choices{{"free", "against a wall", "fixed"}}),
      {"loads.stay", kFlag, 0, 1, &j.loads.stay, Preset(0, kFlag),
       "You fit a stay of your own, a chain, cord or strut from case to lid that stops the open "
       "lid: it takes what somebody leans on the open lid, not the hinge"},
      {"loads.contents_kg", kShare, 0, 2000, &j.loads.contents_kg,
       LeftOut("200 kg per cubic metre of room"), "What the full box holds, in kg"},
      {"loads.feet_back", kLength, -500, kFar_mm, &j.loads.feet_back_mm,
       LeftOut("from the case's bottom and feet"),
       "Where the box stands at the back, from the rear face forward: it tips over this"},
      {"loads.feet_front", kLength, -500, kFar_mm, &j.loads.feet_front_mm,
       LeftOut("from the case's bottom and feet"), "The same at the front"},
  };
}

std::vector<Key> ContentKeys(JobDraft* draft) {
  JobDraft& d = *draft;
  return {
      List("contents", LeftOut("none"),
           "What is kept in the box: room that lid and arms leave free")
          .Loaded([&d](std::size_t i) {
            if (i >= d.job.contents.size()) return false;
            const Contents& kept = d.job.contents[i];
            d.content = {kept.rings, kUnset, kUnset, kUnset, kept.z_min_mm, kept.z_max_mm};
            return true;
          }),
      {"contents[].outline", kRings, -kFar_mm, kFar_mm, &d.content.rings,
       LeftOut("required unless back, front and height are given"),
       "Its outline in the side view, or a list of outlines"},
      {"contents[].back", kLength, -kFar_mm, kFar_mm, &d.content.back_mm, LeftOut(""),
       "Rear face of a block that stands on the floor"},
      {"contents[].front", kLength, -kFar_mm, kFar_mm, &d.content.front_mm, LeftOut(""),
       "Front face of the block"},
      {"contents[].height", kLength, 0.1, 2000, &d.content.height_mm, LeftOut(""),
       "Height of the block above the floor's upper face"},
      {"contents[].from_z", kLength, -1500, 1500, &d.content.from_z_mm,
       Rule("the bay's inner face", [&d] { return -BayInside_mm(d.job); }),
       "Where it begins across the width, from mid-width"},
      {"contents[].to_z", kLength, -1500, 1500, &d.content.to_z_mm,
       Rule("the bay's inner face", [&d] { return BayInside_mm(d.job); }),
       "Where it ends across the width"},
  };
}

}  // namespace lidwright
