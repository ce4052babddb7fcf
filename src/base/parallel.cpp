// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/parallel.h"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace lidwright {

void ParallelFor(std::size_t count, int threads, const std::function<void(std::size_t)>& work) {
  std::size_t workers = threads > 0 ? static_cast<std::size_t>(threads)
                                    : std::max(1U, std::thread::hardware_concurrency());
  workers = std::min(workers, count);
  std::atomic<std::size_t> next{0};
  std::mutex mutex;
  std::size_t failed_at = count;
  std::exception_ptr failure;
  const auto run = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard<std::mutex> lock(mutex);
        if (i < failed_at) {
          failed_at = i;
          failure = std::current_exception();
        }
      }
    }
  };
  std::vector<std::thread> others;
  try {
    for (std::size_t i = 1; i < workers; ++i) others.emplace_back(run);
  } catch (const std::system_error&) {
    // No more threads to be had: those there are do all of it.
  }
  run();
  for (std::thread& thread : others) thread.join();
  if (failure) std::rethrow_exception(failure);
}

}  // namespace lidwright
