// SPDX-License-Identifier: Apache-2.0
#include "fit_folder.h"

#include <filesystem>

#include "lidwright/app/command_line.h"
#include "lidwright/cutting/cut_set.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/arm_sheet.h"
#include "lidwright/drawing/arrangement.h"
#include "lidwright/drawing/booklet.h"
#include "lidwright/drawing/box_drawing.h"
#include "lidwright/drawing/charts.h"
#include "lidwright/drawing/jig_sheet.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/drawing/plate_sheet.h"
#include "lidwright/drawing/swing_film.h"
#include "lidwright/drawing/swing_frames.h"
#include "lidwright/drawing/templates.h"
#include "lidwright/job/write_job.h"
#include "lidwright/report/hinge_json.h"
#include "lidwright/report/html.h"
#include "lidwright/report/summary.h"

namespace lidwright {
namespace {

std::string Number(int i, int count) {
  const std::string digits = std::to_string(count - 1);
  std::string text = std::to_string(i);
  return std::string(digits.size() - text.size(), '0') + text;
}

// A document without pages is none.
void AddPages(const std::string& name, const std::vector<Canvas>& pages, FolderContents& contents) {
  if (!pages.empty()) contents[name] = WritePdf(pages);
}

const std::vector<ReportLink>& Offered() {
  static const std::vector<ReportLink> kOffered{
      {"bench.pdf", "all that the bench needs in one booklet, in the order of the work"},
      {"arrangement.svg", "where the pivots go, lid shut and open, measured from reachable edges"},
      {"overlay.svg", "the swing in one drawing"},
      {"swing.svg", "the swing as a film that plays by itself, to show or to send"},
      {"arms.svg", "the arms, to check pieces against"},
      {"plates.pdf", "plates and packing at full size, every hole measured from two edges"},
      {"paper_trial.pdf", "both arms and the section at full size: cut out, pin, try"},
      {"templates.pdf", "full-size templates for drilling case and lid"},
      {"jig.pdf", "the jig that holds all four pivots while the plates are fixed"},
      {"parts.csv", "parts, lengths to saw and sheets to have, as a table"},
      {"charts.svg", "gap, lift and loads over the lid's angle"},
      {"box.pdf", "the box as it was understood"},
      {"summary.txt", "the result in plain text"},
      {"built.json", "to write measured pivots into, for lidwright check"},
      {"hinge.json", "every result, can be fed back to lidwright check"}};
  return kOffered;
}

// What the report offers to open, as far as it was written.
ReportLinks LinksFor(const FolderContents& contents) {
  ReportLinks links;
  links.version = kVersion;
  for (const ReportLink& link : Offered()) {
    if (contents.count(link.file)) links.files.push_back(link);
  }
  for (const auto& [name, text] : contents) {  // the nested sheets; single parts lie beside them
    const bool dxf = name.size() > 4 && name.substr(name.size() - 4) == ".dxf";
    if (dxf && name.rfind("cut/sheet_", 0) == 0) {
      links.files.push_back(
          {name, "to cut (DXF, its unit millimetres; an SVG and each part alone lie beside it)"});
    }
  }
  return links;
}

// The job with each change that lets a hinge in, to be fitted as it stands.
void AddRemedies(const Design& design, FolderContents& contents) {
  int number = 0;
  for (const Remedy& remedy : design.none->remedies) {
    contents[RemedyFile(++number)] = WriteOpenJob(design.job, remedy.changes);
  }
}

}  // namespace

std::string DefaultFolder(const std::string& job_file) {
  return (std::filesystem::path("out") / std::filesystem::path(job_file).stem()).string();
}

void AddDrawings(const Design& design, const Hinge& hinge, int frames, FolderContents& contents) {
  contents["arrangement.svg"] = ArrangementSvg(design, hinge);
  contents["overlay.svg"] = OverlaySvg(design, hinge);
  contents["arms.svg"] = ArmSheetSvg(design, hinge);
  if (hinge.forces) contents["charts.svg"] = ChartsSvg(design, hinge);
  contents["swing.svg"] = SwingFilm(design, hinge);
  const std::vector<std::string> swing = SwingFrames(design, hinge, frames);
  for (int i = 0; i < frames; ++i) {
    contents["swing/frame_" + Number(i, frames) + ".svg"] = swing[static_cast<std::size_t>(i)];
  }
}

PartsFound AddParts(const Design& design, const Hinge& hinge, FolderContents& contents) {
  const HingeSet& set = *hinge.parts;
  const Job& job = design.job;
  const CutWish wish = CutWishFor(job);
  const CutSet cut = MakeCutSet(set.pieces, wish);
  PartsFound found{MakePartsList(set.pieces, set.buy, job.inches, &cut), cut.faults};
  for (const auto& [name, text] : CutFiles(cut, wish, &found.cut_faults)) {
    contents["cut/" + name] = text;
  }
  contents["parts.csv"] = PartsListCsv(found.list, job.inches);
  AddPages("templates.pdf",
           DrillTemplates(job, design.solid, set.pieces, set.bench_work, &found.list), contents);
  AddPages("paper_trial.pdf", PaperTrial(design, hinge, set.pieces), contents);
  AddPages("plates.pdf", PlateSheets(job, design.solid, set.pieces, found.list), contents);
  if (set.jig) {
    AddPages("jig.pdf", JigSheets(job, design.solid, *set.jig, set.pieces, &found.list), contents);
  }
  AddPages("bench.pdf", BenchBooklet(design, hinge, cut, found.list), contents);
  return found;
}

bool FitWrites(const std::string& name) {
  for (const ReportLink& link : Offered()) {
    if (name == link.file) return true;
  }
  return name == "report.html";
}

FolderContents FitFolder(const Design& design, const std::string& job_file, int frames,
                         std::vector<CutFault>* cut_faults) {
  FolderContents contents;
  PartsFound found;
  contents["hinge.json"] = WriteHingeJson(design);
  contents["box.svg"] = BoxDrawingSvg(design.job, design.solid);
  contents["box.pdf"] = BoxDrawingPdf(design.job, design.solid);
  if (!design.hinges.empty()) {
    const Hinge& hinge = design.hinges.front();
    AddDrawings(design, hinge, frames, contents);
    contents["built.json"] = WriteBuiltJson(design);
    if (hinge.parts) found = AddParts(design, hinge, contents);
  }
  if (design.none) AddRemedies(design, contents);
  contents["summary.txt"] = SummaryText(design, found.cut_faults);
  ReportLinks links = LinksFor(contents);
  links.parts = found;
  links.job_file = std::filesystem::path(job_file).filename().string();
  contents["report.html"] = ReportHtml(design, links);
  *cut_faults = found.cut_faults;
  return contents;
}

}  // namespace lidwright
