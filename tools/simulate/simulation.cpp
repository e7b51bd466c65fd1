// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "simulation.hpp"

#include <cmath>

#include "chance.hpp"
#include "timeline.hpp"
#include "truth.hpp"

namespace stilling::invented {
namespace {

constexpr int steps_per_s = 10;
constexpr double dt = 1.0 / steps_per_s;

long long scaled(double x, int decimals) {
  for (; decimals > 0; --decimals) x *= 10.0;
  return std::llround(x);
}

/// Writes the rows: when they come, what noise, faults and display make of the sensed values.
class logger {
 public:
  logger(const test_plan& plan, std::uint64_t seed, double noise_scale, simulation& into)
      : plan_{plan},
        into_{into},
        noise_{plan.analyzer.noise, noise_scale, chance{seed, "noise"}},
        timing_{seed, "timing"},
        mishaps_{seed, "mishaps"} {
    due_s_ = jittered(0);
  }

  void offer(double at_s, const lanes& sensed) {
    while (at_s + 1e-6 >= due_s_) {
      write(due_s_, sensed);
      due_s_ = jittered(++count_);
    }
  }

 private:
  double jittered(long long n) {
    const auto shift = n == 0 ? 0.0 : plan_.rows.jitter * timing_.uniform(-1.0, 1.0);
    return (static_cast<double>(n) + shift) * plan_.rows.interval_s;
  }

  bool lost(double at_s) {
    auto gone = timing_.happens(plan_.rows.lost);
    for (const auto& it : plan_.faults) {
      if (it.what == fault::kind::rows_missing && it.from_s <= at_s && at_s < it.to_s) gone = true;
    }
    return gone;
  }

  void write(double at_s, const lanes& sensed) {
    const auto shown = noise_.at(at_s, sensed);
    if (lost(at_s)) return;
    auto row = log_row{};
    const auto offset = static_cast<double>(offset_at(into_.known.clock, at_s));
    row.stamp = scaled(at_s + offset, plan_.rows.stamp_decimals);
    for (std::size_t c = 0; c < channel_count; ++c) {
      const auto step = plan_.analyzer.display[c];
      row.cells[c] = std::llround(shown[c] / step.size()) * step.units;
    }
    for (; remark_ < plan_.remarks.size() && plan_.remarks[remark_].at_s <= at_s; ++remark_) {
      row.remark_before += "# " + plan_.remarks[remark_].text + "\n";
    }
    const auto repeated = spoil(at_s, row);
    into_.rows.push_back(row);
    row.remark_before.clear();
    if (repeated) into_.rows.push_back(row);
  }

  /// Faults of the cells; true when the row comes twice.
  bool spoil(double at_s, log_row& row) {
    auto repeated = false;
    auto held = std::array<bool, channel_count>{};
    for (const auto& it : plan_.faults) {
      if (at_s < it.from_s || at_s >= it.to_s) continue;
      auto& cell = row.cells[it.on];
      switch (it.what) {
        case fault::kind::sensor_stuck:
          if (last_[it.on]) cell = last_[it.on];
          held[it.on] = true;
          break;
        case fault::kind::blank_cells: cell.reset(); break;
        case fault::kind::spike_burst:
          if (mishaps_.happens(0.3) && cell) {
            const auto size = mishaps_.uniform(0.3, 1.0) * it.amount * mishaps_.sign();
            *cell += std::llround(size) * plan_.analyzer.display[it.on].units;
          }
          break;
        case fault::kind::rows_repeated: repeated = mishaps_.happens(0.4); break;
        case fault::kind::rows_missing:
        case fault::kind::clock_jump: break;
      }
    }
    for (std::size_t c = 0; c < channel_count; ++c) {
      if (!held[c]) last_[c] = row.cells[c];
    }
    return repeated;
  }

  const test_plan& plan_;
  simulation& into_;
  noise noise_;
  chance timing_, mishaps_;
  double due_s_ = 0.0;
  long long count_ = 0;
  std::size_t remark_ = 0;
  std::array<std::optional<long long>, channel_count> last_{};
};

}  // namespace

simulation run(const test_plan& plan, std::uint64_t seed, double noise_scale) {
  auto result = simulation{};
  result.seed = seed;
  result.noise_scale = noise_scale;
  result.sampled = plan.rows;
  result.display = plan.analyzer.display;
  result.known.clock = clock_of(plan);
  const auto& made = plan.analyzer;
  const auto line_s = made.delay_s + made.mixing_s - made.thermocouple_s;
  result.known.o2_lag_s = line_s + made.o2_s;
  result.known.co_lag_s =
      line_s + made.co_s + made.co_tail_share * (made.co_tail_s - made.co_s);

  auto script = timeline{plan, chance{seed, "wander"}, dt};
  auto burner = plant{plan.burner, plan.ambient_k, plan.warm, dt};
  auto analyzer = instrument{plan.analyzer,
                             flue_gas{.stack_k = plan.ambient_k, .ambient_k = plan.ambient_k}, dt};
  auto rows = logger{plan, seed, noise_scale, result};
  auto before = std::vector<second>{};
  const auto first = -std::llround(plan.lead_s * steps_per_s);
  const auto last = std::llround(plan.duration_s * steps_per_s);
  for (auto step = first; step < last; ++step) {
    const auto at_s = static_cast<double>(step) / steps_per_s;
    script.advance(at_s);
    burner.advance(script.now());
    analyzer.advance(burner.gas(), script.dilution(), plan.instrument_on_s + at_s);
    if (step % steps_per_s == 0) {
      auto& to = step < 0 ? before : result.known.seconds;
      to.push_back(
          {script.fired_undiluted(), 0.0, in_display_units(burner.gas()), analyzer.sensed()});
    }
    if (step >= 0) rows.offer(at_s, analyzer.sensed());
  }
  judge(plan, before, result.known);
  return result;
}

}  // namespace stilling::invented
