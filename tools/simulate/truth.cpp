// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "truth.hpp"

#include <algorithm>
#include <cmath>

#include "elementary.hpp"

namespace stilling::invented {
namespace {

constexpr std::size_t range_s = 60;       // the span the limits are meant for
constexpr long long shortest_s = 10;      // intervals up to this are not counted
constexpr double blind_from_s = 15.0;     // faults and gaps shorter than this blind nobody
constexpr double room_off_at_most = 0.5;  // degF, by the instrument's own warm-up
constexpr double cause_within_s = 150.0;  // an interval's end is laid to an event at most this old

/// Mean over the trailing `width` values, fewer at the beginning.
std::vector<double> trailing_mean(const std::vector<double>& x, std::size_t width) {
  auto result = std::vector<double>(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    const auto from = i + 1 > width ? i + 1 - width : 0;
    auto sum = 0.0;
    for (auto k = from; k <= i; ++k) sum += x[k];
    result[i] = sum / static_cast<double>(i + 1 - from);
  }
  return result;
}

void fill_ratios(const std::vector<second>& before, truth& known) {
  for (std::size_t r = 0; r < required.size(); ++r) {
    auto level = std::vector<double>{};
    for (const auto& it : before) level.push_back(it.sensed[required[r]]);
    for (const auto& it : known.seconds) level.push_back(it.sensed[required[r]]);
    if (known.hunting_period_s) {
      level = trailing_mean(level, static_cast<std::size_t>(*known.hunting_period_s));
    }
    for (std::size_t i = 0; i < known.seconds.size(); ++i) {
      const auto at = before.size() + i;
      const auto from =
          level.begin() + static_cast<std::ptrdiff_t>(at > range_s ? at - range_s : 0);
      const auto to = level.begin() + static_cast<std::ptrdiff_t>(at + 1);
      const auto [low, high] = std::minmax_element(from, to);
      const auto ratio = std::min(99.0, (*high - *low) / limits_per_min[r]);
      known.seconds[i].ratio = std::max(known.seconds[i].ratio, ratio);
    }
  }
}

/// Until the housing is warm no channel shows what is there, however slowly it moves.
void fill_warm_up(const test_plan& plan, truth& known) {
  const auto& errors = plan.analyzer.errors;
  const auto off = std::abs(errors.warm_up[ambient]);
  if (off == 0.0) return;
  for (std::size_t i = 0; i < known.seconds.size(); ++i) {
    const auto on_s = plan.instrument_on_s + static_cast<double>(i);
    const auto left = off * decay(on_s, errors.warm_up_s[ambient]) / room_off_at_most;
    known.seconds[i].ratio = std::max(known.seconds[i].ratio, std::min(99.0, left));
  }
}

/// Firing and undiluted counts when it held over the whole range: in the first seconds after
/// ignition the sensors still show the flat line of before.
void hold_for_range(const std::vector<second>& before, truth& known) {
  auto held = std::size_t{0};
  for (const auto& it : before) held = it.fired_undiluted ? held + 1 : 0;
  for (auto& it : known.seconds) {
    held = it.fired_undiluted ? held + 1 : 0;
    it.fired_undiluted = held > range_s;
  }
}

steady_interval interval(const truth& known, std::size_t from, std::size_t to) {
  auto result = steady_interval{};
  const auto offset = offset_at(known.clock, static_cast<double>(from));
  result.from_s = static_cast<long long>(from) + offset;
  result.to_s = static_cast<long long>(to) + offset;
  for (auto i = from; i <= to; ++i) {
    for (std::size_t c = 0; c < channel_count; ++c) {
      result.gas[c] += known.seconds[i].gas[c];
      result.sensed[c] += known.seconds[i].sensed[c];
    }
  }
  const auto n = static_cast<double>(to - from + 1);
  for (std::size_t c = 0; c < channel_count; ++c) {
    result.gas[c] /= n;
    result.sensed[c] /= n;
  }
  return result;
}

/// Maximal runs of steady seconds, cut where the clock jumps. `causes` in plant seconds.
void fill_intervals(const std::vector<event>& causes, truth& known) {
  const auto steady = [&](std::size_t i) {
    return known.seconds[i].fired_undiluted && known.seconds[i].ratio <= 1.0;
  };
  const auto jumps_at = [&](std::size_t i) {
    return std::any_of(known.clock.begin(), known.clock.end(),
                       [&](const auto& pair) { return pair[0] == static_cast<long long>(i); });
  };
  for (std::size_t i = 0; i < known.seconds.size();) {
    if (!steady(i)) {
      ++i;
      continue;
    }
    auto end = i + 1;
    while (end < known.seconds.size() && steady(end) && !jumps_at(end)) ++end;
    if (static_cast<long long>(end - i) > shortest_s) {
      auto found = interval(known, i, end - 1);
      found.after_gap = jumps_at(i);
      const auto last = static_cast<double>(end - 1);
      const auto over = end < known.seconds.size() && !steady(end);
      for (const auto& it : causes) {
        if (!over || it.at_s <= std::max(static_cast<double>(i), last - cause_within_s) ||
            it.at_s > last + 1.0) {
          continue;
        }
        const auto offset = static_cast<double>(offset_at(known.clock, it.at_s));
        found.ended_by = event{it.at_s + offset, it.kind};
      }
      known.intervals.push_back(found);
    }
    i = end;
  }
}

bool is_required(channel c) {
  return std::find(required.begin(), required.end(), c) != required.end();
}

bool blinds(const fault& it) {
  if (it.to_s - it.from_s < blind_from_s) return false;
  if (it.what == fault::kind::rows_missing) return true;
  const auto one_cell = it.what == fault::kind::sensor_stuck || it.what == fault::kind::blank_cells;
  return one_cell && is_required(it.on);
}

/// What disturbs the appliance or the probe, in plant seconds, in order.
std::vector<event> disturbances(const test_plan& plan) {
  auto result = std::vector<event>{};
  for (const auto& it : plan.happenings) result.push_back({it.at_s, word(it.what)});
  for (const auto& it : plan.swings) {
    result.push_back({it.from_s, "hunting_start"});
    if (it.to_s < plan.duration_s) result.push_back({it.to_s, "hunting_stop"});
  }
  for (const auto& it : plan.wanders) {
    if (it.from_s > 0.0) result.push_back({it.from_s, "wander_start"});
  }
  for (const auto& it : plan.ramps) {
    if (it.from_s > 0.0) result.push_back({it.from_s, "ramp_start"});
    if (it.to_s < plan.duration_s) result.push_back({it.to_s, "ramp_stop"});
  }
  for (const auto& it : plan.gusts) result.push_back({it.at_s, "gust"});
  const auto earlier = [](const event& a, const event& b) { return a.at_s < b.at_s; };
  std::stable_sort(result.begin(), result.end(), earlier);
  return result;
}

}  // namespace

clock_offsets clock_of(const test_plan& plan) {
  auto result = clock_offsets{{0, plan.rows.origin_s}};
  for (const auto& it : plan.faults) {
    if (it.what != fault::kind::clock_jump) continue;
    result.push_back({std::llround(it.from_s), result.back()[1] + std::llround(it.amount)});
  }
  return result;
}

long long offset_at(const clock_offsets& clock, double plant_s) noexcept {
  auto offset = clock.front()[1];
  for (const auto& [from, shift] : clock) {
    if (static_cast<double>(from) <= plant_s) offset = shift;
  }
  return offset;
}

void judge(const test_plan& plan, const std::vector<second>& before, truth& known) {
  for (const auto& it : plan.swings) known.hunting_period_s = it.period_s;
  fill_ratios(before, known);
  fill_warm_up(plan, known);
  hold_for_range(before, known);
  const auto causes = disturbances(plan);
  fill_intervals(causes, known);

  const auto logged = [&](double at_s) {
    return at_s + static_cast<double>(offset_at(known.clock, at_s));
  };
  auto events = causes;
  for (const auto& it : plan.faults) {
    events.push_back({it.from_s, word(it.what)});
    if (blinds(it)) known.blind.push_back({logged(it.from_s), logged(it.to_s), word(it.what)});
  }
  std::stable_sort(events.begin(), events.end(),
                   [](const event& a, const event& b) { return a.at_s < b.at_s; });
  for (const auto& it : events) {
    if (it.at_s >= 0.0 && it.at_s < plan.duration_s) {
      known.events.push_back({logged(it.at_s), it.kind});
    }
  }
  auto lit = false;
  auto lit_at = 0.0;
  for (const auto& it : causes) {
    const auto on = it.kind == word(deed::ignition);
    const auto off = it.kind == word(deed::burner_off) || it.kind == word(deed::flame_failure);
    if (on && !lit) lit_at = std::max(0.0, it.at_s);
    if (lit && off) known.burns.push_back({logged(lit_at), logged(it.at_s), "burn"});
    if (on || off) lit = on;
  }
  if (lit) known.burns.push_back({logged(lit_at), logged(plan.duration_s), "burn"});
}

}  // namespace stilling::invented
