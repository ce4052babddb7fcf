// SPDX-License-Identifier: Apache-2.0
#include "form.h"

#include <algorithm>
#include <cmath>

#include "lidwright/arms/hardware.h"
#include "lidwright/base/numbers.h"
#include "lidwright/job/length.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/write_job.h"

namespace lidwright {
namespace {

FormPart TheRest(const std::vector<FormPart>& parts) {
  FormPart rest{"All other keys", {}, false};
  for (const KeyRow& row : JobKeyRows()) {
    if (!IsField(row) || row.key == "format") continue;
    const bool there = std::any_of(parts.begin(), parts.end(), [&](const FormPart& part) {
      return std::find(part.keys.begin(), part.keys.end(), row.key) != part.keys.end();
    });
    if (!there) rest.keys.push_back(row.key);
  }
  return rest;
}

}  // namespace

Json PlainBox() {
  return Json::parse(R"({"name": "", "units": "mm",
    "case": {"width": 320, "depth": 210, "height": 120, "wall": 12},
    "lid": {"rim": 14, "crown": 34}})");
}

const std::vector<FormPart>& FormParts() {
  static const std::vector<FormPart> kParts = [] {
    std::vector<FormPart> parts{
        {"The box", {"name", "units"}},
        {"Case",
         {"case.width", "case.depth", "case.height", "case.wall", "case.back_bow", "case.front_bow",
          "case.rim_arch"}},
        {"Lid", {"lid.rim", "lid.crown", "lid.crown_at_ends", "lid.wall", "lid.top"}},
        {"Swing", {"swing.open_deg", "swing.gap"}},
        {"Room", {"room.behind", "room.above", "room.open_behind_x", "room.bench_below"}},
        {"Hinge", {"arms.width", "arms.thickness", "arms.material", "arms.gap", "bay.width"}},
        {"Wood and tools", {"loads.wood", "shop.cutter", "shop.grid", "shop.paper"}},
    };
    parts.push_back(TheRest(parts));
    return parts;
  }();
  return kParts;
}

bool IsField(const KeyRow& row) {
  if (row.key.find('[') != std::string::npos) return false;
  if (std::count(row.key.begin(), row.key.end(), '.') > 1) return false;
  switch (row.kind) {
    case KeyKind::kText:
    case KeyKind::kWord:
    case KeyKind::kLength:
    case KeyKind::kAngle:
    case KeyKind::kShare:
    case KeyKind::kCount:
    case KeyKind::kFlag:
      return true;
    default:
      return false;
  }
}

std::string AsReaderTakesIt(const KeyRow& row, const std::string& typed) {
  std::string text = Trimmed(typed, " \t\r\n");
  const bool angle = row.kind == KeyKind::kAngle;
  if (!angle && row.kind != KeyKind::kLength && row.kind != KeyKind::kShare) return typed;
  bool changed = false;
  for (const std::string sign : {"\u00b0", "degrees", "degree", "deg"}) {
    if (!angle || text.size() <= sign.size()) continue;
    if (text.compare(text.size() - sign.size(), sign.size(), sign) != 0) continue;
    text = Trimmed(text.substr(0, text.size() - sign.size()), " \t");
    changed = true;
  }
  const std::size_t comma = text.find(',');
  const auto digits = [&](std::size_t from) {
    std::size_t end = from;
    while (end < text.size() && text[end] >= '0' && text[end] <= '9') ++end;
    return end - from;
  };
  // Three digits behind a comma may be thousands, but for those of "0,125".
  if (comma != std::string::npos && comma > 0 && digits(comma + 1) > 0 &&
      (digits(comma + 1) != 3 || text.substr(0, comma) == "0") &&
      text.find_first_of(",./", comma + 1) == std::string::npos &&
      text.find_first_not_of("+-0123456789") == comma) {
    text[comma] = '.';
    changed = true;
  }
  return changed ? text : typed;
}

namespace {

// Steps that lengths are put on in another unit, as session/form.h says.
constexpr double kPerInch = 1e4, kPerMm = 1e2, kPerUnitOfOutlines = 1e6;

Json Number(double value) {
  if (value == std::floor(value) && std::abs(value) < 1e15) return static_cast<long long>(value);
  return value;
}

// A length alone: bare as a number or as text.
Json Converted(const Json& value, bool to_inches) {
  const double old_unit = to_inches ? 1.0 : kMmPerInch;
  double mm = 0.0;
  if (value.is_number()) {
    mm = value.get<double>() * old_unit;
  } else if (value.is_string()) {
    const std::string text = value.get<std::string>();
    const std::optional<double> bare = ReadLength_mm(text, old_unit);
    if (!bare || ReadLength_mm(text, kUnset)) return value;  // no length, or one with its unit
    mm = *bare;
  } else {
    return value;
  }
  if (!to_inches) return Number(std::round(mm * kPerMm) / kPerMm);
  const double inches = std::round(mm / kMmPerInch * kPerInch) / kPerInch;
  const bool fraction = inches != std::round(inches) && OffSixtyfourth(mm) * kPerInch <= 64.0;
  return fraction ? Json(InchFraction(mm)) : Number(inches);
}

// Points however deep: x and y of each, not the bulge of an outline's edges.
Json ConvertedPoints(Json points, double factor) {
  if (!points.is_array()) return points;
  for (std::size_t i = 0; i < points.size(); ++i) {
    Json& one = points[i];
    if (one.is_array()) {
      one = ConvertedPoints(std::move(one), factor);
    } else if (one.is_number() && i < 2) {
      one =
          Number(std::round(one.get<double>() * factor * kPerUnitOfOutlines) / kPerUnitOfOutlines);
    } else if (i < 2) {
      one = Converted(one, factor < 1.0);
    }
  }
  return points;
}

void Convert(Json* holder, const std::string& path, const KeyRow& row, bool to_inches) {
  if (!holder->is_object()) return;
  const std::size_t dot = path.find('.');
  std::string name = path.substr(0, dot);
  const bool list = name.size() > 2 && name.substr(name.size() - 2) == "[]";
  if (list) name.resize(name.size() - 2);
  const auto found = holder->find(name);
  if (found == holder->end()) return;
  if (dot == std::string::npos) {
    *found = row.kind == KeyKind::kLength
                 ? Converted(*found, to_inches)
                 : ConvertedPoints(*found, to_inches ? 1.0 / kMmPerInch : kMmPerInch);
    return;
  }
  const std::string rest = path.substr(dot + 1);
  if (!list) return Convert(&*found, rest, row, to_inches);
  for (Json& one : *found) Convert(&one, rest, row, to_inches);
}

}  // namespace

Json InOtherUnit(const Json& tree, bool to_inches) {
  Json converted = tree;
  for (const KeyRow& row : JobKeyRows()) {
    switch (row.kind) {
      case KeyKind::kLength:
      case KeyKind::kPoint:
      case KeyKind::kZone:
      case KeyKind::kPoints:
      case KeyKind::kRings:
      case KeyKind::kOutline:
        Convert(&converted, row.key, row, to_inches);
        break;
      default:
        break;
    }
  }
  return converted;
}

Json StandsFor(const Job& job) {
  const Json tree = Json::parse(WriteOpenJob(job));
  Json stands = Json::object();
  for (const FormPart& part : FormParts()) {
    for (const std::string& key : part.keys) {
      const std::string text = TypedText(tree, key);
      const std::optional<double> number = PlainNumber(text);
      if (!text.empty()) stands[key] = number ? Text(*number, 4) : text;
    }
  }
  const OpenSizes& open = job.arms.open;
  const std::pair<const char*, bool> sizes[] = {{"arms.material", open.material},
                                                {"arms.thickness", open.thickness},
                                                {"arms.width", open.width},
                                                {"arms.bushing", open.bushing},
                                                {"arms.eye", open.eye}};
  for (const auto& [key, is_open] : sizes) {
    if (is_open) stands[key] = "chosen";
  }
  return stands;
}

FormReading ReadForm(const Json& tree) {
  JobReading read =
      ReadJob(tree.dump(-1, ' ', false, Json::error_handler_t::replace), std::string());
  FormReading reading{std::move(read.job), std::move(read.problems)};
  if (!reading.job) return reading;
  reading.solid = std::make_shared<const Solid>(MakeSolid(*reading.job));
  reading.problems = FaultsBeforeWork(*reading.job, *reading.solid);
  return reading;
}

}  // namespace lidwright
