// SPDX-License-Identifier: Apache-2.0
#include "lidwright/certify/gap_rules.h"

#include <array>

#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

constexpr PartKinds Kinds(PartKind kind) {
  return static_cast<PartKinds>(kind);
}
constexpr PartKinds kCase = Kinds(PartKind::kCase), kLid = Kinds(PartKind::kLid);
constexpr PartKinds kWall = Kinds(PartKind::kWall), kBench = Kinds(PartKind::kBench);
constexpr PartKinds kContents = Kinds(PartKind::kContents), kArm = Kinds(PartKind::kArm);
constexpr PartKinds kPinToBe = Kinds(PartKind::kPinToBe), kPiece = Kinds(PartKind::kPiece);
constexpr PartKinds kAround = kWall | kBench | kContents;

constexpr std::array kRules{
    GapRule{Requirement::kFirstMotion, Stage::kLid, kLid, kCase, false, Stretch::kFirst,
            GapLimit::kSwingGap, 0.0,
            "wood lies on wood when shut: it must part at once and not come nearer (R4)"},
    GapRule{Requirement::kLidToCase, Stage::kLid, kLid, kCase, false, Stretch::kMoving,
            GapLimit::kSwingGap, 0.0, "lid and case must not rub, for their whole width (R1, R5)"},
    GapRule{Requirement::kLidToRoom, Stage::kLid, kLid, kWall, false, Stretch::kWhole,
            GapLimit::kNothing, kLimitSlack_mm, "the room given is what the lid may use up"},
    GapRule{Requirement::kLidToBench, Stage::kLid, kLid, kBench, false, Stretch::kWhole,
            GapLimit::kBenchGap, 0.0, "the open lid hangs behind the box, over what it stands on"},
    GapRule{Requirement::kLidToContents, Stage::kLid, kLid, kContents, false, Stretch::kWhole,
            GapLimit::kNothing, kLimitSlack_mm, "contents are given with the room they need"},
    GapRule{Requirement::kArmToCase, Stage::kArms, kArm, kCase, true, Stretch::kWhole,
            GapLimit::kArmsGap, 0.0, "arms run free"},
    GapRule{Requirement::kArmToLid, Stage::kArms, kArm, kLid, true, Stretch::kWhole,
            GapLimit::kArmsGap, 0.0, "arms run free"},
    GapRule{Requirement::kArmToAround, Stage::kArms, kArm, kAround, true, Stretch::kWhole,
            GapLimit::kArmsGap, 0.0, "arms run free"},
    GapRule{Requirement::kArmToArm, Stage::kArms, kArm, kArm, false, Stretch::kWhole,
            GapLimit::kArmsGap, 0.0, "both arms lie on one layer"},
    GapRule{Requirement::kArmToPins, Stage::kArms, kArm, kPinToBe, true, Stretch::kWhole,
            GapLimit::kArmsGap, 0.0, "the outer arm's pins pass the inner arm"},
    GapRule{Requirement::kPartToBox, Stage::kParts, kPiece, kCase | kLid | kAround, true,
            Stretch::kWhole, GapLimit::kArmsGap, 0.0, "plates, pins and stop run free as well"},
    GapRule{Requirement::kPartToParts, Stage::kParts, kArm | kPiece, kArm | kPiece, true,
            Stretch::kWhole, GapLimit::kArmsGap, 0.0, "and keep off each other"},
    GapRule{Requirement::kStopFree, Stage::kStop, Kinds(PartKind::kStop), Kinds(PartKind::kStopped),
            true, Stretch::kToStop, GapLimit::kApart, 0.0,
            "a stop that is met before the lid is open stops it there"},
};

}  // namespace

std::span<const GapRule> GapRules() {
  return kRules;
}

bool Concerns(const GapRule& rule, const Assembly::Registered& first,
              const Assembly::Registered& second) {
  const bool named =
      (rule.first & Kinds(first.kind)) != 0 && (rule.second & Kinds(second.kind)) != 0;
  if (!named || !Overlap(*first.shape, *second.shape)) return false;
  // Two arms are judged as such among arms.
  if (rule.what == Requirement::kPartToParts && first.kind == PartKind::kArm &&
      second.kind == PartKind::kArm) {
    return false;
  }
  // What stands with the case needs no gap from what stands around it: one body.
  return !MayTouch(first, second);
}

}  // namespace lidwright
