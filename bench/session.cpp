// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What a row costs: reading it, judging it, both. Google Benchmark, time per frame; ./dev bench.

#include <benchmark/benchmark.h>
#include <fast_float/fast_float.h>

#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "stilling/session.hpp"

namespace {

using namespace stilling;

constexpr std::int64_t rows = 20'000;

/// An hour at 5.5 Hz of a settled burner with a little noise, and a lane for every column.
const std::string& invented_log() {
  static const auto log = [] {
    std::string text =
        "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm,draft_breech_inH2O,"
        "draft_overfire_inH2O\n";
    std::uint32_t state = 1;
    const auto dice = [&](std::uint32_t sides) {
      state = state * 1664525U + 1013904223U;
      return (state >> 16) % sides;
    };
    for (std::int64_t i = 0; i < rows; ++i) {
      const auto tenths = i * 2;
      text += std::to_string(tenths / 10) + '.' + std::to_string(tenths % 10);
      text += ',' + std::to_string(470 + dice(3)) + ',' + std::to_string(68 + dice(2));
      text += ",5." + std::to_string(1 + dice(2)) + ',' + std::to_string(18 + dice(4));
      text += ",-0.04" + std::to_string(dice(10)) + ",-0.02" + std::to_string(dice(10)) + '\n';
    }
    return text;
  }();
  return log;
}

const std::vector<frame>& invented_frames() {
  static const auto frames = [] {
    std::vector<frame> all;
    auto reader = make_reader(session_settings{});
    auto into = overloaded{[&](const frame& f) { all.push_back(f); }, [](const auto&) {}};
    reader.push(std::string_view{invented_log()}, into);
    reader.finish(into);
    return all;
  }();
  return frames;
}

void per_frame(benchmark::State& state) {
  state.counters["per_frame"] =
      benchmark::Counter(static_cast<double>(rows), benchmark::Counter::kIsIterationInvariantRate |
                                                        benchmark::Counter::kInvert);
}

void parse_only(benchmark::State& state) {
  auto reader = std::make_unique<decltype(make_reader({}))>(make_reader(session_settings{}));
  for (auto _ : state) {
    std::uint64_t seen = 0;
    auto count = overloaded{[&](const frame&) { ++seen; }, [](const auto&) {}};
    reader->push(std::string_view{invented_log()}, count);
    reader->finish(count);
    benchmark::DoNotOptimize(seen);
  }
  per_frame(state);
}
BENCHMARK(parse_only)->Unit(benchmark::kMillisecond);

/// What reading the numbers alone would cost: fast_float over every cell, nothing asked of it. No
/// stamps, units, signs, lines, notes or flaws; a cell that is no number would go unnoticed.
void numbers_only(benchmark::State& state) {
  const std::string& log = invented_log();
  const std::size_t header = log.find('\n') + 1;
  for (auto _ : state) {
    double sum = 0;
    const char* const end = log.data() + log.size();
    for (const char* at = log.data() + header; at < end;) {
      double x = 0;
      at = fast_float::from_chars(at, end, x).ptr + 1;  // past the comma or the line's end
      sum += x;
    }
    benchmark::DoNotOptimize(sum);
  }
  per_frame(state);
}
BENCHMARK(numbers_only)->Unit(benchmark::kMillisecond);

void detect_only(benchmark::State& state) {
  const session_settings s;
  const auto fresh = make_judge(s) | plateau<>{s.plateau};
  auto chain = std::make_unique<std::remove_const_t<decltype(fresh)>>(fresh);
  for (auto _ : state) {
    std::uint64_t seen = 0;
    auto count = overloaded{[&](const settled_reading&) { ++seen; }, [](const auto&) {}};
    for (const auto& f : invented_frames()) chain->push(f, count);
    chain->finish(count);
    benchmark::DoNotOptimize(seen);
  }
  per_frame(state);
}
BENCHMARK(detect_only)->Unit(benchmark::kMillisecond);

void whole_chain(benchmark::State& state) {
  auto live = std::make_unique<default_session>(session_settings{});
  for (auto _ : state) {
    std::uint64_t seen = 0;
    auto count = overloaded{[&](const settled_reading&) { ++seen; }, [](const auto&) {}};
    live->push(std::string_view{invented_log()}, count);
    live->finish(count);
    benchmark::DoNotOptimize(seen);
  }
  per_frame(state);
}
BENCHMARK(whole_chain)->Unit(benchmark::kMillisecond);

}  // namespace
