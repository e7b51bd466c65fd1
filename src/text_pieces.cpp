// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <algorithm>
#include <string>

#include "stilling/text.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::plain {
namespace {

using namespace writing;

/// One decimal more than the instrument shows: beyond that nobody reads.
int most_decimals(channel c, double canonical_step, const presentation& as) {
  const double step = difference_from_canonical(as.unit_of(c), canonical_step);
  return step > 0 ? std::max(1 - leading_power(step), 0) : 3;
}

std::string with_unit(std::string words, std::string_view unit_word) {
  return unit_word.empty() ? words : fmt::format("{} {}", words, unit_word);
}

/// "+0.9 ± 0.2"
std::string signed_words(double value, double u, int most) {
  std::string to;
  int decimals = most;
  double shown_u = u;
  if (u > 0) {
    const auto readable = readable_of(u, most);
    decimals = readable.decimals;
    shown_u = readable.u;
  }
  append_fixed(to, value, decimals);
  if (to.front() != '-' && to.find_first_not_of("0.") != std::string::npos) to.insert(0, 1, '+');
  if (!(u > 0)) return to;
  to += " ± ";
  append_fixed(to, shown_u, decimals);
  return to;
}

}  // namespace

std::string time_words(instant t) { return clock_of(t); }
std::string_view name_words(channel c) noexcept { return writing::label_of(c); }
std::string_view unit_words(unit u) noexcept { return writing::word_of(traits_of(u).name); }

std::string value_words(channel c, const channel_reading& r, const presentation& as) {
  const auto value = shown(c, r, as);
  return with_unit(readable_value(value, most_decimals(c, r.step, as)) + (value.u ? "" : " ± ?"),
                   unit_words(as.unit_of(c)));
}

std::string value_words(figure f, const derived_value& d, const presentation& as) {
  constexpr int most = 1;  // as the trade reads it aloud
  return with_unit(readable_figure(shown(f, d, as), f == figure::draft_difference ? 4 : most),
                   writing::word_of(writing::unit_of(f, as)));
}

std::string change_words(channel c, double value, double expanded, double step,
                         const presentation& as) {
  const unit u = as.unit_of(c);
  return with_unit(
      signed_words(difference_from_canonical(u, value), difference_from_canonical(u, expanded),
                   most_decimals(c, step, as)),
      unit_words(u));
}

std::string change_words(figure f, double value, double expanded, const presentation& as) {
  const derived_value by{value, expanded / writing::coverage_factor, {}, {}};
  const auto in_unit = shown(f, by, as);
  return with_unit(signed_words(in_unit.value, in_unit.u.value_or(0), 2),
                   writing::word_of(writing::unit_of(f, as)));
}

}  // namespace stilling::plain
