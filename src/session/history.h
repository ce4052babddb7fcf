// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "lidwright/design/design.h"
#include "lidwright/job/json_lines.h"

namespace lidwright {

/// Everything of a session that can be undone. What does not change is shared.
struct Moment {
  std::shared_ptr<const Json> form;      ///< the job as typed
  std::shared_ptr<const Design> design;  ///< what a search gave for it, if one did
  std::size_t choice = 0;                ///< which of its hinges
  std::optional<Pivots> moved;           ///< pivots that were put by hand instead
  std::optional<Pivots> planned;         ///< `moved` are holes as measured: where they were to be
  std::string typing;                    ///< the key that this step only typed at
};

/// Moments one after another, with one that is now.
class History {
 public:
  explicit History(Moment first) : moments_{std::move(first)} {}

  const Moment& now() const { return moments_[at_]; }
  /// The one before, to compare with; nothing at the beginning.
  const Moment* before() const { return at_ > 0 ? &moments_[at_ - 1] : nullptr; }
  bool can_undo() const { return at_ > 0; }
  bool can_redo() const { return at_ + 1 < moments_.size(); }

  /// A new step; what was undone is forgotten. Typing on at one key is one step.
  void Add(Moment moment) {
    moments_.resize(at_ + 1);
    if (at_ > 0 && !moment.typing.empty() && moment.typing == now().typing) {
      moments_.back() = std::move(moment);
      return;
    }
    moments_.push_back(std::move(moment));
    ++at_;
  }
  void Undo() { at_ -= can_undo() ? 1 : 0; }
  void Redo() { at_ += can_redo() ? 1 : 0; }

 private:
  std::vector<Moment> moments_;
  std::size_t at_ = 0;
};

}  // namespace lidwright
