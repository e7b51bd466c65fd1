// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "stilling/combustion/losses.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "stilling/combustion/combustion.hpp"
#include "stilling/terms/units.hpp"

namespace stilling {
namespace {

lanes<estimate> test_at(channel gas, double percent, double net_f, double air_f = 70) {
  const double air = temperature::from_fahrenheit(air_f).in_kelvins();
  lanes<estimate> in;
  in.set(gas, {percent / 100, 0});
  in.set(channel::ambient_temp, {air, 0});
  in.set(channel::stack_temp, {air + net_f / 1.8, 0});
  return in;
}

double percent(const combustion& y, figure f) { return 100 * y[f].value().value; }

struct spread {
  double least = 1e9, most = -1e9, sum = 0;
  int count = 0;
  void push(double x) {
    least = std::min(least, x);
    most = std::max(most, x);
    sum += x;
    ++count;
  }
  double mean() const { return sum / count; }
};

// CH1.80, 19500 Btu/lb, air 70 degF against 10 CFR 430 App. O, 49 cells: 0.5 point. Found when the
// published constants were gathered: +0.151 to +0.369 with argon on its own, most of it
// latent heat.
TEST(losses, first_principles_against_app_o_for_oil) {
  spread apart;
  for (int co2 = 8; co2 <= 14; ++co2) {
    for (int net = 300; net <= 600; net += 50) {
      const auto in = test_at(channel::co2, co2, net);
      apart.push(percent(derive(in, no2_oil), figure::efficiency_gross) -
                 percent(derive(in, no2_oil, {.by = method::app_o}), figure::efficiency_gross));
    }
  }
  EXPECT_EQ(apart.count, 49);
  EXPECT_NEAR(apart.least, 0.151, 0.001);
  EXPECT_NEAR(apart.most, 0.369, 0.001);
  EXPECT_LT(apart.mean(), 0.35);
  const auto y = derive(test_at(channel::co2, 12, 400), no2_oil);
  EXPECT_NEAR(percent(y, figure::latent_loss), 6.316, 0.001);  // 6.50 in Table 2
}

TEST(losses, first_principles_against_app_o_for_gases) {
  for (const auto* name : {"natural_gas", "propane", "butane", "no1_oil"}) {
    spread apart;
    for (double o2 = 1; o2 <= 10; o2 += 1) {
      for (int net = 200; net <= 600; net += 50) {
        const auto in = test_at(channel::o2, o2, net);
        const fuel& f = *find_fuel(name);
        apart.push(percent(derive(in, f), figure::efficiency_gross) -
                   percent(derive(in, f, {.by = method::app_o}), figure::efficiency_gross));
      }
    }
    EXPECT_GT(apart.least, -1.0) << name;
    EXPECT_LT(apart.most, 1.0) << name;
  }
}

// DOE Steam Tip Sheet 4 (Jan 2006), quoted by three copies that agree: natural gas, 25 cells,
// columns net 200 to 600 degF. 0.8 for methane (found +0.30 to +0.72), 1.0 for our natural gas: the
// gas behind the table is a little poorer.
TEST(losses, first_principles_against_the_natural_gas_table) {
  const double excess[]{9.5, 15.0, 28.1, 44.9, 81.6};
  const double cells[5][5]{{85.4, 83.1, 80.8, 78.4, 76.0},
                           {85.2, 82.8, 80.4, 77.9, 75.4},
                           {84.7, 82.1, 79.5, 76.7, 74.0},
                           {84.1, 81.2, 78.2, 75.2, 72.1},
                           {82.8, 79.3, 75.6, 71.9, 68.2}};
  const fuel methane{.name = "methane",
                     .label = "methane",
                     .made_of = composition_of(pure("ch4")),
                     .heating_value = estimate{heating_value_of(pure("ch4")), 0}};
  for (const fuel* f : {find_fuel("natural_gas"), &methane}) {
    const auto e = elements_of(*f->made_of, 0.0);
    spread apart;
    for (int i = 0; i < 5; ++i) {
      for (int j = 0; j < 5; ++j) {
        const double in = theoretical_air(e) * (1 + excess[i] / 100), dry = in + growth(e);
        const double o2 = flue_gas_of(e, dry, 0.0, 0.0).o2 / dry;
        const auto y = derive(test_at(channel::o2, 100 * o2, 200 + 100 * j), *f);
        EXPECT_NEAR(percent(y, figure::excess_air_exact), excess[i], 1e-6);
        apart.push(percent(y, figure::efficiency_gross) - cells[i][j]);
      }
    }
    EXPECT_GT(apart.least, 0.2) << f->name;
    EXPECT_LT(apart.most, f == &methane ? 0.8 : 1.0) << f->name;
  }
}

// The same table against App. O's natural gas: with R = 1 + excess air 1.5 (found +0.62 to +1.39),
// with R from the CO2 of methane 0.9 (found +0.37 to +0.82).
TEST(losses, app_o_natural_gas_against_the_natural_gas_table) {
  const double excess[]{9.5, 15.0, 28.1, 44.9, 81.6};
  const double at_400[]{80.8, 80.4, 79.5, 78.2, 75.6};
  const auto& k = *find_fuel("natural_gas")->app_o;
  const auto methane = elements_of(composition_of(pure("ch4")), 0.0);
  for (int i = 0; i < 5; ++i) {
    const double r = 1 + excess[i] / 100;
    const double by_r = published::app_o_sensible(k, k.b / (r - k.a) / 100, 400 / 1.8);
    EXPECT_NEAR(100 - k.latent - 100 * by_r - at_400[i], 1.005, 0.395);
    const double dry = theoretical_air(methane) * r + growth(methane);
    const double by_co2 = published::app_o_sensible(k, methane.carbon / dry, 400 / 1.8);
    EXPECT_NEAR(100 - k.latent - 100 * by_co2 - at_400[i], 0.595, 0.235);
  }
}

TEST(losses, parts_add_up_and_bases_are_kept_apart) {
  auto in = test_at(channel::o2, 5, 400);
  in.set(channel::co, {800e-6, 0});
  const auto y = derive(in, no2_oil, {.humidity = estimate{0.5, 0}});
  EXPECT_NEAR(percent(y, figure::stack_loss_gross),
              percent(y, figure::dry_gas_loss) + percent(y, figure::vapour_loss) +
                  percent(y, figure::latent_loss) + percent(y, figure::co_loss),
              1e-10);
  EXPECT_NEAR(percent(y, figure::efficiency_gross) + percent(y, figure::stack_loss_gross), 100,
              1e-10);
  // Useful heat is the same heat on either basis.
  const auto e = elements_of(*no2_oil.made_of, 0.0);
  const double gross = no2_oil.heating_value->value;
  EXPECT_NEAR(percent(y, figure::efficiency_gross) * gross,
              percent(y, figure::efficiency_net) * net_heating_value(gross, e), 1e-3 * gross);
  EXPECT_GT(percent(y, figure::efficiency_net), percent(y, figure::efficiency_gross));
}

// Each per cent of CO in the flue costs what 282949 J/mol say: worked by hand at 1000 ppm, O2 5 %.
TEST(losses, co_loss_by_hand) {
  auto in = test_at(channel::o2, 5, 400);
  in.set(channel::co, {1000e-6, 0});
  // C 72.336, H 130.205 mol/kg. theoretical (72.336 + 32.551)/0.20946 = 500.75; growth -32.551;
  // dry = 468.20/(1 - 0.0005 - 0.0495/0.20946) = 613.36;
  // 100 x 613.36 x 0.001 x 282949/45357000 = 0.3826 %
  EXPECT_NEAR(percent(derive(in, no2_oil), figure::co_loss), 0.3826, 0.0002);
}

TEST(losses, moist_air_costs_a_little_and_warm_air_saves) {
  const auto in = test_at(channel::o2, 5, 400);
  const auto dry = derive(in, no2_oil), moist = derive(in, no2_oil, {.humidity = estimate{1, 0}});
  const double cost =
      percent(dry, figure::efficiency_gross) - percent(moist, figure::efficiency_gross);
  EXPECT_GT(cost, 0.1);
  EXPECT_LT(cost, 0.3);
  EXPECT_GT(moist[figure::dew_point]->value, dry[figure::dew_point]->value + 2);
  const auto high = derive(in, no2_oil, {.barometer = {air::pressure_at_altitude(2000), 100}});
  EXPECT_LT(high[figure::dew_point]->value, dry[figure::dew_point]->value - 3);
  EXPECT_EQ(high[figure::efficiency_gross], dry[figure::efficiency_gross]);
}

TEST(losses, every_method_answers_every_loss_figure) {
  auto in = test_at(channel::o2, 5, 400);
  in.set(channel::co, {20e-6, 1e-6});
  for (const auto by : all_methods) {
    const auto y = derive(in, no2_oil, {.by = by, .flue = chimney{{9, 0.2}, {268, 3}}});
    for (const auto& row : figure_table) {
      EXPECT_TRUE(y[row.is] || y[row.is].error() != undefined::not_derived) << row.stem;
    }
    EXPECT_NE(y[figure::efficiency_gross].has_value(), by == method::siegert);
    EXPECT_NE(y[figure::efficiency_net].has_value(), by == method::app_o);
  }
}

// 1. BImSchV Annex 2 no. 3.4.1: 150 K, 3 % O2, LPG: 6.45 -> 7
TEST(losses, siegert_loss_is_also_given_as_rounded) {
  const auto y = derive(test_at(channel::o2, 3, 270), *find_fuel("propane"),
                        {.by = method::siegert});
  EXPECT_NEAR(percent(y, figure::stack_loss_net), 6.45, 0.0005);
  EXPECT_DOUBLE_EQ(percent(y, figure::stack_loss_rounded), 7);
  EXPECT_NEAR(percent(y, figure::efficiency_net), 93.55, 0.0005);
}

TEST(losses, what_a_method_cannot_give_has_a_reason) {
  const auto in = test_at(channel::o2, 5, 400);
  const auto error = [&](const fuel& f, method by, figure of) {
    return derive(in, f, {.by = by})[of].error();
  };
  EXPECT_EQ(error(*find_fuel("b100"), method::app_o, figure::efficiency_gross),
            undefined::constant_unknown);
  EXPECT_EQ(error(*find_fuel("no1_oil"), method::siegert, figure::efficiency_net),
            undefined::constant_unknown);
  EXPECT_EQ(error(no2_oil, method::app_o, figure::efficiency_net), undefined::other_basis);
  EXPECT_EQ(error(no2_oil, method::siegert, figure::efficiency_gross), undefined::other_basis);
  EXPECT_EQ(error(no2_oil, method::composition, figure::co_loss), undefined::co_absent);
  fuel cold = no2_oil;
  cold.heating_value.reset();
  EXPECT_EQ(error(cold, method::composition, figure::efficiency_net),
            undefined::heating_value_unknown);
  EXPECT_TRUE(derive(in, cold)[figure::excess_air_exact]);
  const auto hot = test_at(channel::o2, 5, 1400);
  EXPECT_EQ(derive(hot, no2_oil)[figure::efficiency_gross].error(),
            undefined::temperature_out_of_range);
  EXPECT_EQ(derive(test_at(channel::o2, 19.5, 1200), no2_oil)[figure::efficiency_gross].error(),
            undefined::above_whole);
}

}  // namespace
}  // namespace stilling
