// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <random>
#include <string>
#include <utility>
#include <vector>

#include "certify/verdicts.h"
#include "design/examples.h"
#include "lidwright/linkage/lid_motion.h"
#include "lidwright/synthesis/box_assembly.h"
#include "lidwright/synthesis/search.h"

namespace lidwright::testing {

/// Seeded draws that are the same with every standard library.
class Draw {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}
  double operator()(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11) * 0x1.0p-53;
  }
  Vec2 In(const Zone& zone) {
    const double x = (*this)(zone.low.x(), zone.high.x());
    return {x, (*this)(zone.low.y(), zone.high.y())};
  }

 private:
  std::mt19937_64 random_;
};

/// What a search for the lid needs of one job. Not movable into another: keep it where it is made.
struct LidModel {
  Job job;
  Solid solid;
  Assembly box;
  Limits limits;
  Slabs parts;
  LidTask task;
  explicit LidModel(Job wanted)
      : job(std::move(wanted)),
        solid(MakeSolid(job)),
        box(BoxAssembly(job, solid)),
        limits(LimitsOf(job, solid)),
        parts(box),
        task(MakeLidTask(job, solid)) {}
};

/// Pivots in the zones whose motion reaches the opening angle with a little to spare.
inline std::vector<Pivots> MovingPivots(const LidTask& task, int count, unsigned seed) {
  Draw draw(seed);
  std::vector<Pivots> found;
  while (static_cast<int>(found.size()) < count) {
    const Vec2 ga = draw.In(task.case_zone), gb = draw.In(task.case_zone);
    const Vec2 la = draw.In(task.lid_zone), lb = draw.In(task.lid_zone);
    const Pivots p{ga, gb, la, lb};
    const auto motion = LidMotion::Make(p);
    if (motion && motion->Range().high_rad > task.open_rad + 0.05) found.push_back(p);
  }
  return found;
}

/// Lids on the shop's grid that a brief round of the search finds, best first.
inline std::vector<Pivots> FoundLids(const Job& job, const Solid& solid, const LidTask& task,
                                     int most) {
  const LidUse use = LidUseOf(job, solid);
  SearchOptions options;
  options.starts = 8'000;
  options.descents = 2 * most;
  options.on_grid = most;
  std::vector<Pivots> found;
  for (const GridLid& lid : LidSearch(job, solid, task, use, 0.3).Round(0, options).lids) {
    found.push_back(PivotsOf(lid.x.data()));
  }
  return found;
}

/// A job from its text, which must be right.
inline Job JobOf(const std::string& text) {
  const JobReading reading = ReadJob(text, "job");
  for (const Problem& problem : reading.problems) throw std::runtime_error(Describe(problem));
  return *reading.job;
}

}  // namespace lidwright::testing
