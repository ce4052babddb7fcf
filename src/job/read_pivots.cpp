// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/read_pivots.h"

#include "job/json_tree.h"
#include "job/key_reader.h"
#include "job/keys.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

constexpr double kFar_mm = 5000.0;

struct ArmDraft {
  Outline outline;
  unsigned layer = 0;
  double hole_mm = kUnset;
};

struct HingeDraft {
  std::string format, units;
  std::optional<Vec2> case_a, case_b, lid_a, lid_b;
  ArmDraft arm_a, arm_b;
};

void AddArmKeys(const std::string& path, ArmDraft* arm, std::vector<Key>* keys) {
  keys->push_back({path, Kind::kSection, 0, 0, {}, LeftOut(""), "One arm"});
  keys->push_back(
      {path + ".layer", Kind::kCount, 0, 1, &arm->layer, Required(), "Layer of the arm, 0 or 1"});
  keys->push_back({path + ".outline", Kind::kOutline, -kFar_mm, kFar_mm, &arm->outline, Required(),
                   "Outline [[x, y, bulge], ...] with the lid shut"});
  keys->push_back({path + ".hole_mm", Kind::kLength, 0.1, 100, &arm->hole_mm, LeftOut("unknown"),
                   "Diameter of its holes"});
}

std::vector<Key> HingeKeys(HingeDraft* d) {
  std::vector<Key> keys = {
      {"format", Kind::kText, 0, 100, &d->format, LeftOut("none"), "Who wrote the file"},
      {"units", Kind::kUnits, 0, 0, &d->units, Required(), "\"mm\" or \"in\""},
      {"pivots", Kind::kSection, 0, 0, {}, Required(), "case_a, case_b, lid_a and lid_b"},
      {"pivots.case_a", Kind::kPoint, -kFar_mm, kFar_mm, &d->case_a, Required(),
       "Case pivot of arm A, [x, y]"},
      {"pivots.case_b", Kind::kPoint, -kFar_mm, kFar_mm, &d->case_b, Required(),
       "Case pivot of arm B, [x, y]"},
      {"pivots.lid_a", Kind::kPoint, -kFar_mm, kFar_mm, &d->lid_a, Required(),
       "Lid pivot of arm A with the lid shut, [x, y]"},
      {"pivots.lid_b", Kind::kPoint, -kFar_mm, kFar_mm, &d->lid_b, Required(),
       "Lid pivot of arm B with the lid shut, [x, y]"},
      {"arms", Kind::kSection, 0, 0, {}, LeftOut("none"), "The arms, a and b"},
  };
  AddArmKeys("arms.a", &d->arm_a, &keys);
  AddArmKeys("arms.b", &d->arm_b, &keys);
  KeepEarlierNames({{"pivots.case_a", "ground_a"}, {"pivots.case_b", "ground_b"}}, &keys);
  return keys;
}

void CheckApart(const char* first, const std::optional<Vec2>& a, const char* second,
                const std::optional<Vec2>& b, KeyReader* reader) {
  if (!a || !b || (*a - *b).norm() > kSamePivot_mm) return;
  reader->Complain(second, std::string("lies on ") + first);
}

std::optional<GivenArm> TakeArm(const ArmDraft& draft) {
  if (draft.outline.vertices.empty()) return std::nullopt;
  return GivenArm{draft.outline, static_cast<int>(draft.layer), draft.hole_mm};
}

}  // namespace

PivotReading ReadPivots(const std::string& text, const std::string& file_name) {
  JsonReading json = ReadJson(text, file_name);
  if (!json.root) return {std::nullopt, std::move(json.problems)};
  const JsonValue& root = *json.root;

  HingeDraft draft;
  KeyReader reader(file_name, text, HingeKeys(&draft));
  if (const JsonValue* units = root.Find("units")) {
    if (units->text == "in") reader.SetUnit(kMmPerInch);
    if (units->text == "mm") reader.SetUnit(1.0);
  }
  const JsonValue* format = root.Find("format");
  if (format != nullptr && format->text == kHingeFormat) reader.PassOverUnknownKeys();
  reader.ReadObject(root, "", "");
  if (format != nullptr && format->type == JsonValue::Type::kText && format->text != kHingeFormat) {
    reader.Complain("format", "this program reads \"" + std::string(kHingeFormat) + "\"",
                    "leave the key out of a file of your own");
  }
  CheckApart("pivots.case_a", draft.case_a, "pivots.case_b", draft.case_b, &reader);
  CheckApart("pivots.lid_a", draft.lid_a, "pivots.lid_b", draft.lid_b, &reader);
  CheckApart("pivots.case_a", draft.case_a, "pivots.lid_a", draft.lid_a, &reader);
  CheckApart("pivots.case_b", draft.case_b, "pivots.lid_b", draft.lid_b, &reader);

  Problems problems = reader.TakeProblems(std::move(json.problems));
  if (!problems.empty()) return {std::nullopt, std::move(problems)};
  return {GivenHinge{*draft.case_a, *draft.case_b, *draft.lid_a, *draft.lid_b, TakeArm(draft.arm_a),
                     TakeArm(draft.arm_b)},
          {}};
}

}  // namespace lidwright
