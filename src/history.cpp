// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/history.hpp"

#include <algorithm>
#include <utility>

#include "history_rows.hpp"
#include "text_number.hpp"

namespace stilling {
namespace {

using namespace writing;

/// Before this a time is one since the log began, not a date; seconds, March 1973.
constexpr std::int64_t least_calendar_time = 100'000'000;
constexpr std::int64_t seconds_of_a_day = 86'400;

constexpr std::array<particular, 14> particular_table{{
    {"company", "company", &particulars::company},
    {"technician", "technician", &particulars::technician},
    {"phone", "phone", &particulars::phone},
    {"customer", "customer", &particulars::customer},
    {"site", "site", &particulars::site},
    {"date", "date", &particulars::date},
    {"appliance", "appliance", &particulars::appliance},
    {"burner", "burner", &particulars::burner},
    {"nozzle", "nozzle", &particulars::nozzle},
    {"pump_pressure", "pump pressure", &particulars::pump_pressure},
    {"instrument", "instrument", &particulars::instrument},
    {"instrument_serial", "its serial number", &particulars::instrument_serial},
    {"calibrated", "calibrated", &particulars::calibrated},
    {"remarks", "remarks", &particulars::remarks},
}};

std::string key_of(const subject& of) {
  if (const auto* c = std::get_if<channel>(&of))
    return canonical_key(*c);
  if (const auto* f = std::get_if<figure>(&of)) return canonical_key(*f);
  return std::holds_alternative<smoke_spot>(of) ? "smoke_number" : "stack_temp_K_per_s";
}

kept_finding kept_of(instant at, const observation& o, const presentation& as) {
  auto key = canonical_key(o.of);
  if (o.is_rate) key += "_per_s";
  return {at,       std::string{advice_on(o.what).name}, std::string{name_of(severity_of(o))},
          key,      o.value,
          o.standard_uncertainty, o.limit, {}, brief_words_of(o, as), words_of(o, as)};
}

kept_finding kept_of(instant at, const finding& f, const presentation& as) {
  return {at,       std::string{advice_on(f.what).name}, std::string{name_of(f.grave)},
          key_of(f.of), f.value, f.standard_uncertainty, f.limit, std::string{f.basis},
          brief_words_of(f, as), words_of(f, as)};
}

kept_reading kept_of(const settled_row& row, const visit& test) {
  kept_reading out;
  out.read = row.read;
  out.used = row.figures.inputs;
  for (const auto& f : figure_table) {
    const auto& y = row.figures[f.is];
    auto& to = out.figures[index_of(f.is)];
    if (y) to = {y->value, y->standard_uncertainty, std::string{name_of(y->by)}};
    else to = {std::nullopt, 0, std::string{name_of(y.error())}};
  }
  if (row.smoke) {
    const auto spot = test.notes()[*row.smoke].what();
    out.smoke = spot.trace ? 0.5 : spot.smoke;
  }
  for (const auto i : row.moves) out.moves.push_back(test.notes()[i].text);
  return out;
}

}  // namespace

std::string written_day(std::int64_t since_1970) {
  const std::chrono::year_month_day date{
      std::chrono::sys_days{std::chrono::days{static_cast<int>(since_1970)}}};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

std::optional<std::int64_t> day_of(std::string_view text) noexcept {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  int parts[3]{};
  std::size_t part = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (i == 4 || i == 7) {
      ++part;
      continue;
    }
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
    parts[part] = 10 * parts[part] + (text[i] - '0');
  }
  const std::chrono::year_month_day date{std::chrono::year{parts[0]},
                                         std::chrono::month{static_cast<unsigned>(parts[1])},
                                         std::chrono::day{static_cast<unsigned>(parts[2])}};
  if (!date.ok()) return std::nullopt;
  return std::chrono::sys_days{date}.time_since_epoch().count();
}

std::optional<std::int64_t> day_of(instant t) noexcept {
  const std::int64_t s = t.time_since_epoch().count() / nanoseconds_per_second;
  if (s < least_calendar_time) return std::nullopt;
  return s / seconds_of_a_day;
}

std::span<const particular> all_particulars() noexcept { return particular_table; }

kept_test kept(const visit& test, const log_summary& summary, const presentation& as) {
  kept_test out;
  out.version = version();
  out.fuel = test.burned().name;
  out.method = name_of(as.how.by);
  out.outcome = name_of(summary.came_to());
  out.rows = summary.rows;
  out.frames = summary.frames;
  out.rejected = summary.rejections();
  out.columns = as.columns;
  out.units = as.units;
  for (const auto& row : test.rows()) out.readings.push_back(kept_of(row, test));
  for (const auto& d : test.found())
    out.found.push_back(std::visit([&](const auto& w) { return kept_of(d.at, w, as); }, d.what));
  for (const auto& n : test.notes()) out.notes.push_back({n.at, n.text});
  out.assumptions = summary.questions_and_assumptions();
  return out;
}

bool same_appliance(const kept_test& a, const kept_test& b) noexcept {
  const auto place = [](const kept_test& t) -> const std::string& {
    return t.about.site.empty() ? t.about.customer : t.about.site;
  };
  return a.about.appliance == b.about.appliance && place(a) == place(b) &&
         a.about.site.empty() == b.about.site.empty();
}

presentation history::shown_together(std::span<const kept_test> tests, presentation as) {
  const auto newest = std::ranges::max_element(tests, {}, &kept_test::day);
  if (newest == tests.end()) return as;
  as.columns = {};
  for (const auto& t : tests) as.columns = as.columns | t.columns;
  as.units = newest->units;
  // That it was stated, not how large it is: what was kept has it in.
  const auto states = [](const kept_test& t) {
    return t.settings.find("[instrument]\n") != std::string::npos;
  };
  if (std::ranges::all_of(tests, states)) as.how.instrument.set(channel::stack_temp, {});
  for (const auto c : all_channels) {
    const auto kind = traits_of(c).kind;
    auto& u = as.units[index_of(c)];
    // What the newest has no column for, in the unit it last had.
    for (const auto& t : tests)
      if (!newest->columns.contains(c) && t.columns.contains(c)) u = t.units[index_of(c)];
    if (kind == quantity::temperature && as.temperatures) u = *as.temperatures;
    if (kind == quantity::pressure_difference && as.pressures) u = *as.pressures;
  }
  return as;
}

}  // namespace stilling
