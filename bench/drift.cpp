// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Does rounding pile up in the trend's sliding sums? A hundred million values, and a thousand times
// on the way the slope is computed anew by two passes in long double. Printed: the largest
// difference, in units of the slope's own standard error. Asked for: at most 1e-6.

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <memory>
#include <vector>

#include "stilling/estimators/trend.hpp"

namespace {

using stilling::duration;
using stilling::instant;

struct sample {
  instant at{};
  double y = 0;
};

struct slope {
  long double rate = 0, standard_error = 0;
};

/// Over the values no older than `span`; `newest` counts up from 0, the ring holds enough of them.
slope two_passes(const std::vector<sample>& ring, std::uint64_t newest, duration span) {
  const auto& last = ring[newest % ring.size()];
  std::uint64_t oldest = newest;
  while (oldest > 0 && last.at - ring[(oldest - 1) % ring.size()].at <= span) --oldest;
  const auto x = [&](std::uint64_t i) {
    return static_cast<long double>((ring[i % ring.size()].at - last.at).count()) / 1e9L;
  };
  const auto y = [&](std::uint64_t i) -> long double { return ring[i % ring.size()].y; };
  const auto n = static_cast<long double>(newest - oldest + 1);
  long double mean_x = 0, mean_y = 0, xx = 0, xy = 0, squares = 0;
  for (auto i = oldest; i <= newest; ++i) mean_x += x(i) / n, mean_y += y(i) / n;
  for (auto i = oldest; i <= newest; ++i) {
    xx += (x(i) - mean_x) * (x(i) - mean_x);
    xy += (x(i) - mean_x) * (y(i) - mean_y);
  }
  const long double rate = xy / xx;
  for (auto i = oldest; i <= newest; ++i) {
    const long double r = y(i) - mean_y - rate * (x(i) - mean_x);
    squares += r * r;
  }
  return {rate, std::sqrt(squares / (n - 2) / xx)};
}

template <std::size_t Slots> void worst_error(benchmark::State& state, double span, duration step,
                                              duration start) {
  constexpr std::uint64_t count = 100'000'000, checks = 1000;
  for (auto _ : state) {
    const auto line = std::make_unique<stilling::trend<Slots, 1>>(std::array{span}, 0.25);
    std::vector<sample> ring(Slots);
    std::uint64_t noise = 1;
    double worst = 0, level = 520;
    instant t{start};
    for (std::uint64_t i = 0; i < count; ++i) {
      noise = noise * 6364136223846793005U + 1442695040888963407U;
      level += (520 - level) * 1e-4 + static_cast<double>(noise >> 40) * 1e-9 - 0.0084;
      const double y = level + static_cast<double>((noise >> 20) & 0xFFFFF) * 1e-6;
      t += step;
      line->update(t, y);
      ring[i % Slots] = {t, y};
      if ((i + 1) % (count / checks) != 0) continue;
      const auto wanted = two_passes(ring, i, *stilling::duration_from_seconds(span));
      const auto off = std::abs((line->fit(0)->rate - wanted.rate) / wanted.standard_error);
      worst = std::max(worst, static_cast<double>(off));
    }
    state.counters["worst_in_standard_errors"] = worst;
  }
}

constexpr duration epoch = stilling::seconds(1'700'000'000);

void every_1_s_window_120_s_from_0(benchmark::State& state) {
  worst_error<256>(state, 120, stilling::seconds(1), {});
}
void every_1_s_window_120_s(benchmark::State& state) {
  worst_error<256>(state, 120, stilling::seconds(1), epoch);
}
void every_1_s_window_3000_s(benchmark::State& state) {
  worst_error<4096>(state, 3000, stilling::seconds(1), epoch);
}
void every_10_ms_window_30_s(benchmark::State& state) {
  worst_error<4096>(state, 30, stilling::milliseconds(10), epoch);
}
BENCHMARK(every_1_s_window_120_s_from_0)->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK(every_1_s_window_120_s)->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK(every_1_s_window_3000_s)->Iterations(1)->Unit(benchmark::kSecond);
BENCHMARK(every_10_ms_window_30_s)->Iterations(1)->Unit(benchmark::kSecond);

}  // namespace
