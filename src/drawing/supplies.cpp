// SPDX-License-Identifier: Apache-2.0
#include "supplies.h"

#include <cctype>

namespace lidwright {
namespace {

struct Supply {
  const char* word;  // as the steps name it, in small letters
  const char* line;
};

// A longer name before the shorter one that it ends in or holds.
constexpr Supply kSupplies[] = {{"retaining compound", "Retaining compound, for metal in metal"},
                                {"double-sided tape", "Double-sided tape"},
                                {"slow glue", "Slow glue that fills gaps"},
                                {"glue", "Glue"},
                                {"contact adhesive", "Contact adhesive"},
                                {"epoxy", "Thick epoxy"},
                                {"degreaser", "Degreaser"},
                                {"wax", "Wax"},
                                {"oil", "Oil"},
                                {"tape", "Tape that comes off clean"},
                                {"slips of hardwood", "Hardwood, straight in the grain"},
                                {"card", "Card"}};

const std::string kThe = "the ";

bool IsLetter(char c) {
  return std::isalpha(static_cast<unsigned char>(c)) != 0;
}

// Is the word in the text, as a whole word? Where it is, it is blanked, so that a shorter one does
// not count it again. "The glue" is what an earlier step put on.
bool TakeOut(const std::string& word, std::string& text) {
  bool found = false;
  for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
    const std::size_t end = at + word.size();
    if ((at > 0 && IsLetter(text[at - 1])) || (end < text.size() && IsLetter(text[end]))) continue;
    const bool known = at >= kThe.size() && text.compare(at - kThe.size(), kThe.size(), kThe) == 0;
    text.replace(at, word.size(), word.size(), ' ');
    found = found || !known;
  }
  return found;
}

}  // namespace

std::vector<std::string> SuppliesFor(const std::vector<WorkStep>& steps) {
  std::vector<std::string> texts;
  for (const WorkStep& step : steps) {
    std::string text = step.text + ". " + step.held + ". " + step.moves + ". " + step.tool;
    for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    texts.push_back(std::move(text));
  }
  std::vector<std::string> lines;
  for (const Supply& supply : kSupplies) {
    std::string numbers;
    int count = 0;
    for (std::size_t i = 0; i < texts.size(); ++i) {
      if (!TakeOut(supply.word, texts[i])) continue;
      numbers += (numbers.empty() ? "" : ", ") + std::to_string(i + 1);
      ++count;
    }
    if (count == 0) continue;
    lines.push_back(supply.line + std::string(count > 1 ? " (steps " : " (step ") + numbers + ")");
  }
  return lines;
}

}  // namespace lidwright
