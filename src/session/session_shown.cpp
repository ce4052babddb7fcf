// SPDX-License-Identifier: Apache-2.0
// The form, and everything a page shows.
#include "lidwright/base/tolerances.h"
#include "lidwright/job/read_job.h"
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
  Moment moment = history_.now();
  moment.form = std::make_shared<const Json>(WithField(*moment.form, *row, text));
  moment.moved = PivotsNow();  // the pivots stay, what was found of the box before does not hold
  moment.design = nullptr;
  moment.choice = 0;
  moment.typing = row->key;
  if (wanted != 0 && *moment.form != *history_.now().form) wanted = 0;
  Add(std::move(moment));
  return Shown();
}

Json Session::State::TakeJob(const Message& message) {
  const std::string text = message.Text("text");
  const JobReading read = ReadJob(text, message.TextOr("name").substr(0, 100));
  if (!read.job) {
    Json faults = Json::array();
    for (const Problem& problem : read.problems) faults.push_back(Describe(problem));
    return {{"refused", "this is no job that can be read"}, {"faults", faults}};
  }
  wanted = 0;
  Add(Beginning(Json::parse(text)));
  return Shown();
}

Json Session::State::FieldsShown() const {
  Json fields;
  for (const FormPart& part : FormParts()) {
    for (const std::string& key : part.keys) fields[key] = FieldText(*history_.now().form, key);
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

Json Session::State::Shown() const {
  Json shown = drawn_ ? PageData(*drawn_, *drawn_solid_) : Json::object();
  shown["changes"] = true;  // to the report's scripts: what is shown may change
  shown["fields"] = FieldsShown();
  shown["faults"] = FaultsShown();
  shown["ready"] = reading_.ready();
  shown["folder"] = folder_;
  shown["undo"] = history_.can_undo();
  shown["redo"] = history_.can_redo();
  shown["work"] = WorkShown();
  shown["file"] = JsonLines(JobWithPins());
  if (reading_.ready()) {
    shown["grid"] = reading_.job->shop.grid_mm;
    AddHinges(&shown);
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
  if (PivotsNow()) (*shown)["now"] = Judged();
}

Json Session::State::WorkShown() const {
  return {{"going", wanted != 0}, {"what", doing}, {"share", share},
          {"said", said},         {"good", good},  {"there", there_already}};
}

}  // namespace lidwright
