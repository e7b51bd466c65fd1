// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Limits of one's own, value by value in place of common practice, and an instrument's
// specification; in a file only.

#include <fmt/format.h>

#include <variant>

#include "log_settings.hpp"
#include "typed_reading.hpp"

namespace stilling::command {
namespace {

constexpr std::string_view silent = "none";

double read_percent(std::string_view text) {
  const auto q = read_quantity(text);
  if (q.unit == "%" || q.unit == "pct") return q.value / 100;
  throw refusal{fmt::format("'{}' is no percentage; write \"85 %\"", text)};
}

double read_figure_limit(figure f, std::string_view text) {
  switch (traits_of(f).kind) {
    case shown_as::temperature_difference: return read_warmer(text);
    case shown_as::ppm: return read_reading(channel::co, text).value.value;
    case shown_as::pressure_difference:
      return read_reading(channel::draft_breech, text).value.value;
    default: return read_percent(text);
  }
}

/// In the canonical unit of what the limit looks at.
double read_limit(const limit& of, std::string_view text) {
  if (const auto* c = std::get_if<channel>(&of.of)) return read_reading(*c, text).value.value;
  if (const auto* f = std::get_if<figure>(&of.of)) return read_figure_limit(*f, text);
  if (std::holds_alternative<stack_rate>(of.of)) return read_rate(channel::stack_temp, text);
  return read_whole_number(text, 0, highest_smoke);
}

}  // namespace

settings_list limit_settings(log_options& to) {
  auto& own = *to.own;
  settings_list all;
  all.push_back({.table = "limits",
                 .key = "basis",
                 .take = [&own](const words& said) { own.limits_basis = said[0]; }});
  for (const auto& row : residential_oil) {
    all.push_back({.table = "limits", .key = row.key, .take = [&to, row](const words& said) {
                     const auto value = said[0] == silent
                                            ? std::nullopt
                                            : std::optional{read_limit(row, said[0])};
                     to.shown.limits.set(row.key, value, to.own->keep(to.own->limits_basis));
                   }});
  }
  return all;
}

settings_list instrument_settings(log_options& to) {
  auto& own = *to.own;
  settings_list all;
  all.push_back({.table = "instrument",
                 .key = "name",
                 .take = [&own](const words& said) { own.instrument = said[0]; }});
  for (const auto c : all_channels) {
    all.push_back({.table = "instrument", .key = traits_of(c).name,
                   .take = [&to, c](const words& w) {
                     to.shown.how.instrument.set(c, read_instrument_error(c, w[0]));
                   }});
  }
  return all;
}

}  // namespace stilling::command
