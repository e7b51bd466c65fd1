// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "watch_says.hpp"

// The sentences of a watch as a web page. It needs nothing from elsewhere, runs nothing but a
// script of its own that fetches the newest, and without that script is loaded anew now and then.

namespace stilling::command {

/// Text as it may stand in HTML, between tags and in quoted attributes.
[[nodiscard]] std::string escaped(std::string_view text);
/// What changes while it runs, as one line of HTML.
[[nodiscard]] std::string page_body(const told& t);
/// The whole of it.
[[nodiscard]] std::string whole_page(const told& t);

extern const std::string_view page_script, page_style;

}  // namespace stilling::command
