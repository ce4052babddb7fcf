// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/choices.h"

#include <algorithm>
#include <array>
#include <string>

#include "lidwright/synthesis/search.h"

namespace lidwright {
namespace {

// [mm] Hinges shown side by side differ by this in some pivot.
constexpr double kShownApart_mm = 4.0;
// [–] What is best at something has at most this share of the others' best figure.
constexpr double kClearlyBetter = 0.97;

struct Aspect {
  const char* name;
  double (*of)(const Merit&);
};

const std::array<Aspect, 6> kAspects{{
    {"short arms", [](const Merit& m) { return m.arms; }},
    {"near the wall", [](const Merit& m) { return m.behind; }},
    {"light to lift", [](const Merit& m) { return m.lift; }},
    {"steady", [](const Merit& m) { return m.rattle + m.misfit; }},
    {"roomy inside", [](const Merit& m) { return m.hang; }},  // little hangs into the box
    {"strong", [](const Merit& m) { return m.strength; }},
}};

// Small letters, blanks for dashes; "all-round" keeps its own.
std::string Plain(const std::string& wanted) {
  std::string plain;
  for (const char c : wanted) {
    plain += c == '-' ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return plain == "all round" ? kAllRound : plain;
}

bool Whole(const Hinge& hinge) {
  return hinge.parts && hinge.parts->complete;
}

}  // namespace

std::vector<Choice> ChoicesAmong(const std::vector<const Hinge*>& hinges) {
  if (hinges.empty()) return {};
  std::vector<Choice> choices{{0, kAllRound}};
  const Hinge& first = *hinges.front();
  const double most = first.merit.Total() + kFarOff;
  for (const Aspect& aspect : kAspects) {
    std::size_t best = hinges.size();
    for (std::size_t i = 0; i < hinges.size(); ++i) {
      const Hinge& hinge = *hinges[i];
      if (!hinge.parts || !hinge.forces || hinge.merit.Total() > most ||
          Whole(hinge) < Whole(first) || Does(hinge) < Does(first)) {
        continue;
      }
      if (best == hinges.size() || aspect.of(hinge.merit) < aspect.of(hinges[best]->merit)) {
        best = i;
      }
    }
    const bool differs =
        best < hinges.size() &&
        std::all_of(choices.begin(), choices.end(), [&](const Choice& choice) {
          const Hinge& other = *hinges[choice.place];
          return Apart_mm(hinges[best]->pivots, other.pivots) >= kShownApart_mm &&
                 aspect.of(hinges[best]->merit) <= kClearlyBetter * aspect.of(other.merit);
        });
    if (differs) choices.push_back({best, aspect.name});
  }
  constexpr std::size_t kMost = 5;
  if (choices.size() > kMost) choices.resize(kMost);
  return choices;
}

std::vector<double (*)(const Merit&)> Aspects() {
  std::vector<double (*)(const Merit&)> all;
  for (const Aspect& aspect : kAspects) all.push_back(aspect.of);
  all.pop_back();  // strength is the arms' as well
  return all;
}

void KeepChoices(std::vector<Hinge>& hinges) {
  if (hinges.empty()) return;
  std::stable_partition(hinges.begin(), hinges.end(), [](const Hinge& h) { return Does(h); });
  const Hinge& first = hinges.front();
  const auto goes = [&](const Hinge& hinge) {
    if (Does(hinge) < Does(first) || hinge.character == kAllRound) return true;
    const auto aspect = std::find_if(kAspects.begin(), kAspects.end(),
                                     [&](const Aspect& a) { return hinge.character == a.name; });
    return aspect != kAspects.end() &&
           aspect->of(hinge.merit) > kClearlyBetter * aspect->of(first.merit);
  };
  hinges.erase(std::remove_if(hinges.begin() + 1, hinges.end(), goes), hinges.end());
  hinges.front().character = kAllRound;
}

bool Choose(Design& design, const std::string& wanted) {
  std::vector<Hinge>& hinges = design.hinges;
  for (std::size_t i = 0; i < hinges.size(); ++i) {
    if (Plain(wanted) != hinges[i].character && wanted != std::to_string(i + 1)) continue;
    std::rotate(hinges.begin(), hinges.begin() + static_cast<std::ptrdiff_t>(i),
                hinges.begin() + static_cast<std::ptrdiff_t>(i) + 1);
    return true;
  }
  return false;
}

}  // namespace lidwright
