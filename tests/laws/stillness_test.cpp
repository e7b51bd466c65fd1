// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 8: stillness. push, advance and finish allocate nothing, however much comes in.

#include <gtest/gtest.h>

#include <atomic>
#include <cstdio>
#include <cstdlib>
#include <new>
#include <string>

#include "stilling/session.hpp"
#include "stilling/stages/foresight.hpp"
#include "support/invented_log.hpp"

namespace {

std::atomic<std::uint64_t> allocations{0};

// Not inlined, or g++ sees malloc in one place and delete in another and calls them a mismatch.
[[gnu::noinline]] void* counted(std::size_t size, std::size_t alignment) {
  ++allocations;
  void* p = std::aligned_alloc(alignment, (size + alignment) / alignment * alignment);
  if (p == nullptr) std::abort();
  return p;
}
[[gnu::noinline]] void released(void* p) { std::free(p); }

constexpr std::size_t usual = __STDCPP_DEFAULT_NEW_ALIGNMENT__;
std::size_t step_of(std::align_val_t a) { return static_cast<std::size_t>(a); }

}  // namespace

// They serve the whole test program; the forms not named here end in one of these.
void* operator new(std::size_t size) { return counted(size, usual); }
void* operator new[](std::size_t size) { return counted(size, usual); }
void* operator new(std::size_t size, std::align_val_t a) { return counted(size, step_of(a)); }
void* operator new[](std::size_t size, std::align_val_t a) { return counted(size, step_of(a)); }
void operator delete(void* p) noexcept { released(p); }
void operator delete[](void* p) noexcept { released(p); }
void operator delete(void* p, std::size_t) noexcept { released(p); }
void operator delete[](void* p, std::size_t) noexcept { released(p); }
void operator delete(void* p, std::align_val_t) noexcept { released(p); }
void operator delete[](void* p, std::align_val_t) noexcept { released(p); }
void operator delete(void* p, std::size_t, std::align_val_t) noexcept { released(p); }
void operator delete[](void* p, std::size_t, std::align_val_t) noexcept { released(p); }

namespace stilling {
namespace {

/// Counts what it is given and keeps none of it.
struct tally {
  std::size_t readings = 0, phases = 0, rejections = 0, others = 0;
  void operator()(const settled_reading&) { ++readings; }
  void operator()(const phase_change&) { ++phases; }
  void operator()(const rejection&) { ++rejections; }
  void operator()(const auto&) { ++others; }
};

std::uint64_t allocations_during(auto&& work) {
  const std::uint64_t before = allocations;
  work();
  return allocations - before;
}

TEST(stillness, the_count_counts) {
  EXPECT_GE(allocations_during([] { std::string(1000, 'x').shrink_to_fit(); }), 1U);
}

TEST(stillness, two_hundred_thousand_records_allocate_nothing) {
  const auto log = invented::invented_log();
  const std::string bytes = invented::joined(log);
  tally seen;
  std::size_t records = 0;
  static default_session live{session_settings{}};  // as a firmware would keep it
  const auto work = [&] {
    for (std::int64_t round = 0; records < 200'000; ++round) {
      for (std::string_view rest = bytes; !rest.empty();) {
        const auto piece = rest.substr(0, 509);
        live.push(piece, seen);
        live.advance(instant{seconds(round)}, seen);
        rest.remove_prefix(piece.size());
      }
      records += log.size();
      if (round % 2 == 1) live.push(discontinuity{}, seen);
      if (round % 3 == 2) live.finish(seen);
    }
    live.finish(seen);
  };
  EXPECT_EQ(allocations_during(work), 0U);
  EXPECT_GE(records, 200'000U);
  EXPECT_GT(seen.readings, 100U);
  EXPECT_GT(seen.rejections, 500U);
}

TEST(stillness, a_forecast_allocates_nothing) {
  std::size_t forecasts = 0;
  const auto heard = overloaded{[&](const forecast&) { ++forecasts; }, [](const auto&) {}};
  const session_settings s;
  static auto chain = make_judge(s) | foresight{forecast_for(s)};
  const auto work = [&] {
    double stack = 300, oxygen = 0.209;
    for (int t = 0; t < 900; ++t) {
      frame f;
      f.at = instant{seconds(t)};
      stack += (550 - stack) / 120, oxygen += (0.05 - oxygen) / 5;
      f.indication.set(channel::stack_temp, stack + 0.2 * (t * 7 % 5));
      f.indication.set(channel::o2, oxygen);
      f.indication.set(channel::co, 20e-6);
      chain.push(f, heard);
    }
    chain.finish(heard);
  };
  EXPECT_EQ(allocations_during(work), 0U);
  EXPECT_GE(forecasts, 5U);
}

TEST(stillness, a_session_is_one_object_of_fixed_size) {
  std::printf("sizeof(default_session): %zu bytes\n", sizeof(default_session));
  RecordProperty("sizeof_default_session", static_cast<int>(sizeof(default_session)));
  EXPECT_LE(sizeof(default_session), 126'000U);
}

TEST(stillness, nor_does_a_copy) {
  default_session live{session_settings{}};
  tally seen;
  live.push(invented::joined(invented::invented_log()), seen);
  EXPECT_EQ(allocations_during([&] {
              default_session copied{live};
              copied.finish(seen);
            }),
            0U);
}

}  // namespace
}  // namespace stilling
