// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace lidwright::testing {

/// Where this checkout and its programs are. Defined in the one file that is compiled anew for
/// every checkout, so that a compiler cache serves all others.
std::string SourceFolder();
std::string Program();  ///< lidwright itself
std::string Gallery();
std::string FolderWriter();  ///< see app/folder_writer.cpp
std::string FaultyCalls();   ///< see app/faulty_calls.cpp

}  // namespace lidwright::testing
