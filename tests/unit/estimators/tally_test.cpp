// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/tally.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <type_traits>

#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;

static_assert(std::is_trivially_copyable_v<tally> && std::is_trivially_copyable_v<recent<8, 48>>);
static_assert(tally{}.count() == 0 && tally{}.passed_over() == 0);

tally of(int first, int last) {
  tally k;
  for (int i = first; i < last; ++i) {
    k.push(i * i % 17, 1 + i % 3);
    if (i % 5 == 0) k.set_aside();
    k.note_noise(4, 8 + i);
  }
  return k;
}

TEST(tally, of_neighbours_merges_to_the_tally_of_both) {
  tally a = of(0, 40);
  a.merge(of(40, 100));
  const tally whole = of(0, 100);
  EXPECT_EQ(a.count(), whole.count());
  EXPECT_EQ(a.passed_over(), whole.passed_over());
  EXPECT_EQ(a.longest_gap(), whole.longest_gap());
  EXPECT_NEAR(a.mean(), whole.mean(), 1e-12);
  EXPECT_NEAR(a.of_mean(100, 0).variance, whole.of_mean(100, 0).variance, 1e-12);
}

// JCGM 100 4.2.3: the variance of the mean of n independent values is s^2 / n.
TEST(tally, without_a_look_at_the_noise_takes_values_as_independent) {
  tally k;
  for (const double x : {1.0, 2.0, 3.0, 4.0}) k.push(x, 1);
  EXPECT_DOUBLE_EQ(k.of_mean(4, 0).variance, (5.0 / 3) / 4);
  EXPECT_EQ(k.of_mean(4, 0).effective_count, 4);
}

TEST(tally, spreads_the_density_of_the_noise_over_the_time) {
  tally k;
  for (int i = 0; i < 100; ++i) k.push(0, 1), k.note_noise(1, 9);
  EXPECT_DOUBLE_EQ(k.of_mean(100, 0).variance, 9.0 / 100);
  EXPECT_NEAR(k.of_mean(100, 0).effective_count, 100 / 9.0, 1e-9);
}

TEST(tally, is_worth_at_least_one_value_and_at_most_all_of_them) {
  tally slow, quick;
  for (int i = 0; i < 10; ++i) {
    slow.push(0, 1), slow.note_noise(1, 1e6);
    quick.push(0, 1), quick.note_noise(1, 1e-6);
  }
  EXPECT_EQ(slow.of_mean(10, 0).effective_count, 1);
  EXPECT_EQ(slow.of_mean(10, 0).variance, 1);
  EXPECT_EQ(quick.of_mean(10, 0).effective_count, 10);
  EXPECT_EQ(quick.of_mean(10, 0).variance, 0.1);
}

// JCGM 100 F.2.2.1: step / sqrt(12).
TEST(tally, of_a_display_that_stands_still_is_as_uncertain_as_its_step) {
  tally k;
  for (int i = 0; i < 100; ++i) k.push(70, 1), k.note_noise(0, 0);
  EXPECT_NEAR(std::sqrt(k.of_mean(100, 1).variance), 1 / std::sqrt(12), 1e-9);
  EXPECT_EQ(k.of_mean(100, 0).variance, 0);
}

TEST(tally, states_more_where_the_noise_is_little_known) {
  const tally::worth w{.variance = 4, .effective_count = 11};
  // Student's t, 97.5 %: 2.228 at 10 degrees of freedom, 12.706 at 1 (JCGM 100 table G.2).
  EXPECT_NEAR(tally::stated(w, {}).standard, 2 * 2.228 / 2, 1e-3);
  EXPECT_EQ(tally::stated(w, {}).degrees_of_freedom, 10);
  EXPECT_NEAR(tally::stated(w, 1.0).standard, 12.706, 1e-3);
  EXPECT_EQ(tally::stated({.variance = 4, .effective_count = 1}, {}).degrees_of_freedom, 1);
}

TEST(recent, keeps_the_newest_pieces_and_tells_what_leaves) {
  recent<1, 4> r;
  std::uint32_t left = 0;
  for (int t = 0; t < 60; ++t) {
    auto& piece = r.begin_row(at(t), [&](const auto& leaving) { left += leaving.rows; });
    EXPECT_EQ(&piece, &r.newest());
    piece.of[0].push(t, 1);
  }
  EXPECT_EQ(r.size(), 4U);
  const auto all = r.joined_to({});
  EXPECT_EQ(all.rows + left, 60U) << "nothing is lost";
  EXPECT_EQ(all.to, at(59));
  EXPECT_EQ(all.of[0].count(), all.rows);
}

constexpr auto nothing_leaves = [](const auto&) { FAIL(); };

TEST(recent, can_be_cut_at_both_ends) {
  recent<1, 48> r;
  for (int t = 0; t < 60; ++t) {
    r.begin_row(at(t), nothing_leaves).of[0].push(t, 1);
  }
  while (r.oldest().from < at(20)) r.drop_oldest();
  while (r.newest().to >= at(40)) r.drop_newest();
  const auto rest = r.joined_to({});
  EXPECT_GE(rest.from, at(20));
  EXPECT_LT(rest.to, at(40));
  EXPECT_NEAR(rest.of[0].mean(), 29.5, 3);
  r.clear();
  EXPECT_EQ(r.joined_to({}).rows, 0U);
}

TEST(recent, begins_a_piece_with_the_first_row_after_a_silence) {
  recent<1, 4> r;
  r.begin_row(at(0), nothing_leaves);
  r.begin_row(at(1000), nothing_leaves);
  EXPECT_EQ(r.size(), 2U);
  EXPECT_EQ(r.newest().from, at(1000));
}

}  // namespace
}  // namespace stilling
