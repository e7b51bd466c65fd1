// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

// From claims to figures. Shares are of all runs; delays, rates and remaining rises of the runs
// with a claim, whose share is told beside them. Upper limits are one-sided 95 %, intervals
// two-sided 95 %.

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
inline std::optional<interval> quantile_interval(const std::vector<double>& x, double q) {
  if (x.empty()) return {};
  constexpr std::size_t resamples = 400;
  auto draw = invented::chance{x.size(), "bootstrap"};
  std::vector<double> drawn(x.size()), found;
  for (std::size_t k = 0; k < resamples; ++k) {
    for (auto& one : drawn)
      one = x[static_cast<std::size_t>(draw.whole(0, static_cast<int>(x.size()) - 1))];
    found.push_back(quantile(drawn, q));
  }
  return interval{quantile(x, q), quantile(found, 0.025), quantile(found, 0.975)};
}

struct outcome {
  std::size_t runs = 0, claimed = 0;
  std::size_t above_3 = 0, above_4 = 0, above_6 = 0;  // true rate at the claim, degF/min
  std::vector<double> delays, rates, remaining;
  [[nodiscard]] double share(std::size_t hits) const {
    return runs > 0 ? static_cast<double>(hits) / static_cast<double>(runs) : 0;
  }
  /// Runs without a claim wait for ever: nothing where that is most of them.
  [[nodiscard]] std::optional<double> delay_of_all(double q) const {
    std::vector<double> all = delays;
    all.resize(runs, std::numeric_limits<double>::max());
    const double found = quantile(all, q);
    return found < std::numeric_limits<double>::max() ? std::optional{found} : std::nullopt;
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

/// Among the thresholds with at most `premature` of the runs premature, the one with the least
/// median delay.
inline std::optional<std::size_t> quickest_within(const std::vector<outcome>& all,
                                                  double premature) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].share(all[i].above_3) > premature || !all[i].delay_of_all(0.5)) continue;
    if (!best || *all[i].delay_of_all(0.5) < *all[*best].delay_of_all(0.5)) best = i;
  }
  return best;
}

/// Share of ramps with any claim, the rule as it stands.
inline std::size_t ramps_claimed(const contender& who, std::span<const course> ramps) {
  std::size_t hits = 0;
  for (const auto& c : ramps)
    hits += who.watch(c, std::span{who.thresholds}.first(1)).front() ? 1U : 0U;
  return hits;
}

}  // namespace stilling::scoreboard
