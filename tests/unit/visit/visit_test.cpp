// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/visit/visit.hpp"

#include <gtest/gtest.h>

#include "stilling/combustion/fuel_table.hpp"

namespace stilling {
namespace {

instant at(int s) { return instant{seconds(s)}; }

settled_reading settled(int declared, int to, double o2, double co = 20e-6) {
  settled_reading r;
  r.declared = at(declared);
  r.from = at(declared - 60);
  r.to = at(to);
  r.last_seen = at(to);
  r.ended = cause::departed;
  const auto lane = [&](channel c, double mean, double u) {
    channel_reading x;
    x.mean = mean;
    x.standard_uncertainty = u;
    x.degrees_of_freedom = 40;
    r.channels.set(c, x);
  };
  lane(channel::stack_temp, 500, 0.3);
  lane(channel::ambient_temp, 293.15, 0.1);
  lane(channel::o2, o2, 0.0003);
  lane(channel::co, co, 0.4e-6);
  return r;
}

note said_at(int t, std::string_view text) { return {0, at(t), text}; }

visit made() { return visit{*find_fuel("no2_oil"), {}}; }

TEST(visit, each_settled_reading_knows_what_was_moved_before_it) {
  visit v = made();
  v.add(settled(300, 600, 0.07));
  v.add(said_at(590, "smoke 0"));
  v.add(said_at(610, "adjusted air a little"));
  v.add(settled(800, 1000, 0.055));
  v.add(settled(1200, 1400, 0.050));
  const auto rows = v.rows();
  ASSERT_EQ(rows.size(), 3U);
  EXPECT_TRUE(rows[0].moves.empty());
  EXPECT_FALSE(rows[0].moved_unsaid);
  EXPECT_EQ(v.notes()[*rows[0].smoke].text, "smoke 0");
  ASSERT_EQ(rows[1].moves.size(), 1U);
  EXPECT_EQ(v.notes()[rows[1].moves[0]].text, "adjusted air a little");
  EXPECT_NEAR(rows[1].since_before->channels[channel::o2].value, -0.015, 1e-12);
  EXPECT_TRUE(rows[1].since_before->channels[channel::o2].real());
  EXPECT_FALSE(rows[1].smoke) << "the spot belongs to the setting before";
  EXPECT_TRUE(rows[2].moved_unsaid) << "it left its level, and nobody said why";
  EXPECT_EQ(rows[2].likely, saying::adjusted_air);
  EXPECT_FALSE(rows[1].likely) << "where it was said there is nothing to guess";
}

TEST(visit, a_move_nobody_named_is_guessed_from_what_changed_for_certain) {
  comparison c;
  EXPECT_FALSE(likely_move(c));
  c.channels.set(channel::o2, {-0.01, 0.001, 2});
  EXPECT_EQ(likely_move(c), saying::adjusted_air);
  c.channels.set(channel::draft_breech, {-3, 0.2, 2});
  EXPECT_EQ(likely_move(c), saying::adjusted_draft);
  c.channels.set(channel::draft_breech, {-0.8, 0.1, 2});
  EXPECT_EQ(likely_move(c), saying::adjusted_air) << "less than a person would set";
  c.channels.set(channel::o2, {-0.01, 0.02, 2});
  EXPECT_FALSE(likely_move(c)) << "chance";
}

TEST(visit, the_later_word_on_a_reading_replaces_the_earlier) {
  visit v = made();
  auto open = settled(300, 0, 0.06);
  open.to.reset();
  v.add(open);
  v.add(settled(300, 900, 0.058));
  ASSERT_EQ(v.settled().size(), 1U);
  EXPECT_EQ(v.settled()[0].read.to, at(900));
  EXPECT_NEAR(v.settled()[0].figures[figure::excess_air]->value, 0.058 / (0.209 - 0.058), 1e-12);
}

TEST(visit, the_best_row_has_least_against_it_and_then_keeps_most_heat) {
  visit v = made();
  v.add(settled(300, 600, 0.065));
  v.add(settled(800, 1000, 0.045, 140e-6));  // keeps most heat, and makes CO
  v.add(settled(1200, 1400, 0.055));
  EXPECT_EQ(best_row(v.rows(), v, residential_oil), 2U);
  EXPECT_FALSE(best_row({}, v, residential_oil));
}

TEST(visit, smoke_counts_against_its_row) {
  visit v = made();
  v.add(settled(300, 600, 0.065));
  v.add(said_at(610, "adjusted air"));
  v.add(settled(800, 1000, 0.050));
  v.add(said_at(900, "smoke 2"));
  EXPECT_EQ(best_row(v.rows(), v, residential_oil), 0U);
}

TEST(visit, a_note_without_a_time_of_its_own_is_of_the_newest_row) {
  visit v = made();
  verdict row;
  row.row.at = at(42);
  v.add(row);
  v.add(note{3, {}, "probe in"});
  EXPECT_EQ(v.notes()[0].at, at(42));
  EXPECT_EQ(v.notes()[0].what().what, saying::probe_in);
}

}  // namespace
}  // namespace stilling
