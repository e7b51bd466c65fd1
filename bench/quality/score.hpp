// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// From claims, readings and releases to figures. Shares are of all runs; delays, rates and
// remaining rises of the runs with a claim, whose share is told beside them. Upper limits are
// one-sided 95 %, intervals two-sided 95 %.

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <span>
#include <vector>

#include "contenders.hpp"

namespace stilling::scoreboard {

/// Upper 95 % limit of a share (Clopper and Pearson, Biometrika 26, 1934).
inline double upper_limit(std::size_t hits, std::size_t of) {
  if (hits >= of) return 1;
  const auto k = static_cast<double>(hits), n = static_cast<double>(of);
  return boost::math::ibeta_inv(k + 1, n - k, 0.95);
}

/// The value that a share `q` of the values does not exceed.
inline double quantile(std::vector<double> x, double q) {
  const auto at = static_cast<std::ptrdiff_t>(q * static_cast<double>(x.size() - 1) + 0.5);
  std::ranges::nth_element(x, x.begin() + at);
  return x[static_cast<std::size_t>(at)];
}

struct interval {
  double value = 0, low = 0, high = 0;
};

/// Percentile bootstrap over runs (Efron 1979), the same draws every time.
template <class Statistic>
std::optional<interval> bootstrap(const std::vector<double>& x, Statistic statistic) {
  if (x.empty()) return {};
  constexpr std::size_t resamples = 400;
  auto draw = invented::chance{x.size(), "bootstrap"};
  std::vector<double> drawn(x.size()), found;
  for (std::size_t k = 0; k < resamples; ++k) {
    for (auto& one : drawn)
      one = x[static_cast<std::size_t>(draw.whole(0, static_cast<int>(x.size()) - 1))];
    found.push_back(statistic(drawn));
  }
  return interval{statistic(x), quantile(found, 0.025), quantile(found, 0.975)};
}

inline std::optional<interval> quantile_interval(const std::vector<double>& x, double q) {
  return bootstrap(x, [q](const std::vector<double>& y) { return quantile(y, q); });
}

inline double mean_of(const std::vector<double>& x) {
  double sum = 0;
  for (const double one : x) sum += one;
  return sum / static_cast<double>(x.size());
}

inline constexpr double for_ever = std::numeric_limits<double>::max();

struct outcome {
  std::size_t runs = 0, claimed = 0;
  std::size_t above_3 = 0, above_4 = 0, above_6 = 0;  // true rate at the claim, degF/min
  std::vector<double> delays, rates, remaining;
  std::vector<bool> premature_of;  // of each run
  std::vector<double> delay_of;    // of each run; for ever without a claim
  [[nodiscard]] double share(std::size_t hits) const {
    return runs > 0 ? static_cast<double>(hits) / static_cast<double>(runs) : 0;
  }
  /// Runs without a claim wait for ever: nothing where that is most of them.
  [[nodiscard]] std::optional<double> delay_of_all(double q) const {
    const double found = quantile(delay_of, q);
    return found < for_ever ? std::optional{found} : std::nullopt;
  }
};

/// One outcome per threshold.
inline std::vector<outcome> watch_all(const contender& who, std::span<const course> courses) {
  std::vector<outcome> all(who.thresholds.size());
  for (const auto& c : courses) {
    const double settled = c.settled_at();
    const auto claims = who.watch(c, who.thresholds);
    for (std::size_t i = 0; i < claims.size(); ++i) {
      outcome& o = all[i];
      ++o.runs;
      o.premature_of.push_back(claims[i] && c.rate(*claims[i]) > limit);
      o.delay_of.push_back(claims[i] ? *claims[i] - settled : for_ever);
      if (!claims[i]) continue;
      const double rate = c.rate(*claims[i]);
      ++o.claimed;
      o.above_3 += rate > 3 ? 1U : 0U;
      o.above_4 += rate > 4 ? 1U : 0U;
      o.above_6 += rate > 6 ? 1U : 0U;
      o.delays.push_back(*claims[i] - settled);
      o.rates.push_back(rate);
      o.remaining.push_back(c.remaining(*claims[i]));
    }
  }
  return all;
}

/// Delay read off the line a rule's threshold moves it along, where exactly so large a share of the
/// runs `drawn` is premature: between the last threshold with fewer and the first with more.
/// Nothing where each threshold has more.
inline std::optional<double> delay_at(const std::vector<outcome>& all,
                                      std::span<const double> thresholds,
                                      std::span<const std::size_t> drawn, double premature,
                                      double q) {
  std::vector<std::size_t> order(all.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::sort(order, {}, [&](std::size_t i) { return thresholds[i]; });
  const auto share = [&](const outcome& o) {
    std::size_t hits = 0;
    for (const auto k : drawn) hits += o.premature_of[k] ? 1U : 0U;
    return static_cast<double>(hits) / static_cast<double>(drawn.size());
  };
  const auto delay = [&](const outcome& o) {
    std::vector<double> x;
    for (const auto k : drawn) x.push_back(o.delay_of[k]);
    return quantile(std::move(x), q);
  };
  std::optional<std::size_t> before;
  double fewer = 0;
  for (const auto i : order) {
    const double now = share(all[i]);
    if (now <= premature) {
      before = i;
      fewer = now;
      continue;
    }
    if (!before) return {};
    const double late = delay(all[*before]), early = delay(all[i]);
    if (late >= for_ever) return late;
    return late + (early - late) * (premature - fewer) / (now - fewer);
  }
  return before ? std::optional{delay(all[*before])} : std::nullopt;
}

/// The same with its bootstrap interval, runs drawn again.
inline std::optional<interval> delay_interval_at(const std::vector<outcome>& all,
                                                 std::span<const double> thresholds,
                                                 double premature, double q) {
  constexpr std::size_t resamples = 200;
  const std::size_t runs = all.front().runs;
  std::vector<std::size_t> drawn(runs);
  for (std::size_t k = 0; k < runs; ++k) drawn[k] = k;
  const auto value = delay_at(all, thresholds, drawn, premature, q);
  if (!value) return {};
  auto draw = invented::chance{runs, "bootstrap"};
  std::vector<double> found;
  for (std::size_t r = 0; r < resamples; ++r) {
    for (auto& one : drawn)
      one = static_cast<std::size_t>(draw.whole(0, static_cast<int>(runs) - 1));
    found.push_back(delay_at(all, thresholds, drawn, premature, q).value_or(for_ever));
  }
  return interval{*value, quantile(found, 0.025), quantile(found, 0.975)};
}

/// Share of ramps with any claim, the rule as it stands.
inline std::size_t ramps_claimed(const contender& who, std::span<const course> ramps) {
  std::size_t hits = 0;
  for (const auto& c : ramps)
    hits += who.watch(c, std::span{who.thresholds}.first(1)).front() ? 1U : 0U;
  return hits;
}

/// Readings at the claim, the rule as it stands; runs without one are left out.
struct reading_outcome {
  std::vector<double> level_errors, final_errors;  // sizes, degF
  std::vector<double> holds_level, holds_final;    // 1 or 0 each
};

inline reading_outcome read_all(const contender& who, std::span<const course> courses) {
  reading_outcome out;
  for (const auto& c : courses) {
    std::optional<stated_reading> said;
    if (who.read) {
      said = who.read(c);
    } else {
      const claim at = who.watch(c, std::span{who.thresholds}.first(1)).front();
      if (at) said = ordinary_mean(between(c.rows, *at - 60, *at));
    }
    if (!said) continue;
    const reading_marks m = mark(*said, c);
    out.level_errors.push_back(std::abs(m.off_level));
    out.final_errors.push_back(std::abs(m.off_final));
    out.holds_level.push_back(m.holds_level ? 1 : 0);
    out.holds_final.push_back(m.holds_final ? 1 : 0);
  }
  return out;
}

/// What becomes of a level that is left.
struct release_outcome {
  std::size_t runs = 0, settled = 0;  // settled: the rule held when the level was left
  std::size_t false_releases = 0;     // taken back while the level was held
  double hours = 0;                   // from the first claim to the moment it was left
  std::vector<double> delays;         // s, of the settled; for ever where not within the log
  [[nodiscard]] double false_per_hour() const {
    return hours > 0 ? static_cast<double>(false_releases) / hours : 0;
  }
};

inline void follow_release(const course_of_word& word, double leaves_at, release_outcome& o) {
  ++o.runs;
  std::optional<double> first;
  bool held = false;
  for (std::size_t i = 0; i < word.at.size(); ++i) {
    const bool holds = word.holds[i];
    if (word.at[i] <= leaves_at) {
      if (holds && !first) first = word.at[i];
      if (held && !holds) ++o.false_releases;
      held = holds;
    } else if (held && !holds) {
      ++o.settled;
      o.delays.push_back(word.at[i] - leaves_at);
      held = false;
      break;
    } else if (!held) {
      break;
    }
  }
  if (held) {
    ++o.settled;
    o.delays.push_back(for_ever);
  }
  if (first) o.hours += (leaves_at - *first) / 3600;
}

/// One outcome per threshold.
inline std::vector<release_outcome> release_all(const contender& who,
                                                std::span<const course> courses) {
  std::vector<release_outcome> all(who.thresholds.size());
  for (const auto& c : courses) {
    const auto words = who.follow(c, who.thresholds);
    for (std::size_t i = 0; i < words.size(); ++i) follow_release(words[i], c.leaves_at, all[i]);
  }
  return all;
}

/// Among the thresholds with at most `false_per_hour` and settled on at least half of the levels,
/// the one with the least median delay.
inline std::optional<std::size_t> quickest_release(const std::vector<release_outcome>& all,
                                                   double false_per_hour) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (2 * all[i].settled < all[i].runs || all[i].false_per_hour() > false_per_hour) continue;
    if (!best || quantile(all[i].delays, 0.5) < quantile(all[*best].delays, 0.5)) best = i;
  }
  return best;
}

}  // namespace stilling::scoreboard
