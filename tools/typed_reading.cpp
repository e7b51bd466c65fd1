// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "typed_reading.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "stilling/combustion/air.hpp"
#include "stilling/combustion/derived.hpp"
#include "stilling/decoding/spelling.hpp"
#include "typed.hpp"

namespace stilling::command {
namespace {

constexpr std::size_t most_rows = 200;

std::string_view without_blanks(std::string_view text) {
  while (text.starts_with(' ')) text.remove_prefix(1);
  while (text.ends_with(' ')) text.remove_suffix(1);
  return text;
}

unit unit_of_reading(channel of, std::string_view name) {
  const auto kind = traits_of(of).kind;
  if (name.empty() && kind == quantity::volume_fraction)
    return of == channel::co || of == channel::no ? unit::ppm : unit::percent;
  if (const auto u = recognise_unit(name, kind)) return *u;
  if (name.empty()) throw refusal{fmt::format("write the unit behind it: {}", units_for(of))};
  throw refusal{fmt::format("'{}' is no unit of {}; it is {}", name, traits_of(of).name,
                            units_for(of))};
}

/// Not a number anyone can have read.
void check_plausible(channel of, double canonical, unit in) {
  const auto& range = traits_of(of);
  const bool gas = range.kind == quantity::volume_fraction;
  const double least = gas ? -1 : range.lowest, most = gas ? 1 : range.highest;
  if (canonical >= least && canonical <= most) return;
  throw refusal{fmt::format("no {} is below {:.6g} or above {:.6g} {}", range.name,
                            from_canonical(in, least), from_canonical(in, most),
                            traits_of(in).name)};
}

/// Where none was typed.
double usual_step(unit u) {
  if (traits_of(u).kind != quantity::temperature) return 1;
  return u == unit::fahrenheit ? 50 : 25;
}

struct unit_of_length {
  std::string_view name;
  double metres;
};

/// Metres per unit; the foot is exact.
double read_length_unit(std::string_view name) {
  constexpr std::array<unit_of_length, 4> units{
      {{"m", 1}, {"ft", 0.3048}, {"feet", 0.3048}, {"foot", 0.3048}}};
  for (const auto& u : units)
    if (name == u.name) return u.metres;
  throw refusal{"write the unit behind it: 30ft or 9m"};
}

}  // namespace

std::string_view units_for(channel of) {
  constexpr std::array<std::string_view, 3> all{"degF, degC or K", "pct, ppm or fraction",
                                                "inH2O, Pa, hPa, mbar or mmH2O"};
  return all[static_cast<std::size_t>(traits_of(of).kind)];
}

typed_reading read_reading(channel of, std::string_view text) {
  const auto x = read_estimate(text);
  const unit u = unit_of_reading(of, x.unit);
  const double canonical = to_canonical(u, x.value);
  check_plausible(of, canonical, u);
  return {{canonical, difference_to_canonical(u, x.standard_uncertainty)}, u};
}

std::optional<typed_range> read_range(channel of, std::string_view text) {
  const auto dots = text.find("..");
  if (dots == std::string_view::npos) return std::nullopt;
  auto rest = text.substr(dots + 2);
  const auto colon = rest.find(':');
  typed_range r;
  const auto first = read_quantity(without_blanks(text.substr(0, dots)));
  const auto last = read_quantity(without_blanks(rest.substr(0, colon)));
  r.first = first.value;
  r.last = last.value;
  std::string_view name = last.unit.empty() ? first.unit : last.unit;
  if (colon != std::string_view::npos) {
    const auto step = read_quantity(without_blanks(rest.substr(colon + 1)));
    r.step = step.value;
    if (name.empty()) name = step.unit;
  }
  r.in = unit_of_reading(of, without_blanks(name));
  if (colon == std::string_view::npos) r.step = usual_step(r.in);
  if (!(r.first < r.last)) throw refusal{"a range goes up: 3..9"};
  if (!(r.step > 0)) throw refusal{"the step of a range is above 0: 3..9:0.5"};
  if ((r.last - r.first) / r.step > static_cast<double>(most_rows))
    throw refusal{
        fmt::format("that is more than {} steps; take a longer one: 3..9:0.5", most_rows)};
  check_plausible(of, to_canonical(r.in, r.first), r.in);
  check_plausible(of, to_canonical(r.in, r.last), r.in);
  return r;
}

instrument_error read_instrument_error(channel of, std::string_view text) {
  constexpr std::string_view either = " or ", share = "of reading";
  constexpr std::array<std::string_view, 3> examples{"2 degF or 0.5 % of reading", "0.2 pct",
                                                     "0.002 inH2O"};
  const bool ppm = of == channel::co || of == channel::no;
  const auto example =
      ppm ? std::string_view{"5 ppm or 5 % of reading"}
          : examples[static_cast<std::size_t>(traits_of(of).kind)];
  instrument_error e;
  std::optional<unit> in;
  for (bool more = true; more;) {
    const auto end = text.find(either);
    auto part = without_blanks(text.substr(0, end));
    more = end != std::string_view::npos;
    if (more) text.remove_prefix(end + either.size());
    if (part.ends_with(share)) {
      part.remove_suffix(share.size());
      e.share = read_share(without_blanks(part));
      if (!(e.share > 0 && e.share < 1)) throw refusal{"a share of the reading is 0 to 100 %"};
      continue;
    }
    const auto q = read_quantity(part);
    in = recognise_unit(q.unit, traits_of(of).kind);
    if (!in)
      throw refusal{fmt::format("'{}' is no error of {}; write \"{}\"", part, traits_of(of).name,
                                example)};
    if (!(q.value > 0)) throw refusal{"must be above 0"};
    e.bound = difference_to_canonical(*in, q.value);
  }
  const bool warmth = traits_of(of).kind == quantity::temperature;
  if (warmth && e.share > 0 && !in)
    throw refusal{fmt::format("of which scale? write \"{}\"", example)};
  if (warmth && in) e.scale_zero = to_canonical(*in, 0);
  return e;
}

estimate read_height(std::string_view text) {
  const auto x = read_estimate(text);
  const double metres = read_length_unit(x.unit);
  if (!(x.value > 0 && x.value * metres <= 500)) throw refusal{"no chimney is that high"};
  return {x.value * metres, x.standard_uncertainty * metres};
}

estimate read_outdoor_temperature(std::string_view text) {
  const auto x = read_estimate(text);
  const unit u = unit_of_reading(channel::ambient_temp, x.unit);
  const double kelvins = to_canonical(u, x.value);
  if (!(kelvins >= 200 && kelvins <= 340)) throw refusal{"no outdoor air is that cold or hot"};
  return {kelvins, difference_to_canonical(u, x.standard_uncertainty)};
}

estimate read_humidity(std::string_view text) {
  const auto x = read_estimate(text);
  const double scale = x.unit == "%" || x.unit == "pct" ? 0.01 : x.unit.empty() ? 1 : 0;
  if (scale == 0) throw refusal{"relative humidity is written \"40 %\" or 0.4"};
  if (!(x.value >= 0 && x.value * scale <= 1))
    throw refusal{"relative humidity is 0 to 100 %; write \"40 %\" or 0.4"};
  return {x.value * scale, x.standard_uncertainty * scale};
}

estimate read_altitude(std::string_view text) {
  const auto x = read_estimate(text);
  const double metres = x.value * read_length_unit(x.unit);
  if (!(metres >= -500 && metres <= 5000)) throw refusal{"nobody fires a burner at that height"};
  constexpr double weather = derive_options{}.barometer.standard_uncertainty;
  return {air::pressure_at_altitude(metres), weather};
}

}  // namespace stilling::command
