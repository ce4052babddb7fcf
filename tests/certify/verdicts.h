// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/certify/certify.h"
#include "lidwright/design/names.h"

namespace lidwright::testing {

/// The verdict of that name, or null.
inline const Verdict* Called(const Verdicts& verdicts, const std::string& name) {
  for (const Verdict& v : verdicts) {
    if (NameOf(v) == name) return &v;
  }
  return nullptr;
}

/// The parts of a box by what they are.
struct Slabs {
  std::vector<const PartTree*> case_slabs, lid_slabs, limits, bench, contents;

  explicit Slabs(const Assembly& box)
      : case_slabs(box.Shapes(PartKind::kCase)),
        lid_slabs(box.Shapes(PartKind::kLid)),
        limits(box.Shapes(PartKind::kWall)),
        bench(box.Shapes(PartKind::kBench)),
        contents(box.Shapes(PartKind::kContents)) {}
};

}  // namespace lidwright::testing
