// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <variant>
#include <vector>

#include "lidwright/drawing/canvas.h"

// What somebody reads of all that is written, as plain text.
namespace lidwright::testing {

// Letters that print alike are alike: the minus sign, the space that does not break.
inline std::string Plain(std::string text) {
  const std::pair<const char*, const char*> all[] = {
      {"\u2212", "-"}, {"\u00a0", " "}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}};
  for (const auto& [from, to] : all) {
    for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos;) {
      text.replace(at, std::string(from).size(), to);
    }
  }
  return text;
}

// What somebody reads of a page: without scripts, styles and tags, blanks taken together.
inline std::string ReadPage(const std::string& page) {
  std::string text;
  bool blank = false;
  int cards = -1;  // of hinges begun so far; -1: not among them
  for (std::size_t at = 0; at < page.size(); ++at) {
    if (page[at] == '<') {
      for (const char* tag : {"script", "style"}) {
        if (page.compare(at + 1, std::string(tag).size(), tag) == 0) {
          at = page.find(std::string("</") + tag, at);
        }
      }
      const std::size_t end = page.find('>', at);
      const std::string tag = page.substr(at, end + 1 - at);
      // What is told of the hinges that are not chosen: there, and shown when they are; and the
      // figures on their cards.
      if (tag.find("class=\"choices\"") != std::string::npos) cards = 0;
      if (tag == "</ul>") cards = -1;
      const bool card = cards >= 0 && tag.rfind("<dl", 0) == 0;
      if (card) ++cards;
      const bool others = (card && cards > 1) || (tag.rfind("<div class=\"facts\"", 0) == 0 &&
                                                  tag.find(" hidden>") != std::string::npos);
      const std::string closing = card ? "</dl>" : "</div>";
      at = others ? page.find('>', page.find(closing, end)) : end;
      blank = true;
    } else if (page[at] == ' ' || page[at] == '\n') {
      blank = true;
    } else {
      if (blank) text += ' ';
      blank = false;
      text += page[at];
    }
  }
  return Plain(text);
}

// All texts of a drawing in the order they were written, those of a group in brackets.
inline std::string ReadDrawing(const std::vector<Canvas>& sheets) {
  std::string text;
  for (const Canvas& sheet : sheets) {
    for (const Canvas::Item& item : sheet.items()) {
      if (const auto* words = std::get_if<Canvas::Words>(&item)) text += words->text + " | ";
      if (const auto* group = std::get_if<Canvas::GroupStart>(&item))
        text += "[" + group->name + ": ";
      if (std::holds_alternative<Canvas::GroupEnd>(item)) text += "] ";
    }
  }
  return Plain(text);
}

}  // namespace lidwright::testing
