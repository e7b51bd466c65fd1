// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <string_view>

#include "stilling/decoding/encoding.hpp"
#include "stilling/items/record.hpp"
#include "stilling/stages/stage.hpp"

/// Bytes in, lines out. The first door: it knows line ends and encodings, and nothing of what a
/// line says. Cutting the bytes anywhere changes nothing.
///
/// A line ends with LF, CR LF or CR, whichever comes, also mixed; empty lines are counted and not
/// handed on, so a line end before the record does no harm. UTF-16 either way becomes UTF-8; a byte
/// order mark is dropped; all other bytes stay as they are. A run of `padding` or more NUL bytes
/// where a line would begin is what a power cut leaves in a file: it is passed over and counted in
/// the record that follows it; fewer are damage and stay in the text.
///
/// Memory is `Capacity` bytes whatever a line's length. Of a longer line runs of blanks are first
/// squeezed to one; if that is not enough the record holds the beginning and says so (`cut`).
namespace stilling {

template <std::size_t Capacity = 8192> class framer {
  static_assert(Capacity >= 64, "a line of readings would not fit");

 public:
  using emits = items<record>;
  static constexpr std::uint32_t padding = 4;

  constexpr framer() = default;

  template <class Sink> void push(const std::string_view& bytes, Sink&& sink) noexcept {
    encoding_.push(bytes, [&](std::string_view text) { frame_lines(text, sink); });
  }

  /// The stream is over: what has no line end yet is handed on, marked.
  template <class Sink> void finish(Sink&& sink) noexcept {
    release(sink);
    begin_anew(*this);
  }

  /// The stream broke and goes on, perhaps in the middle of a line. Lines go on counting.
  template <class Sink> void interrupt(const discontinuity&, Sink&& sink) noexcept {
    release(sink);
    const auto lines = lines_;
    begin_anew(*this);
    lines_ = lines;
  }

 private:
  template <class Sink> void release(Sink& sink) noexcept {
    encoding_.finish([&](std::string_view text) { frame_lines(text, sink); });
    if (held_ > 0 || nuls_ > 0) hand_on({held_text_.data(), held_}, sink, true);
  }

  template <class Sink> void frame_lines(std::string_view text, Sink& sink) noexcept {
    const char* p = text.data();
    const char* const end = p + text.size();
    if (after_cr_ && p != end) {
      if (*p == '\n') ++p;
      after_cr_ = false;
    }
    // Each kind of line end is looked for ahead of p once, not once per line.
    const char* lf = find('\n', p, end);
    const char* cr = find('\r', p, end);
    while (p != end) {
      if (held_ == 0 && *p == '\0') [[unlikely]] {
        ++nuls_, ++p;
        continue;
      }
      if (lf < p) lf = find('\n', p, end);
      if (cr < p) cr = find('\r', p, end);
      const char* const stop = lf < cr ? lf : cr;
      const auto length = static_cast<std::size_t>(stop - p);
      if (stop == end) {
        hold(p, length);
        return;
      }
      if (held_ == 0 && nuls_ == 0 && length <= Capacity) [[likely]] {
        hand_on({p, length}, sink);
      } else {
        hold(p, length);
        hand_on({held_text_.data(), held_}, sink);
      }
      p = stop + 1;
      if (stop == cr) {
        if (p == end) after_cr_ = true;
        else if (*p == '\n') ++p;
      }
    }
  }

  [[nodiscard]] static const char* find(char c, const char* p, const char* end) noexcept {
    const auto* at = p == end ? nullptr : std::memchr(p, c, static_cast<std::size_t>(end - p));
    return at != nullptr ? static_cast<const char*>(at) : end;
  }

  template <class Sink>
  void hand_on(std::string_view text, Sink& sink, bool unterminated = false) noexcept {
    ++lines_;
    // A few NULs alone on a line are nothing to read, whatever put them there.
    if (!text.empty() || nuls_ >= padding) {
      record r{.line = lines_, .text = text, .cut = cut_, .unterminated = unterminated};
      r.padding = nuls_;
      sink(r);
    }
    held_ = 0;
    nuls_ = 0;
    cut_ = squeezed_ = false;
  }

  void hold(const char* p, std::size_t length) noexcept {
    if (held_ == 0 && length > 0 && nuls_ > 0 && nuls_ < padding) {
      for (; nuls_ > 0; --nuls_) held_text_[held_++] = '\0';
    }
    while (length > 0 && !cut_) {
      const auto room = Capacity - held_;
      if (!squeezed_ && length <= room) {
        std::memcpy(held_text_.data() + held_, p, length);
        held_ += length;
        return;
      }
      if (!squeezed_) {
        std::memcpy(held_text_.data() + held_, p, room);
        p += room, length -= room;
        squeeze();
        continue;
      }
      for (; length > 0; ++p, --length) {
        if (*p == ' ' && held_ > 0 && held_text_[held_ - 1] == ' ') continue;
        if (held_ == Capacity) {
          cut_ = true;
          break;
        }
        held_text_[held_++] = *p;
      }
    }
  }

  void squeeze() noexcept {
    squeezed_ = true;
    held_ = 0;
    for (char c : held_text_)
      if (c != ' ' || held_ == 0 || held_text_[held_ - 1] != ' ') held_text_[held_++] = c;
  }

  encoding encoding_;
  std::array<char, Capacity> held_text_{};
  std::size_t held_ = 0;
  std::uint64_t lines_ = 0;
  std::uint32_t nuls_ = 0;
  bool after_cr_ = false;
  bool squeezed_ = false;
  bool cut_ = false;
};

static_assert(stage<framer<>> && accepts<framer<>, std::string_view> && interrupts<framer<>>);

}  // namespace stilling
