// SPDX-License-Identifier: Apache-2.0
#include "fuzz.h"
#include "lidwright/session/session.h"

using namespace lidwright;

// Each line is a message. Work that is asked for is taken and never done. Answers about pivots
// reckon arms and parts, which takes a thousand times as long as reading a message: after one of
// them the rest of the lines are left.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  constexpr int kMostMessages = 16;
  constexpr const char* kState = R"({"ask":"state","page":"page"})";
  const std::string text(reinterpret_cast<const char*>(data), size);
  Session session("", "out/mockup");
  std::string state = session.Answer(R"({"ask":"open","page":"page"})");
  int messages = 0;
  for (std::size_t at = 0; at < text.size() && messages < kMostMessages; ++messages) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string answer = session.Answer(text.substr(at, end - at));
    at = end + 1;
    const nlohmann::json tree = nlohmann::json::parse(answer, nullptr, false);
    fuzz::Law(tree.is_object(), "every answer is an object: " + answer.substr(0, 200));
    if (const auto work = session.TakeWork()) {
      fuzz::Law(work->ticket != 0 && session.Wanted(work->ticket), "work has a ticket");
    }
    if (tree.contains("refused")) {
      fuzz::Law(tree["refused"].is_string() && !tree["refused"].get<std::string>().empty(),
                "a refusal has words");
      fuzz::Law(tree.contains("elsewhere") || session.Answer(kState) == state,
                "what is refused changes nothing: " + answer.substr(0, 200));
      continue;
    }
    if (tree.contains("now") || tree.contains("feel")) return 0;
    state = session.Answer(kState);
  }
  // Another page may have been opened, which is served then; it goes on answering.
  fuzz::Law(nlohmann::json::parse(session.Answer(kState), nullptr, false).is_object(),
            "and goes on answering");
  return 0;
}
