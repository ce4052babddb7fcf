// SPDX-License-Identifier: Apache-2.0
#include "places.h"

namespace lidwright::testing {

std::string SourceFolder() {
  return LIDWRIGHT_SOURCE_DIR;
}
std::string Program() {
  return LIDWRIGHT_PROGRAM;
}
std::string Gallery() {
  return LIDWRIGHT_GALLERY;
}
std::string FolderWriter() {
  return LIDWRIGHT_FOLDER_WRITER;
}
std::string FaultyCalls() {
  return LIDWRIGHT_FAULTY_CALLS;
}

}  // namespace lidwright::testing
