// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <string>
#include <string_view>

#include "report_parts.hpp"

/// Parts of a report as elements of a page. Private to src/.
namespace stilling::reporting {

/// All rules of the page, those of its pictures among them.
[[nodiscard]] std::string_view page_style();

/// A sentence: what is marked up, and places to write on made such.
[[nodiscard]] std::string phrasing(std::string_view text);

void put_part(std::string& to, const part& p, std::string_view heading);

}  // namespace stilling::reporting
