// SPDX-License-Identifier: Apache-2.0
#include "job/job_keys.h"

namespace lidwright {

std::vector<Key> TopKeys(JobDraft* draft) {
  using enum KeyKind;
  JobDraft& d = *draft;
  return {
      {"format", kText, 0, 100, &d.format, LeftOut(""),
       "What kind of file this is, as lidwright writes it"},
      {"name", kText, 0, 200, &d.job.name, LeftOut("empty"), "What the box is called in reports"},
      Key{"units", kWord, 0, 0, &d.units, Required(),
          "Unit of all bare lengths in this file, \"mm\" or \"in\""}
          .Of(UnitChoices()),
      {"seed", kCount, 0, 4294967295.0, &d.job.seed, Preset(1, kCount),
       "Start of the search's number sequence; the same seed gives the same answer"},
  };
}

std::vector<Key> JobKeys(JobDraft* draft) {
  std::vector<Key> keys;
  for (const auto part :
       {TopKeys, CaseKeys, LidKeys, SwingKeys, RoomKeys, ArmKeys, PlateKeys, HardwareKeys, BayKeys,
        ShopKeys, LoadKeys, ContentKeys, PivotKeys, PoseKeys, StationKeys}) {
    Append(part(draft), &keys);
  }
  return keys;
}

}  // namespace lidwright
