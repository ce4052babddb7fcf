// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace lidwright {

/// [bytes] Longest message to a session: a job of the largest size as a text within JSON, where
/// every byte may take two.
inline constexpr unsigned kLargestMessage_bytes = 17u << 20;

}  // namespace lidwright
