// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/read_pivots.h"

#include <cmath>

#include "job/job_keys.h"
#include "job/json_tree.h"
#include "job/key_reader.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/job/read_job.h"

namespace lidwright {
namespace {

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

using enum KeyKind;

std::vector<Key> ArmKeysAt(const std::string& path, ArmDraft* arm) {
  return {
      Section(path, LeftOut(""), "One arm"),
      {path + ".layer", kCount, 0, 1, &arm->layer, Required(), "Layer of the arm, 0 or 1"},
      {path + ".outline", kOutline, -kFar_mm, kFar_mm, &arm->outline, Required(),
       "Outline [[x, y, bulge], ...] with the lid shut"},
      {path + ".hole_mm", kLength, 0.1, 100, &arm->hole_mm, LeftOut("unknown"),
       "Diameter of its holes"},
  };
}

std::vector<Key> HingeKeys(HingeDraft* d) {
  std::vector<Key> keys = {
      {"format", kText, 0, 100, &d->format, LeftOut("none"), "Who wrote the file"},
      Key{"units", kWord, 0, 0, &d->units, Required(), "\"mm\" or \"in\""}.Of(UnitChoices()),
      Section("pivots", Required(), "case_a, case_b, lid_a and lid_b"),
      Key{"pivots.case_a", kPoint, -kFar_mm, kFar_mm, &d->case_a, Required(),
          "Case pivot of arm A, [x, y]"}
          .Once("ground_a"),
      Key{"pivots.case_b", kPoint, -kFar_mm, kFar_mm, &d->case_b, Required(),
          "Case pivot of arm B, [x, y]"}
          .Once("ground_b"),
      {"pivots.lid_a", kPoint, -kFar_mm, kFar_mm, &d->lid_a, Required(),
       "Lid pivot of arm A with the lid shut, [x, y]"},
      {"pivots.lid_b", kPoint, -kFar_mm, kFar_mm, &d->lid_b, Required(),
       "Lid pivot of arm B with the lid shut, [x, y]"},
      Section("arms", LeftOut("none"), "The arms, a and b"),
  };
  Append(ArmKeysAt("arms.a", &d->arm_a), &keys);
  Append(ArmKeysAt("arms.b", &d->arm_b), &keys);
  return keys;
}

void CheckApart(const char* first, const std::optional<Vec2>& a, const char* second,
                const std::optional<Vec2>& b, Findings* findings) {
  if (!a || !b || (*a - *b).norm() > kSamePivot_mm) return;
  findings->Complain(second, std::string("lies on ") + first);
}

std::optional<GivenArm> TakeArm(const ArmDraft& draft) {
  if (draft.outline.vertices.empty()) return std::nullopt;
  return GivenArm{draft.outline, static_cast<int>(draft.layer), draft.hole_mm, {}};
}

// The middle line that a written hinge file has of an arm, nothing if it is not whole.
std::vector<OutlineVertex> CentrelineOf(const JsonValue& root, const char* arm) {
  const JsonValue* at = &root;
  for (const char* key : {"arms", arm, "centreline"}) {
    at = at->Find(key);
    if (at == nullptr) return {};
  }
  std::vector<OutlineVertex> line;
  for (const JsonValue& point : at->items) {
    if (point.items.size() != 3) return {};
    for (const JsonValue& number : point.items) {
      const bool sane = number.type == JsonValue::Type::kNumber && std::isfinite(number.number) &&
                        std::abs(number.number) <= kFar_mm;
      if (!sane) return {};
    }
    line.push_back({{point.items[0].number, point.items[1].number}, point.items[2].number});
  }
  return line;
}

// The sizes in the job that a written hinge file repeats.
std::optional<MadeSizes> SizesOf(const JsonValue& root, const std::string& text,
                                 const std::string& file_name) {
  const JsonValue* job = root.Find("job");
  if (job == nullptr || job->type != JsonValue::Type::kObject) return std::nullopt;
  const JobReading reading = ReadJob(text.substr(job->begin, job->end - job->begin), file_name);
  if (!reading.job) return std::nullopt;
  return MadeSizes{reading.job->arms, reading.job->plates};
}

}  // namespace

PivotReading ReadPivots(const std::string& text, const std::string& file_name) {
  JsonReading json = ReadJson(text, file_name);
  if (!json.root) return {std::nullopt, std::move(json.problems)};
  const JsonValue& root = *json.root;

  Findings findings(file_name);
  if (!CheckFormat(root, text, kHingeFormat, &findings)) {
    return {std::nullopt, findings.TakeProblems()};
  }
  HingeDraft draft;
  const std::vector<Key> table = HingeKeys(&draft);
  KeyReader reader(text, table, &findings);
  TakeUnit(root, &findings);
  const JsonValue* format = root.Find("format");
  if (format != nullptr && format->type == JsonValue::Type::kText) reader.PassOverUnknownKeys();
  reader.ReadObject(root, "", "");
  CheckApart("pivots.case_a", draft.case_a, "pivots.case_b", draft.case_b, &findings);
  CheckApart("pivots.lid_a", draft.lid_a, "pivots.lid_b", draft.lid_b, &findings);
  CheckApart("pivots.case_a", draft.case_a, "pivots.lid_a", draft.lid_a, &findings);
  CheckApart("pivots.case_b", draft.case_b, "pivots.lid_b", draft.lid_b, &findings);

  Problems problems = findings.TakeProblems(std::move(json.problems));
  if (!problems.empty()) return {std::nullopt, std::move(problems)};
  GivenHinge hinge{*draft.case_a, *draft.case_b,        *draft.lid_a,
                   *draft.lid_b,  TakeArm(draft.arm_a), TakeArm(draft.arm_b)};
  if (format != nullptr && hinge.arm_a) hinge.arm_a->centreline = CentrelineOf(root, "a");
  if (format != nullptr && hinge.arm_b) hinge.arm_b->centreline = CentrelineOf(root, "b");
  return {hinge, {}, format != nullptr ? SizesOf(root, text, file_name) : std::nullopt};
}

}  // namespace lidwright
