// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/names.h"

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

std::string PivotOf(Member pin) {
  return pin == Member::kLidPinB || pin == Member::kCasePinB ? "B" : "A";
}

}  // namespace

std::string NameOf(Member member) {
  switch (member) {
    case Member::kNone:
      return "";
    case Member::kCase:
      return "case";
    case Member::kLid:
      return "lid";
    case Member::kAround:
      return "surroundings";
    case Member::kArmA:
      return "arm A";
    case Member::kArmB:
      return "arm B";
    case Member::kCasePinA:
      return "case pin of arm A";
    case Member::kCasePinB:
      return "case pin of arm B";
    case Member::kLidPinA:
      return "lid pin of arm A";
    case Member::kLidPinB:
      return "lid pin of arm B";
    case Member::kCasePlate:
      return "case plate";
    case Member::kLidPlate:
      return "lid plate";
    case Member::kStop:
      return "stop";
    case Member::kStay:
      return "stay";
    case Member::kJig:
      return "jig";
  }
  return "";
}

std::string PivotNameOf(Member pin) {
  std::string name = NameOf(pin);
  const std::size_t at = name.find("pin");
  return at == std::string::npos ? name : name.replace(at, 3, "pivot");
}

std::string NameOf(const Verdict& v) {
  const std::string of = NameOf(v.of);
  switch (v.what) {
    case Requirement::kOpeningAngle:
      return "opening angle";
    case Requirement::kFirstMotion:
      return "first motion";
    case Requirement::kLidToCase:
      return "lid to case";
    case Requirement::kLidToRoom:
      return "lid to wall and ceiling";
    case Requirement::kLidToBench:
      return "lid to bench";
    case Requirement::kLidToContents:
      return "lid to contents";
    case Requirement::kPose:
      return "pose at " + Text(v.angle_rad.value_or(0.0) * kDegPerRad, 1) + " deg";
    case Requirement::kOpenLidForemost:
      return "open lid's foremost x";
    case Requirement::kMouthFree:
      return "mouth left free";
    case Requirement::kPlateReaches:
      return "plate to lid pivot " + PivotOf(v.of);
    case Requirement::kPinInWood: {
      const bool lid = v.of == Member::kLidPinA || v.of == Member::kLidPinB;
      return of + " straight in the " + (lid ? "lid" : "case") + "'s end wall";
    }
    case Requirement::kArmRouted:
      return of;
    case Requirement::kArmToCase:
      return of + " to case";
    case Requirement::kArmToLid:
      return of + " to lid";
    case Requirement::kArmToAround:
      return of + " to contents and surroundings";
    case Requirement::kArmToArm:
      return "arm A to arm B";
    case Requirement::kArmToPins:
      return of + " to pins of arm " + (v.of == Member::kArmA ? "B" : "A");
    case Requirement::kLayersInBay:
      return "room left for the layers in the bay";
    case Requirement::kArmRoundHoles:
      return of + " round its holes";
    case Requirement::kPartToBox:
      return of + " to case, lid and surroundings";
    case Requirement::kPartToParts:
      return of + " to the other parts";
    case Requirement::kStopMeets:
      return "stop meets " + v.second + " when open";
    case Requirement::kStopFree:
      return "stop to " + v.second + " until half a degree before open";
    case Requirement::kStayTaut:
      return "stay slack until half a degree before open";
    case Requirement::kStayFree:
      return "taut stay to wood and moving parts";
    case Requirement::kLidRests:
      return "shut lid rests on the rim";
    case Requirement::kPartMade:
      return "part that could not be made";
    case Requirement::kHoldsInUse:
      return "strength in use";
    case Requirement::kHoldsLeaned:
      return "strength when leaned on, open";
  }
  return "";
}

std::string NameOf(Requirement what, Member of) {
  Verdict verdict;
  verdict.what = what;
  verdict.of = of;
  return NameOf(verdict);
}

}  // namespace lidwright
