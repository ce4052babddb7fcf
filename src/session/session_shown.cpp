// SPDX-License-Identifier: Apache-2.0
// The form, and everything a page shows.
#include "lidwright/base/tolerances.h"
#include "lidwright/job/write_job.h"
#include "lidwright/report/page_views.h"
#include "session_state.h"

namespace lidwright {
namespace {

Json TreeOf(const std::string& job_text) {
  return job_text.empty() ? PlainBox() : Json::parse(job_text);
}

}  // namespace

Moment Beginning(Json tree) {
  Moment moment;
  moment.form = std::make_shared<const Json>(std::move(tree));
  return moment;
}

Session::State::State(const std::string& job_text, std::string folder)
    : folder_(std::move(folder)), history_(Beginning(TreeOf(job_text))) {
  Read();
  kept_ = KeptNow();
}

// What comes after now, where another thing than a measure changes.
Moment Session::State::NextMoment() const {
  Moment moment = history_.now();
  moment.planned.reset();
  moment.typing.clear();
  return moment;
}

void Session::State::Add(Moment moment) {
  history_.Add(std::move(moment));
  dragged_.reset();
  Read();
}

// What follows from the moment that is now.
void Session::State::Read() {
  box_.reset();
  judged_.reset();
  dragged_.reset();
  packed = false;  // what was packed is of a moment that is not now any more
  reading_ = ReadForm(*history_.now().form);
  if (reading_.job) {
    drawn_ = reading_.job;
    drawn_solid_ = reading_.solid;
  }
}

Json Session::State::Set(const Message& message) {
  const std::optional<KeyRow> row = FindKeyRow(message.Text("key"));
  if (!row || !IsField(*row)) throw Refusal("there is no such measure");
  const std::string text = message.Text("text");
  if (text.size() > 1000) throw Refusal("a measure has at most 1000 letters");
  const Json& form = *history_.now().form;
  Json typed = WithTyped(form, *row, AsReaderTakesIt(*row, text));
  if (row->key == "units") {
    // What stands in the fields keeps its size, not its number.
    const auto inches = [](const Json& tree) { return TypedText(tree, "units") == "in"; };
    const std::string now = TypedText(typed, "units");
    const bool known = now.empty() || now == "mm" || now == "in";
    if (known && inches(typed) != inches(form)) typed = InOtherUnit(typed, inches(typed));
  }
  AddForm(std::move(typed), row->key);
  return Shown(!message.Flag("box_first"));
}

// A step to another form. The pivots stay, measured holes with the plan they are compared with;
// what was found and said of the box before does not hold.
void Session::State::AddForm(Json form, const std::string& typing) {
  Moment moment = NextMoment();
  if (form != *moment.form) wanted = 0;
  moment.form = std::make_shared<const Json>(std::move(form));
  moment.moved = PivotsNow();
  if (!dragged_) moment.planned = history_.now().planned;
  moment.design = nullptr;
  moment.choice = 0;
  moment.typing = typing;
  said.clear();
  good = true;
  Add(std::move(moment));
}

// What the search said would let a hinge in, into the form as one step; then it is searched again.
Json Session::State::Apply(const Message& message) {
  const std::shared_ptr<const Design> design = history_.now().design;
  if (!design || !design->none || design->none->remedies.empty()) {
    throw Refusal("there is nothing here that would let a hinge in");
  }
  const std::vector<Remedy>& remedies = design->none->remedies;
  const int number = message.Whole("number", 0, static_cast<int>(remedies.size()) - 1);
  Json form = *history_.now().form;
  for (const KeyChange& change : remedies[static_cast<std::size_t>(number)].changes) {
    form = WithTyped(form, *FindKeyRow(change.key), change.text);
  }
  AddForm(std::move(form), "");
  return reading_.ready() ? Find(message) : Shown();
}

Json Session::State::FieldsShown() const {
  Json fields;
  for (const FormPart& part : FormParts()) {
    for (const std::string& key : part.keys) fields[key] = TypedText(*history_.now().form, key);
  }
  return fields;
}

Json Session::State::FaultsShown() const {
  Json faults = Json::array();
  for (const Problem& problem : reading_.problems) {
    faults.push_back({{"key", problem.place}, {"says", DescribeInPlace(problem)}});
  }
  return faults;
}

// ---- Everything a page shows.

Json Session::State::Shown(bool hinge) const {
  Json shown = drawn_ ? PageData(*drawn_, *drawn_solid_) : Json::object();
  shown["changes"] = true;  // to the report's scripts: what is shown may change
  shown["fields"] = FieldsShown();
  shown["faults"] = FaultsShown();
  shown["lists"] = ListsShown();
  if (drawn_) shown["hand"] = HandShown();
  shown["ready"] = reading_.ready();
  shown["folder"] = folder_;
  shown["undo"] = history_.can_undo();
  shown["redo"] = history_.can_redo();
  shown["work"] = WorkShown();
  const Kept kept = KeptNow();
  shown["file"] = kept.job_text;
  shown["unsaved"] = dragged_ || !(kept == kept_);
  shown["stands"] = drawn_ ? StandsFor(*drawn_) : Json::object();
  if (reading_.ready()) {
    shown["grid"] = reading_.job->shop.grid_mm;
    shown["pending"] = !hinge && PivotsNow().has_value();
    if (!shown["pending"]) AddHinges(&shown);
  }
  return shown;
}

void Session::State::AddHinges(Json* shown) const {
  const Moment& now = history_.now();
  if (now.design) {
    for (const Hinge& hinge : now.design->hinges) {
      (*shown)["hinges"].push_back(
          HingeData(Box().job, Box().solid, Box().box, hinge, 5 * kPageStep_rad));
    }
    const DesignMarkup markup = MarkupOf(*now.design);
    (*shown)["answer"] = markup.answer;
    (*shown)["choices"] = markup.choices;
    if (now.design->none && now.design->hinges.empty() && !now.moved && !dragged_) {
      (*shown)["none"] = {{"says", "No hinge fits: " + WhatFails(*now.design) + "."},
                          {"plainFirst", PlainHingeFirst(*now.design)}};
    }
  }
  (*shown)["choice"] = now.design && !now.moved ? static_cast<int>(now.choice) : -1;
  if (const Moment* before = history_.before()) {
    if (const std::optional<Pivots> pivots = PivotsOf(*before)) {
      for (const PivotName& pivot : PivotNames()) {
        const Vec2& at = (*pivots).*pivot.at;
        (*shown)["before"][pivot.label] = {at.x(), at.y()};
      }
    }
  }
  if (now.planned) (*shown)["built"] = BuiltShown();
  if (PivotsNow()) (*shown)["now"] = Judged();
}

Json Session::State::WorkShown() const {
  return {{"going", wanted != 0}, {"what", doing},          {"share", share},  {"said", said},
          {"good", good},         {"there", there_already}, {"packed", packed}};
}

}  // namespace lidwright
