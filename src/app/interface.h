// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <CLI/CLI.hpp>
#include <string>

#include "begin_command.h"
#include "commands.h"
#include "mockup_command.h"
#include "slice_command.h"
#include "trace_command.h"

namespace lidwright {

/// The program's commands and options, described once: parsing, help, completion and manual all
/// come from `app`. The options are filled by parsing and must outlive it.
struct Interface {
  Interface(CommandOptions& options, BeginCommandOptions& begin_options,
            TraceCommandOptions& trace_options, SliceCommandOptions& slice_options,
            MockupCommandOptions& mockup_options);
  Interface(const Interface&) = delete;
  Interface& operator=(const Interface&) = delete;

  CLI::App app;
  CLI::App* begin = nullptr;
  CLI::App* trace = nullptr;
  CLI::App* slice = nullptr;
  CLI::App* fit = nullptr;
  CLI::App* check = nullptr;
  CLI::App* mockup = nullptr;
  CLI::App* box = nullptr;
  CLI::App* keys = nullptr;
  CLI::App* completion = nullptr;
  CLI::App* manual = nullptr;
};

/// What completion offers for an argument: files ending so, folders, or nothing.
inline constexpr const char* kJsonFile = "FILE";
inline constexpr const char* kOutFolder = "FOLDER";
inline constexpr const char* kDrawing = "DRAWING";
inline constexpr const char* kSectionFile = "SECTION";
inline constexpr const char* kMeshFile = "MESH";
inline constexpr const char* kNumber = "N";
inline constexpr const char* kLengthText = "LENGTH";
inline constexpr const char* kName = "NAME";

/// A script for bash that completes commands, options and files of `app`. Needs nothing beyond
/// bash itself.
std::string BashCompletion(const CLI::App& app);

/// The manual page of `app` in man's macros, section 1.
std::string ManualPage(const CLI::App& app);

}  // namespace lidwright
