// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Kept tests as rows of CSV.

#include <algorithm>

#include "history_rows.hpp"
#include "stilling/history.hpp"
#include "text_cell.hpp"

namespace stilling::history {
namespace {

using namespace writing;

void append_value(std::string& to, const shown_value& x) {
  append_rounded(to += ',', x.value, x.decimals);
  to += ',';
  if (x.u) append_rounded(to, *x.u, x.decimals);
}

template <class Each> void each_column(const presentation& as, Each each) {
  for (const auto c : all_channels)
    if (as.columns.contains(c)) each(c);
}

/// Not one that would take the name of a column of the log.
template <class Each> void each_figure(const presentation& as, Each each) {
  for (const auto& f : figure_table) {
    const bool is_measured = (f.is == figure::o2 && as.columns.contains(channel::o2)) ||
                             (f.is == figure::co2 && as.columns.contains(channel::co2));
    if (!f.working && !is_measured && f.is != figure::draft_theoretical) each(f.is);
  }
}

void write_row(std::string& to, const kept_test& t, const kept_reading* r, std::size_t place,
               const presentation& as) {
  put(to, "{},{}", t.number, written_day(t.day));
  for (const auto* words : {&t.about.customer, &t.about.site, &t.about.appliance, &t.file, &t.fuel,
                            &t.method, &t.outcome})
    append_cell(to += ',', printable(*words));
  if (r == nullptr) {
    to += ",,,,,,";
  } else {
    put(to, ",{},", place);
    append_seconds(to, r->read.declared);
    append_seconds(to += ',', r->read.from);
    append_seconds(to += ',', r->read.to.value_or(r->read.last_seen));
    to += ',';
    if (r->read.ended != cause::none) to += name_of(r->read.ended);
    to += ',';
    if (r->smoke) append_rounded(to, *r->smoke, 1);
  }
  each_column(as, [&](channel c) {
    if (r == nullptr || !r->read.channels.has(c)) {
      to += ",,";
      return;
    }
    auto x = r->read.channels[c];
    if (r->used.has(c) && r->used[c].value == x.mean)  // with the instrument's error, if stated
      x.standard_uncertainty = std::max(x.standard_uncertainty, r->used[c].standard_uncertainty);
    append_value(to, shown(c, x, as));
  });
  each_figure(as, [&](figure f) {
    if (r == nullptr || !r->figures[index_of(f)].value) {
      to += ",,";
      return;
    }
    const auto& y = r->figures[index_of(f)];
    append_value(to, shown(f, derived_value{*y.value, y.standard_uncertainty, {}, {}}, as));
  });
  to += '\n';
}

}  // namespace

void write_csv(std::string& to, std::span<const kept_test> tests, const presentation& as) {
  to += "test,day,customer,site,appliance,file,fuel,method,outcome,reading,declared_s,from_s,to_s,"
        "end_reason,smoke";
  each_column(as, [&](channel c) {
    put(to, ",{0},{0}_u", stilling::key_of(c, as.unit_of(c)));
  });
  each_figure(as, [&](figure f) { put(to, ",{0},{0}_u", writing::key_of(f, as)); });
  to += '\n';
  for (const auto& t : tests) {
    std::size_t place = 0;
    for (const auto& r : t.readings) write_row(to, t, &r, ++place, as);
    if (t.readings.empty()) write_row(to, t, nullptr, 0, as);
  }
}

}  // namespace stilling::history
