// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <csignal>
#include <ctime>

namespace lidwright {

/// While it lives, what ends the program from outside (Ctrl-C, a hang-up, a plain kill) waits.
class HeldSignals {
 public:
  HeldSignals() {
    sigemptyset(&held_);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&held_, signal);
    pthread_sigmask(SIG_BLOCK, &held_, &before_);
  }
  ~HeldSignals() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
  HeldSignals(const HeldSignals&) = delete;
  HeldSignals& operator=(const HeldSignals&) = delete;

  /// Takes one that waits or comes within that time; false if none does.
  bool Came(long wait_ns) const {
    const timespec wait{0, wait_ns};
    return sigtimedwait(&held_, nullptr, &wait) > 0;
  }

  /// Whether one waits that is not ignored.
  static bool Waits() {
    sigset_t waiting;
    sigpending(&waiting);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
      struct sigaction action {};
      sigaction(signal, nullptr, &action);
      if (sigismember(&waiting, signal) == 1 && action.sa_handler != SIG_IGN) return true;
    }
    return false;
  }

 private:
  sigset_t held_{}, before_{};
};

}  // namespace lidwright
