// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <memory>
#include <string>
#include <string_view>

// A watch as a web page, to be read and no more: GET and HEAD of four fixed paths. Everything is
// bounded: connections, the size of a request, the time it and its answer may take. A browser that
// comes back, or comes late, gets the whole page as it is then; one that reads slowly misses pages,
// and is dropped when it reads none.

namespace stilling::command {

/// Whether a request for this Host may be answered: only where it is an address or localhost. A
/// name may be someone's who made it point here (DNS rebinding).
[[nodiscard]] bool is_plain_host(std::string_view host);

class web_server {
 public:
  /// `port` 0: any that is free.
  web_server(const std::string& address, int port);
  web_server(const web_server&) = delete;
  web_server& operator=(const web_server&) = delete;
  ~web_server();

  /// Why it does not serve; empty: it does.
  [[nodiscard]] const std::string& fault() const noexcept { return fault_; }
  /// "http://127.0.0.1:8080/"
  [[nodiscard]] const std::string& url() const noexcept { return url_; }
  [[nodiscard]] bool is_open_to_others() const noexcept { return open_to_others_; }

  /// What is served from now on: the whole page, and the part that changes.
  void publish(std::string page, std::string body);
  /// Does what can be done without waiting.
  void poll();

 private:
  class everything;
  std::string fault_, url_;
  bool open_to_others_ = false;
  std::unique_ptr<everything> all_;
};

}  // namespace stilling::command
