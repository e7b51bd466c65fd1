// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "proposal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "named_channel.hpp"
#include "stilling/decoding/cell.hpp"
#include "stilling/decoding/column_name.hpp"
#include "stilling/decoding/fields.hpp"
#include "stilling/decoding/header.hpp"
#include "stilling/decoding/stamp.hpp"
#include "stilling/text.hpp"

namespace stilling::command {
namespace {

struct cells {
  std::vector<std::string_view> of;

  cells(std::string_view line, char separator) {
    field f;
    for (field_cursor cursor{line, separator}; cursor.next(f) && of.size() < 512;)
      of.push_back(f.text);
  }
  [[nodiscard]] std::string_view at(std::size_t i) const {
    return i < of.size() ? of[i] : std::string_view{};
  }
};

/// The numbers of a cell may have a comma; what they are about is only guessed here.
std::optional<double> number_in(std::string_view text) {
  const auto c = read_cell(text, quantity::temperature, '\0');
  return c.is == cell::verdict::value ? std::optional{c.value} : std::nullopt;
}

struct guessed_unit {
  unit is;
  std::string_view doubt;
};

/// Where the name tells no unit, the size of the first value may.
guessed_unit unit_of(channel c, std::optional<double> value) {
  const double size = value ? std::abs(*value) : -1;
  switch (traits_of(c).kind) {
    case quantity::temperature: return {unit::fahrenheit, "or degC? the name does not say"};
    case quantity::pressure_difference:
      if (size < 1) return {unit::inch_of_water, "or Pa? the name does not say"};
      return {unit::pascal, "or inH2O? the name does not say"};
    case quantity::volume_fraction: break;
  }
  if (c == channel::co || c == channel::no) return {unit::ppm, "or pct? the name does not say"};
  if (size >= 0 && size < 0.25) return {unit::fraction, "or pct? the name does not say"};
  return {unit::percent, "or fraction? the name does not say"};
}

/// `below`: the cell under the name, which may be that of a row of units.
proposal::option column_option(std::string_view name, channel c, std::string_view below,
                               std::optional<double> value) {
  const auto kind = traits_of(c).kind;
  const auto rule = fmt::format("{}={}", name, traits_of(c).name);
  const auto said = recognise_unit(split_off_unit(name).unit_text, kind, degree_sign::any_byte);
  if (said) return {"--column", fmt::format("{}:{}", rule, traits_of(*said).name), {}};
  if (recognise_unit(below, kind, degree_sign::any_byte)) return {"--column", rule, {}};
  const auto guess = unit_of(c, value);
  return {"--column", fmt::format("{}:{}", rule, traits_of(guess.is).name),
          std::string{guess.doubt}};
}

/// The separator that cuts the first two lines into as many fields, and most of them.
char separator_of(const std::vector<std::string>& lines, const decoder_settings& s) {
  if (s.separator != '\0') return s.separator;
  char best = ',';
  std::size_t most = 1;
  for (const char c : separators) {
    const auto n = cells{lines[0], c}.of.size();
    const bool agrees = lines.size() < 2 || cells{lines[1], c}.of.size() == n;
    if (agrees && n > most) best = c, most = n;
  }
  return best;
}

/// A name a rule can hold: a `+` parts date and clock, and an `=` is only found from behind.
bool can_be_ruled(std::string_view name) {
  return !name.empty() && decltype(column_rule::name)::fits(name) &&
         std::ranges::none_of(name, [](char c) { return static_cast<unsigned char>(c) < 0x20; });
}

void propose_time(const cells& names, const cells& values, proposal& to) {
  std::vector<std::size_t> found;
  for (std::size_t i = 0; i < names.of.size(); ++i)
    if (names_time(words_in(names.of[i])) && can_be_ruled(names.of[i])) found.push_back(i);
  if (found.empty()) {
    to.remark =
        "No column is named like a time. If there is none, add --interval 1s (the spacing "
        "of the rows); if there is one, add --column 'NAME=time'.";
    return;
  }
  const auto first = found[0];
  const auto has = [&](std::size_t i, std::string_view word) {
    return has_word(words_in(names.of[i]), {word});
  };
  if (found.size() > 1 && has(first, "date") && !has(found[1], "date")) {
    to.options.push_back(
        {"--column", fmt::format("{}+{}=time", names.of[first], names.of[found[1]]), {}});
    return;
  }
  const auto value = values.at(first);
  const auto in = recognise_time_unit(split_off_unit(names.of[first]).unit_text);
  const bool number = number_in(value).has_value();
  proposal::option option{"--column", fmt::format("{}=time", names.of[first]), {}};
  if (in && number) option.value += fmt::format(":{}", name_of(*in));
  else if (number) option.doubt = "a bare number is taken for seconds; for others :ms or :min";
  to.options.push_back(option);
  if (!number && !value.empty() && !read_stamp(value))
    to.remark = fmt::format("The time '{}' needs its form: --time-format '%d.%m.%Y %H:%M:%S'",
                            printable(value));
}

/// Of each column whose name tells a channel that is not taken.
void propose_channels(const cells& names, const cells& below, const cells& values,
                      channel_set taken, proposal& to) {
  for (std::size_t i = 0; i < names.of.size(); ++i) {
    const auto name = names.of[i];
    if (!can_be_ruled(name) || number_in(name)) continue;
    const auto c = channel_named(words_in(name));
    if (!c || taken.contains(*c)) continue;
    taken.insert(*c);
    to.options.push_back(column_option(name, *c, below.at(i), number_in(values.at(i))));
  }
}

void propose_columns(const std::vector<std::string>& lines, const decoder_settings& s,
                     proposal& to) {
  const char separator = separator_of(lines, s);
  const cells names{without_mark(lines[0]), separator};
  const cells values{lines.size() > 1 ? std::string_view{lines.back()} : std::string_view{},
                     separator};
  channel_set taken;
  bool timed = s.interval.has_value();
  for (const auto name : names.of) {
    for (const auto& is :
         {read_ruled_name(name, s), read_canonical_name(name), read_foreign_name(name)}) {
      timed |= is.is == column_name::meaning::time;
      if (is.is == column_name::meaning::reading && is.as) taken.insert(is.measurand);
    }
  }
  if (!timed) propose_time(names, values, to);
  const cells below{lines.size() > 1 ? std::string_view{lines[1]} : std::string_view{}, separator};
  propose_channels(names, below, values, taken, to);
}

/// Where no name tells a channel, the first in degrees may be the flue's.
void propose_by_unit(const std::vector<std::string>& lines, const decoder_settings& s,
                     proposal& to) {
  for (const auto name : cells{without_mark(lines[0]), separator_of(lines, s)}.of) {
    const auto tail = split_off_unit(name).unit_text;
    const auto u = recognise_unit(tail, quantity::temperature, degree_sign::any_byte);
    if (!u || !can_be_ruled(name)) continue;
    to.options.push_back({"--column", fmt::format("{}=stack_temp:{}", name, traits_of(*u).name),
                          "is this the flue gas? its name tells the unit only"});
    return;
  }
}

/// T=471F O2: 5.2%: the labels, where at least two values carry one.
std::vector<std::string> labels_of(std::string_view line) {
  std::vector<std::string> labels;
  for (std::size_t i = 1; i + 1 < line.size(); ++i) {
    if (line[i] != '=' && line[i] != ':') continue;
    auto from = i;
    while (from > 0 && std::string_view{" ,;\t{"}.find(line[from - 1]) == std::string_view::npos)
      --from;
    auto label = line.substr(from, i - from);
    while (label.starts_with('"')) label.remove_prefix(1);
    while (label.ends_with('"')) label.remove_suffix(1);
    const auto value = trimmed(line.substr(i + 1));
    if (label.empty() || detail::is_digit(label.front()) || value.empty()) continue;
    if (detail::is_digit(value.front()) || value.front() == '-') labels.emplace_back(label);
  }
  return labels;
}

void propose_labels(const std::vector<std::string>& labels, proposal& to) {
  std::string rules, doubt;
  for (const auto& label : labels) {
    const auto words = words_in(label);
    const auto c = channel_named(words);
    if (!c && !names_time(words)) continue;
    rules += rules.empty() ? "" : ",";
    const bool flue = !c && words[0] == "t";  // T beside O2 and CO is the flue's
    if (flue) doubt = "is T the stack temperature?";
    if (c || flue) rules += column_option(label, c.value_or(channel::stack_temp), {}, {}).value;
    else rules += label + "=time:s";
  }
  if (!rules.empty())
    to.options.push_back({"--labels", rules, doubt.empty() ? "mend the units" : doubt});
}

}  // namespace

proposal propose(const std::vector<std::string>& lines, const decoder_settings& s) {
  proposal to;
  if (const auto labels = labels_of(lines[0]); labels.size() >= 2) {
    propose_labels(labels, to);
    return to;
  }
  const cells first{lines[0], separator_of(lines, s)};
  const auto numbers = std::ranges::count_if(
      first.of, [](std::string_view cell) { return number_in(cell).has_value(); });
  if (first.of.size() > 1 && 2 * static_cast<std::size_t>(numbers) >= first.of.size()) {
    std::string names = "time_s";
    for (std::size_t i = 1; i < first.of.size() && i < 20; ++i) names += ",NAME";
    to.remark = fmt::format(
        "Line 1 holds numbers and no names. Name the {} positions, - for one to skip:\n"
        "  --fields {}\n"
        "with names such as stack_temp_degF, o2_pct, co_ppm (`stilling list channels`).",
        first.of.size(), names);
    return to;
  }
  propose_columns(lines, s, to);
  const bool only_times = std::ranges::all_of(
      to.options, [](const proposal::option& o) { return o.value.find("=time") != o.value.npos; });
  if (only_times) propose_by_unit(lines, s, to);
  return to;
}

proposal propose_more(const std::vector<std::string>& lines, const layout& found) {
  proposal to;
  if (lines.empty()) return to;
  channel_set taken;
  for (const auto& c : found) taken.insert(c.measurand);
  const auto line = [&](std::size_t i) {
    return i < lines.size() ? std::string_view{lines[i]} : std::string_view{};
  };
  propose_channels(cells{without_mark(line(0)), found.separator}, cells{line(1), found.separator},
                   cells{lines.back(), found.separator}, taken, to);
  return to;
}

std::string quoted_for_shell(std::string_view word) {
  std::string out = "'";
  for (const char c : word) {
    if (c == '\'') out += "'\\''";
    else out += c;
  }
  return out + "'";
}

}  // namespace stilling::command
