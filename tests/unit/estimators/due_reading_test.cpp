// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/estimators/due_reading.hpp"

#include <gtest/gtest.h>

#include <type_traits>

namespace stilling {
namespace {

using outcome = due_reading::outcome;

static_assert(std::is_trivially_copyable_v<due_reading>);
static_assert(!due_reading{}.asked() && !due_reading{}.is_missed(latest));

constexpr instant at(double t) { return instant{*duration_from_seconds(t)}; }

/// Rows so far apart, up to the first that is answered; its time, in seconds.
double taken_at(double first_row, double apart, double due, double slack) {
  due_reading r;
  r.ask(at(due), *duration_from_seconds(slack), duration{});
  for (double t = first_row; t < due + 1000; t += apart) {
    const auto o = r.update(at(t), t);
    if (o == outcome::missed) return -1;
    if (o == outcome::taken) {
      EXPECT_EQ(r.value(), t);
      EXPECT_EQ(r.at(), at(t));
      return t;
    }
  }
  return -2;
}

TEST(due_reading, is_the_row_nearest_to_its_time) {
  EXPECT_EQ(taken_at(0, 1, 15, 1.5), 15);
  EXPECT_EQ(taken_at(0, 2, 15, 1.5), 14) << "as near as 16, and known earlier";
  EXPECT_EQ(taken_at(0, 4, 15, 1.5), 16);
  EXPECT_EQ(taken_at(0, 7, 15, 1.5), 14);
  EXPECT_EQ(taken_at(0.4, 1, 15, 1.5), 15.4) << "14.4 is farther away";
}

TEST(due_reading, is_missed_where_no_row_is_near) {
  EXPECT_EQ(taken_at(0, 10, 15, 1.5), -1);
  EXPECT_EQ(taken_at(0, 6, 15, 1.5), -1);
  EXPECT_EQ(taken_at(17, 1, 15, 1.5), -1);
}

// Readings written down by hand, a row each: the second comes after one row only.
TEST(due_reading, takes_a_lone_row_a_little_early) {
  due_reading r;
  r.update(at(0), 540);
  r.ask(at(900), seconds(90), duration{});
  EXPECT_EQ(r.update(at(895), 541), outcome::taken);
  r.ask(at(1795), seconds(90), duration{});
  EXPECT_EQ(r.update(at(1700), 541), outcome::waiting) << "95 s early";
  EXPECT_FALSE(r.is_missed(at(1885)));
  EXPECT_TRUE(r.is_missed(at(1885.001)));
}

TEST(due_reading, of_a_mean_is_over_the_time_before_it) {
  due_reading r;
  r.ask(at(30), seconds(9), seconds(30));
  for (double t = -5; t < 30; t += 5) ASSERT_EQ(r.update(at(t), t), outcome::waiting) << t;
  EXPECT_EQ(r.update(at(31), 1000), outcome::taken);
  EXPECT_EQ(r.value(), 12.5) << "0 5 10 15 20 25; neither -5 nor what told that it was over";
  EXPECT_EQ(r.at(), at(30));
}

TEST(due_reading, of_a_mean_is_missed_where_a_third_of_it_was_not_heard) {
  const auto with_gap = [](double from, double to) {
    due_reading r;
    r.ask(at(30), seconds(9), seconds(30));
    auto o = outcome::waiting;
    for (double t = 0; o == outcome::waiting; t += 1)
      if (t <= from || t >= to) o = r.update(at(t), t);
    return o;
  };
  EXPECT_EQ(with_gap(10, 20), outcome::taken);
  EXPECT_EQ(with_gap(10, 21), outcome::missed);
  EXPECT_EQ(with_gap(-1, 10), outcome::taken);
  EXPECT_EQ(with_gap(-1, 11), outcome::missed) << "at its beginning";
  EXPECT_EQ(with_gap(20, 36), outcome::taken) << "10 s of it are not heard";
  EXPECT_EQ(with_gap(19, 36), outcome::missed) << "at its end";
  EXPECT_EQ(with_gap(25, 40), outcome::missed) << "told too late";
}

TEST(due_reading, not_asked_for_is_none) {
  due_reading r;
  EXPECT_EQ(r.update(at(0), 1), outcome::waiting);
  r.ask(at(10), seconds(1), duration{});
  r.leave();
  EXPECT_EQ(r.update(at(10), 1), outcome::waiting);
  EXPECT_FALSE(r.is_missed(at(100)));
}

}  // namespace
}  // namespace stilling
