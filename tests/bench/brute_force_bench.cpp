// SPDX-License-Identifier: Apache-2.0
// Makes the brute force's answers anew, one line a box: its name, its merit ("none" where nothing
// was found), the eight pivot numbers. The night's command for tests/bench/brute_force.txt:
//   brute_force_bench all > tests/bench/brute_force.txt
#include "bench/brute_force.h"

#include <cstdio>
#include <cstdlib>
#include <string>

#include "bench/boxes.h"

using namespace lidwright;

int main(int argc, char** argv) {
  if (argc != 2 && argc != 3) {
    std::fprintf(stderr, "usage: %s all|NAME [DRAWS]\n", argv[0]);
    return 3;
  }
  const std::string wanted = argv[1];
  bench::BruteOptions options;
  if (argc == 3) options.draws = std::atol(argv[2]);
  for (const bench::Box& each : bench::AllBoxes()) {
    if (wanted != "all" && wanted != each.name) continue;
    const BoxModel box(bench::JobOf(each));
    const bench::BruteAnswer answer = bench::BruteForce(box, options);
    std::printf("%-18s", each.name.c_str());
    if (answer.pivots) {
      std::printf(" %8.4f", answer.merit);
      for (const double number : NumbersOf(*answer.pivots)) std::printf(" %.8g", number);
    } else {
      std::printf(" none");
    }
    std::printf("  # %ld looked clear, %ld complete\n", answer.looked_clear, answer.complete);
    std::fflush(stdout);
  }
  return 0;
}
