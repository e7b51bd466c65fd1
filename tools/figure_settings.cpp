// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How results are shown, and what the combustion figures are derived with.

#include <fmt/format.h>

#include <utility>

#include "log_settings.hpp"

namespace stilling::command {
namespace {

void read_shown_units(const words& names, presentation& to) {
  for (const auto& name : names) {
    if (const auto t = find_unit(name, quantity::temperature)) to.temperatures = t;
    else if (const auto p = find_unit(name, quantity::pressure_difference)) to.pressures = p;
    else
      throw refusal{fmt::format(
          "'{}' is no unit of temperature or draft; `stilling list channels` names them", name)};
  }
}

words fuel_names() {
  words names;
  for (const auto& f : fuel_table) names.emplace_back(f.name);
  return names;
}

words method_names() {
  words names;
  for (const auto m : all_methods) names.emplace_back(name_of(m));
  return names;
}

}  // namespace

settings_list shown_settings(log_options& to) {
  settings_list all;
  all.push_back({.heading = heading::showing,
                 .key = "show",
                 .option = "--show",
                 .is = setting::shape::list,
                 .type = "UNITS",
                 .about = "Show temperatures and drafts in these units: degC,Pa",
                 .take = [&](const words& said) { read_shown_units(said, to.shown); }});
  return all;
}

settings_list figure_settings(log_options& to) {
  settings_list all;
  all.push_back({.heading = heading::figures,
                 .key = "fuel",
                 .option = "--fuel",
                 .type = "NAME|FILE",
                 .about =
                     "What burns, see `stilling list fuels`, or a file with a [fuel] of your own",
                 .choices = fuel_names(),
                 .take = [&](const words& said) {
                   to.shown.burned = find_fuel(said[0]);
                   to.fuel_by_hand = true;
                 }});
  for (auto& one : fuel_settings(to)) all.push_back(std::move(one));
  all.push_back({.heading = heading::figures,
                 .key = "method",
                 .option = "--method",
                 .about = fmt::format("Where losses come from ({})", name_of(derive_options{}.by)),
                 .choices = method_names(),
                 .take = [&](const words& said) {
                   for (const auto m : all_methods)
                     if (name_of(m) == said[0]) to.shown.how.by = m;
                 }});
  all.push_back({.heading = heading::figures,
                 .key = "air_temp",
                 .option = "--air-temp",
                 .type = "TEMP",
                 .about = "Combustion air, in place of the log's: 70degF",
                 .take = [&](const words& said) {
                   to.shown.how.air_temp = read_air_temperature(said[0]);
                   to.air_temp = said[0];
                 }});
  all.push_back(
      {.heading = heading::figures,
       .key = "barometer",
       .option = "--barometer",
       .type = "PRESSURE",
       .about = "Absolute pressure on the site: 29.92inHg, 1013hPa (sea level)",
       .take = [&](const words& said) { to.shown.how.barometer = read_barometer(said[0]); },
       .excludes = {"--altitude"}});
  all.push_back(
      {.heading = heading::figures,
       .key = "altitude",
       .option = "--altitude",
       .type = "HEIGHT",
       .about = "Of the site above sea level, in place of a barometer: 5000ft",
       .take = [&](const words& said) { to.shown.how.barometer = read_altitude(said[0]); }});
  all.push_back(
      {.heading = heading::figures,
       .key = "humidity",
       .option = "--humidity",
       .type = "SHARE",
       .about = "Relative humidity of the combustion air: 40% (dry air)",
       .take = [&](const words& said) { to.shown.how.humidity = read_humidity(said[0]); }});
  // Their tables stand in files; log_words reads them.
  all.push_back({.heading = heading::figures,
                 .option = "--limits",
                 .type = "FILE",
                 .about = "Limits of your own, or the maker's, in place of common practice: a file "
                          "with [limits], see `stilling list limits`",
                 .take = [](const words&) {}});
  all.push_back({.heading = heading::figures,
                 .option = "--instrument",
                 .type = "FILE",
                 .about = "What the instrument's specification says of its error: a file with "
                          "[instrument]; it goes into every ±",
                 .take = [](const words&) {}});
  for (auto& one : limit_settings(to)) all.push_back(std::move(one));
  for (auto& one : instrument_settings(to)) all.push_back(std::move(one));
  return all;
}

}  // namespace stilling::command
