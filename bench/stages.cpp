// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT

// What each stage behind the decoder costs per row of eight channels. The chain is built up stage
// by stage; what a stage costs is what the chain costs more with it.
//
//     bench_stages                   times, at 1, 5 and 10 rows a second: many passes, all lengths
//                                    of the chain in turn, of every 50 rows the least time seen
//     bench_stages PER_SECOND STAGE  one pass over half an hour, for instructions.py to count in

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <numeric>
#include <span>
#include <string_view>
#include <tuple>
#include <vector>

#include "invented_rows.hpp"
#include "stilling/session.hpp"
#include "stilling/stages/practice.hpp"
#include "stilling/stages/sampling.hpp"

namespace {

using namespace stilling;

struct passed_by {
  template <class Item> void operator()(const Item& item) const { benchmark::DoNotOptimize(&item); }
};

/// What instructions.py looks for; nothing else may have it in its name.
template <class Chain> [[gnu::noinline]] void pass_over(std::span<const frame> rows, Chain& c) {
  for (const auto& f : rows) c.push(frame{f}, passed_by{});
}

template <class Chain> class measured {
 public:
  measured(std::string_view name, const Chain& fresh)
      : name_{name}, fresh_{fresh}, chain_{std::make_unique<Chain>(fresh)} {}

  [[nodiscard]] std::string_view name() const { return name_; }

  void pass(const std::vector<frame>& rows) {
    *chain_ = fresh_;
    least_.resize(rows.size() / block, 1e300);
    for (std::size_t i = 0; i < least_.size(); ++i) {
      const auto from = std::chrono::steady_clock::now();
      pass_over(std::span{rows}.subspan(i * block, block), *chain_);
      const std::chrono::duration<double, std::nano> took = std::chrono::steady_clock::now() - from;
      least_[i] = std::min(least_[i], took.count());
    }
  }

  [[nodiscard]] double nanoseconds_per_row() const {
    return std::reduce(least_.begin(), least_.end()) / static_cast<double>(least_.size() * block);
  }

 private:
  static constexpr std::size_t block = 50;

  std::string_view name_;
  Chain fresh_;
  std::unique_ptr<Chain> chain_;
  std::vector<double> least_;  // nanoseconds, of each block of rows
};

std::vector<frame> invented(double per_second, double minutes) {
  std::vector<frame> rows(static_cast<std::size_t>(per_second * minutes * 60));
  stilling::bench::invented_rows from{per_second};
  for (auto& f : rows) f = from.next();
  return rows;
}

auto every_length() {
  const session_settings s;
  const auto a = screen{s.screen};
  const auto b = a | instrument{};
  const auto c = b | steadiness<>{s.steadiness};
  const auto d = c | gas_path{};
  const auto e = d | fire{s.phase};
  const auto f = e | successive_readings{s.rule, s.phase.combustion_check};
  const auto g = f | phases{s.phase};
  const auto h = g | prescribed_mean{s.rule, s.phase.required, s.phase.combustion_check};
  const auto i = h | plateau<>{s.plateau};
  const auto j = g | practice{} | sampling{} | make_readings(s);
  return std::tuple{measured{"screen", a},
                    measured{"instrument", b},
                    measured{"steadiness", c},
                    measured{"gas_path", d},
                    measured{"fire", e},
                    measured{"successive_readings", f},
                    measured{"phases", g},
                    measured{"prescribed_mean", h},
                    measured{"plateau", i},
                    measured{"practice_sampling", j}};
}

void print_times(double per_second) {
  const auto rows = invented(per_second, 30);
  auto all = every_length();
  for (int pass = 0; pass < 25; ++pass)
    std::apply([&](auto&... each) { (each.pass(rows), ...); }, all);
  std::printf("%g rows a second: ns per row of eight channels\n", per_second);
  double before = 0;
  const auto print = [&](const auto& m) {
    std::printf("  %-22.*s %6.0f %8.0f\n", static_cast<int>(m.name().size()), m.name().data(),
                m.nanoseconds_per_row() - before, m.nanoseconds_per_row());
    before = m.nanoseconds_per_row();
  };
  std::apply([&](const auto&... each) { (print(each), ...); }, all);
}

void pass_once(double per_second, std::string_view stage) {
  const auto rows = invented(per_second, 30);
  auto all = every_length();
  const auto pass = [&](auto& m) {
    if (m.name() == stage) m.pass(rows);
  };
  std::apply([&](auto&... each) { (pass(each), ...); }, all);
}

}  // namespace

int main(int count, char** words) {
  if (count == 3) {
    pass_once(std::atof(words[1]), words[2]);
  } else {
    for (const double per_second : {1, 5, 10}) print_times(per_second);
  }
}
