// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/numbers.h"
#include "lidwright/report/parts_remarks.h"
#include "markup.h"
#include "page_sections.h"
#include "words.h"

namespace lidwright {
namespace {

std::string Cells(const char* tag, const std::vector<std::string>& texts) {
  std::string row;
  for (const std::string& text : texts) {
    row += Element(tag, tag[1] == 'h' ? "scope=\"col\"" : "", Prose(text));
  }
  return Element("tr", "", row) + "\n";
}

std::string TableOf(const std::string& caption, const std::vector<std::string>& heads,
                    const std::string& rows) {
  return Element(
      "div",
      "class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"" + Prose(caption) + "\"",
      Element("table", "class=\"parts\"",
              Element("caption", "", Prose(caption)) + Element("thead", "", Cells("th", heads)) +
                  Element("tbody", "", "\n" + rows)));
}

}  // namespace

std::string PartsPart(const Design& design, const PartsFound& found) {
  if (design.hinges.empty() || !design.hinges.front().parts) return "";
  const HingeSet& set = *design.hinges.front().parts;
  std::string text = MarkedList(PartsRemarks(set, found.cut_faults, design.job));
  std::string rows;
  for (const PartsRow& row : found.list.parts) {
    rows += Cells("td", {row.part, std::to_string(row.count), row.size, row.material, row.remark});
  }
  text += TableOf("Parts for both ends", {"part", "count", "size", "material", "remark"}, rows);
  rows.clear();
  for (const SawRow& row : found.list.saw) {
    std::string cuts;
    for (const SawRow::Cut& cut : row.cuts) {
      cuts += (cuts.empty() ? "" : ", ") + std::to_string(cut.count) + " \u00d7 " +
              BenchText(cut.length_mm, Bench::kHole, design.job.inches);
    }
    rows +=
        Cells("td", {row.stock, cuts, BenchText(row.total_mm, Bench::kRoom, design.job.inches)});
  }
  if (!rows.empty()) text += TableOf("Rod and tube to saw", {"stock", "cuts", "in all"}, rows);
  rows.clear();
  for (const SheetRow& row : found.list.sheets) {
    rows += Cells("td", {row.stock, std::to_string(row.count), row.size, row.used});
  }
  if (!rows.empty()) {
    text += TableOf("Sheets to have", {"stock", "count", "size", "used of each"}, rows);
  }
  return Section("parts", "What it is made of", text);
}

}  // namespace lidwright
