// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "screen.hpp"
#include "watch_says.hpp"

// The sentences of a watch on a page of so many columns and rows: a function that looks at nothing
// but what it is given. Where room is short, what can wait until the person stands nearer goes
// first, and danger last.

namespace stilling::command {

/// What stands below them.
struct page_foot {
  bool keys = true;          // there is a keyboard
  std::optional<std::string> typed;  // a note under way
  std::string hint;          // a word in passing
  std::string recorded_in, served_at;
  bool ended = false;
};

struct page {
  std::vector<page_line> lines;  // at most as many as asked for, none wider
  std::optional<screen::size> cursor;
};

[[nodiscard]] page lay_out(const told& t, const page_foot& foot, screen::size room, bool utf8);

/// The spirit level of a channel in so many cells.
[[nodiscard]] std::string drawn(const level& l, std::size_t cells, bool utf8);

}  // namespace stilling::command
