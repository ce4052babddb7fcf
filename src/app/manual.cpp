// SPDX-License-Identifier: Apache-2.0
#include <sstream>

#include "interface.h"

namespace lidwright {
namespace {

// A text for man's macros: backslashes and dashes taken literally, no line that begins a macro.
std::string Roff(const std::string& text) {
  std::string safe;
  bool line_start = true;
  for (const char c : text) {
    if (line_start && (c == '.' || c == '\'')) safe += "\\&";
    if (c == '\\') {
      safe += "\\e";
    } else if (c == '-') {
      safe += "\\-";
    } else {
      safe += c;
    }
    line_start = c == '\n';
  }
  return safe;
}

// As a sentence.
std::string Sentence(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text + ".";
}

std::string Bold(const std::string& text) {
  return "\\fB" + Roff(text) + "\\fR";
}
std::string Italic(const std::string& text) {
  return "\\fI" + Roff(text) + "\\fR";
}

void Tagged(std::ostream& out, const std::string& tag, const std::string& text) {
  out << ".TP\n" << tag << "\n" << Roff(text) << "\n";
}

std::string NameOf(const CLI::Option& option) {
  std::string text;
  for (const std::string& name : option.get_snames()) text += Bold("-" + name) + ", ";
  for (const std::string& name : option.get_lnames()) text += Bold("--" + name) + ", ";
  text.resize(text.size() - 2);
  if (option.get_type_size() != 0) text += " " + Italic(option.get_type_name());
  return text;
}

void Command(std::ostream& out, const CLI::App& command) {
  out << ".SS " << Bold(command.get_name());
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional()) out << " " << Italic(option->get_name(true));
  }
  out << " [options]\n" << Roff(Sentence(command.get_description())) << "\n";
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional()) {
      Tagged(out, Italic(option->get_name(true)), Sentence(option->get_description()));
    }
  }
  for (const CLI::Option* option : command.get_options()) {
    if (!option->get_positional())
      Tagged(out, NameOf(*option), Sentence(option->get_description()));
  }
  if (!command.get_footer().empty()) out << ".PP\n" << Roff(command.get_footer()) << "\n";
}

}  // namespace

std::string ManualPage(const CLI::App& app) {
  std::ostringstream out;
  const std::string name = app.get_name();
  out << ".TH "
      << "LIDWRIGHT"
      << " 1 \"\" \"lidwright " << kVersion << "\" \"lidwright\"\n"
      << ".ad l\n.SH NAME\n"
      << name << " \\- hidden hinges for boxes with domed lids\n"
      << ".SH SYNOPSIS\n"
      << Bold(name) << " " << Italic("COMMAND") << " [options] ...\n"
      << ".SH DESCRIPTION\n"
      << Roff(app.get_description()) << "\n"
      << ".SH COMMANDS\n";
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    Command(out, *command);
  }
  out << ".SH EXIT STATUS\n";
  Tagged(out, Bold("0"), "Good.");
  Tagged(out, Bold("1"), "No hinge was found, or the one given does not do.");
  Tagged(out, Bold("2"), "The job or hinge file is wrong; each problem is named with its line.");
  Tagged(out, Bold("3"), "The command line is wrong, or a file or folder cannot be used.");
  Tagged(out, Bold("4"), "A defect of the program.");
  out << ".SH FILES\n"
      << Roff(
             "An output folder or file is written whole or not at all, and nothing is overwritten "
             "unless you say --replace. In a folder that replaces or removes the files listed in "
             "its .lidwright, which lidwright wrote there; one of them that was changed since is "
             "named and nothing is done; all other files stay, and links are not followed. A "
             "drawing of a box is replaced only as lidwright wrote it. begin, trace and slice "
             "write over a job that lidwright made, with all that was edited in it since. A run "
             "that is killed leaves what was there or what is new: the next run into the same "
             "place finishes or undoes it, and removes the hidden folder .NAME.lidwright beside "
             "it.")
      << "\n.SH CAUTIONS\n"
      << Roff(
             "A lid on a linkage pinches fingers, and a heavy one falls. Read the cautions in the "
             "report; local codes and licensed practice come first.")
      << "\n";
  return out.str();
}

}  // namespace lidwright
