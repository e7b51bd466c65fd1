// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Readings typed by hand and what follows from them, as one JSON object.

#include "text_figures.hpp"

#include <utility>

#include "text_json.hpp"
#include "text_number.hpp"

namespace stilling {

using namespace writing;

namespace writing {

void append_derived(std::string& to, const combustion& y, const presentation& as) {
  object all{to};
  for (const auto& traits : figure_table) {
    if (traits.working) continue;
    const auto& d = y[traits.is];
    // A figure that was measured stands among the readings; one nobody derives, nowhere.
    if (!d && (d.error() == undefined::oxygen_measured || d.error() == undefined::co2_measured ||
               d.error() == undefined::not_derived))
      continue;
    object one{all.key(writing::key_of(traits.is, as))};
    if (!d) {
      one.key("value") += "null";
      one.text("reason", name_of(d.error()));
      continue;
    }
    const auto value = shown(traits.is, *d, as);
    one.number("value", value.value, value.decimals);
    one.number("u", value.u, value.decimals);
    one.text("formula", name_of(d->by));
  }
}

}  // namespace writing

namespace {

constexpr int three_digits_of_pascals = 3;

void append_estimate(std::string& to, double value, int decimals, double standard_uncertainty) {
  object o{to};
  o.number("value", value, decimals);
  const double u = writing::coverage_factor * standard_uncertainty;
  o.number("u", u, u > 0 ? decimals_below(u) : 0);
}

void append_inputs(std::string& to, const typed_test& t, const presentation& as) {
  const auto& y = t.figures;
  object o{to};
  o.text("fuel", as.burned->name);
  o.text("method", name_of(y.by));
  for (const auto c : all_channels) {
    if (!y.inputs.has(c)) continue;
    const unit u = as.unit_of(c);
    const auto& x = y.inputs[c];
    append_estimate(o.key(stilling::key_of(c, u)), from_canonical(u, x.value), all_decimals(u),
                    difference_from_canonical(u, x.standard_uncertainty));
  }
  if (y.humidity)
    append_estimate(o.key("humidity_pct"), 100 * y.humidity->value, all_decimals(unit::percent),
                    100 * y.humidity->standard_uncertainty);
  else o.key("humidity_pct") += "null";
  append_estimate(o.key("barometer_Pa"), y.barometer.value, three_digits_of_pascals,
                  y.barometer.standard_uncertainty);
  if (y.flue) {
    append_estimate(o.key("chimney_height_m"), y.flue->height.value, 9,
                    y.flue->height.standard_uncertainty);
    const unit u = as.unit_of(channel::ambient_temp);
    append_estimate(o.key(std::string{"outdoor_temp_"} += traits_of(u).name),
                    from_canonical(u, y.flue->outdoor.value), all_decimals(u),
                    difference_from_canonical(u, y.flue->outdoor.standard_uncertainty));
  }
  if (t.room_co)
    append_estimate(o.key("room_co_ppm"), 1e6 * t.room_co->value, all_decimals(unit::ppm),
                    1e6 * t.room_co->standard_uncertainty);
  o.number("smoke_number", t.also.smoke, 1);
  o.key("absorption_kit") += t.also.absorption_kit ? "true" : "false";
}

}  // namespace

void jsonl::write(std::string& to, const typed_test& t, const presentation& as) {
  {
    object o{to};
    append_inputs(o.key("inputs"), t, as);
    append_derived(o.key("derived"), t.figures, as);
    o.key("findings") += '[';
    bool first = true;
    for (const auto& f : t.found) {
      if (!std::exchange(first, false)) to += ',';
      append_finding(to, f, as);
    }
    to += ']';
  }
  to += '\n';
}

}  // namespace stilling
