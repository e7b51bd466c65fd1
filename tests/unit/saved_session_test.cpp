// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/saved_session.hpp"

#include <gtest/gtest.h>

#include <memory>
#include <vector>

#include "stilling/session.hpp"

namespace stilling {
namespace {

// Known beforehand, and not much above the session.
static_assert(saved_session<default_session>::size == sizeof(default_session) + 40);
static_assert(sizeof(saved_session<default_session>) == saved_session<default_session>::size);
static_assert(layout_print<default_session> != layout_print<basic_session<64>>);
static_assert(tied<decoder> && !tied<screen> && tied<default_session>);

/// Counts rows; as small as a chain can be.
struct counter {
  using emits = items<frame>;
  template <class Sink> void push(const frame& f, Sink&& sink) noexcept { ++rows, sink(f); }
  template <class Sink> void finish(Sink&&) noexcept { rows = 0; }
  int rows = 0;
};
struct counter_of_more {
  using emits = items<frame>;
  template <class Sink> void push(const frame& f, Sink&& sink) noexcept { ++rows, sink(f); }
  template <class Sink> void finish(Sink&&) noexcept { rows = 0; }
  long rows = 0;
};
using small = chain<counter, counter>;

class kept_small : public testing::Test {
 protected:
  kept_small() {
    live.push(frame{}, any_sink{});
    save(live, kept);
    bytes.assign(kept.bytes().begin(), kept.bytes().end());
  }
  std::optional<restore_fault> with(std::size_t at, int value) {
    auto changed = bytes;
    changed[at] = std::byte(value);
    small other{counter{}, counter{}};
    return restore(std::span<const std::byte>{changed}, other);
  }

  small live{counter{}, counter{}};
  saved_session<small> kept;
  std::vector<std::byte> bytes;
};

TEST_F(kept_small, goes_on_where_it_was) {
  small other{counter{}, counter{}};
  for (int i = 0; i < 5; ++i) other.push(frame{}, any_sink{});
  ASSERT_EQ(restore(std::span<const std::byte>{bytes}, other), std::nullopt);
  EXPECT_EQ(other.first().rows, 1);
  EXPECT_EQ(other.second().rows, 1);
}

TEST_F(kept_small, may_lie_at_any_address) {
  std::vector<std::byte> shifted(bytes.size() + 1);
  std::copy(bytes.begin(), bytes.end(), shifted.begin() + 1);
  small other{counter{}, counter{}};
  EXPECT_EQ(restore(std::span<const std::byte>{shifted}.subspan(1), other), std::nullopt);
  EXPECT_EQ(other.first().rows, 1);
}

TEST_F(kept_small, says_what_is_wrong) {
  EXPECT_EQ(with(0, 'S'), restore_fault::no_session);
  EXPECT_EQ(with(8, 2), restore_fault::other_version);
  EXPECT_EQ(with(16, static_cast<int>(~static_cast<unsigned>(bytes[16]) & 255U)),
            restore_fault::other_layout);
  EXPECT_EQ(with(24, 1), restore_fault::damaged);
  EXPECT_EQ(with(40, 9), restore_fault::damaged);
  EXPECT_EQ(name_of(restore_fault::damaged), "damaged");
  EXPECT_EQ(name_of(restore_fault::cut_off), "cut_off");
}

TEST_F(kept_small, another_chain_is_refused) {
  chain<counter, counter_of_more> other{counter{}, counter_of_more{}};
  EXPECT_EQ(restore(std::span<const std::byte>{bytes}, other), restore_fault::other_layout);
}

zone_offsets two_hours_east(const void*, std::int64_t) noexcept { return {7200, 7200}; }

// A zone is an address: it belongs to the process, and is never left out in silence.
TEST(saved_zone, is_that_of_the_session_restored_into) {
  session_settings zoned;
  zoned.decoder.zone_offsets_at = two_hours_east;
  const auto live = std::make_unique<default_session>(zoned);
  const std::string_view header = "time,stack_temp_degF\n", row = "2026-01-05T12:00:00,471\n";
  live->push(header, any_sink{});
  const auto kept = std::make_unique<saved_session<default_session>>();
  save(*live, *kept);
  const std::span<const std::byte> bytes{kept->bytes()};

  const auto without = std::make_unique<default_session>(session_settings{});
  EXPECT_EQ(restore(bytes, *without), restore_fault::other_zone);
  const auto with = std::make_unique<default_session>(zoned);
  ASSERT_EQ(restore(bytes, *with), std::nullopt);

  std::vector<instant> said;
  const auto keep = overloaded{[&](const phase_change& p) { said.push_back(p.at); },
                               [](const auto&) {}};
  live->push(row, keep);
  with->push(row, keep);
  ASSERT_EQ(said.size(), 2U);
  EXPECT_EQ(said[0], said[1]);
  // 2026-01-05T10:00:00Z, by the calendar: 20458 days and ten hours after the epoch.
  EXPECT_EQ(said[0], instant{seconds(20458LL * 86400 + 36000)});
}

}  // namespace
}  // namespace stilling
