// SPDX-License-Identifier: Apache-2.0
#include "page.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "form.h"
#include "frames.h"
#include "lidwright/design/names.h"
#include "lidwright/report/page_views.h"
#include "lists.h"

namespace lidwright {
namespace {

constexpr const char* kMockupStyle =
#include "session/page/mockup.css.inc"
    ;

// In their order: later ones use what earlier ones declare.
constexpr const char* kMockupScript =
#include "session/page/1_form.js.inc"
#include "session/page/2_pivots.js.inc"
#include "session/page/2_places.js.inc"
#include "session/page/3_entries.js.inc"
#include "session/page/4_blocks.js.inc"
#include "session/page/4_poses.js.inc"
#include "session/page/4_words.js.inc"
#include "session/page/5_session.js.inc"
#include "session/page/6_files.js.inc"
    ;

constexpr const char* kBefore =
#include "session/page/before.html.inc"
    ;

constexpr const char* kBelow =
#include "session/page/below.html.inc"
    ;

constexpr const char* kAfter =
#include "session/page/after.html.inc"
    ;

Json FormData() {
  Json parts = Json::array();
  for (const FormPart& part : FormParts()) {
    Json rows = Json::array();
    for (const std::string& key : part.keys) {
      const KeyRow row = *FindKeyRow(key);
      rows.push_back({{"key", row.key},
                      {"label", row.label},
                      {"length", row.kind == KeyKind::kLength},
                      {"flag", row.kind == KeyKind::kFlag},
                      {"unit", row.unit},
                      {"range", row.range},
                      {"min", std::isfinite(row.min) ? Json(row.min) : Json(nullptr)},
                      {"max", std::isfinite(row.max) ? Json(row.max) : Json(nullptr)},
                      {"fallback", row.fallback},
                      {"required", row.required},
                      {"meaning", row.meaning},
                      {"choices", row.choices},
                      {"others", row.other_words}});
    }
    parts.push_back({{"heading", part.heading}, {"first", part.first}, {"rows", rows}});
  }
  return parts;
}

Json PivotData() {
  Json pivots = Json::array();
  for (const PivotName& pivot : PivotNames()) {
    pivots.push_back({{"name", pivot.name},
                      {"label", pivot.label},
                      {"says", PivotNameOf(pivot.pin)},
                      {"body", std::string(pivot.label).size() > 1 ? "case" : "lid"}});
  }
  return pivots;
}

// What can be typed of an entry of each list that a hand fills.
Json EntryData() {
  Json lists;
  for (const HandList& list : HandLists()) {
    for (const EntryValue& value : EntryValues(list)) {
      lists[list.name].push_back({{"name", value.name},
                                  {"angle", value.row.kind == KeyKind::kAngle},
                                  {"fallback", value.row.fallback},
                                  {"meaning", value.row.meaning}});
    }
  }
  return lists;
}

// Nothing in it can end the element; only texts hold this letter.
std::string ForScript(std::string json) {
  for (std::size_t at = 0; (at = json.find('<', at)) != std::string::npos; at += 6) {
    json.replace(at, 1, "\\u003c");
  }
  return json;
}

}  // namespace

std::string MockupPage(const Json& shown, const std::string& nonce) {
  Json data = shown;
  data["form"] = FormData();
  data["pivots"] = PivotData();
  data["keys"] = EntryData();
  return "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
         "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
         "<meta name=\"color-scheme\" content=\"light dark\">\n"
         "<meta name=\"referrer\" content=\"no-referrer\">\n<link rel=\"icon\" href=\"data:,\">\n"
         "<title>Mock-up \u2013 hidden hinge</title>\n<style>" +
         PageStyle() + kMockupStyle + "</style>\n</head>\n<body>\n" + kBefore + SwingFrame(kBelow) +
         kAfter + "<script type=\"application/json\" id=\"data\">" +
         ForScript(data.dump(-1, ' ', false, Json::error_handler_t::replace)) +
         "</script>\n<script nonce=\"" + nonce + "\">" + PageScript(kMockupScript) +
         "</script>\n</body>\n</html>\n";
}

}  // namespace lidwright
