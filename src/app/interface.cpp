// SPDX-License-Identifier: Apache-2.0
#include "interface.h"

#include <memory>

#include "lidwright/job/documented_job.h"

namespace lidwright {
namespace {

constexpr const char *kMeasure = "LENGTH", *kWord = "WORD";

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

CLI::App* AddBegin(CLI::App& app, BeginCommandOptions& options) {
  CLI::App* begin = app.add_subcommand("begin", "write a first job file from a few measures");
  begin->add_option("JOB", options.out, "job file to write (default: box.json)")
      ->type_name(kJsonFile);
  for (const BeginQuestion& question : BeginQuestions()) {
    const KeyFacts facts = *FactsOf(question.path);
    std::string what = facts.meaning;
    if (!question.fallback.empty()) what += " (default " + question.fallback + ")";
    begin
        ->add_option_function<std::string>(
            question.option,
            [&options, &question](const std::string& text) {
              options.answers[question.path] = text;
            },
            what)
        ->type_name(kMeasure);
  }
  begin->add_flag("--replace", options.replace, "write over a file that is there");
  return begin;
}

CLI::App* AddTrace(CLI::App& app, TraceCommandOptions& options) {
  CLI::App* trace = app.add_subcommand("trace", "make a job file from drawn sections (SVG or DXF)");
  trace->add_option("DRAWING", options.drawings, "a section of case and lid, lid shut")
      ->required()
      ->type_name(kDrawing);
  trace->add_option("--width", options.width, "outside width of the box, which no section shows")
      ->type_name(kMeasure);
  trace->add_option("--at", options.at, "where a drawing's section is, from mid-width; one each")
      ->type_name(kMeasure)
      ->allow_extra_args(false);
  trace
      ->add_option("--end-wall", options.end_wall,
                   "thickness of the end walls (default: the back's)")
      ->type_name(kMeasure);
  trace->add_option("--unit", options.unit, "mm, cm, m, in or ft: the drawing's, whatever it says")
      ->type_name(kWord);
  trace->add_option("--true-depth", options.true_depth, "case and lid, back to front, as they are")
      ->type_name(kMeasure);
  trace->add_option("--true-height", options.true_height, "case and lid together, as they are")
      ->type_name(kMeasure);
  trace->add_option("--back", options.back, "left or right: where the hinge is (default left)")
      ->type_name(kWord)
      ->check(CLI::IsMember({"left", "right"}));
  trace->add_option("--rim", options.rim, "height of the rim above the bottom, if not found right")
      ->type_name(kMeasure);
  trace->add_option("--case", options.case_name, "layer, group or id that is the case")
      ->type_name(kWord);
  trace->add_option("--lid", options.lid_name, "layer, group or id that is the lid")
      ->type_name(kWord);
  trace->add_option("--close", options.close, "close gaps up to this (default 0.5 mm)")
      ->type_name(kMeasure);
  trace->add_option("--name", options.name, "what the box is called")->type_name(kWord);
  trace->add_option("--units", options.units, "mm or in: of bare lengths here and of the job")
      ->type_name(kWord)
      ->check(CLI::IsMember({"mm", "in"}));
  trace->add_option("--out", options.out, "job file to write (default: the drawing's name .json)")
      ->type_name(kJsonFile);
  trace->add_flag("--replace", options.replace, "write over a file that is there");
  return trace;
}

}  // namespace

Interface::Interface(CommandOptions& options, BeginCommandOptions& begin_options,
                     TraceCommandOptions& trace_options)
    : app("Hidden four-bar hinges for boxes with domed lids: finds the pivots, proves that\n"
          "lid and arms clear at every angle, and draws what the bench needs.",
          "lidwright") {
  app.formatter(std::make_shared<Help>());
  app.set_help_flag("-h,--help", "print this and exit");
  app.set_version_flag("--version", std::string("lidwright ") + kVersion, "print the version");
  app.require_subcommand(1);
  begin = AddBegin(app, begin_options);
  trace = AddTrace(app, trace_options);
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

  for (CLI::App* command : {begin, trace, fit, check, box, keys, completion, manual}) {
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
