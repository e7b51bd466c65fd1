// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A survey in sentences, for a person.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <string>
#include <vector>

#include "stilling/text.hpp"
#include "survey.hpp"

namespace stilling::command {
namespace {

constexpr std::size_t width = 88;

/// Before this a time is one since the log began, not a date; March 1973.
constexpr instant first_date{seconds(100'000'000)};

std::size_t width_of(std::string_view text) {
  return static_cast<std::size_t>(std::ranges::count_if(
      text, [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80; }));
}

/// A paragraph, its lines broken at blanks. `before` stands before the first.
void put_wrapped(std::string& to, std::string_view text, std::string_view before = {}) {
  const auto indent = before.empty() ? 0 : before.size() + 2;
  to += before;
  std::size_t at = 0;
  while (!text.empty()) {
    const auto word = text.substr(0, text.find(' '));
    if (at > 0 && before.size() + at + 1 + width_of(word) > width) {
      (to += '\n').append(indent, ' ');
      at = 0;
    } else if (at > 0) {
      to += ' ', ++at;
    }
    to += word;
    at += width_of(word);
    text.remove_prefix(std::min(word.size() + 1, text.size()));
  }
  to += '\n';
}

std::string counted(std::uint64_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

/// 0.5 s, 42 s, 32 min 14 s, 3 h 5 min
std::string words_of(duration d) {
  const auto s = d.count() / nanoseconds_per_second;
  if (s < 120) return decimal_seconds(instant{d}) + " s";
  if (s < 7200)
    return fmt::format("{} min{}", s / 60, s % 60 == 0 ? "" : fmt::format(" {} s", s % 60));
  if (s < 172'800) return fmt::format("{} h {} min", s / 3600, s / 60 % 60);
  return fmt::format("{} days {} h", s / 86'400, s / 3600 % 24);
}

std::string words_of(instant t) {
  if (t < first_date) return decimal_seconds(t) + " s";
  using namespace std::chrono;
  const auto day = floor<days>(sys_time<duration>{t.time_since_epoch()});
  const year_month_day date{day};
  const auto s = (t.time_since_epoch() - day.time_since_epoch()).count() / nanoseconds_per_second;
  return fmt::format("{}-{:02}-{:02} {:02}:{:02}:{:02} UTC", int{date.year()},
                     unsigned{date.month()}, unsigned{date.day()}, s / 3600, s / 60 % 60, s % 60);
}

std::string_view words_of(time_unit u) {
  constexpr std::string_view names[time_unit_count]{"nanoseconds", "microseconds", "milliseconds",
                                                    "seconds",     "minutes",      "hours"};
  return names[static_cast<std::size_t>(u)];
}

std::string_view words_of_separator(const layout& l) {
  if (l.labelled) return "values carry labels";
  switch (l.separator) {
    case ',': return "fields are parted by commas";
    case ';': return "fields are parted by semicolons";
    case '\t': return "fields are parted by tabs";
    case '|': return "fields are parted by upright strokes";
    default: return "fields are parted by blanks";
  }
}

void put_columns(std::string& to, const survey& s) {
  std::size_t name_width = 4, as_width = 9;
  for (const auto& f : s.fields) {
    name_width = std::max(name_width, width_of(f.name));
    as_width = std::max(as_width, f.as.size());
  }
  name_width = std::min<std::size_t>(name_width, 40);
  const auto row = [&](std::string_view field, std::string_view name, std::string_view as,
                       std::string_view in) {
    std::string line = fmt::format("  {:>5}  {}", field, name);
    line.append(name_width - std::min(name_width, width_of(name)) + 2, ' ');
    line += as;
    line.append(as_width - std::min(as_width, as.size()) + 2, ' ');
    line += in;
    line.erase(line.find_last_not_of(' ') + 1);
    to += line + '\n';
  };
  row("field", "name", "taken for", "unit");
  constexpr std::size_t most = 12;  // of those not used; a log may have hundreds
  std::size_t unused = 0;
  for (std::size_t i = 0; i < s.fields.size(); ++i) {
    const auto& f = s.fields[i];
    if (f.as.empty() && ++unused > most) continue;
    row(std::to_string(i + 1), f.name, f.as.empty() ? "-" : f.as,
        f.as.empty() && !f.why.empty() ? "not used: " + f.why : f.in);
  }
  if (unused > most) to += fmt::format("  and {} more that are not used\n", unused - most);
}

void put_clock(std::string& to, const survey& s, const log_options& asked) {
  const auto& t = s.columns->time;
  std::string text;
  switch (t.form) {
    case clock_form::none:
      text = "The rows have no time; they are spaced as --interval says";
      break;
    case clock_form::number: text = fmt::format("Times are {}", words_of(t.in)); break;
    case clock_form::open: text = "Times are as the first row shows"; break;
    case clock_form::stamp:
      text = t.field == t.second ? "Times are those of a calendar and a clock"
                                 : "Date and clock stand in two columns";
      if (!asked.time_zone.empty()) text += " in " + asked.time_zone;
      break;
  }
  if (s.first) text += fmt::format(": from {} to {}", words_of(*s.first), words_of(*s.last));
  if (s.first && s.break_count == 0)
    text += fmt::format(", {}", words_of(std::max(*s.last - *s.first, duration{})));
  text += '.';
  if (const auto n = s.apart.count(); n > 0) {
    const auto usual = s.apart.median();
    if (s.apart.least() == s.apart.greatest())
      text += fmt::format(" Rows are {} apart, all of them.", words_of(usual));
    else
      text += fmt::format(
          " Rows are {} apart (median), from {} to {}; the longest silence ends "
          "at line {}.",
          words_of(usual), words_of(s.apart.least()), words_of(s.apart.greatest()),
          s.line_of_longest);
    if (const auto gaps = s.apart.longer_than(3 * usual); gaps > 0)
      text += fmt::format(
          " {} longer than three times the usual.",
          gaps == 1 ? std::string{"One silence is"} : fmt::format("{} silences are", gaps));
  }
  if (s.break_count == 0) text += " There is no break.";
  put_wrapped(to, text);
  if (s.break_count == 0) return;
  to += fmt::format("It breaks {}:\n", s.break_count == 1 ? std::string{"once"}
                                                          : fmt::format("{} times", s.break_count));
  for (const auto& b : s.breaks)
    to += fmt::format("  line {}: {}\n", b.line, plain::words_of(b.kind));
  if (s.break_count > s.breaks.size())
    to += fmt::format("  and {} more\n", s.break_count - s.breaks.size());
}

/// CSV without quotes to a table.
void put_rows(std::string& to, std::string_view csv) {
  std::vector<std::vector<std::string>> rows(1);
  rows.back().emplace_back();
  for (const char c : csv) {
    if (c == '\n') rows.emplace_back(1);
    else if (c == ',') rows.back().emplace_back();
    else rows.back().back() += c;
  }
  rows.pop_back();
  // Marks are told where there are any.
  const auto marked = [](const auto& row) { return !row.back().empty(); };
  if (std::none_of(rows.begin() + 1, rows.end(), marked))
    for (auto& row : rows) row.pop_back();
  std::vector<std::size_t> widths;
  for (const auto& row : rows) {
    widths.resize(std::max(widths.size(), row.size()));
    for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], row[i].size());
  }
  for (const auto& row : rows) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) line += fmt::format("  {:>{}}", row[i], widths[i]);
    line.erase(line.find_last_not_of(' ') + 1);
    to += line + '\n';
  }
}

/// What the table of columns does not say already.
void put_assumptions(std::string& to, const log_summary& sum) {
  bool any = false;
  for (const auto& a : sum.assumptions) {
    if (a.starts_with("column_ignored")) continue;
    if (!any) to += "\nTaken for granted:\n";
    any = true;
    const auto colon = a.find(": ");
    put_wrapped(to, std::string_view{a}.substr(colon == a.npos ? 0 : colon + 2), "  ");
  }
}

void put_faults(std::string& to, const survey& s) {
  if (s.summary.rejections() == 0) return;
  to += "\nWhat could not be used, the first of each kind:\n";
  for (std::size_t i = 0; i < fault_count; ++i)
    if (s.summary.rejected[i] > 0)
      to += fmt::format("  {} x {}", s.summary.rejected[i], s.first_fault[i]);
}

void put_proposal(std::string& to, const survey& s, const log_options& asked,
                  std::string_view file) {
  const auto p = propose(s, asked);
  if (!p.options.empty()) {
    to += s.columns ? "\nMore of it can be used, if this is what these columns are:\n"
                    : "\nIt can be read, if this is what its columns are:\n";
    to += "  stilling check";
    for (const auto& o : p.options)
      to += fmt::format(" \\\n    {} {}", o.name, quoted_for_shell(printable(o.value)));
    to += fmt::format(" \\\n    {}\n", file == "standard input" ? "-" : quoted_for_shell(file));
    for (const auto& o : p.options)
      if (!o.doubt.empty()) to += fmt::format("  {}: {}\n", printable(o.value), o.doubt);
  }
  if (!p.remark.empty()) to += '\n';
  for (std::string_view rest = p.remark; !rest.empty();) {
    const auto line = rest.substr(0, rest.find('\n'));
    if (line.starts_with(' ')) (to += line) += '\n';
    else put_wrapped(to, line);
    rest.remove_prefix(std::min(line.size() + 1, rest.size()));
  }
  if (p.options.empty() && p.remark.empty() && !s.columns)
    to +=
        "\nNo name among these tells a channel. --column 'NAME=CHANNEL:UNIT' says what a column "
        "is;\n`stilling list channels` names channels and units.\n";
}

}  // namespace

void write_survey(std::string& to, const survey& s, const log_options& asked,
                  std::string_view file) {
  if (s.bytes.bytes() == 0) {
    to += fmt::format("{} is empty.\n", file);
    return;
  }
  std::string text =
      fmt::format("{} is {}, {}; lines end with {}", printable(file), s.bytes.encoded_as(),
                  counted(s.lines, "line", "lines"), s.bytes.line_ends());
  if (!s.columns) {
    put_wrapped(to, text + ". It is not understood: no line of it names the columns.");
    if (s.openings.empty()) return;
    to += "\nIt begins:\n";
    for (const auto& line : s.openings)
      to += fmt::format("  {}\n", printable(std::string_view{line}.substr(0, width)));
    return put_proposal(to, s, asked, file);
  }
  text += fmt::format("; {}.", words_of_separator(*s.columns));
  const auto& sum = s.summary;
  if (sum.rows == 0) text += " There is no row.";
  else if (sum.frames == sum.rows)
    text += sum.rows == 1 ? " Its one row can be read."
                          : fmt::format(" Its {} rows can all be read.", sum.rows);
  else text += fmt::format(" Of {} rows {} can be read.", sum.rows, sum.frames);
  put_wrapped(to, text);

  to += s.header_line > 0 ? fmt::format("\nLine {} names the columns:\n", s.header_line)
                          : std::string{"\nThe columns were named by you:\n"};
  put_columns(to, s);
  put_proposal(to, s, asked, file);
  if (s.layouts > 1)
    to += fmt::format("  {} other layouts follow; see the breaks\n", s.layouts - 1);
  to += '\n';
  put_clock(to, s, asked);
  put_assumptions(to, sum);
  if (sum.frames > 0) {
    to += "\nThe first rows, as they were read:\n";
    put_rows(to, s.rows);
  }
  put_faults(to, s);
  if (s.notes.count > 0) {
    to += fmt::format("\n{}:\n", counted(s.notes.count, "note", "notes"));
    for (const auto& n : s.notes.first) to += fmt::format("  {}\n", n);
    if (s.notes.count > s.notes.first.size())
      to += fmt::format("  and {} more\n", s.notes.count - s.notes.first.size());
  }
}

}  // namespace stilling::command
