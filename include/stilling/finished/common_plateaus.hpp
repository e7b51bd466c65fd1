// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <algorithm>
#include <cstddef>
#include <optional>
#include <vector>

#include "stilling/finished/kept_rows.hpp"
#include "stilling/segment.hpp"
#include "stilling/terms/settings.hpp"

/// Where all required channels stand still at once, a fire burns and the sample is whole.
///
/// A channel stands still in the plateaus of its segments, and from a minute before it was proven
/// so live to where it left: a line through a bend hides the half that is within the limit, and
/// what was proven stays proven. Where it left is no plateau's
/// inside, however straight a line runs through it. What overlaps is one plateau. One that was
/// nowhere proven live needs two minutes.
namespace stilling {

/// Rows. Declared: a minute after the first, as soon as a rate per minute can be seen, or where it
/// was live, if that is earlier.
struct common_plateau {
  std::size_t first = 0, declared = 0, last = 0;
};

namespace detail {

inline constexpr duration shortest_plateau = seconds(60);  // the span the limits are meant for
inline constexpr double most_unrest = 0.5;  // minutes of the limit, from one minute to the next

struct time_span {
  double from = 0, to = 0;
};

/// A row at which the appliance may be settled.
[[nodiscard]] inline bool may_settle(const kept_row& r, const phase_settings& s) noexcept {
  if (s.combustion_check && !r.burning) return false;
  return r.why != cause::diluted && r.why != cause::probe_out && r.why != cause::stuck;
}

struct stretch_of_rows {
  std::size_t first = 0, last = 0;
};

/// Longest runs of such rows, without a silence in them.
[[nodiscard]] inline std::vector<stretch_of_rows> whole_stretches(const kept_rows& rows,
                                                                  const phase_settings& s) {
  std::vector<stretch_of_rows> out;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (!may_settle(rows[i], s)) continue;
    const bool goes_on = !out.empty() && out.back().last + 1 == i &&
                         rows[i].at - rows[i - 1].at <= s.gap;
    if (goes_on) out.back().last = i;
    else out.push_back({i, i});
  }
  return out;
}

/// Root mean square of what a minute's mean differs from the next, over a span; 0 below three.
[[nodiscard]] inline double unrest(const channel_series& own, const time_span& in) {
  constexpr double minute = in_seconds(shortest_plateau);
  double squares = 0, count = 0;
  std::optional<double> before;
  running_moments now;
  double from = in.from;
  for (std::size_t i = 0; i < own.t.size(); ++i) {
    if (own.t[i] < in.from || own.t[i] > in.to) continue;
    if (own.t[i] - from >= minute) {
      if (before) squares += (now.mean() - *before) * (now.mean() - *before), count += 1;
      before = now.mean();
      now = {};
      from = own.t[i];
    }
    now.push(own.y[i]);
  }
  return count < 2 ? 0 : square_root(squares / count);
}

/// None reaches across `t`.
inline void part_at(std::vector<time_span>& spans, double t) {
  for (std::size_t i = spans.size(); i-- > 0;) {
    if (!(spans[i].from < t && t < spans[i].to)) continue;
    spans.push_back({t, spans[i].to});
    spans[i].to = t;
  }
}

/// Those that overlap become one.
inline void join_overlapping(std::vector<time_span>& spans) {
  std::ranges::sort(spans, {}, &time_span::from);
  std::vector<time_span> out;
  for (const auto& x : spans) {
    if (!out.empty() && x.from < out.back().to) out.back().to = std::max(out.back().to, x.to);
    else out.push_back(x);
  }
  spans = std::move(out);
}

/// Where one channel of a stretch stands still, in seconds after the stretch's first row.
[[nodiscard]] inline std::vector<time_span> still_spans(channel c, const kept_rows& rows,
                                                        const stretch_of_rows& in,
                                                        const steadiness_settings& s) {
  const double minute = in_seconds(shortest_plateau);
  const auto own = rows.series(c, in.first, in.last);
  std::vector<time_span> out;
  for (const auto& x : find_segments(own.t, own.y,
                                     {.limit = s.limits.of(c),
                                      .step = rows.step(c),
                                      .shortest = minute,
                                      .claim_factor = s.claim_factor,
                                      .confidence = s.confidence,
                                      .departure = s.departure}))
    if (x.kind == segment_kind::plateau &&
        unrest(own, {x.from, x.to}) <= most_unrest * minute * s.limits.of(c))
      out.push_back({x.from, x.to});
  for (const instant onset : rows.departures(c))
    part_at(out, in_seconds(onset - rows[in.first].at));
  bool steady = false;
  double parted = 0;
  std::size_t next = 0;
  const auto departures = rows.departures(c);
  for (std::size_t i = in.first; i <= in.last; ++i) {
    const double t = in_seconds(rows[i].at - rows[in.first].at);
    for (; next < departures.size() && departures[next] <= rows[i].at; ++next)
      parted = in_seconds(departures[next] - rows[in.first].at);
    const bool was = steady;
    steady = rows[i].steady.contains(c);
    if (steady && !was) out.push_back({std::max({0.0, parted, t - minute}), t});
    if (steady) out.back().to = t;
  }
  join_overlapping(out);
  return out;
}

[[nodiscard]] inline std::vector<time_span> common(const std::vector<time_span>& a,
                                                   const std::vector<time_span>& b) {
  std::vector<time_span> out;
  for (const auto& x : a)
    for (const auto& y : b) {
      const time_span both{std::max(x.from, y.from), std::min(x.to, y.to)};
      if (both.to - both.from >= in_seconds(shortest_plateau)) out.push_back(both);
    }
  return out;
}

}  // namespace detail

/// In the order of time; each lasts a minute or more.
[[nodiscard]] inline std::vector<common_plateau> common_plateaus(const kept_rows& rows,
                                                                 const steadiness_settings& s,
                                                                 const phase_settings& p) {
  std::vector<common_plateau> out;
  for (const auto& stretch : detail::whole_stretches(rows, p)) {
    const auto seconds_of = [&](std::size_t i) {
      return in_seconds(rows[i].at - rows[stretch.first].at);
    };
    std::vector<detail::time_span> all{{0, seconds_of(stretch.last)}};
    for (const channel c : all_channels)
      if (p.required.contains(c))
        all = detail::common(all, detail::still_spans(c, rows, stretch, s));
    std::ranges::sort(all, {}, &detail::time_span::from);
    const double minute = in_seconds(detail::shortest_plateau);
    const auto proven = [&](const kept_row& r) {
      return r.in == phase::steady && r.steady.includes(p.required);
    };
    std::size_t i = stretch.first;
    for (const auto& x : all) {
      const auto reach = [&](double t) {
        while (i < stretch.last && seconds_of(i) < t) ++i;
        return i;
      };
      common_plateau found;
      found.first = reach(x.from);
      if (!out.empty()) found.first = i = std::max(found.first, out.back().last + 1);
      while (i < stretch.last && !proven(rows[i]) && seconds_of(i) < x.from + minute) ++i;
      found.declared = i;
      found.last = reach(x.to);
      if (found.last > stretch.last) break;
      if (seconds_of(found.last) > x.to && found.last > found.declared) --found.last;
      bool ever = x.to - x.from >= 2 * minute;
      for (std::size_t k = found.first; k <= found.last && !ever; ++k) ever = proven(rows[k]);
      if (ever) out.push_back(found);
    }
  }
  return out;
}

}  // namespace stilling
