// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <optional>
#include <string_view>

#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/number.hpp"
#include "stilling/items/layout.hpp"
#include "stilling/items/record.hpp"

/// A note line, `# 312.0 smoke trace`: what was said and, if it says so, when. A leading number is
/// a time in the unit of the log's time column and needs words behind it; `# 2` is a remark.
namespace stilling {

[[nodiscard]] constexpr bool is_note(std::string_view line) noexcept {
  return trimmed(line).starts_with('#');
}

[[nodiscard]] constexpr note read_note(std::string_view line, const time_column& time) noexcept {
  note out{.text = trimmed(trimmed(line).substr(1))};
  if (time.form != clock_form::number) return out;
  decimal d;
  const char* const first = out.text.data();
  const char* const end = first + out.text.size();
  const char* const stop = read_decimal(first, end, '.', d);
  if (stop == nullptr || stop == end || !is_blank(*stop)) return out;
  const auto ns = to_nanoseconds(d, time.in);
  if (!ns) return out;
  out.at = instant{duration{*ns}};
  out.text = trimmed(out.text.substr(static_cast<std::size_t>(stop - first)));
  return out;
}

}  // namespace stilling
