// SPDX-License-Identifier: Apache-2.0
#include "interface.h"

#include <memory>

namespace lidwright {
namespace {

// Help in 80 columns: the type behind an option's name, no word about it being required (what is
// not is in brackets).
class Help : public CLI::Formatter {
 public:
  Help() {
    column_width(23);
    label("REQUIRED", "");
    label("OPTIONS", "options");
    label("SUBCOMMAND", "COMMAND ...");
    label("Positionals", "Arguments");
  }
  // Arguments are named for what they are: their type says nothing more.
  std::string make_option_opts(const CLI::Option* option) const override {
    return option->get_positional() ? "" : CLI::Formatter::make_option_opts(option);
  }
};

void AddOutput(CLI::App* command, CommandOptions& options, const std::string& type,
               const std::string& what) {
  command->add_option("--out", options.out, what)
      ->type_name(type)
      ->check(CLI::Validator(
          [](const std::string& name) {
            return name.empty() ? std::string("needs a name") : std::string();
          },
          ""));
  command->add_flag("--replace", options.replace, "replace what lidwright wrote there before");
}

void AddNumber(CLI::App* command, const std::string& name, int& value, int low, int high,
               const std::string& what) {
  const std::string range =
      "must be a whole number from " + std::to_string(low) + " to " + std::to_string(high);
  CLI::Validator within(
      [low, high, range](const std::string& text) {
        int number = 0;
        const bool good =
            CLI::detail::lexical_cast(text, number) && number >= low && number <= high;
        return good ? std::string() : "'" + text + "' " + range;
      },
      "");
  command->add_option(name, value, what)->type_name(kNumber)->check(within);
}

}  // namespace

Interface::Interface(CommandOptions& options)
    : app("Hidden four-bar hinges for boxes with domed lids: finds the pivots, proves that\n"
          "lid and arms clear at every angle, and draws what the bench needs.",
          "lidwright") {
  app.formatter(std::make_shared<Help>());
  app.set_help_flag("-h,--help", "print this and exit");
  app.set_version_flag("--version", std::string("lidwright ") + kVersion, "print the version");
  app.require_subcommand(1);
  fit = app.add_subcommand("fit", "find a hinge for a job and write everything for it");
  fit->add_option("JOB", options.job_file, "job file (JSON; see 'lidwright keys')")
      ->required()
      ->type_name(kJsonFile);
  AddOutput(fit, options, kFolder, "folder to write (default: out/ and JOB's name)");
  AddNumber(fit, "--threads", options.threads, 0, 256, "threads to use, 0 for all; same result");
  AddNumber(fit, "--frames", options.frames, 2, 720, "pictures of the swing, 2 to 720 (96)");
  fit->footer("Example: lidwright fit chest.json --out chest --replace");

  check = app.add_subcommand("check", "judge pivots you have: what clears, what rubs, where");
  check->add_option("JOB", options.job_file, "job file")->required()->type_name(kJsonFile);
  check->add_option("HINGE", options.hinge_file, "your pivots, or a hinge.json that fit wrote")
      ->required()
      ->type_name(kJsonFile);
  AddOutput(check, options, kFolder, "folder for drawings of it (default: none)");
  AddNumber(check, "--frames", options.frames, 2, 720, "pictures of the swing, 2 to 720 (96)");
  check->footer(
      "HINGE is JSON: {\"units\": \"mm\", \"pivots\": {\"ground_a\": [31, -15.5], \"ground_b\":\n"
      "[48.5, -38], \"lid_a\": [74.5, -6.5], \"lid_b\": [172, -40]}}, each x from the rear\n"
      "face and y from the rim, lid shut. Exit code 1: it does not do.");

  box = app.add_subcommand("box", "draw the box as the job describes it");
  box->add_option("JOB", options.job_file, "job file")->required()->type_name(kJsonFile);
  AddOutput(box, options, kDrawing, "drawing, .svg or .pdf (default: JOB_box.svg)");

  keys = app.add_subcommand("keys", "list the keys of a job file: units, ranges, defaults");

  completion = app.add_subcommand("completion", "print completions for bash");
  completion->footer("In ~/.bashrc: source <(lidwright completion)");

  manual = app.add_subcommand("manual", "print the manual page");
  manual->footer("To read it: lidwright manual | man -l -");

  for (CLI::App* command : {fit, check, box, keys, completion, manual}) {
    command->set_help_flag("-h,--help", "print this and exit");
    command->group("Commands");
  }
  // Last, as commands take over the footer that is there when they are added.
  app.footer(
      "Exit code: 0 good, 1 no hinge, 2 bad job or hinge file, 3 usage or files,\n"
      "4 a defect of the program. 'lidwright COMMAND --help' tells more.\n"
      "A falling lid can hurt: read the cautions in the report.");
}

}  // namespace lidwright
