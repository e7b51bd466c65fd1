// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A survey as one JSON object, for a program.

#include <algorithm>
#include <nlohmann/json.hpp>
#include <utility>
#include <vector>

#include "stilling/text.hpp"
#include "survey.hpp"

namespace stilling::command {
namespace {

using nlohmann::ordered_json;

/// Text, or null where there is none.
ordered_json text_or_null(std::string_view text) {
  return text.empty() ? ordered_json{} : ordered_json(text);
}

ordered_json number_or_text(std::string_view cell) {
  auto number = ordered_json::parse(cell, nullptr, false);
  return number.is_number() ? number : text_or_null(cell);
}

ordered_json columns_of(const survey& s) {
  auto list = ordered_json::array();
  for (std::size_t i = 0; i < s.fields.size(); ++i) {
    const auto& f = s.fields[i];
    list.push_back({{"field", i + 1},
                    {"name", f.name},
                    {"channel", text_or_null(f.as)},
                    {"unit", text_or_null(f.in)}});
    if (!f.why.empty()) list.back()["not_used"] = f.why;
  }
  return list;
}

ordered_json clock_of(const survey& s) {
  constexpr std::string_view forms[]{"none", "number", "open", "stamp"};
  const auto& t = s.columns->time;
  ordered_json clock{
      {"form", forms[static_cast<std::size_t>(t.form)]},
      {"unit", t.form == clock_form::number ? ordered_json(name_of(t.in)) : ordered_json{}},
      {"first_s", nullptr},
      {"last_s", nullptr},
      {"spacing_s", nullptr}};
  const auto seconds_at = [](instant at) { return in_seconds(at.time_since_epoch()); };
  if (s.first) clock["first_s"] = seconds_at(*s.first), clock["last_s"] = seconds_at(*s.last);
  if (s.apart.count() > 0)
    clock["spacing_s"] = {{"median", in_seconds(s.apart.median())},
                          {"least", in_seconds(s.apart.least())},
                          {"greatest", in_seconds(s.apart.greatest())},
                          {"line_of_greatest", s.line_of_longest},
                          {"gaps", s.apart.longer_than(3 * s.apart.median())}};
  return clock;
}

/// The first rows, a member for each column; CSV without quotes.
ordered_json rows_of(std::string_view csv) {
  std::vector<std::string_view> names;
  auto list = ordered_json::array();
  for (std::size_t line = 0; !csv.empty(); ++line) {
    auto row = ordered_json::object();
    auto rest = csv.substr(0, csv.find('\n'));
    csv.remove_prefix(std::min(rest.size() + 1, csv.size()));
    for (std::size_t i = 0;; ++i) {
      const auto comma = rest.find(',');
      const auto cell = rest.substr(0, comma);
      if (line == 0) names.push_back(cell);
      else row[std::string{names.at(i)}] = number_or_text(cell);
      if (comma == rest.npos) break;
      rest.remove_prefix(comma + 1);
    }
    if (line > 0) list.push_back(std::move(row));
  }
  return list;
}

ordered_json rejected_in(const survey& s) {
  auto all = ordered_json::object();
  for (std::size_t i = 0; i < fault_count; ++i) {
    if (s.summary.rejected[i] == 0) continue;
    auto first = s.first_fault[i];
    if (first.ends_with('\n')) first.pop_back();
    all[std::string{name_of(static_cast<fault>(i))}] = {{"count", s.summary.rejected[i]},
                                                        {"first", first}};
  }
  return all;
}

}  // namespace

void write_survey_json(std::string& to, const survey& s, const log_options& asked,
                       std::string_view file) {
  ordered_json out{{"file", printable(file)},
                   {"understood", s.columns.has_value()},
                   {"encoding", s.bytes.encoded_as()},
                   {"line_ends", s.bytes.line_ends()},
                   {"lines", s.lines},
                   {"rows", s.summary.rows},
                   {"frames", s.summary.frames}};
  if (s.columns) {
    const auto& l = *s.columns;
    out["separator"] = l.labelled ? ordered_json{} : ordered_json(std::string(1, l.separator));
    out["header_line"] = s.header_line > 0 ? ordered_json(s.header_line) : ordered_json{};
    out["columns"] = columns_of(s);
    out["clock"] = clock_of(s);
    out["first_rows"] = rows_of(s.rows);
  }
  const auto p = propose(s, asked);
  auto options = ordered_json::array();
  for (const auto& o : p.options)
    options.push_back(
        {{"option", o.name}, {"value", printable(o.value)}, {"doubt", text_or_null(o.doubt)}});
  out["proposed"] = options;
  out["remark"] = text_or_null(p.remark);
  auto breaks = ordered_json::array();
  for (const auto& b : s.breaks) breaks.push_back({{"line", b.line}, {"kind", name_of(b.kind)}});
  out["breaks"] = {{"count", s.break_count}, {"first", breaks}};
  out["assumptions"] = s.summary.assumptions;
  out["rejected"] = rejected_in(s);
  out["notes"] = {{"count", s.notes.count}, {"first", s.notes.first}};
  to += out.dump() + '\n';
}

}  // namespace stilling::command
