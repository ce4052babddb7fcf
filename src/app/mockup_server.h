// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <memory>
#include <string>

namespace lidwright {

/// What a mock-up's server asks its owner for; called from threads of its own, several at once.
struct MockupAnswers {
  std::function<std::string(const std::string& message)> answer;
  std::function<std::string(const std::string& nonce)> page;
  std::function<std::string()> packed;  ///< the set as a zip; empty if there is none
};

/// Serves one page and its messages on the loopback address alone, under an address that holds a
/// fresh random token. Refused, and never handed on: another Host or Origin (a foreign page in the
/// same browser), a request without the token, anything else than the page and "ask", bodies that
/// are no JSON, too large, compressed, or too slow; what is in flight is bounded in all.
class MockupServer {
 public:
  /// `port` 0: any that is free. Fails with FileError if it cannot be had.
  MockupServer(int port, MockupAnswers answers);
  /// Ends, and waits for what is being answered.
  ~MockupServer();
  MockupServer(const MockupServer&) = delete;
  MockupServer& operator=(const MockupServer&) = delete;

  const std::string& address() const;

 private:
  class Http;
  std::unique_ptr<Http> http_;
};

/// 128 random bits of the system, as 32 letters. Fails with FileError if it gives none.
std::string RandomToken();

/// Opens an address in the user's browser, if there is a display and a program for it. Returns at
/// once; nothing of it is waited for, or belongs to this process.
void OpenBrowser(const std::string& address);

}  // namespace lidwright
