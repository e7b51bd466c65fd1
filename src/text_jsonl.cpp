// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <cmath>
#include <utility>

#include "stilling/text.hpp"
#include "text_figures.hpp"
#include "text_json.hpp"
#include "text_number.hpp"

namespace stilling::jsonl {
namespace {

using namespace writing;

void append_reading(std::string& to, channel c, const channel_reading& r, const presentation& as) {
  const unit u = as.unit_of(c);
  const auto value = shown(c, r, as);
  const auto in_unit = [&](double difference) { return difference_from_canonical(u, difference); };
  std::optional<double> rate, bound, remaining, peak;
  if (r.rate_bound) {
    rate = seconds_per_minute * in_unit(r.rate);
    bound = seconds_per_minute * in_unit(*r.rate_bound);
  }
  if (r.remaining) remaining = in_unit(*r.remaining);
  if (r.peak) peak = from_canonical(u, *r.peak);
  const int of_rate = bound && *bound > 0 ? decimals_below(*bound) : value.decimals;
  object o{to};
  o.number("value", value.value, value.decimals);
  o.number("u", value.u, value.decimals);
  if (r.correction) {
    o.number("indicated", from_canonical(u, r.mean - *r.correction), value.decimals);
    o.number("correction", in_unit(*r.correction), value.decimals);
  }
  o.number("rate_per_min", rate, of_rate);
  o.number("rate_bound_per_min", bound, of_rate);
  o.number("remaining", remaining, value.decimals);
  o.number("peak", peak, value.decimals);
  o.number("lag_s", r.lag, 1);
  o.number("coverage", r.coverage, 4);
  o.number("longest_gap_s", r.longest_gap, 3);
  o.count("n", r.count);
  o.number("n_effective", r.effective_count, 1);
  o.count("set_aside", r.set_aside);
}

void append_flags(std::string& to, const settled_reading& r) {
  to += '[';
  const auto start = to.size();
  const auto flag = [&](bool is, std::string_view name) {
    if (!is) return;
    if (to.size() > start) to += ',';
    append_text(to, name);
  };
  flag(r.creeping, "creeping");
  flag(r.hunting.has_value(), "hunting");
  flag(r.drift_corrected, "drift_corrected");
  to += ']';
}

void append_oscillation(std::string& to, const oscillation& swing, const presentation& as) {
  object o{to};
  o.number("period_s", swing.period, 1);
  object each{o.key("amplitude")};
  for (const auto c : all_channels) {
    if (!swing.amplitude.has(c)) continue;
    const unit u = as.unit_of(c);
    const double size = difference_from_canonical(u, swing.amplitude[c]);
    each.number(stilling::key_of(c, u), size, size > 0 ? decimals_below(size) : 0);
  }
}

void append_burn(std::string& to, const burn& b, const presentation& as) {
  object o{to};
  o.time("from_s", b.from);
  o.time("to_s", b.to);
  const auto values = [&](std::string_view name, const lanes<double>& xs) {
    object each{o.key(name)};
    for (const auto c : all_channels) {
      if (!xs.has(c)) continue;
      const unit u = as.unit_of(c);
      each.number(stilling::key_of(c, u), from_canonical(u, xs[c]), usual_decimals(u));
    }
  };
  values("peak", b.peak);
  values("last", b.last);
}

void append_layout(std::string& to, const layout& l) {
  object o{to};
  o.text("separator", {&l.separator, 1});
  o.key("columns");
  to += '[';
  bool first = true;
  const auto column_of = [&](std::uint16_t field, std::string_view name, std::string_view u) {
    if (!std::exchange(first, false)) to += ',';
    object one{to};
    if (l.labelled) one.key("field") += "null";
    else one.count("field", field + 1U);
    one.text("channel", name);
    if (u.empty()) one.key("unit") += "null";
    else one.text("unit", u);
  };
  const auto& t = l.time;
  if (t.form != clock_form::none) {
    column_of(t.field, "time", t.form == clock_form::number ? name_of(t.in) : std::string_view{});
    if (t.second != t.field) column_of(t.second, "time", {});
  }
  for (const auto& c : l) column_of(c.field, traits_of(c.measurand).name, traits_of(c.as).name);
  to += ']';
}

}  // namespace

void write_begin(std::string& to, std::string_view file, const layout* as) {
  {
    object o{to};
    o.text("event", "begin");
    o.count("schema", schema);
    o.text("version", version());
    if (file.empty()) o.key("file") += "null";
    else o.text("file", file);
    if (as == nullptr) o.key("layout") += "null";
    else append_layout(o.key("layout"), *as);
  }
  to += '\n';
}

void write(std::string& to, const phase_change& p) {
  {
    object o{to};
    o.text("event", "phase");
    o.time("time_s", p.at);
    o.text("phase", name_of(p.to));
    o.text("reason", name_of(p.why));
  }
  to += '\n';
}

void write(std::string& to, const settled_reading& r, const presentation& as) {
  {
    object o{to};
    o.text("event", "plateau");
    o.time("declared_s", r.declared);
    o.time("from_s", r.from);
    o.time("to_s", r.to);
    o.time("released_s", r.released);
    if (r.ended == cause::none) o.key("end_reason") += "null";
    else o.text("end_reason", name_of(r.ended));
    {
      object readings{o.key("readings")};
      for (const auto c : all_channels)
        if (r.channels.has(c))
          append_reading(readings.key(stilling::key_of(c, as.unit_of(c))), c, r.channels[c], as);
    }
    append_derived(o.key("derived"), derive(r, *as.burned, as.how), as);
    append_flags(o.key("flags"), r);
    if (r.hunting) append_oscillation(o.key("oscillation"), *r.hunting, as);
  }
  to += '\n';
}

void write(std::string& to, const discontinuity& d) {
  {
    object o{to};
    o.text("event", "break");
    o.time("time_s", d.at);
    o.count("line", d.line);
    o.text("kind", name_of(d.kind));
  }
  to += '\n';
}

void write(std::string& to, const rejection& r) {
  {
    object o{to};
    o.text("event", "rejection");
    o.count("line", r.line);
    o.text("fault", name_of(r.what));
    if (r.field == 0) o.key("field") += "null";
    else o.count("field", r.field);
    o.text("seen", r.seen);
  }
  to += '\n';
}

void write(std::string& to, const log_summary& s, const presentation& as) {
  {
    object o{to};
    o.text("event", "end");
    o.text("outcome", name_of(s.came_to()));
    o.count("plateaus", s.plateaus);
    o.count("rows", s.rows);
    o.count("frames", s.frames);
    {
      object rejected{o.key("rejected")};
      for (std::size_t i = 0; i < fault_count; ++i)
        if (s.rejected[i] > 0) rejected.count(name_of(static_cast<fault>(i)), s.rejected[i]);
    }
    append_list(o.key("burns"), s.burns, [&](const burn& b) { append_burn(to, b, as); });
    append_list(o.key("assumptions"), s.questions_and_assumptions(),
                [&](const std::string& a) { append_text(to, a); });
  }
  to += '\n';
}

}  // namespace stilling::jsonl
