// SPDX-License-Identifier: Apache-2.0
#include "interface.h"

#include <algorithm>
#include <memory>

#include "lidwright/job/key_rows.h"

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
  // What is longer than a screen goes without its blank lines.
  std::string make_help(const CLI::App* app, std::string name,
                        CLI::AppFormatMode mode) const override {
    const std::string help = CLI::Formatter::make_help(app, name, mode);
    if (std::count(help.begin(), help.end(), '\n') <= kScreenLines) return help;
    std::string dense;
    for (const char c : help) {
      if (c != '\n' || (!dense.empty() && dense.back() != '\n')) dense += c;
    }
    return dense;
  }

 private:
  static constexpr std::ptrdiff_t kScreenLines = 24;
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
  command->add_flag("--replace", options.replace,
                    "replace what lidwright wrote there, if unchanged");
}

// One of two words and no other.
CLI::Validator OneOf(const std::string& first, const std::string& second) {
  return CLI::Validator(
      [first, second](const std::string& word) {
        if (word == first || word == second) return std::string();
        return "'" + word + "' must be " + first + " or " + second;
      },
      "");
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

// A key's meaning in one line of help: without what follows a semicolon, a colon or, where it is
// still too long, a comma or 'and'; the default behind it if there is room.
std::string InOneLine(std::string meaning, const std::string& fallback) {
  constexpr std::size_t kRoom = 80 - 23;
  meaning = meaning.substr(0, meaning.find_first_of(";:"));
  for (const char* joint : {",", " and "}) {
    for (std::size_t at = 0; meaning.size() > kRoom && at != std::string::npos;) {
      at = meaning.rfind(joint);
      if (at != std::string::npos) meaning.resize(at);
    }
  }
  const std::string behind = " (" + fallback + ")";
  return meaning.size() + behind.size() > kRoom || fallback.empty() ? meaning : meaning + behind;
}

void AddBegin(CLI::App* begin, BeginCommandOptions& options) {
  begin->add_option("JOB", options.out, "job file to write (default: box.json)")
      ->type_name(kJsonFile);
  for (const BeginQuestion& question : BeginQuestions()) {
    const KeyRow row = *FindKeyRow(question.path);
    const std::string what = InOneLine(row.meaning, question.fallback);
    begin
        ->add_option_function<std::string>(
            question.option,
            [&options, &question](const std::string& text) {
              options.answers[question.path] = text;
            },
            what)
        ->type_name("");
  }
  begin->add_flag("--replace", options.replace, "write over a job that lidwright made");
}

void AddTrace(CLI::App* trace, TraceCommandOptions& options) {
  const auto length = [&](const char* name, std::string& value, const char* what) {
    trace->add_option(name, value, what)->type_name(kLengthText);
  };
  const auto word = [&](const char* name, std::string& value, const char* what) {
    return trace->add_option(name, value, what)->type_name(kName);
  };
  trace->add_option("DRAWING", options.drawings, "sections of case and lid, lid shut")
      ->required()
      ->type_name(kSectionFile);
  length("--width", options.width, "outside width of the box, which no section shows");
  trace->add_option("--at", options.at, "place of a section from mid-width; one for each")
      ->allow_extra_args(false)
      ->type_name(kLengthText);
  length("--end-wall", options.end_wall, "thickness of the end walls (the back's)");
  word("--unit", options.unit, "the drawing's, whatever it says: mm cm m in ft")->type_name("UNIT");
  length("--true-depth", options.true_depth, "case and lid, back to front, as they are");
  length("--true-height", options.true_height, "case and lid together, as they are");
  word("--back", options.back, "left or right: where the hinge is (left)")
      ->type_name("SIDE")
      ->check(OneOf("left", "right"));
  length("--rim", options.rim, "rim above the bottom, if it is not found right");
  word("--case", options.case_name, "layer, group or id that is the case");
  word("--lid", options.lid_name, "layer, group or id that is the lid");
  length("--close", options.close, "close gaps up to this (0.5 mm)");
  word("--name", options.name, "what the box is called");
  word("--units", options.units, "mm or in: of bare lengths here and of the job")
      ->type_name("UNIT")
      ->check(OneOf("mm", "in"));
  trace->add_option("--out", options.out, "job file to write (the drawing's name .json)")
      ->type_name(kJsonFile);
  trace->add_flag("--replace", options.replace, "write over a job that lidwright made");
}

void AddSlice(CLI::App* slice, SliceCommandOptions& options) {
  const auto length = [&](const char* name, std::string& value, const char* what) {
    slice->add_option(name, value, what)->type_name(kLengthText);
  };
  const auto word = [&](const char* name, std::string& value, const char* type, const char* what) {
    return slice->add_option(name, value, what)->type_name(type);
  };
  word("CASE", options.case_file, kMeshFile, "mesh of the case (STL)")->required();
  word("LID", options.lid_file, kMeshFile, "mesh of the lid, shut, in the same place")->required();
  word("--hinge-side", options.hinge_side, "AXIS", "that points out of the back, such as y or -y")
      ->required();
  word("--up", options.up, "AXIS", "the meshes' axis that points up (z)");
  word("--unit", options.unit, "UNIT", "of the meshes: mm cm in ft m thou (mm)");
  length("--lift", options.lift, "raise the lid by this, or set it down if negative");
  length("--error", options.error, "how near the stations keep to the meshes (0.05 mm)");
  word("--name", options.name, kName, "what the box is called");
  word("--units", options.units, "UNIT", "mm or in: of bare lengths here and of the job")
      ->check(OneOf("mm", "in"));
  slice->add_option("--out", options.out, "job file to write (the case's name .json)")
      ->type_name(kJsonFile);
  slice->add_flag("--replace", options.replace, "write over a job that lidwright made");
}

void AddMockup(CLI::App* mockup, MockupCommandOptions& options) {
  mockup->add_option("JOB", options.job_file, "job file to begin with (default: a plain box)")
      ->type_name(kJsonFile);
  AddNumber(mockup, "--port", options.port, 0, 65535, "port to serve on, 0 for any (0)");
  mockup->add_flag("--no-browser", options.no_browser, "only print the address");
  mockup->add_option("--out", options.out, "folder to write when asked (out/ and JOB's name)")
      ->type_name(kOutFolder);
  mockup->footer(
      "The page is served to this computer alone, under an address that is new each\n"
      "time. Ctrl-C ends it, or the page's own button.");
}

}  // namespace

Interface::Interface(CommandOptions& options, BeginCommandOptions& begin_options,
                     TraceCommandOptions& trace_options, SliceCommandOptions& slice_options,
                     MockupCommandOptions& mockup_options)
    : app("Hidden four-bar hinges for boxes with domed lids: finds the pivots, proves that\n"
          "lid and arms clear at every angle, and draws what the bench needs.",
          "lidwright") {
  app.formatter(std::make_shared<Help>());
  app.set_help_flag("-h,--help", "print this and exit");
  app.set_version_flag("--version", std::string("lidwright ") + kVersion, "print the version");
  app.require_subcommand(1);
  begin = app.add_subcommand("begin", "write a first job file from a few measures");
  AddBegin(begin, begin_options);
  trace = app.add_subcommand("trace", "make a job file from drawn sections (SVG or DXF)");
  AddTrace(trace, trace_options);
  slice = app.add_subcommand("slice", "make a job file from meshes of case and lid (STL)");
  AddSlice(slice, slice_options);

  fit = app.add_subcommand("fit", "find a hinge for a job and write everything for it");
  fit->add_option("JOB", options.job_file, "job file (JSON; see 'lidwright keys')")
      ->required()
      ->type_name(kJsonFile);
  AddOutput(fit, options, kOutFolder, "folder to write (default: out/ and JOB's name)");
  fit->add_option("--choose", options.choose,
                  "draw and cut this choice instead: its name, or 2, 3 ...")
      ->type_name(kName);
  AddNumber(fit, "--threads", options.threads, 0, 256, "threads to use, 0 for all; same result");
  AddNumber(fit, "--frames", options.frames, 2, 720, "pictures of the swing, 2 to 720 (96)");
  fit->footer("Example: lidwright fit chest.json --out chest --replace");

  check = app.add_subcommand("check", "judge pivots you have: what clears, what rubs, where");
  check->add_option("JOB", options.job_file, "job file")->required()->type_name(kJsonFile);
  check->add_option("HINGE", options.hinge_file, "your pivots, or a hinge.json that fit wrote")
      ->required()
      ->type_name(kJsonFile);
  AddOutput(check, options, kOutFolder, "folder for drawings of it (default: none)");
  AddNumber(check, "--frames", options.frames, 2, 720, "pictures of the swing, 2 to 720 (96)");
  check->footer(
      "HINGE is JSON: {\"units\": \"mm\", \"pivots\": {\"case_a\": [31, -15.5], \"case_b\":\n"
      "[48.5, -38], \"lid_a\": [74.5, -6.5], \"lid_b\": [172, -40]}}, each x from the rear\n"
      "face and y from the rim, lid shut. Exit code 1: it does not do.");

  mockup = app.add_subcommand("mockup", "a page to draw the box, find a hinge, drag pivots");
  AddMockup(mockup, mockup_options);

  box = app.add_subcommand("box", "draw the box as the job describes it");
  box->add_option("JOB", options.job_file, "job file")->required()->type_name(kJsonFile);
  AddOutput(box, options, kDrawing, "drawing, .svg or .pdf (default: JOB_box.svg)");

  keys = app.add_subcommand("keys", "list the keys of a job file: units, ranges, defaults");

  completion = app.add_subcommand("completion", "print completions for bash");
  completion->footer("In ~/.bashrc: source <(lidwright completion)");

  manual = app.add_subcommand("manual", "print the manual page");
  manual->footer("To read it: lidwright manual | man -l -");

  for (CLI::App* command :
       {begin, trace, slice, fit, check, mockup, box, keys, completion, manual}) {
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
