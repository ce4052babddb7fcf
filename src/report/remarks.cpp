// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/remarks.h"

namespace lidwright {

std::string InFull(const Remark& remark) {
  return remark.more.empty() ? remark.text : remark.text + "; " + remark.more;
}

std::string RemarkLine(Mark mark, const std::string& text) {
  const char* word = mark == Mark::kPass ? "pass" : mark == Mark::kWarn ? "warn" : "-";
  std::string line = std::string("  ") + word;
  line.resize(kRemarkIndent, ' ');
  return line + text;
}

std::string RemarksText(const Remarks& remarks) {
  std::string text;
  for (const std::string& sentence : remarks.head) text += sentence + "\n";
  for (const Remark& remark : remarks.list) text += RemarkLine(remark.mark, InFull(remark)) + "\n";
  return text;
}

}  // namespace lidwright
