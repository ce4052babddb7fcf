// SPDX-License-Identifier: Apache-2.0
#include "fuzz.h"
#include "lidwright/session/session.h"

using namespace lidwright;

// Each line is a message. Work that is asked for is taken and never done.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  Session session("", "out/mockup");
  session.Answer(R"({"ask":"open","page":"page"})");
  int messages = 0;
  for (std::size_t at = 0; at < text.size() && messages < 16; ++messages) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    const std::string answer = session.Answer(text.substr(at, end - at));
    const nlohmann::json tree = nlohmann::json::parse(answer, nullptr, false);
    fuzz::Law(tree.is_object(), "every answer is an object: " + answer.substr(0, 200));
    if (const auto work = session.TakeWork()) {
      fuzz::Law(work->ticket != 0 || !session.Wanted(-1), "work has a ticket");
    }
    at = end + 1;
  }
  const std::string state = session.Answer(R"({"ask":"state","page":"page"})");
  fuzz::Law(nlohmann::json::parse(state, nullptr, false).is_object(), "and goes on answering");
  return 0;
}
