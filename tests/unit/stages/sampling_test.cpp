// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

#include "stilling/stages/sampling.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <type_traits>
#include <vector>

#include "stilling/session.hpp"
#include "support/flue.hpp"

namespace stilling {
namespace {

using invented::at;
using invented::flue;
using invented::fresh_air;
using invented::ppm;
using invented::quiet_flue;
using invented::when;

static_assert(std::is_trivially_copyable_v<sampling>);
static_assert(!accepts<sampling, frame>);

/// A flue that runs quietly for ten minutes, then `after` for three, then again; what was told.
template <class After>
std::vector<observation> told_of(After after, const char* said_at_600 = nullptr) {
  std::vector<observation> told;
  auto sink = overloaded{[&](const observation& o) { told.push_back(o); }, [](const auto&) {}};
  auto chain = make_judge({}) | sampling{};
  quiet_flue quiet;
  for (int t = 0; t < 1400; ++t) {
    if (t == 600 && said_at_600)
      chain.push(note{.line = 1, .at = at(t), .text = said_at_600}, sink);
    chain.push(quiet(t, t < 600 || t >= 780 ? flue{} : after(t - 600)), sink);
  }
  chain.finish(sink);
  return told;
}

/// The flue with a share of room air in the sample.
flue diluted_by(double share) {
  const flue f;
  return {.stack = f.stack - share * (f.stack - f.ambient),
          .oxygen = f.oxygen + share * (0.209 - f.oxygen),
          .monoxide = (1 - share) * f.monoxide};
}

flue pulled(double t) {
  flue f = t < 6 ? flue{} : fresh_air;  // behind a sample line
  f.stack = fresh_air.stack;
  f.stack += 226 * std::exp(-t / 5);  // a thermocouple in air
  return f;
}

flue going_out(double t) {
  flue f = fresh_air;
  f.stack += 226 * std::exp(-t / 200);
  return f;
}

TEST(sampling, tells_of_air_in_the_sample_once) {
  const auto told = told_of([](double) { return diluted_by(0.2); });
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0].what, finding_kind::dilution);
  EXPECT_EQ(told[0].of, channel::o2);
  ASSERT_TRUE(told[0].value);
  EXPECT_NEAR(*told[0].value, 0.05 + 0.2 * 0.159, 0.002);
  ASSERT_TRUE(told[0].since);
  EXPECT_NEAR(when(*told[0].since), 600, 3);
  EXPECT_LT(when(told[0].at), 640);
}

TEST(sampling, tells_of_a_probe_that_came_out_once) {
  const auto told = told_of(pulled);
  ASSERT_EQ(told.size(), 1U);
  EXPECT_EQ(told[0].what, finding_kind::probe_slipped);
  EXPECT_NEAR(when(*told[0].since), 600, 3);
  EXPECT_LT(when(told[0].at), 660);
}

TEST(sampling, is_silent_about_a_probe_taken_out_on_purpose) {
  EXPECT_TRUE(told_of(pulled, "fresh air").empty());
}

TEST(sampling, is_silent_on_a_clean_log) {
  EXPECT_TRUE(told_of([](double) { return flue{}; }).empty());
  EXPECT_TRUE(told_of(going_out).empty()) << "a burner switched off";
  EXPECT_TRUE(told_of([](double) { return flue{.oxygen = 0.08}; }).empty())
      << "more air alone is a setting";
  EXPECT_TRUE(told_of([](double) { return flue{.stack = 560, .oxygen = 0.04}; }).empty())
      << "another firing rate";
}

}  // namespace
}  // namespace stilling
