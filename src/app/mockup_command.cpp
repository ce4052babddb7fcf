// SPDX-License-Identifier: Apache-2.0
#include "mockup_command.h"

#include <condition_variable>
#include <filesystem>
#include <mutex>
#include <ostream>
#include <thread>

#include "fit_folder.h"
#include "held_signals.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/correction.h"
#include "lidwright/design/names.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/job/read_job.h"
#include "lidwright/session/session.h"
#include "made_job.h"
#include "mockup_server.h"

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
    return MakeSizedDesign(work.job, options);
  }

  void Do(const SessionWork& work) {
    if (work.kind == SessionWork::Kind::kSave) return Save(work);
    if (work.kind == SessionWork::Kind::kNearest) return Nearest(work);
    Design design = Search(work);
    const std::lock_guard lock(mutex_);
    session_.Found(work.ticket, std::move(design));
  }

  void Nearest(const SessionWork& work) {
    const BoxModel box(work.job);
    const std::optional<Correction> found = SmallestCorrection(box, work.pivots);
    const std::string words =
        found ? "Moved: " + PivotNameOf(found->pin) + ", by " +
                    BenchText(found->by.norm(), Bench::kHole, work.job.inches) + "."
              : "No pivot moved alone, as far as 25 mm, makes it clear: find a hinge instead.";
    const std::lock_guard lock(mutex_);
    session_.Moved(work.ticket, found ? std::optional(found->hinge.pivots) : std::nullopt, words);
  }

  // What `fit` does with the job's file, and the file.
  void Save(const SessionWork& work) {
    const IfThere if_there = work.replace ? IfThere::kReplace : IfThere::kRefuse;
    CheckFolder(folder_, if_there);
    Design design = work.design ? *work.design : Search(work);
    if (!work.choose.empty()) Choose(design, work.choose);
    AddAccuracyOfFirst(0, design);
    Tell(work.ticket, "drawings", 0.5);
    std::vector<CutFault> cut_faults;
    FolderContents contents = FitFolder(design, kFrames, &cut_faults);
    contents[kFolderJob] = work.job_text;
    Tell(work.ticket, "files", 0.9);
    WriteFolder(folder_, contents, if_there);
    const bool good = Does(design);
    Done(work,
         std::to_string(contents.size()) + " files are written to " + folder_ +
             (good ? "; open report.html there and read its cautions first."
                   : "; there is no hinge among them that does: report.html says why."),
         good, false);
  }

  const std::string folder_;
  std::mutex mutex_;
  std::condition_variable changed_;
  Session session_;
  std::optional<SessionWork> next_;
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
                             [&](const std::string& nonce) { return workshop.Page(nonce); }});
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
