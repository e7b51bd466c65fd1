// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// The ring of the estimators against Boost.Circular_buffer over an arena inside the object: both
// fixed in memory, neither allocates. What an estimator does with a ring: push, look at what fell
// out, read the ends, now and then read it all or copy the whole stage.

#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <boost/circular_buffer.hpp>
#include <cstddef>
#include <cstdint>
#include <new>

#include "stilling/estimators/window.hpp"

namespace {

struct sample {
  std::int64_t at = 0;
  double y = 0;
};

/// Hands out the one array it was given. Stateful, so that the buffer can live in any object.
template <class T> struct arena_allocator {
  using value_type = T;
  T* storage = nullptr;
  T* allocate(std::size_t) noexcept { return storage; }
  void deallocate(T*, std::size_t) noexcept {}
  template <class U> bool operator==(const arena_allocator<U>&) const noexcept { return true; }
};

/// Boost's ring with its storage inside the object, copied element by element.
template <class T, std::size_t Capacity> class boost_ring {
 public:
  boost_ring() : ring_{Capacity, arena_allocator<T>{slots()}} {}
  boost_ring(const boost_ring& other) : boost_ring() { *this = other; }
  boost_ring& operator=(const boost_ring& other) {
    if (this == &other) return *this;
    ring_.clear();
    for (const auto& value : other.ring_) ring_.push_back(value);
    return *this;
  }
  void push(const T& value) { ring_.push_back(value); }
  bool full() const { return ring_.full(); }
  std::size_t size() const { return ring_.size(); }
  const T& operator[](std::size_t i) const { return ring_[i]; }
  const T& front() const { return ring_.front(); }

 private:
  T* slots() { return std::launder(reinterpret_cast<T*>(bytes_.data())); }
  alignas(T) std::array<std::byte, sizeof(T) * Capacity> bytes_;
  boost::circular_buffer<T, arena_allocator<T>> ring_;
};

template <class Ring> void push_and_read_ends(benchmark::State& state) {
  Ring ring;
  std::int64_t t = 0;
  double sum = 0;
  for (auto _ : state) {
    if (ring.full()) sum -= ring.front().y;
    const double y = static_cast<double>(t % 97);
    ring.push({t++, y});
    sum += y;
    benchmark::DoNotOptimize(sum);
    benchmark::ClobberMemory();
  }
  state.counters["bytes"] = sizeof(Ring);
}

template <class Ring> void read_all(benchmark::State& state) {
  Ring ring;
  for (std::int64_t t = 0; t < 1000; ++t) ring.push({t, static_cast<double>(t % 97)});
  for (auto _ : state) {
    double sum = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) sum += ring[i].y;
    benchmark::DoNotOptimize(sum);
    benchmark::ClobberMemory();
  }
}

template <class Ring> void copy(benchmark::State& state) {
  Ring ring;
  for (std::int64_t t = 0; t < 1000; ++t) ring.push({t, static_cast<double>(t % 97)});
  Ring other;
  for (auto _ : state) {
    other = ring;
    benchmark::DoNotOptimize(other);
    benchmark::ClobberMemory();
  }
}

using own = stilling::window<sample, 256>;
using boosts = boost_ring<sample, 256>;
BENCHMARK(push_and_read_ends<own>);
BENCHMARK(push_and_read_ends<boosts>);
BENCHMARK(read_all<own>);
BENCHMARK(read_all<boosts>);
BENCHMARK(copy<own>);
BENCHMARK(copy<boosts>);

/// Median and MAD of nine: as the screen needs them for every row and channel.
void median_and_mad(benchmark::State& state) {
  stilling::window<double, 9> values;
  std::uint32_t noise = 1;
  double sum = 0;
  for (auto _ : state) {
    noise = noise * 1664525U + 1013904223U;
    values.push(static_cast<double>(noise >> 16));
    const auto found = *stilling::order_statistics_of(values);
    sum += found.median + found.absolute_deviation;
  }
  benchmark::DoNotOptimize(sum);
}
BENCHMARK(median_and_mad);

void median_and_mad_by_nth_element(benchmark::State& state) {
  stilling::window<double, 9> values;
  std::uint32_t noise = 1;
  double sum = 0;
  for (auto _ : state) {
    noise = noise * 1664525U + 1013904223U;
    values.push(static_cast<double>(noise >> 16));
    std::array<double, 9> v{};
    for (std::size_t i = 0; i < values.size(); ++i) v[i] = values[i];
    const auto middle = v.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    const auto end = v.begin() + static_cast<std::ptrdiff_t>(values.size());
    std::nth_element(v.begin(), middle, end);
    const double median = *middle;
    for (auto& x : v) x = x > median ? x - median : median - x;
    std::nth_element(v.begin(), middle, end);
    sum += median + *middle;
  }
  benchmark::DoNotOptimize(sum);
}
BENCHMARK(median_and_mad_by_nth_element);

}  // namespace
