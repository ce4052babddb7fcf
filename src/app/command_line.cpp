// SPDX-License-Identifier: Apache-2.0
#include "lidwright/app/command_line.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <exception>
#include <ostream>

#include "commands.h"
#include "lidwright/app/output_folder.h"
#include "lidwright/base/problem.h"
#include "trace_mesh_command.h"

namespace lidwright {
namespace {

const std::vector<std::string> kCommands{"trace", "fit", "check", "box", "keys"};

void AddOutput(CLI::App* command, CommandOptions& options, const std::string& what) {
  command->add_option("--out", options.out, what);
  command->add_flag("--replace", options.replace, "replace what lidwright wrote there before");
}

void AddTraceMeshOptions(CLI::App& trace, TraceMeshOptions& options) {
  trace.add_option("--case", options.case_file, "mesh of the case (STL)")->required();
  trace.add_option("--lid", options.lid_file, "mesh of the lid, shut, in the same place")
      ->required();
  trace.add_option("--up", options.up, "the meshes' axis that points up (default z)");
  trace
      .add_option("--hinge-side", options.hinge_side,
                  "the axis that points out of the back, such as y or -y")
      ->required();
  trace.add_option("--unit", options.unit, "mm, cm, m, in or ft: of the meshes (default mm)");
  trace.add_option("--lift", options.lift, "raise the lid by this, or set it down if negative");
  trace.add_option("--error", options.error, "how near the stations keep to the meshes (0.05 mm)");
  trace.add_option("--name", options.name, "what the box is called");
  trace.add_option("--units", options.units, "mm or in: of bare lengths here and of the job")
      ->check(CLI::IsMember({"mm", "in"}));
  trace.add_option("-o,--out", options.out, "job file to write (default: the case's name .json)");
  trace.add_flag("--replace", options.replace, "write over a file that is there");
}

std::string Closing() {
  return "Exit code: 0 good, 1 no hinge, 2 bad job or hinge file, 3 usage or files,\n"
         "4 a defect of the program.\n"
         "A falling lid can hurt: read the cautions in the summary.";
}

}  // namespace

ExitCode RunCommandLine(const std::vector<std::string>& arguments, std::ostream& out,
                        std::ostream& messages, bool terminal) {
  CommandOptions options;
  const Streams streams{out, messages, terminal};
  CLI::App app(
      "Hidden four-bar hinges for boxes with domed lids: finds the pivots, proves that\n"
      "lid and arms clear at every angle, and draws the arms to be cut.",
      "lidwright");
  app.set_version_flag("--version", std::string("lidwright ") + kVersion);
  app.require_subcommand(1);
  app.footer(Closing());

  TraceMeshOptions meshes;
  CLI::App* trace = app.add_subcommand("trace", "make a job file from meshes of case and lid");
  AddTraceMeshOptions(*trace, meshes);

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
  } catch (const CLI::Success& asked) {  // --help, --version
    return app.exit(asked, out, messages) == 0 ? ExitCode::kGood : ExitCode::kUsage;
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
    if (trace->parsed()) return TraceMeshCommand(meshes, streams);
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
