// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Readings typed by hand, for a person: what was typed, what follows from it and how sure that is,
// what speaks against it, what cannot be said.

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "stilling/combustion/exposure.hpp"
#include "stilling/text.hpp"
#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::plain {
namespace {

using namespace writing;

constexpr std::size_t page_width = 80;
constexpr int many_decimals = 12;

/// Words in lines of a page's width, all indented.
void put_paragraph(std::string& to, std::string_view text, std::size_t indent) {
  std::size_t at = 0;
  while (!text.empty()) {
    const auto word = text.substr(0, text.find(' '));
    text.remove_prefix(std::min(word.size() + 1, text.size()));
    if (at > 0 && at + 1 + width_of(word) > page_width) to += '\n', at = 0;
    if (at == 0) to.append(indent, ' '), at = indent;
    else to += ' ', ++at;
    to += word;
    at += width_of(word);
  }
  to += '\n';
}

std::string with_unit(std::string value, std::string_view unit_name) {
  if (!unit_name.empty()) (value += ' ') += word_of(unit_name);
  return value;
}

std::string readable_input(channel c, const estimate& x, const presentation& as) {
  const unit u = as.unit_of(c);
  const double expanded =
      writing::coverage_factor * difference_from_canonical(u, x.standard_uncertainty);
  shown_value v{from_canonical(u, x.value), std::nullopt, all_decimals(u)};
  if (expanded > 0) v.u = expanded;
  return with_unit(readable_value(v, many_decimals), traits_of(u).name);
}

std::string readable_pressure(const estimate& p) {
  shown_value v{p.value / 100, std::nullopt, 2};
  if (p.standard_uncertainty > 0) v.u = writing::coverage_factor * p.standard_uncertainty / 100;
  return readable_value(v, 2) + " hPa";
}

// --- what was typed ------------------------------------------------------------------------

void write_inputs(std::string& to, const typed_test& t, const presentation& as) {
  const auto& y = t.figures;
  std::string said;
  for (const auto c : {channel::o2, channel::co2, channel::co, channel::no, channel::stack_temp,
                       channel::ambient_temp, channel::draft_breech, channel::draft_overfire}) {
    if (!y.inputs.has(c)) continue;
    put(said, "{}{} {}", said.empty() ? "" : ", ", label_of(c), readable_input(c, y.inputs[c], as));
  }
  if (t.also.smoke)
    put(said, "{}smoke {}", said.empty() ? "" : ", ",
        *t.also.smoke > 0 && *t.also.smoke < 1 ? "trace" : fmt::format("{:g}", *t.also.smoke));
  if (t.room_co)
    put(said, "{}CO in the room {:.6g} ppm", said.empty() ? "" : ", ", 1e6 * t.room_co->value);
  to += "What was typed\n";
  put_paragraph(to, said + ".", 2);
  std::string rest;
  put(rest, "Burning {} ({})", as.burned->label, as.burned->name);
  if (as.burned->heating_value) {
    shown_value h{as.burned->heating_value->value / 1e6, std::nullopt, 2};
    const double u = writing::coverage_factor * as.burned->heating_value->standard_uncertainty;
    if (u > 0) h.u = u / 1e6;
    put(rest, ", which gives {} MJ/kg gross", readable_value(h, 2));
  }
  if (y.humidity) put(rest, ", in air of {:g} % humidity", 100 * y.humidity->value);
  else rest += ", in dry air";
  put(rest, " at {}. Losses by the method {}.", readable_pressure(y.barometer), name_of(y.by));
  put_paragraph(to, rest, 2);
}

// --- what follows --------------------------------------------------------------------------

struct answer_line {
  figure is;
  std::string_view label;
  int most_decimals;
};
struct question {
  std::string_view asks;
  std::vector<answer_line> lines;
};

const std::array<question, 5>& questions() {
  static const std::array<question, 5> all{{
      {"How much air goes through",
       {{figure::o2, "O2 that goes with this CO2", 2},
        {figure::co2, "CO2 that goes with this O2", 2},
        {figure::excess_air, "excess air, short form", 1},
        {figure::excess_air_exact, "excess air of this fuel", 1},
        {figure::air_ratio, "air ratio", 3},
        {figure::co_air_free, "CO air-free", 1},
        {figure::fuel_factor, "fuel factor Fo, as read", 3}}},
      {"Where the heat goes, of 100 % gross heating value",
       {{figure::net_stack_temp, "net stack temperature", 1},
        {figure::dry_gas_loss, "in dry flue gas", 2},
        {figure::vapour_loss, "in water vapour, sensible", 2},
        {figure::latent_loss, "in water vapour, latent", 2},
        {figure::co_loss, "in CO not burnt", 4},
        {figure::stack_loss_gross, "lost up the stack", 1},
        {figure::efficiency_gross, "efficiency, gross", 1}}},
      {"The same, of 100 % net heating value",
       {{figure::stack_loss_net, "lost up the stack", 1},
        {figure::stack_loss_rounded, "as the rule rounds it", 0},
        {figure::efficiency_net, "efficiency, net", 1}}},
      {"When the flue gets wet", {{figure::dew_point, "water dew point", 1}}},
      {"Draft",
       {{figure::draft_difference, "breech less over fire", 5},
        {figure::draft_theoretical, "what the chimney could make", 4}}},
  }};
  return all;
}

constexpr std::size_t label_width = 28, value_width = 20;

void write_answer(std::string& to, std::string_view label, figure f, const combustion& y,
                  const presentation& as, int most) {
  const auto value = with_unit(readable_figure(shown(f, *y[f], as), most), unit_of(f, as));
  constexpr std::size_t both = label_width + value_width;
  const auto used = width_of(label) + width_of(value);
  (to += "  ") += label;
  if (used < both) to.append(both - used, ' ');
  else (to += '\n').append(both + 2 - width_of(value), ' ');
  put(to, "{}  {}\n", value, name_of(y[f]->by));
}

void write_answers(std::string& to, const typed_test& t, const presentation& as, bool steps) {
  for (const auto& q : questions()) {
    bool first = true;
    for (const auto& line : q.lines) {
      if (!t.figures[line.is]) continue;
      if (first) put(to, "\n{}\n", q.asks);
      first = false;
      const bool app_o_loss = t.figures[line.is]->by == formula::app_o_sensible;
      write_answer(to, app_o_loss ? "in flue gas, sensible" : line.label, line.is, t.figures, as,
                   line.most_decimals);
    }
  }
  if (!steps) return;
  to += "\nSteps on the way, per kg of fuel\n";
  for (const auto& row : figure_table)
    if (row.working && t.figures[row.is])
      write_answer(to, row.label, row.is, t.figures, as, many_decimals);
}

// --- what speaks against it ----------------------------------------------------------------

std::string grave_word(severity s) {
  return s == severity::danger ? "DANGER" : std::string{name_of(s)};
}

void write_findings(std::string& to, const typed_test& t, const presentation& as) {
  to += "\nWhat speaks against it\n";
  bool monoxide = false;
  for (const auto& f : t.found) {
    put_paragraph(to, fmt::format("{}: {}", grave_word(f.grave), words_of(f, as)), 2);
    monoxide = monoxide || f.what == finding_kind::co_high || f.what == finding_kind::co_in_room;
  }
  if (t.found.empty())
    put_paragraph(to, "Nothing that was typed is past a limit; `stilling list limits` shows them.",
                  2);
  if (!monoxide) return;
  std::string limits = "CO in air that people breathe:";
  bool first = true;
  for (const auto& e : exposure_table) {
    if (e.mark != "read" || e.ppm > 200) continue;
    put(limits, "{} {:g} ppm {} ({})", std::exchange(first, false) ? "" : ";", e.ppm, e.over,
        e.source.substr(0, e.source.find(',')));
  }
  put_paragraph(to, limits + ".", 2);
}

/// Reasons a person did not bring about by what was typed, or that say nothing new.
bool is_told(undefined why, const combustion& y) {
  switch (why) {
    case undefined::oxygen_measured:
    case undefined::co2_measured:
    case undefined::not_derived:
    case undefined::other_basis:
    case undefined::other_method:
    case undefined::counted_elsewhere:
    case undefined::one_gas_only: return false;
    case undefined::draft_absent:
      return y.inputs.has(channel::draft_breech) || y.inputs.has(channel::draft_overfire);
    default: return true;
  }
}

void write_withheld(std::string& to, const combustion& y) {
  bool first = true;
  for (const auto& reason : undefined_table) {
    if (!is_told(reason.is, y)) continue;
    std::string names;
    for (const auto& row : figure_table) {
      if (row.working || y[row.is] || y[row.is].error() != reason.is) continue;
      put(names, "{}{}", names.empty() ? "" : ", ", row.label);
    }
    if (names.empty()) continue;
    if (std::exchange(first, false)) to += "\nWhat cannot be said\n";
    put_paragraph(to, fmt::format("{}: {}.", names, reason.words), 2);
  }
}

}  // namespace

void write(std::string& to, const typed_test& t, const presentation& as, bool steps) {
  // What endangers people is not kept for the end.
  for (const auto& f : t.found)
    if (f.grave == severity::danger)
      put_paragraph(to, fmt::format("DANGER: {} {}", brief_words_of(f, as),
                                    advice_on(f.what).meaning),
                    0);
  write_inputs(to, t, as);
  write_answers(to, t, as, steps);
  write_findings(to, t, as);
  write_withheld(to, t.figures);
  to += '\n';
  put_paragraph(to,
                as.how.instrument.valid.empty()
                    ? "± is expanded uncertainty, k = 2: as typed, else what the last digit leaves "
                      "open; fuel and weather included, the instrument's own error not "
                      "(--instrument)."
                    : "± is expanded uncertainty, k = 2: as typed, else what the last digit leaves "
                      "open; fuel, weather and the instrument's specification included.",
                0);
  put_paragraph(to,
                "CO poisons and hot flue gas burns: the maker's instructions, local codes and "
                "licensed practice come before anything printed here.",
                0);
}

}  // namespace stilling::plain
