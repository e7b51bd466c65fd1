// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Does a forecast hold? Invented approaches with one time constant and with two, looked at when a
// share of the settling time has passed (the moment from which the true rate stays within 3
// degF/min). The interval for that moment and for the final value is meant to hold nine times in
// ten where there is one time constant; where there are two, the value is wrong by more than its
// interval, and what counts is how often that is said.
//
//     bench_forecast [--runs N] [--seed S]

#include <CLI/CLI.hpp>
#include <fmt/format.h>

#include <cstdint>
#include <vector>

#include "score.hpp"
#include "stilling/estimators/forecast.hpp"

namespace {

using namespace stilling;
using namespace stilling::scoreboard;

struct tally_of_looks {
  std::size_t looks = 0, silent = 0, value = 0, moment = 0, unfit = 0, single = 0;
  std::size_t wrong = 0, wrong_and_said = 0, wrong_and_single = 0;
  std::vector<double> widths, waits;

  void add(const course& c, const condensed_past<>& past) {
    const auto f = look_ahead(past, limit / 60, display_step);
    ++looks;
    if (!f) {
      ++silent;
      return;
    }
    const double end = c.start + c.rise + c.slow_rise;
    const double ahead = c.settled_at() - in_seconds(past.newest().time_since_epoch());
    const bool holds = f->value.low <= end && end <= f->value.high;
    value += holds;
    moment += f->settles.low <= ahead && ahead <= f->settles.high;
    unfit += f->fit == forecast_fit::does_not_fit;
    single += f->fit == forecast_fit::single;
    wrong += !holds;
    wrong_and_said += !holds && f->fit == forecast_fit::does_not_fit;
    wrong_and_single += !holds && f->fit == forecast_fit::single;
    widths.push_back(f->value.high - f->value.low);
    waits.push_back(f->settles.high - f->settles.low);
  }
  [[nodiscard]] double of_told(std::size_t n) const {
    return looks > silent ? 100 * static_cast<double>(n) / static_cast<double>(looks - silent) : 0;
  }
  [[nodiscard]] double of_wrong(std::size_t n) const {
    return wrong > 0 ? 100 * static_cast<double>(n) / static_cast<double>(wrong) : 0;
  }
};

}  // namespace

int main(int argc, char** argv) {
  CLI::App app{"Does a forecast hold?"};
  std::size_t runs = 2000;
  std::uint64_t seed = 200'001;
  app.add_option("--runs", runs, "Approaches, about half with two time constants")
      ->check(CLI::Range(20, 1'000'000));
  app.add_option("--seed", seed, "Of the first run; the others follow");
  CLI11_PARSE(app, argc, argv);

  constexpr double shares[]{0.25, 0.5, 0.75, 1, 1.5, 2};
  std::vector<tally_of_looks> one(std::size(shares)), two(std::size(shares));
  for (std::uint64_t i = 0; i < runs; ++i) {
    const course c = invented_approach(seed + i);
    condensed_past<> past;
    std::size_t next = 0;
    for (std::size_t k = 0; k < std::size(shares); ++k) {
      for (; next < c.rows.size() && c.rows[next].t <= shares[k] * c.settled_at(); ++next)
        past.update(instant{duration_from_seconds(c.rows[next].t).value_or(duration{0})},
                    c.rows[next].y);
      (c.slow_rise > 0 ? two : one)[k].add(c, past);
    }
  }
  fmt::print("{} approaches from seed {}. At a share of the settling time; shares in %.\n\n"
             "one time constant: final value and settling moment within the 90 % interval, its\n"
             "median width, \"does not fit\" said wrongly, \"single\" said, nothing told\n"
             "{:>6}{:>7}{:>8}{:>9}{:>9}{:>9}{:>8}{:>9}{:>9}\n", runs, seed, "at", "runs", "value",
             "moment", "degF", "s", "unfit", "single", "silent");
  for (std::size_t k = 0; k < std::size(shares); ++k) {
    const auto& x = one[k];
    fmt::print("{:>6}{:>7}{:>8.1f}{:>9.1f}{:>9.1f}{:>9.0f}{:>8.1f}{:>9.1f}{:>9}\n", shares[k],
               x.looks, x.of_told(x.value), x.of_told(x.moment), quantile(x.widths, 0.5),
               quantile(x.waits, 0.5), x.of_told(x.unfit), x.of_told(x.single), x.silent);
  }
  fmt::print("\ntwo time constants: value wrong by more than its interval; of these \"does not "
             "fit\" said,\nand \"single\" said\n{:>6}{:>7}{:>8}{:>9}{:>9}{:>9}\n", "at", "runs",
             "wrong", "said", "single", "silent");
  for (std::size_t k = 0; k < std::size(shares); ++k) {
    const auto& x = two[k];
    fmt::print("{:>6}{:>7}{:>8.1f}{:>9.1f}{:>9.1f}{:>9}\n", shares[k], x.looks,
               x.of_told(x.wrong), x.of_wrong(x.wrong_and_said), x.of_wrong(x.wrong_and_single),
               x.silent);
  }
}
