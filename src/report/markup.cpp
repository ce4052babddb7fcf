// SPDX-License-Identifier: Apache-2.0
#include "markup.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

namespace lidwright {
namespace {

constexpr std::array kUnits{"mm",  "in",   "kg",  "lb",    "oz",     "N",      "J",
                            "m/s", "ft/s", "lbf", "kg/m3", "lb/ft3", "mm/deg", "in/deg"};

}  // namespace

std::string Escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        // Control characters have no place in HTML; neither has half a letter, but that browsers
        // mend by themselves.
        out += static_cast<unsigned char>(c) < 0x20 && c != '\n' && c != '\t' ? ' ' : c;
    }
  }
  return out;
}

std::string Prose(const std::string& text) {
  const auto digit = [&](std::size_t i) {
    return i < text.size() && std::isdigit(static_cast<unsigned char>(text[i])) != 0;
  };
  const auto begins = [&](std::size_t i, const std::string& word) {
    const std::size_t end = i + word.size();
    return text.compare(i, word.size(), word) == 0 &&
           (end == text.size() || std::isalnum(static_cast<unsigned char>(text[end])) == 0);
  };
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool after_number = i > 0 && digit(i - 1);
    if (text[i] == '-' && digit(i + 1) && (i == 0 || text[i - 1] == ' ' || text[i - 1] == '(')) {
      out += "\u2212";
    } else if (after_number && begins(i, " deg")) {
      out += "\u00b0";
      i += 3;
    } else if (after_number && (begins(i, " lbf in") || begins(i, " ft lbf"))) {
      out += begins(i, " ft lbf") ? "\u00a0ft\u00a0lbf" : "\u00a0lbf\u00a0in";
      i += 6;
    } else if (text[i] == ' ' && after_number && i + 1 < text.size() &&
               (text[i + 1] == '%' || begins(i + 1, "\u00d7") ||
                std::any_of(kUnits.begin(), kUnits.end(),
                            [&](const char* unit) { return begins(i + 1, unit); }))) {
      out += "\u00a0";
    } else if (text[i] == ' ' && i > 1 && text[i - 1] == 'N' && text[i - 2] == ' ' &&
               begins(i + 1, "m")) {
      out += "\u00a0";
    } else if (text[i] == '3' && i > 0 && begins(i, "3") &&
               (text[i - 1] == 'm' || (i > 1 && text[i - 2] == 'f' && text[i - 1] == 't'))) {
      out += "\u00b3";
    } else {
      out += text[i];
    }
  }
  return Escaped(out);
}

std::string InScript(std::string json) {
  // Only texts hold these letters, and there JSON may write any letter as \u….
  for (const auto& [letter, code] :
       {std::pair('<', "\\u003c"), {'>', "\\u003e"}, {'&', "\\u0026"}}) {
    for (std::size_t at = 0; (at = json.find(letter, at)) != std::string::npos; at += 6) {
      json.replace(at, 1, code);
    }
  }
  return json;
}

std::string Element(const std::string& tag, const std::string& attributes,
                    const std::string& content) {
  return "<" + tag + (attributes.empty() ? "" : " " + attributes) + ">" + content + "</" + tag +
         ">";
}

std::string Section(const std::string& id, const std::string& heading, const std::string& content) {
  return "\n<section id=\"" + id + "\" aria-labelledby=\"" + id + "-heading\">\n<h2 id=\"" + id +
         "-heading\">" + Escaped(heading) + "</h2>\n" + content + "\n</section>\n";
}

}  // namespace lidwright
