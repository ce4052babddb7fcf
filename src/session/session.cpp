// SPDX-License-Identifier: Apache-2.0
#include "lidwright/session/session.h"

#include "lidwright/job/read_job.h"
#include "lidwright/job/write_job.h"
#include "page.h"
#include "session_state.h"

namespace lidwright {
namespace {

// [count] Hinges shown while a search runs: it finds a few better ones in a round.
constexpr int kMostShown = 64;

}  // namespace

const std::map<std::string, Session::State::Handler>& Session::State::Handlers() {
  static const std::map<std::string, Handler> kHandlers{
      {"state", &State::ShowAll},   {"open", &State::Open},         {"set", &State::Set},
      {"job", &State::TakeJob},     {"find", &State::Find},         {"stop", &State::Stop},
      {"choose", &State::Pick},     {"progress", &State::Progress}, {"place", &State::PlaceAll},
      {"drag", &State::Drag},       {"nudge", &State::Nudge},       {"put", &State::Put},
      {"drop", &State::Drop},       {"rest", &State::Rest},         {"lid", &State::Lid},
      {"undo", &State::Undo},       {"redo", &State::Redo},         {"save", &State::Save},
      {"nearest", &State::Nearest}, {"remedy", &State::Apply},      {"built", &State::Built},
      {"trace", &State::Trace},     {"slice", &State::Slice},       {"places", &State::MapPlaces},
      {"end", &State::End},         {"entry", &State::Entry},       {"remove", &State::Remove}};
  return kHandlers;
}

Json Session::State::Follow(const Message& message) {
  const auto handler = Handlers().find(message.ask());
  if (handler == Handlers().end())
    throw Refusal("there is nothing called '" + message.ask().substr(0, 40) + "' to ask for");
  const bool opens = message.ask() == "open";
  if (!opens && message.TextOr("page") != page_) {
    return {{"refused", "this box is open in another window"}, {"elsewhere", true}};
  }
  return (this->*handler->second)(message);
}

Json Session::State::Open(const Message& message) {
  const std::string page = message.Text("page");
  if (page.empty() || page.size() > 64) throw Refusal("a page's name has 1 to 64 letters");
  page_ = page;
  return Shown();
}

// ---- Long work.

void Session::State::Begin(SessionWork wanted_work, const std::string& what) {
  wanted_work.ticket = wanted = ++tickets_;
  work = std::move(wanted_work);
  doing = what;
  said.clear();
  share = 0.0;
  good = true;
  there_already = packed = false;
  so_far = Json::array();
}

Json Session::State::Find(const Message&) {
  SessionWork search;
  if (!reading_.ready()) throw Refusal("first the measures that are marked must be mended");
  search.job = *reading_.job;
  Begin(std::move(search), "begins");
  return Shown();
}

Json Session::State::Stop(const Message&) {
  wanted = 0;
  work.reset();
  doing.clear();
  return {{"work", WorkShown()}};
}

Json Session::State::Progress(const Message& message) {
  const int seen = message.Has("seen") ? message.Whole("seen", 0, kMostShown) : 0;
  Json fresh = Json::array();
  for (std::size_t i = static_cast<std::size_t>(seen); i < so_far.size(); ++i) {
    fresh.push_back(so_far[i]);
  }
  return {{"work", WorkShown()}, {"soFar", fresh}};
}

void Session::State::Take(Design design) {
  Moment moment = NextMoment();
  moment.design = std::make_shared<const Design>(std::move(design));
  moment.choice = 0;
  moment.moved.reset();
  Add(std::move(moment));
}

// The job's file: as typed, with pivots that were put by hand as pins.
Json Session::State::JobWithPins() const {
  Json tree = *history_.now().form;
  if (!history_.now().moved || !reading_.job) return tree;
  Job job = *reading_.job;
  const Pivots& pivots = *history_.now().moved;
  job.pivots.case_a = pivots.case_a;
  job.pivots.case_b = pivots.case_b;
  job.pivots.lid_a = pivots.lid_a;
  job.pivots.lid_b = pivots.lid_b;
  tree["pivots"] = JobJson(job)["pivots"];
  return tree;
}

Session::State::Kept Session::State::KeptNow() const {
  const Moment& now = history_.now();
  Kept kept{JsonLines(JobWithPins()), now.moved ? nullptr : now.design, 0};
  if (kept.design) kept.choice = now.choice;
  return kept;
}

Json Session::State::Save(const Message& message) {
  const Moment& now = history_.now();
  if (!reading_.ready()) throw Refusal("first the measures that are marked must be mended");
  if (dragged_) throw Refusal("a pivot is still being moved");
  if (!now.moved && !now.design) {
    throw Refusal("find a hinge first, or place its pivots by hand: there is none to write yet");
  }
  SessionWork save;
  save.kind = SessionWork::Kind::kSave;
  save.replace = message.Flag("replace");
  save.packed = message.Flag("packed");
  save.job_text = JsonLines(JobWithPins());
  const JobReading read = ReadJob(save.job_text, "job.json");
  if (!read.job)
    throw Refusal("these pivots cannot be written into a job: " +
                  DescribeInPlace(read.problems.front()));
  save.job = *read.job;
  if (!now.moved && now.design) {
    save.design = now.design;
    if (now.choice > 0) save.choose = now.design->hinges[now.choice].character;
  }
  keeping_ = KeptNow();
  Begin(std::move(save), "drawings");
  return Shown();
}

Json Session::State::End(const Message&) {
  ended = true;
  wanted = 0;
  return {{"ended", true}};
}

// ---- From outside.

Session::Session(const std::string& job_text, const std::string& folder)
    : state_(std::make_unique<State>(job_text, folder)) {}
Session::~Session() = default;

std::string Session::Answer(const std::string& message) {
  Json answer;
  try {
    answer = state_->Follow(Message(message));
  } catch (const Refusal& refusal) {
    answer = {{"refused", refusal.what()}};
  }
  return answer.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string Session::Page(const std::string& nonce) const {
  return MockupPage(state_->Shown(), nonce);
}

std::optional<SessionWork> Session::TakeWork() {
  std::optional<SessionWork> work = std::move(state_->work);
  state_->work.reset();
  return work;
}

bool Session::Wanted(int ticket) const {
  return ticket != 0 && state_->wanted == ticket;
}

void Session::Progress(int ticket, const std::string& what, double share) {
  if (!Wanted(ticket)) return;
  state_->doing = what;
  state_->share = share;
}

void Session::Found(int ticket, Design design) {
  if (!Wanted(ticket)) return;
  state_->wanted = 0;
  state_->doing.clear();
  state_->Take(std::move(design));
}

void Session::FoundSoFar(int ticket, const BoxModel& box, const Hinge& hinge) {
  if (!Wanted(ticket) || state_->so_far.size() >= kMostShown) return;
  state_->so_far.push_back(GlimpseOf(box, hinge));
}

void Session::Made(int ticket, const std::string& job_text, const std::string& words) {
  if (!Wanted(ticket)) return;
  state_->wanted = 0;
  state_->doing.clear();
  state_->TakeMade(job_text, words);
}

void Session::Moved(int ticket, CorrectionSearch sought) {
  if (!Wanted(ticket)) return;
  state_->wanted = 0;
  state_->doing.clear();
  state_->TakeCorrection(std::move(sought));
}

void Session::Packed(int ticket, const std::string& words, bool good) {
  if (!Wanted(ticket)) return;
  Written(ticket, words, good);
  state_->packed = true;
}

void Session::Written(int ticket, const std::string& words, bool good) {
  if (!Wanted(ticket)) return;
  Done(ticket, words, good);
  state_->TakeWritten();
}

void Session::Done(int ticket, const std::string& words, bool good, bool there_already) {
  if (!Wanted(ticket)) return;
  state_->wanted = 0;
  state_->doing.clear();
  state_->said = words;
  state_->good = good;
  state_->there_already = there_already;
}

bool Session::ended() const {
  return state_->ended;
}

}  // namespace lidwright
