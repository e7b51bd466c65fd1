// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "text_reading.hpp"

#include <algorithm>
#include <cmath>
#include <span>

#include "text_number.hpp"
#include "text_readable.hpp"
#include "text_words.hpp"

namespace stilling::writing {

std::string_view words_of(phase p) noexcept {
  switch (p) {
    case phase::no_data: return "nothing heard any more";
    case phase::instrument_warm_up: return "the instrument warms up";
    case phase::fresh_air: return "the probe is in fresh air";
    case phase::idle: return "no fire";
    case phase::appliance_warm_up: return "fire; the appliance warms up";
    case phase::settling: return "settling";
    case phase::steady: return "steady";
    case phase::disturbed: return "no longer settled";
    case phase::cooling: return "burner off, the flue cools";
  }
  return {};
}

std::string reason_of(cause why, std::optional<channel> which) {
  const auto who = which ? label_of(*which) : std::string_view{"a reading"};
  switch (why) {
    case cause::departed: return fmt::format("{} left its level", who);
    case cause::burner_off: return "the burner went off";
    case cause::probe_out: return "the probe came out of the flue";
    case cause::diluted: return "room air got into the sample; did the probe slip?";
    case cause::stage_change: return "the burner fires at another rate";
    case cause::stuck: return fmt::format("{} stands still, as if stuck", who);
    case cause::gap: return fmt::format("{} was not heard for a while", who);
    case cause::said: return "you said so";
    default: return {};
  }
}

int most_decimals(channel c, const channel_reading& r, const presentation& as) {
  const double step = difference_from_canonical(as.unit_of(c), r.step);
  return step > 0 ? std::max(1 - leading_power(step), 0) : 3;
}

std::string readable_value(channel c, const channel_reading& r, const presentation& as) {
  const auto value = shown(c, r, as);
  return readable_value(value, most_decimals(c, r, as)) + (value.u ? "" : " ± ?");
}

std::string about(double seconds) {
  const double step = seconds < 20 ? 1 : 5;
  return fmt::format("about {:.0f} s", step * std::floor(seconds / step + 0.5));
}

std::string movement(channel c, const channel_reading& r, const presentation& as) {
  if (!r.rate_bound) return {};
  const unit u = as.unit_of(c);
  const double rate = seconds_per_minute * difference_from_canonical(u, r.rate);
  const double bound = seconds_per_minute * difference_from_canonical(u, *r.rate_bound);
  if (!(bound > 0)) return {};
  const auto most = readable_of(bound, most_decimals(c, r, as));
  std::string size, to;
  append_fixed(size, rate, most.decimals);
  if (size.front() != '-' && size.find_first_not_of("0.") != std::string::npos) to += '+';
  to += size;
  to += ", under ";
  append_fixed(to, most.u, most.decimals);
  return to;
}

std::string duration_words(duration d) {
  const std::int64_t s = d.count() / nanoseconds_per_second;
  return s < 60 ? fmt::format("{} s", s) : fmt::format("{} min {} s", s / 60, s % 60);
}

namespace {

/// How far the burns got, none of which has a settled reading.
void append_ends(std::vector<std::string>& out, std::span<const burn> burns,
                 const presentation& as) {
  const auto tell = [&](std::string_view what, channel c, lanes<double> burn::* which) {
    std::optional<double> least, most;
    for (const auto& b : burns) {
      if (!(b.*which).has(c)) continue;
      const double x = (b.*which)[c];
      least = std::min(least.value_or(x), x);
      most = std::max(most.value_or(x), x);
    }
    if (!most) return;
    const unit u = as.unit_of(c);
    auto& to = out.emplace_back(fmt::format("{} {}: ", what, label_of(c)));
    append_rounded(to, from_canonical(u, *least), usual_decimals(u));
    if (*most > *least) append_rounded(to += " to ", from_canonical(u, *most), usual_decimals(u));
    put(to, " {}.", word_of(traits_of(u).name));
  };
  tell("Peak of", channel::stack_temp, &burn::peak);
  tell("Peak of", channel::co, &burn::peak);
  for (const auto c : {channel::stack_temp, channel::o2, channel::co})
    tell("At the end of a burn,", c, &burn::last);
}

}  // namespace

std::vector<std::string> why_nothing_settled(const log_summary& s, const presentation& as) {
  std::vector<std::string> out;
  switch (s.came_to()) {
    case outcome::settled: break;
    case outcome::no_data: out.emplace_back("Nothing settled: the log holds no readings."); break;
    case outcome::idle:
      out.emplace_back(
          "Nothing settled: no fire was seen. O2 stayed near that of air, or the flue cold.");
      break;
    case outcome::cycling: {
      duration longest{};
      for (const auto& b : s.burns)
        if (b.to && *b.to - b.from > longest) longest = *b.to - b.from;
      out.push_back(fmt::format("Nothing settled: the burner cycles. {} burns, the longest {}.",
                                s.burns.size(), duration_words(longest)));
      append_ends(out, s.burns, as);
      break;
    }
    case outcome::never_settled:
      out.emplace_back(
          "Nothing settled: the readings kept moving, or could not be proven to hold still.");
      break;
  }
  return out;
}

}  // namespace stilling::writing
