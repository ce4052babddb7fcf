// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "lidwright/certify/verdict.h"

namespace lidwright {

/// What a registered part is, for the rules of who keeps what gap from whom.
enum class PartKind : unsigned {
  kCase = 1,
  kLid = 2,
  kWall = 4,  ///< behind the box, or the ceiling
  kBench = 8,
  kContents = 16,
  kArm = 32,
  kPinToBe = 64,   ///< where an outer arm's pins pass the inner arm, before the pins are made
  kPiece = 128,    ///< any other piece of the hinge
  kStop = 256,     ///< a stop as it is drawn, with fine chords, and …
  kStopped = 512,  ///< … what it is there to meet
};

/// All parts of all bodies that may meet: case, lid, what stands around, and as much of the hinge
/// as is known. Parts are shared, so that copies are cheap and a box is shaped once.
class Assembly {
 public:
  struct Registered {
    PartKind kind = PartKind::kCase;
    Member member = Member::kNone;
    std::optional<Body> joined;  ///< the moving body that it runs in or is there to meet
    bool holds_joints = false;   ///< an arm or the sheet of a lid plate: what is joined runs in it
    std::shared_ptr<const PartTree> shape;
  };

  /// All of one body.
  void Add(PartKind kind, Member member, std::vector<Part> parts);
  void Add(PartKind kind, Member member, Part part) {
    Add(kind, member, std::vector<Part>{std::move(part)});
  }
  void Add(Registered part) { parts_.push_back(std::move(part)); }
  /// Looks once at how lid and case stand when shut, for gaps kept up to `cap_mm`: every motion
  /// that starts shut begins with that.
  void LookAtShut(double cap_mm);
  /// What LookAtShut saw of this pair; nothing if it was not asked for with this cap.
  std::shared_ptr<const ShutPair> ShutOf(const PartPair& pair, double cap_mm) const;
  /// Keeps only the first `count` parts.
  void Truncate(std::size_t count) { parts_.resize(count); }

  std::size_t size() const { return parts_.size(); }
  const std::vector<Registered>& parts() const { return parts_; }
  /// The shapes of one kind, for other questions than those of the rules.
  std::vector<const PartTree*> Shapes(PartKind kind) const;

 private:
  std::vector<Registered> parts_;
  std::vector<std::shared_ptr<const ShutPair>> shut_;
};

/// May two parts be in one place: those of one body, a pin or bushing and the arm on it, and what
/// is there to meet the case and the case?
bool MayTouch(const Assembly::Registered& a, const Assembly::Registered& b);

}  // namespace lidwright
