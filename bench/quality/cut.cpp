// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// Where should the warm-up of a finished log be cut off? Invented warm-ups with one time constant,
// 1 Hz, 1500 s, a display of 1 degF steps, noise that leans on its predecessor; scored is the mean
// of what is left against the value the series is heading for. Beside ours: MSER-5 (White, Cobb and
// Spratt 2000), the minimum squared standard error with a root-n window on 15 cuts (Clark, Cole and
// Michel 2024), and no cut. The draws are such that the published cuts come out near the figures
// known for them (MSER-5 1.41, root-n 0.43 degF); `late` are longer rises,
// `two` have a second, slower part, `plain` are steady series.
//
//     bench_cut [first seed] [number of seeds], 200 series each

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <random>
#include <span>
#include <vector>

#include "stilling/segment.hpp"

namespace {

struct draw {
  const char* name = "";
  double least_rise = 0, most_rise = 0;  // degF
  double slower_rise = 0;  // share of the rise that follows with four times the time constant
};

struct warm_up {
  std::vector<double> t, y;
  double target = 0;
};

warm_up invent(const draw& d, std::mt19937_64& engine) {
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * std::generate_canonical<double, 53>(engine);
  };
  const auto one_of = [&](double a, double b, double c) {
    const double u = uniform(0, 3);
    return u < 1 ? a : u < 2 ? b : c;
  };
  std::normal_distribution<double> normal;
  const double rise = uniform(d.least_rise, d.most_rise), tau = uniform(60, 240);
  const double sigma = one_of(0.3, 1, 2), noise_time = one_of(0, 5, 15);
  const double phi = noise_time > 0 ? std::exp(-1 / noise_time) : 0;
  const double slow = d.slower_rise * rise;
  warm_up w;
  w.target = 70 + rise + slow;
  double noise = normal(engine);
  for (int i = 0; i < 1500; ++i) {
    if (i > 0) noise = phi * noise + std::sqrt(1 - phi * phi) * normal(engine);
    const double true_value = 70 + rise * (1 - std::exp(-i / tau)) +
                              slow * (1 - std::exp(-i / (4 * tau)));
    w.t.push_back(i);
    w.y.push_back(std::round(true_value + sigma * noise));
  }
  return w;
}

double mean(std::span<const double> y) {
  double sum = 0;
  for (const double x : y) sum += x;
  return sum / static_cast<double>(y.size());
}

/// Batches of five; the cut with the least squares over count squared, in the first half.
std::size_t mser_5(const std::vector<double>& y) {
  const std::size_t n = y.size() / 5;
  std::vector<double> batch(n);
  for (std::size_t k = 0; k < n; ++k) batch[k] = mean(std::span{y}.subspan(5 * k, 5));
  std::size_t best = 0;
  double least = -1;
  for (std::size_t d = 0; d <= n / 2; ++d) {
    const auto rest = std::span{batch}.subspan(d);
    const double m = mean(rest);
    double squares = 0;
    for (const double x : rest) squares += (x - m) * (x - m);
    const double count = static_cast<double>(rest.size());
    const double statistic = squares / (count * count);
    if (least < 0 || statistic < least) least = statistic, best = d;
  }
  return 5 * best;
}

std::size_t root_n(const std::vector<double>& y) {
  std::size_t best = 0;
  double least = -1;
  for (std::size_t k = 0; k < 15; ++k) {
    const auto rest = std::span{y}.subspan(k * y.size() / 15);
    const double m = mean(rest);
    const auto lags = static_cast<std::size_t>(std::lround(std::sqrt(rest.size())));
    double sum = 0;
    for (std::size_t lag = 0; lag <= lags; ++lag) {
      double products = 0;
      for (std::size_t i = lag; i < rest.size(); ++i)
        products += (rest[i] - m) * (rest[i - lag] - m);
      const double bartlett = 1 - static_cast<double>(lag) / static_cast<double>(lags + 1);
      sum += (lag == 0 ? 1 : 2) * bartlett * products;
    }
    const double count = static_cast<double>(rest.size());
    const double error = sum / (count * count);
    if (least < 0 || error < least) least = error, best = k * y.size() / 15;
  }
  return best;
}

struct score {
  std::vector<double> errors;
  void add(double e) { errors.push_back(e); }
  void print(const char* name) const {
    std::vector<double> sorted = errors;
    std::sort(sorted.begin(), sorted.end());
    double sum = 0, squares = 0;
    for (const double e : errors) sum += e, squares += e * e;
    const double n = static_cast<double>(errors.size());
    // Standard error of the root mean square, from the scatter of the squares.
    double fourth = 0;
    for (const double e : errors) fourth += (e * e - squares / n) * (e * e - squares / n);
    const double rms = std::sqrt(squares / n);
    std::printf("  %-10s %7.2f %7.2f %8.3f +- %.3f\n", name, sorted[sorted.size() / 2], sum / n,
                rms, rms > 0 ? std::sqrt(fourth / n / n) / (2 * rms) : 0);
  }
};

}  // namespace

int main(int argc, char** argv) {
  const std::uint64_t first = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 1;
  const std::uint64_t seeds = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 5;
  const draw draws[]{{"warm-up", 150, 400, 0}, {"late", 200, 450, 0}, {"two", 150, 400, 0.1},
                     {"plain", 0, 0, 0}};
  for (const draw& d : draws) {
    score ours, mser, root, none;
    std::size_t without = 0, covered = 0;
    for (std::uint64_t seed = first; seed < first + seeds; ++seed) {
      std::mt19937_64 engine{seed};
      for (int run = 0; run < 200; ++run) {
        const warm_up w = invent(d, engine);
        none.add(mean(w.y) - w.target);
        mser.add(mean(std::span{w.y}.subspan(mser_5(w.y))) - w.target);
        root.add(mean(std::span{w.y}.subspan(root_n(w.y))) - w.target);
        const auto parts = stilling::find_segments(w.t, w.y, {.limit = 3.0 / 60, .step = 1});
        if (parts.empty() || parts.back().kind != stilling::segment_kind::plateau) {
          ++without;
          continue;
        }
        const auto& last = parts.back();
        ours.add(last.mean - w.target);
        const double off = w.target - last.mean, half = 2 * last.standard_uncertainty;
        covered += off <= half + std::max(0.0, last.remaining) &&
                   off >= -half + std::min(0.0, last.remaining);
      }
    }
    std::printf("%s, seeds %llu to %llu: error of the mean, degF: median, mean, RMSE\n", d.name,
                static_cast<unsigned long long>(first),
                static_cast<unsigned long long>(first + seeds - 1));
    none.print("no cut");
    mser.print("MSER-5");
    root.print("root-n");
    if (!ours.errors.empty()) ours.print("ours");
    std::printf("  ours: no last plateau %zu; mean +- 2 u and what remains holds it: %.3f\n",
                without, static_cast<double>(covered) / static_cast<double>(ours.errors.size()));
  }
}
