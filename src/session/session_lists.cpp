// SPDX-License-Identifier: Apache-2.0
// What is kept in the box and poses of the lid: entries as typed or as a hand drew them.
#include "lidwright/job/inner_room.h"
#include "lists.h"
#include "session_state.h"

namespace lidwright {
namespace {

// [letters] Longest text of a value.
constexpr std::size_t kLongestValue = 1000;
// [mm] A pose's point that is this near to a mark of the lid is that mark: a place in inches is
// typed to a ten-thousandth.
constexpr double kSameMark_mm = 0.01;

const HandList& ListIn(const Message& message) {
  const HandList* list = FindHandList(message.Text("list"));
  if (!list) throw Refusal("there is no such list");
  return *list;
}

// A point's coordinate is typed as a length is.
std::string TypedOf(const EntryValue& value, const std::string& text) {
  KeyRow row = value.row;
  if (row.kind == KeyKind::kPoint) row.kind = KeyKind::kLength;
  return AsReaderTakesIt(row, text);
}

Json PointJson(const Vec2& p) {
  return {p.x(), p.y()};
}

}  // namespace

// Values that came in one message are one step; a single one goes on as typing does.
Json Session::State::Entry(const Message& message) {
  const HandList& list = ListIn(message);
  const Json& form = *history_.now().form;
  const std::size_t count = CountOf(form, list);
  const auto number = static_cast<std::size_t>(message.Whole("number", 0, static_cast<int>(count)));
  if (number == list.most) {
    throw Refusal("there can be no more than " + std::to_string(list.most) + " of these");
  }
  std::map<std::string, std::string> typed;
  for (const EntryValue& value : EntryValues(list)) {
    if (!message.Has(value.name.c_str())) continue;
    typed[value.name] = TypedOf(value, message.Text(value.name.c_str()));
    if (typed[value.name].size() > kLongestValue) {
      throw Refusal("a measure has at most " + std::to_string(kLongestValue) + " letters");
    }
  }
  if (typed.empty()) throw Refusal("there is no such measure");
  const bool typing = typed.size() == 1 && number < count;
  AddForm(WithEntry(form, list, number, typed),
          typing ? list.name + std::to_string(number) + typed.begin()->first : "");
  return Shown(!message.Flag("box_first"));
}

Json Session::State::Remove(const Message& message) {
  const HandList& list = ListIn(message);
  const Json& form = *history_.now().form;
  const int last = static_cast<int>(CountOf(form, list)) - 1;
  if (last < 0) throw Refusal("there is nothing to take out");
  const auto number = static_cast<std::size_t>(message.Whole("number", 0, last));
  AddForm(WithoutEntry(form, list, number), "");
  return Shown();
}

// The entries as typed; with their places in mm where all of the form can be read, so that they can
// be drawn and taken hold of.
Json Session::State::ListsShown() const {
  Json lists;
  for (const HandList& list : HandLists()) {
    lists[list.name] = Json::array();
    for (Json& typed : EntriesTyped(*history_.now().form, list)) {
      lists[list.name].push_back({{"typed", std::move(typed)}});
    }
  }
  Json& blocks = lists["contents"];
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    blocks[i]["outline"] = (*history_.now().form)["contents"][i].contains("outline");
  }
  if (!reading_.job) return lists;
  const Job& job = *reading_.job;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const Rect2 at = Bounds(job.contents[i].rings);
    blocks[i]["low"] = PointJson(at.low);
    blocks[i]["high"] = PointJson(at.high);
  }
  const std::vector<LidMark> marks = LidMarks(*reading_.solid);
  for (std::size_t i = 0; i < job.poses.size(); ++i) {
    const PoseWish& pose = job.poses[i];
    Json& shown = lists["poses"][i];
    shown["theta"] = pose.angle_rad;
    shown["at"] = PointJson(pose.at);
    shown["point"] = PointJson(pose.point);
    shown["mark"] = "";
    for (const LidMark& mark : marks) {
      if ((mark.at - pose.point).norm() <= kSameMark_mm) shown["mark"] = mark.name;
    }
  }
  return lists;
}

// What a hand that draws blocks or holds the lid has to know of the box that is drawn.
Json Session::State::HandShown() const {
  const InnerRoom room = InnerRoomOf(*drawn_);
  Json marks = Json::array();
  for (const LidMark& mark : LidMarks(*drawn_solid_)) {
    marks.push_back({{"name", mark.name}, {"says", mark.says}, {"at", PointJson(mark.at)}});
  }
  return {{"low", {room.back_mm, room.floor_mm}},
          {"high", {room.front_mm, room.top_mm}},
          {"marks", marks},
          {"open", drawn_->swing.open_rad}};
}

}  // namespace lidwright
