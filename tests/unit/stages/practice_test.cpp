// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/practice.hpp"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "stilling/session.hpp"
#include "support/flue.hpp"
#include "support/input_chain.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::flue;
using invented::fresh_air;
using invented::percent;
using invented::ppm;
using invented::quiet_flue;
using invented::when;

static_assert(!accepts<practice, frame>);

/// Rows through the judging stages; what was noticed.
class watched {
 public:
  watched() : chain_{make_judge({}) | practice{}} {}
  void push(const frame& f) { chain_.push(f, hear_); }
  void finish() { chain_.finish(hear_); }
  std::vector<observation> noticed;

  [[nodiscard]] const observation* find(finding_kind k) const {
    for (const auto& o : noticed)
      if (o.what == k) return &o;
    return nullptr;
  }

 private:
  struct ear {
    watched* self;
    void operator()(const observation& o) const { self->noticed.push_back(o); }
    void operator()(const auto&) const {}
  };
  ear hear_{this};
  decltype(make_judge({}) | practice{}) chain_;
};

std::vector<observation> noticed_in(const std::string& name) {
  std::vector<observation> out;
  auto sink = overloaded{[&](const observation& o) { out.push_back(o); }, [](const auto&) {}};
  auto chain = make_reader({}) | make_judge({}) | practice{};
  chain.push(std::string_view{testing::case_bytes(name)}, sink);
  chain.finish(sink);
  return out;
}

/// Fresh air for a minute, then a fire.
watched after_air(const flue& air) {
  watched w;
  quiet_flue draw;
  for (int t = 0; t < 60; t += 2) w.push(draw(t, air));
  for (int t = 60; t < 200; t += 2) w.push(draw(t));
  w.finish();
  return w;
}

TEST(practice, is_content_with_sound_cells) {
  EXPECT_TRUE(after_air(fresh_air).noticed.empty());
}

TEST(practice, knows_a_tired_oxygen_cell_by_fresh_air) {
  auto air = fresh_air;
  air.oxygen = 0.2055;  // 0.35 below: a little more than the tolerance
  const auto w = after_air(air);
  ASSERT_EQ(w.noticed.size(), 1U);
  EXPECT_EQ(w.noticed[0].what, finding_kind::oxygen_cell_tired);
  EXPECT_NEAR(*w.noticed[0].value, 0.2055, 0.0002);
  EXPECT_NEAR(*w.noticed[0].limit, 0.206, 1e-12);
  air.oxygen = 0.2065;
  EXPECT_TRUE(after_air(air).noticed.empty()) << "within it";
  air.oxygen = 0.2125;
  EXPECT_NEAR(*after_air(air).noticed.at(0).limit, 0.212, 1e-12) << "too high is as wrong";
}

TEST(practice, knows_a_zero_set_in_dirty_air) {
  auto air = fresh_air;
  air.monoxide = -8 * ppm;
  const auto w = after_air(air);
  ASSERT_EQ(w.noticed.size(), 1U);
  EXPECT_EQ(w.noticed[0].what, finding_kind::zeroed_in_dirty_air);
  EXPECT_NEAR(*w.noticed[0].value, -8 * ppm, 1 * ppm);
  air.monoxide = -3 * ppm;
  EXPECT_TRUE(after_air(air).noticed.empty());
}

TEST(practice, tells_of_co_that_climbs_beside_a_flat_stack_once) {
  watched w;
  quiet_flue draw;
  for (int t = 0; t < 600; ++t) {
    flue mean;
    if (t > 200) mean.monoxide += (t - 200) * 12 * ppm / 60;
    w.push(draw(t, mean));
  }
  ASSERT_EQ(w.noticed.size(), 1U);
  EXPECT_EQ(w.noticed[0].what, finding_kind::co_rising);
  EXPECT_TRUE(w.noticed[0].is_rate);
  EXPECT_GT(60 * *w.noticed[0].value, 5 * ppm);
}

TEST(practice, says_nothing_of_co_that_holds_or_falls) {
  watched w;
  quiet_flue draw;
  for (int t = 0; t < 600; ++t) {
    flue mean;
    mean.monoxide = 200 * ppm - (t > 200 ? (t - 200) * 12 * ppm / 60 : 0);
    w.push(draw(t, mean));
  }
  EXPECT_EQ(w.find(finding_kind::co_rising), nullptr);
}

/// Fresh air, a fire, and fresh air again.
watched between_air(const flue& first, const flue& then) {
  watched w;
  quiet_flue draw;
  for (int t = 0; t < 60; ++t) w.push(draw(t, first));
  for (int t = 60; t < 300; ++t) w.push(draw(t));
  for (int t = 300; t < 480; ++t) w.push(draw(t, then));
  w.finish();
  return w;
}

TEST(practice, knows_a_cold_instrument_by_fresh_air_that_reads_otherwise_later) {
  EXPECT_EQ(between_air(fresh_air, fresh_air).find(finding_kind::instrument_cold), nullptr);
  auto later = fresh_air;
  later.monoxide = 3 * ppm;
  EXPECT_EQ(between_air(fresh_air, later).find(finding_kind::instrument_cold), nullptr);
  later.monoxide = 9 * ppm;
  const auto w = between_air(fresh_air, later);
  const auto* found = w.find(finding_kind::instrument_cold);
  ASSERT_NE(found, nullptr);
  EXPECT_EQ(found->of, channel::co);
  EXPECT_NEAR(*found->value, 9 * ppm, 1 * ppm);
  EXPECT_NEAR(*found->limit, 0, 1 * ppm) << "what it read before";
  later = fresh_air;
  later.oxygen = 0.2045;
  const auto o = between_air(fresh_air, later);
  ASSERT_NE(o.find(finding_kind::instrument_cold), nullptr);
  EXPECT_EQ(o.find(finding_kind::instrument_cold)->of, channel::o2);
}

// --- the logs of tests/cases; what is expected is computed from the curves they were made of -----

TEST(practice, case_013_finds_the_cold_instrument_and_no_drifting_room) {
  const auto all = noticed_in("013-cold-instrument.csv");
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].what, finding_kind::instrument_cold);
  EXPECT_LE(when(all[0].at), 60);
}

TEST(practice, case_016_finds_the_zero_12_ppm_low) {
  const auto all = noticed_in("016-zeroed-in-dirty-air.csv");
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].what, finding_kind::zeroed_in_dirty_air);
  EXPECT_NEAR(*all[0].value, -12.2 * ppm, 0.5 * ppm);
}

TEST(practice, case_017_finds_the_cell_at_20_1) {
  const auto all = noticed_in("017-tired-o2-cell.csv");
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].what, finding_kind::oxygen_cell_tired);
  EXPECT_NEAR(*all[0].value, 20.1 * percent, 0.05 * percent);
}

TEST(practice, case_018_tells_of_the_frozen_thermocouple_within_a_minute) {
  const auto all = noticed_in("018-frozen-thermocouple.csv");
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].what, finding_kind::channel_stuck);
  EXPECT_EQ(all[0].of, channel::stack_temp);
  EXPECT_EQ(*all[0].since, at(200));
  EXPECT_LE(when(all[0].at), 260);
}

TEST(practice, case_015_is_one_episode_of_an_open_sensor) {
  const auto all = noticed_in("015-open-sensor-values.csv");
  ASSERT_EQ(all.size(), 1U) << "five single values are no episode";
  EXPECT_EQ(all[0].what, finding_kind::sensor_open);
  EXPECT_EQ(all[0].count, 10U);
  EXPECT_NEAR(in_seconds(all[0].at - *all[0].since), 50, 1e-9);
}

TEST(practice, case_020_finds_the_air_warming_by_1_2_degrees_a_minute) {
  const auto all = noticed_in("020-ambient-probe-warms.csv");
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].what, finding_kind::ambient_drifts);
  EXPECT_NEAR(60 * 1.8 * *all[0].value, 1.20, 0.05);
}

TEST(practice, case_003_finds_short_cycling) {
  const auto all = noticed_in("003-short-cycling.csv");
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].what, finding_kind::short_cycling);
  EXPECT_EQ(all[0].count, 3U) << "told when it is clear";
}

TEST(practice, has_nothing_to_say_about_logs_that_are_in_order) {
  for (const auto* name : {"001-five-or-ten-minutes.csv", "002-short-burn-low-mass.csv",
                           "006-one-degree-steps.csv", "008-nothing-lit-yet.csv",
                           "009-low-then-high-fire.csv", "012-stream-equals-batch.csv",
                           "022-lone-spikes.csv", "023-every-second-row-missing.csv"})
    EXPECT_TRUE(noticed_in(name).empty()) << name;
}

}  // namespace
}  // namespace stilling
