// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/combustion.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <iterator>
#include <limits>
#include <random>
#include <type_traits>
#include <utility>

#include "stilling/terms/units.hpp"

namespace stilling {
namespace {

static_assert(std::is_trivially_destructible_v<combustion>);
static_assert(noexcept(derive(std::declval<const settled_reading&>(), no2_oil)));

constexpr derive_options by_app_o{.by = method::app_o};

lanes<estimate> oil_test(double stack_f, double air_f, double o2_pct, double co_ppm) {
  lanes<estimate> in;
  in.set(channel::stack_temp, {temperature::from_fahrenheit(stack_f).in_kelvins(), 1.0});
  in.set(channel::ambient_temp, {temperature::from_fahrenheit(air_f).in_kelvins(), 0.5});
  in.set(channel::o2, {o2_pct / 100, 0.001});
  in.set(channel::co, {co_ppm / 1e6, 1e-6});
  return in;
}

double pct(const combustion& y, figure f) { return y[f].value().value * 100; }

TEST(combustion, figures_of_an_oil_test_by_app_o) {
  const auto y = derive(oil_test(470, 70, 5.0, 20), no2_oil, by_app_o);
  EXPECT_NEAR(y[figure::net_stack_temp].value().value * 1.8, 400, 1e-9);
  // 40 CFR 75 App. F 3.3.5 Table 1 and Eq. F-14a (2015 ed.)
  EXPECT_NEAR(pct(y, figure::co2), 11.7550, 0.0005);
  // definition; a = 20.9 (40 CFR)
  EXPECT_NEAR(pct(y, figure::excess_air), 31.4465, 0.0005);
  EXPECT_NEAR(y[figure::air_ratio].value().value, 1.314465, 5e-6);
  EXPECT_NEAR(y[figure::co_air_free].value().value * 1e6, 20 * 20.9 / 15.9, 1e-9);
  // 10 CFR 430 Subpart B App. O Table 2 (2015 ed.), worked by hand at CO2 11.7550 %, 400 degF:
  // R = 0.0667 + 14.34/11.7550 = 1.286608; 0.0181 x 1.453608 x 400 = 10.52412
  EXPECT_NEAR(pct(y, figure::dry_gas_loss), 10.5241, 0.0005);
  EXPECT_NEAR(pct(y, figure::latent_loss), 6.50, 1e-12);
  EXPECT_NEAR(pct(y, figure::efficiency_gross), 100 - 6.50 - 10.5241, 0.0005);
  EXPECT_EQ(y[figure::efficiency_net].error(), undefined::other_basis);
  EXPECT_EQ(y[figure::co2].value().by, formula::f_factor_co2);
}

TEST(combustion, a_chemical_absorption_kit_gives_co2_only) {
  auto in = oil_test(470, 70, 5.0, 20);
  in.clear(channel::o2);
  in.set(channel::co2, {0.10, 0.0025});
  const auto y = derive(in, no2_oil, by_app_o);
  EXPECT_NEAR(pct(y, figure::o2), 7.3739, 0.0005);  // 40 CFR 75 App. F (2015 ed.), inverse
  EXPECT_EQ(y[figure::co2].error(), undefined::co2_measured);
  // 10 CFR 430 Subpart B App. O 4.1.7-4.1.10, Table 2 (2015 ed.): 10 %, net 400 degF
  EXPECT_NEAR(pct(y, figure::efficiency_gross), 81.43, 0.005);
}

// Every figure, every method: the chain rule against central differences of the value alone.
TEST(combustion, uncertainty_of_every_figure_is_that_of_finite_differences) {
  auto in = oil_test(470, 70, 5.0, 900);
  in.set(channel::draft_breech, {-15, 1});
  in.set(channel::draft_overfire, {-5, 0.7});
  const estimate humidity{0.5, 0.1};
  const chimney flue{{9, 0.2}, {268, 3}};
  // One entry per input: the readings, then barometer, humidity, hydrogen, heating value, chimney.
  const auto with = [&](method by, std::size_t which, double steps) {
    auto moved = in;
    derive_options how{.by = by, .humidity = humidity, .flue = flue};
    fuel of = no2_oil;
    if (which < channel_count) {
      auto& x = moved.slots[which];
      x.value += steps * x.standard_uncertainty;
    } else if (which == channel_count) {
      how.barometer.value += steps * how.barometer.standard_uncertainty;
    } else if (which == channel_count + 1) {
      how.humidity->value += steps * humidity.standard_uncertainty;
    } else if (which == channel_count + 2) {
      of.made_of->hydrogen += steps * of.hydrogen_uncertainty;
      of.made_of->carbon -= steps * of.hydrogen_uncertainty;
    } else if (which == channel_count + 4) {
      how.flue->height.value += steps * flue.height.standard_uncertainty;
    } else if (which == channel_count + 5) {
      how.flue->outdoor.value += steps * flue.outdoor.standard_uncertainty;
    } else {
      of.heating_value->value += steps * of.heating_value->standard_uncertainty;
    }
    return derive(moved, of, how);
  };
  int figures = 0;
  for (const auto by : all_methods) {
    const auto y = with(by, 0, 0);
    for (const auto& row : figure_table) {
      if (!y[row.is] || row.is == figure::stack_loss_rounded) continue;
      double sum = 0;
      for (std::size_t i = 0; i < input_count; ++i) {
        constexpr double h = 1e-3;
        const double slope = (with(by, i, h)[row.is].value().value -
                              with(by, i, -h)[row.is].value().value) / (2 * h);
        sum += slope * slope;
      }
      EXPECT_NEAR(y[row.is].value().standard_uncertainty, std::sqrt(sum),
                  1e-5 * std::sqrt(sum) + 1e-12 * std::abs(y[row.is].value().value))
          << name_of(by) << ' ' << row.stem;
      ++figures;
    }
  }
  EXPECT_GE(figures, 50);
}

TEST(combustion, figures_that_share_an_input_are_correlated) {
  const auto y = derive(oil_test(470, 70, 5.0, 20), no2_oil, by_app_o);
  const auto& loss = y[figure::stack_loss_gross].value().parts;
  const auto& efficiency = y[figure::efficiency_gross].value().parts;
  EXPECT_NEAR(covariance(loss, efficiency),
              -loss.standard_uncertainty() * efficiency.standard_uncertainty(), 1e-18);
  EXPECT_GT(covariance(y[figure::net_stack_temp].value().parts, loss), 0);
  EXPECT_LT(covariance(y[figure::co2].value().parts, y[figure::excess_air].value().parts), 0);
}

TEST(combustion, nonsense_is_refused_by_name) {
  auto why = [](double stack, double air, double o2, double co, figure f) {
    return derive(oil_test(stack, air, o2, co), no2_oil, by_app_o)[f].error();
  };
  EXPECT_EQ(why(470, 70, -0.1, 20, figure::co2), undefined::oxygen_negative);
  EXPECT_EQ(why(470, 70, 20.9, 20, figure::excess_air), undefined::oxygen_at_air);
  EXPECT_EQ(why(470, 70, 20.4, 20, figure::co_air_free), undefined::oxygen_near_air);
  EXPECT_EQ(why(470, 70, 20.4, 20, figure::efficiency_gross), undefined::oxygen_near_air);
  EXPECT_EQ(why(70, 70, 5, 20, figure::net_stack_temp), undefined::stack_not_above_air);
  EXPECT_EQ(why(70, 70, 5, 20, figure::efficiency_gross), undefined::stack_not_above_air);
  EXPECT_EQ(why(470, 70, 5, -5, figure::co_air_free), undefined::co_negative);
  EXPECT_EQ(why(3000, 70, 18, 20, figure::efficiency_gross), undefined::above_whole);
  auto in = oil_test(470, 70, 5, 20);
  in.clear(channel::o2);
  EXPECT_EQ(derive(in, no2_oil, by_app_o)[figure::excess_air].error(), undefined::oxygen_absent);
  in.set(channel::co2, {0.16, 0.001});
  EXPECT_EQ(derive(in, no2_oil, by_app_o)[figure::o2].error(), undefined::co2_above_maximum);
  in.set(channel::co2, {0, 0.001});
  EXPECT_EQ(derive(in, no2_oil, by_app_o)[figure::o2].error(), undefined::co2_near_zero);
  in.clear(channel::stack_temp);
  EXPECT_EQ(derive(in, no2_oil, by_app_o)[figure::net_stack_temp].error(),
            undefined::stack_temp_absent);
}

TEST(combustion, a_channel_that_is_not_there_takes_only_its_own_figures) {
  auto in = oil_test(470, 70, 5.0, 20);
  in.clear(channel::ambient_temp);
  in.clear(channel::co);
  const auto y = derive(in, no2_oil, by_app_o);
  EXPECT_EQ(y[figure::net_stack_temp].error(), undefined::ambient_temp_absent);
  EXPECT_EQ(y[figure::efficiency_gross].error(), undefined::ambient_temp_absent);
  EXPECT_EQ(y[figure::co_air_free].error(), undefined::co_absent);
  EXPECT_TRUE(y[figure::excess_air]);
  derive_options how;
  how.air_temp = estimate{temperature::from_fahrenheit(70).in_kelvins(), 1};
  EXPECT_TRUE(derive(in, no2_oil, how)[figure::efficiency_gross]);
}

TEST(combustion, settled_reading_and_hand_typed_values_give_the_same) {
  const auto in = oil_test(470, 70, 5.0, 20);
  settled_reading r;
  for (auto c : all_channels) {
    if (!in.has(c)) continue;
    channel_reading one;
    one.mean = in[c].value;
    one.standard_uncertainty = in[c].standard_uncertainty;
    r.channels.set(c, one);
  }
  EXPECT_EQ(derive(r, no2_oil, by_app_o), derive(in, no2_oil, by_app_o));
  derive_options how;
  how.instrument.set(channel::stack_temp, {2.0, 0, 0});
  EXPECT_NEAR(derive(r, no2_oil, how)[figure::net_stack_temp].value().standard_uncertainty,
              std::sqrt(1 + 4 / 3.0 + 0.25), 1e-12);
}

// Whatever is read: a figure is a finite number with a finite uncertainty, or a reason.
TEST(combustion, wild_readings_never_make_wild_figures) {
  constexpr double inf = std::numeric_limits<double>::infinity();
  const double wild[]{0,    -0.0, 1e-300, 1e-9, 0.01,   0.05,  0.1544, 0.2089, 0.209,
                      0.21, 1,    20,     294,  294.26, 294.27, 350,   505,    999,
                      1001, 3000, 1e6,    -1,   -500,   1e300,  inf,   -inf,   std::nan("")};
  std::mt19937 chance{11};
  const auto pick = [&] { return wild[chance() % std::size(wild)]; };
  int given = 0;
  for (int i = 0; i < 30000; ++i) {
    lanes<estimate> in;
    for (const auto c : all_channels) {
      if (chance() % 4 != 0) in.set(c, {pick(), chance() % 2 == 0 ? 0.001 : pick()});
    }
    derive_options how{.by = all_methods[chance() % 3]};
    if (chance() % 3 == 0) how.humidity = estimate{pick(), 0.1};
    if (chance() % 3 == 0) how.barometer = {pick(), 100};
    const auto y = derive(in, fuel_table[chance() % fuel_table.size()], how);
    for (const auto& row : figure_table) {
      if (!y[row.is]) continue;
      ++given;
      ASSERT_TRUE(std::isfinite(y[row.is]->value)) << row.stem;
      ASSERT_TRUE(std::isfinite(y[row.is]->standard_uncertainty)) << row.stem;
      ASSERT_TRUE(!row.stem.starts_with("efficiency") || y[row.is]->value <= 1) << row.stem;
    }
  }
  EXPECT_GT(given, 30000);
}

TEST(combustion, draft_difference_keeps_its_sign) {
  lanes<estimate> in;
  in.set(channel::draft_breech, {-15, 1});
  EXPECT_EQ(derive(in, no2_oil)[figure::draft_difference].error(), undefined::draft_absent);
  in.set(channel::draft_overfire, {-5, 1});
  EXPECT_DOUBLE_EQ(derive(in, no2_oil, by_app_o)[figure::draft_difference].value().value, -10);
}

}  // namespace
}  // namespace stilling
