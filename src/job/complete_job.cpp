// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/complete_job.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "job/check_value.h"
#include "job/finish_job.h"
#include "job/json_tree.h"
#include "job/written_value.h"
#include "lidwright/base/check.h"

namespace lidwright {
namespace {

// [bytes] Of a value in a problem, as the reader shows them.
constexpr std::size_t kShown_bytes = 40;

// Reads a job by values, as KeyReader reads one by its text: from the slots of one draft into those
// of another.
class Completer {
 public:
  Completer(const Job& wish, const std::vector<std::string>& given, const std::string& file_name)
      : from_(DraftOf(wish)), findings_(file_name) {
    from_table_ = JobKeys(&from_);
    said_ = {given.begin(), given.end()};
    said_.insert("units");
    draft_.has_stations = said_.count("stations") > 0 && !wish.stations.empty();
    table_ = JobKeys(&draft_);
    findings_.SetUnit(wish.inches ? kMmPerInch : 1.0);
  }

  JobReading Complete() {
    CheckPaths();
    findings_.Give("", 0, "");
    for (std::size_t k = 0; k < table_.size(); ++k) Take(k);
    FinishJob(table_, Items(), &draft_, &findings_);
    Problems problems = findings_.TakeProblems();
    if (!problems.empty()) return {std::nullopt, std::move(problems)};
    return {std::move(draft_.job), {}};
  }

 private:
  void CheckPaths() const {
    std::size_t known = 0;
    for (const Key& key : table_) known += !key.InList() && said_.count(key.path) > 0;
    LW_REQUIRE(known == said_.size(), known << " of " << said_.size() << " keys are known");
  }

  // Whether a file would say the key outside of lists, or something within the section.
  bool IsGiven(std::size_t k) const {
    const Key& from = from_table_[k];
    if (from.kind == KeyKind::kList) return said_.count(from.path) > 0 && from.load(0);
    if (from.kind != KeyKind::kSection) return said_.count(from.path) > 0 && IsSayable(from);
    for (std::size_t i = 0; i < table_.size(); ++i) {
      if (table_[i].Parent() == from.path && IsGiven(i)) return true;
    }
    return false;
  }

  // A file says neither what is unset nor that there is no limit.
  static bool IsSayable(const Key& from) {
    double* const* number = std::get_if<double*>(&from.slot);
    return !IsEmpty(from.slot) && (number == nullptr || std::isfinite(**number));
  }

  void Take(std::size_t k) {
    const Key& key = table_[k];
    Clear(key.slot);
    if (key.InList()) return;
    if (IsGiven(k)) {
      TakeValue(k, key.path);
    } else if (key.fallback.required && findings_.WasGiven(key.Parent())) {
      findings_.Complain(key.path, "is missing", key.meaning);
    }
  }

  void TakeValue(std::size_t k, const std::string& place) {
    const Key& from = from_table_[k];
    std::string written;
    if (from.kind != KeyKind::kList && from.kind != KeyKind::kSection) {
      written = PlainText(WrittenValue(from, from_table_, from_.job.inches));
    }
    findings_.Give(place, 0, Shortened(written, kShown_bytes));
    Copy(from.slot, table_[k].slot);
    CheckValue(table_[k], place, &findings_);
  }

  const Key& ListKey(const std::string& list) const {
    for (const Key& key : from_table_) {
      if (key.path == list) return key;
    }
    LW_REQUIRE(false, "no list " << list);
    return from_table_.front();
  }

  ListItems Items() {
    ListItems items;
    items.count = [this](const std::string& list) -> std::optional<std::size_t> {
      if (!findings_.WasGiven(list)) return std::nullopt;
      std::size_t count = 0;
      while (ListKey(list).load(count)) ++count;
      return count;
    };
    items.read = [this](const std::string& list, std::size_t i, const std::string& place) {
      ListKey(list).load(i);
      findings_.Give(place, 0, "");
      for (std::size_t k = 0; k < table_.size(); ++k) {
        if (table_[k].Parent() != list + "[]") continue;
        Clear(table_[k].slot);
        // An outline that must be there may be there and empty.
        const bool outline = table_[k].kind == KeyKind::kRings && table_[k].fallback.required;
        const bool given = outline || IsSayable(from_table_[k]);
        if (given) TakeValue(k, Join(place, table_[k].Name()));
      }
      return true;
    };
    items.empty = [this](const std::string& list, std::size_t i, const std::string& name) {
      ListKey(list).load(i);
      for (const Key& key : from_table_) {
        if (key.path == list + "[]." + name) return key.fallback.required && IsEmpty(key.slot);
      }
      return false;
    };
    return items;
  }

  JobDraft from_, draft_;
  std::vector<Key> from_table_, table_;
  std::set<std::string> said_;
  Findings findings_;
};

}  // namespace

JobReading CompleteJob(const Job& wish, const std::vector<std::string>& given,
                       const std::string& file_name) {
  return Completer(wish, given, file_name).Complete();
}

}  // namespace lidwright
