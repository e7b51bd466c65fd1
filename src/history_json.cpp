// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Kept tests for other programs: JSON with exact numbers.

#include <cmath>
#include <utility>

#include "history_rows.hpp"
#include "stilling/history.hpp"
#include "text_json.hpp"

namespace stilling::history {
namespace {

using namespace writing;

/// The shortest decimal that reads back as the same bits; what is no number is unknown.
void append_exact(std::string& to, const std::optional<double>& x) {
  if (x && std::isfinite(*x)) put(to, "{}", *x);
  else to += "null";
}

std::optional<double> expanded(const std::optional<double>& u) {
  if (!u) return std::nullopt;
  return writing::coverage_factor * *u;
}

std::vector<std::string_view> lines_of(std::string_view text) {
  std::vector<std::string_view> all;
  while (!text.empty()) {
    const auto end = text.find('\n');
    all.push_back(text.substr(0, end));
    text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
  }
  return all;
}

void append_channel(std::string& to, const channel_reading& r,
                    const std::optional<double>& u_used) {
  object o{to};
  const auto exact = [&](std::string_view key, const std::optional<double>& x) {
    append_exact(o.key(key), x);
  };
  exact("value", r.mean);
  exact("u", expanded(r.standard_uncertainty));
  exact("u_with_instrument", expanded(u_used));
  exact("degrees_of_freedom", r.degrees_of_freedom);
  exact("rate_per_s", r.rate_bound ? std::optional{r.rate} : std::nullopt);
  exact("rate_bound_per_s", r.rate_bound);
  exact("remaining", r.remaining);
  exact("peak", r.peak);
  exact("lag_s", r.lag);
  exact("correction", r.correction);
  exact("step", r.step > 0 ? std::optional{r.step} : std::nullopt);
  exact("coverage", r.coverage);
  exact("longest_gap_s", r.longest_gap);
  o.count("n", r.count);
  exact("n_effective", r.effective_count);
  o.count("set_aside", r.set_aside);
}

void append_reading(std::string& to, const kept_reading& k) {
  object o{to};
  const auto& r = k.read;
  o.time("declared_s", r.declared);
  o.time("from_s", r.from);
  o.time("to_s", r.to);
  o.time("released_s", r.released);
  if (r.ended == cause::none) o.key("end_reason") += "null";
  else o.text("end_reason", name_of(r.ended));
  o.key("creeping") += r.creeping ? "true" : "false";
  append_exact(o.key("hunting_period_s"),
               r.hunting ? std::optional{r.hunting->period} : std::nullopt);
  append_exact(o.key("smoke"), k.smoke);
  append_list(o.key("moves"), k.moves, [&](const std::string& m) { append_text(to, m); });
  o.key("readings");
  {
    object channels{to};
    for (const auto c : all_channels) {
      if (!r.channels.has(c)) continue;
      std::optional<double> used;
      if (k.used.has(c)) used = k.used[c].standard_uncertainty;
      append_channel(channels.key(canonical_key(c)), r.channels[c], used);
    }
  }
  o.key("derived");
  object derived{to};
  for (const auto& f : figure_table) {
    const auto& y = k.figures[index_of(f.is)];
    object one{derived.key(canonical_key(f.is))};
    append_exact(one.key("value"), y.value);
    if (y.value) append_exact(one.key("u"), expanded(y.standard_uncertainty));
    one.text(y.value ? "formula" : "reason", y.by);
  }
}

void append_finding(std::string& to, const kept_finding& f) {
  object o{to};
  o.time("time_s", f.at);
  o.text("finding", f.kind);
  o.text("severity", f.severity);
  o.text("quantity", f.quantity);
  append_exact(o.key("value"), f.value);
  append_exact(o.key("u"), expanded(f.standard_uncertainty));
  append_exact(o.key("limit"), f.limit);
  o.text("basis", f.basis);
  o.text("text", f.text);
}

void append_test(std::string& to, const kept_test& t) {
  object o{to};
  put(o.key("test"), "{}", t.number);
  o.text("day", written_day(t.day));
  o.text("identity", t.identity);
  o.text("file", t.file);
  o.key("about");
  {
    object about{to};
    for (const auto& p : all_particulars())
      if (const auto& words = t.about.*p.words; !words.empty()) about.text(p.name, words);
  }
  o.text("version", t.version);
  // Its lines are its sense, which append_text would take from it.
  append_list(o.key("settings"), lines_of(t.settings),
              [&](std::string_view line) { append_text(to, line); });
  o.text("fuel", t.fuel);
  o.text("method", t.method);
  o.text("outcome", t.outcome);
  o.count("rows", t.rows);
  o.count("frames", t.frames);
  o.count("rejected", t.rejected);
  append_list(o.key("plateaus"), t.readings,
              [&](const kept_reading& r) { append_reading(to, r); });
  append_list(o.key("findings"), t.found, [&](const kept_finding& f) { append_finding(to, f); });
  append_list(o.key("notes"), t.notes, [&](const kept_note& n) {
    object one{to};
    one.time("time_s", n.at);
    one.text("text", n.text);
  });
  append_list(o.key("assumptions"), t.assumptions,
              [&](const std::string& a) { append_text(to, a); });
}

}  // namespace

void write_json(std::string& to, std::span<const kept_test> tests) {
  {
    object o{to};
    o.count("schema", 1);
    append_list(o.key("tests"), tests, [&](const kept_test& t) { append_test(to, t); });
  }
  to += '\n';
}

}  // namespace stilling::history
