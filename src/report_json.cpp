// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// A report for programs. What `settle --jsonl` says as an event stands here as the same event.

#include <utility>

#include "report_words.hpp"
#include "text_json.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling::report {
namespace {

using namespace writing;

/// An event, without the end of its line.
template <class Write> void append_event(std::string& to, Write write) {
  write();
  if (to.ends_with('\n')) to.pop_back();
}

void text_or_null(object& o, std::string_view name, std::string_view value) {
  if (value.empty()) o.key(name) += "null";
  else o.text(name, value);
}

void append_about(std::string& to, const particulars& p) {
  object o{to};
  for (const auto& [name, value] :
       {std::pair<std::string_view, std::string_view>{"company", p.company},
        {"technician", p.technician},
        {"phone", p.phone},
        {"customer", p.customer},
        {"site", p.site},
        {"date", p.date},
        {"appliance", p.appliance},
        {"burner", p.burner},
        {"nozzle", p.nozzle},
        {"pump_pressure", p.pump_pressure},
        {"instrument", p.instrument},
        {"instrument_serial", p.instrument_serial},
        {"calibrated", p.calibrated},
        {"remarks", p.remarks}})
    text_or_null(o, name, value);
  if (!p.use) {
    o.key("yearly_use") += "null";
    return;
  }
  object use{o.key("yearly_use")};
  use.number("amount", p.use->amount, 6);
  use.text("unit", p.fuel_unit);
  use.number("price", p.use->price, 6);
  text_or_null(use, "currency", p.currency);
}

void append_difference(std::string& to, const reporting::shown_difference& d) {
  object o{to};
  const int decimals = d.u > 0 ? decimals_below(d.u) : 9;
  o.number("value", d.value, decimals);
  o.number("u", d.u > 0 ? std::optional{d.u} : std::nullopt, decimals);
  o.key("real") += d.real ? "true" : "false";
}

/// Keyed as the readings and the derived figures are; percentages differ by points.
void append_comparison(std::string& to, const comparison& x, const presentation& as) {
  object o{to};
  for (const auto c : all_channels)
    if (x.channels.has(c))
      append_difference(o.key(stilling::key_of(c, as.unit_of(c))),
                        reporting::shown(c, x.channels[c], as));
  for (const auto& f : figure_table)
    if (!f.working && x[f.is])
      append_difference(o.key(writing::key_of(f.is, as)), reporting::shown(f.is, *x[f.is], as));
}

void append_note(std::string& to, const noted& n) {
  object o{to};
  o.time("time_s", n.at);
  o.count("line", n.line);
  o.text("text", n.text);
}

void append_row(std::string& to, std::size_t number, const settled_row& row, const reported& r) {
  object o{to};
  o.count("number", number);
  append_event(o.key("plateau"), [&] { jsonl::write(to, row.read, r.as); });
  append_list(o.key("moves"), row.moves,
              [&](std::size_t n) { append_note(to, r.test.notes()[n]); });
  o.key("moved_unsaid") += row.moved_unsaid ? "true" : "false";
  if (!row.likely) o.key("guessed_move") += "null";
  else
    o.text("guessed_move", *row.likely == saying::adjusted_draft ? "adjusted draft"
                                                                 : "adjusted air");
  if (row.smoke) append_note(o.key("smoke"), r.test.notes()[*row.smoke]);
  else o.key("smoke") += "null";
  if (row.since_before) append_comparison(o.key("change"), *row.since_before, r.as);
  else o.key("change") += "null";
  append_list(o.key("against"), judge(row, r.test, r.as.limits),
              [&](const finding& f) { append_text(to, name_of(f.what)); });
}

void append_saving(std::string& to, const std::vector<settled_row>& rows, const reported& r) {
  const auto& use = r.about.use;
  const auto year = reporting::saved_by_moves(rows, r.about);
  if (!year) {
    to += "null";
    return;
  }
  const auto as_told = [](const difference& d, double scale) {
    return reporting::shown_difference{scale * d.value, scale * d.expanded(), d.real()};
  };
  object o{to};
  append_difference(o.key("share_pct"), as_told(year->share, 100));
  if (use) append_difference(o.key("amount"), as_told(year->amount, 1));
  else o.key("amount") += "null";
  if (use && year->money) append_difference(o.key("money"), as_told(*year->money, 1));
  else o.key("money") += "null";
}

void append_phase(std::string& to, const phase_span& p) {
  append_event(to, [&] { jsonl::write(to, {p.from, p.line, {}, p.in, p.why, p.which}); });
}

void append_discovery(std::string& to, const discovery& d, const presentation& as) {
  append_event(to, [&] {
    if (const auto* o = std::get_if<observation>(&d.what)) jsonl::write(to, *o, as);
    else jsonl::write(to, d.at, std::get<finding>(d.what), as);
  });
}

}  // namespace

void write_json(std::string& to, const reported& r) {
  const auto rows = r.test.rows();
  {
    object o{to};
    o.count("schema", schema);
    o.text("version", version());
    text_or_null(o, "file", r.log);
    append_about(o.key("about"), r.about);
    o.text("fuel", r.as.burned->name);
    o.text("method", name_of(r.as.how.by));
    const auto& spans = r.test.course().spans();
    o.time("from_s", spans.empty() ? std::nullopt : std::optional{spans.front().from});
    o.time("to_s", spans.empty() ? std::nullopt : std::optional{spans.back().to});
    std::size_t number = 0;
    append_list(o.key("rows"), rows,
                [&](const settled_row& row) { append_row(to, ++number, row, r); });
    const auto best = best_row(rows, r.test, r.as.limits);
    if (best) o.count("best", *best + 1);
    else o.key("best") += "null";
    if (rows.size() > 1)
      append_comparison(o.key("first_to_last"), compare(rows.front(), rows.back()), r.as);
    else o.key("first_to_last") += "null";
    append_saving(o.key("saving"), rows, r);
    append_list(o.key("findings"), r.test.found(),
                [&](const discovery& d) { append_discovery(to, d, r.as); });
    append_list(o.key("phases"), r.test.phases(),
                [&](const phase_span& p) { append_phase(to, p); });
    append_list(o.key("notes"), r.test.notes(), [&](const noted& n) { append_note(to, n); });
    append_list(o.key("breaks"), r.test.breaks(), [&](const discontinuity& d) {
      append_event(to, [&] { jsonl::write(to, d); });
    });
    append_event(o.key("end"), [&] { jsonl::write(to, r.summary, r.as); });
  }
  to += '\n';
}

}  // namespace stilling::report
