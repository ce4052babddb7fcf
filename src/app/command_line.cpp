// SPDX-License-Identifier: Apache-2.0
#include "lidwright/app/command_line.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <exception>
#include <ostream>

#include "begin_command.h"
#include "commands.h"
#include "lidwright/app/output_folder.h"
#include "lidwright/base/problem.h"
#include "lidwright/job/documented_job.h"
#include "trace_command.h"

namespace lidwright {
namespace {

const std::vector<std::string> kCommands{"begin", "trace", "fit", "check", "box", "keys"};

void AddOutput(CLI::App* command, CommandOptions& options, const std::string& what) {
  command->add_option("--out", options.out, what);
  command->add_flag("--replace", options.replace, "replace what lidwright wrote there before");
}

CLI::App* AddBegin(CLI::App& app, BeginCommandOptions& options) {
  CLI::App* begin = app.add_subcommand("begin", "write a first job file from a few measures");
  begin->add_option("JOB", options.out, "job file to write (default box.json)");
  for (const BeginQuestion& question : BeginQuestions()) {
    const KeyFacts facts = *FactsOf(question.path);
    std::string what = facts.meaning;
    if (!question.fallback.empty()) what += " (default " + question.fallback + ")";
    begin->add_option_function<std::string>(
        question.option,
        [&options, &question](const std::string& text) { options.answers[question.path] = text; },
        what);
  }
  begin->add_flag("--replace", options.replace, "write over a file that is there");
  return begin;
}

CLI::App* AddTrace(CLI::App& app, TraceCommandOptions& options) {
  CLI::App* trace = app.add_subcommand("trace", "make a job file from drawn sections (SVG or DXF)");
  trace->add_option("DRAWING", options.drawings, "a section of case and lid, lid shut")->required();
  trace->add_option("--width", options.width, "outside width of the box, which no section shows");
  trace->add_option("--at", options.at, "where a drawing's section is, from mid-width; one each")
      ->allow_extra_args(false);
  trace->add_option("--end-wall", options.end_wall,
                    "thickness of the end walls (default: the back's)");
  trace->add_option("--unit", options.unit, "mm, cm, m, in or ft: the drawing's, whatever it says");
  trace->add_option("--true-depth", options.true_depth, "case and lid, back to front, as they are");
  trace->add_option("--true-height", options.true_height, "case and lid together, as they are");
  trace->add_option("--back", options.back, "left or right: where the hinge is (default left)")
      ->check(CLI::IsMember({"left", "right"}));
  trace->add_option("--rim", options.rim, "height of the rim above the bottom, if not found right");
  trace->add_option("--case", options.case_name, "layer, group or id that is the case");
  trace->add_option("--lid", options.lid_name, "layer, group or id that is the lid");
  trace->add_option("--close", options.close, "close gaps up to this (default 0.5 mm)");
  trace->add_option("--name", options.name, "what the box is called");
  trace->add_option("--units", options.units, "mm or in: of bare lengths here and of the job")
      ->check(CLI::IsMember({"mm", "in"}));
  trace->add_option("--out", options.out, "job file to write (default: the drawing's name .json)");
  trace->add_flag("--replace", options.replace, "write over a file that is there");
  return trace;
}

std::string Closing() {
  return "Exit code: 0 good, 1 no hinge, 2 bad job or hinge file, 3 usage or files,\n"
         "4 a defect of the program.\n"
         "A falling lid can hurt: read the cautions in the summary.";
}

}  // namespace

ExitCode RunCommandLine(const std::vector<std::string>& arguments, std::ostream& out,
                        std::ostream& messages, bool terminal, std::istream* asked) {
  CommandOptions options;
  const Streams streams{out, messages, terminal};
  CLI::App app(
      "Hidden four-bar hinges for boxes with domed lids: finds the pivots, proves that\n"
      "lid and arms clear at every angle, and draws the arms to be cut.",
      "lidwright");
  app.set_version_flag("--version", std::string("lidwright ") + kVersion);
  app.require_subcommand(1);
  app.footer(Closing());

  BeginCommandOptions begin_options;
  CLI::App* begin = AddBegin(app, begin_options);
  TraceCommandOptions trace_options;
  CLI::App* trace = AddTrace(app, trace_options);

  CLI::App* fit = app.add_subcommand("fit", "find a hinge for a job and write everything for it");
  fit->add_option("JOB", options.job_file, "job file (JSON; see 'lidwright keys')")->required();
  AddOutput(fit, options, "folder to write (default out/ and the job file's name)");
  fit->add_option("--threads", options.threads, "threads to use, 0 for all; same result")
      ->check(CLI::Range(0, 256));
  fit->add_option("--frames", options.frames, "drawings of the swing")->check(CLI::Range(2, 720));

  CLI::App* check =
      app.add_subcommand("check", "judge pivots you have: what clears, what rubs and where");
  check->add_option("JOB", options.job_file, "job file")->required();
  check->add_option("HINGE", options.hinge_file, "your pivots, or a hinge.json")->required();
  AddOutput(check, options, "folder for drawings of it (none by default)");
  check->add_option("--frames", options.frames, "drawings of the swing")->check(CLI::Range(2, 720));

  CLI::App* box = app.add_subcommand("box", "draw the box as the job describes it");
  box->add_option("JOB", options.job_file, "job file")->required();
  AddOutput(box, options, "drawing to write, .svg or .pdf");

  app.add_subcommand("keys", "list the keys of a job file: units, ranges, defaults");

  try {
    std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());
    app.parse(reversed);
  } catch (const CLI::Success& help) {  // --help, --version
    return app.exit(help, out, messages) == 0 ? ExitCode::kGood : ExitCode::kUsage;
  } catch (const CLI::ParseError& error) {
    const bool known = !arguments.empty() && (arguments[0].rfind("-", 0) == 0 ||
                                              std::find(kCommands.begin(), kCommands.end(),
                                                        arguments[0]) != kCommands.end());
    if (!arguments.empty() && !known) {
      const std::string near = Nearest(arguments[0], kCommands);
      messages << "lidwright: there is no command '" << arguments[0] << "'"
               << (near.empty() ? "" : " (did you mean '" + near + "'?)") << "\n";
    } else {
      messages << "lidwright: " << error.what() << "\n";
    }
    messages << "'lidwright --help' lists the commands\n";
    return ExitCode::kUsage;
  }

  try {
    if (begin->parsed()) return BeginCommand(begin_options, streams, asked);
    if (trace->parsed()) return TraceCommand(trace_options, streams);
    if (fit->parsed()) return FitCommand(options, streams);
    if (check->parsed()) return CheckCommand(options, streams);
    if (box->parsed()) return BoxCommand(options, streams);
    return KeysCommand(streams);
  } catch (const FileError& error) {
    messages << "lidwright: " << error.what() << "\n";
    return ExitCode::kUsage;
  } catch (const std::exception& error) {
    messages << "lidwright: internal error, nothing was written: " << error.what() << "\n";
    return ExitCode::kInternal;
  }
}

}  // namespace lidwright
