// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/parts_csv.h"

#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

std::string Cell(const std::string& text) {
  if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"') quoted += '"';
    quoted += c;
  }
  return quoted + "\"";
}

std::string Row(const std::string& part, const std::string& count, const std::string& size,
                const std::string& remark) {
  return Cell(part) + "," + Cell(count) + "," + Cell(size) + "," + Cell(remark) + "\r\n";
}

}  // namespace

std::string PartsCsv(const Hinge& hinge, const Job& job) {
  std::string text = Row("part", "count", "size, mm", "remark");
  for (const auto& [name, arm] : {std::pair("arm A", &hinge.arm_a), {"arm B", &hinge.arm_b}}) {
    if (!*arm) continue;
    text += Row(name, "2",
                Text((*arm)->length_mm, 2) + " hole to hole, " + Text(job.arms.width_mm) +
                    " wide, " + Text(job.arms.thickness_mm) + " thick",
                std::string((*arm)->layer == 0 ? "next to the plates" : "on spacers") +
                    "; turned over for the other end");
  }
  text += Row("bushing", "8",
              Text(job.arms.bushing_mm) + " outside, " + Text(job.arms.thickness_mm) + " long",
              "pressed into the arms");
  text += Row("pin", "8", "to the bushing's bore", "four in the case's plates, four in the lid's");
  return text;
}

}  // namespace lidwright
