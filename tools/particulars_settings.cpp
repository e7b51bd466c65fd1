// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Who, where, on what and with what: what a report says beside measurements; in a file only.

#include <fmt/format.h>

#include <algorithm>

#include "log_settings.hpp"

namespace stilling::command {
namespace {

constexpr std::string_view table = "particulars";
constexpr std::size_t most_letters = 400;  // some lines of a page

/// Text to be printed; a line's end is a blank.
std::string read_text(std::string text) {
  std::ranges::replace(text, '\n', ' ');
  if (text.size() > most_letters)
    throw refusal{fmt::format("is longer than {} letters; say it shorter", most_letters)};
  return text;
}

/// "900 gal"
void read_use(std::string_view text, particulars& to) {
  const auto q = read_quantity(text);
  if (!(q.value > 0) || q.unit.empty())
    throw refusal{fmt::format("'{}' is no year's use of fuel; write \"900 gal\"", text)};
  to.use = yearly_use{q.value, {}};
  to.fuel_unit = q.unit;
}

/// "3.80 $/gal"
void read_price(std::string_view text, particulars& to) {
  const auto q = read_quantity(text);
  const auto stroke = q.unit.find('/');
  if (!(q.value > 0) || stroke == std::string_view::npos || stroke == 0)
    throw refusal{fmt::format("'{}' is no price of fuel; write \"3.80 $/gal\"", text)};
  if (!to.use) throw refusal{"says nothing without the year's use; add yearly_use = \"900 gal\""};
  const auto each = q.unit.substr(stroke + 1);
  if (each != to.fuel_unit)
    throw refusal{fmt::format("is per {}, but yearly_use is in {}; use one unit for both", each,
                              to.fuel_unit)};
  to.use->price = q.value;
  to.currency = q.unit.substr(0, stroke);
}

}  // namespace

settings_list particulars_settings(log_options& to) {
  auto& about = to.own->about;
  settings_list all;
  all.push_back({.heading = heading::report,
                 .option = "--particulars",
                 .type = "FILE",
                 .about = "Who, where, on what, with what: a file with [particulars]; what is not "
                          "said is left as a line to fill in",
                 .take = [](const words&) {}});
  const auto text = [&](std::string_view key, std::string& into) {
    all.push_back({.table = table, .key = key, .take = [&into](const words& said) {
                     into = read_text(said[0]);
                   }});
  };
  text("company", about.company);
  text("technician", about.technician);
  text("phone", about.phone);
  text("customer", about.customer);
  text("site", about.site);
  text("date", about.date);
  text("appliance", about.appliance);
  text("burner", about.burner);
  text("nozzle", about.nozzle);
  text("pump_pressure", about.pump_pressure);
  text("instrument", about.instrument);
  text("instrument_serial", about.instrument_serial);
  text("calibrated", about.calibrated);
  text("remarks", about.remarks);
  all.push_back({.table = table,
                 .key = "yearly_use",
                 .take = [&about](const words& said) { read_use(said[0], about); }});
  all.push_back({.table = table,
                 .key = "price",
                 .take = [&about](const words& said) { read_price(said[0], about); }});
  return all;
}

}  // namespace stilling::command
