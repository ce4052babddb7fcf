// SPDX-License-Identifier: Apache-2.0
#include "lidwright/certify/assembly.h"

#include <utility>

namespace lidwright {

void Assembly::Add(PartKind kind, Member member, Part part) {
  parts_.push_back({kind, member, {}, false, std::make_shared<const ShapedPart>(std::move(part))});
}

std::vector<const ShapedPart*> Assembly::Shapes(PartKind kind) const {
  std::vector<const ShapedPart*> shapes;
  for (const Registered& part : parts_) {
    if (part.kind == kind) shapes.push_back(part.shape.get());
  }
  return shapes;
}

bool MayTouch(const Assembly::Registered& a, const Assembly::Registered& b) {
  const Body body_a = a.shape->part().body, body_b = b.shape->part().body;
  if (body_a == body_b) return true;
  const auto runs_in = [](const Assembly::Registered& inner, const Assembly::Registered& outer) {
    return outer.holds_joints && inner.joined == outer.shape->part().body;
  };
  return runs_in(a, b) || runs_in(b, a);
}

}  // namespace lidwright
