// SPDX-License-Identifier: Apache-2.0
#include "lidwright/certify/assembly.h"

#include <utility>

namespace lidwright {

void Assembly::Add(PartKind kind, Member member, std::vector<Part> parts) {
  parts_.push_back({kind, member, {}, false, std::make_shared<const PartTree>(std::move(parts))});
}

void Assembly::LookAtShut(double cap_mm) {
  shut_.clear();
  for (const PartPair& pair : PairsBetween(Shapes(PartKind::kLid), Shapes(PartKind::kCase))) {
    shut_.push_back(std::make_shared<const ShutPair>(pair, cap_mm));
  }
}

std::shared_ptr<const ShutPair> Assembly::ShutOf(const PartPair& pair, double cap_mm) const {
  for (const auto& shut : shut_) {
    if (shut->cap_mm() == cap_mm && shut->pair().first == pair.first &&
        shut->pair().second == pair.second) {
      return shut;
    }
  }
  return nullptr;
}

std::vector<const PartTree*> Assembly::Shapes(PartKind kind) const {
  std::vector<const PartTree*> shapes;
  for (const Registered& part : parts_) {
    if (part.kind == kind) shapes.push_back(part.shape.get());
  }
  return shapes;
}

bool MayTouch(const Assembly::Registered& a, const Assembly::Registered& b) {
  const Body body_a = a.shape->body(), body_b = b.shape->body();
  if (body_a == body_b) return true;
  const auto runs_in = [](const Assembly::Registered& inner, const Assembly::Registered& outer) {
    const bool meets = outer.holds_joints || outer.kind == PartKind::kCase;
    return meets && inner.joined == outer.shape->body();
  };
  return runs_in(a, b) || runs_in(b, a);
}

}  // namespace lidwright
