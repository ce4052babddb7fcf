// SPDX-License-Identifier: Apache-2.0
#include <box2d/box2d.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/forces/virtual_work.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// Lid and arms as free bodies, joined by four revolute joints, in a general-purpose planar physics
// engine (impulses, 32-bit numbers): it knows nothing of linkages, instant centres or energies.
// Lengths there are in centimetres, so that its slop of 0.005 is 0.05 mm; masses in kg.
class Engine {
 public:
  Engine(const LidMotion& motion, const LoadCase& load, double theta) : load_(load), world_(G()) {
    const LidState state = motion.At(theta);
    b2BodyDef fixed;
    case_ = world_.CreateBody(&fixed);
    lid_ = Add(load.lid, motion.BodyPose(Body::kLid, state));
    arm_a_ = Add(load.arm_a, motion.BodyPose(Body::kArmA, state));
    arm_b_ = Add(load.arm_b, motion.BodyPose(Body::kArmB, state));
    const Pivots& p = motion.pivots();
    Join(case_, arm_a_, p.case_a);
    Join(case_, arm_b_, p.case_b);
    Join(arm_a_, lid_, state.lid_a);
    Join(arm_b_, lid_, state.lid_b);
  }

  // One step; each joint resists with the friction of the force that it bore in the step before.
  void Step(double seconds, double friction) {
    for (std::size_t j = 0; j < kJoints; ++j) {
      const double force = joints_[j]->GetReactionForce(static_cast<float>(1.0 / seconds)).Length();
      const double radius = load_.pins[j].diameter_mm / 2.0 / kMm;
      joints_[j]->EnableMotor(friction > 0.0);
      joints_[j]->SetMotorSpeed(0.0F);
      joints_[j]->SetMaxMotorTorque(static_cast<float>(friction * radius * force));
    }
    world_.Step(static_cast<float>(seconds), 30, 10);
  }

  double Theta() const { return static_cast<double>(lid_->GetAngle()); }
  Vec2 Place(const Vec2& lid_point) const {
    const b2Vec2 at = lid_->GetWorldPoint(To(lid_point));
    return kMm * Vec2(at.x, at.y);
  }
  double Speed_mm_s(const Vec2& lid_point) const {
    const b2Vec2 v = lid_->GetLinearVelocityFromLocalPoint(To(lid_point));
    return kMm * std::hypot(static_cast<double>(v.x), static_cast<double>(v.y));
  }

 private:
  static constexpr double kMm = 10.0;  // one unit
  static b2Vec2 G() { return {0.0F, static_cast<float>(-1000.0 * kGravity_m_s2 / kMm)}; }
  static b2Vec2 To(const Vec2& mm) {
    return {static_cast<float>(mm.x() / kMm), static_cast<float>(mm.y() / kMm)};
  }

  b2Body* Add(const MassProperties& mass, const Pose& pose) {
    b2BodyDef def;
    def.type = b2_dynamicBody;
    def.allowSleep = false;
    def.position = To(pose.origin);
    def.angle = static_cast<float>(std::atan2(pose.sine, pose.cosine));
    b2Body* body = world_.CreateBody(&def);
    b2MassData data;
    data.mass = static_cast<float>(mass.mass_kg);
    data.center = To(mass.centre);
    // About the body's origin there.
    data.I = static_cast<float>((mass.inertia_kg_mm2 + mass.mass_kg * mass.centre.squaredNorm()) /
                                (kMm * kMm));
    body->SetMassData(&data);
    return body;
  }
  void Join(b2Body* a, b2Body* b, const Vec2& at) {
    b2RevoluteJointDef def;
    def.Initialize(a, b, To(at));
    joints_.push_back(static_cast<b2RevoluteJoint*>(world_.CreateJoint(&def)));
  }

  LoadCase load_;
  b2World world_;
  b2Body *case_ = nullptr, *lid_ = nullptr, *arm_a_ = nullptr, *arm_b_ = nullptr;
  std::vector<b2RevoluteJoint*> joints_;  // in Joint's order
};

// Where a lid let go at rest is after `seconds`, or when it arrives shut or open.
double After(const Chest& chest, double theta, double friction, double seconds) {
  Engine engine(chest.motion(), chest.load, theta);
  constexpr double kStep = 2e-4;
  for (double t = 0.0; t < seconds; t += kStep) {
    engine.Step(kStep, friction);
    if (engine.Theta() <= 0.0 || engine.Theta() >= chest.open) break;
  }
  return engine.Theta();
}

}  // namespace

TEST_CASE("a physics engine drops the lid along the same path and as hard", "[slow]") {
  for (const std::size_t which : {0u, 1u, 2u}) {
    const Chest chest(which);
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front, 400);
    // From a hair before the highest point, so nearly all of the energy.
    const double start = feel.balance_rad - 0.02;
    REQUIRE(start > 0.3);
    Engine engine(chest.motion(), chest.load, start);
    double before = 0.0, farthest = 0.0;
    int looked = 0;
    for (int step = 0; step < 100000 && engine.Theta() > 0.0; ++step) {
      before = engine.Speed_mm_s(chest.front) / 1000.0;
      engine.Step(1e-4, 0.0);
      const double theta = engine.Theta();
      if (step % 100 != 0 || theta < 0.0) continue;
      const Vec2 expected = chest.motion().At(theta).X_CL * chest.front;
      farthest = std::max(farthest, (engine.Place(chest.front) - expected).norm());
      // Its speed there from the fallen height alone.
      const LidState state = chest.motion().At(theta);
      const double energy =
          1000.0 * kGravity_m_s2 *
          (WeightHeight_kg_mm(chest.motion(), chest.motion().At(start), chest.load) -
           WeightHeight_kg_mm(chest.motion(), state, chest.load));
      const double rate = std::sqrt(2.0 * std::max(0.0, energy) /
                                    MovingInertia_kg_mm2(chest.motion(), state, chest.load));
      const double edge =
          VelocityOf(chest.motion(), state, Body::kLid, state.X_CL * chest.front).norm();
      CHECK(engine.Speed_mm_s(chest.front) == Approx(rate * edge).epsilon(0.01).margin(5.0));
      ++looked;
    }
    CHECK(engine.Theta() <= 0.0);
    CHECK(looked > 20);
    CHECK(farthest < 0.5);
    CHECK(before == Approx(feel.slam_m_s).epsilon(0.01));
  }
}

TEST_CASE("a physics engine's lid rests where friction is said to keep it and falls elsewhere",
          "[slow]") {
  for (const std::size_t which : {0u, 1u}) {
    Chest chest(which);
    chest.load.friction = 0.4;
    for (PinSeat& pin : chest.load.pins) pin.diameter_mm = 12.0;
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
    REQUIRE(feel.stays.size() == 1);
    const Feel::Stretch stays = feel.stays[0];
    REQUIRE(stays.to_rad - stays.from_rad > 0.05);
    const double beside = 0.01;
    // Inside it settles: the engine knows a joint's force, and so its friction, one step late, and
    // the lid starts with a jerk; then it stands, but for a
    // creep of 0.002 degrees a second.
    for (const double theta :
         {stays.from_rad + beside, (stays.from_rad + stays.to_rad) / 2, stays.to_rad - beside}) {
      const double soon = After(chest, theta, 0.4, 1.0), later = After(chest, theta, 0.4, 3.0);
      CHECK(std::abs(soon - theta) < 0.5 * beside);
      CHECK(std::abs(later - soon) < 0.01 * kRadPerDeg);
    }
    // Outside it goes: shut below, open above.
    CHECK(After(chest, stays.from_rad - beside, 0.4, 5.0) <= 0.0);
    CHECK(After(chest, stays.to_rad + beside, 0.4, 5.0) >= chest.open);
  }
}
