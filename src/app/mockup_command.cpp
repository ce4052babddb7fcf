// SPDX-License-Identifier: Apache-2.0
#include "mockup_command.h"

#include <condition_variable>
#include <filesystem>
#include <mutex>
#include <sstream>
#include <thread>

#include "fit_folder.h"
#include "held_signals.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/correction.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/job/read_job.h"
#include "lidwright/report/page_views.h"
#include "lidwright/session/session.h"
#include "made_job.h"
#include "mockup_server.h"
#include "slice_command.h"
#include "trace_command.h"
#include "zip.h"

namespace lidwright {
namespace {

// Pictures of the swing, as many as `fit` makes unasked.
const int kFrames = CommandOptions{}.frames;

struct GivenUp {};

/// A session, guarded, with the thread that does its long work.
class Workshop {
 public:
  Workshop(const std::string& job_text, std::string folder)
      : folder_(std::move(folder)), session_(job_text, folder_), worker_([this] { Run(); }) {}
  ~Workshop() {
    {
      const std::lock_guard lock(mutex_);
      ending_ = true;
    }
    changed_.notify_all();
    worker_.join();
  }
  Workshop(const Workshop&) = delete;
  Workshop& operator=(const Workshop&) = delete;

  std::string Answer(const std::string& message) {
    const std::lock_guard lock(mutex_);
    std::string answer = session_.Answer(message);
    if (std::optional<SessionWork> work = session_.TakeWork()) next_ = std::move(work);
    changed_.notify_all();
    return answer;
  }
  std::string Page(const std::string& nonce) {
    const std::lock_guard lock(mutex_);
    return session_.Page(nonce);
  }
  std::string PackedSet() {
    const std::lock_guard lock(mutex_);
    return zip_;
  }
  bool Ended() {
    const std::lock_guard lock(mutex_);
    return session_.ended();
  }

 private:
  void Run() {
    for (;;) {
      std::unique_lock lock(mutex_);
      changed_.wait(lock, [&] { return ending_ || next_; });
      if (ending_) return;
      const SessionWork work = std::move(*next_);
      next_.reset();
      lock.unlock();
      try {
        Do(work);
      } catch (const GivenUp&) {  // nobody waits for it any more
      } catch (const FileError& error) {
        Done(work, error.what(), false, std::filesystem::exists(folder_));
      } catch (const std::exception& error) {
        Done(work, std::string("a defect of lidwright: ") + error.what(), false, false);
      }
    }
  }

  // Called between the search's steps: there it can be given up.
  void Tell(int ticket, const std::string& what, double share) {
    const std::lock_guard lock(mutex_);
    if (ending_ || !session_.Wanted(ticket)) throw GivenUp();
    session_.Progress(ticket, what, share);
  }
  void Done(const SessionWork& work, const std::string& words, bool good, bool there) {
    const std::lock_guard lock(mutex_);
    session_.Done(work.ticket, words, good, there);
  }

  Design Search(const SessionWork& work) {
    DesignOptions options;
    options.progress = [&](const std::string& what, double share) {
      Tell(work.ticket, what, share);
    };
    options.found = [&](const BoxModel& box, const Hinge& hinge) {
      const std::lock_guard lock(mutex_);
      session_.FoundSoFar(work.ticket, box, hinge);
    };
    return MakeSizedDesign(work.job, options);
  }

  void Do(const SessionWork& work) {
    if (work.kind == SessionWork::Kind::kSave) return Save(work);
    if (work.kind == SessionWork::Kind::kNearest) return Nearest(work);
    if (work.kind == SessionWork::Kind::kTrace || work.kind == SessionWork::Kind::kSlice) {
      return Make(work);
    }
    Design design = Search(work);
    const std::lock_guard lock(mutex_);
    session_.Found(work.ticket, std::move(design));
  }

  // What `trace` and `slice` do with files of these names; nothing is read from the disk.
  void Make(const SessionWork& work) {
    const auto read = [&](const std::string& name, std::size_t) {
      for (const auto& [file, bytes] : work.files) {
        if (file == name) return bytes;
      }
      throw FileError(name + ": was not given");
    };
    const auto wish = [&](const char* key) { return work.wish.at(key); };
    std::ostringstream notes, problems;
    const Streams streams{notes, problems, false};
    std::optional<std::string> text;
    try {
      if (work.kind == SessionWork::Kind::kTrace) {
        TraceCommandOptions options;
        options.drawings = {work.files[0].first};
        options.width = wish("width");
        options.unit = wish("unit");
        if (!wish("back").empty()) options.back = wish("back");
        if (!wish("units").empty()) options.units = wish("units");
        text = TracedJob(options, kFolderJob, read, streams);
      } else {
        SliceCommandOptions options;
        options.case_file = work.files[0].first;
        options.lid_file = work.files[1].first;
        options.hinge_side = wish("hinge_side");
        if (!wish("up").empty()) options.up = wish("up");
        if (!wish("unit").empty()) options.unit = wish("unit");
        if (!wish("units").empty()) options.units = wish("units");
        text = SlicedJob(options, read, streams);
      }
    } catch (const FileError& error) {
      problems << error.what() << "\n";
    }
    const std::lock_guard lock(mutex_);
    session_.Made(work.ticket, text.value_or(""), text ? notes.str() : problems.str());
  }

  void Nearest(const SessionWork& work) {
    const BoxModel box(work.job);
    CorrectionOptions options;
    options.progress = [&](double share) {
      Tell(work.ticket, "looks for the nearest that clears", share);
    };
    CorrectionSearch sought = SmallestCorrection(box, work.pivots, options);
    const std::lock_guard lock(mutex_);
    session_.Moved(work.ticket, std::move(sought));
  }

  // What `fit` does with the job's file, and the file.
  void Save(const SessionWork& work) {
    const IfThere if_there = work.replace ? IfThere::kReplace : IfThere::kRefuse;
    if (!work.packed) CheckFolder(folder_, if_there);
    Design design = work.design ? *work.design : Search(work);
    if (!work.choose.empty()) Choose(design, work.choose);
    AddAccuracyOfFirst(0, design);
    Tell(work.ticket, "drawings", 0.5);
    std::vector<CutFault> cut_faults;
    FolderContents contents = FitFolder(design, kFolderJob, kFrames, &cut_faults);
    contents[kFolderJob] = work.job_text;
    Tell(work.ticket, "files", 0.9);
    const std::string fails = WhatFails(design);
    std::string lacks;
    if (!fails.empty()) {
      const bool cut = contents.count("templates.pdf") > 0;
      lacks = (cut ? "; the hinge fails: "
                   : "; arms and templates are not among them, as the hinge fails: ") +
              fails;
    }
    if (work.packed) {
      std::string zip = ZipOf(contents);
      const std::lock_guard lock(mutex_);
      if (!session_.Wanted(work.ticket)) return;
      zip_ = std::move(zip);
      session_.Packed(
          work.ticket,
          std::to_string(contents.size()) + " files are packed into hinge.zip" + lacks + ".",
          fails.empty());
      return;
    }
    WriteFolder(folder_, contents, if_there);
    const std::lock_guard lock(mutex_);
    session_.Written(work.ticket,
                     std::to_string(contents.size()) + " files are written to " + folder_ +
                         (fails.empty() ? "; open report.html there and read its cautions first."
                                        : lacks + ". report.html says more."),
                     fails.empty());
  }

  const std::string folder_;
  std::mutex mutex_;
  std::condition_variable changed_;
  Session session_;
  std::optional<SessionWork> next_;
  std::string zip_;  // the set that was packed last
  bool ending_ = false;
  std::thread worker_;  // last: it uses all of the above
};

}  // namespace

ExitCode MockupCommand(const MockupCommandOptions& options, const Streams& streams) {
  std::string text;
  if (!options.job_file.empty()) {
    text = ReadFile(options.job_file, kLargestJob_bytes);
    const JobReading reading = ReadJob(text, options.job_file);
    if (!reading.job) {
      PrintProblems(reading.problems, streams.messages);
      return ExitCode::kBadJob;
    }
  }
  const std::string folder =
      !options.out.empty() ? options.out
                           : DefaultFolder(options.job_file.empty() ? "mockup" : options.job_file);
  const HeldSignals signals;  // before any thread is made, so that all have them blocked
  Workshop workshop(text, folder);
  const MockupServer server(options.port,
                            {[&](const std::string& message) { return workshop.Answer(message); },
                             [&](const std::string& nonce) { return workshop.Page(nonce); },
                             [&] { return workshop.PackedSet(); }});
  streams.out << "the mock-up is at " << server.address()
              << "\nwho has this address can use it; Ctrl-C ends it\n"
              << std::flush;
  if (!options.no_browser) OpenBrowser(server.address());
  constexpr long kLook_ns = 100'000'000;
  while (!signals.Came(kLook_ns) && !workshop.Ended()) {
  }
  streams.out << "ended\n";
  return ExitCode::kGood;
}

}  // namespace lidwright
