// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include <utility>

#include "stilling/text.hpp"
#include "text_cell.hpp"
#include "text_number.hpp"

namespace stilling::csv {
namespace {

using namespace writing;

void append_optional(std::string& to, const std::optional<double>& x, int decimals) {
  to += ',';
  if (x) append_rounded(to, *x, decimals);
}

void append_optional(std::string& to, const std::optional<instant>& t) {
  to += ',';
  if (t) append_seconds(to, *t);
}

void append_count(std::string& to, std::uint64_t n) { put(to, ",{}", n); }

/// Derived figures; not one that would take the name of a column of the log.
template <class Each> void each_figure(const presentation& as, Each each) {
  for (const auto& f : figure_table) {
    const bool is_measured = (f.is == figure::o2 && as.columns.contains(channel::o2)) ||
                             (f.is == figure::co2 && as.columns.contains(channel::co2));
    const bool asked_for = f.is != figure::draft_theoretical || as.how.flue;
    if (!f.working && !is_measured && asked_for) each(f.is);
  }
}

template <class Each> void each_column(const presentation& as, Each each) {
  for (const auto c : all_channels)
    if (as.columns.contains(c)) each(c, stilling::key_of(c, as.unit_of(c)));
}

/// What was added to an indication, where that was asked for.
template <class Each> void each_correction(const presentation& as, Each each) {
  if (as.drift_correction)
    each_column(as, [&](channel c, const std::string& key) {
      if (checked_in_air.contains(c)) each(c, key);
    });
}

void append_flag(std::string& to, bool is, std::string_view name) {
  if (!is) return;
  if (to.back() != ',') to += ' ';
  to += name;
}

/// A word for each mark of a lane: "outlier+stuck".
void append_marks(std::string& to, quality q) {
  constexpr std::pair<quality, std::string_view> names[]{{quality::outlier, "outlier"},
                                                         {quality::implausible, "implausible"},
                                                         {quality::stuck, "stuck"},
                                                         {quality::over_range, "over_range"},
                                                         {quality::under_range, "under_range"}};
  bool first = true;
  for (const auto& [mark, name] : names) {
    if (!has(q, mark)) continue;
    if (!std::exchange(first, false)) to += '+';
    to += name;
  }
}

}  // namespace

void write_header(std::string& to, const presentation& as) {
  to += "file,declared_s,from_s,to_s,released_s,end_reason,flags";
  each_column(as, [&](channel, const std::string& key) {
    put(to, ",{0},{0}_u,{0}_rate_per_min,{0}_rate_bound_per_min", key);
  });
  each_correction(as, [&](channel, const std::string& key) { put(to, ",{}_correction", key); });
  each_figure(as, [&](figure f) { put(to, ",{0},{0}_u", writing::key_of(f, as)); });
  to += '\n';
}

void write(std::string& to, std::string_view file, const settled_reading& r,
           const presentation& as) {
  append_cell(to, file);
  append_optional(to, r.declared);
  append_optional(to, r.from);
  append_optional(to, r.to);
  append_optional(to, r.released);
  to += ',';
  if (r.ended != cause::none) to += name_of(r.ended);
  to += ',';
  append_flag(to, r.creeping, "creeping");
  append_flag(to, r.hunting.has_value(), "hunting");
  append_flag(to, r.drift_corrected, "drift_corrected");
  each_column(as, [&](channel c, const std::string&) {
    if (!r.channels.has(c)) {
      to += ",,,,";
      return;
    }
    const auto& x = r.channels[c];
    const auto value = shown(c, x, as);
    append_optional(to, value.value, value.decimals);
    append_optional(to, value.u, value.decimals);
    std::optional<double> rate, bound;
    if (x.rate_bound) {
      rate = seconds_per_minute * difference_from_canonical(as.unit_of(c), x.rate);
      bound = seconds_per_minute * difference_from_canonical(as.unit_of(c), *x.rate_bound);
    }
    const int decimals = bound && *bound > 0 ? decimals_below(*bound) : value.decimals;
    append_optional(to, rate, decimals);
    append_optional(to, bound, decimals);
  });
  each_correction(as, [&](channel c, const std::string&) {
    const auto& x = r.channels[c];
    std::optional<double> correction;
    if (x.correction) correction = difference_from_canonical(as.unit_of(c), *x.correction);
    append_optional(to, correction, shown(c, x, as).decimals);
  });
  const auto figures = derive(r, *as.burned, as.how);
  each_figure(as, [&](figure f) {
    const auto& d = figures[f];
    if (!d) {
      to += ",,";
      return;
    }
    const auto value = shown(f, *d, as);
    append_optional(to, value.value, value.decimals);
    append_optional(to, value.u, value.decimals);
  });
  to += '\n';
}

void write_frame_header(std::string& to, const presentation& as) {
  to += "time_s,line";
  each_column(as, [&](channel, const std::string& key) { (to += ',') += key; });
  to += ",marks\n";
}

void write(std::string& to, const frame& f, const presentation& as) {
  append_seconds(to, f.at);
  append_count(to, f.line);
  each_column(as, [&](channel c, const std::string&) {
    std::optional<double> x;
    if (f.indication.has(c)) x = from_canonical(as.unit_of(c), f.indication[c]);
    append_optional(to, x, all_decimals(as.unit_of(c)));
  });
  to += ',';
  bool first = true;
  for (const auto c : all_channels) {
    if (f.mark(c) == quality::good) continue;
    if (!std::exchange(first, false)) to += ' ';
    put(to, "{}:", traits_of(c).name);
    append_marks(to, f.mark(c));
  }
  to += '\n';
}

void write_verdict_header(std::string& to, const presentation& as) {
  to += "time_s,line,phase,reason";
  each_column(as, [&](channel c, const std::string& key) {
    put(to, ",{},{}_per_min,{}_bound_per_min", traits_of(c).name, key, key);
  });
  to += '\n';
}

void write(std::string& to, const verdict& v, const presentation& as) {
  append_seconds(to, v.row.at);
  append_count(to, v.row.line);
  put(to, ",{},{}", name_of(v.in), name_of(v.why));
  each_column(as, [&](channel c, const std::string&) {
    if (!v.trends.has(c)) {
      to += ",,,";
      return;
    }
    const auto& t = v.trends[c];
    (to += ',') += name_of(t.is);
    std::optional<double> rate, bound;
    if (t.measured) {
      rate = seconds_per_minute * difference_from_canonical(as.unit_of(c), t.rate);
      bound = seconds_per_minute * difference_from_canonical(as.unit_of(c), t.rate_bound);
    }
    const int decimals = bound && *bound > 0 ? decimals_below(*bound) : 6;
    append_optional(to, rate, decimals);
    append_optional(to, bound, decimals);
  });
  to += '\n';
}

}  // namespace stilling::csv
