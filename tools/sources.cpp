// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "sources.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>

namespace stilling::command {
namespace {

volatile std::sig_atomic_t stop = 0;
std::array<int, 2> wake_up{-1, -1};  // a pipe, so that no wait can miss the wish
std::string* kept_complaints = nullptr;

void hear_signal(int) { wish_to_stop(); }

bool write_all(int descriptor, std::string_view text) noexcept {
  while (!text.empty()) {
    const auto n = ::write(descriptor, text.data(), text.size());
    if (n < 0 && errno == EINTR) continue;
    if (n < 0 && errno == EAGAIN) {
      pollfd room{descriptor, POLLOUT, 0};
      ::poll(&room, 1, -1);
      continue;
    }
    if (n < 0) return false;
    text.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

}  // namespace

void arrange_signals() noexcept {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);  // a file that may not grow is a failed write, too
  if (::pipe2(wake_up.data(), O_CLOEXEC | O_NONBLOCK) != 0) return;
  struct sigaction action {};
  action.sa_handler = hear_signal;
  for (const int signal : {SIGINT, SIGTERM, SIGHUP}) {
    struct sigaction before {};
    // Whoever started us may have had a reason to ignore it (nohup).
    if (::sigaction(signal, nullptr, &before) == 0 && before.sa_handler != SIG_IGN)
      ::sigaction(signal, &action, nullptr);
  }
}

bool stop_wished() noexcept { return stop != 0; }

void wish_to_stop() noexcept {
  const int error = errno;
  stop = 1;
  [[maybe_unused]] const auto written = ::write(wake_up[1], "", 1);
  errno = error;
}

wake wait_for(int descriptor, std::optional<std::chrono::milliseconds> at_most) noexcept {
  while (!stop_wished()) {
    std::array<pollfd, 2> watched{{{descriptor, POLLIN, 0}, {wake_up[0], POLLIN, 0}}};
    const int ready =
        ::poll(watched.data(), watched.size(), at_most ? static_cast<int>(at_most->count()) : -1);
    if (ready == 0) return wake::quiet;
    if (ready > 0 && watched[0].revents != 0) return wake::ready;
    if (ready < 0 && errno != EINTR) return wake::ready;  // the read will say what is wrong
  }
  return wake::stopped;
}

std::string words_of(int error) { return std::strerror(error); }

source::source(std::string_view path) noexcept {
  if (path.empty() || path == "-") {
    descriptor_ = STDIN_FILENO;
    return;
  }
  descriptor_ = ::open(std::string{path}.c_str(), O_RDONLY | O_CLOEXEC);
  owned_ = descriptor_ >= 0;
  if (!owned_) fault_ = words_of(errno);
}

source::~source() {
  if (owned_) ::close(descriptor_);
}

portion source::read(std::span<char> into, std::optional<std::chrono::milliseconds> wait) {
  using enum portion::state;
  if (!fault_.empty()) return {failed};
  for (;;) {
    const auto woken = wait_for(descriptor_, wait);
    if (woken != wake::ready) return {woken == wake::quiet ? quiet : ended};
    const auto n = ::read(descriptor_, into.data(), into.size());
    if (n > 0) return {bytes, static_cast<std::size_t>(n)};
    if (n == 0) return {ended};
    if (errno == EINTR || errno == EAGAIN) continue;
    fault_ = words_of(errno);
    return {failed};
  }
}

std::optional<std::uint64_t> source::size() const noexcept {
  struct stat about {};
  if (descriptor_ < 0 || ::fstat(descriptor_, &about) != 0 || !S_ISREG(about.st_mode))
    return std::nullopt;
  return static_cast<std::uint64_t>(about.st_size);
}

bool source::is_keyboard() const noexcept {
  return descriptor_ == STDIN_FILENO && ::isatty(STDIN_FILENO) == 1;
}

outlet::outlet() noexcept = default;

outlet::outlet(const std::string& path, manner how) : path_{path}, written_{path} {
  struct stat about {};
  // A device or a pipe is written to; a file may not take its place.
  const bool is_file = ::stat(path.c_str(), &about) != 0 || S_ISREG(about.st_mode);
  if (how == manner::whole && is_file) written_ += ".part";
  const int clear = how == manner::whole ? O_TRUNC : 0;
  descriptor_ = ::open(written_.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC | clear, 0666);
  if (descriptor_ < 0) fail(errno);
  else if (how == manner::growing && ::fstat(descriptor_, &about) == 0 && about.st_size > 0)
    fail(EEXIST);
}

outlet::~outlet() {
  if (path_.empty() || descriptor_ < 0) return;
  ::close(descriptor_);
  if (written_ != path_) ::unlink(written_.c_str());
}

void outlet::fail(int error) {
  state_ = error == EPIPE ? state::closed_by_reader : state::failed;
  fault_ = words_of(error);
}

bool outlet::write(std::string_view text) noexcept {
  if (state_ != state::open) return false;
  if (write_all(descriptor_, text)) return true;
  fail(errno);
  return false;
}

bool outlet::keep() {
  if (state_ != state::open || path_.empty()) return state_ == state::open;
  const bool closed = ::close(descriptor_) == 0;
  descriptor_ = -1;
  if (closed && (written_ == path_ || std::rename(written_.c_str(), path_.c_str()) == 0))
    return true;
  fail(errno);
  return false;
}

void complain(std::string_view text) {
  std::string line = fmt::format("stilling: {}", text);
  if (!line.ends_with('\n')) line += '\n';
  if (kept_complaints != nullptr) *kept_complaints += line;
  else write_all(STDERR_FILENO, line);
}

void keep_complaints(std::string* in) noexcept { kept_complaints = in; }

bool may_colour(int descriptor) noexcept {
  const char* const against = std::getenv("NO_COLOR");
  const char* const terminal = std::getenv("TERM");
  return ::isatty(descriptor) == 1 && (against == nullptr || *against == '\0') &&
         (terminal == nullptr || std::strcmp(terminal, "dumb") != 0);
}

progress::progress(std::string_view name, std::optional<std::uint64_t> whole) noexcept
    : name_{name},
      whole_{whole.value_or(0)},
      next_{clock::now() + std::chrono::seconds{1}},
      wanted_{whole_ > 0 && ::isatty(STDERR_FILENO) == 1} {}

void progress::add(std::size_t bytes) {
  done_ += bytes;
  if (!wanted_ || clock::now() < next_) return;
  next_ = clock::now() + std::chrono::milliseconds{200};
  const auto percent = done_ < whole_ ? done_ * 100 / whole_ : 100;
  write_all(STDERR_FILENO, fmt::format("\r\x1b[K{}: {} % read", name_, percent));
  shown_ = true;
}

void progress::make_way() {
  if (shown_ && ::isatty(STDOUT_FILENO) == 1) clear();
}

void progress::clear() {
  if (shown_) write_all(STDERR_FILENO, "\r\x1b[K");
  shown_ = false;
}

}  // namespace stilling::command
