// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <chrono>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

// Where bytes come from and where text goes: files, standard input, pipes (serial devices and files
// that grow have a header of their own). And the wish of the person at the keyboard to stop, which
// ends every source as if its log ended there.

namespace stilling::command {

/// Makes Ctrl-C and a request to terminate end the sources, and a reader that closes our pipe a
/// failed write instead of a signal.
void arrange_signals() noexcept;
[[nodiscard]] bool stop_wished() noexcept;
/// As if Ctrl-C had been pressed.
void wish_to_stop() noexcept;

enum class wake : std::uint8_t { ready, quiet, stopped };
/// Until `descriptor` (-1: nothing) can be read or has failed, or that long; stopped: by the wish
/// of the person at the keyboard.
[[nodiscard]] wake wait_for(int descriptor,
                            std::optional<std::chrono::milliseconds> at_most) noexcept;
/// What the operating system calls it.
[[nodiscard]] std::string words_of(int error);

/// What a source has to give at a time.
struct portion {
  enum class state : std::uint8_t {
    bytes,
    quiet,      // nothing came for as long as was asked
    torn,       // what comes next does not continue the line under way
    reconnect,  // the source broke off, and goes on from here
    ended,
    failed,
  };
  state is = state::ended;
  std::size_t size = 0;
};

class source {
 public:
  /// `path` "-" or empty: standard input.
  explicit source(std::string_view path) noexcept;
  source(const source&) = delete;
  source& operator=(const source&) = delete;
  ~source();

  /// Whatever is there, at least one byte; `quiet` where nothing came for so long.
  [[nodiscard]] portion read(std::span<char> into, std::optional<std::chrono::milliseconds> wait);

  /// What the operating system said against it; empty: nothing.
  [[nodiscard]] std::string_view fault() const noexcept { return fault_; }
  /// Bytes of a plain file; none of anything else.
  [[nodiscard]] std::optional<std::uint64_t> size() const noexcept;
  [[nodiscard]] bool is_keyboard() const noexcept;

 private:
  int descriptor_ = -1;
  bool owned_ = false;
  std::string fault_;
};

/// One way out. Every write is complete when it returns.
class outlet {
 public:
  enum class state : std::uint8_t { open, closed_by_reader, failed };

  /// Standard output.
  outlet() noexcept;
  /// A file. `whole`: it appears under its name once `keep()` was called, complete or not at all
  /// (what is no file, such as /dev/stdout, is written to as it is).
  /// `growing`: every write is there at once, and nothing that was there before is overwritten.
  enum class manner : std::uint8_t { whole, growing };
  outlet(const std::string& path, manner how);
  outlet(const outlet&) = delete;
  outlet& operator=(const outlet&) = delete;
  ~outlet();

  bool write(std::string_view text) noexcept;
  bool keep();

  [[nodiscard]] state is() const noexcept { return state_; }
  [[nodiscard]] std::string_view fault() const noexcept { return fault_; }

 private:
  void fail(int error);

  int descriptor_ = 1;
  state state_ = state::open;
  std::string path_;     // empty: standard output
  std::string written_;  // the name while it is written
  std::string fault_;
};

/// `stilling: ...` on standard error.
void complain(std::string_view text);
/// While `in` is not null, complaints are kept there, a line each: a screen is up.
void keep_complaints(std::string* in) noexcept;
/// May text be set off by brightness? Only on a terminal, and not against the person's wish.
[[nodiscard]] bool may_colour(int descriptor) noexcept;

/// How far a long file is read, on a terminal's standard error.
class progress {
 public:
  progress(std::string_view name, std::optional<std::uint64_t> whole) noexcept;
  ~progress() { clear(); }
  progress(const progress&) = delete;
  progress& operator=(const progress&) = delete;
  void add(std::size_t bytes);
  void clear();
  /// Before anything is written to standard output, which may be the same terminal.
  void make_way();

 private:
  using clock = std::chrono::steady_clock;
  std::string name_;
  std::uint64_t whole_ = 0;
  std::uint64_t done_ = 0;
  clock::time_point next_;
  bool wanted_ = false;
  bool shown_ = false;
};

}  // namespace stilling::command
