// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "lidwright/job/json_lines.h"
#include "lidwright/session/session.h"
#include "places.h"

namespace lidwright {

/// The job of the sample chest, as its file has it.
inline std::string SampleChest() {
  std::ifstream file(testing::SourceFolder() + "/examples/sample_chest.json", std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// A session with a page that is open.
class Talk {
 public:
  explicit Talk(const std::string& job_text = "") : session(job_text, "out/mockup") {
    Say({{"ask", "open"}});
  }
  /// What the session answers to the page.
  Json Say(Json message) {
    message["page"] = "page";
    return Json::parse(session.Answer(message.dump()));
  }
  Json Set(const std::string& key, const std::string& text) {
    return Say({{"ask", "set"}, {"key", key}, {"text", text}});
  }
  /// The words beside a field, or "".
  static std::string FaultAt(const Json& shown, const std::string& key) {
    for (const Json& fault : shown["faults"]) {
      if (fault["key"] == key) return fault["says"].get<std::string>();
    }
    return "";
  }

  Session session;
};

/// What a page shows after each of some steps.
class Steps {
 public:
  explicit Steps(Talk* talk) : talk_(*talk) { Keep(talk_.Say({{"ask", "state"}})); }
  void Keep(Json shown) { states_.push_back(Told(std::move(shown))); }
  /// All of them undone and redone: back to the same bytes each time.
  void CheckBackAndForth() {
    for (std::size_t i = states_.size() - 1; i-- > 0;) {
      CHECK(Told(talk_.Say({{"ask", "undo"}})) == states_[i]);
    }
    for (std::size_t i = 1; i < states_.size(); ++i) {
      CHECK(Told(talk_.Say({{"ask", "redo"}})) == states_[i]);
    }
  }

 private:
  static std::string Told(Json shown) {
    for (const char* key : {"undo", "redo", "before"}) shown.erase(key);
    return shown.dump();
  }

  Talk& talk_;
  std::vector<std::string> states_;
};

}  // namespace lidwright
