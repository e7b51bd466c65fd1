// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The course of one appliance over the years as a page that needs nothing but itself.

#include <algorithm>

#include "chart_parts.hpp"
#include "history_rows.hpp"
#include "markup.hpp"
#include "stilling/chart.hpp"
#include "stilling/history.hpp"

namespace stilling::history {
namespace {

using namespace writing;
using namespace drawing;

constexpr std::string_view page_style = R"(:root{color-scheme:light dark;--ink:#1b1b1b;
--paper:#fff;--faint:#ddd;--quiet:#666;--accent:#0b5c8a}
@media (prefers-color-scheme:dark){:root{--ink:#eee;--paper:#161616;--faint:#3a3a3a;--quiet:#aaa;
--accent:#6cb8e6}}
@media print{:root{--ink:#000;--paper:#fff;--faint:#ccc;--quiet:#444;--accent:#004a75}}
body{margin:0 auto;max-width:50rem;padding:1rem;background:var(--paper);color:var(--ink);
font:1rem/1.45 system-ui,sans-serif}
h1{font-size:1.4rem}h2{font-size:1.05rem;margin:1.6rem 0 .3rem}
section{break-inside:avoid}.picture{padding:0 1rem 0 3.5rem}
table{border-collapse:collapse;font-variant-numeric:tabular-nums}
td,th{padding:.1rem .8rem .1rem 0;text-align:right;font-weight:400}
th:first-child,td:first-child,.words td{text-align:left}
.words td{vertical-align:top}.quiet{color:var(--quiet)}.real{font-weight:600}
)";

constexpr double top = 10, height = 130, foot = 34;

double in_unit(const followed& f, double x, const presentation& as) {
  return f.shown({x, 0}, false, as).value;
}

/// Every test where its day lies, with a bar for its ±.
void write_picture(std::string& to, const followed& f, std::span<const point> all,
                   const presentation& as) {
  scale across{static_cast<double>(all.front().test->day),
               static_cast<double>(all.back().test->day)};
  const double pad = std::max(0.06 * (across.high - across.low), 1.0);
  across.low -= pad, across.high += pad;
  scale down{in_unit(f, all.front().at.value, as), in_unit(f, all.front().at.value, as)};
  for (const auto& p : all) {
    const double u = 2 * p.at.standard_uncertainty;
    down.low = std::min(down.low, in_unit(f, p.at.value - u, as));
    down.high = std::max(down.high, in_unit(f, p.at.value + u, as));
  }
  const double room = std::max(0.08 * (down.high - down.low), 1e-9);
  down.low -= room, down.high += room;
  put(to, "<div class=\"picture\"><svg class=\"chart\" width=\"100%\" height=\"{}\" role=\"img\" "
          "aria-label=\"{}, {}\">\n",
      pixels(top + height + foot), marked_up(f.label), counted(all.size(), "test"));
  const auto level = [&](double x) { return top + down.down(x, height); };
  const auto ticks = round_ticks(down.low, down.high, 5);
  for (const double t : ticks.at) {
    put_line(to, 0, level(t), 1, level(t), "grid");
    std::string number;
    append_fixed(number, t, ticks.decimals);
    put_word(to, {0, -6, level(t), anchor::end, number.size()}, "tick", number);
  }
  words_placed placed;
  for (const auto& p : all) {
    const double x = across.at(static_cast<double>(p.test->day)), u = 2 * p.at.standard_uncertainty;
    put_line(to, x, level(in_unit(f, p.at.value - u, as)), x,
             level(in_unit(f, p.at.value + u, as)), "bar");
    put(to, "<circle cx=\"{}\" cy=\"{}\" r=\"4\" class=\"reading\"/>\n", share(x),
        pixels(level(in_unit(f, p.at.value, as))));
  }
  const auto put_day = [&](const point& p, double x, anchor by) {
    const auto day = written_day(p.test->day);
    const word at{x, 0, top + height + 16, by, day.size()};
    const auto where = placed.take(at);
    if (where != place::nowhere)
      put_word(to, at, where == place::on_roomy_pages ? "tick roomy" : "tick", day);
  };
  put_day(all.front(), 0, anchor::start);
  put_day(all.back(), 1, anchor::end);
  for (std::size_t i = 1; i + 1 < all.size(); ++i)
    put_day(all[i], across.at(static_cast<double>(all[i].test->day)), anchor::middle);
  to += "</svg></div>\n";
}

void write_section(std::string& to, const followed& f, std::span<const point> all,
                   const presentation& as) {
  put(to, "<section><h2>{}</h2>\n", marked_up(f.label));
  if (all.size() > 1) write_picture(to, f, all, as);
  to += "<table><tr class=\"quiet\"><th>day</th><th>value</th>"
        "<th>since the test before</th></tr>\n";
  const point* before = nullptr;
  for (const auto& p : all) {
    put(to, "<tr><td>{}</td><td>{}</td>", written_day(p.test->day), value_of(f, p.at, as));
    if (before != nullptr && comparable(f, *before->test, *p.test)) {
      const auto d = change_between(before->at, p.at);
      const bool real = is_real(f, d, as);
      put(to, "<td{}>{}{}</td>", real ? " class=\"real\"" : "", change_of(f, d, as),
          real ? ", more than chance" : "");
    } else {
      to += "<td></td>";
    }
    to += "</tr>\n";
    before = &p;
  }
  to += "</table>\n";
  if (const auto words = trend_words(f, all, as); !words.empty())
    put(to, "<p>A year: {}</p>\n", words);
  to += "</section>\n";
}

void write_row(std::string& to, const kept_test& t, std::string_view words) {
  put(to, "<tr><td>{}</td><td>{}</td></tr>\n", written_day(t.day), marked_up(words));
}

}  // namespace

void write_html(std::string& to, std::span<const kept_test> tests, const presentation& as,
                reading_of_test which) {
  if (tests.empty()) return;
  const auto name = marked_up(name_of_appliance(tests.back()));
  put(to, "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\">\n"
          "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
          "<title>{0}</title>\n<style>{1}{2}</style></head>\n<body><h1>{0}</h1>\n"
          "<p>{3}. What stands for a test is its {4} settled reading, as the appliance was {5}.\n"
          "± is at 95 % (k = 2). A change is more than chance beyond the ± of both together.</p>\n",
      name, page_style, chart::style(), counted(tests.size(), "test"),
      which == reading_of_test::last ? "last" : "first",
      which == reading_of_test::last ? "left" : "found");
  for (const auto& f : all_followed(tests, as))
    if (const auto points = points_of(f, tests, which); !points.empty())
      write_section(to, f, points, as);
  to += "<section><h2>Smoke, and what was found</h2>\n<table class=\"words\">\n";
  for (const auto& t : tests) {
    const auto* r = reading_of(t, which);
    if (r == nullptr) write_row(to, t, fmt::format("nothing settled ({})", t.outcome));
    else if (r->smoke) write_row(to, t, "smoke number " + smoke_words(*r->smoke));
    for (const auto& [f, times] : kinds_found(t))
      write_row(to, t, fmt::format("{}: {}{}", f->severity == "danger" ? "DANGER" : f->severity,
                                   f->brief, times > 1 ? fmt::format(" ({} times)", times) : ""));
    if (t.found.empty()) write_row(to, t, "nothing was found");
  }
  std::string cautions;
  plain::write_cautions(cautions, true, as);
  std::ranges::replace(cautions, '\n', ' ');
  put(to, "</table></section>\n<p class=\"quiet\">{}</p>\n</body></html>\n", marked_up(cautions));
}

}  // namespace stilling::history
