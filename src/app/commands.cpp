// SPDX-License-Identifier: Apache-2.0
#include "commands.h"

#include <filesystem>
#include <ostream>

#include "fit_folder.h"
#include "keys_text.h"
#include "lidwright/app/output_folder.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/correction.h"
#include "lidwright/design/make_design.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/drawing/box_drawing.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/read_pivots.h"
#include "lidwright/report/answer_text.h"
#include "lidwright/report/hinge_json.h"
#include "lidwright/report/summary.h"
#include "made_job.h"
#include "manifest.h"
#include "progress.h"

namespace lidwright {
namespace {

bool LooksLikeJob(const std::string& text) {
  return text.find("\"lidwright hinge") == std::string::npos &&
         (text.find("\"case\"") != std::string::npos ||
          text.find("\"stations\"") != std::string::npos);
}

// Files given in each other's place would only lead to a list of unknown keys.
bool LooksLikeHinge(const std::string& text) {
  return text.find("\"lidwright hinge") < 200 ||
         (text.find("\"case_a\"") != std::string::npos && !LooksLikeJob(text));
}

// `needs_room`: the job is to be worked on, not only drawn.
std::optional<Job> Load(const std::string& file, std::ostream& messages, bool needs_room = true) {
  const std::string text = ReadFile(file, kLargestJob_bytes);
  JobReading reading = ReadJob(text, file);
  if (!reading.job) {
    if (LooksLikeHinge(text)) {
      messages << file << ": this is a hinge, not a job: 'lidwright check JOB HINGE' takes both\n";
      return std::nullopt;
    }
    PrintProblems(reading.problems, messages);
    return std::nullopt;
  }
  if (needs_room) {
    Problems faults = FaultsBeforeWork(*reading.job, MakeSolid(*reading.job));
    for (Problem& fault : faults) fault.file = file;
    if (!faults.empty()) {
      PrintProblems(faults, messages);
      return std::nullopt;
    }
  }
  return reading.job;
}

IfThere IfThereOf(const CommandOptions& options) {
  return options.replace ? IfThere::kReplace : IfThere::kRefuse;
}

std::string NoSuchChoice(const Design& design, const std::string& wanted) {
  std::string names;
  for (std::size_t i = 0; i < design.hinges.size(); ++i) {
    names += (i == 0 ? "" : ", ") + std::to_string(i + 1) + " '" + design.hinges[i].character + "'";
  }
  return "--choose: there is no hinge '" + wanted + "' among " + names + "\n";
}

// Drawings in another font are good, but not what was tried. Asked before the work, as without any
// there is no drawing.
void LookAtFont(std::ostream& messages) {
  const LetteringFont font = FontThatLetters();
  if (!font.opens) {
    throw FileError(
        "the file of the font DejaVu Sans, or of what stands in its stead, cannot be opened: "
        "install the package fonts-dejavu-core anew, then 'fc-cache -f'");
  }
  if (!font.wanted) {
    messages << "warning: the font DejaVu Sans is not there: drawings are lettered in "
             << font.family << "; the package fonts-dejavu-core has it\n";
  }
}

}  // namespace

ExitCode FitCommand(const CommandOptions& options, const Streams& streams) {
  const std::optional<Job> job = Load(options.job_file, streams.messages);
  if (!job) return ExitCode::kBadJob;
  const std::string folder = options.out.empty() ? DefaultFolder(options.job_file) : options.out;
  CheckFolder(folder, IfThereOf(options), FitWrites);
  LookAtFont(streams.messages);
  Progress progress(streams.messages, streams.terminal);
  DesignOptions wish;
  wish.threads = options.threads;
  wish.progress = [&](const std::string& what, double share) { progress.Show(what, share); };
  Design design = MakeSizedDesign(*job, wish);
  if (!options.choose.empty() && !design.hinges.empty() && !Choose(design, options.choose)) {
    progress.Clear();
    streams.messages << NoSuchChoice(design, options.choose);
    return ExitCode::kUsage;
  }
  AddAccuracyOfFirst(options.threads, design);
  progress.Show("drawings", 0.0);
  std::vector<CutFault> cut_faults;
  const FolderContents contents = FitFolder(design, options.job_file, options.frames, &cut_faults);
  WriteFolder(folder, contents, IfThereOf(options));
  progress.Clear();
  streams.out << AnswerText(design, cut_faults) << "\nwritten to " << folder << " ("
              << contents.size() << " files): open "
              << (std::filesystem::path(folder) / "report.html").string() << "\n";
  return Does(design) ? ExitCode::kGood : ExitCode::kNoHinge;
}

ExitCode CheckCommand(const CommandOptions& options, const Streams& streams) {
  const std::optional<Job> job = Load(options.job_file, streams.messages);
  if (!job) return ExitCode::kBadJob;
  const std::string text = ReadFile(options.hinge_file, kLargestJob_bytes);
  const PivotReading reading = ReadPivots(text, options.hinge_file);
  if (!reading.hinge) {
    if (LooksLikeJob(text)) {
      streams.messages << options.hinge_file
                       << ": this is a job, not a hinge: 'lidwright check JOB HINGE'\n";
      return ExitCode::kBadJob;
    }
    PrintProblems(reading.problems, streams.messages);
    return ExitCode::kBadJob;
  }
  if (!options.out.empty()) {
    CheckFolder(options.out, IfThereOf(options));
    LookAtFont(streams.messages);
  }
  Progress progress(streams.messages, streams.terminal);
  progress.Show("certificate", 0.0);
  const BoxModel box(SizedFor(*job, *reading.hinge, reading.sizes));
  const Hinge hinge = JudgeHinge(box, *reading.hinge);
  if (!options.out.empty()) {
    Design design;
    design.job = box.job;
    design.solid = box.solid;
    design.hinges = {hinge};
    FolderContents contents;
    contents["hinge.json"] = WriteHingeJson(design);
    contents["built.json"] = WriteBuiltJson(design);
    contents["box.svg"] = BoxDrawingSvg(design.job, design.solid);
    if (LidMotion::Make(hinge.pivots)) AddDrawings(design, hinge, options.frames, contents);
    if (hinge.parts) AddParts(design, hinge, contents);
    WriteFolder(options.out, contents, IfThereOf(options));
  }
  progress.Clear();
  if (const std::string sizes = SizesTaken(*job, box.job); !sizes.empty()) {
    streams.out << Folded("Sizes that the job leaves open, " +
                              std::string(reading.sizes ? "as the hinge's file has them: "
                                                        : "chosen as 'fit' does: ") +
                              sizes + ".",
                          0)
                << "\n";
  }
  streams.out << JudgementText(hinge, box.job);
  if (!Does(hinge)) {
    CorrectionOptions wish;
    wish.threads = options.threads;
    wish.progress = [&](double share) { progress.Show("the least move of a pivot", share); };
    const CorrectionSearch sought = SmallestCorrection(box, hinge.pivots, wish);
    progress.Clear();
    streams.out << Folded(CorrectionText(sought, box.job), 4);
  }
  if (!options.out.empty()) streams.out << "\nwritten to " << options.out << "\n";
  return Does(hinge) ? ExitCode::kGood : ExitCode::kNoHinge;
}

ExitCode BoxCommand(const CommandOptions& options, const Streams& streams) {
  const std::optional<Job> job = Load(options.job_file, streams.messages, false);
  if (!job) return ExitCode::kBadJob;
  const std::string file =
      options.out.empty() ? std::filesystem::path(options.job_file).stem().string() + "_box.svg"
                          : options.out;
  const std::string ending = std::filesystem::path(file).extension().string();
  if (ending != ".svg" && ending != ".pdf") {
    throw FileError(file + ": a drawing is written as .svg or .pdf");
  }
  const Replaceable drawing{IsSealed, "is no drawing of a box as lidwright wrote it"};
  CheckFile(file, IfThereOf(options), drawing);
  LookAtFont(streams.messages);
  const Solid solid = MakeSolid(*job);
  const std::string text =
      ending == ".pdf" ? BoxDrawingPdf(*job, solid) : BoxDrawingSvg(*job, solid);
  WriteFile(file, Sealed(text, file), IfThereOf(options), drawing);
  streams.out << "the box as understood is drawn in " << file << "\n";
  return ExitCode::kGood;
}

ExitCode KeysCommand(const Streams& streams) {
  streams.out << KeysText();
  return ExitCode::kGood;
}

}  // namespace lidwright
