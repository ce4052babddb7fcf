// SPDX-License-Identifier: Apache-2.0
// Writes a small output folder, or a file, as the program's commands do, for tests that break the
// calls it makes.
//     folder_writer folder PATH new|replace VERSION     VERSION 0 only looks, as before long work
//     folder_writer file PATH new|replace VERSION
// Ends with 0, or with 3 and a message on its standard output.
#include <unistd.h>

#include <cstdlib>
#include <iostream>
#include <string>

#include "lidwright/app/output_folder.h"

namespace {

using namespace lidwright;

// Some names are in both versions, some in one; of those in both some say the same.
FolderContents Version(const std::string& version) {
  const std::string text = "version " + version + " of this file\n";
  return {{"report.html", text},
          {"cut/arm.dxf", text},
          {"cut/same.dxf", "the same in each\n"},
          {"cut/only_" + version + ".dxf", text},
          {"swing_" + version + "/frame.svg", text}};
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 5) return 1;
  const std::string what = argv[1], path = argv[2], version = argv[4];
  const IfThere if_there = argv[3] == std::string("new") ? IfThere::kRefuse : IfThere::kReplace;
  const Replaceable which{[](const std::string& text) { return text.rfind("version", 0) == 0; },
                          "is another's"};
  try {
    if (what == "folder") {
      CheckFolder(path, if_there);
      if (version != "0") WriteFolder(path, Version(version), if_there);
    } else {
      CheckFile(path, if_there, which);
      if (version != "0") WriteFile(path, "version " + version, if_there, which);
    }
  } catch (const FileError& error) {
    std::cout << error.what() << "\n";
    return 3;
  }
  return 0;
}
