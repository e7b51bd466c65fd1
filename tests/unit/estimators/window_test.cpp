// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/window.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <deque>
#include <random>
#include <type_traits>
#include <vector>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<window<double, 9>>);
static_assert(window<int, 4>::capacity() == 4 && window<int, 4>{}.empty());
static_assert(sizeof(window<double, 9>) == 9 * sizeof(double) + 2 * sizeof(std::size_t));

constexpr window<int, 3> holding(std::initializer_list<int> values) {
  window<int, 3> w;
  for (int v : values) w.push(v);
  return w;
}
static_assert(holding({1, 2, 3, 4}).front() == 2 && holding({1, 2, 3, 4}).back() == 4);
static_assert(holding({1, 2, 3}) == holding({0, 1, 2, 3}), "wherever in the ring they lie");
static_assert(holding({1, 2}) != holding({1, 2, 3}) && holding({1, 2}) != holding({2, 1}));

TEST(window, fills_up_before_it_gives_anything_back) {
  window<int, 3> w;
  for (int v : {1, 2, 3}) EXPECT_FALSE(w.push(v));
  EXPECT_TRUE(w.full());
  EXPECT_EQ(w.push(4), 1);
  EXPECT_EQ(w.push(5), 2);
  EXPECT_EQ(w.size(), 3U);
}

TEST(window, of_one_value_holds_the_newest) {
  window<int, 1> w;
  w.push(1);
  EXPECT_EQ(w.push(2), 1);
  EXPECT_EQ(w.front(), 2);
  EXPECT_EQ(w.back(), 2);
}

TEST(window, after_clear_equals_a_fresh_one) {
  auto w = holding({1, 2, 3, 4});
  w.clear();
  EXPECT_TRUE(w.empty());
  EXPECT_EQ(w, (window<int, 3>{}));
  EXPECT_FALSE(w.push(9)) << "nothing old comes out of it";
}

TEST(window, copies_are_apart) {
  auto a = holding({1, 2, 3});
  auto b = a;
  b.push(4);
  EXPECT_EQ(a.front(), 1);
  EXPECT_EQ(b.front(), 2);
}

TEST(window, does_what_a_deque_does) {
  std::mt19937 random{20240501};
  window<int, 7> w;
  std::deque<int> reference;
  for (int step = 0; step < 20'000; ++step) {
    const auto dice = random() % 10;
    if (dice < 6) {
      const auto evicted = w.push(step);
      reference.push_back(step);
      ASSERT_EQ(evicted.has_value(), reference.size() > 7);
      if (evicted) {
        ASSERT_EQ(*evicted, reference.front());
        reference.pop_front();
      }
    } else if (dice < 8 && !reference.empty()) {
      w.pop_front();
      reference.pop_front();
    } else if (dice < 9 && !reference.empty()) {
      w.pop_back();
      reference.pop_back();
    } else if (random() % 50 == 0) {
      w.clear();
      reference.clear();
    }
    ASSERT_EQ(w.size(), reference.size());
    for (std::size_t i = 0; i < reference.size(); ++i) ASSERT_EQ(w[i], reference[i]);
  }
}

double middle_of(std::vector<double> v) {
  std::sort(v.begin(), v.end());
  return (v[(v.size() - 1) / 2] + v[v.size() / 2]) / 2;
}

order_statistics by_sorting(const std::vector<double>& v) {
  order_statistics out{.median = middle_of(v)};
  std::vector<double> distances;
  for (double x : v) distances.push_back(x > out.median ? x - out.median : out.median - x);
  out.absolute_deviation = middle_of(distances);
  return out;
}

TEST(order_statistics, of_nothing_are_nothing) {
  EXPECT_FALSE(order_statistics_of(window<double, 9>{}));
}

TEST(order_statistics, do_not_mind_one_wild_value) {
  window<double, 5> w;
  for (double x : {470.0, 471.0, 9999.0, 470.0, 472.0}) w.push(x);
  const auto found = *order_statistics_of(w);
  EXPECT_EQ(found.median, 471);
  EXPECT_EQ(found.absolute_deviation, 1);
}

TEST(order_statistics, of_a_display_that_stands_still_have_no_spread) {
  window<double, 9> w;
  for (int i = 0; i < 9; ++i) w.push(471);
  EXPECT_EQ(*order_statistics_of(w), (order_statistics{471, 0}));
}

TEST(order_statistics, of_an_even_number_take_the_mean_of_the_middle_two) {
  window<double, 9> w;
  for (double x : {4.0, 1.0, 3.0, 2.0}) w.push(x);
  EXPECT_EQ(*order_statistics_of(w), (order_statistics{2.5, 1}));
}

template <std::size_t Capacity> void compare_with_sorting(std::uint32_t seed) {
  std::mt19937 random{seed};
  window<double, Capacity> w;
  for (int step = 0; step < 5000; ++step) {
    // Whole steps, so that ties are common, with a few far away.
    w.push(static_cast<double>(random() % 7) + (random() % 20 == 0 ? 1e6 : 0.0));
    if (random() % 4 == 0) w.pop_front();
    if (w.empty()) continue;
    std::vector<double> values;
    for (std::size_t i = 0; i < w.size(); ++i) values.push_back(w[i]);
    ASSERT_EQ(*order_statistics_of(w), by_sorting(values)) << "with " << w.size() << " values";
  }
}
TEST(order_statistics, agree_with_sorting) {
  compare_with_sorting<1>(1);
  compare_with_sorting<2>(2);
  compare_with_sorting<9>(3);
  compare_with_sorting<15>(4);
  compare_with_sorting<64>(5);
}

}  // namespace
}  // namespace stilling
