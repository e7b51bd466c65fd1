// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Law 12: saving. Save and restore at any row, or in the middle of one, change nothing afterwards.

#include <gtest/gtest.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "stilling/saved_session.hpp"
#include "stilling/terms/published_criteria.hpp"
#include "support/invented_log.hpp"
#include "support/transcript.hpp"

namespace stilling {
namespace {

using kept_session = saved_session<default_session>;

/// Two sessions that hand the log to and fro after every piece: each begins where the other was
/// saved, over whatever it has become meanwhile.
transcript heard_hand_to_hand(std::string_view log, const session_settings& s, std::size_t piece) {
  transcript said;
  auto now = std::make_unique<default_session>(s), next = std::make_unique<default_session>(s);
  const auto kept = std::make_unique<kept_session>();
  const auto stray = overloaded{[](const auto&) {}};
  for (std::size_t at = 0; at < log.size(); at += piece) {
    now->push(log.substr(at, piece), said);
    save(*now, *kept);
    EXPECT_EQ(restore(std::span<const std::byte>{kept->bytes()}, *next), std::nullopt);
    now->push(log.substr(log.size() / 2, 700), stray);  // it is done, and goes astray
    std::swap(now, next);
  }
  now->finish(said);
  return said;
}

void expect_the_same(std::string_view log, const session_settings& s, std::size_t piece) {
  const auto wanted = heard_from(log, s), got = heard_hand_to_hand(log, s, piece);
  ASSERT_EQ(got.lines.size(), wanted.lines.size());
  for (std::size_t i = 0; i < got.lines.size(); ++i) ASSERT_EQ(got.lines[i], wanted.lines[i]);
  EXPECT_FALSE(wanted.lines.empty());
}

TEST(saved, at_every_31_bytes_of_a_whole_test) {
  const auto log = invented::joined(invented::invented_log());
  ASSERT_GT(heard_from(log).readings.size(), 3U);
  expect_the_same(log, {}, 31);
}

TEST(saved, at_any_row_by_the_strict_criterion) {
  const auto log = invented::joined(invented::invented_log({.seed = 2}), "\r\n");
  ASSERT_GT(heard_from(log, strict_settings()).readings.size(), 1U);
  expect_the_same(log, strict_settings(), 97);
}

TEST(saved, at_any_row_by_a_published_rule) {
  session_settings s;
  s.judge_by(published_rules::stack_by_the_minute());
  const auto log = invented::joined(invented::invented_log({.seed = 3}));
  ASSERT_GT(heard_from(log, s).readings.size(), 1U);
  expect_the_same(log, s, 113);
}

TEST(saved, where_rows_are_held_and_bring_no_time) {
  session_settings s;
  s.decoder.fields = "stack_temp_degF,-,o2_pct,co_ppm,draft_overfire_inH2O";
  s.decoder.interval = seconds(2);
  s.timeline.hold = seconds(5);
  std::string log;
  for (const auto& line : invented::invented_log({.seed = 4, .clock_break = false}))
    if (line.at) log += line.text.substr(line.text.find(',') + 1) + "\n";
  ASSERT_GT(heard_from(log, s).readings.size(), 1U);
  expect_the_same(log, s, 101);
}

TEST(saved, in_utf16_between_the_halves_of_a_letter) {
  const auto log = invented::joined(invented::invented_log({.seed = 5, .step = seconds(5)}));
  std::string wide = "\xff\xfe";
  for (const char c : log) wide += c, wide += '\0';
  expect_the_same(wide, {}, 203);
}

TEST(saved, at_every_row_of_a_driver_with_time_passing_in_between) {
  auto now = std::make_unique<default_session>(session_settings{});
  auto next = std::make_unique<default_session>(session_settings{});
  default_session whole{session_settings{}};
  const auto kept = std::make_unique<kept_session>();
  transcript wanted, got;
  for (int t = 0; t < 1500; ++t) {
    frame f;
    f.at = instant{seconds(t < 900 ? t : t + 75)};
    const double off = (t * 7919 % 13 - 6) * 0.05;
    f.indication.set(channel::stack_temp, (t < 500 ? 500 : 530) - 190.0 / (1 + t / 20) + off);
    f.indication.set(channel::o2, 0.05 + 0.0005 * off);
    f.indication.set(channel::co, 20e-6 + 1e-6 * off);
    whole.push(f, wanted), now->push(f, got);
    whole.advance(f.at + milliseconds(400), wanted), now->advance(f.at + milliseconds(400), got);
    save(*now, *kept);
    ASSERT_EQ(restore(std::span<const std::byte>{kept->bytes()}, *next), std::nullopt);
    std::swap(now, next);
  }
  whole.finish(wanted), now->finish(got);
  EXPECT_GT(wanted.readings.size(), 3U);
  EXPECT_EQ(got.lines, wanted.lines);
}

/// What a session says about the rest of a log, restored from what was saved before it.
transcript after(const kept_session& kept, std::string_view rest) {
  transcript said;
  default_session live{session_settings{}};
  EXPECT_EQ(restore(std::span<const std::byte>{kept.bytes()}, live), std::nullopt);
  live.push(rest, said);
  live.finish(said);
  return said;
}

TEST(saved, in_the_middle_of_a_transition_it_can_be_gone_on_from_many_times) {
  const std::string log = invented::joined(invented::invented_log({.mishaps = false}));
  const auto moved = log.find("# adjusted air");
  ASSERT_NE(moved, std::string::npos);
  for (const std::size_t later : {0U, 120U, 300U, 700U, 2000U}) {
    const auto cut = moved + later;
    transcript before, wanted;
    default_session live{session_settings{}};
    live.push(std::string_view{log}.substr(0, cut), before);
    const auto kept = std::make_unique<kept_session>();
    save(live, *kept);
    live.push(std::string_view{log}.substr(cut), wanted);
    live.finish(wanted);
    EXPECT_FALSE(wanted.readings.empty());
    EXPECT_EQ(after(*kept, std::string_view{log}.substr(cut)).lines, wanted.lines);
    EXPECT_EQ(after(*kept, std::string_view{log}.substr(cut)).lines, wanted.lines);
  }
}

/// Bytes of a session in the middle of a test, to be damaged.
class damaged : public testing::Test {
 protected:
  damaged() {
    const auto log = invented::joined(invented::invented_log());
    live_.push(std::string_view{log}.substr(0, 50'000), any_sink{});
    save(live_, *kept_);
    good_.assign(kept_->bytes().begin(), kept_->bytes().end());
    other_.push(std::string_view{log}.substr(0, 9'000), any_sink{});
    save(other_, *kept_);
    before_.assign(kept_->bytes().begin(), kept_->bytes().end());
  }

  /// The fault; nothing must have happened to the session it was to be restored into.
  std::optional<restore_fault> refused(std::span<const std::byte> bytes) {
    const auto why = restore(bytes, other_);
    if (!why) return why;
    const auto* const lies = reinterpret_cast<const std::byte*>(&other_);
    EXPECT_TRUE(as_it_was_.empty() || std::equal(as_it_was_.begin(), as_it_was_.end(), lies));
    as_it_was_.assign(lies, lies + sizeof other_);
    return why;
  }
  std::size_t draw(std::size_t below) {
    state_ = state_ * 6364136223846793005U + 1442695040888963407U;
    return static_cast<std::size_t>(state_ >> 33U) % below;
  }

  default_session live_{session_settings{}}, other_{session_settings{}};
  std::unique_ptr<kept_session> kept_ = std::make_unique<kept_session>();
  std::vector<std::byte> good_, before_, as_it_was_;
  std::uint64_t state_ = 1;
};

TEST_F(damaged, every_bit_of_the_head_and_many_others_are_missed) {
  const auto flip = [&](std::size_t bit) {
    auto bytes = good_;
    bytes[bit / 8] ^= std::byte(1U << bit % 8);
    EXPECT_TRUE(refused(bytes)) << "bit " << bit;
  };
  for (std::size_t bit = 0; bit < 8 * kept_session::head; ++bit) flip(bit);
  for (int i = 0; i < 1000; ++i) flip(8 * kept_session::head + draw(8 * sizeof(default_session)));
}

TEST_F(damaged, cut_off_anywhere) {
  for (std::size_t size = 0; size < 64; ++size)
    EXPECT_EQ(refused(std::span{good_}.first(size)), restore_fault::cut_off) << size;
  for (int i = 0; i < 500; ++i)
    EXPECT_EQ(refused(std::span{good_}.first(draw(good_.size()))), restore_fault::cut_off);
  EXPECT_EQ(refused(std::span{good_}.first(good_.size() - 1)), restore_fault::cut_off);
}

TEST_F(damaged, blocks_that_were_lost_swapped_or_are_of_another_time) {
  for (int i = 0; i < 500; ++i) {
    auto bytes = good_;
    const std::size_t size = 1 + draw(4096), from = draw(bytes.size() - size);
    const std::size_t to = draw(bytes.size() - size);
    switch (i % 4) {
      case 0: std::fill_n(&bytes[from], size, std::byte{}); break;
      case 1: std::fill_n(&bytes[from], size, std::byte{255}); break;
      case 2: std::copy_n(&good_[from], size, &bytes[to]); break;
      default: std::copy_n(&before_[from], size, &bytes[from]); break;
    }
    if (bytes == good_) continue;
    EXPECT_TRUE(refused(bytes)) << i;
  }
}

TEST_F(damaged, noise_is_no_session) {
  for (int i = 0; i < 200; ++i) {
    std::vector<std::byte> bytes(draw(2 * good_.size()));
    for (auto& b : bytes) b = std::byte(draw(256));
    EXPECT_TRUE(refused(bytes));
  }
}

TEST_F(damaged, what_is_whole_is_taken_all_the_same) {
  EXPECT_EQ(restore(std::span<const std::byte>{good_}, other_), std::nullopt);
  good_.push_back(std::byte{});
  EXPECT_EQ(refused(good_), restore_fault::damaged);
}

}  // namespace
}  // namespace stilling
