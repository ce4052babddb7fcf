// SPDX-License-Identifier: Apache-2.0
#include "begin_command.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <istream>
#include <ostream>

#include "lidwright/app/output_folder.h"
#include "lidwright/base/meant.h"
#include "lidwright/base/numbers.h"
#include "lidwright/job/documented_job.h"
#include "lidwright/job/key_rows.h"
#include "lidwright/job/length.h"
#include "lidwright/job/read_job.h"
#include "lidwright/solid/solid.h"
#include "made_job.h"

namespace lidwright {
namespace {

// [count] Words told with a question.
constexpr std::size_t kWordsInQuestion = 8;

using Answers = std::map<std::string, std::string>;

// What stands in the file for an answer, or what is wrong with it.
struct Value {
  std::string json, fault;
};

Value Faulty(const std::string& fault) {
  return {"", fault};
}

std::string RangeText(const KeyRow& row, double unit, const std::string& name) {
  return "must be from " + Text(row.min / unit) + " to " + Text(row.max / unit) + name;
}

std::string ListOf(const std::vector<std::string>& words) {
  std::string list;
  for (const std::string& word : words) list += (list.empty() ? "" : ", ") + word;
  return list;
}

Value WordOf(const KeyRow& row, const std::string& answer) {
  const bool known = std::find(row.choices.begin(), row.choices.end(), answer) != row.choices.end();
  if (known) return {JsonText(answer), ""};
  const std::string meant = DidYouMean(answer, row.choices);
  return Faulty("must be one of " + ListOf(row.choices) + (meant.empty() ? "" : "; " + meant));
}

Value ValueOf(const BeginQuestion& question, const std::string& answer, bool inches) {
  if (question.path == "name") return {JsonText(answer), ""};
  if (question.path == "units") {
    if (answer == "mm" || answer == "in") return {JsonText(answer), ""};
    return Faulty("must be mm or in");
  }
  const KeyRow row = *FindKeyRow(question.path);
  if (row.kind == KeyKind::kWord) return WordOf(row, answer);
  if (row.kind == KeyKind::kFlag) {
    if (answer == "yes" || answer == "no") return {answer == "yes" ? "true" : "false", ""};
    return Faulty("must be yes or no");
  }
  const bool comma = answer.find(',') != std::string::npos;
  const std::string hint = comma ? " (decimal points, not commas)" : "";
  const std::optional<double> number = PlainNumber(answer);
  if (row.kind != KeyKind::kLength) {
    if (!number) return Faulty("must be a number, without a unit" + hint);
    if (*number < row.min || *number > row.max) return Faulty(RangeText(row, 1.0, ""));
    return {Text(*number, 6), ""};
  }
  const double unit = inches ? kMmPerInch : 1.0;
  const std::optional<double> mm = ReadLength_mm(answer, unit);
  if (!mm) return Faulty("must be a length such as 340, \"12 cm\" or \"5-3/16 in\"" + hint);
  if (*mm < row.min || *mm > row.max) {
    return Faulty(RangeText(row, unit, inches ? " in" : " mm"));
  }
  if (number) return {Text(*number, 6), ""};
  // As it was written; without a unit a fraction would be refused in a job of millimetres.
  const bool has_unit = ReadLength_mm(answer, kUnset).has_value();
  return {JsonText(has_unit || inches ? answer : answer + " mm"), ""};
}

class Beginner {
 public:
  Beginner(const BeginCommandOptions& wish, const Streams& streams, std::istream* asked)
      : wish_(wish), streams_(streams), asked_(asked), answers_(wish.answers) {}

  ExitCode Run() {
    const IfThere if_there = wish_.replace ? IfThere::kReplace : IfThere::kRefuse;
    if (std::filesystem::path(wish_.out).extension() != ".json") {
      throw FileError(wish_.out + ": a job is written as .json");
    }
    CheckFile(wish_.out, if_there, MadeJob());
    if (asked_ == nullptr) RefuseIfLacking();
    for (bool again = false;; again = true) {
      if (!Complete(again)) return Stopped();
      if (!out_of_range_.empty()) return BadAnswers();
      const std::string text = JobText();
      Problems problems = ReadJob(text, wish_.out).problems;
      if (problems.empty()) {
        const Job job = *ReadJob(text, wish_.out).job;
        problems = FaultsOf(job, MakeSolid(job));
      }
      if (problems.empty()) {
        WriteFile(wish_.out, text, if_there, MadeJob());
        streams_.out << "written to " << wish_.out << "; look at it with 'lidwright box "
                     << wish_.out << "', then 'lidwright fit " << wish_.out << "'\n";
        return ExitCode::kGood;
      }
      for (const Problem& problem : problems) {
        streams_.messages << DescribeInPlace(problem) << "\n";
      }
      if (asked_ == nullptr) {
        streams_.messages << "nothing was written\n";
        return ExitCode::kBadJob;
      }
      streams_.out << "Once more; Enter keeps what stands in brackets.\n";
    }
  }

 private:
  void RefuseIfLacking() const {
    std::string lacking;
    for (const BeginQuestion& question : BeginQuestions()) {
      if (answers_.count(question.path) || !question.fallback.empty() ||
          !question.left_out.empty()) {
        continue;
      }
      lacking += (lacking.empty() ? "" : ", ") + question.option;
    }
    if (lacking.empty()) return;
    throw FileError("begin needs " + lacking + "; on a terminal it asks for them");
  }

  ExitCode Stopped() const {
    streams_.messages << "\nlidwright: stopped, nothing was written\n";
    return ExitCode::kUsage;
  }

  ExitCode BadAnswers() const {
    streams_.messages << out_of_range_ << "nothing was written\n";
    return ExitCode::kBadJob;
  }

  bool Inches() const {
    const auto units = answers_.find("units");
    return units != answers_.end() && units->second == "in";
  }

  // All answers into values; false if the questions were broken off.
  bool Complete(bool again) {
    values_.clear();
    for (const BeginQuestion& question : BeginQuestions()) {
      const bool given = answers_.count(question.path) > 0;
      if (asked_ != nullptr && (again || !given)) {
        if (!Ask(question)) return false;
        continue;
      }
      std::string answer = given ? Trimmed(answers_[question.path]) : question.fallback;
      if (answer.empty()) continue;  // may stay open
      const Value value = ValueOf(question, answer, Inches());
      if (value.fault.empty()) {
        values_[question.path] = value.json;
      } else if (asked_ != nullptr) {
        streams_.out << question.option << " " << answer << ": " << value.fault << "\n";
        answers_.erase(question.path);
        if (!Ask(question)) return false;
      } else {
        out_of_range_ += "lidwright: " + question.option + " " + answer + ": " + value.fault + "\n";
      }
    }
    return true;
  }

  // Until the answer is one that can be used.
  bool Ask(const BeginQuestion& question) {
    const auto before = answers_.find(question.path);
    std::string kept = before != answers_.end() ? before->second : question.fallback;
    const std::string unit = FindKeyRow(question.path)->kind != KeyKind::kLength ? ""
                             : Inches()                                          ? ", in"
                                                                                 : ", mm";
    for (;;) {
      const std::string shown = !kept.empty()                ? " [" + kept + "]"
                                : !question.left_out.empty() ? " [" + question.left_out + "]"
                                                             : "";
      const KeyRow row = *FindKeyRow(question.path);
      // Long lists are told to who names what is not in them.
      const std::string words =
          row.kind == KeyKind::kFlag ? " (yes, no)"
          : row.choices.empty() || row.choices.size() > kWordsInQuestion || question.path == "units"
              ? ""
              : " (" + ListOf(row.choices) + ")";
      streams_.out << row.meaning << words << unit << shown << ": " << std::flush;
      std::string line;
      if (!std::getline(*asked_, line)) return false;
      std::string answer = Trimmed(line);
      if (answer.empty()) answer = kept;
      if (answer.empty() && !question.left_out.empty()) return true;
      const Value value =
          answer.empty() ? Faulty("this one is needed") : ValueOf(question, answer, Inches());
      if (value.fault.empty()) {
        answers_[question.path] = answer;
        values_[question.path] = value.json;
        return true;
      }
      streams_.out << "  " << value.fault << "\n";
    }
  }

  std::string JobText() const {
    std::vector<JobEntry> entries;
    for (const auto& [path, value] : values_) entries.push_back({path, value});
    return DocumentedJob(
        entries, KeyRemarks::kAllKeys,
        {"A job for lidwright, begun with 'lidwright begin'. Keys that begin with # are remarks, "
         "like this one.",
         "To use a key that is only remarked on, write it without # and with a value instead of "
         "the words.",
         "Lengths are numbers in the unit below, or texts such as \"12 mm\" or \"5-3/16 in\".",
         "Seen from the side: x from the back to the front, y up, z across from mid-width; the "
         "origin is the rear outer face of the case at its ends, at rim height.",
         "Next: 'lidwright box' draws what is understood, 'lidwright fit' finds a hinge."});
  }

  const BeginCommandOptions& wish_;
  const Streams& streams_;
  std::istream* asked_;
  Answers answers_, values_;
  std::string out_of_range_;
};

}  // namespace

const std::vector<BeginQuestion>& BeginQuestions() {
  static const std::vector<BeginQuestion> kQuestions = {
      {"--name", "name", "A box with a domed lid"},
      {"--units", "units", "mm"},
      {"--width", "case.width", ""},
      {"--depth", "case.depth", ""},
      {"--height", "case.height", ""},
      {"--wall", "case.wall", ""},
      {"--back-bow", "case.back_bow", "0"},
      {"--rim-arch", "case.rim_arch", "0"},
      {"--lid-rim", "lid.rim", ""},
      {"--crown", "lid.crown", ""},
      {"--crown-at-ends", "lid.crown_at_ends", "0"},
      {"--open", "swing.open_deg", "95"},
      {"--behind", "room.behind", "", "no limit"},
      {"--wood", "loads.wood", "black cherry"},
      {"--stands", "loads.stands", "free"},
      {"--own-stay", "loads.stay", "no"},
      {"--arms", "arms.material", "", "chosen for you"}};
  return kQuestions;
}

ExitCode BeginCommand(const BeginCommandOptions& wish, const Streams& streams,
                      std::istream* asked) {
  return Beginner(wish, streams, asked).Run();
}

}  // namespace lidwright
