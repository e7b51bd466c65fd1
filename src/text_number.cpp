// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "text_number.hpp"

#include <cmath>

namespace stilling::writing {
namespace {

shown_value with_uncertainty(double value, double standard, int usual) {
  const double u = coverage_factor * standard;
  if (!(u > 0)) return {value, std::nullopt, usual};
  return {value, u, decimals_below(u)};
}

/// A code point of UTF-8 at the front; 0 where there is none.
std::size_t utf8_length(std::string_view s) noexcept {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(s[i]); };
  const unsigned lead = byte(0);
  const std::size_t n = lead < 0x80   ? 1
                        : lead < 0xC2 ? 0
                        : lead < 0xE0 ? 2
                        : lead < 0xF0 ? 3
                        : lead < 0xF5 ? 4
                                      : 0;
  if (n == 0 || n > s.size()) return 0;
  for (std::size_t i = 1; i < n; ++i)
    if ((byte(i) & 0xC0U) != 0x80) return 0;
  if ((lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xED && byte(1) > 0x9F) ||
      (lead == 0xF0 && byte(1) < 0x90) || (lead == 0xF4 && byte(1) > 0x8F))
    return 0;
  return n;
}

}  // namespace

int usual_decimals(unit u) noexcept {
  switch (u) {
    case unit::kelvin:
    case unit::celsius:
    case unit::fahrenheit:
    case unit::pascal:
    case unit::millimetre_of_water: return 3;
    case unit::percent:
    case unit::ppm:
    case unit::hectopascal:
    case unit::millibar: return 4;
    case unit::inch_of_water: return 5;
    case unit::fraction: return 9;
  }
  return 9;
}

void append_seconds(std::string& to, instant t) {
  const std::int64_t ns = t.time_since_epoch().count();
  // The lowest integer has no positive twin.
  const std::uint64_t size =
      ns < 0 ? 0 - static_cast<std::uint64_t>(ns) : static_cast<std::uint64_t>(ns);
  constexpr auto per_second = static_cast<std::uint64_t>(nanoseconds_per_second);
  if (ns < 0) to += '-';
  put(to, "{}", size / per_second);
  if (size % per_second == 0) return;
  put(to, ".{:09}", size % per_second);
  to.erase(to.find_last_not_of('0') + 1);
}

void append_fixed(std::string& to, double x, int decimals) {
  const auto start = to.size();
  put(to, "{:.{}f}", x, decimals);
  if (to[start] == '-' && to.find_first_not_of("-0.", start) == std::string::npos)
    to.erase(start, 1);
}

void append_rounded(std::string& to, double x, int decimals) {
  const auto start = to.size();
  append_fixed(to, x, decimals);
  if (to.find('.', start) == std::string::npos) return;
  to.erase(to.find_last_not_of('0') + 1);
  if (to.back() == '.') to.pop_back();
}

int leading_power(double x) {
  // Rounded to one digit first, so that 0.0996 counts as 0.1; the exponent follows the 'e'.
  char text[32];
  const auto end = fmt::format_to_n(text, sizeof text - 1, "{:.0e}", x < 0 ? -x : x);
  int power = 0;
  bool negative = false, after = false;
  for (std::size_t i = 0; i < end.size; ++i) {
    if (text[i] == 'e') after = true;
    else if (after && text[i] == '-') negative = true;
    else if (after && text[i] >= '0' && text[i] <= '9') power = 10 * power + (text[i] - '0');
  }
  return negative ? -power : power;
}

int decimals_below(double u) {
  const int d = 2 - leading_power(u);
  return d < 0 ? 0 : d > 12 ? 12 : d;
}

int all_decimals(unit u) noexcept { return usual_decimals(u) + 6; }

shown_value shown(channel c, const channel_reading& r, const presentation& as) {
  const unit u = as.unit_of(c);
  double standard = r.standard_uncertainty;
  if (as.how.instrument.has(c))
    standard = combine({{standard}, as.how.instrument[c].of(r.mean)}).standard;
  return with_uncertainty(from_canonical(u, r.mean), difference_from_canonical(u, standard),
                          usual_decimals(u));
}

namespace {

/// The unit a figure is written in, and whether its zero is the scale's own.
struct figure_unit {
  unit as;
  std::string_view name;
  bool is_point = false;
};

figure_unit unit_for(figure f, const presentation& as) noexcept {
  const auto of = [](unit u) { return figure_unit{u, traits_of(u).name}; };
  switch (traits_of(f).kind) {
    case shown_as::temperature: {
      auto point = of(as.unit_of(channel::stack_temp));
      point.is_point = true;
      return point;
    }
    case shown_as::temperature_difference: return of(as.unit_of(channel::stack_temp));
    case shown_as::percent: return of(unit::percent);
    case shown_as::ppm: return of(unit::ppm);
    case shown_as::pressure_difference: return of(as.unit_of(channel::draft_breech));
    case shown_as::pressure: return of(unit::pascal);
    case shown_as::ratio: return {unit::fraction, {}};
    case shown_as::amount: return {unit::fraction, "mol_per_kg"};
    case shown_as::heat_capacity: return {unit::fraction, "J_per_mol_K"};
  }
  return {unit::fraction, {}};
}

}  // namespace

shown_value shown(figure f, const derived_value& d, const presentation& as) {
  const auto [u, name, is_point] = unit_for(f, as);
  return with_uncertainty(
      is_point ? from_canonical(u, d.value) : difference_from_canonical(u, d.value),
      difference_from_canonical(u, d.standard_uncertainty), usual_decimals(u));
}

std::string_view unit_of(figure f, const presentation& as) noexcept { return unit_for(f, as).name; }

std::string key_of(figure f, const presentation& as) {
  std::string key{traits_of(f).stem};
  if (const auto u = unit_of(f, as); !u.empty()) (key += '_') += u;
  return key;
}

void append_printable(std::string& to, std::string_view text) {
  while (!text.empty()) {
    const auto n = utf8_length(text);
    const auto c = static_cast<unsigned char>(text[0]);
    // U+0080 to U+009F steer a terminal as the bytes below 0x20 do.
    const bool second_set = n == 2 && c == 0xC2 && static_cast<unsigned char>(text[1]) < 0xA0;
    // U+2028 and U+2029 end a line for some readers.
    const bool line_end = text.starts_with("\xE2\x80\xA8") || text.starts_with("\xE2\x80\xA9");
    if (n == 0 || c < 0x20 || c == 0x7F || second_set || line_end) to += "\xEF\xBF\xBD";
    else to += text.substr(0, n);
    text.remove_prefix(n == 0 ? 1 : n);
  }
}

}  // namespace stilling::writing
