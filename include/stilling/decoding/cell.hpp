// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stilling/decoding/spelling.hpp"
#include "stilling/decoding/written_number.hpp"

/// One cell: a number, perhaps with its unit behind it, a marker, or a bound. "No value", "above
/// what I can show" and a true 0 are kept apart; what is none of these is a fault, never a number.
namespace stilling {

struct cell {
  enum class verdict : std::uint8_t {
    value,
    missing,
    over_range,
    under_range,
    ambiguous,  // a comma or dot that could part decimals or thousands
    damaged,    // control bytes, or letters of no plain text
    faulty,     // text, but nothing of the above
  };
  verdict is = verdict::faulty;
  double value = 0;          // a value, or the bound of an out-of-range marker
  bool bounded = false;      // over or under range, and the cell names the bound
  std::optional<unit> as{};  // where the cell names a unit of its own
  char point = '\0';         // the decimal sign it proves
  bool grouped = false;      // its thousands are parted
  std::int32_t decimals = 0;
};

/// `text` is trimmed; `point` is the decimal sign the log has shown so far, '\0' for none yet.
[[nodiscard]] inline cell read_cell(std::string_view text, quantity kind, char point) noexcept {
  using enum cell::verdict;
  if (has_wide_letter(text)) [[unlikely]] {
    const plain_text plain{text};
    const auto spelled = trimmed(plain.view());
    if (plain.whole() && spelled != text) return read_cell(spelled, kind, point);
  }
  if (const auto m = find_marker(text))
    return {.is = *m == marker::missing ? missing : *m == marker::over ? over_range : under_range};

  const bool above = text.front() == '>';
  const bool bounded = above || text.front() == '<';
  if (bounded) text = trimmed(behind(text, behind(text, 1).starts_with('=') ? 2 : 1));

  const auto number = read_written_number(text, point);
  if (number.is == written_number::verdict::ambiguous) return {.is = ambiguous};
  if (number.is != written_number::verdict::number)
    return {.is = has_damage(text) ? damaged : faulty};

  cell out{.value = number.value,
           .bounded = bounded,
           .point = number.point,
           .grouped = number.grouped,
           .decimals = number.decimals};
  if (const auto rest = trimmed(behind(text, number.length)); !rest.empty()) {
    out.as = recognise_unit(rest, kind);
    if (!out.as) return {.is = has_damage(rest) ? damaged : faulty};
  }
  out.is = !bounded ? value : above ? over_range : under_range;
  return out;
}

}  // namespace stilling
