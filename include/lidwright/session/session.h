// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "lidwright/design/correction.h"

namespace lidwright {

/// Long work that a session asks for. Whoever owns the session does it, on a thread of its own if
/// it likes, and hands back what came of it under the same ticket.
struct SessionWork {
  enum class Kind { kFind, kSave, kNearest, kTrace, kSlice };
  Kind kind = Kind::kFind;
  int ticket = 0;
  Job job;  ///< what `job_text` reads as
  /// To save: the job's file, and the hinge to be drawn: `choose` of `design`, or of what a search
  /// for the job gives where there is no design.
  std::string job_text;
  std::shared_ptr<const Design> design;
  std::string choose;
  bool replace = false;  ///< a folder that is there may be replaced
  bool packed = false;   ///< into one file that the page takes, not into the folder
  /// kTrace: a drawing; kSlice: the meshes of case and lid. Their names, which are only told, with
  /// their bytes; and by name what they do not say, as the options of the terminal take it:
  /// "width", "back", "unit", "units"; "hinge_side", "up", "unit", "units".
  std::vector<std::pair<std::string, std::string>> files;
  std::map<std::string, std::string> wish;
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
///   set key text          one measure as typed; "" leaves it out; other units convert bare lengths
///   entry list number …   values of one of the `contents` or `poses` as typed, by their keys, a
///                         point's by at_x and at_y; "" leaves one out, and where `number` is their
///                         count there is one more
///   remove list number    takes one out
///   job text name         another job, as the text of its file
///   remedy number         makes one of the changes that let a hinge in, and looks for it
///   trace name text …     a job from a section drawn as SVG or DXF (SessionWork)
///   slice case lid …      a job from two meshes, STL as base64 (SessionWork)
///   find, stop            looks for hinges (SessionWork), or gives it up
///   progress seen         what is being done, how far, and the hinges found so far but for the
///                         first `seen`
///   choose number         one of the hinges found
///   nearest               the least move of one pivot with which all is met (SessionWork)
///   built case_a_x …      the four pivots as measured on what was built, as texts; if they do not
///                         clear, which to shift is looked for (SessionWork)
///   place                 four pivots to begin with, somewhere in their zones
///   drag pivot at         puts a pivot on the shop's grid point next to `at`: a certified answer
///   nudge pivot steps     moves it by steps of the grid
///   put pivot x y         puts it exactly where two texts say
///   places pivot around from   samples around a place, some from number `from` on: does the lid
///                         clear with this pivot there and the others where they are?
///   drop                  what was dragged becomes one step that can be undone
///   rest                  routes the arms, makes the parts, judges all of it
///   undo, redo
///   save replace packed   writes the set, or packs it for the page (SessionWork); refused before
///                         a search has ended or pivots were placed
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
  /// The best hinge so far of a search that goes on, and the box it is for.
  void FoundSoFar(int ticket, const BoxModel& box, const Hinge& hinge);
  /// The job's file that came of a drawing or meshes, empty if none did, and what is said of it.
  void Made(int ticket, const std::string& job_text, const std::string& words);
  /// What came of looking for the least move of a pivot.
  void Moved(int ticket, CorrectionSearch sought);
  /// The set is packed, and the page may have it.
  void Packed(int ticket, const std::string& words, bool good);
  /// The set is written into the folder.
  void Written(int ticket, const std::string& words, bool good);
  /// Why nothing came of work, in words.
  void Done(int ticket, const std::string& words, bool good, bool there_already = false);

  /// Was the end asked for?
  bool ended() const;

 private:
  class State;
  std::unique_ptr<State> state_;
};

}  // namespace lidwright
