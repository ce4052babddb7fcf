// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/page_views.h"
#include "markup.h"
#include "page_sections.h"

namespace lidwright {
namespace {

constexpr const char* kStage = R"(
<figure class="side">
<svg id="section" role="img" aria-label="Section through the box from the side"></svg>
</figure>)";

constexpr const char* kLegend = R"(
<div id="section-legend" class="legend"></div>
<p id="section-says" class="fine"></p>)";

constexpr const char* kSolid = R"(
<figure class="solid">
<canvas id="solid" role="img" aria-label="The box as a solid, to be turned"></canvas>
<canvas id="solid-paper" role="img" aria-label="The box as a solid"></canvas>
<p id="no-solid" class="fine" hidden>This browser cannot draw solids (no WebGL); the section shows
the same swing.</p>
<div class="tools noprint" role="group" aria-label="Turn the solid">
<button type="button" data-turn="left" aria-label="Turn left">&#8634;</button>
<button type="button" data-turn="right" aria-label="Turn right">&#8635;</button>
<button type="button" data-turn="up" aria-label="Look from higher">&#8593;</button>
<button type="button" data-turn="down" aria-label="Look from lower">&#8595;</button>
<button type="button" data-turn="near" aria-label="Nearer">+</button>
<button type="button" data-turn="far" aria-label="Farther">&#8722;</button>
<button type="button" id="clear" aria-pressed="false">See through</button>
</div>
<figcaption class="noprint">Drag to turn. The line on it is the slice that the section
shows.</figcaption>
</figure>)";

constexpr const char* kLidControls = R"(
<div class="control lid noprint">
<button type="button" id="play">Open</button>
<label for="theta">Lid</label>
<input type="range" id="theta" min="0" max="1" step="any" value="0">
<output id="theta-says" for="theta" aria-live="off"><span>0&#176;</span><span></span></output>
</div>)";

// The same slider once more beside what stands farther down.
constexpr const char* kLidAgain = R"(
<div class="control lid noprint">
<label for="theta-again">Lid</label>
<input type="range" id="theta-again" class="again" min="0" max="1" step="any" value="0">
<output class="again-says" for="theta-again" aria-live="off">0&#176;</output>
</div>)";

std::string SliceControls(const std::string& tight) {
  std::string controls = R"(
<div class="control slice noprint">
<label for="slice">Slice</label>
<span class="buttons" role="group" aria-label="Slice">
<button type="button" data-slice="middle">Mid-width</button>
<button type="button" data-slice="arms">At the arms</button>
<button type="button" data-slice="end">End wall</button>
<button type="button" data-slice="tight">TIGHT</button>
</span>
<input type="range" id="slice" min="0" max="1" step="1" value="0">
<output id="slice-says" for="slice" aria-live="off"></output>
</div>)";
  const std::string place = ">TIGHT<";
  return controls.replace(controls.find(place) + 1, place.size() - 2, tight);
}

constexpr const char* kCurves = R"(
<div class="curves">
<figure>
<h3>Gap by angle</h3>
<svg id="gap-curve" role="img" aria-label="Least gap by lid angle"></svg>
<figcaption><div id="gap-legend" class="legend"></div></figcaption>
</figure>
<figure id="lift-figure">
<h3>Force at the front edge to lift it</h3>
<svg id="lift-curve" role="img" aria-label="Lift force at the front edge by lid angle"></svg>
<figcaption><div id="lift-legend" class="legend"></div></figcaption>
</figure>
</div>
<p class="fine">Drawn poses and curves are samples, half a degree apart at most, of the same motion
and the same clearance check that the requirements are proven with.</p>)";

// What a linkage that is no hinge misses, each where it can be seen with a button that shows it.
std::string Missed(const Hinge& nearest, const Job& job) {
  std::string list;
  for (std::size_t i = 0; i < nearest.verdicts.size(); ++i) {
    if (!nearest.verdicts[i].met()) list += VerdictRow(nearest.verdicts[i], i, job.inches);
  }
  return Element(
             "p", "",
             "No hinge: the linkage that came nearest to one, with bare arms and without parts. "
             "It is not to be built.") +
         (list.empty() ? "" : Element("ul", "class=\"proofs\"", "\n" + list));
}

std::string Controls(const std::string& picks, const std::string& tight) {
  return Element("div", "class=\"controls\"", picks + SliceControls(tight));
}

const Hinge* NearestOf(const Design& design) {
  return design.hinges.empty() && design.none && design.none->nearest_hinge
             ? &*design.none->nearest_hinge
             : nullptr;
}

std::string Picks(const Design& design) {
  if (design.hinges.size() < 2) return "";
  std::string picks;
  for (std::size_t i = 0; i < design.hinges.size(); ++i) {
    picks += Element("button",
                     "type=\"button\" class=\"pick\" data-hinge=\"" + std::to_string(i) +
                         "\" aria-pressed=\"" + (i == 0 ? "true" : "false") + "\"",
                     Escaped(design.hinges[i].character));
  }
  return "\n<div class=\"control noprint\"><span class=\"buttons\" role=\"group\" "
         "aria-label=\"Hinge\"><span class=\"lead\">Hinge</span>" +
         picks + "</span></div>";
}

}  // namespace

std::string SwingFrame(const std::string& below) {
  return std::string(kStage) + kLidControls + Controls("", "Tightest") + kLegend + below + kCurves +
         kSolid;
}

std::string SeePart(const Design& design) {
  const bool nearest = NearestOf(design) != nullptr;
  return "<noscript><p>The moving figure needs scripts." +
         std::string(nearest ? ""
                             : " The same swing stands in the numbered frames and the overlay "
                               "drawing beside this page.") +
         "</p></noscript>" + kStage + (nearest || !design.hinges.empty() ? kLidControls : "");
}

std::string MorePart(const Design& design) {
  const char* tight = NearestOf(design) ? "Where it fails" : "Tightest";
  return Element("div", "class=\"more\"", Controls(Picks(design), tight) + kLegend);
}

std::string LookPart(const Design& design) {
  const bool moves = NearestOf(design) || !design.hinges.empty();
  return Section("look", moves ? "The lid, angle by angle" : "The box as a solid",
                 (moves ? std::string(kCurves) : "") + kSolid + (moves ? kLidAgain : ""));
}

std::string MissedPart(const Design& design) {
  const Hinge* nearest = NearestOf(design);
  if (!nearest) return "";
  return Section("missed", "What the nearest linkage misses", Missed(*nearest, design.job));
}

}  // namespace lidwright
