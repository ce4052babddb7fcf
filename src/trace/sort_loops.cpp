// SPDX-License-Identifier: Apache-2.0
#include "trace/sort_loops.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <set>

#include "lidwright/base/numbers.h"
#include "lidwright/base/problem.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "trace/regions.h"

namespace lidwright {
namespace {

enum class Owner { kCase, kLid };

constexpr std::size_t kMostLoops = 500;  // told apart by place: nesting is quadratic in it

// Whose a name makes it: "Lid outline" and "lid_2" are the lid's, "lidded" is nobody's.
std::optional<Owner> OwnerIn(const std::string& name) {
  std::string word;
  for (std::size_t i = 0; i <= name.size(); ++i) {
    const char c = i < name.size() ? name[i] : ' ';
    if (std::isalpha(static_cast<unsigned char>(c))) {
      word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
      continue;
    }
    if (word == "case") return Owner::kCase;
    if (word == "lid") return Owner::kLid;
    word.clear();
  }
  return std::nullopt;
}

std::string Lower(std::string name) {
  for (char& c : name) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return name;
}

std::optional<Owner> OwnerOf(const FlatPath& path, const TraceOptions& options) {
  for (const std::string& name : path.names) {
    if (!options.case_name.empty() && Lower(name) == Lower(options.case_name)) return Owner::kCase;
    if (!options.lid_name.empty() && Lower(name) == Lower(options.lid_name)) return Owner::kLid;
    if (const std::optional<Owner> owner = OwnerIn(name)) return owner;
  }
  return std::nullopt;
}

std::string Described(const DrawnLoop& loop) {
  const Rect2 box = Bounds(loop.ring);
  const std::string line = loop.line > 0 ? " (line " + std::to_string(loop.line) + ")" : "";
  return loop.label + line + " from " + PlaceText(box.low) + " to " + PlaceText(box.high);
}

// Is the first loop inside the second? Loops of a net share edges, so a point inside is asked.
bool Inside(const DrawnLoop& inner, const DrawnLoop& outer) {
  const Rect2 a = Bounds(inner.ring), b = Bounds(outer.ring);
  if ((a.low.array() < b.low.array() - kTouch_mm).any() ||
      (a.high.array() > b.high.array() + kTouch_mm).any()) {
    return false;
  }
  // Most of its vertices decide: a few may lie on the other's edge.
  std::size_t in = 0;
  for (const Vec2& p : inner.ring) in += Contains({outer.ring}, p);
  return 2 * in > inner.ring.size() &&
         std::abs(SignedArea(inner.ring)) < std::abs(SignedArea(outer.ring));
}

// A rectangle with everything else inside: a sheet's border.
bool IsBorder(const DrawnLoop& loop, const std::vector<DrawnLoop>& loops) {
  const Rect2 box = Bounds(loop.ring);
  const Vec2 size = box.high - box.low;
  if (std::abs(SignedArea(loop.ring)) < 0.999 * size.x() * size.y()) return false;
  for (const DrawnLoop& other : loops) {
    if (&other != &loop && !Inside(other, loop)) return false;
  }
  return loops.size() > 2;
}

class Sorter {
 public:
  Sorter(std::vector<FlatPath> paths, const TraceOptions& options) : options_(options) {
    FindName("--case", options.case_name, paths);
    FindName("--lid", options.lid_name, paths);
    for (FlatPath& path : paths) {
      const std::optional<Owner> owner = OwnerOf(path, options);
      auto& group = !owner ? unnamed_ : *owner == Owner::kCase ? case_ : lid_;
      group.push_back(std::move(path));
    }
  }

  SortedLoops Sort() {
    if (!out_.problems.empty()) return std::move(out_);
    Joined of_case = Join(std::move(case_), true), of_lid = Join(std::move(lid_), true);
    Joined rest = Join(std::move(unnamed_), false);
    if (of_case.loops.empty() && of_lid.loops.empty()) {
      SortByPlace(&rest);
    } else {
      out_.case_loops = NamedLoops(&of_case, "case");
      out_.lid_loops = NamedLoops(&of_lid, "lid");
      // Outlines without a name: holes of what they are in, or the one body that has no name.
      TakeUnnamed(&rest, &out_.case_loops, &out_.lid_loops);
    }
    WeighOpenEnds({&of_case, &of_lid, &rest});
    return std::move(out_);
  }

 private:
  // A name that was asked for and is not there is a slip, whatever else could be found.
  void FindName(const std::string& option, const std::string& wanted,
                const std::vector<FlatPath>& paths) {
    if (wanted.empty()) return;
    std::set<std::string> names;
    for (const FlatPath& path : paths) {
      for (const std::string& name : path.names) {
        if (Lower(name) == Lower(wanted)) return;
        if (names.size() < kMostLoops) names.insert(name);
      }
    }
    const std::string near = Nearest(wanted, {names.begin(), names.end()});
    Complain(option + " " + wanted + ": nothing drawn has this layer, group or id",
             near.empty() ? "" : "did you mean " + near + "?");
  }

  Joined Join(std::vector<FlatPath> paths, bool boards) {
    Joined joined = JoinPaths(std::move(paths), options_.gap_limit_mm, options_.file_name, boards);
    out_.notes.insert(out_.notes.end(), joined.notes.begin(), joined.notes.end());
    return joined;
  }

  // Of a net that all belongs to one body each field counts as a board: its lines are edges of
  // boards and glue lines, drawn once or twice, that need not end where others cross or touch them.
  std::vector<DrawnLoop> NamedLoops(Joined* joined, const std::string& body) {
    if (joined->net_lines.empty()) return std::move(joined->loops);
    std::vector<DrawnLoop> loops;
    std::vector<std::vector<Vec2>> lines;
    double chord_error_mm = 0.0;
    for (FlatPath& path : joined->net_lines) {
      chord_error_mm = std::max(chord_error_mm, path.chord_error_mm);
      lines.push_back(std::move(path.points));
    }
    for (DrawnLoop& loop : joined->loops) {
      if (loop.drawn_closed) loops.push_back(std::move(loop));
    }
    const FlatPath& first = joined->net_lines[0];
    const std::vector<Ring> fields = FieldsOf(lines);
    for (const Ring& field : fields) {
      loops.push_back({field, first.label, 0, true, false, chord_error_mm});
    }
    out_.notes.push_back(body + ": lines that meet three at a time enclose " +
                         std::to_string(fields.size()) + " fields, all taken as wood");
    return loops;
  }

  void TakeUnnamed(Joined* rest, std::vector<DrawnLoop>* case_loops,
                   std::vector<DrawnLoop>* lid_loops) {
    std::vector<DrawnLoop> others;
    for (DrawnLoop& loop : rest->loops) {
      const auto holds = [&](const DrawnLoop& outer) { return Inside(loop, outer); };
      if (std::any_of(case_loops->begin(), case_loops->end(), holds)) {
        case_loops->push_back(std::move(loop));
      } else if (std::any_of(lid_loops->begin(), lid_loops->end(), holds)) {
        lid_loops->push_back(std::move(loop));
      } else {
        others.push_back(std::move(loop));
      }
    }
    std::vector<DrawnLoop>* lacking = case_loops->empty()  ? case_loops
                                      : lid_loops->empty() ? lid_loops
                                                           : nullptr;
    if (lacking != nullptr && others.size() == 1) {
      out_.notes.push_back("taken as the " + std::string(lacking == case_loops ? "case" : "lid") +
                           ", the other one having a name: " + Described(others[0]));
      lacking->push_back(std::move(others[0]));
      others.clear();
    }
    for (const DrawnLoop& loop : others) {
      out_.notes.push_back("left out, being neither in case nor in lid: " + Described(loop));
    }
  }

  void SortByPlace(Joined* joined) {
    std::vector<DrawnLoop> loops = std::move(joined->loops);
    for (std::size_t i = 0; i < loops.size();) {
      if (!IsBorder(loops[i], loops)) {
        ++i;
        continue;
      }
      out_.notes.push_back("taken as the sheet's border: " + Described(loops[i]));
      loops.erase(loops.begin() + static_cast<std::ptrdiff_t>(i));
      i = 0;  // a border may be drawn with two lines
    }
    if (loops.size() > kMostLoops) {
      Complain("there are " + std::to_string(loops.size()) +
                   " closed outlines, too many to tell case and lid by their place",
               "put them on layers or in groups named case and lid");
      return;
    }
    std::vector<std::size_t> outer;
    std::vector<std::optional<std::size_t>> within(loops.size());
    for (std::size_t i = 0; i < loops.size(); ++i) {
      for (std::size_t j = 0; j < loops.size(); ++j) {
        if (i != j && Inside(loops[i], loops[j]) &&
            (!within[i] || Inside(loops[*within[i]], loops[j]))) {
          within[i] = j;  // the outermost
        }
      }
      if (!within[i]) outer.push_back(i);
    }
    if (outer.size() < 2) return;
    const auto low = [&](std::size_t i) { return Bounds(loops[i].ring).low.y(); };
    const auto high = [&](std::size_t i) { return Bounds(loops[i].ring).high.y(); };
    const std::size_t lowest = *std::min_element(outer.begin(), outer.end(),
                                                 [&](auto i, auto j) { return low(i) < low(j); });
    const std::size_t highest = *std::max_element(
        outer.begin(), outer.end(), [&](auto i, auto j) { return high(i) < high(j); });
    std::vector<std::size_t> extra;
    for (const std::size_t i : outer) {
      if (i == lowest || i == highest) continue;
      if (loops[i].from_net) {
        out_.notes.push_back("left out, enclosed between other lines: " + Described(loops[i]));
      } else {
        extra.push_back(i);
      }
    }
    if (!extra.empty() || lowest == highest) {
      std::string list;
      for (std::size_t k = 0; k < std::min<std::size_t>(outer.size(), 6); ++k) {
        list += (k == 0 ? "" : "; ") + Described(loops[outer[k]]);
      }
      if (outer.size() > 6) list += "; and " + std::to_string(outer.size() - 6) + " more";
      Complain("it is not clear which outline is the case and which the lid: " + list,
               "put them on layers or in groups named case and lid");
      return;
    }
    for (std::size_t i = 0; i < loops.size(); ++i) {
      const std::size_t root = within[i].value_or(i);
      if (root == lowest) out_.case_loops.push_back(std::move(loops[i]));
      if (root == highest) out_.lid_loops.push_back(std::move(loops[i]));
    }
    out_.notes.push_back("told apart by place: the lower outline is the case, the upper the lid");
  }

  // Open lines do no harm where both outlines were found; else they are the reason why not.
  void WeighOpenEnds(std::initializer_list<const Joined*> groups) {
    const bool found = !out_.case_loops.empty() && !out_.lid_loops.empty();
    for (const Joined* group : groups) {
      for (const Problem& end : group->open_ends) {
        if (!found) out_.problems.push_back(end);
        if (!found || out_.notes.size() >= kMostProblems) continue;
        out_.notes.push_back("left out, not closed: " +
                             Describe({"", 0, end.place, "", end.rule, end.hint}));
      }
    }
    if (found || !out_.problems.empty()) return;
    const char* lacking = !out_.case_loops.empty()  ? "lid"
                          : !out_.lid_loops.empty() ? "case"
                                                    : "case and lid";
    Complain(std::string("there is no closed outline for ") + lacking,
             "case and lid must be two closed outlines");
  }

  void Complain(const std::string& rule, const std::string& hint) {
    out_.problems.push_back({options_.file_name, 0, "", "", rule, hint});
  }

  const TraceOptions& options_;
  std::vector<FlatPath> case_, lid_, unnamed_;
  SortedLoops out_;
};

}  // namespace

SortedLoops SortLoops(std::vector<FlatPath> paths, const TraceOptions& options) {
  return Sorter(std::move(paths), options).Sort();
}

}  // namespace lidwright
