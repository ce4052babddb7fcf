// SPDX-License-Identifier: Apache-2.0
#include "trace_command.h"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numeric>
#include <ostream>

#include "lidwright/app/output_folder.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/job/length.h"
#include "lidwright/trace/drawing_outline.h"
#include "lidwright/trace/station_job.h"
#include "progress.h"
#include "slice_command.h"

namespace lidwright {
namespace {

double Length_mm(const std::string& option, const std::string& text, bool inches) {
  const std::optional<double> mm = ReadLength_mm(text, inches ? kMmPerInch : 1.0);
  if (mm) return *mm;
  throw FileError(option + " " + text +
                  ": must be a length such as 340, \"12 cm\" or \"5-3/16 in\"");
}

double Positive_mm(const std::string& option, const std::string& text, bool inches) {
  if (text.empty()) return kUnset;
  const double mm = Length_mm(option, text, inches);
  if (mm > 0.0) return mm;
  throw FileError(option + " " + text + ": must be more than 0");
}

double MmPerUnit(const std::string& unit) {
  static const std::vector<std::pair<std::string, double>> kUnits = {
      {"mm", 1.0}, {"cm", 10.0}, {"m", 1000.0}, {"in", kMmPerInch}, {"ft", 12.0 * kMmPerInch}};
  for (const auto& [name, mm] : kUnits) {
    if (name == unit) return mm;
  }
  if (unit.empty()) return kUnset;
  throw FileError("--unit " + unit + ": must be mm, cm, m, in or ft");
}

enum class DrawingKind { kSvg, kDxf };

// By its ending, or, if that says nothing, by how the text begins.
DrawingKind KindOf(const std::string& file, const std::string& text) {
  const std::string ending = EndingOf(file);
  if (ending == ".svg") return DrawingKind::kSvg;
  if (ending == ".dxf") return DrawingKind::kDxf;
  if (ending == ".svgz") throw FileError(file + ": is compressed; unpack it first (gunzip)");
  if (ending == ".dwg") throw FileError(file + ": DWG is not read; save the drawing as ASCII DXF");
  const std::string start = text.substr(0, 400);
  if (start.find("<svg") != std::string::npos) return DrawingKind::kSvg;
  if (start.find("SECTION") != std::string::npos) return DrawingKind::kDxf;
  throw FileError(file + ": is no drawing that can be traced; .svg and .dxf can");
}

TracedOutline TraceDrawing(const std::string& file, const FileReader& read, TraceOptions options) {
  const std::string text = read(file, kLargestDrawing_bytes);
  options.file_name = file;
  return KindOf(file, text) == DrawingKind::kSvg ? TraceSvg(text, options)
                                                 : TraceDxf(text, options);
}

void PrintNotes(const std::string& file, const Notes& notes, std::ostream& out) {
  out << file << ":\n";
  for (const std::string& note : notes) out << "  " << note << "\n";
}

TraceOptions OptionsOf(const TraceCommandOptions& wish, bool inches) {
  TraceOptions options;
  options.mm_per_unit = MmPerUnit(wish.unit);
  options.known_width_mm = Positive_mm("--true-depth", wish.true_depth, inches);
  options.known_height_mm = Positive_mm("--true-height", wish.true_height, inches);
  options.rim_mm = Positive_mm("--rim", wish.rim, inches);
  if (wish.back == "right") options.back = BackSide::kRight;
  if (!wish.close.empty()) options.gap_limit_mm = Length_mm("--close", wish.close, inches);
  if (!(options.gap_limit_mm >= 0.0 && options.gap_limit_mm <= 5.0)) {
    throw FileError("--close " + wish.close + ": must be from 0 to 5 mm");
  }
  options.case_name = wish.case_name;
  options.lid_name = wish.lid_name;
  const int given = !wish.unit.empty() + !wish.true_depth.empty() + !wish.true_height.empty();
  if (given > 1) throw FileError("give only one of --unit, --true-depth and --true-height");
  return options;
}

std::vector<double> Places(const TraceCommandOptions& wish, bool inches) {
  std::vector<double> places;
  for (const std::string& at : wish.at) places.push_back(Length_mm("--at", at, inches));
  if (places.empty() && wish.drawings.size() == 1) places.push_back(0.0);
  if (places.size() == wish.drawings.size()) return places;
  throw FileError(std::to_string(wish.drawings.size()) +
                  " drawings need as many --at, each the "
                  "place of one across the width, from mid-width");
}

StationJobWish JobWishOf(const TraceCommandOptions& wish, const std::string& file, bool inches) {
  if (wish.width.empty()) {
    throw FileError("say the box's outside width with --width: a section does not show it");
  }
  StationJobWish job_wish;
  job_wish.width_mm = Positive_mm("--width", wish.width, inches);
  job_wish.end_wall_mm = Positive_mm("--end-wall", wish.end_wall, inches);
  job_wish.inches = inches;
  const std::filesystem::path first = std::filesystem::path(wish.drawings[0]);
  job_wish.file_name = file;
  job_wish.name = wish.name.empty() ? first.stem().string() : wish.name;
  return job_wish;
}

// Of the drawings, the outermost first.
std::vector<std::size_t> FromOutermost(const std::vector<double>& places) {
  std::vector<std::size_t> order(places.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](auto i, auto j) { return places[i] > places[j]; });
  return order;
}

// The sections of all drawings.
struct TracedSections {
  std::vector<StationOutline> outlines;
  std::string names;
  double chord_error_mm = 0.0;  // the largest
};

// The outermost section comes first: its frame and scale, which `options` then hold, are those of
// all. Nothing if one cannot be traced.
std::optional<TracedSections> TraceAll(const TraceCommandOptions& wish,
                                       const std::vector<double>& places, TraceOptions& options,
                                       const FileReader& read, const Streams& streams) {
  TracedSections sections;
  const std::vector<std::size_t> order = FromOutermost(places);
  Progress progress(streams.messages, streams.terminal);
  for (const std::size_t i : order) {
    progress.Show("tracing " + wish.drawings[i], static_cast<double>(sections.outlines.size()) /
                                                     static_cast<double>(order.size()));
    const TracedOutline traced = TraceDrawing(wish.drawings[i], read, options);
    progress.Clear();
    PrintNotes(wish.drawings[i], traced.notes, streams.out);
    if (!traced.problems.empty()) {
      PrintProblems(traced.problems, streams.messages);
      return std::nullopt;
    }
    sections.chord_error_mm = std::max(sections.chord_error_mm, traced.chord_error_mm);
    if (sections.outlines.empty()) {
      options.origin_mm = traced.origin_mm;
      options.rim_mm = options.known_width_mm = options.known_height_mm = kUnset;
      if (!wish.true_depth.empty() || !wish.true_height.empty()) {
        options.mm_per_unit = traced.mm_per_unit;
      }
    }
    sections.outlines.insert(sections.outlines.begin(),
                             {places[i], traced.case_rings, traced.lid_rings});
    sections.names = std::filesystem::path(wish.drawings[i]).filename().string() +
                     (sections.names.empty() ? "" : ", " + sections.names);
  }
  return sections;
}

}  // namespace

std::optional<std::string> TracedJob(const TraceCommandOptions& wish, const std::string& file,
                                     const FileReader& read, const Streams& streams) {
  for (const std::string& drawing : wish.drawings) {
    if (!IsMeshFile(drawing)) continue;
    throw FileError(drawing + " is a mesh: 'lidwright slice CASE LID' makes a job from a pair");
  }
  const bool inches = wish.units == "in";
  TraceOptions options = OptionsOf(wish, inches);
  const std::vector<double> places = Places(wish, inches);
  StationJobWish job_wish = JobWishOf(wish, file, inches);
  std::optional<TracedSections> sections = TraceAll(wish, places, options, read, streams);
  if (!sections) return std::nullopt;
  job_wish.chord_error_mm = std::max(job_wish.chord_error_mm, sections->chord_error_mm);
  job_wish.about = {"Traced by lidwright from " + sections->names +
                        ". Keys that begin with # are remarks; 'lidwright keys' lists all keys.",
                    "Curves are cut into chords within " + Text(options.chord_error_mm) +
                        " mm; stations_error says how far off these are."};
  const StationJob job = WriteStationJob(std::move(sections->outlines), job_wish);
  PrintNotes(file, job.notes, streams.out);
  if (!job.problems.empty()) {
    PrintProblems(job.problems, streams.messages);
    return std::nullopt;
  }
  return job.text;
}

ExitCode TraceCommand(const TraceCommandOptions& wish, const Streams& streams) {
  const std::string file = JobFileFor(wish.out, wish.drawings[0]);
  const IfThere if_there = wish.replace ? IfThere::kReplace : IfThere::kRefuse;
  const auto read = [&](const std::string& name, std::size_t limit_bytes) {
    CheckFile(file, if_there, MadeJob());
    return ReadFile(name, limit_bytes);
  };
  const std::optional<std::string> text = TracedJob(wish, file, read, streams);
  if (!text) return ExitCode::kBadJob;
  return WriteMadeJob(*text, file, if_there, streams);
}

}  // namespace lidwright
