// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

// A note while it is typed: a line, and short words for what is noted most.

namespace stilling::command {

/// What a typed line enters the log as: `air a quarter turn` is `adjusted air a quarter turn`,
/// `zero` is `draft zeroed`; a draft with a number behind it was read, not adjusted. What has no
/// short word stays as it was typed. See decoding/said.hpp.
[[nodiscard]] std::string note_meant_by(std::string_view typed);
/// The short words, for a screen.
inline constexpr std::string_view note_words =
    "Short words: air or draft (you moved it), smoke 1, smoke trace, oil, fresh air, in (the "
    "probe), zero (the draft gauge), on, off (the burner), reading. Or any words of your own.";

class typed_line {
 public:
  static constexpr std::size_t most = 160;  // bytes; what is beyond is not taken
  enum class state : std::uint8_t { open, entered, given_up };

  /// Takes keys, as a terminal sends them, up to the one that ends the line; returns how many bytes
  /// that was.
  std::size_t take(std::string_view keys);

  [[nodiscard]] state is() const noexcept { return is_; }
  [[nodiscard]] const std::string& text() const noexcept { return text_; }

 private:
  std::string text_;
  state is_ = state::open;
};

/// How many bytes of `keys` a key that sends several takes (arrows and the like: Esc [ …); 0: it
/// begins with no such key. One Esc alone is the key Esc.
[[nodiscard]] std::size_t length_of_sequence(std::string_view keys) noexcept;

}  // namespace stilling::command
