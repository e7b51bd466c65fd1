// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <array>
#include <optional>

#include "stilling/estimators/condensed_past.hpp"
#include "stilling/estimators/forecast.hpp"
#include "stilling/items/forecast.hpp"
#include "stilling/items/verdict.hpp"
#include "stilling/stages/stage.hpp"
#include "stilling/terms/forecast_settings.hpp"

/// While the appliance warms up or settles, now and then: where each channel is heading and when it
/// will be within its limit. Stands behind the phases, where it is wanted, and changes nothing of
/// what passes.
///
///     make_reader(s) | make_judge(s) | foresight{forecast_for(s)} | plateau<>{s.plateau}
///
/// A channel is looked at from the beginning of the phase, or from where it last left its level.
/// One that is steady, or tells nothing yet, has no lane; without any lane nothing is said.
namespace stilling {

class foresight {
 public:
  using emits = items<verdict, forecast>;

  explicit constexpr foresight(const forecast_settings& s) noexcept : settings_{s} {}

  template <class Sink> void push(const verdict& v, Sink&& sink) noexcept {
    sink(v);
    const bool moves = v.in == phase::appliance_warm_up || v.in == phase::settling ||
                       v.in == phase::disturbed;
    if (!moves || settings_.channels.empty()) {
      if (asked_) begin_anew(*this, settings_);
      return;
    }
    if (!asked_) asked_ = v.row.at;
    for (const channel c : all_channels) {
      if (!settings_.channels.contains(c)) continue;
      if (v.trends.has(c) && v.trends[c].departed) past(c).clear();
      if (v.row.usable(c)) past(c).update(v.row.at, v.row.corrected(c));
    }
    if (v.row.at - *asked_ < settings_.every) return;
    asked_ = v.row.at;
    if (const forecast f = look(v); !f.channels.valid.empty()) sink(f);
  }

  template <class Sink> constexpr void finish(Sink&&) noexcept { begin_anew(*this, settings_); }

 private:
  [[nodiscard]] condensed_past<>& past(channel c) noexcept { return pasts_[index_of(c)]; }

  [[nodiscard]] forecast look(const verdict& v) noexcept {
    forecast out{.at = v.row.at, .channels = {}};
    for (const channel c : all_channels) {
      if (!settings_.channels.contains(c) || !v.trends.has(c)) continue;
      const trend_estimate& now = v.trends[c];
      if (now.is == judgement::steady) continue;
      const auto seen = look_ahead(past(c), settings_.limits.of(c), now.step);
      if (!seen) continue;
      const auto moment = [&](double ahead) {
        return past(c).newest() + duration_from_seconds(ahead).value_or(duration{0});
      };
      out.channels.set(c, {seen->value, moment(seen->settles.middle), moment(seen->settles.low),
                           moment(seen->settles.high), seen->time_constant, seen->fit});
    }
    return out;
  }

  forecast_settings settings_;
  std::array<condensed_past<>, channel_count> pasts_{};
  std::optional<instant> asked_;  // newest look; none while nothing is to come
};

static_assert(stage<foresight> && accepts<foresight, verdict>);

}  // namespace stilling
