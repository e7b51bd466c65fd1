// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/text.hpp"

#include "text_number.hpp"

namespace stilling {

std::string_view version() noexcept { return STILLING_VERSION; }

std::string printable(std::string_view text) {
  std::string to;
  writing::append_printable(to, text);
  return to;
}

std::string decimal_seconds(instant t) {
  std::string to;
  writing::append_seconds(to, t);
  return to;
}

void presentation::follow(const layout& l) noexcept {
  columns = {};
  for (const auto c : all_channels) {
    units[index_of(c)] = l.unit_of(c);
    if (l.find(c) != nullptr) columns.insert(c);
  }
  // What the log has no column for is shown in the unit of its sibling: a net temperature follows
  // the stack, a draft difference the breech.
  const auto sibling = [&](channel c, channel of) {
    if (!columns.contains(c) && columns.contains(of)) units[index_of(c)] = units[index_of(of)];
  };
  sibling(channel::ambient_temp, channel::stack_temp);
  sibling(channel::stack_temp, channel::ambient_temp);
  sibling(channel::draft_breech, channel::draft_overfire);
  for (const auto c : all_channels) {
    const auto kind = traits_of(c).kind;
    if (kind == quantity::temperature && temperatures) units[index_of(c)] = *temperatures;
    if (kind == quantity::pressure_difference && pressures) units[index_of(c)] = *pressures;
  }
}

std::string key_of(channel c, unit u) {
  return fmt::format("{}_{}", traits_of(c).name, traits_of(u).name);
}

std::string_view name_of(outcome o) noexcept {
  constexpr std::string_view names[]{"settled", "never_settled", "cycling", "idle", "no_data"};
  return names[static_cast<std::size_t>(o)];
}

outcome log_summary::came_to() const noexcept {
  if (frames == 0) return outcome::no_data;
  if (plateaus > 0) return outcome::settled;
  if (fire_asked_for && burns.empty()) return outcome::idle;
  return burns.size() >= burns_of_a_cycle ? outcome::cycling : outcome::never_settled;
}

void log_summary::count_row(std::uint64_t line) noexcept {
  if (line != newest_line_) ++rows;
  newest_line_ = line;
}

void log_summary::add(const frame& f) noexcept {
  if (f.line == 0) return;  // a row held over, not one of the log
  ++frames;
  count_row(f.line);
  count_draft(f);
}

/// Hot enough to pull: a stack above 60 degC, or one that is not measured. Common practice.
void log_summary::count_draft(const frame& f) noexcept {
  if (!f.possible(channel::draft_breech)) return;
  const double draft = f.indication[channel::draft_breech];
  const bool hot = !f.possible(channel::stack_temp) || f.indication[channel::stack_temp] > 333.15;
  if (draft > 0 && hot) ++hot_rows_of_pressure_;
  any_suction_ |= draft < 0;
}

std::vector<std::string> log_summary::questions_and_assumptions() const {
  constexpr std::uint64_t enough = 10;  // our own choice
  auto all = assumptions;
  if (!any_suction_ && hot_rows_of_pressure_ >= enough)
    all.push_back(fmt::format(
        "draft_sign: suction is negative; yet a hot flue's breech shows pressure in {} rows and "
        "suction in none (--suction-positive turns the sign)",
        hot_rows_of_pressure_));
  return all;
}

void log_summary::add(const rejection& r) noexcept {
  ++rejected[static_cast<std::size_t>(r.what)];
  count_row(r.line);
}

std::uint64_t log_summary::rejections() const noexcept {
  std::uint64_t sum = 0;
  for (const auto n : rejected) sum += n;
  return sum;
}

namespace {

struct assumption_words {
  assumed is;
  std::string_view before, after;  // around the text that led to it; no `after`: without that text
};

constexpr std::array<assumption_words, assumed_count> assumption_table{{
    {assumed::column_ignored, "column ", " is no channel and was left out"},
    {assumed::column_doubled, "column ", " names a channel a second time; the first was used"},
    {assumed::column_proposed, "column ", " was taken for "},
    {assumed::trailing_separator, "one empty field after the last column", ""},
    {assumed::decimal_comma, "the decimal sign is a comma", ""},
    {assumed::cell_unit, "cell ", " names its own unit; it was honoured"},
    {assumed::bound, "cell ", " is a bound, not a value"},
    {assumed::padding, "a run of NUL bytes was passed over", ""},
    {assumed::utc, "times without an offset were read as UTC", ""},
    {assumed::time_in_seconds, "time column ", " names no unit; seconds"},
    {assumed::epoch, "time column ", " was taken for time since 1970 by its size"},
    {assumed::day_first, "date ", " was read as day, month, year"},
    {assumed::month_first, "date ", " was read as month, day, year"},
    {assumed::year, "dates name no year", ""},
    {assumed::date, "times name no date", ""},
    {assumed::fold, "the clock was set back within its zone; the order of rows decided", ""},
    {assumed::spacing, "rows share a time; they were spread evenly", ""},
    {assumed::interval, "rows carry no time; they were spaced evenly", ""},
    {assumed::units_switched, "values changed as from one temperature scale to the other", ""},
    {assumed::thousands, "number ", " has its thousands parted"},
    {assumed::units_contradict, "unit ",
     " is not the one in the column's name, which was followed"},
}};

struct fault_words {
  fault is;
  std::string_view wrong, remedy;
};

constexpr std::array<fault_words, fault_count> fault_table{{
    {fault::line_too_long, "the line is longer than any row of readings", "is this a log?"},
    {fault::not_text, "these bytes are not text", "a device that restarts often sends such"},
    {fault::too_few_fields, "fewer fields than the header has columns", "was the line cut off?"},
    {fault::too_many_fields, "more fields than the header has columns",
     "does a field hold the separator?"},
    {fault::no_time, "the time field is empty", "give every row a time"},
    {fault::bad_time, "this is no time",
     "time_s wants seconds; how a clock is written, --time-format '%d.%m.%Y %H:%M:%S' says"},
    {fault::bad_number, "this is no number", "leave the cell empty where there is no value"},
    {fault::ambiguous_number, "decimals or thousands?", "say --decimal comma or --decimal dot"},
    {fault::no_layout, "a row before any header",
     "begin with a header that names a time column (none: --interval 9s), or name the positions "
     "with --fields"},
    {fault::no_unit, "nothing tells the unit of this column",
     "name it: --column 'NAME=channel:unit'"},
    {fault::incomplete, "the line is cut off", "the log begins or ends in the middle of a line"},
    {fault::repeated, "the row was there already", "nothing to mend: it was used once"},
    {fault::ambiguous_time, "day or month first?",
     "say --time-format '%m/%d/%Y %H:%M:%S' or '%d/%m/%Y %H:%M:%S'"},
}};

template <class Table> constexpr bool in_order(const Table& table) {
  for (std::size_t i = 0; i < table.size(); ++i)
    if (static_cast<std::size_t>(table[i].is) != i) return false;
  return true;
}
static_assert(in_order(assumption_table) && in_order(fault_table));

}  // namespace

void log_summary::add(const assumption& a) {
  const auto& words = assumption_table[static_cast<std::size_t>(a.what)];
  std::string s = fmt::format("{}: {}", name_of(a.what), words.before);
  if (!words.after.empty()) {
    s += '\'';
    writing::append_printable(s, a.seen);
    s += '\'';
    s += words.after;
  }
  if (!a.taken.empty()) {
    s += words.after.ends_with(" for ") ? "" : ": ";
    writing::append_printable(s, a.taken);
  }
  if (a.line > 0) writing::put(s, " (line {}", a.line);
  if (a.line > 0 && a.field > 0) writing::put(s, ", field {}", a.field);
  if (a.line > 0) s += ')';
  for (const auto& known : assumptions)
    if (known == s) return;
  assumptions.push_back(std::move(s));
}

void write(std::string& to, const rejection& r) {
  const auto& words = fault_table[static_cast<std::size_t>(r.what)];
  writing::put(to, "line {}", r.line);
  if (r.field > 0) writing::put(to, ", field {}", r.field);
  if (!r.seen.empty()) {
    // A line may be thousands of letters long; where it is is said, what it looks like shown.
    constexpr std::size_t enough = 72;
    auto shown = r.seen.substr(0, enough);
    // No letter has more than four bytes; a cut within one would look like damage.
    for (int i = 0; i < 3 && r.seen.size() > enough; ++i)
      if ((static_cast<unsigned char>(r.seen[shown.size()]) & 0xC0U) == 0x80U)
        shown.remove_suffix(1);
    to += ", '";
    writing::append_printable(to, shown);
    to += shown.size() < r.seen.size() ? "...'" : "'";
  }
  writing::put(to, ": {}; {}\n", words.wrong, words.remedy);
}

}  // namespace stilling
