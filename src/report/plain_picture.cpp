// SPDX-License-Identifier: Apache-2.0
#include "plain_picture.h"

#include <algorithm>
#include <optional>

#include "lidwright/linkage/lid_motion.h"
#include "lidwright/swing/clearance.h"
#include "lidwright/synthesis/box_assembly.h"
#include "plain_words.h"

namespace lidwright {
namespace {

// [mm] The pin of a butt hinge of a small box stands about so far behind the wood.
constexpr double kPinBehind_mm = 3.0;
// [count] Angles looked at.
constexpr int kAngles = 60;
// [mm] What is shallower is no picture.
constexpr double kDigsIn_mm = 0.5;

}  // namespace

PlainPicture PlainPictureOf(const Job& job, const Solid& solid, const PlainHinge& plain) {
  PlainPicture picture;
  picture.pin = PlainDoes(plain) ? plain.best : Vec2(-kPinBehind_mm, 0.0);
  picture.theta_rad = job.swing.open_rad / 2.0;
  if (PlainDoes(plain)) return picture;
  const Assembly box = BoxAssembly(job, solid);
  const auto pairs = PairsBetween(box.Shapes(PartKind::kLid), box.Shapes(PartKind::kCase));
  const LidMotion motion = LidMotion::MakePlain(picture.pin);
  GapFollower gap(pairs);
  for (int i = 1; i <= kAngles; ++i) {
    const double theta_rad = job.swing.open_rad * i / kAngles;
    const std::optional<Nearness> near = gap.At(BodiesAt(motion, theta_rad));
    if (!near || -near->gap_mm < std::max(kDigsIn_mm, picture.deep_mm)) continue;
    picture.deep_mm = -near->gap_mm;
    picture.theta_rad = theta_rad;
    picture.z_mm = near->z_mm;
    picture.at = (near->on_first + near->on_second) / 2.0;
  }
  return picture;
}

}  // namespace lidwright
