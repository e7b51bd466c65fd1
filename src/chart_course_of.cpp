// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What the picture of a test's course shows: which rows, which part of each axis, which words.

#include <algorithm>
#include <cmath>
#include <utility>

#include "chart_course.hpp"
#include "markup.hpp"
#include "text_number.hpp"
#include "text_words.hpp"

namespace stilling::drawing {

using namespace writing;

double course::at(instant t) const noexcept {
  const double length = in_seconds(to - from);
  return length > 0 ? std::clamp(in_seconds(t - from) / length, 0.0, 1.0) : 0.5;
}

namespace {

constexpr std::size_t most_columns = 400;
constexpr auto clock_jump = seconds(6 * 3600);  // our own choice: no test pauses so long

/// The longest run of spans through which the clock went on as clocks do.
std::pair<std::size_t, std::size_t> longest_run(const std::vector<trace_span>& spans) {
  std::pair<std::size_t, std::size_t> best{0, 0};
  std::size_t begin = 0;
  for (std::size_t i = 1; i <= spans.size(); ++i) {
    if (i < spans.size() && spans[i].from >= spans[i - 1].from &&
        spans[i].from - spans[i - 1].to < clock_jump)
      continue;
    if (i - begin > best.second - best.first) best = {begin, i};
    begin = i;
  }
  return best;
}

void take(lanes<extent>& to, const lanes<extent>& more) {
  for (const auto c : all_channels) {
    if (!more.has(c)) continue;
    auto e = to[c];
    e.take(more[c]);
    to.set(c, e);
  }
}

/// What belongs on the axis: a move, a spot.
bool is_marked(saying what) noexcept {
  return what == saying::adjusted_air || what == saying::adjusted_draft ||
         what == saying::smoke || what == saying::oil_spot;
}

}  // namespace

std::optional<course> course_of(const visit& test) {
  const auto& spans = test.course().spans();
  const auto [begin, end] = longest_run(spans);
  if (begin == end) return std::nullopt;
  course k;
  k.from = spans[begin].from;
  k.to = spans[end - 1].to;
  k.is_part = begin > 0 || end < spans.size();
  std::size_t newest = most_columns;  // no column yet
  for (std::size_t i = begin; i < end; ++i) {
    const double from = k.at(spans[i].from), to = k.at(spans[i].to);
    const auto which = static_cast<std::size_t>(from * (most_columns - 1));
    if (which != newest) k.columns.push_back({from, to, {}});
    newest = which;
    k.columns.back().to = to;
    take(k.columns.back().of, spans[i].of);
    k.shown = k.shown | spans[i].of.valid;
  }
  std::size_t number = 0;
  for (const auto& s : test.settled()) {
    ++number;
    const auto& r = s.read;
    const instant last = r.to.value_or(r.last_seen);
    if (!k.holds(r.declared) && !k.holds(last)) continue;
    k.settled.push_back({number, k.at(std::min(r.from, r.declared)),
                         k.at(std::max(last, r.declared)), k.at(r.from), k.at(last)});
  }
  for (const auto& n : test.notes()) {
    const auto what = n.what();
    if (is_marked(what.what) && k.holds(n.at))
      k.marks.push_back({k.at(n.at), what.what == saying::smoke || what.what == saying::oil_spot,
                         shortened(n.text, 26)});
  }
  return k;
}

namespace {

struct range {
  std::optional<double> low, high;
  void take(double x) {
    low = std::min(low.value_or(x), x);
    high = std::max(high.value_or(x), x);
  }
};

/// Below this a difference is not worth a whole panel; canonical unit, our own choice.
double least_view(channel c) noexcept {
  if (c == channel::co || c == channel::no) return 20e-6;
  switch (traits_of(c).kind) {
    case quantity::temperature: return 10;
    case quantity::volume_fraction: return 0.01;
    case quantity::pressure_difference: return 5;
  }
  return 1;
}

/// What settled, with its uncertainty and what the rows did meanwhile.
range settled_range(channel c, const course& k, const visit& test) {
  range out;
  for (const auto& s : test.settled()) {
    if (!s.read.channels.has(c)) continue;
    const auto& r = s.read.channels[c];
    out.take(r.mean - 2 * r.standard_uncertainty);
    out.take(r.mean + 2 * r.standard_uncertainty);
  }
  for (const auto& col : k.columns) {
    if (!col.of.has(c)) continue;
    const auto within = [&](const settled_span& s) { return col.from >= s.from && col.to <= s.to; };
    if (std::ranges::any_of(k.settled, within)) out.take(col.of[c].mean());
  }
  return out;
}

bool burns_in(phase p) noexcept {
  return p == phase::appliance_warm_up || p == phase::settling || p == phase::steady ||
         p == phase::disturbed;
}

/// Where nothing settled: what nine in ten columns of the fire hold, or of all where none burned.
range usual_range(channel c, const course& k, const visit& test) {
  const auto burning = [&](double at) {
    bool is = false;
    for (const auto& p : test.phases())
      if (k.holds(p.from) && k.at(p.from) <= at) is = burns_in(p.in);
    return is;
  };
  std::vector<double> means, all;
  for (const auto& col : k.columns) {
    if (!col.of.has(c)) continue;
    all.push_back(col.of[c].mean());
    if (burning(col.from)) means.push_back(all.back());
  }
  if (means.empty()) means = std::move(all);
  std::ranges::sort(means);
  range out;
  if (means.empty()) return out;
  out.take(means[means.size() / 20]);
  out.take(means[means.size() - 1 - means.size() / 20]);
  return out;
}

}  // namespace

view view_of(channel c, const course& k, const visit& test, const presentation& as) {
  range all;
  for (const auto& col : k.columns) {
    if (!col.of.has(c)) continue;
    all.take(col.of[c].lowest);
    all.take(col.of[c].highest);
  }
  range in = settled_range(c, k, test);
  const bool nothing_settled = !in.low;
  if (nothing_settled) in = usual_range(c, k, test);
  double low = in.low.value_or(0), high = in.high.value_or(0);
  const double width = std::max(high - low, least_view(c));
  // As much again on either side, as far as the channel goes.
  double outer_low = std::max(low - 0.7 * width, all.low.value_or(low));
  double outer_high = std::min(high + 0.7 * width, all.high.value_or(high));
  low = std::min(low, outer_low);
  high = std::max(high, outer_high);
  if (high - low < least_view(c)) {
    const double more = (least_view(c) - (high - low)) / 2;
    low -= more, high += more;
  }
  // Nothing is worth a look for its own sake below zero, and zero is worth one where it is near.
  if (traits_of(c).kind == quantity::volume_fraction && low > 0 && low < 0.35 * high) low = 0;
  const double margin = 0.06 * (high - low);
  const unit u = as.unit_of(c);
  view v;
  if (all.high && *all.high > high + margin) v.up_to = from_canonical(u, *all.high);
  if (all.low && *all.low < low - margin) v.down_to = from_canonical(u, *all.low);
  v.on = {from_canonical(u, low - margin), from_canonical(u, high + margin)};
  return v;
}

}  // namespace stilling::drawing
