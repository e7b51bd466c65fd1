// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What was found about a test, as an event and in words.

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

#include "stilling/combustion/published.hpp"
#include "stilling/text.hpp"
#include "text_figures.hpp"
#include "text_json.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling {
namespace {

using namespace writing;

/// A number of some quantity in the unit it is written in.
struct shown_number {
  std::string key;  // of the quantity, `<stem>_<unit>`
  std::string_view label;
  std::string_view unit;  // as a person reads it; empty: a plain number
  std::string_view per;   // " per minute" of a rate
  std::optional<double> value, u, limit;
  int decimals = 3;
  double indicated = 0, otherwise = 0;  // where an observation has them
};

/// mol/mol. Cells are set to 20.9 %; set at sea level one reads 18.9 % some 850 m (2800 ft) up, by
/// the ICAO standard atmosphere. Our own choice.
constexpr double too_far_for_age = 0.189;

int decimals_for(const std::optional<double>& u, const std::optional<double>& value) {
  if (u && *u > 0) return std::max(decimals_below(*u), 0);
  return value && *value != 0 ? std::max(2 - leading_power(*value), 0) : 1;
}

/// Of the work: a spot has a number, a step has none.
shown_number shown_of_step(const observation& o) {
  shown_number out{std::string{name_of(*o.step)}, "", "", "", {}, {}, {}};
  if (*o.step != work_step::smoke) return out;
  out.key = "smoke_number";
  out.label = "smoke number";
  out.value = o.value;
  out.limit = o.limit;
  return out;
}

shown_number shown_of(const observation& o, const presentation& as) {
  if (o.step && o.what != finding_kind::reading_too_early &&
      o.what != finding_kind::draft_not_zeroed)
    return shown_of_step(o);
  const unit u = as.unit_of(o.of);
  shown_number out{
      stilling::key_of(o.of, u), label_of(o.of), word_of(traits_of(u).name), "", {}, {}, {}};
  const double scale = o.is_rate ? seconds_per_minute : 1;
  const auto in_unit = [&](double x) {
    const bool is_difference = o.is_rate || o.period;
    return is_difference ? scale * difference_from_canonical(u, x) : from_canonical(u, x);
  };
  if (o.is_rate) out.key += "_per_min", out.per = " per minute";
  if (o.value) out.value = in_unit(*o.value);
  if (o.indicated) out.indicated = in_unit(*o.indicated);
  if (o.otherwise) out.otherwise = in_unit(*o.otherwise);
  if (o.limit) out.limit = in_unit(*o.limit);
  if (o.standard_uncertainty)
    out.u =
        writing::coverage_factor * scale * difference_from_canonical(u, *o.standard_uncertainty);
  const bool stands = o.what == finding_kind::channel_stuck || o.what == finding_kind::sensor_open;
  out.decimals = stands ? usual_decimals(u) : decimals_for(out.u, out.value);
  return out;
}

shown_number shown_of(const finding& f, const presentation& as) {
  shown_number out;
  const auto in = [&](unit u, bool is_difference, double scale) {
    const auto one = [&](double x) {
      return scale * (is_difference ? difference_from_canonical(u, x) : from_canonical(u, x));
    };
    if (f.value) out.value = one(*f.value);
    out.limit = one(f.limit);
    out.u = writing::coverage_factor * scale * difference_from_canonical(u, f.standard_uncertainty);
  };
  if (const auto* c = std::get_if<channel>(&f.of)) {
    const unit u = as.unit_of(*c);
    out.key = stilling::key_of(*c, u);
    out.label = label_of(*c);
    out.unit = word_of(traits_of(u).name);
    in(u, false, 1);
  } else if (const auto* y = std::get_if<figure>(&f.of)) {
    out.key = writing::key_of(*y, as);
    out.label = traits_of(*y).label;
    out.unit = word_of(writing::unit_of(*y, as));
    const derived_value at{f.limit, 0, {}, {}};
    const derived_value is{f.value.value_or(0), f.standard_uncertainty, {}, {}};
    out.limit = shown(*y, at, as).value;
    if (f.value) out.value = shown(*y, is, as).value;
    out.u = shown(*y, is, as).u;
  } else if (std::holds_alternative<stack_rate>(f.of)) {
    const unit u = as.unit_of(channel::stack_temp);
    out.key = stilling::key_of(channel::stack_temp, u) + "_per_min";
    out.label = label_of(channel::stack_temp);
    out.unit = word_of(traits_of(u).name);
    out.per = " per minute";
    in(u, true, seconds_per_minute);
  } else {
    out.key = "smoke_number";
    out.label = "smoke number";
    out.value = f.value;
    out.limit = f.limit;
  }
  out.decimals = decimals_for(out.u, out.value);
  return out;
}

std::string number(double x, int decimals, const shown_number& of) {
  std::string to;
  append_rounded(to, x, decimals);
  if (!of.unit.empty()) (to += ' ') += of.unit;
  return to += of.per;
}

/// "20.1 ± 0.1 %"
std::string value_of(const shown_number& n) {
  if (!n.value) return "over the instrument's range";
  if (!n.u || !(*n.u > 0)) return number(*n.value, std::min(n.decimals, 2), n);
  std::string to;
  const int decimals = std::max(n.decimals - 2, 0);
  append_fixed(to, *n.value, decimals);
  to += " ± ";
  append_fixed(to, *n.u, decimals);
  if (!n.unit.empty()) (to += ' ') += n.unit;
  return to += n.per;
}

std::string seconds_since(const observation& o) {
  if (!o.since) return {};
  std::string to;
  append_rounded(to, in_seconds(o.at - *o.since), 0);
  return to + " s";
}

/// "no smoke spot was drawn"
std::string_view missing(work_step s) noexcept {
  switch (s) {
    case work_step::fresh_air: return "The instrument was not seen in fresh air before the fire.";
    case work_step::draft_zero: return "The draft gauge was not zeroed.";
    case work_step::draft: return "No draft was read.";
    case work_step::smoke: return "No smoke spot was noted.";
    case work_step::oxygen: return "Neither O2 nor CO2 was read.";
    case work_step::monoxide: return "No CO was read.";
    case work_step::reading: return "Nothing settled after the last move: no last reading.";
  }
  return "";
}

/// "trace", "2"
std::string spot_of(double number) {
  return number > 0 && number < 1 ? "a trace" : fmt::format("{:.0f}", number);
}

std::string seen_of_work(const observation& o, const shown_number& n) {
  switch (o.what) {
    case finding_kind::step_missing: return std::string{missing(*o.step)};
    case finding_kind::step_out_of_order:
      return *o.step == work_step::smoke
                 ? "A smoke spot was drawn before the appliance was warm and settled."
                 : "Fresh air came after the fire; the zero belongs before it.";
    case finding_kind::draft_not_zeroed:
      return fmt::format("The {} was read, and nothing says that its gauge was zeroed.", n.label);
    case finding_kind::oil_spot: return "The smoke paper has an oil spot.";
    case finding_kind::smoke_high:
      return fmt::format("The last smoke spot is {}; the limit is {}.",
                         spot_of(o.value.value_or(0)), spot_of(o.limit.value_or(0)));
    case finding_kind::smoke_not_repeated:
      return fmt::format("Air or draft was moved at {}, and no smoke spot was drawn after that.",
                         clock_of(o.since.value_or(o.at)));
    case finding_kind::zero_without_trace:
      return "Smoke is zero, and no spot before it showed a trace.";
    case finding_kind::reading_too_early:
      return n.value ? fmt::format("A reading was taken while the {} moved by {}.", n.label,
                                   value_of(n))
                     : "A reading was taken before anything had settled.";
    default: return {};
  }
}

std::string excess_air_at(double oxygen) {
  std::string to;
  append_fixed(to, 100 * published::excess_air(oxygen), 1);
  return to;
}

/// What a settled reading would be had the cell been right in fresh air. The reading stays.
std::string likely(const observation& o, const shown_number& n) {
  const int decimals = std::max(n.decimals - 1, n.unit == "%" ? 2 : 0);
  std::string as_read;
  append_fixed(as_read, n.indicated, decimals);
  if (!o.otherwise)
    return fmt::format("{} is likely {} in this reading, with the zero of the cell put right; the "
                       "reading keeps {} {}, as measured.",
                       n.label, value_of(n), as_read, n.unit);
  std::string scaled, shifted;
  append_fixed(scaled, *n.value, decimals);
  append_fixed(shifted, n.otherwise, decimals);
  std::string air;
  if (*o.otherwise < oxygen_of_air && *o.value < oxygen_of_air && *o.indicated < oxygen_of_air)
    air = fmt::format(" (excess air {} or {} %, not {} %)", excess_air_at(*o.value),
                      excess_air_at(*o.otherwise), excess_air_at(*o.indicated));
  return fmt::format("{} is likely {} {} in this reading if the cell's sensitivity has changed, {} "
                     "{} if its zero has moved{}; the reading keeps {} {}, as measured.",
                     n.label, scaled, n.unit, shifted, n.unit, air, as_read, n.unit);
}

/// To the last digit of the display.
std::string standing_at(const shown_number& n) {
  return n.value ? number(*n.value, n.decimals, n) : value_of(n);
}

/// What was seen, in a sentence.
std::string seen(const observation& o, const shown_number& n, const presentation& as) {
  if (o.step) return seen_of_work(o, n);
  if (o.indicated) return likely(o, n);
  switch (o.what) {
    case finding_kind::oxygen_cell_tired:
      return fmt::format("O2 reads {} in fresh air, where {} is right{}.", value_of(n),
                         n.unit == "%" ? "20.9 %" : "0.209 mol/mol",
                         o.value < too_far_for_age
                             ? "; so far off, think of altitude before the cell's age, as a cell "
                               "feels the pressure of the air"
                             : "");
    case finding_kind::instrument_cold:
      if (!o.value)
        return "The instrument was still warming: unrelated channels drift with one time constant. "
               "Run the fresh-air zero again.";
      return fmt::format("{} reads {} in fresh air and read otherwise before: the instrument was "
                         "still warming or has drifted. Run the fresh-air zero again.",
                         n.label, value_of(n));
    case finding_kind::zeroed_in_dirty_air:
      return fmt::format(
          "CO reads {} in fresh air: below 0. What it reads in the flue is likely "
          "as much too low; it is shown as measured.",
          value_of(n));
    case finding_kind::channel_stuck:
      return fmt::format("The {} has stood at {} since {}.", n.label, standing_at(n),
                         clock_of(o.since.value_or(o.at), as));
    case finding_kind::sensor_open:
      return fmt::format("The {} read {} in {} rows on end, for {}.", n.label, standing_at(n),
                         o.count, seconds_since(o));
    case finding_kind::ambient_drifts:
      return fmt::format("The {} moves by {}; the net stack temperature moves with it.", n.label,
                         value_of(n));
    case finding_kind::co_rising:
      return fmt::format("CO climbs by {} while the stack temperature stands.", value_of(n));
    case finding_kind::dilution:
      return fmt::format(
          "O2 rose to {}, and the stack temperature and CO fell as the same share of air mixed in "
          "would take them.",
          value_of(n));
    case finding_kind::probe_slipped:
      return "The probe came out of the flue while the burner ran: O2 went to that of air and the "
             "temperature fell within seconds.";
    case finding_kind::creeping:
      return fmt::format("The {} creeps by {}, within {}.", n.label, value_of(n),
                         number(n.limit.value_or(0), n.decimals, {}));
    case finding_kind::hunting:
      return fmt::format("The {} swings by ± {} about its mean, once in {:.0f} s; the reading is "
                         "the mean of whole swings.",
                         n.label, value_of(n), o.period.value_or(0));
    case finding_kind::short_cycling:
      return fmt::format("{} burns on end were too short to settle.", o.count);
    default: return fmt::format("The {} is {}.", n.label, value_of(n));
  }
}

std::string seen(const finding& f, const shown_number& n) {
  if (f.what == finding_kind::condensing)
    return fmt::format("The {} is {}, the dew point {}.", n.label, value_of(n),
                       number(n.limit.value_or(0), n.decimals, n));
  return fmt::format("{} {}; the limit is {} ({}){}.", n.label, value_of(n),
                     number(n.limit.value_or(0), std::min(n.decimals, 3), n), f.basis,
                     f.straddles ? ", which lies within the uncertainty" : "");
}

std::string capitalised(std::string sentence) {
  if (sentence.front() >= 'a' && sentence.front() <= 'z')
    sentence.front() = static_cast<char>(sentence.front() - 'a' + 'A');
  return sentence;
}

severity grave_of(finding_kind k) noexcept {
  return k == finding_kind::ambient_drifts || k == finding_kind::short_cycling ||
                 k == finding_kind::creeping || k == finding_kind::hunting ||
                 k == finding_kind::probe_slipped  // often just the end of the test
             ? severity::note
             : severity::warning;
}

constexpr std::string_view of_practice = "our own choice, from common practice";

void put_members(object& o, finding_kind what, severity grave, const shown_number& n,
                 std::string_view basis) {
  o.text("finding", name_of(what));
  o.text("severity", name_of(grave));
  o.text("quantity", n.key);
  o.number("value", n.value, n.decimals);
  o.number("u", n.u, n.decimals);
  o.number("limit", n.limit, std::max(n.decimals, 3));
  o.text("basis", basis);
}

void put_members(object& o, const finding& f, const presentation& as) {
  put_members(o, f.what, f.grave, shown_of(f, as), f.basis);
  o.text("limit_name", f.key);
  o.key("straddles") += f.straddles ? "true" : "false";
  o.text("text", fmt::format("{} {}", words_of(f, as), precedence));
}

std::string_view word_of(severity grave) noexcept {
  return grave == severity::danger ? "DANGER" : name_of(grave);
}

}  // namespace

std::string words_of(const observation& o, const presentation& as) {
  return fmt::format("{} Check first: {}", capitalised(seen(o, shown_of(o, as), as)),
                     advice_on(o.what).check_first);
}

std::string words_of(const finding& f, const presentation& as) {
  const auto& a = advice_on(f.what);
  return fmt::format("{} {} Check first: {}", capitalised(seen(f, shown_of(f, as))), a.meaning,
                     a.check_first);
}

std::string brief_words_of(const observation& o, const presentation& as) {
  return capitalised(seen(o, shown_of(o, as), as));
}

std::string brief_words_of(const finding& f, const presentation& as) {
  return capitalised(seen(f, shown_of(f, as)));
}

severity severity_of(const observation& o) noexcept { return grave_of(o.what); }

void writing::append_finding(std::string& to, const finding& f, const presentation& as) {
  object o{to};
  put_members(o, f, as);
}

namespace jsonl {

void write(std::string& to, const observation& o, const presentation& as) {
  {
    object event{to};
    event.text("event", "finding");
    event.time("time_s", o.at);
    put_members(event, o.what, grave_of(o.what), shown_of(o, as), of_practice);
    event.key("limit_name") += "null";  // it is about no limit of a set
    event.key("straddles") += "null";
    event.text("text", fmt::format("{} {} {}", words_of(o, as), advice_on(o.what).meaning,
                                   precedence));
  }
  to += '\n';
}

void write(std::string& to, instant when, const finding& f, const presentation& as) {
  {
    object event{to};
    event.text("event", "finding");
    event.time("time_s", when);
    put_members(event, f, as);
  }
  to += '\n';
}

}  // namespace jsonl

namespace plain {

void write(std::string& to, const observation& o, const presentation& as, bool told_before) {
  append_course(to, o.at, word_of(grave_of(o.what)),
                told_before ? brief_words_of(o, as) : words_of(o, as));
}

void write(std::string& to, instant when, const finding& f, const presentation& as,
           bool told_before) {
  append_course(to, when, word_of(f.grave), told_before ? brief_words_of(f, as) : words_of(f, as));
}

}  // namespace plain
}  // namespace stilling
