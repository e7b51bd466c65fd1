// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "serve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/asio/buffer.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <boost/asio/read_until.hpp>
#include <boost/asio/steady_timer.hpp>
#include <boost/asio/streambuf.hpp>
#include <boost/asio/write.hpp>
#include <cctype>
#include <chrono>
#include <optional>
#include <set>
#include <utility>

#include "watch_page.hpp"

namespace stilling::command {
namespace {

namespace asio = boost::asio;
using asio::ip::tcp;
using boost::system::error_code;

constexpr std::size_t most_connections = 32, most_streams = 12, most_header = 4096;
constexpr std::chrono::seconds to_ask{5}, to_read{10}, between_signs{10};

constexpr std::string_view policy =
    "Content-Security-Policy: default-src 'none'; script-src 'self'; style-src 'self'; "
    "connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'\r\n"
    "X-Content-Type-Options: nosniff\r\n"
    "X-Frame-Options: DENY\r\n"
    "Referrer-Policy: no-referrer\r\n"
    "Cross-Origin-Opener-Policy: same-origin\r\n"
    "Cross-Origin-Resource-Policy: same-origin\r\n"
    "Cache-Control: no-store\r\n"
    "Connection: close\r\n";

bool same_word(std::string_view a, std::string_view b) {
  return std::ranges::equal(a, b, [](unsigned char x, unsigned char y) {
    return std::tolower(x) == std::tolower(y);
  });
}

std::string_view without_blanks(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t')) s.remove_suffix(1);
  return s;
}

/// Of a request, as far as it matters here.
struct asked_for {
  std::string_view method, path;
  std::string_view fault;  // a status line; empty: none
};

asked_for read_request(std::string_view text) {
  asked_for out;
  const auto next_line = [&] {
    const auto end = text.find("\r\n");
    const auto line = text.substr(0, end);
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 2);
    return line;
  };
  const auto first = next_line();
  const auto a = first.find(' '), b = first.rfind(' ');
  if (a == std::string_view::npos || b <= a || !first.substr(b + 1).starts_with("HTTP/1.") ||
      first.find(' ', a + 1) != b)
    return {{}, {}, "400 Bad Request"};
  out.method = first.substr(0, a);
  out.path = first.substr(a + 1, b - a - 1);
  std::optional<std::string_view> host;
  for (auto line = next_line(); !line.empty(); line = next_line()) {
    const auto colon = line.find(':');
    if (colon == std::string_view::npos || colon == 0 || line.front() == ' ' ||
        line.front() == '\t')
      return {{}, {}, "400 Bad Request"};
    if (!same_word(line.substr(0, colon), "host")) continue;
    if (host) return {{}, {}, "400 Bad Request"};
    host = without_blanks(line.substr(colon + 1));
  }
  if (!host) out.fault = "400 Bad Request";
  else if (!is_plain_host(*host)) out.fault = "421 Misdirected Request";
  else if (out.method != "GET" && out.method != "HEAD") out.fault = "405 Method Not Allowed";
  return out;
}

}  // namespace

bool is_plain_host(std::string_view host) {
  if (host.starts_with('[')) {
    const auto end = host.find(']');
    if (end == std::string_view::npos) return false;
    const auto rest = host.substr(end + 1);
    if (!rest.empty() && rest.front() != ':') return false;
    error_code error;
    asio::ip::make_address_v6(std::string{host.substr(1, end - 1)}, error);
    return !error;
  }
  host = host.substr(0, host.find(':'));
  error_code error;
  asio::ip::make_address_v4(std::string{host}, error);
  return !error || same_word(host, "localhost");
}

class web_server::everything {
 public:
  class connection : public std::enable_shared_from_this<connection> {
   public:
    connection(everything& of, tcp::socket socket)
        : of_{of}, socket_{std::move(socket)}, time_{of.io_} {}

    void begin() {
      expect(to_ask);
      asio::async_read_until(socket_, asked_, "\r\n\r\n",
                             [me = shared_from_this()](error_code error, std::size_t size) {
                               me->answer(error, size);
                             });
    }
    void refuse(std::string_view status) {
      expect(to_read);
      reply(status, "text/plain", "", "", false);
    }
    /// A stream: something new, or nothing for so long that it is time for a sign of life.
    void tell(std::chrono::steady_clock::time_point now) {
      if (!streams_ || writing_) return;
      if (told_ == of_.version_ && now - spoke_ < between_signs) return;
      const bool is_new = told_ != of_.version_;
      told_ = of_.version_;
      spoke_ = now;
      write(is_new ? fmt::format("data: {}\n\n", of_.body_) : ":\n\n", false);
    }
    [[nodiscard]] bool streams() const noexcept { return streams_; }
    void close() {
      error_code ignored;
      time_.cancel(ignored);
      socket_.shutdown(tcp::socket::shutdown_both, ignored);
      socket_.close(ignored);
      of_.open_.erase(shared_from_this());
    }

   private:
    void expect(std::chrono::seconds within) {
      time_.expires_after(within);
      time_.async_wait([weak = weak_from_this()](error_code error) {
        if (const auto me = weak.lock(); me && !error) me->close();
      });
    }
    void answer(error_code error, std::size_t size) {
      if (error == asio::error::not_found)
        return refuse("431 Request Header Fields Too Large");
      if (error) return close();
      const std::string text{asio::buffers_begin(asked_.data()),
                             asio::buffers_begin(asked_.data()) +
                                 static_cast<std::ptrdiff_t>(size)};
      const auto asked = read_request(text);
      const bool head = asked.method == "HEAD";
      expect(to_read);
      if (!asked.fault.empty())
        return reply(asked.fault, "text/plain", asked.fault,
                     asked.fault.starts_with("405") ? "Allow: GET, HEAD\r\n" : "", head);
      if (asked.path == "/") return reply("200 OK", "text/html", of_.page_, "", head);
      if (asked.path == "/page.js")
        return reply("200 OK", "text/javascript", page_script, "", head);
      if (asked.path == "/page.css") return reply("200 OK", "text/css", page_style, "", head);
      if (asked.path != "/events") return reply("404 Not Found", "text/plain", "", "", head);
      if (of_.streams() >= most_streams && !head) return refuse("503 Service Unavailable");
      streams_ = !head;
      write(fmt::format("HTTP/1.1 200 OK\r\nContent-Type: text/event-stream; charset=utf-8\r\n"
                        "{}\r\n",
                        policy),
            head);
      if (streams_) notice_when_gone();
    }
    void reply(std::string_view status, std::string_view type, std::string_view content,
               std::string_view more, bool head) {
      write(fmt::format("HTTP/1.1 {}\r\nContent-Type: {}; charset=utf-8\r\nContent-Length: {}\r\n"
                        "{}{}\r\n{}",
                        status, type, content.size(), policy, more, head ? "" : content),
            true);
    }
    void write(std::string what, bool last) {
      writing_ = true;
      out_ = std::move(what);
      expect(to_read);
      asio::async_write(socket_, asio::buffer(out_),
                        [me = shared_from_this(), last](error_code error, std::size_t) {
                          me->writing_ = false;
                          if (error) return me->close();
                          if (!last) return static_cast<void>(me->time_.cancel());
                          // What was sent and not read would make the system take the answer
                          // back; so wait until the other side has it, or its time is over.
                          error_code ignored;
                          me->socket_.shutdown(tcp::socket::shutdown_send, ignored);
                          me->expect(to_ask);
                          me->notice_when_gone();
                        });
    }
    void notice_when_gone() {
      socket_.async_read_some(asio::buffer(unread_),
                              [me = shared_from_this()](error_code error, std::size_t size) {
                                me->swallowed_ += size;
                                if (error || me->swallowed_ > 65'536) return me->close();
                                me->notice_when_gone();
                              });
    }

    everything& of_;
    tcp::socket socket_;
    asio::steady_timer time_;
    asio::streambuf asked_{most_header};
    std::string out_;
    std::array<char, 512> unread_{};
    std::size_t swallowed_ = 0;
    std::uint64_t told_ = 0;
    std::chrono::steady_clock::time_point spoke_{};
    bool streams_ = false, writing_ = false;
  };

  everything() : acceptor_{io_} {}
  ~everything() {
    for (const auto& c : std::set{open_}) c->close();
    error_code ignored;
    acceptor_.close(ignored);
    io_.restart();
    io_.poll();  // what they left lets go of them
  }

  std::string open_at(const std::string& address, int port) {
    error_code error;
    const auto at = asio::ip::make_address(address, error);
    if (error) return fmt::format("'{}' is no address", address);
    const tcp::endpoint there{at, static_cast<unsigned short>(port)};
    acceptor_.open(there.protocol(), error);
    if (!error) acceptor_.set_option(tcp::acceptor::reuse_address{true}, error);
    if (!error) acceptor_.bind(there, error);
    if (!error) acceptor_.listen(16, error);
    if (error) return fmt::format("{} port {}: {}", address, port, error.message());
    accept();
    return {};
  }
  [[nodiscard]] tcp::endpoint place() const {
    error_code ignored;
    return acceptor_.local_endpoint(ignored);
  }
  [[nodiscard]] std::size_t streams() const {
    return static_cast<std::size_t>(
        std::ranges::count_if(open_, [](const auto& c) { return c->streams(); }));
  }

  asio::io_context io_{1};
  tcp::acceptor acceptor_;
  std::set<std::shared_ptr<connection>> open_;
  std::string page_, body_;
  std::uint64_t version_ = 0;

  /// What is ready now, and not more of it than lets the log wait for long.
  void go_on() {
    constexpr int most_at_once = 256;
    if (!accepting_ && acceptor_.is_open()) accept();
    io_.restart();
    for (int done = 0; done < most_at_once && io_.poll_one() > 0; ++done) {
    }
  }

 private:
  void accept() {
    accepting_ = true;
    acceptor_.async_accept([this](error_code error, tcp::socket socket) {
      accepting_ = false;  // the next is waited for in the next beat where this one failed
      if (error) return;
      const bool full = open_.size() >= most_connections;
      // A few more than there may be are told so; beyond that they are just closed.
      if (open_.size() < most_connections + 4) {
        const auto c = std::make_shared<connection>(*this, std::move(socket));
        open_.insert(c);
        if (full) c->refuse("503 Service Unavailable");
        else c->begin();
      }
      accept();
    });
  }

  bool accepting_ = false;
};

web_server::web_server(const std::string& address, int port)
    : all_{std::make_unique<everything>()} {
  fault_ = all_->open_at(address, port);
  if (!fault_.empty()) return;
  const auto at = all_->place();
  open_to_others_ = !at.address().is_loopback();
  const auto host = at.address().is_v6() ? fmt::format("[{}]", at.address().to_string())
                                         : at.address().to_string();
  url_ = fmt::format("http://{}:{}/", host, at.port());
}

web_server::~web_server() = default;

void web_server::publish(std::string page, std::string body) {
  all_->page_ = std::move(page);
  if (all_->body_ == body) return;
  all_->body_ = std::move(body);
  ++all_->version_;
}

void web_server::poll() {
  all_->go_on();
  const auto now = std::chrono::steady_clock::now();
  for (const auto& c : std::set{all_->open_}) c->tell(now);
}

}  // namespace stilling::command
