// SPDX-License-Identifier: Apache-2.0
#include "lidwright/app/command_line.h"

#include <algorithm>
#include <cerrno>
#include <exception>
#include <filesystem>
#include <ostream>

#include "disk.h"
#include "interface.h"
#include "lidwright/app/output_folder.h"
#include "lidwright/base/problem.h"

namespace lidwright {
namespace {

std::vector<std::string> NamesOf(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    names.push_back(command->get_name());
  }
  return names;
}

std::vector<std::string> OptionsOf(const CLI::App& app) {
  std::vector<std::string> names;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames()) names.push_back("--" + name);
    for (const std::string& name : option->get_snames()) names.push_back("-" + name);
  }
  return names;
}

std::string DidYouMean(const std::string& word, const std::vector<std::string>& allowed) {
  const std::string near = Nearest(word, allowed);
  return near.empty() ? "" : " (did you mean '" + near + "'?)";
}

// An option stands at the end without what belongs behind it.
std::string WithoutValue(const CLI::App& command, const std::vector<std::string>& arguments) {
  const CLI::Option* option = command.get_option_no_throw(arguments.back());
  return arguments.back() + " needs " +
         (option == nullptr ? std::string("a value") : "a " + option->get_type_name()) +
         " behind it";
}

// What is wrong with a command line, in the words of who wrote it: first a command that is none,
// then an option that is none, then what is missing or too much.
std::string FaultOf(const Interface& interface, const std::vector<std::string>& arguments,
                    const CLI::ParseError& error) {
  const std::vector<std::string> commands = NamesOf(interface.app);
  if (arguments.empty()) {
    std::string text = "say what to do:";
    for (const std::string& name : commands) text += " " + name;
    return text;
  }
  const auto known = std::find(commands.begin(), commands.end(), arguments[0]);
  if (known == commands.end() && arguments[0].rfind("-", 0) == 0) {
    return "there is no option '" + arguments[0] + "'" +
           DidYouMean(arguments[0], OptionsOf(interface.app));
  }
  if (known == commands.end()) {
    return "there is no command '" + arguments[0] + "'" + DidYouMean(arguments[0], commands);
  }
  const CLI::App* command = interface.app.get_subcommand(arguments[0]);
  const std::vector<std::string> options = OptionsOf(*command);
  for (std::size_t i = 1; i < arguments.size() && arguments[i] != "--"; ++i) {
    const std::string name = arguments[i].substr(0, arguments[i].find('='));
    if (name.size() < 2 || name[0] != '-') continue;
    if (std::isdigit(static_cast<unsigned char>(name[1]))) continue;  // a negative number
    if (std::find(options.begin(), options.end(), name) != options.end()) {
      const bool takes_value = command->get_option(name)->get_items_expected_max() > 0;
      if (takes_value && arguments[i].find('=') == std::string::npos) ++i;  // such as -y
      continue;
    }
    return *known + " has no option '" + name + "'" + DidYouMean(name, options);
  }
  std::string usage = "lidwright " + *known;
  for (const CLI::Option* option : command->get_options()) {
    const std::string name = option->get_name(option->get_positional());
    if (option->get_positional()) usage += " " + name;
    if (!option->get_positional() && option->get_required()) {
      usage += " " + name + " " + option->get_type_name();
    }
  }
  if (dynamic_cast<const CLI::RequiredError*>(&error)) {
    return *known + " needs more: " + usage;
  }
  if (dynamic_cast<const CLI::ArgumentMismatch*>(&error)) return WithoutValue(*command, arguments);
  if (dynamic_cast<const CLI::ExtrasError*>(&error)) {
    const std::vector<std::string> extra = interface.app.remaining(true);
    return "'" + (extra.empty() ? std::string() : extra.front()) + "' is too much: " + usage;
  }
  return error.what();
}

// An answer that nobody gets is none: whatever the command came to, that is told instead.
ExitCode Said(ExitCode code, const Streams& streams) {
  errno = 0;
  if (streams.out.flush()) return code;
  streams.messages << "lidwright: cannot write to standard output"
                   << (errno == 0 ? std::string() : ": " + ReasonOf(errno)) << "\n";
  return ExitCode::kUsage;
}

}  // namespace

ExitCode RunCommandLine(const std::vector<std::string>& given, std::ostream& out,
                        std::ostream& messages, bool terminal, std::istream* asked) {
  CommandOptions options;
  const Streams streams{out, messages, terminal};
  BeginCommandOptions begin_options;
  TraceCommandOptions trace_options;
  SliceCommandOptions slice_options;
  MockupCommandOptions mockup_options;
  Interface interface(options, begin_options, trace_options, slice_options, mockup_options);
  // 'lidwright help fit' for 'lidwright fit --help'.
  std::vector<std::string> arguments = given;
  if (!arguments.empty() && arguments[0] == "help") {
    arguments.erase(arguments.begin());
    arguments.resize(std::min<std::size_t>(arguments.size(), 1));
    arguments.push_back("--help");
  }

  try {
    std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());
    interface.app.parse(reversed);
  } catch (const CLI::Success& help) {  // --help, --version
    interface.app.exit(help, out, messages);
    return Said(ExitCode::kGood, streams);
  } catch (const CLI::ParseError& error) {
    messages << "lidwright: " << FaultOf(interface, arguments, error) << "\n"
             << "'lidwright --help' lists the commands\n";
    return ExitCode::kUsage;
  }

  const auto run = [&] {
    if (interface.begin->parsed()) return BeginCommand(begin_options, streams, asked);
    if (interface.trace->parsed()) return TraceCommand(trace_options, streams);
    if (interface.slice->parsed()) return SliceCommand(slice_options, streams);
    if (interface.fit->parsed()) return FitCommand(options, streams);
    if (interface.check->parsed()) return CheckCommand(options, streams);
    if (interface.mockup->parsed()) return MockupCommand(mockup_options, streams);
    if (interface.box->parsed()) return BoxCommand(options, streams);
    if (interface.keys->parsed()) return KeysCommand(streams);
    out << (interface.manual->parsed() ? ManualPage(interface.app) : BashCompletion(interface.app));
    return ExitCode::kGood;
  };
  try {
    return Said(run(), streams);
  } catch (const FileError& error) {
    messages << "lidwright: " << error.what() << "\n";
    return ExitCode::kUsage;
  } catch (const std::filesystem::filesystem_error& error) {  // of a path that was given
    messages << "lidwright: " << error.path1().string() << ": " << error.code().message() << "\n";
    return ExitCode::kUsage;
  } catch (const std::exception& error) {
    messages << "lidwright: internal error, nothing was written: " << error.what() << "\n";
    return ExitCode::kInternal;
  }
}

}  // namespace lidwright
