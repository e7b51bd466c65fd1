// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Every constant with its source.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "rule_words.hpp"
#include "sources.hpp"
#include "stilling/combustion/combustion.hpp"
#include "stilling/combustion/exposure.hpp"
#include "stilling/combustion/fuel_constants.hpp"
#include "stilling/combustion/limits.hpp"
#include "stilling/terms/published_criteria.hpp"
#include "stilling/terms/settings.hpp"
#include "stilling/terms/unit.hpp"
#include "verbs.hpp"

namespace stilling::command {
namespace {

constexpr std::array<std::string_view, channel_count> measurands{
    "flue gas in the breech, gross", "combustion air at the burner", "volume fraction, dry",
    "volume fraction, dry",          "volume fraction, dry",         "volume fraction, dry",
    "gauge pressure at the breech",  "gauge pressure over the fire"};

/// The unit a plausible range is told in.
unit usual_unit(channel c) noexcept {
  switch (traits_of(c).kind) {
    case quantity::temperature: return unit::celsius;
    case quantity::pressure_difference: return unit::pascal;
    case quantity::volume_fraction: break;
  }
  return c == channel::co || c == channel::no ? unit::ppm : unit::percent;
}

std::string units_of(quantity kind) {
  std::string names;
  for (const auto& u : unit_table) {
    if (u.kind != kind) continue;
    if (!names.empty()) names += ' ';
    names += u.name;
  }
  return names;
}

std::string in_usual_unit(channel c, double canonical) {
  return fmt::format("{:.6g}", from_canonical(usual_unit(c), canonical));
}

/// Limits are told as they were set.
unit unit_of_limit(channel c) noexcept {
  switch (traits_of(c).kind) {
    case quantity::temperature: return unit::fahrenheit;
    case quantity::pressure_difference: return unit::inch_of_water;
    case quantity::volume_fraction: break;
  }
  return usual_unit(c);
}

void list_channels(std::string& to) {
  to +=
      "A column is <channel>_<unit>: stack_temp_degF. Draft is gauge pressure, suction "
      "negative.\n\n";
  to += fmt::format("{:<16}{:<32}{:<26}{}\n", "channel", "measurand", "units", "plausible");
  for (const auto c : all_channels) {
    const auto& t = traits_of(c);
    to += fmt::format("{:<16}{:<32}{:<26}{} to {} {}\n", t.name, measurands[index_of(c)],
                      units_of(t.kind), in_usual_unit(c, t.lowest), in_usual_unit(c, t.highest),
                      traits_of(usual_unit(c)).name);
  }
  to += fmt::format("{:<16}{:<32}{}\n", "time", "since any origin", "ns us ms s min h");
  to += "\nUCUM codes are understood too:";
  bool first = true;
  for (const auto& u : unit_table)
    if (u.code != u.name)
      to += fmt::format("{} {} for {}", std::exchange(first, false) ? "" : ",", u.code, u.name);
  to += ".\nPlausible ranges are physical, not typical: common practice, no published source.\n";
}

/// In lines of a page's width, all but the first indented.
std::string wrapped(std::string_view text, std::size_t indent) {
  std::string out;
  std::size_t column = indent;
  while (!text.empty()) {
    const auto end = std::min(text.find(' '), text.size());
    if (column > indent && column + 1 + end > 80) {
      out += fmt::format("\n{:{}}", "", indent);
      column = indent;
    } else if (column > indent) {
      out += ' ';
      ++column;
    }
    out += text.substr(0, end);
    column += end;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  return out;
}

/// As it is told, with its expanded uncertainty: as many digits as that leaves.
std::string with_spread(double value, double standard) {
  if (!(standard > 0)) return fmt::format("{:.8g}", value);
  const double u = 2 * standard;
  const int decimals = u < 0.1 ? 3 : u < 3 ? 2 : 1;
  return fmt::format("{:.{}f} ± {:.{}f}", value, decimals, u, decimals);
}

void list_fuels(std::string& to) {
  to += "What burns, and every constant used with it. ± is expanded (k = 2): how far\n"
        "published values lie apart, since none states its own.\n";
  for (const auto& f : fuel_table) {
    to += fmt::format("\n{}: {}\n", f.name, f.label);
    std::string_view told;
    for (const auto& c : constants_of(f)) {
      if (c.value == 0) continue;
      const bool heat = c.unit == "J/kg";
      const double scale = heat ? 1e-6 : 1;
      const auto value = with_spread(scale * c.value, scale * c.standard_uncertainty);
      to += fmt::format("  {:<26}{:>18}{}{}\n", c.label, value, c.unit.empty() ? "" : " ",
                        heat ? "MJ/kg" : c.unit);
      if (c.source == told) continue;
      told = c.source;
      to += fmt::format("    {}\n", wrapped(c.source, 4));
    }
  }
}

void list_published(std::string& to) {
  to +=
      "\nPublished ones are about readings taken one after another. What they ask for beside them\n"
      "is not judged; the maker's instructions and local codes come first.\n";
  constexpr std::size_t indent = 4;
  for (const auto& c : published_criteria) {
    to += fmt::format("\n{}: {}\n", c.name, c.about);
    const auto line = [&](const std::string& text) {
      to += fmt::format("  {}\n", wrapped(text, indent));
    };
    line(in_words(c.rule, c.required));
    line(fmt::format("Source: {}", c.source));
    line(fmt::format("Not judged: {}", c.leaves_out));
  }
  to +=
      "\nReadings are the rows nearest to their times, counted from the first row with a fire.\n"
      "Between two of them a series ends where rows have left it for half a minute: our choice.\n";
}

void list_criteria(std::string& to) {
  to +=
      "field and strict: every required channel is shown to move no faster than its limit, at\n"
      "the same row, while a fire burns and the probe draws flue gas.\n\n";
  to += fmt::format("{:<16}{}\n", "channel", "limit per minute");
  const session_settings field;
  for (const auto c : all_channels) {
    const unit u = unit_of_limit(c);
    to += fmt::format("{:<16}{:.4g} {}\n", traits_of(c).name,
                      difference_from_canonical(u, 60 * field.steadiness.limits.of(c)),
                      traits_of(u).name);
  }
  to +=
      "\nLimits of stack_temp, o2 and co: common practice, no published source; the others follow\n"
      "the same scale.\n\n";
  const auto tell = [&](std::string_view name, const session_settings& s) {
    to += fmt::format(
        "{:<8}settled: {:.4g} % sure that it moves slower than {} x its limit; released "
        "when faster than {} x\n",
        name, 100 * s.steadiness.confidence, s.steadiness.claim_factor,
        s.steadiness.release_factor);
  };
  tell("field", field);
  tell("strict", strict_settings());
  to += "Both are our own choice.\n";
  list_published(to);
}

std::string_view word_of(side when) {
  switch (when) {
    case side::below: return "below";
    case side::above: return "above";
    case side::at_or_above: return "from";
    case side::magnitude_above: return "beyond";
  }
  return {};
}

/// In the unit it is usually told in.
std::string value_of(const limit& l) {
  if (!l.value) return "none";
  if (const auto* c = std::get_if<channel>(&l.of))
    return fmt::format("{:.6g} {}", from_canonical(unit_of_limit(*c), *l.value),
                       traits_of(unit_of_limit(*c)).name);
  if (const auto* f = std::get_if<figure>(&l.of)) {
    if (traits_of(*f).kind == shown_as::pressure_difference)
      return fmt::format("{:.6g} inH2O", from_canonical(unit::inch_of_water, *l.value));
    return fmt::format("{:.6g} pct", 100 * *l.value);
  }
  if (std::holds_alternative<stack_rate>(l.of))
    return fmt::format("{:.6g} degF/min",
                       60 * difference_from_canonical(unit::fahrenheit, *l.value));
  return fmt::format("{:.6g}", *l.value);
}

std::string_view subject_of(const limit& l) {
  if (const auto* c = std::get_if<channel>(&l.of)) return traits_of(*c).name;
  if (const auto* f = std::get_if<figure>(&l.of)) return traits_of(*f).stem;
  return std::holds_alternative<stack_rate>(l.of) ? "stack_temp rate" : "smoke";
}

std::string_view word_of(applies only) {
  switch (only) {
    case applies::always: break;
    case applies::to_instrument: return ", read by an instrument";
    case applies::to_absorption_kit: return ", read by an absorption kit";
    case applies::to_room_air: return ", in the air of the room";
  }
  return {};
}

void list_limits(std::string& to) {
  to +=
      "Residential oil burners with negative draft and an ordinary chimney. The maker's\n"
      "instructions and local codes come first: under [limits] a file given to --limits\n"
      "replaces a value, or silences it with \"none\". None here: silent until one does.\n\n";
  for (const auto& l : residential_oil) {
    to += fmt::format("{:<24}{:<8}{} {} {}{}\n", l.key, name_of(l.grave), subject_of(l),
                      word_of(l.when), value_of(l), word_of(l.only));
    if (l.value) to += fmt::format("    {}\n", wrapped(l.basis, 4));
  }
  to += "\nCO in air that people breathe; no limits for the flue:\n\n";
  for (const auto& e : exposure_table)
    to += fmt::format("{:>6} ppm  {}\n            {}\n", e.ppm, e.over,
                      wrapped(fmt::format("{} ({})", e.source, e.mark), 12));
}

}  // namespace

int list(const list_request& r) {
  std::string text;
  switch (r.of) {
    case list_request::subject::channels: list_channels(text); break;
    case list_request::subject::fuels: list_fuels(text); break;
    case list_request::subject::criteria: list_criteria(text); break;
    case list_request::subject::limits: list_limits(text); break;
  }
  outlet out;
  out.write(text);
  if (out.is() != outlet::state::failed) return done;
  complain(fmt::format("standard output: {}", out.fault()));
  return not_understood;
}

}  // namespace stilling::command
