// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Readings typed by hand, with the unit and the uncertainty of each; in a settings file they stand
// under [readings].

#include <fmt/format.h>

#include <utility>

#include "log_settings.hpp"

namespace stilling::command {
namespace {

constexpr std::string_view table = "readings";

void take_reading(derive_request& to, channel c, std::string_view text) {
  const auto keep_unit = [&](unit u) {
    to.log.shown.units[index_of(c)] = u;
    to.log.shown.columns.insert(c);
  };
  if (const auto range = read_range(c, text)) {
    to.ranges.set(c, *range);
    to.read.clear(c);
    return keep_unit(range->in);
  }
  const auto typed = read_reading(c, text);
  to.read.set(c, typed.value);
  to.ranges.clear(c);
  keep_unit(typed.in);
}

}  // namespace

settings_list derive_settings(derive_request& to) {
  settings_list all;
  const auto add = [&](std::string_view key, std::string_view option, std::string type,
                       std::string about, std::function<void(std::string_view)> take) {
    all.push_back({.heading = heading::typed,
                   .table = table,
                   .key = key,
                   .option = option,
                   .type = std::move(type),
                   .about = std::move(about),
                   .take = [take = std::move(take)](const words& said) { take(said[0]); }});
  };
  const auto reading = [&](std::string_view key, std::string_view option, channel c,
                           std::string type, std::string about) {
    add(key, option, std::move(type), std::move(about),
        [&to, c](std::string_view text) { take_reading(to, c, text); });
  };
  reading("o2", "--o2", channel::o2, "O2", "Oxygen, dry: 5.0, 5.0±0.2 or 5.0+-0.2; percent");
  reading("co2", "--co2", channel::co2, "CO2", "Carbon dioxide, dry; may stand for O2; percent");
  reading("co", "--co", channel::co, "CO", "Carbon monoxide, dry, as measured: 20; ppm");
  add("room_co", "--room-co", "CO", "Carbon monoxide in the air of the room: 3; ppm",
      [&to](std::string_view text) { to.room_co = read_reading(channel::co, text).value; });
  reading("stack", "--stack", channel::stack_temp, "TEMP",
          "Flue gas in the breech, gross: 480degF");
  add("air", "--air", "TEMP", "Combustion air at the burner: 70degF", [&to](std::string_view text) {
    take_reading(to, channel::ambient_temp, text);
    to.log.shown.how.air_temp.reset();
  });
  reading("draft_breech", "--draft-breech", channel::draft_breech, "DRAFT",
          "Gauge pressure at the breech, suction negative: -0.04inH2O");
  reading("draft_overfire", "--draft-overfire", channel::draft_overfire, "DRAFT",
          "Gauge pressure over the fire: -0.02inH2O");
  add("draft_zero", "--draft-zero", "DRAFT",
      "What the gauge showed with its hose open; taken off both drafts",
      [&to](std::string_view text) {
        to.draft_zero = read_reading(channel::draft_breech, text).value;
      });
  add("smoke", "--smoke", "0-9|trace", "Smoke spot number", [&to](std::string_view text) {
    constexpr double trace = 0.5;  // between 0 and 1: our own choice
    to.also.smoke = text == "trace" ? trace : read_whole_number(text, 0, highest_smoke);
  });
  add("height", "--height", "LENGTH", "Chimney above the probe, for the draft it could make: 30ft",
      [&to](std::string_view text) { to.height = read_height(text); });
  add("outdoor", "--outdoor", "TEMP", "Outdoor air, for the same: 20degF",
      [&to](std::string_view text) { to.outdoor = read_outdoor_temperature(text); });
  all.push_back({.heading = heading::typed,
                 .table = table,
                 .key = "absorption_kit",
                 .option = "--absorption-kit",
                 .is = setting::shape::flag,
                 .about = "CO2 was read by a chemical-absorption kit: its limits are wider",
                 .take = [&to](const words& said) {
                   to.also.absorption_kit = read_switch(said[0]);
                 }});
  return all;
}

}  // namespace stilling::command
