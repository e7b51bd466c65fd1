// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <algorithm>

#include "stilling/text.hpp"
#include "text_json.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling {
namespace {

using namespace writing;

struct written_interval {
  double middle = 0, low = 0, high = 0, half = 0;
};

written_interval in_unit(const likely& x, unit u) {
  const double low = from_canonical(u, x.low), high = from_canonical(u, x.high);
  return {from_canonical(u, x.middle), low, high, (high - low) / 2};
}

/// A whole number of seconds is as good as a forecast of time gets.
instant whole(instant t) noexcept {
  const auto s = t.time_since_epoch().count() / nanoseconds_per_second;
  return instant{duration{s * nanoseconds_per_second}};
}

void append_channel(std::string& to, const channel_forecast& f, unit u) {
  object o{to};
  o.text("fit", name_of(f.fit));
  const bool told = f.fit != forecast_fit::does_not_fit;
  const auto value = in_unit(f.value, u);
  const int decimals = value.half > 0 ? decimals_below(value.half) : 6;
  const auto number = [&](std::string_view key, double x) {
    o.number(key, told ? std::optional{x} : std::nullopt, decimals);
  };
  const auto time = [&](std::string_view key, instant t) {
    o.time(key, told ? std::optional{whole(t)} : std::nullopt);
  };
  number("value", value.middle);
  number("value_low", value.low);
  number("value_high", value.high);
  time("settles_at_s", f.settles);
  time("settles_at_low_s", f.settles_low);
  time("settles_at_high_s", f.settles_high);
  o.number("time_constant_s", told ? std::optional{f.time_constant} : std::nullopt, 0);
}

}  // namespace

namespace jsonl {

void write(std::string& to, const forecast& f, const presentation& as) {
  {
    object o{to};
    o.text("event", "forecast");
    o.time("time_s", f.at);
    o.number("confidence", 0.9, 1);
    object each{o.key("channels")};
    for (const auto c : all_channels)
      if (f.channels.has(c))
        append_channel(each.key(stilling::key_of(c, as.unit_of(c))), f.channels[c], as.unit_of(c));
  }
  to += '\n';
}

}  // namespace jsonl

namespace plain {

void write(std::string& to, const forecast& f, const presentation& as) {
  for (const auto c : all_channels) {
    if (!f.channels.has(c)) continue;
    const auto& x = f.channels[c];
    std::string said;
    if (x.fit == forecast_fit::does_not_fit) {
      put(said, "{} follows no single exponential; what was foretold does not hold", label_of(c));
    } else {
      const auto value = in_unit(x.value, as.unit_of(c));
      const int decimals = value.half > 0 ? std::clamp(-leading_power(value.half), 0, 6) : 0;
      if (x.fit == forecast_fit::if_no_slower_part) said += "if no slower part follows, ";
      put(said, "{} ", label_of(c));
      append_fixed(said, value.middle, decimals);
      put(said, " {} (", word_of(traits_of(as.unit_of(c)).name));
      append_fixed(said, value.low, decimals);
      said += " to ";
      append_fixed(said, value.high, decimals);
      // A moment that has passed is of no use to a person: the proof is what is still awaited.
      if (x.settles <= f.at) said += "), within its limit by now, not proven yet";
      else
        put(said, "), within its limit at {} ({} to {})", clock_of(x.settles),
            clock_of(x.settles_low), clock_of(x.settles_high));
    }
    append_course(to, f.at, "forecast", said);
  }
}

}  // namespace plain
}  // namespace stilling
