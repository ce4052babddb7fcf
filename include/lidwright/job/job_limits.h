// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

namespace lidwright {

/// [1] Stations of one job: slicing makes half as many, and a form that asks for more is none that
/// blends of sections describe.
inline constexpr std::size_t kMostStations = 600;

/// [1] Things kept in a box, and poses that its lid passes through: the search asks each of them at
/// every lid that it tries.
inline constexpr std::size_t kMostContents = 100, kMostPoses = 20;

}  // namespace lidwright
