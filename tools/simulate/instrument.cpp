// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "instrument.hpp"

#include <cmath>

#include "elementary.hpp"

namespace stilling::invented {
namespace {

constexpr double pascal_per_inch_of_water = 249.0889;  // at 4 degC, NIST SP 811

double fahrenheit(double kelvin) { return (kelvin - 273.15) * 1.8 + 32.0; }

}  // namespace

lanes in_display_units(const flue_gas& gas) noexcept {
  return {fahrenheit(gas.stack_k),
          fahrenheit(gas.ambient_k),
          100.0 * gas.o2,
          1e6 * gas.co,
          gas.breech_pa / pascal_per_inch_of_water,
          gas.overfire_pa / pascal_per_inch_of_water};
}

double display_step::size() const noexcept {
  auto size = static_cast<double>(units);
  for (auto n = 0; n < decimals; ++n) size /= 10.0;
  return size;
}

instrument::instrument(const instrument_make& made, const flue_gas& room, double dt)
    : made_{made},
      mixing_lag_{made.mixing_s, dt},
      o2_lag_{made.o2_s, dt},
      co_lag_{made.co_s, dt},
      co_late_lag_{made.co_tail_s, dt},
      stack_lag_{made.thermocouple_s, dt},
      ambient_lag_{made.ambient_s, dt},
      gauge_lag_{made.gauge_s, dt},
      line_(static_cast<std::size_t>(std::floor(made.delay_s / dt + 0.5)) + 1,
            sample{room.o2, room.co}),
      mixed_{room.o2, room.co},
      o2_{room.o2},
      co_quick_{room.co},
      co_late_{room.co},
      stack_k_{room.stack_k},
      ambient_k_{room.ambient_k},
      breech_{room.breech_pa},
      overfire_{room.overfire_pa} {}

void instrument::advance(const flue_gas& gas, double dilution, double on_s) {
  const auto undiluted = 1.0 - dilution;
  line_[newest_] = {undiluted * gas.o2 + dilution * air_oxygen, undiluted * gas.co};
  newest_ = (newest_ + 1) % line_.size();
  const auto& oldest = line_[newest_];
  mixed_.o2 = mixing_lag_(mixed_.o2, oldest.o2);
  mixed_.co = mixing_lag_(mixed_.co, oldest.co);
  o2_ = o2_lag_(o2_, mixed_.o2);
  co_quick_ = co_lag_(co_quick_, mixed_.co);
  co_late_ = co_late_lag_(co_late_, mixed_.co);

  const auto cooled = dilution >= 1.0 ? 1.0 : made_.dilution_on_stack * dilution;
  const auto rise =
      (1.0 - cooled) * (1.0 - made_.thermocouple_loss) * (gas.stack_k - gas.ambient_k);
  stack_k_ = stack_lag_(stack_k_, gas.ambient_k + rise);
  ambient_k_ = ambient_lag_(ambient_k_, gas.ambient_k);
  breech_ = gauge_lag_(breech_, dilution >= 1.0 ? 0.0 : gas.breech_pa);
  overfire_ = gauge_lag_(overfire_, gas.overfire_pa);

  auto seen = flue_gas{};
  seen.stack_k = stack_k_;
  seen.ambient_k = ambient_k_;
  seen.o2 = o2_;
  seen.co = co_quick_ + made_.co_tail_share * (co_late_ - co_quick_);
  seen.breech_pa = breech_;
  seen.overfire_pa = overfire_;
  sensed_ = in_display_units(seen);
  const auto& errors = made_.errors;
  const auto hours = on_s / 3600.0;
  for (std::size_t c = 0; c < channel_count; ++c) {
    sensed_[c] = sensed_[c] * (1.0 + errors.span[c] + errors.span_per_h[c] * hours) +
                 errors.zero[c] + errors.drift_per_h[c] * hours;
    if (errors.warm_up[c] != 0.0)
      sensed_[c] += errors.warm_up[c] * decay(on_s, errors.warm_up_s[c]);
  }
}

noise::noise(const noise_make& made, double scale, chance stream)
    : made_{made}, scale_{scale}, stream_{stream} {}

lanes noise::at(double time_s, const lanes& sensed) {
  auto result = sensed;
  for (std::size_t c = 0; c < channel_count; ++c) {
    const auto kept = begun_ ? decay(time_s - last_s_, made_.correlation_s[c]) : 0.0;
    state_[c] = kept * state_[c] + std::sqrt(1.0 - kept * kept) * stream_.normal();
    const auto wide = stream_.happens(made_.heavy_share) ? 5.0 : 1.0;
    const auto white = made_.white[c] + made_.of_reading[c] * std::abs(sensed[c]);
    result[c] += scale_ * (wide * white * stream_.normal() + made_.correlated[c] * state_[c]);
    if (stream_.happens(made_.spike_share)) {
      const auto usual = white + made_.correlated[c] + made_.white[c];
      result[c] += stream_.sign() * stream_.log_uniform(15.0, 150.0) * usual;
    }
  }
  last_s_ = time_s;
  begun_ = true;
  return result;
}

}  // namespace stilling::invented
