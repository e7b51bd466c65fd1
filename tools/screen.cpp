// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "screen.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <array>
#include <atomic>
#include <cerrno>
#include <csignal>
#include <string_view>

#include "cells.hpp"

namespace stilling::command {
namespace {

// ECMA-48 and DEC private modes; a terminal passes over those it does not know.
constexpr std::string_view enter =
    "\x1b[?1049h"  // a page of its own; what stood there comes back
    "\x1b[?7l"     // a line that is too long is cut, not continued
    "\x1b[?25l";   // no cursor
constexpr std::string_view give_back = "\x1b[0m\x1b[?7h\x1b[?25h\x1b[?1049l";
constexpr std::string_view begin_page = "\x1b[?2026h", end_page = "\x1b[?2026l";  // in one piece
constexpr std::array fatal{SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGQUIT, SIGTRAP};

// For the way out, which may be a signal's: nothing here but what async-signal-safe calls need.
struct taken_terminal {
  std::atomic<int> out{-1}, keyboard{-1};
  termios as_found{};
} taken;

void give_terminal_back() noexcept {
  const int error = errno;
  if (const int out = taken.out.exchange(-1); out >= 0)
    [[maybe_unused]] const auto n = ::write(out, give_back.data(), give_back.size());
  if (const int keyboard = taken.keyboard.exchange(-1); keyboard >= 0)
    ::tcsetattr(keyboard, TCSANOW, &taken.as_found);
  errno = error;
}

void end_by(int signal) {
  give_terminal_back();
  std::signal(signal, SIG_DFL);
  ::raise(signal);
}

}  // namespace

screen::screen(bool set_off) : set_off_{set_off} {
  // A description of our own: that it never waits must not hold for others who share the terminal.
  const char* const name = ::ttyname(STDOUT_FILENO);
  if (name != nullptr) out_ = ::open(name, O_WRONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (out_ < 0) out_ = ::fcntl(STDOUT_FILENO, F_DUPFD_CLOEXEC, 0);
  // The log may come on standard input; then the keys still come from the terminal.
  keyboard_ = ::open("/dev/tty", O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
  if (keyboard_ >= 0 && ::tcgetattr(keyboard_, &taken.as_found) != 0) {
    ::close(keyboard_);
    keyboard_ = -1;
  }
  taken.out = out_;
  if (keyboard_ >= 0) {
    taken.keyboard = keyboard_;
    termios how = taken.as_found;
    how.c_lflag &= ~static_cast<tcflag_t>(ICANON | ECHO | IEXTEN);
    how.c_iflag &= ~static_cast<tcflag_t>(IXON | ICRNL);
    // Stopping would lose rows, so Ctrl-Z does nothing; Ctrl-C ends the log as everywhere.
    how.c_cc[VSUSP] = _POSIX_VDISABLE;
    how.c_cc[VMIN] = 0;
    how.c_cc[VTIME] = 0;
    ::tcsetattr(keyboard_, TCSANOW, &how);
  }
  for (const int signal : fatal) std::signal(signal, end_by);
  std::signal(SIGTSTP, SIG_IGN);  // as Ctrl-Z
  waiting_ = enter;
  flush();
}

screen::~screen() {
  leave();
  for (const int signal : fatal) std::signal(signal, SIG_DFL);
  std::signal(SIGTSTP, SIG_DFL);
  if (out_ >= 0) ::close(out_);
  if (keyboard_ >= 0) ::close(keyboard_);
}

void screen::leave() noexcept {
  if (away_) return;
  away_ = true;
  // A page half written would hold the way out up; a terminal that takes nothing gets no more.
  for (int patience = 0; patience < 20 && !flush(); ++patience) {
    pollfd room{out_, POLLOUT, 0};
    ::poll(&room, 1, 50);
  }
  give_terminal_back();
}

screen::size screen::extent() const noexcept {
  winsize w{};
  if (::ioctl(out_, TIOCGWINSZ, &w) != 0 || w.ws_col == 0 || w.ws_row == 0) return {};
  return {w.ws_col, w.ws_row};
}

bool screen::flush() noexcept {
  while (!waiting_.empty()) {
    const auto n = ::write(out_, waiting_.data(), waiting_.size());
    if (n > 0) waiting_.erase(0, static_cast<std::size_t>(n));
    else if (n < 0 && errno == EINTR) continue;
    else if (n < 0 && errno == EAGAIN) return false;
    else waiting_.clear();  // no terminal any more; the log goes on
  }
  return true;
}

void screen::show(const std::vector<page_line>& page, std::optional<size> cursor) {
  if (away_ || !flush()) return;
  const auto now = extent();
  std::string to;
  if (now != size_before_) {
    to += "\x1b[0m\x1b[2J";
    before_.clear();
    size_before_ = now;
  }
  before_.resize(now.rows);
  for (std::size_t row = 0; row < now.rows; ++row) {
    const page_line line = row < page.size() ? page[row] : page_line{};
    if (line == before_[row]) continue;
    to += fmt::format("\x1b[{};1H", row + 1);
    // First what stands there goes: behind a line that fills the row there is no place to be.
    if (cells_of(line.text) < now.columns) to += "\x1b[K";
    using enum page_line::weight;
    if (line.is == alarm) to += "\x1b[7m";
    else if (line.is == strong && set_off_) to += "\x1b[1m";
    to += line.text;
    if (line.is != plain) to += "\x1b[0m";
    before_[row] = line;
  }
  if (to.empty() && cursor == cursor_before_) return;
  cursor_before_ = cursor;
  to += cursor ? fmt::format("\x1b[{};{}H\x1b[?25h", cursor->rows + 1, cursor->columns + 1)
               : std::string{"\x1b[?25l"};
  ((waiting_ += begin_page) += to) += end_page;
  flush();
}

void screen::ring() {
  if (!away_) waiting_ += '\a';
  flush();
}

std::string screen::keys() {
  std::array<char, 256> piece;
  std::string all;
  if (keyboard_ < 0 || away_) return all;
  for (;;) {
    const auto n = ::read(keyboard_, piece.data(), piece.size());
    if (n > 0) all.append(piece.data(), static_cast<std::size_t>(n));
    else if (n < 0 && errno == EINTR) continue;
    else return all;
  }
}

}  // namespace stilling::command
