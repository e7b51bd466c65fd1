// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#include "watch_says.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "cells.hpp"
#include "next_step.hpp"
#include "stilling/combustion/advice.hpp"

namespace stilling::command {
namespace {

using namespace plain;

constexpr double minute = 60;

/// "+0.4", "0.0", "-4.1"
std::string signed_number(double x, int decimals) {
  auto text = fmt::format("{:+.{}f}", x, decimals);
  if (text.find_first_of("123456789") == std::string::npos) text.erase(0, 1);
  return text;
}

/// Decimals that show a tenth of a limit.
int decimals_of(double limit) {
  return std::clamp(1 - static_cast<int>(std::floor(std::log10(limit) + 1e-9)), 0, 6);
}

std::string trimmed_number(double x, int decimals) {
  auto text = fmt::format("{:.{}f}", x, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

/// As many decimals as the log writes.
std::string now_words(const frame& row, channel c, const presentation& as) {
  const unit u = as.unit_of(c);
  double step = difference_from_canonical(u, row.written_step[index_of(c)]);
  int decimals = step > 0 ? 0 : 2;
  for (; step > 0 && step < 0.99 && decimals < 4; step *= 10) ++decimals;
  auto text = fmt::format("{:.{}f}", from_canonical(u, row.corrected(c)), decimals);
  if (text.find_first_of("123456789") == std::string::npos && text.front() == '-') text.erase(0, 1);
  return fmt::format("{} {}", text, unit_words(u));
}

std::string_view short_name(channel c) {
  switch (c) {
    case channel::stack_temp: return "stack";
    case channel::ambient_temp: return "air";
    case channel::draft_breech: return "draft at breech";
    case channel::draft_overfire: return "over fire";
    default: return name_words(c);
  }
}

class speaker {
 public:
  explicit speaker(const watch_state& s) : s_{s}, as_{s.as} {
    if (s.test == nullptr) return;
    now_ = s.test->newest() ? &*s.test->newest() : nullptr;
    rows_ = s.test->rows();
  }

  told speak() {
    told out;
    out.source = s_.source;
    out.word = word();
    if (now_ != nullptr) {
      out.at = time_words(now_->row.at);
      for (const auto c : all_channels)
        if (s_.judged_by.phase.required.contains(c)) out.levels.push_back(level_of(c));
      out.beside = beside();
    }
    out.answer = answer();
    out.when = when();
    if (s_.ended) out.next = "press q to leave; what was settled is printed then.";
    else if (s_.danger && !s_.danger_seen)
      out.next = "see to the CO before anything else; then press k.";
    else if (now_ == nullptr) out.next = "wait for the first row.";
    else out.next = next_step(*s_.test, in(), as_);
    tell_reading(out);
    tell_cautions(out);
    if (s_.test != nullptr && !s_.test->notes().empty()) {
      const auto& n = s_.test->notes().back();
      out.last_note = fmt::format("{} {}", time_words(n.at), plain_letters(n.text));
    }
    return out;
  }

 private:
  [[nodiscard]] phase in() const { return now_ == nullptr ? phase::no_data : now_->in; }

  [[nodiscard]] std::string word() const {
    if (s_.danger && !s_.danger_seen) return "DANGER";
    if (s_.ended) return "ENDED";
    switch (in()) {
      case phase::no_data: return "NO ROWS";
      case phase::instrument_warm_up:
      case phase::appliance_warm_up: return "WARMING";
      case phase::fresh_air: return "AIR";
      case phase::idle: return "NO FIRE";
      case phase::settling: return "NOT YET";
      case phase::steady: return "SETTLED";
      case phase::disturbed: return "MOVED";
      case phase::cooling: return "COOLING";
    }
    return {};
  }

  [[nodiscard]] level level_of(channel c) const {
    level out;
    const auto& row = now_->row;
    out.now = std::string{short_name(c)} +
              (row.indication.has(c) ? " " + now_words(row, c, as_) : ": no value");
    const bool by_rule = s_.judged_by.rule.readings > 0;
    out.mark = by_rule ? 0 : s_.judged_by.steadiness.claim_factor;
    const auto& t = now_->trends[c];
    if (has(row.mark(c), quality::stuck)) {
      out.moves = out.brief = "stands as if stuck";
      return out;
    }
    if (!now_->trends.has(c) || !t.measured) {
      out.moves = out.brief = "how fast is not known yet";
      return out;
    }
    const double limit = s_.judged_by.steadiness.limits.of(c);
    const unit u = as_.unit_of(c);
    const double allowed = minute * difference_from_canonical(u, limit);
    const double rate = minute * difference_from_canonical(u, t.rate);
    const double half =
        std::max(minute * difference_from_canonical(u, t.rate_bound) - std::abs(rate), 0.0);
    const int decimals = decimals_of(allowed);
    const auto most = trimmed_number(allowed, decimals + 1);
    out.measured = true;
    out.steady = t.is == judgement::steady;
    out.low = (rate - half) / allowed;
    out.high = (rate + half) / allowed;
    const auto signed_rate = signed_number(rate, decimals);
    if (by_rule) {
      out.brief = out.moves = fmt::format("{} a minute", signed_rate);
      out.steady = false;
      return out;
    }
    out.brief = fmt::format("{} of {}", signed_rate, most);
    if (out.steady) {
      out.moves = fmt::format("slow enough ({})", out.brief);
    } else if (t.is == judgement::transient || !t.within) {
      const int few = std::max(std::abs(rate) >= 10 * allowed ? decimals - 1 : decimals, 0);
      const auto size = fmt::format("{:.{}f}", std::abs(rate), few);
      // The newest rows can have left while the slope still knows nothing of it.
      out.moves = t.departed && std::abs(rate) <= allowed
                      ? "left its level"
                      : fmt::format("{} {} a minute, {} allowed", rate < 0 ? "falls" : "rises",
                                    size, most);
    } else {
      out.moves = fmt::format("not proven yet ({}±{:.{}f} of {})", signed_rate, half, decimals,
                              most);
    }
    return out;
  }

  [[nodiscard]] std::string beside() const {
    std::string to;
    for (const auto c : all_channels) {
      if (s_.judged_by.phase.required.contains(c) || !now_->row.indication.has(c)) continue;
      to += fmt::format("{}{} {}", to.empty() ? "" : ", ", short_name(c),
                        now_words(now_->row, c, as_));
    }
    return to.empty() ? to : "Beside them: " + to + ".";
  }

  /// What of the channels that must stand still does not: "stack temperature, O2 and CO".
  [[nodiscard]] std::string unsteady() const {
    std::vector<std::string_view> names;
    for (const auto c : all_channels)
      if (s_.judged_by.phase.required.contains(c) && now_->trends[c].is != judgement::steady)
        names.push_back(name_words(c));
    std::string to;
    for (std::size_t i = 0; i < names.size(); ++i)
      (to += i == 0 ? "" : i + 1 < names.size() ? ", " : " and ") += names[i];
    return to;
  }

  [[nodiscard]] std::string answer() const {
    if (s_.test == nullptr || now_ == nullptr)
      return s_.ended ? "The log ended before a row came." : "No row has come yet.";
    std::string to;
    if (s_.ended) to = fmt::format("The log ended at {}. ", time_words(now_->row.at));
    else if (s_.silent) to = fmt::format("Nothing heard for {}. ", span_words(*s_.silent));
    const auto& phases = s_.test->phases();
    const auto since = phases.empty() ? now_->row.at : phases.back().from;
    if (s_.ended)
      return to + (rows_.empty() ? "Nothing settled."
                                 : fmt::format("{} settled reading{}.", rows_.size(),
                                               rows_.size() == 1 ? "" : "s"));
    switch (in()) {
      case phase::no_data: return to + "No row that could be used lately.";
      case phase::instrument_warm_up:
        return to + "No: the instrument itself is still warming up.";
      case phase::fresh_air: return to + "Nothing to settle: the probe is in fresh air.";
      case phase::idle: return to + "Nothing to settle: no fire is seen.";
      case phase::cooling:
        return to + fmt::format("No: the burner has been off since {}; the flue cools.",
                                time_words(since));
      case phase::steady:
        return to + fmt::format("Settled since {}, for {}.", time_words(since),
                                span_words(in_seconds(now_->row.at - since)));
      case phase::disturbed: to += why_disturbed(phases.back()); break;
      case phase::appliance_warm_up:
      case phase::settling: to += "Not settled yet. "; break;
    }
    if (const auto& rule = s_.judged_by.rule; rule.readings > 0)
      return to + fmt::format("{} asks for {}.",
                              rule.name.empty() ? "The criterion" : rule.name,
                              rule.readings == 1 ? "one mean after a wait"
                                                 : fmt::format("{} readings that agree",
                                                               rule.readings));
    const auto moving = unsteady();
    return to + (moving.empty() ? "All hold still; some seconds more make sure of it."
                                : fmt::format("It waits for {}.", moving));
  }

  [[nodiscard]] static std::string why_disturbed(const phase_span& p) {
    const auto since = time_words(p.from);
    switch (p.why) {
      case cause::diluted: return fmt::format("Not since {}: air got into the sample. ", since);
      case cause::stage_change: return fmt::format("Not since {}: the firing rate moved. ", since);
      case cause::gap: return fmt::format("Not since {}: a channel went silent. ", since);
      default: break;
    }
    if (p.why == cause::departed && p.which)
      return fmt::format("No longer settled since {}: {} left its level. ", since,
                         name_words(*p.which));
    return fmt::format("No longer settled since {}. ", since);
  }

  /// How long still, as far as a forecast tells.
  [[nodiscard]] std::string when() const {
    const bool moves = in() == phase::appliance_warm_up || in() == phase::settling ||
                       in() == phase::disturbed;
    if (!moves || s_.ended || s_.judged_by.rule.readings > 0) return {};
    const auto& ahead = s_.test->ahead();
    const auto& phases = s_.test->phases();
    constexpr duration stale = seconds(90);
    if (!ahead || now_->row.at - ahead->at > stale ||
        (!phases.empty() && ahead->at < phases.back().from))
      return {};
    std::optional<channel_forecast> slowest;
    std::string_view guess;
    for (const auto c : all_channels) {
      if (!s_.judged_by.phase.required.contains(c) || !ahead->channels.has(c) ||
          now_->trends[c].is == judgement::steady)
        continue;
      const auto& f = ahead->channels[c];
      if (f.fit == forecast_fit::does_not_fit)
        return fmt::format("How long cannot be foretold: {} follows no single curve.",
                           name_words(c));
      if (f.fit == forecast_fit::if_no_slower_part) guess = ", if no slower part follows";
      if (!slowest || f.settles > slowest->settles) slowest = f;
    }
    if (!slowest) return {};
    const auto from_now = [&](instant t) { return in_seconds(t - now_->row.at); };
    if (from_now(slowest->settles) <= 0)
      return fmt::format("Forecast: slow enough by now{}; the proof is still awaited.", guess);
    return fmt::format("Forecast: slow enough in {}, nine in ten {} to {}{}; then the proof.",
                       span_words(from_now(slowest->settles)),
                       span_words(std::max(from_now(slowest->settles_low), 0.0)),
                       span_words(from_now(slowest->settles_high)), guess);
  }

  void tell_reading(told& out) const {
    if (rows_.empty()) return;
    const auto& row = rows_.back();
    const auto& r = row.read;
    out.reading = r.to ? fmt::format("Reading {}, {} to {}: ", rows_.size(), time_words(r.from),
                                     time_words(*r.to))
                       : fmt::format("Reading {}, as proven at {}: ", rows_.size(),
                                     time_words(r.declared));
    bool first = true;
    using enum channel;
    for (const auto c : {stack_temp, o2, co2, co, no}) {
      if (!r.channels.has(c)) continue;
      out.reading += fmt::format("{}{} {}", std::exchange(first, false) ? "" : ", ",
                                 short_name(c), value_words(c, r.channels[c], as_));
    }
    out.reading += '.';
    for (const auto c : {channel::draft_breech, channel::draft_overfire}) {
      if (!r.channels.has(c)) continue;
      out.drafts += fmt::format("{}{} {}", out.drafts.empty() ? "With " : ", ", name_words(c),
                                value_words(c, r.channels[c], as_));
    }
    if (!out.drafts.empty()) out.drafts += '.';
    constexpr std::array<std::pair<figure, std::string_view>, 4> foremost{
        {{figure::efficiency_gross, "efficiency"},
         {figure::net_stack_temp, "net stack"},
         {figure::excess_air, "excess air"},
         {figure::co_air_free, "CO air-free"}}};
    for (const auto& [f, name] : foremost) {
      const auto& d = row.figures[f];
      if (!d) continue;
      out.figures += fmt::format("{}{} {}", out.figures.empty() ? "So: " : ", ", name,
                                 value_words(f, *d, as_));
    }
    if (!out.figures.empty()) out.figures += '.';
    out.change = change_of(row);
  }

  [[nodiscard]] std::string change_of(const settled_row& row) const {
    const auto& notes = s_.test->notes();
    for (const auto& n : notes) {
      const auto what = n.what().what;
      if (n.at > row.read.declared &&
          (what == saying::adjusted_air || what == saying::adjusted_draft))
        return fmt::format("You noted `{}` at {}; what it changed shows with the next reading.",
                           plain_letters(n.text),
                           time_words(n.at));
    }
    if (!row.since_before) return {};
    std::string moved;
    for (const auto i : row.moves)
      moved += fmt::format("{}`{}`", moved.empty() ? "After " : ", ", plain_letters(notes[i].text));
    if (moved.empty() && row.likely)
      moved = fmt::format("After a move nobody noted, likely of the {}",
                          row.likely == saying::adjusted_draft ? "draft" : "air");
    if (moved.empty()) moved = row.moved_unsaid ? "After a move nobody noted" : "No move noted";
    std::string real, chance;
    const auto take = [&](std::string_view name, const difference& d, std::string words) {
      auto& to = d.real() ? real : chance;
      to += fmt::format("{}{} {}", to.empty() ? "" : ", ", name, words);
    };
    for (const auto c : {channel::stack_temp, channel::o2, channel::co2, channel::co}) {
      if (!row.since_before->channels.has(c)) continue;
      const auto& d = row.since_before->channels[c];
      take(short_name(c), d,
           change_words(c, d.value, d.expanded(), row.read.channels[c].step, as_));
    }
    if (const auto& d = (*row.since_before)[figure::efficiency_gross])
      take("efficiency", *d, change_words(figure::efficiency_gross, d->value, d->expanded(), as_));
    auto to = fmt::format("{}, against reading {}.", moved, rows_.size() - 1);
    if (!real.empty()) to += fmt::format(" Real: {}.", real);
    if (!chance.empty()) to += fmt::format(" May be chance: {}.", chance);
    return to;
  }

  void tell_cautions(told& out) const {
    if (s_.danger) {
      const auto& a = *s_.danger;
      const auto now = now_ != nullptr && now_->row.indication.has(channel::co)
                           ? now_words(now_->row, channel::co, as_)
                           : std::string{"over its range"};
      const bool room = a.worst.what == finding_kind::co_in_room;
      out.cautions.push_back(
          {severity::danger,
           s_.danger_seen
               ? fmt::format("CO danger since {}, seen by you; now {}.", time_words(a.began), now)
               : fmt::format("DANGER: CO {} now, in the {}, since {}. {}", now,
                             room ? "room's air" : "flue gas", time_words(a.began),
                             advice_on(a.worst.what).check_first),
           s_.danger_seen});
    }
    if (s_.test == nullptr || now_ == nullptr) return;
    const auto recent = rows_.empty() || in() != phase::steady ? now_->row.at - seconds(300)
                                                               : rows_.back().read.declared;
    std::vector<finding_kind> told_kinds;
    const auto& found = s_.test->found();
    for (auto d = found.rbegin(); d != found.rend() && told_kinds.size() < 2; ++d) {
      if (d->at < recent) break;
      const auto* judged = std::get_if<finding>(&d->what);
      if (judged != nullptr && judged->grave == severity::danger) continue;
      if (std::ranges::find(told_kinds, d->kind()) != told_kinds.end()) continue;
      told_kinds.push_back(d->kind());
      out.cautions.push_back(
          {severity::warning,
           fmt::format("{} {}", time_words(d->at),
                       judged != nullptr ? brief_words_of(*judged, as_)
                                         : words_of(std::get<observation>(d->what), as_)),
           false});
    }
    if (s_.unusable > 0)
      out.cautions.push_back({severity::note,
                              fmt::format("{} line{} could not be used.", s_.unusable,
                                          s_.unusable == 1 ? "" : "s"),
                              false});
  }

  const watch_state& s_;
  const presentation& as_;
  const verdict* now_ = nullptr;
  std::vector<settled_row> rows_;
};

}  // namespace

told say(const watch_state& s) { return speaker{s}.speak(); }

std::vector<std::string_view> state_words() {
  return {"DANGER", "ENDED", "NO ROWS", "WARMING", "AIR",
          "NO FIRE", "NOT YET", "SETTLED", "MOVED", "COOLING"};
}

std::string span_words(double seconds) {
  const double step = seconds < 20 ? 1 : seconds < 120 ? 5 : seconds < 600 ? 10 : 60;
  const auto s = static_cast<long long>(step * std::floor(std::max(seconds, 0.0) / step + 0.5));
  if (s < 60) return fmt::format("{} s", s);
  if (s < 600 && s % 60 != 0) return fmt::format("{} min {} s", s / 60, s % 60);
  if (s < 7200) return fmt::format("{} min", s / 60);
  return fmt::format("{} h {} min", s / 3600, s / 60 % 60);
}

}  // namespace stilling::command
