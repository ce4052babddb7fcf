// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <box2d/box2d.h>

#include <cmath>
#include <vector>

#include "lidwright/forces/balance.h"

namespace lidwright::testing {

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

  /// A stay that cannot be longer than now, from a point of the case to one of the lid: a rope.
  void Rope(const Vec2& on_case, const Vec2& on_lid, double length_mm) {
    b2DistanceJointDef def;
    def.bodyA = case_;
    def.bodyB = lid_;
    def.localAnchorA = To(on_case);
    def.localAnchorB = To(on_lid);
    def.length = def.maxLength = static_cast<float>(length_mm / kMm);
    def.minLength = 0.0F;
    rope_ = static_cast<b2DistanceJoint*>(world_.CreateJoint(&def));
  }
  /// What it pulled with in the last step.
  double RopePull_n(double seconds) const {
    return static_cast<double>(
               rope_->GetReactionForce(static_cast<float>(1.0 / seconds)).Length()) *
           kMm / 1000.0;
  }
  /// A torque on a joint against its turning, in proportion to its speed: both ends' dampers.
  void Damp(Joint joint, double both_nmm_s) {
    const double torque =
        -both_nmm_s * 1000.0 / (kMm * kMm) * static_cast<double>(joints_[joint]->GetJointSpeed());
    joints_[joint]->GetBodyB()->ApplyTorque(static_cast<float>(torque), true);
    joints_[joint]->GetBodyA()->ApplyTorque(static_cast<float>(-torque), true);
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
  b2DistanceJoint* rope_ = nullptr;
};

}  // namespace lidwright::testing
