// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "opening.hpp"
#include "stilling/decoding/header.hpp"

namespace stilling::command {
namespace {

constexpr std::size_t longest_opening = 4096;  // letters kept of a line nobody understood
constexpr std::size_t most_assumptions = 64;   // distinct ones; each layout says its own

}  // namespace

void survey::examples::add(std::string text) {
  if (++count <= most_examples) first.push_back(std::move(text));
}

survey::survey(const log_options& asked)
    : asked_{asked},
      reader_{decoder{asked.settings.decoder} | timeline{asked.settings.timeline}},
      shown_{asked.shown} {}

auto survey::sink() {
  return [this](const auto& item) { take(item); };
}

void survey::push(std::string_view piece) {
  bytes.push(piece);
  framer_.push(piece, [this](const record& r) { take(r); });
}

void survey::advance(instant t) { reader_.advance(t, sink()); }

void survey::finish() {
  framer_.finish([this](const record& r) { take(r); });
  reader_.finish(sink());
  bytes.finish();
}

void survey::take(const record& r) {
  lines = r.line;
  if (!columns) {
    before_.swap(current_);
    current_.assign(r.text.substr(0, longest_opening));
  }
  if (openings.size() < first_rows && !is_note(r.text) && !trimmed(r.text).empty())
    openings.emplace_back(r.text.substr(0, longest_opening));
  reader_.push(r, sink());
}

void survey::take(const layout& l) {
  ++layouts;
  shown_.follow(l);
  if (columns) return;
  columns = l;
  csv::write_frame_header(rows, shown_);
  name_fields(l);
  for (auto& a : reading_assumptions(asked_, l)) summary.assumptions.push_back(std::move(a));
}

/// The header is the line in hand, or the one before it where a row of units stood between.
void survey::name_fields(const layout& l) {
  const auto& s = asked_.settings.decoder;
  std::string header{s.fields.view()};
  char separator = ',';
  if (s.fields.empty() && !l.labelled) {
    const bool here = read_header(without_mark(current_), s).has_value();
    header = here ? current_ : before_;
    header_line = here ? lines : lines - 1;
    while (!openings.empty() && openings.front() != header) openings.erase(openings.begin());
    separator = l.separator;
  }
  if (l.labelled) {
    for (std::size_t i = 0; i < s.rule_count; ++i) {
      const auto& r = s.rules[i];
      fields.push_back({printable(r.name.view()),
                        std::string{r.is_time ? "time" : traits_of(r.measurand).name},
                        std::string{r.as ? traits_of(*r.as).name : ""},
                        {}});
    }
    return;
  }
  field f;
  std::size_t at = 0;
  for (field_cursor cursor{without_mark(header), separator}; cursor.next(f); ++at) {
    named_field named{printable(f.text), {}, {}, {}};
    if (l.time.form != clock_form::none && (at == l.time.field || at == l.time.second)) {
      named.as = "time";
      if (l.time.form == clock_form::number) named.in = name_of(l.time.in);
    }
    for (const auto& c : l) {
      if (c.field != at) continue;
      named.as = traits_of(c.measurand).name;
      named.in = traits_of(c.as).name;
    }
    if (named.as.empty() && f.text != "-" && !f.text.empty())
      named.why = detail::is_understood(f.text, s) ? "a channel that is there already, or no unit"
                                                   : "no channel of this name";
    if (at < l.fields || !f.text.empty()) fields.push_back(std::move(named));
  }
}

proposal propose(const survey& s, const log_options& asked) {
  if (!s.columns) {
    if (s.openings.empty()) return {};
    return propose(s.openings, asked.settings.decoder);
  }
  if (s.header_line == 0) return {};
  return propose_more(s.openings, *s.columns);
}

void survey::take(const frame& f) {
  if (f.line == 0) return;  // a row held over, not one of the log
  summary.add(f);
  if (!first) first = f.at;
  last = f.at;
  if (newest_ && f.at > *newest_) {
    const bool longer = f.at - *newest_ > apart.greatest();
    apart.add(f.at - *newest_);
    if (longer) line_of_longest = f.line;
  }
  newest_ = f.at;
  if (layouts != 1 || shown_rows_ == first_rows) return;
  ++shown_rows_;
  csv::write(rows, f, shown_);
}

void survey::take(const rejection& r) {
  summary.add(r);
  auto& example = first_fault[static_cast<std::size_t>(r.what)];
  if (example.empty()) stilling::write(example, r);
}

void survey::take(const assumption& a) {
  if (summary.assumptions.size() < most_assumptions) summary.add(a);
}

void survey::take(const note& n) {
  notes.add(fmt::format("line {}: {}", n.line, printable(n.text.substr(0, 60))));
}

void survey::take(const discontinuity& d) {
  newest_.reset();
  if (++break_count <= most_examples) breaks.push_back({d.line, d.kind});
}

}  // namespace stilling::command
