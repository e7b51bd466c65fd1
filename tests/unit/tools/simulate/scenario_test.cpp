// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "simulate/scenario.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

namespace stilling::invented {
namespace {

std::string log_of(const simulation& test) {
  auto text = std::ostringstream{};
  write_log(test, text);
  return text.str();
}

std::string truth_of(const simulation& test) {
  auto text = std::ostringstream{};
  write_truth(test, text);
  return text.str();
}

std::uint64_t fingerprint(const std::string& text) {  // FNV-1a
  auto hash = std::uint64_t{0xcbf29ce484222325};
  for (const auto c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3U;
  return hash;
}

simulation wide(std::string_view name, std::uint64_t seed) {
  auto options = simulation_options{};
  options.draws = breadth::wide;
  return simulate(name, seed, options);
}

TEST(simulate, same_seed_same_bytes) {
  for (const auto& it : scenarios()) {
    EXPECT_EQ(log_of(wide(it.name, 11)), log_of(wide(it.name, 11))) << it.name;
    EXPECT_NE(log_of(wide(it.name, 11)), log_of(wide(it.name, 12))) << it.name;
  }
}

TEST(simulate, same_bytes_on_every_machine) {
  // Changes with the physics; must not change with compiler, optimisation or machine.
  auto all = std::string{};
  for (const auto& it : scenarios()) all += log_of(wide(it.name, 1)) + truth_of(wide(it.name, 1));
  EXPECT_EQ(fingerprint(all), 3838355596973459368U);
}

TEST(simulate, names_are_unique_and_explained) {
  EXPECT_GE(scenarios().size(), 8U);
  for (const auto& it : scenarios()) {
    EXPECT_EQ(find_scenario(it.name), &it) << "two scenarios of one name";
    EXPECT_EQ(it.sentence.back(), '.') << it.name;
  }
  EXPECT_EQ(find_scenario("no such"), nullptr);
}

TEST(simulate, noise_does_not_change_the_truth) {
  auto options = simulation_options{};
  const auto once = simulate("probe_slips", 4, options);
  options.noise_scale = 2.0;
  const auto twice = simulate("probe_slips", 4, options);
  EXPECT_NE(log_of(once), log_of(twice));
  auto a = nlohmann::json::parse(truth_of(once)), b = nlohmann::json::parse(truth_of(twice));
  EXPECT_EQ(b["noise_scale"], 2.0);
  a.erase("noise_scale");
  b.erase("noise_scale");
  EXPECT_EQ(a, b);
}

TEST(simulate, without_noise_the_display_is_the_rounded_truth) {
  auto options = simulation_options{};
  options.noise_scale = 0.0;
  const auto test = simulate("cold_start", 2, options);
  ASSERT_EQ(test.rows.size(), test.known.seconds.size());
  for (std::size_t i = 0; i < test.rows.size(); ++i) {
    EXPECT_EQ(test.rows[i].cells[stack], std::llround(test.known.seconds[i].sensed[stack]));
    EXPECT_EQ(test.rows[i].cells[oxygen], std::llround(10 * test.known.seconds[i].sensed[oxygen]));
  }
}

TEST(simulate, stamps_rise_unless_the_clock_is_what_breaks) {
  for (const auto& it : scenarios()) {
    for (auto seed = std::uint64_t{1}; seed <= 4; ++seed) {
      const auto test = wide(it.name, seed);
      EXPECT_GT(test.rows.size(), 20U) << test.name;
      if (it.name == "broken_clock") continue;
      for (std::size_t i = 1; i < test.rows.size(); ++i) {
        // a clock of whole seconds may show one second twice
        EXPECT_LE(test.rows[i - 1].stamp, test.rows[i].stamp) << test.name << " row " << i;
      }
    }
  }
}

TEST(simulate, the_clock_breaks_both_ways) {
  auto forward = 0, back = 0, repeated = 0;
  for (auto seed = std::uint64_t{1}; seed <= 30; ++seed) {
    const auto test = wide("broken_clock", seed);
    for (std::size_t i = 1; i < test.known.clock.size(); ++i) {
      (test.known.clock[i][1] > test.known.clock[i - 1][1] ? forward : back) += 1;
    }
    for (std::size_t i = 1; i < test.rows.size(); ++i) {
      repeated += test.rows[i].stamp == test.rows[i - 1].stamp &&
                  test.rows[i].cells == test.rows[i - 1].cells;
    }
  }
  EXPECT_GT(forward, 3);
  EXPECT_GT(back, 3);
  EXPECT_GT(repeated, 20);
}

TEST(write_log, is_the_canonical_form_with_notes) {
  const auto text = log_of(simulate("first_visit", 7, {}));
  EXPECT_EQ(text.substr(0, text.find('\n')),
            "time_s,stack_temp_degF,ambient_temp_degF,o2_pct,co_ppm,draft_breech_inH2O,"
            "draft_overfire_inH2O");
  for (const auto note : {"\n# fresh air\n", "\n# probe in\n", "\n# adjusted air\n",
                          "\n# smoke 2\n", "\n# smoke trace\n", "\n# burner off\n"}) {
    EXPECT_NE(text.find(note), std::string::npos) << note;
  }
  auto quiet = simulation_options{};
  quiet.remarks = false;
  EXPECT_EQ(log_of(simulate("first_visit", 7, quiet)).find('#'), std::string::npos);
}

TEST(write_log, shows_blank_cells_and_negative_readings) {
  auto test = simulation{};
  test.sampled.stamp_decimals = 2;
  test.display = instrument_make{}.display;
  test.rows.push_back({-5, {471, std::nullopt, 52, -3, -49, 0}, ""});
  const auto text = log_of(test);
  EXPECT_EQ(text.substr(text.find('\n') + 1), "-0.05,471,,5.2,-3,-0.049,0.000\n");
}

TEST(write_truth, is_json_with_a_grid_of_seconds) {
  const auto test = wide("faulty_sensors", 5);
  const auto json = nlohmann::json::parse(truth_of(test));
  EXPECT_EQ(json["name"], "faulty_sensors-s5");
  EXPECT_EQ(json["invented"], true);
  EXPECT_EQ(json["grid"]["ok"].get<std::string>().size(), test.known.seconds.size());
  EXPECT_EQ(json["grid"]["sensed"].size(), channel_count);
  for (const auto& it : json["grid"]["sensed"]) EXPECT_EQ(it.size(), test.known.seconds.size());
}

}  // namespace
}  // namespace stilling::invented
