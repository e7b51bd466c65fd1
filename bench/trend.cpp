// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What one value costs the trend estimator, by the number of values its longest window holds. Asked
// for: no more than 1.2 times the cost at 30 values, however many there are.
//
// `update` and `update_and_fit` are the session's case: the sampling rate rises from one in 6 s to
// 167 a second, the window stays at 180 s and fast values share buckets. `own_bucket` is the hard
// case: every value a bucket of its own, in a window as long as it takes.

#include <benchmark/benchmark.h>

#include <array>
#include <cstdint>
#include <memory>
#include <vector>

#include "stilling/estimators/trend.hpp"

namespace {

using stilling::duration;
using stilling::instant;

/// Invented values, drawn beforehand so that drawing them is not measured.
std::vector<double> invented_values() {
  std::vector<double> values(4096);
  std::uint32_t noise = 1;
  for (auto& v : values) {
    noise = noise * 1664525U + 1013904223U;
    v = 520 + static_cast<double>(noise >> 16) / 65536;
  }
  return values;
}

template <bool AskEachTime> void per_value(benchmark::State& state) {
  const auto values = invented_values();
  stilling::trend<> line{{60, 90, 120, 180}, 0.25};
  const duration step{180 * stilling::nanoseconds_per_second / state.range(0)};
  instant t{stilling::seconds(1'700'000'000)};
  std::size_t i = 0;
  const auto next = [&] {
    t += step;
    line.update(t, values[i++ % values.size()]);
  };
  for (std::int64_t warm_up = 0; warm_up < 3 * state.range(0); ++warm_up) next();
  for (auto _ : state) {
    next();
    if constexpr (AskEachTime) benchmark::DoNotOptimize(line.fit(3)->rate);
    benchmark::ClobberMemory();
  }
}

void update(benchmark::State& state) { per_value<false>(state); }
void update_and_fit(benchmark::State& state) { per_value<true>(state); }

template <std::size_t Slots> void own_bucket(benchmark::State& state) {
  const auto values = invented_values();
  const auto line = std::make_unique<stilling::trend<Slots, 1>>(
      std::array{static_cast<double>(state.range(0))}, 0.25);
  instant t{stilling::seconds(1'700'000'000)};
  std::size_t i = 0;
  const auto next = [&] {
    t += stilling::seconds(1);
    line->update(t, values[i++ % values.size()]);
  };
  for (std::int64_t warm_up = 0; warm_up < 3 * state.range(0); ++warm_up) next();
  for (auto _ : state) {
    next();
    benchmark::DoNotOptimize(line->fit(0)->rate);
    benchmark::ClobberMemory();
  }
}

BENCHMARK(update)->RangeMultiplier(10)->Range(30, 30000);
BENCHMARK(update_and_fit)->RangeMultiplier(10)->Range(30, 30000);
BENCHMARK(own_bucket<32768>)->RangeMultiplier(10)->Range(30, 30000);

}  // namespace
