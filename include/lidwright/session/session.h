// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

/// Long work that a session asks for. Whoever owns the session does it, on a thread of its own if
/// it likes, and hands back what came of it under the same ticket.
struct SessionWork {
  enum class Kind { kFind, kSave, kNearest };
  Kind kind = Kind::kFind;
  int ticket = 0;
  Job job;  ///< what `job_text` reads as
  /// To save: the job's file, and the hinge to be drawn: `choose` of `design`, or of what a search
  /// for the job gives where there is no design.
  std::string job_text;
  std::shared_ptr<const Design> design;
  std::string choose;
  bool replace = false;  ///< a folder that is there may be replaced
  Pivots pivots;  ///< kNearest: those that the least move of one is looked for (SmallestCorrection)
};

/// A mock-up's session: the job as it is typed, the hinges found, the pivots as they are dragged,
/// with all that can be undone. Messages go in as JSON texts and come out as JSON texts; it knows
/// no file, no socket, no clock and no thread. Not to be used from two threads at once.
///
/// A message is an object: {"ask": …} and what goes with it. Places are in mm in the frame of
/// job.h, lid pivots where they sit when shut.
///   state                 everything a page shows
///   open page             the same, and from now on only the page of this name is served
///   set key text          one measure as typed; "" leaves it out
///   job text name         another job, as the text of its file
///   find, stop            looks for hinges (SessionWork), or gives it up
///   progress              what is being done and how far
///   choose number         one of the hinges found
///   nearest               the least move of one pivot with which all is met (SessionWork)
///   place                 four pivots to begin with, somewhere in their zones
///   drag pivot at         puts a pivot on the shop's grid point next to `at`: a certified answer
///   nudge pivot steps     moves it by steps of the grid
///   put pivot x y         puts it exactly where two texts say
///   drop                  what was dragged becomes one step that can be undone
///   rest                  routes the arms, makes the parts, judges all of it
///   undo, redo
///   save replace          writes the set (SessionWork)
///   end                   ends the program
/// Every answer is an object; {"refused": words} where a message cannot be followed, and then
/// nothing has changed.
class Session {
 public:
  /// `job_text` is a job file's, which ReadJob must be able to read; empty begins with a plain box.
  /// `folder` is only named, as the place where the set will be written.
  Session(const std::string& job_text, const std::string& folder);
  ~Session();
  Session(const Session&) = delete;
  Session& operator=(const Session&) = delete;

  /// Never throws for what stands in a message, whatever it is.
  std::string Answer(const std::string& message);

  /// The page with what it has to show now. `nonce` is that of its scripts in the policy it is
  /// served with.
  std::string Page(const std::string& nonce) const;

  /// Work that was asked for, once.
  std::optional<SessionWork> TakeWork();
  /// Is the work of this ticket still wanted?
  bool Wanted(int ticket) const;
  /// How far it is. Tickets that are not wanted any more are passed over, here and below.
  void Progress(int ticket, const std::string& what, double share);
  void Found(int ticket, Design design);
  /// The pivots with the least move that helps, and the words for it; none: none is near.
  void Moved(int ticket, const std::optional<Pivots>& pivots, const std::string& words);
  /// What came of saving, or why work failed, in words.
  void Done(int ticket, const std::string& words, bool good, bool there_already = false);

  /// Was the end asked for?
  bool ended() const;

 private:
  class State;
  std::unique_ptr<State> state_;
};

}  // namespace lidwright
