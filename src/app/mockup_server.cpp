// SPDX-License-Identifier: Apache-2.0
#include "mockup_server.h"

// No header with Eigen in this file: what this one draws in has a macro for one of its names.
#include <httplib.h>
#include <spawn.h>
#include <sys/wait.h>

#include <atomic>
#include <chrono>
#include <cstdlib>
#include <random>
#include <thread>

#include "lidwright/app/output_folder.h"
#include "lidwright/session/limits.h"

namespace lidwright {
namespace {

constexpr const char* kPackedFile = "/hinge.zip";

using Clock = std::chrono::steady_clock;

// Threads that serve connections: as many clients may dawdle at once before others wait.
constexpr std::size_t kConnections = 256;
// [bytes] Of all bodies that are being received together.
constexpr std::size_t kInFlight_bytes = 64u << 20;
// A body that is not there by then is given up; so is a client that says nothing for so long.
constexpr std::chrono::seconds kSlowestBody{20};
constexpr time_t kSilence_s = 10;
// A connection that rests between two requests is kept no longer: the program's end waits for it.
constexpr time_t kRest_s = 1;

// Counts what a request holds while it is being received.
class Held {
 public:
  explicit Held(std::atomic<std::size_t>& total) : total_(total) {}
  Held(const Held&) = delete;
  Held& operator=(const Held&) = delete;
  ~Held() { total_ -= mine_; }
  bool Add(std::size_t bytes) {
    mine_ += bytes;
    return (total_ += bytes) <= kInFlight_bytes && mine_ <= kLargestMessage_bytes;
  }

 private:
  std::atomic<std::size_t>& total_;
  std::size_t mine_ = 0;
};

void Refuse(httplib::Response& response, int status, const std::string& words) {
  response.status = status;
  response.set_content(words + "\n", "text/plain; charset=utf-8");
}

// An answer as it is. What is given to the library whole it packs as tightly as it can for a
// browser that understands that: a tenth of a second and more, on a way that costs nothing.
void Give(httplib::Response& response, std::string text, const char* kind) {
  constexpr std::size_t kShort = 256;  // bytes: there is nothing to pack, and it goes out at once
  const std::size_t size = text.size();
  if (size < kShort) return response.set_content(text, kind);
  response.set_content_provider(
      size, kind,
      [text = std::move(text)](std::size_t from, std::size_t length, httplib::DataSink& sink) {
        return sink.write(text.data() + from, length);
      });
}

}  // namespace

class MockupServer::Http {
 public:
  Http(int port, MockupAnswers answers) : answers_(std::move(answers)), token_(RandomToken()) {
    // Not the library's own options: they would let another program share the port.
    server_.set_socket_options([](socket_t socket) {
      const int yes = 1;
      setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
    });
    server_.set_tcp_nodelay(true);
    server_.set_keep_alive_max_count(1u << 30);
    server_.set_keep_alive_timeout(kRest_s);
    server_.set_read_timeout(kSilence_s);
    server_.set_write_timeout(kSilence_s);
    server_.set_payload_max_length(kLargestMessage_bytes);
    server_.new_task_queue = [] { return new httplib::ThreadPool(kConnections); };
    if (port == 0) {
      port = server_.bind_to_any_port("127.0.0.1");
    } else if (!server_.bind_to_port("127.0.0.1", port)) {
      port = -1;
    }
    if (port <= 0) throw FileError("this port cannot be had: name another with --port");
    for (const char* host : {"127.0.0.1:", "localhost:"}) {
      hosts_.push_back(host + std::to_string(port));
    }
    address_ = "http://" + hosts_.front() + "/" + token_ + "/";
    Route();
    thread_ = std::thread([this] { server_.listen_after_bind(); });
    while (!server_.is_running()) std::this_thread::sleep_for(std::chrono::milliseconds(1));
  }
  ~Http() {
    server_.stop();
    thread_.join();
  }
  Http(const Http&) = delete;
  Http& operator=(const Http&) = delete;

  const std::string& address() const { return address_; }

 private:
  void Route() {
    server_.set_pre_routing_handler(
        [this](const httplib::Request& request, httplib::Response& response) {
          response.set_header("X-Content-Type-Options", "nosniff");
          response.set_header("Cache-Control", "no-store");
          response.set_header("Referrer-Policy", "no-referrer");
          return Allowed(request, response) ? httplib::Server::HandlerResponse::Unhandled
                                            : httplib::Server::HandlerResponse::Handled;
        });
    server_.Get("/" + token_ + "/", [this](const httplib::Request&, httplib::Response& response) {
      const std::string nonce = RandomToken();
      response.set_header("Content-Security-Policy",
                          "default-src 'none'; script-src 'nonce-" + nonce +
                              "'; style-src 'unsafe-inline'; img-src data:; connect-src 'self'; "
                              "base-uri 'none'; form-action 'none'; frame-ancestors 'none'");
      Give(response, answers_.page(nonce), "text/html; charset=utf-8");
    });
    server_.Get("/" + token_ + kPackedFile,
                [this](const httplib::Request&, httplib::Response& response) {
                  const std::string zip = answers_.packed();
                  if (zip.empty()) return Refuse(response, 404, "nothing was packed yet");
                  response.set_header("Content-Disposition", "attachment; filename=\"hinge.zip\"");
                  Give(response, zip, "application/zip");
                });
    server_.Post("/" + token_ + "/ask",
                 [this](const httplib::Request&, httplib::Response& response,
                        const httplib::ContentReader& reader) { Ask(response, reader); });
    server_.set_exception_handler(
        [](const httplib::Request&, httplib::Response& response, std::exception_ptr) {
          Refuse(response, 500, "a defect of lidwright: this was not answered");
        });
  }

  // The page and its messages for who has the address, and nothing else.
  bool Allowed(const httplib::Request& request, httplib::Response& response) const {
    const auto own = [&](const std::string& text, const std::string& before) {
      return std::any_of(hosts_.begin(), hosts_.end(),
                         [&](const std::string& host) { return text == before + host; });
    };
    if (request.get_header_value_count("Host") != 1 || !own(request.get_header_value("Host"), "")) {
      Refuse(response, 403, "this program speaks only for 127.0.0.1");
      return false;
    }
    if (request.has_header("Origin") && !own(request.get_header_value("Origin"), "http://")) {
      Refuse(response, 403, "other pages are not answered");
      return false;
    }
    const std::string page = "/" + token_ + "/";
    const bool asks = request.path == page + "ask";
    if (request.path != page && request.path != "/" + token_ + kPackedFile && !asks) {
      Refuse(response, 403,
             "open the address that 'lidwright mockup' printed, with all its letters");
      return false;
    }
    if (request.method != (asks ? "POST" : "GET")) {
      Refuse(response, 405, "there is nothing to do so here");
      return false;
    }
    if (!asks) return true;
    const std::string kind = request.get_header_value("Content-Type");
    if (kind.rfind("application/json", 0) != 0 || request.has_header("Content-Encoding")) {
      Refuse(response, 415, "messages are plain JSON");
      return false;
    }
    // Told from its head, before anything of it is read.
    if (request.get_header_value<std::uint64_t>("Content-Length") > kLargestMessage_bytes) {
      Refuse(response, 413,
             "this is larger than " + std::to_string(kLargestMessage_bytes >> 20) +
                 " MiB: 'lidwright trace' and 'lidwright slice' take large files");
      return false;
    }
    return true;
  }

  void Ask(httplib::Response& response, const httplib::ContentReader& reader) {
    Held held(in_flight_);
    std::string body;
    const Clock::time_point last = Clock::now() + kSlowestBody;
    const bool whole = reader([&](const char* data, std::size_t size) {
      if (!held.Add(size) || Clock::now() > last) return false;
      body.append(data, size);
      return true;
    });
    if (!whole) {
      Refuse(response, 413, "too large, too slow or broken off");
      return;
    }
    Give(response, answers_.answer(body), "application/json");
  }

  MockupAnswers answers_;
  std::string token_, address_;
  std::vector<std::string> hosts_;
  std::atomic<std::size_t> in_flight_{0};
  httplib::Server server_;
  std::thread thread_;
};

MockupServer::MockupServer(int port, MockupAnswers answers)
    : http_(std::make_unique<Http>(port, std::move(answers))) {}
MockupServer::~MockupServer() = default;

const std::string& MockupServer::address() const {
  return http_->address();
}

std::string RandomToken() {
  constexpr char kDigits[] = "0123456789abcdef";
  std::string token;
  try {
    std::random_device random("/dev/urandom");
    while (token.size() < 32) {
      for (unsigned bits = random(), k = 0; k < 8; ++k, bits >>= 4) token += kDigits[bits & 15u];
    }
  } catch (const std::exception&) {
    throw FileError("the system gives no random numbers, without which the page is not safe");
  }
  return token;
}

void OpenBrowser(const std::string& address) {
  if (!std::getenv("DISPLAY") && !std::getenv("WAYLAND_DISPLAY")) return;
  // By a shell that ends at once, so that nobody's child is left here.
  std::string script = "xdg-open \"$1\" >/dev/null 2>&1 </dev/null &";
  std::string shell = "sh", option = "-c", name = "lidwright", given = address;
  char* const arguments[] = {shell.data(), option.data(), script.data(),
                             name.data(),  given.data(),  nullptr};
  posix_spawnattr_t attributes;
  posix_spawnattr_init(&attributes);
  sigset_t none;
  sigemptyset(&none);
  posix_spawnattr_setsigmask(&attributes, &none);
  posix_spawnattr_setpgroup(&attributes, 0);  // Ctrl-C here is not meant for the browser
  posix_spawnattr_setflags(&attributes, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETPGROUP);
  pid_t child = 0;
  if (posix_spawnp(&child, "sh", nullptr, &attributes, arguments, environ) == 0) {
    waitpid(child, nullptr, 0);
  }
  posix_spawnattr_destroy(&attributes);
}

}  // namespace lidwright
