// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstring>

#include "lidwright/trace/mesh.h"

namespace lidwright {

/// Gives equal points one index: a hash table with open addressing over the points themselves.
class PointStore {
 public:
  PointStore(std::vector<Vec3>* points, std::size_t expected) : points_(*points) {
    points_.reserve(expected);
    std::size_t size = 64;
    while (size < 2 * expected) size *= 2;
    slots_.assign(size, 0);
  }

  std::uint32_t Index(Vec3 p) {
    p += Vec3::Zero();  // −0 becomes 0
    if (2 * points_.size() >= slots_.size()) Grow();
    std::size_t slot = Hash(p) & (slots_.size() - 1);
    while (slots_[slot] != 0) {
      if (points_[slots_[slot] - 1] == p) return slots_[slot] - 1;
      slot = (slot + 1) & (slots_.size() - 1);
    }
    points_.push_back(p);
    slots_[slot] = static_cast<std::uint32_t>(points_.size());
    return slots_[slot] - 1;
  }

 private:
  static std::uint64_t Hash(const Vec3& p) {
    std::uint64_t hash = 0;
    for (int i = 0; i < 3; ++i) {
      std::uint64_t bits;
      const double value = p[i];
      std::memcpy(&bits, &value, sizeof bits);
      hash = (hash ^ bits) * 0x9e3779b97f4a7c15ULL;
      hash ^= hash >> 29;
    }
    return hash ^ hash >> 32;
  }

  void Grow() {
    slots_.assign(2 * slots_.size(), 0);
    for (std::size_t i = 0; i < points_.size(); ++i) {
      std::size_t slot = Hash(points_[i]) & (slots_.size() - 1);
      while (slots_[slot] != 0) slot = (slot + 1) & (slots_.size() - 1);
      slots_[slot] = static_cast<std::uint32_t>(i + 1);
    }
  }

  std::vector<Vec3>& points_;
  std::vector<std::uint32_t> slots_;
};

}  // namespace lidwright
