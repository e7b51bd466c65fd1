// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string_view>

#include "stilling/decoding/fields.hpp"

/// How a log says that its source broke off: a cable pulled, a file rotated away. The marks stand
/// in the log itself, so that a record replays to what was said live.
namespace stilling {

/// Ends a line that was broken off, or that lacks its beginning. It is the control character CAN,
/// which says that what stands before it is in error and not to be used (ECMA-48, 8.3.6).
inline constexpr char torn_line_mark = '\x18';

/// The note `# reconnect`: the source broke off here and goes on, perhaps in the middle of a line.
inline constexpr std::string_view reconnect_note = "reconnect";

[[nodiscard]] constexpr bool is_torn(std::string_view line) noexcept {
  return !line.empty() && line.back() == torn_line_mark;
}

/// Of a note, without its sign and its time.
[[nodiscard]] constexpr bool says_reconnect(std::string_view note) noexcept {
  return trimmed(note) == reconnect_note;
}

}  // namespace stilling
