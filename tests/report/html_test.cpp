// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/html.h"
#include "lidwright/base/units.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "drawing/made_up_design.h"
#include "lidwright/design/risks.h"
#include "report/markup.h"

namespace lidwright {
namespace {

bool Has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::size_t Count(const std::string& text, const std::string& part) {
  std::size_t count = 0;
  for (std::size_t at = 0; (at = text.find(part, at)) != std::string::npos; at += part.size()) {
    ++count;
  }
  return count;
}

// What stands in the page's data element, read by a JSON reader.
nlohmann::json DataOf(const std::string& page) {
  const std::string begin = "<script type=\"application/json\" id=\"data\">";
  const std::size_t from = page.find(begin) + begin.size();
  return nlohmann::json::parse(page.substr(from, page.find("</script>", from) - from));
}

// The page without what is in its scripts and styles.
std::string MarkupOf(const std::string& page) {
  static const std::regex inner("<(script|style)[^>]*>[^]*?</\\1>");
  std::string text;
  // Whole pages are too long for the recursion of std::regex: take them apart by hand.
  for (std::size_t at = 0; at < page.size();) {
    const std::size_t script = std::min(page.find("<script", at), page.find("<style", at));
    text += page.substr(at, script - at);
    if (script == std::string::npos) break;
    const std::string end = page[script + 2] == 'c' ? "</script>" : "</style>";
    at = page.find(end, script) + end.size();
  }
  return text;
}

Design Sample() {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  design.plain.map = {PlainOutcome::kRimDigsIn};
  design.plain.rows = design.plain.columns = 1;
  design.hinges.push_back(design.hinges.front());
  design.hinges.back().character = "another";
  design.hinges.front().traits.least_gap_mm = 2.13;
  design.hinges.back().traits.least_gap_mm = 1.9;
  return design;
}

ReportLinks Links() {
  return {{{"overlay.pdf", "the swing in one drawing"}, {"cut/arm_a.dxf", ""}}, "9.8.7"};
}

// Elements that open and close, void ones left out: does everything that is opened get closed?
void CheckNesting(const std::string& markup) {
  static const std::set<std::string> kVoid{"meta", "link", "input", "br"};
  std::vector<std::string> open;
  for (std::size_t at = 0; (at = markup.find('<', at)) != std::string::npos; ++at) {
    if (markup[at + 1] == '!') continue;
    const bool closing = markup[at + 1] == '/';
    const std::size_t from = at + (closing ? 2 : 1);
    const std::string tag = markup.substr(from, markup.find_first_of(" >\n", from) - from);
    if (kVoid.count(tag) > 0) continue;
    if (!closing) {
      open.push_back(tag);
      continue;
    }
    INFO("</" << tag << "> at " << markup.substr(at > 80 ? at - 80 : 0, 160));
    REQUIRE_FALSE(open.empty());
    REQUIRE(open.back() == tag);
    open.pop_back();
  }
  CHECK(open.empty());
}

}  // namespace

TEST_CASE("the report is one page that asks nothing of anyone", "[report]") {
  const std::string page = ReportHtml(Sample(), Links());
  CHECK(page.size() < 1'500'000);
  CHECK(Has(page, "Content-Security-Policy\" content=\"default-src 'none'"));
  // The one address in it names the SVG language and is never fetched.
  CHECK(Count(page, "http://") == Count(page, "http://www.w3.org/2000/svg"));
  CHECK_FALSE(Has(page, "https://"));
  CHECK_FALSE(Has(page, "src=\""));
  CHECK_FALSE(Has(page, "@import"));
  CHECK_FALSE(Has(page, "fetch("));
  CHECK_FALSE(Has(page, "XMLHttpRequest"));
  CHECK(Count(page, "url(") == Count(page, "url(#"));
  CHECK(page == ReportHtml(Sample(), Links()));
  CheckNesting(MarkupOf(page));
}

TEST_CASE("the page says what clears, where, and what else there is", "[report]") {
  const std::string page = MarkupOf(ReportHtml(Sample(), Links()));
  CHECK(Has(page, "The lid clears, and so do its arms."));
  CHECK(Has(page, "lid and case keep at least 2.1\u00a0mm apart"));
  CHECK(Has(page, "no plain hinge does"));
  CHECK(Has(page, "ISO 13854"));
  CHECK(Has(page, "local codes and licensed practice"));
  CHECK(Has(page, "<a href=\"overlay.pdf\">overlay.pdf</a>"));
  CHECK(Has(page, "Made by lidwright 9.8.7."));
  CHECK(Has(page, "<h3>another</h3>"));
  CHECK(Has(page, "<span>--choose \"another\"</span>"));
  CHECK(Has(page, "<span>lidwright fit <i>JOB</i></span>"));
  // The job's own name where it is known, as one word of a shell.
  const std::pair<const char*, const char*> words[] = {
      {"chest.json", "chest.json"},
      {"my chest's.json", "&#39;my chest&#39;\\&#39;&#39;s.json&#39;"},
      {"-x.json", "./-x.json"},
      {"a&b.json", "&#39;a&amp;b.json&#39;"}};
  for (const auto& [name, word] : words) {
    ReportLinks links = Links();
    links.job_file = name;
    const std::string named = MarkupOf(ReportHtml(Sample(), links));
    INFO(name);
    CHECK(Has(named, "<span>lidwright fit " + std::string(word) + "</span>"));
    CHECK_FALSE(Has(named, "<i>JOB</i>"));
  }
  // Each pivot, from the rear face and the rim, and by square where the end wall begins, 158 of 170
  // off mid-width: there a back of 12 bowed by 10 stands 1.37 further back, a rim arched by 8 1.09
  // higher (circular arcs: √(r² − z²) − r + h with r = (170² + h²) / 2h).
  CHECK(Has(page, "<td>17.00</td><td>\u221221.50</td><td>6.37</td><td>\u221222.59</td>"));
  CHECK(Has(page, "&quot;height&quot;: 120"));
}

TEST_CASE("a hinge that fails is told by word at the top and in its row", "[report]") {
  Design design = Sample();
  design.hinges.resize(1);
  Verdict& verdict = design.hinges[0].verdicts[0];
  verdict.outcome = Outcome::kViolated;
  verdict.found = -0.4;
  verdict.first = "lid";
  verdict.second = "case";
  const std::string page = MarkupOf(ReportHtml(design, Links()));
  CHECK(Has(page, "1 of 3 requirements are not met."));
  CHECK(
      Has(page,
          "<b>lid to case</b>: needs 1\u00a0mm, has \u22120.4\u00a0mm, at 34.4\u00b0, lid / case"));
  CHECK(Count(page, ">fail</b>") == 1);
  CHECK_FALSE(Has(page, "The lid clears"));
  CHECK_FALSE(Has(page, "Which hinge?"));
  CHECK(Has(page,
            "Not yet: 1 of 3 things asked for is missed: lid to case, needs 1\u00a0mm, has "
            "\u22120.4\u00a0mm."));
}

TEST_CASE("the list of requirements has as many as the answer counts", "[report]") {
  Design design = Sample();
  design.hinges.resize(1);
  Hinge& hinge = design.hinges[0];
  hinge.forces = HingeForces{};
  Strength weak;
  weak.part = "arm B";
  weak.how = "in bending";
  weak.acts = 2.0;
  weak.bears = 1.0;
  weak.wanted = 4.0;
  hinge.forces->strengths = {weak};
  const std::string page = MarkupOf(ReportHtml(design, Links()));
  const std::size_t failed = Count(page, ">fail</b>");
  const std::size_t all =
      failed + Count(page, ">pass</b><span class=\"what\"") + Count(page, ">looked at</b>");
  CHECK(failed == 1);
  CHECK(Has(page, "1 of " + std::to_string(all) + " requirements are not met."));
}

TEST_CASE("without a hinge the page says why and shows the box", "[report]") {
  Design design = Sample();
  design.hinges.clear();
  design.none = NoHinge{"room behind", 15.0, "mm", "", false, {}, {{"a thinner rim", {}}}, {}};
  const std::string page = ReportHtml(design, {});
  const std::string markup = MarkupOf(page);
  CHECK(Has(markup, "No hidden hinge fits this box as it is."));
  CHECK(Count(markup, "In the way: room behind, short by 15\u00a0mm.") == 2);
  CHECK(Has(markup, "<li>a thinner rim</li>"));
  CHECK(Has(markup, "id=\"section\""));
  CHECK_FALSE(Has(markup, "id=\"theta\""));
  CHECK_FALSE(Has(markup, "The files"));
  CHECK(DataOf(page)["hinges"].empty());
  CheckNesting(markup);
}

TEST_CASE("no text of the job can become part of the page's own language", "[report]") {
  Design design = Sample();
  const std::string name = "</script><img src=x onerror=alert(1)>\"'&\x01\xff";
  design.job.name = design.hinges[0].character = name;
  design.hinges[0].verdicts[0].first = design.hinges[0].verdicts[0].detail = name;
  ReportLinks links = Links();
  links.files[0] = {"a\" onclick=\"x", name};
  const std::string page = ReportHtml(design, links), plain = ReportHtml(Sample(), Links());
  for (const char* part : {"<script", "</script>", "<style", "<img"}) {
    INFO(part);
    CHECK(Count(page, part) == Count(plain, part));
  }
  CHECK_FALSE(Has(page, "a\" onclick"));
  CHECK_FALSE(Has(page, "\x01"));
  const std::string back = DataOf(page)["hinges"][0]["name"];
  CHECK(back.substr(0, 40) == name.substr(0, 40));
  CheckNesting(MarkupOf(page));
}

TEST_CASE("the page's first risks are those of the booklet, the worst first", "[report]") {
  Design design = Sample();
  Hinge& hinge = design.hinges.front();
  hinge.forces = HingeForces{};
  hinge.forces->feel.slam_m_s = 2.0;
  hinge.forces->feel.slam_j = 5.0;
  hinge.forces->feel.largest_lift_n = 5.3;
  hinge.forces->tipping.least_margin_nmm = 10.0;
  hinge.forces->tipping.pull_n = 3.0;
  hinge.forces->load.lean_n = 25.0;
  const std::vector<Risk> risks = RisksOf(design, hinge);
  REQUIRE(risks.size() == kMostRisks);
  CHECK(risks.front().level == RiskLevel::kDanger);
  const std::string page = MarkupOf(ReportHtml(design, Links()));
  const std::size_t first = page.find("<ol class=\"risks\"");
  const std::string list = page.substr(first, page.find("</ol>", first) - first);
  CHECK(Count(list, "<li ") == risks.size());
  std::size_t at = 0;
  for (const Risk& risk : risks) {
    INFO(risk.text);
    const std::size_t text = list.find(Prose(risk.text)), remedy = list.find(Prose(risk.remedy));
    REQUIRE(text != std::string::npos);
    CHECK(text > at);
    CHECK(remedy > text);
    CHECK(list.rfind(">" + std::string(NameOf(risk.level)) + "</b>", text) != std::string::npos);
    at = text;
  }
  // 5.3 N are 0.5404 kg, up: the exact force stands behind it.
  CHECK(Has(page, "<b>0.55\u00a0kg</b>"));
  CHECK(Has(page, "At most 5.3\u00a0N at the front edge"));
  CHECK(Has(page, "<b>1 of 2</b>"));
}

TEST_CASE("beside each other hinges tell only what differs between them", "[report]") {
  Design design = Sample();
  Hinge &first = design.hinges[0], &second = design.hinges[1];
  second.traits = first.traits;
  first.traits.least_gap_mm = 2.0;
  second.traits.least_gap_mm = 3.0;
  first.traits.reach_behind_mm = 80.0;
  second.traits.reach_behind_mm = 81.0;  // printed apart, yet nobody would choose by it
  const std::string page = MarkupOf(ReportHtml(design, Links()));
  const std::size_t from = page.find("<section id=\"choices\"");
  const std::string part = page.substr(from, page.find("</section>", from) - from);
  CHECK(Count(part, "<dt>Least gap, lid to case</dt>") == 2);
  CHECK(Count(part, "<dt>") == 2);
  CHECK(Count(part, "<small>best</small>") == 1);
  CHECK(Count(part, "Best at: the widest gap.") == 1);
  CHECK(Count(part, "class=\"thumb\"") == 6);
}

TEST_CASE("prose gets its signs and keeps numbers with their units", "[report]") {
  CHECK(Prose("at x -12 mm, y 0 mm") == "at x \u221212\u00a0mm, y 0\u00a0mm");
  CHECK(Prose("(-0.5, 2-3/16)") == "(\u22120.5, 2-3/16)");
  CHECK(Prose("from 26 deg to 40 deg") == "from 26\u00b0 to 40\u00b0");
  CHECK(Prose("4 degrees") == "4 degrees");
  CHECK(Prose("needs 1.47 N m more") == "needs 1.47\u00a0N\u00a0m more");
  CHECK(Prose("needs 13.3 lbf in more") == "needs 13.3\u00a0lbf\u00a0in more");
  CHECK(Prose("0.3 ft lbf; under") == "0.3\u00a0ft\u00a0lbf; under");
  CHECK(Prose("35 lb/ft3") == "35\u00a0lb/ft\u00b3");
  CHECK(Prose("560 kg/m3") == "560\u00a0kg/m\u00b3");
  CHECK(Prose("90 % of 3 inner") == "90\u00a0% of 3 inner");
  CHECK(Prose("a<b & \"c\"") == "a&lt;b &amp; &quot;c&quot;");
  CHECK(Prose("") == "");
}

TEST_CASE("numbers in inches get the fraction a rule shows, if there is one", "[report]") {
  Design design = Sample();
  design.job.inches = true;
  design.hinges[0].pivots.case_a = {25.4 * 1.6875, -25.4 * 0.5};
  design.hinges[0].pivots.case_b = {25.4 * 0.3, 25.4 * 2};
  const std::string page = MarkupOf(ReportHtml(design, {}));
  CHECK(Has(page, "<td>1-11/16</td><td>\u22121/2</td>"));
  CHECK(Has(page, "<td>0.3</td><td>2</td>"));
}

TEST_CASE("a light lid that falls fast is a matter of care, a heavy one a danger", "[report]") {
  Design design = Sample();
  Hinge& hinge = design.hinges.front();
  hinge.forces = HingeForces{};
  hinge.forces->feel.slam_m_s = 1.4;
  // What holds it at the first degree is not what is advised.
  hinge.forces->holdings.needed = true;
  hinge.forces->holdings.support_nmm = 800.0;
  hinge.forces->holdings.stay_nmm = 5000.0;
  const auto falling = [&](double joule) -> Risk {
    hinge.forces->feel.slam_j = joule;
    for (const Risk& risk : RisksOf(design, hinge)) {
      if (risk.text.find("falls") != std::string::npos) return risk;
    }
    return {RiskLevel::kWaste, "", ""};
  };
  CHECK(falling(0.3).level == RiskLevel::kCare);
  CHECK(falling(7.0).level == RiskLevel::kDanger);
  CHECK(falling(7.0).remedy.find("0.40 N m") != std::string::npos);
  // The same strength, and no other, in what is said of the lid's feel.
  const std::string page = MarkupOf(ReportHtml(design, Links()));
  CHECK(Has(page, Prose("lid support (0.40 N m) at each end")));
  CHECK(Has(page, Prose("lid support of 0.40 N m at each end")));
  CHECK_FALSE(Has(page, Prose("2.50 N m")));
}

TEST_CASE("the first screen tells the lid's weight, a heavy lift and where it falls open",
          "[report]") {
  Design design = Sample();
  Hinge& hinge = design.hinges.front();
  hinge.forces = HingeForces{};
  Feel& feel = hinge.forces->feel;
  feel.lid.mass_kg = 3.61;
  feel.largest_lift_n = 49.0;
  feel.slam_m_s = 1.4;
  const auto page = [&] { return MarkupOf(ReportHtml(design, Links())); };
  // As the rest of the page has it.
  CHECK(Has(page(), "<span>at the front; lid 3.61\u00a0kg</span>"));
  CHECK_FALSE(Has(page(), "fact watch"));
  CHECK_FALSE(Has(page(), "onto its stop"));
  feel.largest_lift_n = 51.0;
  CHECK(Has(page(), "class=\"fact watch\""));
  CHECK(Has(page(), "<span>heavy, at the front; lid 3.61\u00a0kg</span>"));
  feel.balance_rad = 62.0 * kRadPerDeg;
  feel.over_centre_rad = 30.0 * kRadPerDeg;
  CHECK(Has(page(), Prose("Past 62\u00b0 it falls open by itself, backwards, onto its stop.")));
  CHECK(Has(page(), Prose("let go of the lid: it falls fast shut. That hurts fingers.")));
  feel.thrown_m_s = 1.2;
  CHECK(Has(page(), Prose("it falls fast shut, and past 62\u00b0 open onto its stop.")));
  feel.slam_m_s = 0.5;
  CHECK(Has(page(), Prose("it falls fast past 62\u00b0 open onto its stop.")));
  feel.over_centre_rad = 0.0;
  CHECK_FALSE(Has(page(), "onto its stop"));
  // Supports of 400 N mm in all on a lever of 200 mm add 2 N: 8 N weigh 0.816 kg.
  feel.largest_lift_n = 6.0;
  feel.moment_nmm = {1000.0, 500.0};
  feel.hand_n = {5.0, 2.5};
  feel.raise_n = {6.0, 3.0};
  hinge.forces->holdings.needed = true;
  hinge.forces->holdings.support_nmm = 400.0;
  CHECK(Has(page(), "<span>0.82\u00a0kg with supports</span>"));
}

TEST_CASE("builds that rub or do not open stand on the first screen, with what helps", "[report]") {
  Design design = Sample();
  Hinge& hinge = design.hinges.front();
  hinge.accuracy = Accuracy{};
  hinge.accuracy->drill_error_mm = 0.2;
  hinge.accuracy->missed_share = 0.12;
  hinge.accuracy->error_it_stands_mm = 0.13;
  const auto told = [&](double touching, double unopened) -> std::string {
    hinge.accuracy->touching_share = touching;
    hinge.accuracy->unopened_share = unopened;
    for (const Risk& risk : RisksOf(design, hinge)) {
      if (risk.text.find("of 100") == std::string::npos) continue;
      return std::string(NameOf(risk.level)) + ": " + risk.text + " " + risk.remedy;
    }
    return "";
  };
  CHECK(
      Has(told(0.0, 0.06), "care: Drilled with holes 0.2 mm off, about 6 of 100 lids do not open"));
  CHECK(Has(told(0.0, 0.06), "With holes 0.13 mm off it is 1 of 100."));
  CHECK(Has(told(0.05, 0.0), "about 5 of 100 lids rub on the case."));
  CHECK(Has(told(0.05, 0.03), "about 8 of 100 lids rub or do not open all the way."));
  CHECK(ManyBuildsFail(hinge));
  // Few of them are left to what is missed otherwise.
  CHECK(Has(told(0.01, 0.01), "waste: "));
  CHECK(Has(told(0.01, 0.01), "12 of 100 hinges keep less than was asked"));
  CHECK_FALSE(ManyBuildsFail(hinge));
}

}  // namespace lidwright
