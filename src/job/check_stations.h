// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "job/findings.h"
#include "job/job_keys.h"

namespace lidwright {

/// Complains about keys that say nothing beside stations because these show it themselves, and
/// about keys that say something of stations where there are none. A value that is the default
/// anyway passes: files written before say them all.
void CheckGoesWith(const std::vector<Key>& table, bool has_stations, Findings* findings);

/// Complains about measures given beside stations that these contradict.
void CheckAgainstStations(const std::vector<Key>& table, const Job& job, Findings* findings);

/// Complains about stations in the wrong order or not reaching the ends, and mirrors them if only
/// those with z ≥ 0 are given. Requires at least two.
void CheckAndCompleteStations(Job* job, Findings* findings);

}  // namespace lidwright
