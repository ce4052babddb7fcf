// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/numbers.h"
#include "lidwright/report/parts_remarks.h"
#include "markup.h"
#include "page_sections.h"
#include "words.h"

namespace lidwright {
namespace {

using Row = std::vector<std::string>;

// Each cell knows its column's head: on a telephone a row becomes a card.
std::string TableOf(const std::string& caption, const Row& heads, const std::vector<Row>& rows) {
  std::string head, body;
  for (const std::string& text : heads) head += Element("th", "scope=\"col\"", Prose(text));
  for (const Row& row : rows) {
    std::string cells;
    for (std::size_t i = 0; i < row.size(); ++i) {
      cells += Element("td", "data-head=\"" + heads[i] + "\"", Prose(row[i]));
    }
    body += Element("tr", "", cells) + "\n";
  }
  return Element(
      "div",
      "class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"" + Prose(caption) + "\"",
      Element("table", "class=\"parts\"",
              Element("caption", "", Prose(caption)) +
                  Element("thead", "", Element("tr", "", head) + "\n") +
                  Element("tbody", "", "\n" + body)));
}

}  // namespace

std::string PartsPart(const Design& design, const PartsFound& found) {
  if (design.hinges.empty() || !design.hinges.front().parts) return "";
  const HingeSet& set = *design.hinges.front().parts;
  std::string text = MarkedList(PartsRemarks(set, found.cut_faults, design.job));
  std::vector<Row> rows;
  for (const PartsRow& row : found.list.parts) {
    rows.push_back({row.part, std::to_string(row.count), row.size, row.material, row.remark});
  }
  text += TableOf("Parts for both ends", {"part", "count", "size", "material", "remark"}, rows);
  rows.clear();
  for (const SawRow& row : found.list.saw) {
    std::string cuts;
    for (const SawRow::Cut& cut : row.cuts) {
      cuts += (cuts.empty() ? "" : ", ") + std::to_string(cut.count) + " \u00d7 " +
              BenchText(cut.length_mm, Bench::kHole, design.job.inches);
    }
    rows.push_back({row.stock, cuts, BenchText(row.total_mm, Bench::kRoom, design.job.inches)});
  }
  if (!rows.empty()) text += TableOf("Rod and tube to saw", {"stock", "cuts", "in all"}, rows);
  rows.clear();
  for (const SheetRow& row : found.list.sheets) {
    rows.push_back({row.stock, std::to_string(row.count), row.size, row.used});
  }
  if (!rows.empty()) {
    text += TableOf("Sheets to have", {"stock", "count", "size", "used of each"}, rows);
  }
  return Section("parts", "What it is made of", text);
}

}  // namespace lidwright
