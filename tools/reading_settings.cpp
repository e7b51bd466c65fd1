// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// How the log is read.

#include <fmt/format.h>

#include "log_settings.hpp"
#include "stilling/decoding/clock_format.hpp"
#include "stilling/decoding/header.hpp"
#include "zone.hpp"

namespace stilling::command {
namespace {

/// How often an unchanged row is said again: shorter than any window, long enough to cost nothing.
constexpr duration hold_of_unchanged = seconds(5);

void add_rules(const words& rules, decoder_settings& to) {
  for (const auto& text : rules)
    if (!to.add(read_rule(text)))
      throw refusal{fmt::format("takes {} names at most", to.rules.size())};
}

template <class Text> Text read_short(std::string_view text) {
  if (!Text::fits(text)) throw refusal{"is too long"};
  return text;
}

}  // namespace

settings_list reading_settings(log_options& to) {
  using enum setting::shape;
  auto& decoder = to.settings.decoder;
  settings_list all;
  const auto add = [&](setting s) {
    if (!s.option.empty()) s.heading = heading::reading;
    s.table = "reading";
    all.push_back(std::move(s));
  };
  add({.key = "columns",
       .option = "--column",
       .is = rules,
       .type = "'NAME=CHANNEL:UNIT'",
       .about = "What a column of another name is: 'Flue T=stack_temp:degF', 'epoch=time:ms', "
                "'Date+Clock=time'; may be repeated",
       .takes_table = true,
       .take = [&](const words& said) { add_rules(said, decoder); }});
  add({.key = "labels",
       .option = "--labels",
       .is = list,
       .type = "LABELS",
       .about = "The values carry labels: 'T=stack_temp:degF,O2=o2:pct,CO=co:ppm'",
       .takes_table = true,
       .take =
           [&](const words& said) {
             add_rules(said, decoder);
             decoder.labelled = true;
           },
       .excludes = {"--fields", "--column"}});
  add({.key = "fields",
       .option = "--fields",
       .is = rules,
       .type = "NAMES",
       .about = "Names of the positions of a log without a header; - skips one",
       .take =
           [&](const words& said) {
             decoder.fields = read_short<decltype(decoder.fields)>(joined(said, ","));
           },
       .governs = {"decoder.fields"}});
  add({.key = "missing",
       .option = "--missing",
       .is = list,
       .type = "NUMBERS",
       .about = "Numbers that stand for no value: 999.0,-3276.8",
       .take = [&](const words& said) {
         for (const auto& text : said) {
           const double x = read_plain_number(text);
           if (decoder.missing_count == decoder.missing.size())
             throw refusal{fmt::format("takes {} numbers at most", decoder.missing.size())};
           decoder.missing[decoder.missing_count++] = x;
         }
       }});
  add({.key = "time_format",
       .option = "--time-format",
       .type = "FORMAT",
       .about = "How times are written, in the letters of strftime: '%d.%m.%Y %H:%M:%S'",
       .take = [&](const words& said) {
         if (!is_clock_format(said[0]))
           throw refusal{
               fmt::format("'{}' names no hour, or has a letter behind % that is not "
                           "known; for example '%d.%m.%Y %H:%M:%S'",
                           said[0])};
         decoder.time_format = read_short<decltype(decoder.time_format)>(said[0]);
       }});
  add({.key = "time_zone",
       .option = "--time-zone",
       .type = "ZONE",
       .about = "Of times without an offset, such as America/New_York (UTC)",
       .take = [&](const words& said) {
         read_in_zone(decoder, said[0]);
         to.time_zone = said[0];
       }});
  add({.key = "year",
       .option = "--year",
       .type = "YEAR",
       .about = "Of dates that name none",
       .take = [&](const words& said) { decoder.year = read_whole_number(said[0], 1970, 2200); }});
  add({.key = "suction_positive",
       .option = "--suction-positive",
       .is = flag,
       .about = "The log writes suction as a positive number",
       .take = [&](const words& said) { decoder.suction_positive = read_switch(said[0]); }});
  add({.key = "joined",
       .option = "--joined",
       .is = flag,
       .about = "The stream was joined while it ran: its first line may be torn",
       .take = [&](const words& said) { decoder.joined = read_switch(said[0]); }});
  add({.key = "interval",
       .option = "--interval",
       .type = "TIME",
       .about = "Spacing of the rows of a log without times: 9s, 500ms",
       .take = [&](const words& said) { decoder.interval = read_interval(said[0]); },
       .governs = {"decoder.interval"}});
  add({.key = "decimal",
       .option = "--decimal",
       .about = "The decimal sign, where the log leaves it open",
       .choices = {"dot", "comma"},
       .take = [&](const words& said) { decoder.decimal_sign = said[0] == "comma" ? ',' : '.'; }});
  add({.key = "separator",
       .about = "Between fields, where the log leaves it open",
       .choices = {",", ";", "tab", "blanks"},
       .take = [&](const words& said) {
         decoder.separator = said[0] == "tab" ? '\t' : said[0] == "blanks" ? ' ' : said[0][0];
       }});
  add({.key = "spacing",
       .about = "Distance of rows that share a time",
       .take = [&](const words& said) { to.settings.timeline.spacing = read_interval(said[0]); },
       .governs = {"timeline.spacing"}});
  add({.key = "longest_silence",
       .about = "A longer step forward is a clock that was set",
       .take =
           [&](const words& said) {
             to.settings.timeline.longest_silence = read_interval(said[0]);
           },
       .governs = {"timeline.longest_silence"}});
  add({.key = "change_only",
       .option = "--change-only",
       .is = flag,
       .about = "The log has a row only where a value changed: a missing row is no gap",
       .take =
           [&](const words& said) {
             if (read_switch(said[0])) to.settings.timeline.hold = hold_of_unchanged;
           },
       .governs = {"timeline.hold"}});
  add({.key = "stamp",
       .option = "--stamp",
       .is = flag,
       .about = "Stamp each line with the time it arrives (rows without a time)",
       .take = [&](const words& said) { to.stamped = read_switch(said[0]); },
       .excludes = {"--interval"}});
  add({.option = "--record",
       .type = "FILE",
       .about = "Also write the lines to this file, stamped where --stamp is given; a replay of it "
                "gives the same output",
       .take = [&](const words& said) { to.record = said[0]; }});
  return all;
}

std::optional<setting_fault> check_reading(const log_options& o) {
  auto decoder = o.settings.decoder;
  const auto fields = decoder.fields;
  if (fields.empty()) return std::nullopt;
  const auto pass = [](const assumption&) {};
  if (read_header(fields.view(), ',', decoder, pass) && !o.stamped) return std::nullopt;
  decoder.interval = seconds(1);  // stands for any time from elsewhere
  if (!read_header(fields.view(), ',', decoder, pass))
    return setting_fault{"decoder.fields", "names of channels: time_s,stack_temp_degF,-,o2_pct"};
  if (o.stamped) return std::nullopt;
  return setting_fault{"decoder.fields",
                       "with a time among them (time_s, time), or beside --interval or --stamp"};
}

}  // namespace stilling::command
