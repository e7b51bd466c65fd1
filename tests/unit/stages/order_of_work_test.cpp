// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/stages/order_of_work.hpp"

#include <gtest/gtest.h>

#include <string_view>
#include <utility>
#include <vector>

namespace stilling {
namespace {

/// A test told in a few rows and notes; what was found, in order.
struct told {
  auto sink() {
    return overloaded{[this](const observation& o) { found.emplace_back(o.what, *o.step); },
                      [](const auto&) {}};
  }

  explicit told(const work_settings& s = {}) : work{s} {}
  told& row(phase in, bool burned = true, double draft = -8) {
    verdict v;
    v.row.at = instant{seconds(clock += 10)};
    v.in = in;
    v.fire.has_burned = burned;
    v.row.indication.set(channel::stack_temp, 480);
    v.row.indication.set(channel::o2, 0.05);
    v.row.indication.set(channel::co, 20e-6);
    v.row.indication.set(channel::draft_breech, draft);
    work.push(v, sink());
    return *this;
  }
  told& say(std::string_view text) {
    work.push(note{0, instant{seconds(clock)}, text}, sink());
    return *this;
  }
  std::vector<std::pair<finding_kind, work_step>> end() {
    work.finish(sink());
    return std::exchange(found, {});
  }
  /// Fresh air with the gauge at zero, fire, settled.
  told& begin() {
    return row(phase::fresh_air, false, 0.1).row(phase::appliance_warm_up).row(phase::steady);
  }

  order_of_work work;
  int clock = 0;
  std::vector<std::pair<finding_kind, work_step>> found;
};

using list = std::vector<std::pair<finding_kind, work_step>>;
using enum finding_kind;

TEST(order_of_work, a_whole_test_gives_nothing) {
  told t;
  t.begin().say("smoke trace").say("adjusted air").row(phase::disturbed).row(phase::steady);
  t.say("smoke 0").say("reading");
  EXPECT_EQ(t.end(), list{});
}

TEST(order_of_work, where_nobody_says_anything_nothing_is_said_unless_asked) {
  EXPECT_EQ(told{}.begin().end(), list{});
  EXPECT_EQ(told{}.begin().say("remark nice day").end(), list{});
  EXPECT_EQ(told{{.always = true}}.begin().end(), (list{{step_missing, work_step::smoke}}));
}

TEST(order_of_work, without_a_fire_there_was_no_work) {
  told t{{.always = true}};
  t.row(phase::fresh_air, false).row(phase::idle, false);
  EXPECT_EQ(t.end(), list{});
}

TEST(order_of_work, smoke_belongs_to_the_setting_it_was_drawn_at) {
  told t;
  t.begin().say("smoke trace").say("smoke 0").say("adjusted draft").row(phase::steady);
  EXPECT_EQ(t.end(), (list{{smoke_not_repeated, work_step::smoke}}));
  t.begin().say("smoke trace").say("adjusted draft").say("smoke 0").row(phase::steady);
  EXPECT_EQ(t.end(), list{});
}

TEST(order_of_work, zero_is_reached_from_a_trace) {
  told t;
  EXPECT_EQ(t.begin().say("smoke 0").end(), (list{{zero_without_trace, work_step::smoke}}));
  EXPECT_EQ(t.begin().say("smoke 0").say("smoke trace").say("smoke 0").end(), list{});
  EXPECT_EQ(t.begin().say("smoke 3").say("smoke 0").end(), list{});
}

TEST(order_of_work, the_last_spot_is_judged) {
  told t;
  EXPECT_EQ(t.begin().say("smoke 3").end(), (list{{smoke_high, work_step::smoke}}));
  EXPECT_EQ(t.begin().say("smoke trace").end(), (list{{smoke_high, work_step::smoke}}));
  EXPECT_EQ(told({.most_smoke = 1}).begin().say("smoke 1").end(), list{});
  EXPECT_EQ(told({.most_smoke = {}}).begin().say("smoke 9").end(), list{});
}

TEST(order_of_work, gas_asks_for_no_spot) {
  EXPECT_EQ(told({.always = true, .smoke_asked = false}).begin().end(), list{});
}

TEST(order_of_work, oil_on_the_paper_is_said_at_once) {
  told t;
  t.begin().say("oil spot");
  EXPECT_EQ(t.found, (list{{oil_spot, work_step::smoke}}));
}

TEST(order_of_work, a_reading_before_anything_settled_is_too_early) {
  told t;
  t.row(phase::fresh_air, false, 0).row(phase::appliance_warm_up).say("reading");
  EXPECT_EQ(t.found, (list{{reading_too_early, work_step::reading}}));
  t.row(phase::steady).say("reading");
  EXPECT_EQ(t.found.size(), 1U);
}

TEST(order_of_work, a_gauge_that_stood_at_zero_in_fresh_air_needs_no_note) {
  told t;
  t.row(phase::fresh_air, false, -5).say("fresh air").row(phase::steady).row(phase::steady);
  EXPECT_EQ(t.found, (list{{draft_not_zeroed, work_step::draft_zero}})) << "once";
  told noted;
  noted.row(phase::fresh_air, false, -5).say("draft zeroed").row(phase::steady);
  EXPECT_EQ(noted.found, list{});
}

TEST(order_of_work, fresh_air_belongs_before_the_fire) {
  told t;
  t.row(phase::idle, false, 0).say("draft zeroed").say("probe in").row(phase::steady);
  t.say("smoke trace").say("smoke 0");
  EXPECT_EQ(t.end(), (list{{step_missing, work_step::fresh_air}}));
  t.row(phase::idle, false, 0).say("draft zeroed").row(phase::steady).say("smoke 1").say("smoke 0");
  t.row(phase::fresh_air);
  EXPECT_EQ(t.end(), (list{{step_out_of_order, work_step::fresh_air}}));
}

TEST(order_of_work, smoke_before_the_first_settled_state_is_out_of_order) {
  told t;
  t.row(phase::fresh_air, false, 0).row(phase::appliance_warm_up).say("smoke 1");
  EXPECT_EQ(t.found, (list{{step_out_of_order, work_step::smoke}}));
}

TEST(order_of_work, a_move_asks_for_a_last_reading) {
  told t;
  t.begin().say("smoke trace").say("adjusted air").row(phase::disturbed).say("smoke 0");
  EXPECT_EQ(t.end(), (list{{step_missing, work_step::reading}}));
}

TEST(order_of_work, a_log_that_broke_off_does_not_undo_what_hands_have_done) {
  told t;
  t.begin().say("smoke trace");
  t.work.interrupt(discontinuity{}, t.sink());
  t.clock = 0;  // and its clock began anew
  t.row(phase::steady).say("adjusted air").row(phase::steady).say("smoke 0");
  EXPECT_EQ(t.end(), list{});
}

}  // namespace
}  // namespace stilling
