// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "typed.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

#include "stilling/decoding/spelling.hpp"

namespace stilling::command {
namespace {

struct unit_of_size {
  std::string_view name;
  double size;
};

/// What stands behind a ± is expanded uncertainty.
constexpr double coverage_factor = 2;

/// Where the uncertainty begins, and how long its sign is; size 0: there is none.
struct sign_at {
  std::size_t at = 0, size = 0;
};

sign_at find_sign(std::string_view text) {
  for (const std::string_view sign : {"\xC2\xB1", "\xB1", "+/-", "+-"})
    if (const auto at = text.find(sign); at != std::string_view::npos) return {at, sign.size()};
  return {};
}

std::string_view without_blanks(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

char in_lower_case(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c + 32) : c; }

/// Letters to be put in, taken out, changed or swapped with their neighbour (optimal string
/// alignment); capitals count for nothing.
std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), above(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const auto same = [&](std::size_t m, std::size_t n) {
        return in_lower_case(a[m - 1]) == in_lower_case(b[n - 1]);
      };
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (same(i, j) ? 0U : 1U)});
      if (i > 1 && j > 1 && same(i, j - 1) && same(i - 1, j))
        row[j] = std::min(row[j], before[j - 2] + 1);
    }
    before.swap(above);
    above.swap(row);
  }
  return above[b.size()];
}

}  // namespace

typed_quantity read_quantity(std::string_view text) {
  typed_quantity q;
  const auto [stop, error] =
      std::from_chars(text.data(), text.data() + text.size(), q.value, std::chars_format::fixed);
  if (error != std::errc{} || !std::isfinite(q.value))
    throw refusal{fmt::format("'{}' is no number", text)};
  const std::string_view number{text.data(), static_cast<std::size_t>(stop - text.data())};
  if (const auto point = number.find('.'); point != std::string_view::npos)
    for (auto i = point + 1; i < number.size(); ++i) q.step /= 10;
  q.unit = text.substr(number.size());
  while (q.unit.starts_with(' ')) q.unit.remove_prefix(1);
  return q;
}

typed_estimate read_estimate(std::string_view text) {
  const auto sign = find_sign(text);
  const auto number = read_quantity(without_blanks(sign.size > 0 ? text.substr(0, sign.at) : text));
  if (sign.size == 0) {
    // Known to its last digit: half a step either way, all values as likely.
    return {number.value, number.step / std::sqrt(12.0), without_blanks(number.unit)};
  }
  const auto u = read_quantity(without_blanks(text.substr(sign.at + sign.size)));
  if (!(u.value >= 0)) throw refusal{"what stands behind the ± is 0 or more"};
  const auto before = without_blanks(number.unit), behind = without_blanks(u.unit);
  if (!before.empty() && before != behind)
    throw refusal{fmt::format("'{}' and '{}': one unit for both, behind the ±", before, behind)};
  return {number.value, u.value / coverage_factor, behind};
}

double read_plain_number(std::string_view text) {
  const auto q = read_quantity(text);
  if (!q.unit.empty()) throw refusal{fmt::format("'{}' is no plain number", text)};
  return q.value;
}

int read_whole_number(std::string_view text, int least, int most) {
  int n = 0;
  const auto [stop, error] = std::from_chars(text.data(), text.data() + text.size(), n);
  if (error != std::errc{} || stop != text.data() + text.size() || n < least || n > most)
    throw refusal{fmt::format("'{}' is no whole number from {} to {}", text, least, most)};
  return n;
}

bool read_switch(std::string_view text) {
  if (text == "on" || text == "off") return text == "on";
  throw refusal{fmt::format("'{}' is neither on nor off", text)};
}

estimate read_air_temperature(std::string_view text) {
  const auto x = read_estimate(text);
  const auto u = find_unit(x.unit, quantity::temperature);
  if (!u) throw refusal{"write the unit behind it: 70degF, 21degC or 294K"};
  const double kelvins = to_canonical(*u, x.value);
  const auto& range = traits_of(channel::ambient_temp);
  if (!(kelvins >= range.lowest && kelvins <= range.highest))
    throw refusal{"no combustion air is that cold or hot"};
  return {kelvins, difference_to_canonical(*u, x.standard_uncertainty)};
}

estimate read_barometer(std::string_view text) {
  const auto x = read_estimate(text);
  // inHg: conventional, at 0 degC (NIST SP 811 B.8).
  constexpr std::array<unit_of_size, 5> units{
      {{"hPa", 100}, {"mbar", 100}, {"kPa", 1000}, {"Pa", 1}, {"inHg", 3386.389}}};
  for (const auto& u : units) {
    if (x.unit != u.name) continue;
    const double pascals = x.value * u.size;
    if (pascals >= 50e3 && pascals <= 110e3) return {pascals, x.standard_uncertainty * u.size};
    throw refusal{"no barometer shows that on the ground; give the absolute pressure"};
  }
  throw refusal{"write the unit behind it: 29.92inHg, 1013hPa or 101.3kPa"};
}

duration read_time(std::string_view text) {
  const auto q = read_quantity(text);
  constexpr std::array<unit_of_size, 5> units{
      {{"", 1}, {"s", 1}, {"ms", 0.001}, {"min", 60}, {"h", 3600}}};
  for (const auto& u : units) {
    if (q.unit != u.name) continue;
    if (const auto d = duration_from_seconds(q.value * u.size); d && *d >= duration{}) return *d;
    throw refusal{"must be 0 or more"};
  }
  throw refusal{"is a time such as 9s, 500ms or 1min"};
}

duration read_interval(std::string_view text) {
  if (!text.starts_with('-'))
    if (const auto d = read_time(text); d > duration{}) return d;
  throw refusal{"must be above 0"};
}

double read_share(std::string_view text) {
  const auto q = read_quantity(text);
  if (q.unit.empty()) return q.value;
  if (q.unit == "%" || q.unit == "pct") return q.value / 100;
  throw refusal{fmt::format("'{}' is no share; write 0.95 or \"95 %\"", text)};
}

double read_fraction(std::string_view text) {
  const auto q = read_quantity(text);
  if (const auto u = recognise_unit(q.unit, quantity::volume_fraction))
    return to_canonical(*u, q.value);
  throw refusal{fmt::format("'{}' has no unit of a gas; write 17.5 pct or 0.175 fraction", text)};
}

double read_warmer(std::string_view text) {
  const auto q = read_quantity(text);
  const auto u = recognise_unit(q.unit, quantity::temperature);
  if (!u)
    throw refusal{fmt::format("'{}' has no unit of temperature; write 45 degF or 25 K", text)};
  if (!(q.value > 0)) throw refusal{"must be above 0"};
  return difference_to_canonical(*u, q.value);
}

double read_rate(channel of, std::string_view text) {
  constexpr std::array<unit_of_size, 3> times{{{"s", 1}, {"min", 60}, {"h", 3600}}};
  constexpr std::array<std::string_view, 3> examples{"3 degF/min", "0.1 pct/min",
                                                     "0.005 inH2O/min"};
  const auto q = read_quantity(text);
  const auto kind = traits_of(of).kind;
  const auto stroke = q.unit.rfind('/');
  const auto u = recognise_unit(q.unit.substr(0, stroke), kind);
  for (const auto& t : times) {
    if (!u || stroke == std::string_view::npos || t.name != q.unit.substr(stroke + 1)) continue;
    const double per_second = difference_to_canonical(*u, q.value) / t.size;
    if (per_second > 0 && per_second < 1e12) return per_second;
    throw refusal{"must be above 0"};
  }
  const bool ppm = of == channel::co || of == channel::no;
  throw refusal{fmt::format("'{}' is no rate of {}; write \"{}\"", text, traits_of(of).name,
                            ppm ? "5 ppm/min" : examples[static_cast<std::size_t>(kind)])};
}

tolerance read_tolerance(channel of, std::string_view text) {
  constexpr std::array<std::string_view, 3> examples{"5 degF", "0.1 pct", "0.005 inH2O"};
  constexpr std::string_view either = " or ", share = " of mean";
  const auto kind = traits_of(of).kind;
  const bool ppm = of == channel::co || of == channel::no;
  tolerance t;
  t.in = canonical_unit(kind);
  for (bool more = true; more;) {
    const auto end = text.find(either);
    auto part = text.substr(0, end);
    more = end != std::string_view::npos;
    if (more) text.remove_prefix(end + either.size());
    while (part.starts_with(' ')) part.remove_prefix(1);
    if (part.ends_with(share)) {
      part.remove_suffix(share.size());
      t.share_of_mean = read_share(part);
      continue;
    }
    const auto q = read_quantity(part);
    const auto u = recognise_unit(q.unit, kind);
    if (!u)
      throw refusal{fmt::format("'{}' is no tolerance of {}; write \"{}\"", part,
                                traits_of(of).name,
                                ppm ? "1 ppm or 2 % of mean"
                                    : examples[static_cast<std::size_t>(kind)])};
    t.in = *u;
    t.absolute = q.value;
  }
  return t;
}

channel_set read_channels(const words& names) {
  channel_set set;
  for (const auto& name : names) {
    const auto c = find_channel(name);
    if (!c)
      throw refusal{fmt::format("'{}' is no channel; `stilling list channels` names them", name)};
    set.insert(*c);
  }
  return set;
}

column_rule read_rule(std::string_view text) {
  if (const auto rule = read_column_rule(text)) return *rule;
  throw refusal{fmt::format("'{}' is not NAME=CHANNEL:UNIT, as in 'Flue T=stack_temp:degF'", text)};
}

std::string joined(const words& those, std::string_view between) {
  std::string text;
  for (const auto& word : those) (text += &word == those.data() ? "" : between) += word;
  return text;
}

std::string_view nearest(std::string_view text, const std::vector<std::string_view>& known) {
  std::string_view best;
  std::size_t least = std::clamp<std::size_t>(text.size() / 3, 1, 5);
  for (const auto word : known) {
    const auto d = distance(text, word);
    if (d <= least && (best.empty() || d < least)) best = word, least = d;
  }
  return best;
}

}  // namespace stilling::command
