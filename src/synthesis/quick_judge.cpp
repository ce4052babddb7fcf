// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/quick_judge.h"

#include "lid_walk.h"

namespace lidwright {
namespace {

// [count] Directions for the misfit: good to a hundredth.
constexpr int kDirections = 16;

}  // namespace

Glance QuickJudge::At(const PivotNumbers& x, double limit) const {
  Glance glance;
  const auto over = [&](double by) {
    if (by > 0.0) glance.missed += by * by / 2.0;
  };
  const auto full = [&] { return glance.missed >= limit; };
  thread_local lid_walk::Felt<double> felt;
  felt.Clear();
  if (!lid_walk::Walk<double>(task_, use_, space_, x.data(), over, full, felt)) {
    glance.missed = std::numeric_limits<double>::infinity();
  }
  if (full()) return glance;
  glance.merit = lid_walk::MeritOf(use_, felt, MisfitOneInTwenty(x.data(), use_, kDirections));
  return glance;
}

}  // namespace lidwright
