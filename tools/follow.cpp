// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "follow.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <utility>

namespace stilling::command {
namespace {

/// Short beside the second between two rows; long enough to cost nothing.
constexpr std::chrono::milliseconds between_looks{100};

bool same_file(const struct stat& a, const struct stat& b) noexcept {
  return a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

}  // namespace

followed_file::followed_file(std::string_view path) : path_{path} {
  if (open()) complain(fmt::format("{}: following; Ctrl-C ends the log", path_));
  else if (fault_.empty()) complain(fmt::format("{}: waiting for it; Ctrl-C ends the log", path_));
}

followed_file::~followed_file() {
  if (descriptor_ >= 0) ::close(descriptor_);
}

bool followed_file::open() {
  const int descriptor = ::open(path_.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (descriptor < 0) {
    // A new one may get its permissions a moment after its name.
    if (errno != ENOENT && !followed_) fault_ = words_of(errno);
    return false;
  }
  ::fstat(descriptor, &about_);
  if (!S_ISREG(about_.st_mode)) {
    ::close(descriptor);
    if (!followed_)
      fault_ = "it is no file; a pipe is read without --follow, a serial device by --device";
    return false;
  }
  if (descriptor_ >= 0) ::close(descriptor_);
  descriptor_ = descriptor;
  offset_ = tail_size_ = 0;
  replaced_ = false;
  return true;
}

followed_file::seen followed_file::look_at_path() const noexcept {
  struct stat there {};
  if (::stat(path_.c_str(), &there) != 0) return seen::nothing;
  if (same_file(there, about_)) return seen::the_same;
  // An empty one may have been made for a writer that has not moved over yet.
  return there.st_size > 0 ? seen::a_new_one : seen::nothing;
}

bool followed_file::was_rewritten() {
  struct stat now {};
  if (::fstat(descriptor_, &now) != 0) return false;
  const auto was = std::exchange(about_, now);
  if (static_cast<std::uint64_t>(now.st_size) < offset_) return true;
  if (now.st_size == was.st_size && now.st_mtim.tv_sec == was.st_mtim.tv_sec &&
      now.st_mtim.tv_nsec == was.st_mtim.tv_nsec)
    return false;
  // It may have been emptied and have grown beyond the offset before anyone looked.
  std::array<char, sizeof tail_> there;
  const auto n =
      ::pread(descriptor_, there.data(), tail_size_, static_cast<off_t>(offset_ - tail_size_));
  return n != static_cast<ssize_t>(tail_size_) ||
         std::memcmp(there.data(), tail_.data(), tail_size_) != 0;
}

void followed_file::remember(std::span<const char> read) noexcept {
  offset_ += read.size();
  if (read.size() >= tail_.size()) {
    std::ranges::copy(read.last(tail_.size()), tail_.begin());
    tail_size_ = tail_.size();
    return;
  }
  const auto kept = std::min(tail_size_, tail_.size() - read.size());
  std::copy(tail_.begin() + static_cast<std::ptrdiff_t>(tail_size_ - kept),
            tail_.begin() + static_cast<std::ptrdiff_t>(tail_size_), tail_.begin());
  std::ranges::copy(read, tail_.begin() + static_cast<std::ptrdiff_t>(kept));
  tail_size_ = kept + read.size();
}

portion followed_file::read(std::span<char> into, std::optional<std::chrono::milliseconds> wait) {
  using enum portion::state;
  const auto asked = std::chrono::steady_clock::now();
  for (;;) {
    if (!fault_.empty()) return {failed};
    if (stop_wished()) return {ended};
    if (descriptor_ >= 0 || open()) {
      if (was_rewritten()) {
        ::lseek(descriptor_, 0, SEEK_SET);
        offset_ = tail_size_ = 0;
        return {torn};
      }
      const auto n = ::read(descriptor_, into.data(), into.size());
      if (n < 0 && errno != EINTR) fault_ = words_of(errno);
      if (n > 0) {
        remember(into.first(static_cast<std::size_t>(n)));
        return {bytes, static_cast<std::size_t>(n)};
      }
      followed_ = true;
      if (replaced_ && open()) return {torn};
      if (n == 0 && !replaced_ && look_at_path() == seen::a_new_one) {
        replaced_ = true;
        continue;
      }
    }
    if (wait && std::chrono::steady_clock::now() - asked >= *wait) return {quiet};
    if (wait_for(-1, between_looks) == wake::stopped) return {ended};
  }
}

}  // namespace stilling::command
