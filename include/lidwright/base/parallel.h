// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>

namespace lidwright {

/// Calls work(i) for i = 0 … count − 1 on up to `threads` threads (0: as many as the machine has).
/// Each i must write only what belongs to it; then the results do not depend on the threads.
/// An exception thrown by work is thrown again here (the one of the smallest i).
void ParallelFor(std::size_t count, int threads, const std::function<void(std::size_t)>& work);

}  // namespace lidwright
