// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Kept tests for a person: a list, and the course of one appliance, in 80 columns.

#include <algorithm>
#include <cmath>
#include <utility>

#include "history_rows.hpp"
#include "stilling/history.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::history {
namespace {

using namespace writing;

constexpr std::size_t page_width = 80;

void append_right(std::string& to, std::string_view text, std::size_t width) {
  to.append(width - std::min(width, width_of(text)), ' ');
  to += text;
}

/// Words in lines of the page, all but the first under each other.
void append_wrapped(std::string& to, std::string_view first, std::size_t indent,
                    std::string_view words) {
  std::string line{first};
  bool fresh = true;
  while (!words.empty()) {
    const auto word = words.substr(0, words.find(' '));
    words.remove_prefix(std::min(word.size() + 1, words.size()));
    if (!fresh && width_of(line) + 1 + width_of(word) > page_width) {
      (to += line) += '\n';
      line.assign(indent, ' ');
      fresh = true;
    }
    if (!fresh) line += ' ';
    line += word;
    fresh = false;
  }
  (to += line) += '\n';
}

/// The gravest, counted.
std::string gravest_of(const kept_test& t) {
  const auto kinds = kinds_found(t);
  if (kinds.empty()) return "nothing";
  const auto grave = kinds.front().newest->severity;
  const auto n = static_cast<std::size_t>(std::ranges::count_if(
      kinds, [&](const kind_found& k) { return k.newest->severity == grave; }));
  return grave == "danger" ? fmt::format("{} danger", n) : counted(n, printable(grave));
}

// --- the list ------------------------------------------------------------------------------

void write_line(std::string& to, const kept_test& t, std::span<const followed> columns,
                const presentation& as) {
  put(to, "{:>6}  {}{:>10}", t.number, written_day(t.day),
      t.readings.empty() ? std::string{"-"} : fmt::format("{}", t.readings.size()));
  const auto* r = reading_of(t, reading_of_test::last);
  for (const auto& f : columns) {
    const auto x = r != nullptr ? f.in(*r) : std::nullopt;
    append_right(to, x ? value_of(f, *x, as) : std::string{"-"}, 14);
  }
  put(to, "  {}\n", gravest_of(t));
}

/// Of what is followed, what has room in a line.
std::vector<followed> few_of(std::vector<followed> all) {
  std::erase_if(all, [](const followed& f) {
    const bool wanted = f.of_channel ? *f.of_channel == channel::o2 ||
                                           *f.of_channel == channel::stack_temp
                                     : f.of_figure == figure::net_stack_temp ||
                                           f.of_figure == figure::efficiency_gross;
    return !wanted;
  });
  return all;
}

std::string_view brief_label(const followed& f) {
  if (f.of_channel) return *f.of_channel == channel::o2 ? "O2" : "stack";
  return f.of_figure == figure::net_stack_temp ? "net stack" : "eff. gross";
}

// --- the course of one appliance -------------------------------------------------------------

constexpr std::size_t value_width = 18, change_width = 18;
constexpr std::size_t chart_at = 2 + 10 + value_width + change_width + 3;
constexpr std::size_t chart_width = page_width - chart_at - 2;

double expanded(const followed_value& x) { return 2 * x.standard_uncertainty; }

/// Where values lie between the lowest and the highest of all, each with what it leaves open.
class scale {
 public:
  explicit scale(std::span<const point> all) {
    low_ = all.front().at.value, high_ = low_;
    for (const auto& p : all) {
      low_ = std::min(low_, p.at.value - expanded(p.at));
      high_ = std::max(high_, p.at.value + expanded(p.at));
    }
  }
  [[nodiscard]] double low() const { return low_; }
  [[nodiscard]] double high() const { return high_; }
  [[nodiscard]] std::string draw(const followed_value& x) const {
    std::string line(chart_width, ' ');
    for (auto i = place(x.value - expanded(x)); i <= place(x.value + expanded(x)); ++i)
      line[i] = '-';
    line[place(x.value)] = 'o';
    return line;
  }

 private:
  [[nodiscard]] std::size_t place(double x) const {
    constexpr auto last = static_cast<double>(chart_width - 1);
    if (!(high_ > low_)) return chart_width / 2;
    const double at = std::floor((x - low_) / (high_ - low_) * last + 0.5);
    return static_cast<std::size_t>(std::clamp(at, 0.0, last));
  }
  double low_, high_;
};

/// "414.4" alone: an end of a scale.
std::string end_of_scale(const followed& f, double x, double range, const presentation& as) {
  const auto width = f.shown({range, 0}, true, as).value;
  std::string to;
  const int decimals = width > 0 ? std::max(1 - leading_power(width), 0) : f.most_decimals;
  append_fixed(to, f.shown({x, 0}, false, as).value, std::min(decimals, f.most_decimals + 1));
  return to;
}

void write_trend(std::string& to, const followed& f, std::span<const point> all,
                 const presentation& as) {
  const auto words = trend_words(f, all, as);
  if (!words.empty()) put(to, "  a year: {}\n", words);
}

void write_followed(std::string& to, const followed& f, std::span<const point> all,
                    const presentation& as) {
  const scale drawn{all};
  to += f.label;
  if (all.size() > 1) {
    append_right(to, end_of_scale(f, drawn.low(), drawn.high() - drawn.low(), as),
                 chart_at + 7 - width_of(f.label));
    append_right(to, end_of_scale(f, drawn.high(), drawn.high() - drawn.low(), as),
                 page_width - chart_at - 7);
  }
  to += '\n';
  const point* before = nullptr;
  for (const auto& p : all) {
    put(to, "  {}", written_day(p.test->day));
    append_right(to, value_of(f, p.at, as), value_width);
    if (all.size() > 1) {
      std::string change;
      bool real = false;
      if (before != nullptr && comparable(f, *before->test, *p.test)) {
        const auto d = change_between(before->at, p.at);
        change = change_of(f, d, as);
        real = is_real(f, d, as);
      }
      append_right(to, change, change_width);
      put(to, "{} |{}|", real ? " *" : "  ", drawn.draw(p.at));
    }
    to += '\n';
    before = &p;
  }
  write_trend(to, f, all, as);
}

/// What a spot is has no ±, so no change of it is called more than chance.
void write_smoke(std::string& to, std::span<const kept_test> tests, reading_of_test which) {
  std::string words;
  for (const auto& t : tests) {
    const auto* r = reading_of(t, which);
    if (r == nullptr || !r->smoke) continue;
    words += fmt::format("{}{} {}", words.empty() ? "" : ", ", written_day(t.day),
                         smoke_words(*r->smoke));
  }
  if (words.empty()) return;
  to += '\n';
  append_wrapped(to, "smoke number: ", 14, words);
}

void write_since_before(std::string& to, std::span<const kept_test> tests,
                        std::span<const followed> all, reading_of_test which,
                        const presentation& as) {
  const kept_test *later = nullptr, *earlier = nullptr;
  for (const auto& t : tests)
    if (!t.readings.empty()) earlier = std::exchange(later, &t);
  if (earlier == nullptr) return;
  std::string real, not_real;
  for (const auto& f : all) {
    const auto a = f.in(*reading_of(*earlier, which)), b = f.in(*reading_of(*later, which));
    if (!a || !b || !comparable(f, *earlier, *later)) continue;
    const auto d = change_between(*a, *b);
    const bool is = is_real(f, d, as);
    auto& in = is ? real : not_real;
    in += fmt::format("{}{}", in.empty() ? "" : "; ", f.short_label);
    if (is)
      in += fmt::format(" {}{}{}", change_of(f, d, as), f.unit_name.empty() ? "" : " ",
                        f.unit_name);
  }
  if (real.empty() && not_real.empty()) return;
  put(to, "\nFrom {} to {}\n", written_day(earlier->day), written_day(later->day));
  append_wrapped(to, "  changed by more than chance: ", 4, real.empty() ? "nothing" : real);
  if (!not_real.empty()) append_wrapped(to, "  not by more: ", 4, not_real);
}

void write_found(std::string& to, const kept_test& t) {
  constexpr std::size_t indent = 14;
  auto lead = fmt::format("  {}  ", written_day(t.day));
  for (const auto& [f, times] : kinds_found(t)) {
    const auto severity = f->severity == "danger" ? "DANGER" : printable(f->severity);
    append_wrapped(to, lead, indent,
                   fmt::format("{}: {}{}", severity, printable(f->brief),
                               times > 1 ? fmt::format(" ({} times)", times) : ""));
    lead.assign(indent, ' ');
  }
  if (t.found.empty()) append_wrapped(to, lead, indent, "nothing");
}

void write_tests(std::string& to, std::span<const kept_test> tests) {
  for (const auto& t : tests) {
    auto line = fmt::format("  {}  test {}: {}", written_day(t.day), t.number,
                            t.readings.empty()
                                ? "nothing settled (" + printable(t.outcome) + ")"
                                : counted(t.readings.size(), "settled reading"));
    line += fmt::format(", {}", printable(t.fuel));
    std::size_t moves = 0;
    for (const auto& r : t.readings) moves += r.moves.size();
    if (moves > 0) line += ", adjusted " + (moves == 1 ? "once" : counted(moves, "time"));
    if (!t.file.empty()) line += ", " + printable(t.file);
    append_wrapped(to, "", 14, line);
  }
}

}  // namespace

void write_list(std::string& to, std::span<const kept_test> tests, const presentation& as) {
  if (tests.empty()) {
    to += "No test is kept here yet.\n";
    return;
  }
  std::vector<std::vector<kept_test>> appliances;
  for (const auto& t : tests) {
    const auto at = std::ranges::find_if(
        appliances, [&](const auto& a) { return same_appliance(a.front(), t); });
    if (at == appliances.end()) appliances.push_back({t});
    else at->push_back(t);
  }
  put(to, "{} of {}\n", counted(tests.size(), "test"), counted(appliances.size(), "appliance"));
  const auto columns = few_of(all_followed(tests, as));
  for (const auto& a : appliances) {
    put(to, "\n{}\n{:>6}  {:<10}{:>10}", name_of_appliance(a.back()), "test", "day", "settled");
    for (const auto& f : columns)
      append_right(to, fmt::format("{}, {}", brief_label(f), f.unit_name), 14);
    to += "  found\n";
    for (const auto& t : a) write_line(to, t, columns, as);
  }
}

void write_course(std::string& to, std::span<const kept_test> tests, const presentation& as,
                  reading_of_test which) {
  if (tests.empty()) return;
  put(to, "{}\n\n", name_of_appliance(tests.back()));
  write_tests(to, tests);
  const auto all = all_followed(tests, as);
  if (!all.empty())
    put(to, "\nWhat stands for a test is its {} settled reading, as the appliance was {}.\n",
        which == reading_of_test::last ? "last" : "first",
        which == reading_of_test::last ? "left" : "found");
  write_since_before(to, tests, all, which, as);
  bool several = false;
  for (const auto& f : all) {
    const auto points = points_of(f, tests, which);
    if (points.empty()) continue;
    several = several || points.size() > 1;
    to += '\n';
    write_followed(to, f, points, as);
  }
  write_smoke(to, tests, which);
  to += "\nWhat was found\n";
  for (const auto& t : tests) write_found(to, t);
  to += '\n';
  if (several)
    to +=
        "Second column: the change since the test before; * where it is more than chance,\n"
        "beyond the ± of both together (95 %).\n";
  if (several && tests.size() > 2)
    to += "A year: the line through the tests; its ± counts how they scatter about it.\n";
  if (!all.empty() && as.how.instrument.valid.empty())
    to += "Between two visits the instrument's own error may be larger than what is marked:\n"
          "the same instrument, freshly zeroed, tells most.\n";
  plain::write_cautions(to, !all.empty(), as);
}

}  // namespace stilling::history
