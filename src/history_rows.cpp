// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "history_rows.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::writing {
namespace {



bool any_has(std::span<const kept_test> tests, const followed& f) {
  return std::ranges::any_of(tests, [&](const kept_test& t) {
    return std::ranges::any_of(t.readings,
                               [&](const kept_reading& r) { return f.in(r).has_value(); });
  });
}

}  // namespace

std::string canonical_key(channel c) {
  return stilling::key_of(c, canonical_unit(traits_of(c).kind));
}

std::string canonical_key(figure f) {
  std::string key{traits_of(f).stem};
  switch (traits_of(f).kind) {
    case shown_as::temperature:
    case shown_as::temperature_difference: return key + "_K";
    case shown_as::percent:
    case shown_as::ppm: return key + "_fraction";
    case shown_as::pressure_difference:
    case shown_as::pressure: return key + "_Pa";
    case shown_as::ratio: return key;
    case shown_as::amount: return key + "_mol_per_kg";
    case shown_as::heat_capacity: return key + "_J_per_mol_K";
  }
  return key;
}

std::optional<followed_value> followed::in(const kept_reading& r) const {
  if (!of_channel) {
    const auto& y = r.figures[index_of(of_figure)];
    if (!y.value) return std::nullopt;
    return followed_value{*y.value, y.standard_uncertainty};
  }
  const auto c = *of_channel;
  if (!r.read.channels.has(c)) return std::nullopt;
  const auto& x = r.read.channels[c];
  followed_value out{x.mean, x.standard_uncertainty, x.degrees_of_freedom};
  // With the instrument's own error, where that was stated.
  if (r.used.has(c) && r.used[c].value == x.mean &&
      r.used[c].standard_uncertainty > x.standard_uncertainty)
    out = {x.mean, r.used[c].standard_uncertainty};
  return out;
}

shown_value followed::shown(const followed_value& x, bool is_difference,
                            const presentation& as) const {
  if (!of_channel)
    return writing::shown(of_figure, derived_value{x.value, x.standard_uncertainty, {}, {}}, as);
  const unit u = as.unit_of(*of_channel);
  const double value = is_difference ? difference_from_canonical(u, x.value)
                                     : from_canonical(u, x.value);
  const double expanded =
      coverage_factor * difference_from_canonical(u, x.standard_uncertainty);
  if (!(expanded > 0)) return {value, std::nullopt, usual_decimals(u)};
  return {value, expanded, decimals_below(expanded)};
}

std::vector<followed> all_followed(std::span<const kept_test> tests, const presentation& as) {
  std::vector<followed> all;
  const auto add = [&](followed f) {
    f.label = f.unit_name.empty() ? f.short_label
                                  : fmt::format("{}, {}", f.short_label, f.unit_name);
    const bool there = any_has(tests, f);
    if (there) all.push_back(std::move(f));
    return there;
  };
  const auto add_figure = [&](figure f, std::string_view label, int most, bool by_fuel) {
    return add({{}, std::string{label}, word_of(unit_of(f, as)), most, {}, f, by_fuel});
  };
  const auto add_channel = [&](channel c, int most) {
    return add({{}, std::string{label_of(c)}, word_of(traits_of(as.unit_of(c)).name), most, c});
  };
  const int draft_decimals = as.unit_of(channel::draft_breech) == unit::pascal ? 1 : 4;
  if (!add_figure(figure::net_stack_temp, "net stack temperature", 1, false))
    add_channel(channel::stack_temp, 1);
  if (!add_channel(channel::o2, 2)) add_figure(figure::o2, "O2 from CO2", 1, true);
  if (!add_channel(channel::co2, 2)) add_figure(figure::co2, "CO2 from O2", 1, true);
  if (!add_figure(figure::co_air_free, "CO air-free", 1, false)) add_channel(channel::co, 1);
  if (!add_figure(figure::efficiency_gross, "efficiency, gross", 1, true))
    add_figure(figure::efficiency_net, "efficiency, net", 1, true);
  add_channel(channel::draft_breech, draft_decimals);
  add_channel(channel::draft_overfire, draft_decimals);
  return all;
}

const kept_reading* reading_of(const kept_test& t, history::reading_of_test which) noexcept {
  if (t.readings.empty()) return nullptr;
  return which == history::reading_of_test::first ? &t.readings.front() : &t.readings.back();
}

difference change_between(const followed_value& earlier, const followed_value& later) noexcept {
  channel_reading a, b;
  a.mean = earlier.value, b.mean = later.value;
  a.standard_uncertainty = earlier.standard_uncertainty;
  b.standard_uncertainty = later.standard_uncertainty;
  a.degrees_of_freedom = earlier.freedom, b.degrees_of_freedom = later.freedom;
  return difference_of(a, b);
}

std::string value_of(const followed& f, const followed_value& x, const presentation& as) {
  return readable_figure(f.shown(x, false, as), f.most_decimals);
}

std::string change_of(const followed& f, const difference& d, const presentation& as) {
  const auto x = f.shown({d.value, d.expanded() / 2}, true, as);
  auto text = readable_figure(x, f.most_decimals);
  const auto number = std::string_view{text}.substr(0, text.find(' '));
  if (number.front() != '-' && number.find_first_not_of("0.") != std::string_view::npos)
    text.insert(0, 1, '+');
  return text;
}

bool is_real(const followed& f, const difference& d, const presentation& as) {
  const auto x = f.shown({d.value, d.expanded() / 2}, true, as);
  if (!x.u || !d.real()) return d.real();
  const auto [u, decimals] = readable_of(*x.u, f.most_decimals);
  double step = 1;
  for (int i = 0; i < decimals; ++i) step /= 10;
  return std::floor(std::abs(x.value) / step + 0.5) * step > u + step / 2;
}

std::vector<point> points_of(const followed& f, std::span<const kept_test> tests,
                             history::reading_of_test which) {
  std::vector<point> all;
  for (const auto& t : tests)
    if (const auto* r = reading_of(t, which))
      if (const auto x = f.in(*r)) all.push_back({&t, *x});
  return all;
}

bool comparable(const followed& f, const kept_test& a, const kept_test& b) {
  return !f.by_fuel || (a.fuel == b.fuel && a.method == b.method);
}

std::string trend_words(const followed& f, std::span<const point> all, const presentation& as) {
  constexpr double days_of_a_year = 365.2425;
  std::vector<dated_value> values;
  for (const auto& p : all)
    values.push_back({static_cast<double>(p.test->day) / days_of_a_year, p.at.value,
                      p.at.standard_uncertainty});
  const auto trend = trend_of(values);
  if (!trend) return {};
  for (const auto& p : all)
    if (!comparable(f, *p.test, *all.front().test)) return "not told, as fuel or method differ";
  const difference rate{trend->rate, trend->expanded / 2, 2};
  return fmt::format("{}, {} ({} in {:.1f} years)", change_of(f, rate, as),
                     is_real(f, rate, as) ? "more than chance" : "no more than chance",
                     counted(trend->tests, "test"), trend->years);
}

std::string counted(std::size_t n, std::string_view what) {
  return fmt::format("{} {}{}", n, what, n == 1 ? "" : "s");
}

std::string name_of_appliance(const kept_test& t) {
  const auto& a = t.about;
  std::string to = a.appliance.empty() ? "Appliance without a name" : printable(a.appliance);
  if (!a.site.empty()) to += ", " + printable(a.site);
  if (!a.customer.empty()) to += fmt::format(" ({})", printable(a.customer));
  return to;
}

std::vector<kind_found> kinds_found(const kept_test& t) {
  std::vector<kind_found> all;
  for (const auto& f : t.found) {
    const auto at = std::ranges::find_if(
        all, [&](const kind_found& k) { return k.newest->kind == f.kind; });
    if (at == all.end()) all.push_back({&f, 1});
    else at->newest = &f, ++at->times;
  }
  const auto rank = [](const kind_found& k) {
    return k.newest->severity == "danger" ? 0 : k.newest->severity == "warning" ? 1 : 2;
  };
  std::ranges::stable_sort(all, {}, rank);
  return all;
}

std::string smoke_words(double spot) {
  return spot > 0 && spot < 1 ? "trace" : fmt::format("{:.0f}", spot);
}

}  // namespace stilling::writing
