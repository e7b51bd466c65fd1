// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// Who takes part: our rule and the baselines, each as a function from a course to the moment it
// would have said "settled" first. All see the same rows and are asked at the same moments, every
// 5 s from 60 s on; the R-statistic, which counts in samples, is asked at every row after 60 s, as
// its authors do. Every rule with a threshold can also be run at others, to compare rules where
// they are equally often premature, and be followed: does it still hold?

#include <cmath>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "approach.hpp"
#include "baselines.hpp"
#include "readings.hpp"
#include "stilling/session.hpp"

namespace stilling::scoreboard {

inline constexpr double first_look = 60, look_every = 5;

using claim = std::optional<double>;  // s; nothing: never said

/// Whether a rule held at each moment it was asked.
struct course_of_word {
  std::vector<double> at;
  std::vector<bool> holds;
};

struct contender {
  std::string name;
  std::string label;  // in the picture
  std::vector<double> thresholds;  // the first is the rule as it stands
  std::function<std::vector<claim>(const course&, std::span<const double>)> watch;
  /// One for each threshold; none for a rule that cannot take back what it said.
  std::function<std::vector<course_of_word>(const course&, std::span<const double>)> follow;
  /// What it leaves as a reading at its claim; none: as all others do, see readings.hpp.
  std::function<std::optional<stated_reading>(const course&)> read;
};

inline frame frame_of(const sample& row) {
  frame f;
  f.at = instant{duration_from_seconds(row.t).value_or(duration{0})};
  f.indication.set(channel::stack_temp, (row.y + 459.67) / 1.8);
  f.written_step[index_of(channel::stack_temp)] = display_step / 1.8;
  return f;
}

/// Sees rows as they come, and says whether it is steady after the newest row up to each look;
/// `go_on(look, steady)` is asked whether to.
template <class Asked>
void ask_ours(const session_settings& settings, const course& c, Asked go_on) {
  const auto judge =
      std::make_unique<decltype(make_judge(settings))>(make_judge(settings));
  bool steady = false;
  const auto sink = overloaded{[&](const verdict& v) { steady = v.in == phase::steady; },
                               [](const auto&) {}};
  std::size_t next = 0;
  for (double look = first_look; look <= c.length; look += look_every) {
    for (; next < c.rows.size() && c.rows[next].t <= look; ++next)
      judge->push(frame_of(c.rows[next]), sink);
    if (!go_on(look, steady)) return;
  }
}

/// The first reading it gives, as it gives it; the rise it expects is counted from the middle of
/// its rows.
inline std::optional<stated_reading> first_reading(const session_settings& settings,
                                                   const course& c) {
  const auto make = [&] { return make_judge(settings) | make_readings(settings); };
  const auto chain = std::make_unique<decltype(make())>(make());
  std::optional<stated_reading> said;
  const auto sink = overloaded{
      [&](const settled_reading& r) {
        if (said || !r.channels.has(channel::stack_temp)) return;
        const auto& x = r.channels[channel::stack_temp];
        const double from = in_seconds(r.from - instant{});
        const double to = in_seconds(r.last_seen - instant{});
        const double rise = x.remaining ? *x.remaining + x.rate * (to - from) / 2 : 0;
        said = {from, to, x.mean * 1.8 - 459.67, 2 * x.standard_uncertainty * 1.8, rise * 1.8};
      },
      [](const auto&) {}};
  for (const auto& row : c.rows) {
    chain->push(frame_of(row), sink);
    if (said) break;
  }
  return said;
}

inline session_settings with_limit(session_settings s, double degf_per_minute) {
  s.limit(channel::stack_temp, degf_per_minute / 1.8 / 60);
  return s;
}

/// Our rule on stack temperature alone; its threshold is the limit it is told.
inline contender our_rule(std::string name, std::string label, session_settings settings) {
  settings.require({channel::stack_temp});
  settings.phase.combustion_check = false;
  const auto watch = [settings](const course& c, std::span<const double> limits) {
    std::vector<claim> claims;
    for (const double degf_per_minute : limits) {
      claim first;
      ask_ours(with_limit(settings, degf_per_minute), c, [&](double look, bool steady) {
        if (steady) first = look;
        return !steady;
      });
      claims.push_back(first);
    }
    return claims;
  };
  const auto follow = [settings](const course& c, std::span<const double> limits) {
    std::vector<course_of_word> all(limits.size());
    for (std::size_t i = 0; i < limits.size(); ++i)
      ask_ours(with_limit(settings, limits[i]), c, [&](double look, bool steady) {
        all[i].at.push_back(look);
        all[i].holds.push_back(steady);
        return true;
      });
    return all;
  };
  const auto read = [settings](const course& c) { return first_reading(settings, c); };
  return {std::move(name), std::move(label),
          {limit, 1.2, 1.5, 1.8, 2.1, 2.4, 2.7, 3.2, 3.4, 3.6, 3.8, 4.0, 4.2, 4.5, 4.8},
          watch, follow, read};
}

/// As it stands first, then finely up to twice as strict and as lax, then coarsely.
inline std::vector<double> thresholds_about(double middle) {
  std::vector<double> all{middle};
  for (int k = -14; k <= 14; ++k)
    if (k != 0) all.push_back(middle * std::pow(1.05, k));
  for (const double factor : {0.03, 0.06, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.45, 2.5, 3.0})
    all.push_back(middle * factor);
  return all;
}

/// Notes the first time a number is at most each threshold; true when all have been met.
class first_times {
 public:
  explicit first_times(std::span<const double> thresholds)
      : thresholds_{thresholds}, claims_(thresholds.size()) {}
  bool met(double now, number x) {
    bool all = true;
    for (std::size_t i = 0; i < claims_.size(); ++i) {
      if (!claims_[i] && x && *x <= thresholds_[i]) claims_[i] = now;
      all = all && claims_[i];
    }
    return all;
  }
  [[nodiscard]] std::vector<claim> claims() const { return claims_; }

 private:
  std::span<const double> thresholds_;
  std::vector<claim> claims_;
};

/// `numbers(c, tell)` tells each moment and its number; whether each is within each threshold.
template <class Numbers> auto followed(Numbers numbers) {
  return [numbers](const course& c, std::span<const double> thresholds) {
    std::vector<course_of_word> all(thresholds.size());
    numbers(c, [&](double now, number x) {
      for (std::size_t i = 0; i < all.size(); ++i) {
        all[i].at.push_back(now);
        all[i].holds.push_back(x && *x <= thresholds[i]);
      }
    });
    return all;
  };
}

template <class Rule>
contender looked_at(std::string name, std::string label, double threshold, Rule rule) {
  const auto watch = [rule](const course& c, std::span<const double> thresholds) {
    first_times first{thresholds};
    for (double look = first_look; look <= c.length; look += look_every)
      if (first.met(look, rule(between(c.rows, -1e9, look), look))) break;
    return first.claims();
  };
  const auto follow = followed([rule](const course& c, auto tell) {
    for (double look = first_look; look <= c.length; look += look_every)
      tell(look, rule(between(c.rows, -1e9, look), look));
  });
  return {std::move(name), std::move(label), thresholds_about(threshold), watch, follow, {}};
}

template <class Rule>
contender over(std::string name, std::string label, double threshold, Rule rule, double window) {
  return looked_at(std::move(name), std::move(label), threshold,
                   [=](rows seen, double now) { return rule(seen, now, window); });
}

inline contender filtered(std::string name, std::string label, double threshold,
                          r_statistic fresh) {
  const auto watch = [fresh](const course& c, std::span<const double> thresholds) {
    first_times first{thresholds};
    r_statistic r = fresh;
    for (const auto& s : c.rows) {
      r.update(s.y);
      if (s.t >= first_look && first.met(s.t, r.ratio())) break;
    }
    return first.claims();
  };
  const auto follow = followed([fresh](const course& c, auto tell) {
    r_statistic r = fresh;
    for (const auto& s : c.rows) {
      r.update(s.y);
      if (s.t >= first_look) tell(s.t, r.ratio());
    }
  });
  return {std::move(name), std::move(label), thresholds_about(threshold), watch, follow, {}};
}

/// Looks at the clock and nothing else.
inline contender constant(std::string name, std::string label, std::vector<double> moments) {
  const auto watch = [](const course& c, std::span<const double> thresholds) {
    std::vector<claim> claims;
    for (const double t : thresholds) claims.push_back(t <= c.length ? claim{t} : claim{});
    return claims;
  };
  return {std::move(name), std::move(label), std::move(moments), watch, {}, {}};
}

/// Sees the finished log first: no rule for a live test. Its reading is the mean of what it kept.
template <class Cut> contender afterwards(std::string name, std::string label, Cut cut) {
  const auto read = [cut](const course& c) -> std::optional<stated_reading> {
    const std::optional<std::size_t> d = cut(c.rows);
    if (!d) return {};
    return ordinary_mean(rows{c.rows}.subspan(*d));
  };
  const auto watch = [cut](const course& c, std::span<const double> thresholds) {
    const std::optional<std::size_t> d = cut(c.rows);
    return std::vector<claim>(thresholds.size(), d ? claim{c.rows[*d].t} : claim{});
  };
  return {std::move(name), std::move(label), {0}, watch, {}, read};
}

inline std::vector<contender> baselines() {
  std::vector<contender> all;
  all.push_back(looked_at("end points, 60 s", "end points 60 s", limit, end_points));
  all.push_back(looked_at("end points, three 60 s in a row", "end points x3", limit,
                          end_points_thrice));
  for (const double w : {60.0, 120.0, 180.0}) {
    const auto s = std::to_string(static_cast<int>(w));
    all.push_back(over("OLS point, " + s + " s", "OLS " + s, limit, slope_point, w));
  }
  for (const double w : {60.0, 120.0, 180.0}) {
    const auto s = std::to_string(static_cast<int>(w));
    all.push_back(over("OLS 95 % bound, independent, " + s + " s", "bound iid " + s, limit,
                       slope_bound_independent, w));
  }
  for (const double w : {60.0, 120.0, 180.0}) {
    const auto s = std::to_string(static_cast<int>(w));
    all.push_back(over("OLS 95 % bound, AR + rounding, " + s + " s", "bound AR " + s, limit,
                       slope_bound, w));
  }
  all.push_back(over("Theil-Sen point, 120 s", "Theil-Sen 120", limit, median_slope, 120));
  for (const double w : {60.0, 120.0}) {
    const auto s = std::to_string(static_cast<int>(w));
    all.push_back(over("slope t-test not significant, " + s + " s", "t-test " + s, 1,
                       slope_t_test, w));
  }
  all.push_back(filtered("R .2 .1 .1 < 2.5", "R .2 < 2.5", 2.5, {0.2, 0.1, 0.1}));
  all.push_back(filtered("R .2 .1 .1 < 1.5", "R .2 < 1.5", 1.5, {0.2, 0.1, 0.1}));
  // The 95 % values on steady white noise, found by simulation.
  all.push_back(filtered("R .2 .1 .1 < 1.437", "R .2 < 1.437", 1.437, {0.2, 0.1, 0.1}));
  all.push_back(filtered("R .1 .1 .1 < 1.491", "R .1 < 1.491", 1.491, {0.1, 0.1, 0.1}));
  all.push_back(filtered("R .1 .05 .05 < 1.312", "R .1 .05 < 1.312", 1.312, {0.1, 0.05, 0.05}));
  all.push_back(filtered("R .05 .05 .05 < 1.328", "R .05 < 1.328", 1.328, {0.05, 0.05, 0.05}));
  all.push_back(filtered("R .05 .05 .05 < 1.3", "R .05 < 1.3", 1.3, {0.05, 0.05, 0.05}));
  all.push_back(looked_at("two-window t, 2 x 60 s", "two-window t", 1, two_window_t));
  all.push_back(over("F ratio < 1.5, 120 s", "F ratio", 1.5, variance_ratio, 120));
  all.push_back(over("Kelly-Hedengren style, 120 s", "Kelly-Hedengren", 0.05, share_off_level,
                     120));
  all.push_back(looked_at("coefficient of variation, 30 values", "CV 30", 0.02,
                          coefficient_of_variation));
  all.push_back(afterwards("MSER-5 (finished log)", "MSER-5 (finished)",
                           [](rows all_rows) { return mser(all_rows, 5); }));
  all.push_back(afterwards("root-n least error (finished log)", "root-n (finished)",
                           [](rows all_rows) { return std::optional{least_error_cut(all_rows)}; }));
  all.push_back(afterwards("most independent (finished log)", "Chodera (finished)", [](rows r) {
    return std::optional{most_independent_cut(r)};
  }));
  std::vector<double> moments{first_look};
  for (double t = 300; t < 2700; t += 30) moments.push_back(t);
  all.push_back(constant("constant: at once (first look)", "at once", moments));
  all.push_back(constant("constant: 5 min", "5 min", {300}));
  all.push_back(constant("constant: 10 min", "10 min", {600}));
  all.push_back(constant("constant: never", "never", {1e9}));
  return all;
}

}  // namespace stilling::scoreboard
