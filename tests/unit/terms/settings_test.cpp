// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/terms/settings.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <type_traits>

namespace stilling {
namespace {

static_assert(std::is_trivially_copyable_v<session_settings>);
static_assert(!check(session_settings{}), "the defaults make sense");
static_assert(!check(strict_settings()));
static_assert(strict_settings().steadiness.claim_factor == 1,
              "strict proves the limit itself, not a multiple of it");

// Common practice, no published source: 3 degF/min, 0.1 % O2/min, 5 ppm CO/min.
TEST(rate_limits, say_what_the_trade_says_in_canonical_units) {
  const rate_limits limits;
  EXPECT_NEAR(limits.of(channel::stack_temp) * 60 * 1.8, 3, 1e-12);
  EXPECT_NEAR(limits.of(channel::o2) * 60 * 100, 0.1, 1e-12);
  EXPECT_NEAR(limits.of(channel::co) * 60 * 1e6, 5, 1e-12);
  EXPECT_NEAR(limits.of(channel::draft_breech) * 60 / 249.08891, 0.005, 1e-7);
}

TEST(session_settings, a_limit_or_a_requirement_reaches_every_stage_that_needs_it) {
  session_settings s;
  s.require({channel::stack_temp});
  s.limit(channel::stack_temp, 0.5);
  EXPECT_EQ(s.phase.required, channel_set{channel::stack_temp});
  EXPECT_EQ(s.plateau.required, channel_set{channel::stack_temp});
  EXPECT_EQ(s.steadiness.limits.of(channel::stack_temp), 0.5);
  EXPECT_EQ(s.plateau.limits.of(channel::stack_temp), 0.5);
  EXPECT_FALSE(check(s));
}

struct nonsense {
  std::string_view name;  // as `check` has to name it
  void (*make)(session_settings&);
};
void PrintTo(const nonsense& n, std::ostream* out) { *out << n.name; }

constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();
constexpr double infinite = std::numeric_limits<double>::infinity();

class check_settings : public testing::TestWithParam<nonsense> {};

TEST_P(check_settings, names_what_makes_no_sense) {
  session_settings s;
  GetParam().make(s);
  const auto found = check(s);
  ASSERT_TRUE(found) << GetParam().name << " went through";
  EXPECT_EQ(found->name, GetParam().name);
  EXPECT_FALSE(found->must_be.empty()) << "the remedy is part of the answer";
}

using settings = session_settings;
constexpr nonsense all_nonsense[]{
    {"decoder.interval", [](settings& s) { s.decoder.interval = seconds(0); }},
    {"timeline.longest_silence", [](settings& s) { s.timeline.longest_silence = seconds(0); }},
    {"timeline.spacing", [](settings& s) { s.timeline.spacing = seconds(-1); }},
    {"timeline.hold", [](settings& s) { s.timeline.hold = seconds(0); }},
    {"screen.floor", [](settings& s) { s.screen.floor.per_second[2] = -1; }},
    {"screen.floor", [](settings& s) { s.screen.floor.per_second[0] = not_a_number; }},
    {"screen.outlier_factor", [](settings& s) { s.screen.outlier_factor = 1; }},
    {"screen.outlier_factor", [](settings& s) { s.screen.outlier_factor = not_a_number; }},
    {"screen.history", [](settings& s) { s.screen.history = 4; }},
    {"screen.history", [](settings& s) { s.screen.history = 16; }},
    {"screen.overdue_changes", [](settings& s) { s.screen.overdue_changes = 0; }},
    {"steadiness.limits", [](settings& s) { s.limit(channel::o2, 0); }},
    {"steadiness.limits", [](settings& s) { s.limit(channel::o2, -1); }},
    {"steadiness.limits", [](settings& s) { s.limit(channel::co, not_a_number); }},
    {"steadiness.limits", [](settings& s) { s.limit(channel::co, infinite); }},
    {"steadiness.claim_factor", [](settings& s) { s.steadiness.claim_factor = 0.9; }},
    {"steadiness.release_factor", [](settings& s) { s.steadiness.release_factor = 4; }},
    {"steadiness.confidence", [](settings& s) { s.steadiness.confidence = 0.94; }},
    {"steadiness.confidence", [](settings& s) { s.steadiness.confidence = 95; }},
    {"steadiness.spans", [](settings& s) { s.steadiness.spans[0] = 5; }},
    {"steadiness.spans", [](settings& s) { s.steadiness.spans[3] = 1e9; }},
    {"steadiness.spans", [](settings& s) { s.steadiness.spans = {60, 120, 90, 180}; }},
    {"steadiness.spans", [](settings& s) { s.steadiness.spans[1] = not_a_number; }},
    {"steadiness.least_cover", [](settings& s) { s.steadiness.least_cover = 0.5; }},
    {"steadiness.least_cover", [](settings& s) { s.steadiness.least_cover = 1.1; }},
    {"steadiness.longest_gap", [](settings& s) { s.steadiness.longest_gap = 0; }},
    {"steadiness.least_count", [](settings& s) { s.steadiness.least_count = 3; }},
    {"steadiness.precision", [](settings& s) { s.steadiness.precision = 0; }},
    {"steadiness.resolution_weight", [](settings& s) { s.steadiness.resolution_weight = 2; }},
    {"steadiness.departure", [](settings& s) { s.steadiness.departure = 0; }},
    {"steadiness.departure_sigmas", [](settings& s) { s.steadiness.departure_sigmas = 0; }},
    {"steadiness.persistence", [](settings& s) { s.steadiness.persistence = seconds(-1); }},
    {"phase.required", [](settings& s) { s.require({}); }},
    {"plateau.required", [](settings& s) { s.plateau.required = {channel::no}; }},
    {"phase.fire_oxygen", [](settings& s) { s.phase.fire_oxygen = 0.2; }},
    {"phase.dwell", [](settings& s) { s.phase.dwell = seconds(-1); }},
    {"phase.gap", [](settings& s) { s.phase.gap = seconds(0); }},
    {"phase.fire_net_temperature", [](settings& s) { s.phase.fire_net_temperature = 0; }},
    {"plateau.gap", [](settings& s) { s.plateau.gap = seconds(0); }},
    {"plateau.gap", [](settings& s) { s.plateau.gap = 2 * s.phase.gap; }},
    {"plateau.naming", [](settings& s) { s.plateau.naming = seconds(-1); }},
    {"plateau.limits", [](settings& s) { s.plateau.limits.per_second[0] = 0; }},
};
INSTANTIATE_TEST_SUITE_P(each, check_settings, testing::ValuesIn(all_nonsense));

}  // namespace
}  // namespace stilling
