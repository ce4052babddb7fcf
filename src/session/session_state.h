// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>

#include "form.h"
#include "frames.h"
#include "history.h"
#include "lidwright/session/session.h"
#include "message.h"

namespace lidwright {

/// What a session holds, and what each message does to it.
class Session::State {
 public:
  State(const std::string& job_text, std::string folder);

  Json Follow(const Message& message);
  Json Shown() const { return Shown(true); }

  std::optional<SessionWork> work;  ///< asked for and not taken yet
  int wanted = 0;                   ///< ticket of the work that goes on; 0: none
  std::string doing, said;          ///< what is being done; what came of the last work
  double share = 0.0;
  bool good = true, there_already = false, packed = false, ended = false;
  Json so_far = Json::array();  ///< hinges found by the search that goes on, in that order
  void Take(Design design);
  void TakeWritten() { kept_ = keeping_; }
  void TakeMade(const std::string& job_text, const std::string& words);
  void TakeCorrection(CorrectionSearch sought);

 private:
  // What a set that is written holds: the job, and the hinge that was found for it.
  struct Kept {
    std::string job_text;
    std::shared_ptr<const Design> design;
    std::size_t choice = 0;
    bool operator==(const Kept& other) const {
      return job_text == other.job_text && design == other.design && choice == other.choice;
    }
  };

  using Handler = Json (State::*)(const Message&);
  static const std::map<std::string, Handler>& Handlers();

  Json Open(const Message& message);
  Json ShowAll(const Message&) { return Shown(); }
  Json Set(const Message& message);
  Json Entry(const Message& message);
  Json Remove(const Message& message);
  Json Apply(const Message& message);
  Json TakeJob(const Message& message);
  Json Trace(const Message& message);
  Json Slice(const Message& message);
  Json Find(const Message&);
  Json Stop(const Message&);
  Json Progress(const Message& message);
  Json Pick(const Message& message);
  Json PlaceAll(const Message&);
  Json Drag(const Message& message);
  Json Nudge(const Message& message);
  Json Put(const Message& message);
  Json Nearest(const Message&);
  Json Built(const Message& message);
  Json Drop(const Message&);
  Json MapPlaces(const Message& message);
  Json Rest(const Message&);
  Json Lid(const Message&);
  Json Undo(const Message&);
  Json Redo(const Message&);
  Json Save(const Message& message);
  Json End(const Message&);

  // Without `hinge` what there is to say of the pivots is left out and told to be pending.
  Json Shown(bool hinge) const;
  Moment NextMoment() const;
  void Add(Moment moment);
  void AddForm(Json form, const std::string& typing);
  void Read();
  Json FieldsShown() const;
  Json FaultsShown() const;
  Json ListsShown() const;
  Json HandShown() const;
  Json WorkShown() const;
  void AddHinges(Json* shown) const;
  Json BuiltShown() const;
  Vec2 Place(const Message& message, const std::string& before) const;
  Json MoveTo(const PivotName& pivot, const Vec2& at);
  const BoxModel& Box() const;
  std::optional<Pivots> PivotsNow() const;
  std::optional<Pivots> PivotsOf(const Moment& moment) const;
  Json Judged() const;
  Json JobWithPins() const;
  void Begin(SessionWork wanted_work, const std::string& what);
  Kept KeptNow() const;

  std::string folder_, page_;
  Kept kept_, keeping_;  // written last, or begun with; being written
  History history_;
  FormReading reading_;                       // of the form as it is typed
  std::optional<Job> drawn_;                  // the last that could be read …
  std::shared_ptr<const Solid> drawn_solid_;  // … and its box
  mutable std::unique_ptr<const BoxModel> box_;
  mutable std::optional<Hinge> judged_;  // the hinge on the pivots that are now
  std::optional<Pivots> dragged_;        // not a step yet
  std::string put_;                      // the pivot that it was typed for, if it was
  int tickets_ = 0;
};

/// A session's first moment with this job.
Moment Beginning(Json tree);

}  // namespace lidwright
