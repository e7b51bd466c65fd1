// SPDX-FileCopyrightText: the stilling authors
// SPDX-License-Identifier: MIT
#pragma once

#include <fmt/format.h>

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "bookended_log.hpp"
#include "conclusion.hpp"
#include "feeding.hpp"
#include "found.hpp"
#include "opening.hpp"
#include "options.hpp"
#include "stilling/session.hpp"
#include "stilling/stages/drift_correction.hpp"
#include "stilling/stages/foresight.hpp"
#include "stilling/stages/likely_reading.hpp"
#include "stilling/stages/order_of_work.hpp"
#include "stilling/stages/practice.hpp"
#include "stilling/stages/sampling.hpp"
#include "stilling/text.hpp"
#include "told_later.hpp"

// One log from its first byte to its last word, in the form a printer gives it. A printer with a
// `look` also sees every verdict, one with `judged_by` by which settings the log is judged.

namespace stilling::command {

/// Lets frames through and counts them: what became of the rows.
class frame_count {
 public:
  using emits = items<frame>;
  explicit frame_count(log_summary& to) noexcept : to_{&to} {}
  template <class Sink> void push(const frame& f, Sink&& sink) noexcept {
    to_->add(f);
    sink(f);
  }
  template <class Sink> void finish(Sink&&) noexcept {}

 private:
  log_summary* to_;
};
static_assert(stage<frame_count> && accepts<frame_count, frame>);

/// How many lines could not be used, and the first of each kind, in words.
struct rejected_lines {
  std::array<std::string, fault_count> first;
  std::string every;  // where all of them are wanted
};

template <class Printer> class judged_log {
 public:
  judged_log(const settle_request& asked, Printer& printer)
      : options_{as_fed(asked.log)},
        as_{asked.log.shown},
        fuel_by_hand_{asked.log.fuel_by_hand},
        air_temp_{asked.log.air_temp},
        verbose_{asked.verbose},
        forecast_{asked.forecast},
        finished_{asked.finished},
        printer_{printer},
        log_{options_.settings} {}
  judged_log(const judged_log&) = delete;
  judged_log& operator=(const judged_log&) = delete;

  /// What was said is appended to `text()`.
  void push(std::string_view bytes) {
    if (reads_twice(options_)) whole_ += bytes;
    else judge(bytes);
  }
  void advance(instant t) {
    if (!reads_twice(options_)) log_.advance(t, sink());
  }
  /// A row that is already one, once the names of its columns went by. Never where the log is
  /// read twice.
  void push(const frame& row) { log_.push(row, sink()); }
  void finish() {
    if (reads_twice(options_)) {
      parts_ = bookends_of(options_, whole_);
      judge(whole_);
    }
    const bool judged = log_.finish([this] { return start(); }, sink());
    later_.tell(text_);
    if (judged) printer_.end(text_, summary_, as_);
  }

  [[nodiscard]] std::string& text() noexcept { return text_; }
  [[nodiscard]] const log_summary& summary() const noexcept { return summary_; }
  [[nodiscard]] const rejected_lines& rejected() const noexcept { return rejected_; }
  [[nodiscard]] const presentation& shown_as() const noexcept { return as_; }
  /// The columns in effect; null before there are any.
  [[nodiscard]] const layout* columns() const noexcept { return columns_ ? &*columns_ : nullptr; }
  /// Why a log with these columns cannot be judged as asked; empty: it can.
  [[nodiscard]] std::string_view refusal() const noexcept { return refusal_; }

 private:
  struct watch {
    judged_log* log;
    void operator()(const verdict& v) const {
      if constexpr (requires(Printer& p) { p.look(v); }) log->printer_.look(v);
      log->found_.watch_monoxide(v, log->as_,
                                 [&](instant t, const finding& f) { log->tell(t, f); });
    }
  };
  static auto make(const session_settings& s, const work_settings& work,
                   const forecast_settings& ahead, bool finished, std::span<const bookends> parts,
                   log_summary& to, watch at) noexcept {
    return make_reader(s) | frame_count{to} | drift_correction{parts} | make_judge(s) |
           practice{} | sampling{} | order_of_work{work} | look_at_verdicts{at} |
           foresight{ahead} | conclusion{s, finished} | drift_uncertainty{parts} |
           likely_reading{};
  }
  using chain_type = decltype(make({}, {}, {}, false, {}, std::declval<log_summary&>(), {}));

  void judge(std::string_view bytes) {
    log_.push(
        bytes, [this] { return start(); }, sink());
  }

  /// What the work is held against: spots where oil burns, by the limit on smoke.
  [[nodiscard]] work_settings work() const noexcept {
    work_settings out{.smoke_asked = leaves_soot_spots(*as_.burned)};
    out.always = requires(Printer& p) { p.look(std::declval<verdict>()); };
    const auto* smoke = as_.limits.find("smoke_high");
    out.most_smoke = smoke != nullptr ? smoke->value : std::nullopt;
    return out;
  }

  std::unique_ptr<chain_type> start() {
    auto fitted = fit(options_, log_.found());
    refusal_ = std::move(fitted.refusal);
    if (!refusal_.empty()) return nullptr;
    summary_.fire_asked_for = fitted.settings.phase.combustion_check;
    if (!fuel_by_hand_)
      summary_.assumptions.push_back(fmt::format("fuel: the fuel is {} ({}); --fuel names another",
                                                 as_.burned->label, as_.burned->name));
    if (!air_temp_.empty())
      summary_.assumptions.push_back(
          fmt::format("air_temp: combustion air is {}, as --air-temp says", air_temp_));
    for (auto& a : fitted.assumptions) summary_.assumptions.push_back(std::move(a));
    if (log_.found() != nullptr) as_.follow(*log_.found());
    for (auto& a : drift_assumptions(options_, parts_, as_))
      summary_.assumptions.push_back(std::move(a));
    if constexpr (requires(Printer& p) { p.judged_by(fitted.settings); })
      printer_.judged_by(fitted.settings);
    printer_.begin(text_, log_.found(), as_);
    auto ahead = forecast_for(fitted.settings);
    if (!forecast_) ahead.channels = {};
    return std::make_unique<chain_type>(
        make(fitted.settings, work(), ahead, finished_, parts_, summary_, {this}));
  }

  [[nodiscard]] auto sink() noexcept {
    return overloaded{[this](const layout& l) {
                        as_.follow(l);
                        columns_ = l;
                      },
                      [this](const rejection& r) {
                        summary_.add(r);
                        remember(r);
                        say(std::nullopt, r);
                      },
                      [this](const assumption& a) { summary_.add(a); },
                      [this](const burn& b) { summary_.add(b); },
                      [this](const settled_reading& r) {
                        summary_.add(r);
                        say(r.to ? r.released.value_or(*r.to) : r.declared, r);
                        if (summary_.fire_asked_for)
                          found_.judge_reading(r, as_,
                                               [this](instant t, const finding& f) { tell(t, f); });
                      },
                      [this](const forecast& f) { say(f.at, f); },
                      [this](const observation& o) { say(o.at, o); },
                      [this](const phase_change& p) { say(p.at, p); },
                      [this](const note& n) { say(n.at, n); },
                      [this](const discontinuity& d) {
                        later_.tell(text_);
                        say(d.at, d);
                      }};
  }

  template <class Item> void say(std::optional<instant> t, const Item& item) {
    if (!finished_) return printer_.write(text_, item, as_);
    later_.say(t, [&](std::string& to) { printer_.write(to, item, as_); });
  }
  void tell(instant t, const finding& f) {
    if (!finished_) return printer_.tell(text_, t, f, as_);
    later_.say(t, [&](std::string& to) { printer_.tell(to, t, f, as_); });
  }

  void remember(const rejection& r) {
    auto& first = rejected_.first[static_cast<std::size_t>(r.what)];
    if (first.empty()) stilling::write(first, r);
    if (verbose_) stilling::write(rejected_.every += "  ", r);
  }

  log_options options_;
  presentation as_;
  bool fuel_by_hand_;
  std::string air_temp_;
  bool verbose_;
  bool forecast_;
  bool finished_;
  Printer& printer_;
  std::string whole_;            // where it is read twice
  std::vector<bookends> parts_;  // found the first time
  held_back<chain_type> log_;
  told_findings found_;
  log_summary summary_;
  rejected_lines rejected_;
  told_later later_;  // where the log is judged in hindsight
  std::optional<layout> columns_;
  std::string text_;
  std::string refusal_;
};

}  // namespace stilling::command
