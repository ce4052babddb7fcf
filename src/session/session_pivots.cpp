// SPDX-License-Identifier: Apache-2.0
// Pivots: where they are, how they move, what is said of them.
#include <algorithm>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/names.h"
#include "lidwright/design/stay_choice.h"
#include "lidwright/job/length.h"
#include "lidwright/report/page_views.h"
#include "lidwright/report/summary.h"
#include "places.h"
#include "session_state.h"

namespace lidwright {

const BoxModel& Session::State::Box() const {
  const Moment& now = history_.now();
  if (!reading_.ready()) throw Refusal("first the measures that are marked must be mended");
  if (!box_) {
    // Sizes that the job leaves open are those the search took.
    box_ = std::make_unique<const BoxModel>(now.design ? now.design->job : *reading_.job);
  }
  return *box_;
}

std::optional<Pivots> Session::State::PivotsOf(const Moment& moment) const {
  if (moment.moved) return moment.moved;
  if (moment.design && moment.choice < moment.design->hinges.size()) {
    return moment.design->hinges[moment.choice].pivots;
  }
  if (moment.design && moment.design->none && moment.design->none->nearest_hinge) {
    return moment.design->none->nearest_hinge->pivots;
  }
  return std::nullopt;
}

std::optional<Pivots> Session::State::PivotsNow() const {
  return dragged_ ? dragged_ : PivotsOf(history_.now());
}

// The hinge as it is now with arms, parts and forces, and what there is to say of it.
Json Session::State::Judged() const {
  const Moment& now = history_.now();
  const BoxModel& box = Box();
  Design shown;
  shown.job = box.job;
  shown.solid = box.solid;
  const bool found =
      now.design && !now.moved && !dragged_ && now.choice < now.design->hinges.size();
  if (!found && !judged_) {
    judged_ = JudgeHinge(box, *PivotsNow(), std::nullopt, std::nullopt);
    AddStayWhereNeeded(box, *judged_);
  }
  shown.hinges = {found ? now.design->hinges[now.choice] : *judged_};
  if (now.design) shown.plain = now.design->plain;
  Json frame = HingeFrame(box, shown.hinges.front());
  const DesignMarkup markup = MarkupOf(shown);
  frame["answer"] = markup.answer;
  frame["feel"] = markup.feel;
  frame["watch"] = markup.watch;
  frame["plainFirst"] = PlainHingeFirst(shown);
  frame["fails"] = WhatFails(shown);
  return frame;
}

Json Session::State::MoveTo(const PivotName& pivot, const Vec2& at) {
  Pivots pivots = *PivotsNow();
  pivots.*pivot.at = at;
  Json frame = LidFrame(Box(), pivots);
  dragged_ = pivots;
  put_.clear();
  judged_.reset();
  return frame;
}

Json Session::State::PlaceAll(const Message&) {
  Moment moment = NextMoment();
  moment.moved = PivotsToBeginWith(Box());
  wanted = 0;
  Add(std::move(moment));
  return Shown();
}

namespace {

const PivotName& PivotIn(const Message& message, bool there) {
  const PivotName* pivot = FindPivot(message.Text("pivot"));
  if (!pivot) throw Refusal("there is no such pivot");
  if (!there) throw Refusal("there are no pivots yet");
  return *pivot;
}

}  // namespace

Json Session::State::Drag(const Message& message) {
  const PivotName& pivot = PivotIn(message, PivotsNow().has_value());
  return MoveTo(pivot, OnShopGrid(Box().job, message.Pair("at", kFarthestPoint_mm)));
}

Json Session::State::Nudge(const Message& message) {
  const PivotName& pivot = PivotIn(message, PivotsNow().has_value());
  const double grid = Box().job.shop.grid_mm;
  const Vec2 by = (grid > 0.0 ? grid : 0.1) * message.Pair("steps", 1000.0);
  const Vec2 to = OnShopGrid(Box().job, (*PivotsNow()).*pivot.at + by);
  return MoveTo(pivot, to);
}

// Two lengths as typed, under the names x and y with `before` in front.
Vec2 Session::State::Place(const Message& message, const std::string& before) const {
  const double unit = Box().job.inches ? kMmPerInch : 1.0;
  KeyRow row;
  row.kind = KeyKind::kLength;
  const auto read = [&](const char* axis) {
    const std::string text = message.Text((before + axis).c_str());
    const std::optional<double> mm = ReadLength_mm(AsReaderTakesIt(row, text), unit);
    if (!mm) {
      throw Refusal(std::string(axis) +
                    " must be a length such as 34, \"3.4 cm\" or \"1-3/16 in\"");
    }
    if (std::abs(*mm) > kFarthestPoint_mm) {
      throw Refusal(std::string(axis) + " must be within " + Text(kFarthestPoint_mm) +
                    " mm of the box's rear upper edge");
    }
    return *mm;
  };
  const double x = read("x"), y = read("y");
  if (Vec2(x, y).norm() > kFarthestPoint_mm) throw Refusal("x and y are too far from the box");
  return {x, y};
}

Json Session::State::Put(const Message& message) {
  const PivotName& pivot = PivotIn(message, PivotsNow().has_value());
  Json frame = MoveTo(pivot, Place(message, ""));
  put_ = pivot.name;
  return frame;
}

// Samples of where one pivot may lie with the others held, a few in an answer: whoever drags
// meanwhile waits for no more than these.
Json Session::State::MapPlaces(const Message& message) {
  constexpr std::size_t kInAnAnswer = 4;
  const PivotName& pivot = PivotIn(message, PivotsNow().has_value());
  const std::vector<Vec2> all = PlacesAround(Box().job, message.Pair("around", kFarthestPoint_mm));
  const std::size_t from =
      static_cast<std::size_t>(message.Whole("from", 0, static_cast<int>(all.size())));
  const std::size_t end = std::min(all.size(), from + kInAnAnswer);
  Json points = Json::array();
  for (std::size_t i = from; i < end; ++i) {
    Pivots pivots = *PivotsNow();
    pivots.*pivot.at = all[i];
    points.push_back({all[i].x(), all[i].y(), LidClears(Box(), pivots)});
  }
  return {{"points", points}, {"done", end == all.size()}};
}

Json Session::State::Drop(const Message&) {
  if (!dragged_) return Shown();
  Moment moment = NextMoment();
  moment.moved = dragged_;
  if (!put_.empty()) moment.typing = "place of " + put_;
  wanted = 0;
  packed = false;
  history_.Add(std::move(moment));
  dragged_.reset();
  return Shown();
}

Json Session::State::Nearest(const Message&) {
  const std::optional<Pivots> pivots = PivotsNow();
  if (!pivots) throw Refusal("there are no pivots yet");
  if (dragged_) throw Refusal("a pivot is still being moved");
  SessionWork search;
  search.kind = SessionWork::Kind::kNearest;
  search.job = Box().job;
  search.pivots = *pivots;
  Begin(std::move(search), "looks for the nearest that clears");
  return Shown();
}

void Session::State::TakeCorrection(CorrectionSearch sought) {
  good = sought.end != CorrectionEnd::kNoneFound;
  if (history_.now().planned) {  // holes that are drilled stay where they are
    said = CorrectionText(sought, Box().job);
  } else if (sought.end == CorrectionEnd::kClearsAlready) {
    said = "Nothing is in the way here: what lacks is strength, see what is asked.";
  } else if (!sought.found) {
    said = "No move of one pivot by up to " +
           BenchText(sought.reach_mm, Bench::kHole, Box().job.inches) +
           " was found with which it clears: find a hinge instead.";
  } else {
    const Correction& correction = *sought.found;
    said = "Moved: " + PivotNameOf(correction.pin) + ", by " +
           BenchText(correction.by.norm(), Bench::kHole, Box().job.inches) + "." +
           (Does(correction.hinge) ? "" : " It clears, and is still too weak.");
    Moment moment = NextMoment();
    moment.moved = correction.hinge.pivots;
    Add(std::move(moment));
  }
}

// The lid alone, as in a drag.
Json Session::State::Lid(const Message&) {
  const std::optional<Pivots> pivots = PivotsNow();
  if (!pivots) throw Refusal("there are no pivots yet");
  return LidFrame(Box(), *pivots);
}

Json Session::State::Rest(const Message&) {
  if (!PivotsNow()) throw Refusal("there are no pivots yet");
  return Judged();
}

Json Session::State::Pick(const Message& message) {
  const std::shared_ptr<const Design>& design = history_.now().design;
  if (!design || design->hinges.empty()) throw Refusal("no hinges were found yet");
  Moment moment = NextMoment();
  moment.choice = static_cast<std::size_t>(
      message.Whole("number", 0, static_cast<int>(design->hinges.size()) - 1));
  moment.moved.reset();
  Add(std::move(moment));
  return Shown();
}

Json Session::State::Undo(const Message&) {
  if (dragged_) {
    dragged_.reset();
  } else {
    history_.Undo();
  }
  wanted = 0;
  Read();
  return Shown();
}

Json Session::State::Redo(const Message&) {
  history_.Redo();
  wanted = 0;
  Read();
  return Shown();
}

}  // namespace lidwright
