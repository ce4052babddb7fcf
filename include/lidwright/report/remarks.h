// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// How a remark is meant: as it should be, to be looked at again, or just to be known.
enum class Mark { kPass, kWarn, kSaid };

struct Remark {
  Mark mark = Mark::kSaid;
  std::string text;  ///< what counts, without a full stop
  std::string more;  ///< and what is behind it, for who reads on; may be empty
};

/// What was found about one side of a hinge, in the maker's words: sentences that stand before,
/// then one remark a line. The summary and the page show all of
/// it, the short answer the texts of what is to be looked at again.
struct Remarks {
  std::vector<std::string> head;
  std::vector<Remark> list;

  void Judge(bool pass, const std::string& text, const std::string& more = "") {
    list.push_back({pass ? Mark::kPass : Mark::kWarn, text, more});
  }
  void Say(const std::string& text) { list.push_back({Mark::kSaid, text, ""}); }
};

/// A remark in one piece: the text, and what is behind it after a semicolon.
std::string InFull(const Remark& remark);

/// A text as a line of plain text, without its end: two blanks, "pass", "warn" or "-", the text
/// from column kRemarkIndent on.
std::string RemarkLine(Mark mark, const std::string& text);
inline constexpr std::size_t kRemarkIndent = 8;

/// All of them as lines of plain text.
std::string RemarksText(const Remarks& remarks);

}  // namespace lidwright
