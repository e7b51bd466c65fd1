// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Who tested what, and what was settled and how surely; or why nothing was.

#include <algorithm>
#include <utility>

#include "report_parts.hpp"
#include "report_words.hpp"
#include "text_number.hpp"
#include "text_reading.hpp"
#include "text_words.hpp"

namespace stilling::reporting {
namespace {

using namespace writing;

std::string when_of(const reported& r) {
  const auto& spans = r.test.course().spans();
  std::string day = printable(r.about.date);
  if (spans.empty()) return day.empty() ? std::string{blank} : day;
  const auto from = spans.front().from, to = spans.back().to;
  const bool set_on_the_way = std::ranges::any_of(r.test.breaks(), [](const discontinuity& d) {
    return d.kind == break_kind::clock_back || d.kind == break_kind::clock_jump;
  });
  if (set_on_the_way)
    return fmt::format("{}; the log's clock did not run through, see how the test went",
                       !day.empty() ? day : said_or_blank(date_of(to, r.as)));
  if (day.empty()) day = date_of(from, r.as);
  const auto last_day = date_of(to, r.as);
  if (day.empty()) day = blank;
  if (last_day.empty())
    return fmt::format("{}; the log runs from {} to {} by its own clock, minutes:seconds", day,
                       clock_of(from), clock_of(to));
  const bool overnight = date_of(from, r.as) != last_day;
  return fmt::format("{}, {} to {}{} ({})", day, clock_of(from, r.as), clock_of(to, r.as),
                     overnight ? fmt::format(" on {}", last_day) : "",
                     r.as.clock.offset_at == nullptr ? "UTC" : printable(r.as.clock.name));
}

/// "stack temperature 526.5 ± 0.1 °F" of each channel that was read.
std::string read_of(std::initializer_list<std::pair<channel, std::string_view>> those,
                    const settled_row& row, const presentation& as) {
  std::vector<std::string> words;
  for (const auto& [c, name] : those)
    if (row.read.channels.has(c)) words.push_back(fmt::format("{} {}", name, value_of(c, row, as)));
  return listed(words);
}

/// A figure and what stands around it; where it could not be derived, the reason.
void add_figure(std::string& to, figure f, std::string_view before, std::string_view none,
                const settled_row& row, const presentation& as) {
  if (const auto value = value_of(f, row, as); !value.empty())
    put(to, "{}{} {}", to.empty() ? "" : "; ", before, value);
  else put(to, "{}{}: {}", to.empty() ? "" : "; ", none, words_of(row.figures[f].error()));
}

std::string how_hot(const settled_row& row, const presentation& as) {
  auto text = read_of(
      {{channel::stack_temp, "the stack"}, {channel::ambient_temp, "the combustion air"}}, row, as);
  add_figure(text, figure::net_stack_temp, "net, the stack above the air,", "no net temperature",
             row, as);
  return text + '.';
}

std::string how_much_air(const settled_row& row, const presentation& as) {
  auto text = read_of({{channel::o2, "O2"}, {channel::co2, "CO2"}}, row, as);
  const bool o2 = row.read.channels.has(channel::o2), co2 = row.read.channels.has(channel::co2);
  if (o2 && !co2) add_figure(text, figure::co2, "CO2 from it", "no CO2", row, as);
  if (co2 && !o2) add_figure(text, figure::o2, "O2 from it", "no O2", row, as);
  add_figure(text, figure::excess_air, "excess air", "no excess air", row, as);
  return text + '.';
}

std::string how_clean(const settled_row& row, const reported& r) {
  const auto& as = r.as;
  std::string text;
  if (row.read.channels.has(channel::co)) {
    text = fmt::format("CO {} as read", value_of(channel::co, row, as));
    add_figure(text, figure::co_air_free, "air-free", "no CO air-free", row, as);
  } else {
    text = "CO was not read";
  }
  if (row.read.channels.has(channel::no))
    put(text, "; NO {} as read", value_of(channel::no, row, as));
  const auto smoke = smoke_of(row, r.test);
  if (smoke.empty()) return text + "; no smoke spot was noted.";
  return fmt::format("{}; smoke {}, noted at {}.", text, smoke,
                     clock_of(r.test.notes()[*row.smoke].at, as));
}

std::string how_it_pulls(const settled_row& row, const presentation& as) {
  auto text = read_of({{channel::draft_breech, "at the breech"},
                       {channel::draft_overfire, "over the fire"}},
                      row, as);
  if (text.empty()) return "Draft was not read.";
  if (const auto value = value_of(figure::draft_difference, row, as); !value.empty())
    put(text, "; the difference {}", value);
  return capitalised(text) + ". Suction is below zero.";
}

std::string how_much_heat(const settled_row& row, const presentation& as) {
  const auto kept = heat_kept({row});
  const auto lost = kept == figure::efficiency_net ? figure::stack_loss_net
                                                   : figure::stack_loss_gross;
  const auto value = value_of(kept, row, as);
  if (value.empty())
    return fmt::format("Not known: {}.", words_of(row.figures[kept].error()));
  std::string text = fmt::format("{} of the fuel's heat", value);
  if (const auto gone = value_of(lost, row, as); !gone.empty())
    put(text, "; {} leaves by the stack", gone);
  put(text, ". Both on the {} basis, of the {} heating value; losses from {}.", basis_of(kept),
      kept == figure::efficiency_net ? "lower" : "higher",
      as.how.by == method::composition ? "the fuel's composition"
      : as.how.by == method::app_o     ? "10 CFR 430 Subpart B App. O"
                                       : "1. BImSchV");
  return text;
}

std::string how_still(const settled_row& row, const presentation& as) {
  std::vector<std::string> words;
  for (const auto c : {channel::stack_temp, channel::o2, channel::co2, channel::co}) {
    if (!row.read.channels.has(c)) continue;
    const auto moves = movement(c, row.read.channels[c], as);
    if (!moves.empty())
      words.push_back(fmt::format("{} by {}", writing::label_of(c),
                                  glued(fmt::format("{} {}", moves, unit_of(c, as)))));
  }
  if (words.empty()) return {};
  std::string text = "In a minute it moved, proven at 95\u00A0%: ";
  for (std::size_t i = 0; i < words.size(); ++i) put(text, "{}{}", i > 0 ? "; " : "", words[i]);
  text += '.';
  for (const auto c : all_channels)
    if (row.read.channels[c].lag)
      put(text, " {} came after the stack by {}.", writing::label_of(c),
          about(*row.read.channels[c].lag));
  return text;
}

/// How the reading stood, and what ended it.
std::string standing(const settled_row& row, std::size_t number, std::size_t count,
                     const presentation& as) {
  const auto& read = row.read;
  const auto end = read.to.value_or(read.last_seen);
  std::string text = count == 1
                         ? std::string{"One reading settled: "}
                         : fmt::format("{} readings settled; this is the last, reading {}: ", count,
                                       number);
  put(text, "the mean of {} to {} ({}), known to be settled at {}.", clock_of(read.from, as),
      clock_of(end, as), glued(duration_words(end - read.from)), clock_of(read.declared, as));
  if (read.creeping) text += " It still crept, within its limits.";
  if (read.drift_corrected)
    text += " O2 and CO are corrected for what the cells drifted between two looks at fresh air.";
  if (read.hunting)
    put(text, " It swung about this mean once in {:.0f} s.", read.hunting->period);
  switch (read.ended) {
    case cause::none:
    case cause::end_of_log: text += " It stood to the end of the log."; break;
    case cause::departed: text += " It ended as a reading left its level."; break;
    default:
      if (const auto why = reason_of(read.ended, std::nullopt); !why.empty())
        put(text, " It ended: {}.", why);
  }
  return text;
}

std::string what_plus_minus_is(const presentation& as) {
  std::string text = "± is the expanded uncertainty, k\u00A0=\u00A02, about 95\u00A0%: what ";
  if (!as.how.instrument.valid.empty())
    return text + "scatter, the display's steps and the instrument's specification leave open.";
  return text + "the scatter of the readings and the display's steps leave open. The instrument's "
                "own error comes on top.";
}

/// What the end of the log was like where nothing had settled.
std::string still_moving(const reported& r) {
  const auto& newest = r.test.newest();
  if (!newest || !newest->fire.burning) return {};
  std::vector<std::string> words;
  for (const auto c : {channel::stack_temp, channel::o2, channel::co}) {
    const auto& t = newest->trends[c];
    if (!newest->trends.has(c) || !t.measured || t.is == judgement::steady) continue;
    const auto d = shown(c, {60 * t.rate, 60 * t.rate_uncertainty, 2}, r.as);
    words.push_back(fmt::format("{} by {}", writing::label_of(c),
                                glued(fmt::format("{} {}", change_of(d, 3), unit_of(c, r.as)))));
  }
  if (words.empty()) return {};
  return fmt::format("In the last minute of the log it still moved: {}. In brackets: no more than "
                     "chance.",
                     listed(words));
}

void add_nothing_settled(section& to, const reported& r) {
  // How far burns got stands in a table of its own.
  const auto why = why_nothing_settled(r.summary, r.as);
  if (!why.empty()) to.parts.emplace_back(paragraph{why.front()});
  if (auto moving = still_moving(r); !moving.empty())
    to.parts.emplace_back(paragraph{std::move(moving)});
  std::string_view next;
  switch (r.summary.came_to()) {
    case outcome::settled: break;
    case outcome::no_data: next = "How the file would be read, `stilling check` tells."; break;
    case outcome::idle: next = "Was the probe in the flue, and the burner lit?"; break;
    case outcome::cycling:
      next = "Hold the burner on until the readings stand, and test again.";
      break;
    case outcome::never_settled:
      next = "Let the burner run on until the readings stand, and test again.";
      break;
  }
  to.parts.emplace_back(paragraph{fmt::format(
      "So no figure is given: what is read while it moves says little about the appliance. {}",
      next)});
}

}  // namespace

section who_and_with_what(const reported& r) {
  const auto& p = r.about;
  const auto nozzle = p.nozzle.empty() ? std::string{short_blank} : printable(p.nozzle);
  const auto pressure =
      p.pump_pressure.empty() ? std::string{short_blank} : printable(p.pump_pressure);
  section to;
  to.parts.emplace_back(answer{"When", when_of(r) + '.'});
  to.parts.emplace_back(answer{
      "For whom", fmt::format("{}, at {}", said_or_blank(p.customer), said_or_blank(p.site))});
  to.parts.emplace_back(
      answer{"By whom", fmt::format("{}, {}, telephone {}", said_or_blank(p.technician),
                                    said_or_blank(p.company), said_or_blank(p.phone))});
  to.parts.emplace_back(
      answer{"On what", fmt::format("appliance {}; burner {}; nozzle {}; oil pressure {}; fuel {}",
                                    said_or_blank(p.appliance), said_or_blank(p.burner), nozzle,
                                    pressure, r.as.burned->label)});
  to.parts.emplace_back(answer{
      "With what", fmt::format("instrument {}; serial number {}; calibrated {}",
                               said_or_blank(p.instrument), said_or_blank(p.instrument_serial),
                               p.calibrated.empty() ? std::string{short_blank}
                                                    : printable(p.calibrated))});
  if (!p.remarks.empty()) to.parts.emplace_back(answer{"Remarks", printable(p.remarks)});
  return to;
}

section what_settled(const reported& r) {
  section to{"What settled, and how surely", {}};
  const auto rows = r.test.rows();
  if (rows.empty()) {
    add_nothing_settled(to, r);
    return to;
  }
  const auto& last = rows.back();
  to.parts.emplace_back(paragraph{standing(last, rows.size(), rows.size(), r.as)});
  const auto add = [&](std::string question, std::string text) {
    if (!text.empty()) to.parts.emplace_back(answer{std::move(question), capitalised(text)});
  };
  add("How hot", how_hot(last, r.as));
  add("How much air", how_much_air(last, r.as));
  add("How clean", how_clean(last, r));
  add("How it pulls", how_it_pulls(last, r.as));
  add("Heat kept", how_much_heat(last, r.as));
  add("How still", how_still(last, r.as));
  to.parts.emplace_back(paragraph{what_plus_minus_is(r.as)});
  return to;
}

}  // namespace stilling::reporting
