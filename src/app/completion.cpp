// SPDX-License-Identifier: Apache-2.0
#include "interface.h"

namespace lidwright {
namespace {

// Everything that begins with a dash.
std::string OptionsOf(const CLI::App& app) {
  std::string text;
  for (const CLI::Option* option : app.get_options()) {
    for (const std::string& name : option->get_lnames())
      text += (text.empty() ? "" : " ") + ("--" + name);
  }
  return text;
}

std::string OffersFor(const std::string& type) {
  if (type == kJsonFile) return "files json";
  if (type == kSectionFile) return "files svg dxf";
  if (type == kMeshFile) return "files stl";
  if (type == kOutFolder) return "folders";
  if (type == kDrawing) return "files svg pdf";
  return "nothing";
}

}  // namespace

std::string BashCompletion(const CLI::App& app) {
  const std::string name = app.get_name();
  std::string commands, cases;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    commands += (commands.empty() ? "" : " ") + command->get_name();
    std::string valued, places;
    int place = 0;
    for (const CLI::Option* option : command->get_options()) {
      if (option->get_positional()) {
        const bool many = option->get_expected_max() > 1;
        places += "        " + (many ? std::string("*") : std::to_string(place++)) + ") offer=\"" +
                  OffersFor(option->get_type_name()) + "\" ;;\n";
      } else if (option->get_type_size() != 0) {
        for (const std::string& option_name : option->get_lnames()) {
          valued += "        --" + option_name + ") offer=\"" + OffersFor(option->get_type_name()) +
                    "\"; place=-1 ;;\n";
        }
      }
    }
    cases += "    " + command->get_name() + ")\n      options=\"" + OptionsOf(*command) + "\"\n";
    if (!valued.empty()) cases += "      case \"$before\" in\n" + valued + "      esac\n";
    if (!places.empty()) cases += "      case \"$place\" in\n" + places + "      esac\n";
    cases += "      ;;\n";
  }
  // Options that take a value, so that the value is not counted as an argument.
  std::string takes;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    for (const CLI::Option* option : command->get_options()) {
      if (option->get_positional() || option->get_type_size() == 0) continue;
      for (const std::string& long_name : option->get_lnames()) {
        if (takes.find("--" + long_name + "|") == std::string::npos)
          takes += "--" + long_name + "|";
      }
    }
  }
  if (!takes.empty()) takes.pop_back();
  return "# bash completion for " + name + ": source <(" + name + " completion)\n_" + name +
         "() {\n"
         "  local current=\"${COMP_WORDS[COMP_CWORD]}\" before=\"${COMP_WORDS[COMP_CWORD-1]}\"\n"
         "  local command=\"\" options=\"\" offer=\"\" place=0 i ending\n"
         "  COMPREPLY=()\n"
         "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
         "    COMPREPLY=($(compgen -W \"" +
         commands + " " + OptionsOf(app) +
         "\" -- \"$current\"))\n    return\n  fi\n"
         "  command=\"${COMP_WORDS[1]}\"\n"
         "  for ((i = 2; i < COMP_CWORD; i++)); do\n"
         "    case \"${COMP_WORDS[i]}\" in\n"
         "      " +
         takes +
         ") i=$((i + 1)) ;;\n"
         "      -*) ;;\n"
         "      *) place=$((place + 1)) ;;\n"
         "    esac\n"
         "  done\n"
         "  case \"$command\" in\n" +
         cases +
         "  esac\n"
         "  if [ \"${current:0:1}\" = \"-\" ] && [ \"$place\" -ge 0 ]; then\n"
         "    COMPREPLY=($(compgen -W \"$options\" -- \"$current\"))\n    return\n  fi\n"
         "  case \"$offer\" in\n"
         "    \"\"|nothing) return ;;\n"
         "  esac\n"
         "  compopt -o filenames 2>/dev/null\n"
         "  local IFS=$'\\n'\n"
         "  COMPREPLY=($(compgen -d -- \"$current\"))\n"
         "  if [ \"${offer%% *}\" = files ]; then\n"
         "    IFS=' '\n"
         "    for ending in ${offer#files }; do\n"
         "      IFS=$'\\n'\n"
         "      COMPREPLY+=($(compgen -f -X \"!*.$ending\" -- \"$current\"))\n"
         "    done\n"
         "  fi\n"
         "}\ncomplete -F _" +
         name + " " + name + "\n";
}

}  // namespace lidwright
