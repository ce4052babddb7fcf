// SPDX-License-Identifier: Apache-2.0
// The order of work on the page: a list, and on a telephone at the bench one step a screen.
#include "lidwright/cutting/work_steps.h"

#include <cctype>

#include "lidwright/base/numbers.h"
#include "markup.h"
#include "page_sections.h"
#include "words.h"

namespace lidwright {
namespace {

// What is measured or set at a step: name and number, to be read from the bench.
using Figures = std::vector<std::pair<std::string, std::string>>;

void AddArms(const Hinge& hinge, bool inches, Figures& figures) {
  for (const auto& [name, arm] :
       {std::pair("Arm A, hole to hole", &hinge.arm_a), {"Arm B, hole to hole", &hinge.arm_b}}) {
    if (*arm) figures.push_back({name, BenchText((*arm)->length_mm, Bench::kHole, inches)});
  }
}

void AddSawn(const PartsList& list, bool inches, Figures& figures) {
  for (const SawRow& row : list.saw) {
    std::string cuts;
    for (const SawRow::Cut& cut : row.cuts) {
      cuts += (cuts.empty() ? "" : ", ") + std::to_string(cut.count) + " \u00d7 " +
              BenchText(cut.length_mm, Bench::kHole, inches);
    }
    figures.push_back({row.stock, cuts});
  }
}

Figures FiguresOf(const WorkStep& step, const Design& design, const PartsList& list) {
  const Hinge& hinge = design.hinges.front();
  const bool inches = design.job.inches;
  Figures figures;
  switch (step.shows) {
    case StepScene::kFlatParts:
      AddArms(hinge, inches, figures);
      break;
    case StepScene::kTurnedParts:
      AddSawn(list, inches, figures);
      break;
    case StepScene::kSwing:
      figures.push_back({"Least gap, lid to case", LeastGap(hinge, design.job)});
      figures.push_back({"Room behind", RoomBehind(hinge, design.job)});
      AddArms(hinge, inches, figures);
      break;
    default:
      break;
  }
  return figures;
}

std::string Item(const WorkStep& step, std::size_t number, std::size_t count,
                 const Figures& figures) {
  const std::string n = std::to_string(number);
  std::string numbers, how;
  for (const auto& [name, value] : figures) {
    numbers += Element("div", "", Element("dt", "", Prose(name)) + Element("dd", "", Prose(value)));
  }
  const auto row = [&](const char* name, const std::string& value) {
    if (!value.empty()) {
      how += Element("div", "", Element("dt", "", name) + Element("dd", "", Prose(value)));
    }
  };
  row("Held", step.held);
  row("Moves", step.moves);
  row("With", step.tool);
  row("Write down", step.write);
  return Element("li", "class=\"step\"",
                 Element("h3", "",
                         Element("small", "", n + " of " + std::to_string(count)) + " " +
                             Prose(step.title)) +
                     (numbers.empty() ? "" : Element("dl", "class=\"numbers\"", numbers)) +
                     Element("p", "", Prose(step.text)) + Element("dl", "class=\"how\"", how) +
                     Element("label", "class=\"tick\"",
                             "<input type=\"checkbox\" data-step=\"" + n + "\"> done")) +
         "\n";
}

}  // namespace

std::string BenchPart(const Design& design, const PartsFound& found) {
  if (design.hinges.empty() || !design.hinges.front().parts) return "";
  const std::vector<WorkStep> steps = WorkSteps(design.job, *design.hinges.front().parts);
  std::string items;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    items += Item(steps[i], i + 1, steps.size(), FiguresOf(steps[i], design, found.list));
  }
  return Section("bench", "At the bench, step by step",
                 Element("p", "class=\"noprint\"",
                         "<button type=\"button\" id=\"bench-begin\">One step a screen</button>") +
                     Element("ol", "class=\"steps\"", "\n" + items) +
                     "<div class=\"bench-bar noprint\" role=\"group\" aria-label=\"Steps\">"
                     "<button type=\"button\" id=\"bench-back\">Back</button>"
                     "<output id=\"bench-says\"></output>"
                     "<button type=\"button\" id=\"bench-next\">Next</button>"
                     "<button type=\"button\" id=\"bench-leave\">Leave</button></div>");
}

}  // namespace lidwright
