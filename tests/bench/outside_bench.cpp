// SPDX-License-Identifier: Apache-2.0
// Every bound of certificates of random boxes of every form, beside what is seen from outside
// (oracle/outside.h). Ends with 1 if one stands above it.
//
//     outside_bench [BOXES] [FIRST SEED] [ANGLES]
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include "oracle/any_box.h"
#include "oracle/outside_certifier.h"

using namespace lidwright;
using namespace lidwright::testing;

int main(int argc, char** argv) {
  const int boxes = argc > 1 ? std::atoi(argv[1]) : 150;
  const unsigned first = argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1;
  OutsideCertifier::Options options;
  options.angles = argc > 3 ? std::atoi(argv[3]) : 1000;
  std::map<std::string, std::vector<Compared>> all;
  int hinges = 0, with_arms = 0, with_parts = 0, wrong = 0;
  for (int i = 0; i < boxes; ++i) {
    const unsigned seed = first + static_cast<unsigned>(i);
    options.seed = seed;
    const BoxModel box(AnyBox(seed));
    OutsideCertifier outside(box.job, options);
    int looked = 0, bounds = 0;
    double least = 1e300;
    for (const Pivots& pivots : PivotsToLookAt(box, 1, 1, 3, seed)) {
      if (!Opens(box, pivots)) continue;
      const Hinge hinge = JudgeHinge(box, pivots, {}, {});
      ++looked;
      with_arms += hinge.arm_a && hinge.arm_b ? 1 : 0;
      with_parts += hinge.parts ? 1 : 0;
      for (const Compared& c : outside.Compare(hinge)) {
        all[c.what].push_back(c);
        ++bounds;
        least = std::min(least, -c.Over());
        if (c.Over() <= 1e-6) continue;
        ++wrong;
        std::printf("box %u: %s: bound %.4f, seen %.4f; pivots", seed, c.what.c_str(), c.bound,
                    c.seen);
        for (const Vec2& p : {pivots.case_a, pivots.case_b, pivots.lid_a, pivots.lid_b}) {
          std::printf(" %.17g %.17g", p.x(), p.y());
        }
        std::printf("\n");
      }
    }
    hinges += looked;
    std::printf("box %u: %d hinges, %d bounds, least to spare %.4f mm\n", seed, looked, bounds,
                least);
    std::fflush(stdout);
  }
  std::printf("%d boxes, %d hinges, %d with arms, %d with other parts, %d angles\n", boxes, hinges,
              with_arms, with_parts, options.angles);
  std::printf("%-34s %6s %12s %12s %12s\n", "seen less bound [mm]", "bounds", "least", "median",
              "largest");
  for (auto& [what, compared] : all) {
    std::sort(compared.begin(), compared.end(),
              [](const Compared& a, const Compared& b) { return a.Over() > b.Over(); });
    // What stays farther off than is looked says nothing.
    std::vector<double> slack;
    for (const Compared& c : compared) {
      if (c.seen < 1e9) slack.push_back(-c.Over());
    }
    if (slack.empty()) continue;
    std::printf("%-34s %6zu %12.4f %12.4f %12.4f\n", what.c_str(), slack.size(), slack.front(),
                slack[slack.size() / 2], slack.back());
  }
  std::printf("%d bounds above what was seen\n", wrong);
  return wrong == 0 ? 0 : 1;
}
