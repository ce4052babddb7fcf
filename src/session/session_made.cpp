// SPDX-License-Identifier: Apache-2.0
// Boxes to begin with: another job, or one made from a drawing or a pair of meshes.
#include <initializer_list>

#include "base64.h"
#include "lidwright/job/read_job.h"
#include "session_state.h"

namespace lidwright {
namespace {

// [letters] Longest name of a file that is told again.
constexpr std::size_t kLongestName = 100;

// The name alone, whatever path came with it.
std::string FileName(const std::string& told, const char* unnamed) {
  const std::size_t slash = told.find_last_of("/\\");
  std::string name = told.substr(slash == std::string::npos ? 0 : slash + 1, kLongestName);
  for (char& c : name) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) c = '?';
  }
  return name.empty() ? unnamed : name;
}

// One of these words, or nothing.
std::string OneOf(const Message& message, const char* key,
                  std::initializer_list<const char*> words) {
  const std::string text = message.TextOr(key);
  if (text.empty()) return text;
  std::string all;
  for (const char* word : words) {
    if (text == word) return text;
    all += (all.empty() ? "" : " or ") + std::string(word);
  }
  throw Refusal(std::string("'") + key + "' must be " + all);
}

std::string Bytes(const Message& message, const char* key) {
  std::optional<std::string> bytes = FromBase64(message.Text(key));
  if (!bytes) throw Refusal(std::string("'") + key + "' must be a file as base64");
  return *std::move(bytes);
}

}  // namespace

Json Session::State::TakeJob(const Message& message) {
  const std::string text = message.Text("text");
  const JobReading read = ReadJob(text, FileName(message.TextOr("name"), ""));
  if (!read.job) {
    Json faults = Json::array();
    for (const Problem& problem : read.problems) faults.push_back(Describe(problem));
    return {{"refused", "this is no job that can be read"}, {"faults", faults}};
  }
  wanted = 0;
  Add(Beginning(Json::parse(text)));
  return Shown();
}

Json Session::State::Trace(const Message& message) {
  SessionWork trace;
  trace.kind = SessionWork::Kind::kTrace;
  trace.files = {{FileName(message.TextOr("name"), "drawing"), message.Text("text")}};
  for (const char* key : {"width", "unit"}) {
    trace.wish[key] = message.TextOr(key).substr(0, kLongestName);
  }
  trace.wish["back"] = OneOf(message, "back", {"left", "right"});
  trace.wish["units"] = OneOf(message, "units", {"mm", "in"});
  Begin(std::move(trace), "traces the drawing");
  return Shown();
}

Json Session::State::Slice(const Message& message) {
  SessionWork slice;
  slice.kind = SessionWork::Kind::kSlice;
  slice.files = {{FileName(message.TextOr("case_name"), "case.stl"), Bytes(message, "case")},
                 {FileName(message.TextOr("lid_name"), "lid.stl"), Bytes(message, "lid")}};
  if (slice.files[0].first == slice.files[1].first) slice.files[1].first += " of the lid";
  for (const char* key : {"hinge_side", "up", "unit"}) {
    slice.wish[key] = message.TextOr(key).substr(0, kLongestName);
  }
  slice.wish["units"] = OneOf(message, "units", {"mm", "in"});
  Begin(std::move(slice), "slices the meshes");
  return Shown();
}

void Session::State::TakeMade(const std::string& job_text, const std::string& words) {
  said = words;
  const JobReading read = ReadJob(job_text, "job.json");
  good = read.job.has_value();
  if (!good) {
    if (!job_text.empty()) said += Describe(read.problems.front());
    return;
  }
  Add(Beginning(Json::parse(job_text)));
}

}  // namespace lidwright
