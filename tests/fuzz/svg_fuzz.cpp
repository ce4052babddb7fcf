// SPDX-License-Identifier: Apache-2.0
#include "traced.h"

using namespace lidwright;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string text(reinterpret_cast<const char*>(data) + 1, size - 1);
  fuzz::LawsOfTrace(TraceSvg(text, fuzz::OptionsOf(data[0])), (data[0] & 16) != 0);
  return 0;
}
